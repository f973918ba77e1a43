"""Rows that begin work pass the same safety gate as the commands: hours, coats and handovers.

The gate is looked at once for each job of a file that needs it: before the act, while no transaction is open, because
calculators run then. If the book has moved by the time the act begins, it is looked at again.
"""

import datetime as dt
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from itertools import islice
from typing import Any, TypeVar

from sqlalchemy.orm import Session

from coatbook.desk.agreeing import begun_by, coat_past_gate, handover_past_gate, hours_past_gate
from coatbook.desk.gate import Looked, look_at_all
from coatbook.desk.hosting import host_for
from coatbook.desk.importing.columns import Given, Progress
from coatbook.desk.importing.tables import ImportTable
from coatbook.desk.sheets import job_sheet
from coatbook.jobs.tables import Entry, Job
from coatbook.jobs.views import find_job
from coatbook.store.acts import OpenAct
from coatbook.store.book import Book
from coatbook.store.chain import GENESIS
from coatbook.store.imports import times_in_book
from coatbook.store.remembering import recalled, remember
from coatbook.values import Refusal

T = TypeVar("T")
TRIES = 3
AT_ONCE = 200  # jobs: their sheets are held together


@dataclass(frozen=True, slots=True)
class Gated:
    """How rows of a table pass the gate: whether a row needs a look at its job's, and the action past it."""

    needs: Callable[[Session, Job, Mapping[str, Any]], bool]
    past: Callable[..., Any]


def _begins(session: Session, job: Job, values: Mapping[str, Any]) -> bool:
    """Whether hours begin a step, or a handover comes before one was begun. The session looked in writes nothing."""
    begun = recalled(session, Entry, (job.id, step := values.get("step")), lambda: begun_by(session, job, step))
    return bool(begun)


GATED = {
    "hours": Gated(_begins, hours_past_gate),
    "coats": Gated(lambda session, job, values: True, coat_past_gate),
    "handovers": Gated(_begins, handover_past_gate),
}


class BookMoved(Exception):
    """Someone wrote between the gate's look and the act: look again."""


class Gate:
    """What the gate found for the jobs of a file; `seen` is the head of the book that was looked at."""

    def __init__(self, table: ImportTable, seen: str, looked: dict[int, Looked]) -> None:
        self._table = table
        self._seen = seen
        self._looked = looked

    def entering(self, act: OpenAct) -> Callable[..., Any]:
        """The action of the table past this gate. Raises BookMoved if the book is not as it was looked at."""
        if act.head_before != self._seen:
            raise BookMoved
        for failure in sorted({failure for looked in self._looked.values() for failure in looked.failures}):
            act.tell(f"Note: {failure}.")
        return self._write

    def _write(self, act: OpenAct, /, *, job: int, **values: Any) -> Any:
        looked = self._looked.get(job)
        if looked is None:
            return self._table.action(act, job=job, **values)
        written = GATED[self._table.name].past(act, looked, job=job, **values)
        if self._table.name == "hours" and not begun_by(act.session, find_job(act.session, job), None):
            del self._looked[job]  # all its steps are begun: nothing stands before further hours
        return written


def look_before(
    book: Book,
    table: ImportTable,
    rows: Iterable[Given],
    on: dt.date,
    no_plugins: bool,
    progress: Progress,
    *,
    again: bool = False,
) -> Gate:
    """Look at the gate of every job that a new row of a file needs it for, as of the day of the first such row."""
    with book.read() as session:
        seen = book.head(session) or GENESIS
        days = _jobs_to_look_at(session, table, rows, on, again)
    looked: dict[int, Looked] = {}
    host, waiting = host_for(no_plugins), iter(days.items())
    while some := list(islice(waiting, AT_ONCE)):
        with book.read() as session:
            remember(session)
            sheets = [job_sheet(session, find_job(session, job), day, book.currency) for job, day in some]
        book.engine.dispose()  # the calculators' child inherits no open connection
        for (job, _), found in zip(some, look_at_all(sheets, host), strict=True):
            looked[job] = replace(found, answers=())  # what they rest on is not kept: a file may name very many jobs
        progress(len(looked), "jobs looked at")
    return Gate(table, seen, looked)


def _jobs_to_look_at(
    session: Session, table: ImportTable, rows: Iterable[Given], on: dt.date, again: bool
) -> dict[int, dt.date]:
    remember(session)
    days: dict[int, dt.date] = {}
    for row in rows:
        number = row.values["job"]
        if number in days:
            continue
        try:
            job = find_job(session, number)
        except Refusal:
            continue  # its row will say so
        new = again or not times_in_book(session, table.name, row.sha256)
        if new and GATED[table.name].needs(session, job, row.values):
            days[number] = row.day or on
    return days


def unless_moved(attempt: Callable[[], T]) -> T:
    """Try again while others write in between, a few times."""
    for _ in range(TRIES):
        try:
            return attempt()
        except BookMoved:
            continue
    raise Refusal("others are writing in the book all the time: try again in a moment")
