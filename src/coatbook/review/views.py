"""Job profit, month by month, and the month itself.

Sum of a month's job rows = the month; sum of a job's months = the job. Amounts are in minor units.
"""

import datetime as dt
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from sqlalchemy import select
from sqlalchemy.orm import Session

from coatbook.billing import journal, moves
from coatbook.billing.tables import Document, DocumentTax
from coatbook.billing.views import held_on, owed_in_all
from coatbook.jobs.tables import Job
from coatbook.jobs.views import find_job, job_view, payers_of
from coatbook.people.views import customer_by_id
from coatbook.values import Quantity
from coatbook.values.days import Month


@dataclass(frozen=True, slots=True)
class Figures:
    """What work came to, in minor units; `quanta` are those of the hours worked."""

    revenue: int = 0
    materials: int = 0
    labor: int = 0
    expenses: int = 0
    owner_labor: int = 0
    overhead: int = 0
    quanta: int = 0

    @property
    def cost(self) -> int:
        return self.materials + self.labor + self.expenses

    @property
    def profit_before_owner(self) -> int:
        return self.revenue - self.cost

    @property
    def profit(self) -> int:
        return self.profit_before_owner - self.owner_labor - self.overhead

    @property
    def margin(self) -> Decimal | None:
        """Profit as a fraction of revenue, four decimals; None without revenue."""
        if not self.revenue:
            return None
        return (Decimal(self.profit) / self.revenue).quantize(Decimal("0.0001"), ROUND_HALF_UP) + 0  # no minus zero

    @property
    def hours(self) -> Decimal:
        """Decimal hours."""
        return Quantity(self.quanta, "h").decimal()


@dataclass(frozen=True, slots=True)
class JobMonth:
    """A job's recognized figures of one month."""

    month: Month
    figures: Figures


@dataclass(frozen=True, slots=True)
class JobReview:
    """A job as it stands on a day: recognized figures by month and in all, and costs still in progress.

    `customer` are the codes of all who pay, `customer_name` their names. Of a job that was called off, `kept` is what
    was kept of its deposits, which is all its revenue; `held` is what is held of them still. Both are in minor units.
    """

    job: int
    called: str
    customer: str
    customer_name: str
    asked_for: str
    recognized: dt.date | None
    called_off: dt.date | None
    kept: int
    held: int
    figures: Figures
    in_progress: Figures
    months: tuple[JobMonth, ...]


@dataclass(frozen=True, slots=True)
class MonthJob:
    """A job's row in a month, and all it came to by the end of it. `customer` is the code of who pays."""

    job: int
    called: str
    customer: str
    customer_name: str
    figures: Figures
    to_date: Figures


@dataclass(frozen=True, slots=True)
class TaxOfMonth:
    """The tax a month's documents charged at one place, in minor units."""

    place: str
    base: int
    amount: int


@dataclass(frozen=True, slots=True)
class MonthReview:
    """A month: the sum of its jobs, the shop's own costs, and the balances at its end."""

    month: Month
    on: dt.date
    figures: Figures
    shop_costs: int
    journal_profit: int
    jobs: tuple[MonthJob, ...]
    work_in_progress: int
    deposits_held: int
    owed: int
    tax: tuple[TaxOfMonth, ...]


Moves = tuple[list[moves.Revenue], list[moves.Cost], dict[int, dt.date]]


def _moves(session: Session, on: dt.date, job: int | None = None) -> Moves:
    return moves.revenues(session, on, job), moves.costs(session, on, job), moves.recognized_days(session, on)


def _figures(found: Moves, wanted: Callable[[int | None, dt.date | None], bool]) -> Figures:
    """The sum of all moves whose job and recognized day are wanted."""
    revenues, costs, recognized = found
    sums = dict.fromkeys(("revenue", *moves.JOURNAL_COSTS, moves.OWNER_LABOR, moves.OVERHEAD, "quanta"), 0)
    for revenue in revenues:
        if wanted(revenue.job, revenue.day):
            sums["revenue"] += revenue.minor
    for cost in costs:
        if wanted(cost.job, moves.recognized_day(cost, recognized)):
            sums[cost.kind] += cost.minor
            sums["quanta"] += cost.quanta
    return Figures(**sums)


def _months(found: Moves) -> list[Month]:
    revenues, costs, recognized = found
    days: Iterable[dt.date | None] = (
        *(line.day for line in revenues),
        *(moves.recognized_day(cost, recognized) for cost in costs),
    )
    return sorted({Month.of(day) for day in days if day is not None})


def review_job(session: Session, number: int, on: dt.date) -> JobReview:
    """What a job came to by a day."""
    job = find_job(session, number)
    found = _moves(session, on, job.id)
    view = job_view(session, job, on)
    return JobReview(
        job=number,
        called=view.airframe.called,
        customer=_payers(session, job.id, "code"),
        customer_name=_payers(session, job.id, "name"),
        asked_for=view.asked_for,
        recognized=found[2].get(job.id),
        called_off=view.called_off,
        kept=sum(line.minor for line in found[0] if line.document is None),
        held=held_on(session, job.id, on),
        figures=_figures(found, lambda _, day: day is not None),
        in_progress=_figures(found, lambda _, day: day is None),
        months=tuple(
            JobMonth(month, _figures(found, lambda _, day, month=month: day is not None and month.contains(day)))  # type: ignore[misc]
            for month in _months(found)
        ),
    )


def review_month(session: Session, month: Month, on: dt.date) -> MonthReview:
    """What a month came to: whole if it is over by `on`, else so far."""
    end = min(month.last, on)
    found = _moves(session, end)
    lines = journal.postings(session, end)

    def of_job(job: int, day: dt.date | None) -> bool:
        return day is not None and month.contains(day)

    jobs = [
        _month_job(session, job, found, month, on)
        for job in session.scalars(select(Job).order_by(Job.number))
        if _touched(found, job.id, month)
    ]
    return MonthReview(
        month=month,
        on=end,
        figures=_figures(found, lambda job, day: job is not None and of_job(job, day)),
        shop_costs=_figures(found, lambda job, day: job is None and day is not None and month.contains(day)).cost,
        journal_profit=journal.profit(journal.in_month(lines, month)),
        jobs=tuple(jobs),
        work_in_progress=sum(line.minor for line in lines if line.account == journal.IN_PROGRESS),
        deposits_held=-sum(line.minor for line in lines if line.account == journal.DEPOSITS),
        owed=owed_in_all(session, end),
        tax=_tax(session, month, end),
    )


def _payers(session: Session, job: int, which: str) -> str:
    """The codes or names of who pays for a job."""
    return ", ".join(getattr(customer_by_id(session, payer.customer), which) for payer in payers_of(session, job))


def _touched(found: Moves, job: int, month: Month) -> bool:
    """Whether a job has a recognized line in a month."""
    revenues, costs, recognized = found
    days = [line.day for line in revenues if line.job == job]
    days += [day for cost in costs if cost.job == job and (day := moves.recognized_day(cost, recognized))]
    return any(month.contains(day) for day in days)


def _month_job(session: Session, job: Job, found: Moves, month: Month, on: dt.date) -> MonthJob:
    view = job_view(session, job, on)
    return MonthJob(
        job=job.number,
        called=view.airframe.called,
        customer=_payers(session, job.id, "code"),
        customer_name=_payers(session, job.id, "name"),
        figures=_figures(found, lambda of, day: of == job.id and day is not None and month.contains(day)),
        to_date=_figures(found, lambda of, day: of == job.id and day is not None),
    )


def _tax(session: Session, month: Month, end: dt.date) -> tuple[TaxOfMonth, ...]:
    rows = session.execute(
        select(DocumentTax, Document.dated)
        .join(Document, Document.id == DocumentTax.document)
        .where(Document.dated >= month.first, Document.dated <= end)
        .order_by(DocumentTax.place)
    )
    places: dict[str, tuple[int, int]] = {}
    for tax, _dated in rows:
        base, amount = places.get(tax.place, (0, 0))
        places[tax.place] = (base + tax.base, amount + tax.amount)
    return tuple(TaxOfMonth(place, base, amount) for place, (base, amount) in places.items())
