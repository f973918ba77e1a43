"""Striking a line: what the rooms' own rules say first, then the store's."""

import datetime as dt

from sqlalchemy import select

from coatbook.aircraft.lifetime import refuse_worn_twice_without
from coatbook.billing.tables import DEPOSIT, KEPT, Document, Payment, Settles
from coatbook.billing.views import final_invoices
from coatbook.jobs.tables import NO_CHARGE, Job, JobEvent, Party
from coatbook.jobs.views import event_day
from coatbook.stock import changes
from coatbook.stock.tables import LotChange
from coatbook.store import strikes
from coatbook.store.acts import OpenAct
from coatbook.store.finding import got
from coatbook.store.tables import WrittenOnce
from coatbook.values import Refusal
from coatbook.values.days import Month
from coatbook.values.text import line

_LATER = {
    "agreed": "arrived",
    "arrived": "handed over",
    "keep-off list confirmed": "arrived",
    "masks looked at": "handed over",
}


def strike(act: OpenAct, *, name: str, why: str) -> None:
    """Strike a line by its name, or with "last" all lines of the latest act."""
    reason = line(why, "reason")
    for row in strikes.meant(act, name):
        _refuse_what_stands_on(act, row)
        strikes.strike_whole(act, row, reason)
        act.tell(f"Struck {row.__tablename__} {row.id} of {row.on_day}: {reason}.")
        if row.struck_on is not None and row.struck_on > row.on_day:
            act.tell(_kept(row.on_day, row.struck_on))
        for note in changes.repriced_since(act, row):
            act.tell(note)


def _kept(on_day: dt.date, struck_on: dt.date) -> str:
    """What a strike across a closed month does, and from when."""
    return (
        f"{Month.of(on_day)} is closed and keeps the line as it was handed out; the strike counts from {struck_on}, "
        "the first open day."
    )


def _refuse_what_stands_on(act: OpenAct, row: WrittenOnce) -> None:
    """A party is only ever replaced; an event stays while a later one, or the invoice, stands on it; a mark or a
    withdrawal while another aircraft wears the mark it gave up."""
    refuse_worn_twice_without(act, row)
    if isinstance(row, Payment):
        _refuse_drawn(act, row)
    if isinstance(row, LotChange):
        changes.refuse_what_stands_on(act, row)
    if not isinstance(row, JobEvent | Party):
        return
    job = got(act.session, Job, row.job)
    if isinstance(row, Party):
        raise Refusal(
            f"job {job.number} always has someone as {row.role!r}: write another with "
            f"`coatbook job party {job.number} {row.role} CUSTOMER`"
        )
    numbers = final_invoices(act.session, job.id)
    if numbers:
        raise Refusal(f"job {job.number} is invoiced as {' and '.join(numbers)}: what led to the invoice stands")
    if row.kind == "called off":
        _refuse_kept(act, job, row)
    if row.text == NO_CHARGE and act.closed_through is not None and row.on_day <= act.closed_through:
        raise Refusal(f"job {job.number} was recognized at no charge in a closed month: reopen the month first")
    later = _LATER.get(row.kind)
    if later and event_day(act.session, job.id, later) is not None:
        raise Refusal(f"job {job.number} is {later} already: strike that first")


def _refuse_kept(act: OpenAct, job: Job, row: JobEvent) -> None:
    """A job stays called off while something of its deposits is kept, or its costs count in a closed month."""
    kept = act.session.scalar(select(Payment.id).filter_by(job=job.id, kind=KEPT, struck_on=None).limit(1))
    if kept is not None:
        raise Refusal(f"payment {kept} keeps a deposit of job {job.number}, as it was called off: strike that first")
    if act.closed_through is not None and row.on_day <= act.closed_through:
        raise Refusal(f"job {job.number} was called off in a closed month: reopen the month first")


def _refuse_drawn(act: OpenAct, row: Payment) -> None:
    """A deposit stays while an invoice has drawn it: the invoice says so on paper."""
    drawn = select(Document.number).join(Settles, Settles.document == Document.id)
    number = act.session.scalar(drawn.where(Settles.payment == row.id, Settles.struck_on.is_(None)).limit(1))
    if row.kind == DEPOSIT and number is not None:
        raise Refusal(f"deposit {row.id} is drawn on invoice {number}, which stands for good: so does the deposit")
