"""What jobs cost and earned, move by move: the one source of both the journal and the reviews.

A job is recognized on the day its final invoices are dated, or, with none, it is handed over at no charge or called
off. Until then its costs are work in progress; later costs and strikes fall on their own day. Everything is derived
from lines in the book, as of a day.
"""

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass

from sqlalchemy import ColumnElement, and_, func, or_, select
from sqlalchemy.orm import Session

from coatbook.billing.tables import BROUGHT_IN, INVOICE, KEPT, Document, DocumentLine, Payment
from coatbook.jobs.tables import NO_CHARGE, Entry, JobEvent, Service
from coatbook.people.tables import Worker
from coatbook.stock.tables import PRICE, Lot, LotChange, Material, Purchase
from coatbook.store.live import live
from coatbook.store.tables import WrittenOnce

MATERIALS, LABOR, EXPENSES = "materials", "labor", "expenses"
OWNER_LABOR, OVERHEAD = "owner_labor", "overhead"  # memo: never in the journal
JOURNAL_COSTS = (MATERIALS, LABOR, EXPENSES)
DEPOSITS_KEPT = "deposits kept"  # in place of a service; no code of one has a blank
_COST_KINDS = {"use": MATERIALS, "expense": EXPENSES, "travel": EXPENSES}


@dataclass(frozen=True, slots=True)
class Cost:
    """One cost of a job (None: of the shop), in minor units; a strike counts back with a minus.

    `quanta` are those of the hours worked, 0 for anything else. `brought_in`: it arose before the book began.
    """

    entry: int
    job: int | None
    day: dt.date
    kind: str
    minor: int
    text: str
    quanta: int = 0
    brought_in: bool = False


@dataclass(frozen=True, slots=True)
class Revenue:
    """One line of an issued document, or (without one) a deposit kept, in minor units; a strike counts back."""

    document: str | None
    job: int
    day: dt.date
    service: str
    minor: int


def costs(session: Session, on: dt.date, job: int | None = None) -> list[Cost]:
    """All costs that count by a day, of one job or of all: lines of the diary, and what lots lost (the shop's)."""
    return [*line_costs(session, on, job), *(lot_costs(session, on) if job is None else ())]


def line_costs(session: Session, on: dt.date, job: int | None = None) -> list[Cost]:
    """The costs of the diary's lines that count by a day; a line struck on its own day never counted."""
    which: list[ColumnElement[bool]] = [Entry.on_day <= on, Entry.kind.in_(("hours", BROUGHT_IN, *_COST_KINDS))]
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
    brought_in = entry.kind == BROUGHT_IN
    if entry.kind == "hours":
        parts = _of_hours(entry)
    else:
        parts = [((entry.category or "") if brought_in else _COST_KINDS[entry.kind], entry.minor or 0, 0)]
    return [
        Cost(entry.id, entry.job, day, kind, sign * minor, text, sign * quanta, brought_in)
        for day, sign in counted(entry, on)
        for kind, minor, quanta in parts
    ]


def _of_hours(entry: Entry) -> list[tuple[str, int, int]]:
    kind = OWNER_LABOR if entry.worker_kind == "owner" else LABOR
    return [(kind, entry.minor or 0, entry.quanta or 0), (OVERHEAD, entry.overhead or 0, 0)]


def counted(line: WrittenOnce, on: dt.date) -> Iterator[tuple[dt.date, int]]:
    """The day a line counts on, and that of its strike with a minus; neither if both are one day."""
    if line.struck_on is None or line.struck_on > line.on_day:
        yield line.on_day, 1
    if line.struck_on is not None and line.on_day < line.struck_on <= on:
        yield line.struck_on, -1


def revenues(session: Session, on: dt.date, job: int | None = None) -> list[Revenue]:
    """All that was earned by a day: the lines of documents, and deposits kept."""
    return [*document_lines(session, on, job), *deposits_kept(session, on, job)]


def deposits_kept(session: Session, on: dt.date, job: int | None = None) -> list[Revenue]:
    """The deposits kept of jobs that were called off, each on its day, and back if it is struck later."""
    rows = select(Payment).where(Payment.kind == KEPT, Payment.on_day <= on).order_by(Payment.id)
    if job is not None:
        rows = rows.where(Payment.job == job)
    return [
        Revenue(None, row.job, day, DEPOSITS_KEPT, sign * row.minor)
        for row in session.scalars(rows)
        if row.job is not None
        for day, sign in counted(row, on)
    ]


def document_lines(session: Session, on: dt.date, job: int | None = None) -> list[Revenue]:
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
    """The day each recognized job was recognized on.

    Its final invoices', or, with none, its handover's at no charge or the one it was called off.
    """
    free = and_(JobEvent.kind == "handed over", JobEvent.text == NO_CHARGE)
    ended = select(JobEvent.job, JobEvent.on_day).where(or_(free, JobEvent.kind == "called off"), live(JobEvent, on))
    rows = session.execute(select(Document.job, Document.dated).where(Document.kind == INVOICE, Document.dated <= on))
    return {row.job: row.on_day for row in session.execute(ended)} | {row.job: row.dated for row in rows}


def recognized_day(cost: Cost, recognized: dict[int, dt.date]) -> dt.date | None:
    """The day a cost counts against profit: its own, or its job's recognition if that is later. None: not yet."""
    if cost.job is None:
        return cost.day
    day = recognized.get(cost.job)
    return None if day is None else max(day, cost.day)


@dataclass(frozen=True, slots=True)
class LotMove:
    """A change of a lot as it counts on a day, in minor units: what it adds to the shelf, and to the shop's costs.

    What is neither of the two goes to the supplier, or (`at_the_start`) corrects what was brought in with the book.
    """

    change: int
    day: dt.date
    struck: bool
    shelf: int
    shop: int
    text: str
    at_the_start: bool


def lot_moves(session: Session, on: dt.date) -> list[LotMove]:
    """All changes of lots that count by a day; a strike on a later day counts back with a minus."""
    rows = session.execute(
        select(LotChange, Lot.label, Material.name, Purchase.brought_in)
        .join(Lot, Lot.id == LotChange.lot)
        .join(Material, Material.id == Lot.material)
        .join(Purchase, Purchase.id == Lot.purchase)
        .where(LotChange.on_day <= on)
        .order_by(LotChange.on_day, LotChange.id)
    )
    return [
        LotMove(
            change=row.id,
            day=day,
            struck=sign < 0,
            shelf=sign * row.minor,
            shop=sign * row.shop,
            text=f"{name}, lot {label}: {row.kind}",
            at_the_start=bool(brought_in) and row.kind == PRICE,
        )
        for row, label, name, brought_in in rows
        for day, sign in counted(row, on)
    ]


def lot_costs(session: Session, on: dt.date) -> list[Cost]:
    """What changes of lots cost the shop, each under the change's number."""
    return [
        Cost(move.change, None, move.day, MATERIALS, move.shop, move.text)
        for move in lot_moves(session, on)
        if move.shop
    ]
