"""What jobs cost and earned, move by move: the one source of both the journal and the reviews.

A job is recognized on the day its final invoice is dated, or it is handed over at no charge. Until then its costs
are work in progress; later costs and strikes fall on their own day. Everything is derived from lines in the book,
as of a day.
"""

import datetime as dt
from dataclasses import dataclass

from sqlalchemy import ColumnElement, func, or_, select
from sqlalchemy.orm import Session

from coatbook.billing.tables import Document, DocumentLine
from coatbook.jobs.tables import NO_CHARGE, Entry, JobEvent, Service
from coatbook.people.tables import Worker
from coatbook.stock.tables import Material
from coatbook.store.live import live

MATERIALS, LABOR, EXPENSES = "materials", "labor", "expenses"
OWNER_LABOR, OVERHEAD = "owner_labor", "overhead"  # memo: never in the journal
JOURNAL_COSTS = (MATERIALS, LABOR, EXPENSES)
_COST_KINDS = {"use": MATERIALS, "expense": EXPENSES, "travel": EXPENSES}


@dataclass(frozen=True, slots=True)
class Cost:
    """One cost of a job (None: of the shop), in minor units; a strike counts back with a minus.

    `quanta` are those of the hours worked, 0 for anything else.
    """

    entry: int
    job: int | None
    day: dt.date
    kind: str
    minor: int
    text: str
    quanta: int = 0


@dataclass(frozen=True, slots=True)
class Revenue:
    """One line of an issued document, in minor units."""

    document: str
    job: int
    day: dt.date
    service: str
    minor: int


def costs(session: Session, on: dt.date, job: int | None = None) -> list[Cost]:
    """All costs that count by a day, of one job or of all; a line struck on its own day never counted."""
    which: list[ColumnElement[bool]] = [Entry.on_day <= on, Entry.kind.in_(("hours", *_COST_KINDS))]
    which.append(or_(Entry.struck_on.is_(None), Entry.struck_on > Entry.on_day))
    if job is not None:
        which.append(Entry.job == job)
    found: list[Cost] = []
    named = (
        select(Entry, func.coalesce(Material.name, Worker.name))
        .outerjoin(Material, Material.id == Entry.material)
        .outerjoin(Worker, Worker.id == Entry.worker)
    )
    for entry, name in session.execute(named.where(*which).order_by(Entry.on_day, Entry.id)):
        found += _of_entry(entry, name or entry.text or entry.kind, on)
    return found


def _of_entry(entry: Entry, text: str, on: dt.date) -> list[Cost]:
    parts = [(_COST_KINDS[entry.kind], entry.minor or 0, 0)] if entry.kind != "hours" else _of_hours(entry)
    days = [(entry.on_day, 1)]
    if entry.struck_on is not None and entry.struck_on <= on:
        days.append((entry.struck_on, -1))
    return [
        Cost(entry.id, entry.job, day, kind, sign * minor, text, sign * quanta)
        for day, sign in days
        for kind, minor, quanta in parts
    ]


def _of_hours(entry: Entry) -> list[tuple[str, int, int]]:
    kind = OWNER_LABOR if entry.worker_kind == "owner" else LABOR
    return [(kind, entry.minor or 0, entry.quanta or 0), (OVERHEAD, entry.overhead or 0, 0)]


def revenues(session: Session, on: dt.date, job: int | None = None) -> list[Revenue]:
    """All revenue of documents dated by a day, line by line."""
    rows = (
        select(Document, DocumentLine.net, Service.code)
        .join(DocumentLine, DocumentLine.document == Document.id)
        .join(Service, Service.id == DocumentLine.service)
        .where(Document.dated <= on)
        .order_by(Document.id, DocumentLine.n)
    )
    if job is not None:
        rows = rows.where(Document.job == job)
    return [
        Revenue(document.number, document.job, document.dated, code, net)
        for document, net, code in session.execute(rows)
    ]


def recognized_days(session: Session, on: dt.date) -> dict[int, dt.date]:
    """The day each recognized job was recognized on: its final invoice's, or its handover's at no charge."""
    free = select(JobEvent.job, JobEvent.on_day).where(JobEvent.text == NO_CHARGE, live(JobEvent, on))
    rows = session.execute(select(Document.job, Document.dated).where(Document.kind == "invoice", Document.dated <= on))
    return {row.job: row.on_day for row in session.execute(free)} | {row.job: row.dated for row in rows}


def recognized_day(cost: Cost, recognized: dict[int, dt.date]) -> dt.date | None:
    """The day a cost counts against profit: its own, or its job's recognition if that is later. None: not yet."""
    if cost.job is None:
        return cost.day
    day = recognized.get(cost.job)
    return None if day is None else max(day, cost.day)
