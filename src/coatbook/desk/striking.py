"""Striking a line: what the rooms' own rules say first, then the store's."""

import datetime as dt

from coatbook.billing.views import final_invoice
from coatbook.jobs.tables import NO_CHARGE, Job, JobEvent, Party
from coatbook.jobs.views import event_day
from coatbook.store import strikes
from coatbook.store.acts import OpenAct
from coatbook.store.finding import got
from coatbook.store.tables import WrittenOnce
from coatbook.values import Refusal
from coatbook.values.days import Month
from coatbook.values.text import line

_LATER = {"agreed": "arrived", "arrived": "handed over"}


def strike(act: OpenAct, *, name: str, why: str) -> None:
    """Strike a line by its name, or with "last" all lines of the latest act."""
    reason = line(why, "reason")
    for row in strikes.meant(act, name):
        _refuse_what_stands_on(act, row)
        strikes.strike_whole(act, row, reason)
        act.tell(f"Struck {row.__tablename__} {row.id} of {row.on_day}: {reason}.")
        if row.struck_on is not None and row.struck_on > row.on_day:
            act.tell(_kept(row.on_day, row.struck_on))


def _kept(on_day: dt.date, struck_on: dt.date) -> str:
    """What a strike across a closed month does, and from when."""
    return (
        f"{Month.of(on_day)} is closed and keeps the line as it was handed out; the strike counts from {struck_on}, "
        "the first open day."
    )


def _refuse_what_stands_on(act: OpenAct, row: WrittenOnce) -> None:
    """A party is only ever replaced; an event stays while a later one, or the invoice, stands on it."""
    if not isinstance(row, JobEvent | Party):
        return
    job = got(act.session, Job, row.job)
    if isinstance(row, Party):
        raise Refusal(
            f"job {job.number} always has someone as {row.role!r}: write another with "
            f"`coatbook job party {job.number} {row.role} CUSTOMER`"
        )
    number = final_invoice(act.session, job.id)
    if number is not None:
        raise Refusal(f"job {job.number} is invoiced as {number}: what led to the invoice stands")
    if row.text == NO_CHARGE and act.closed_through is not None and row.on_day <= act.closed_through:
        raise Refusal(f"job {job.number} was recognized at no charge in a closed month: reopen the month first")
    later = _LATER.get(row.kind)
    if later and event_day(act.session, job.id, later) is not None:
        raise Refusal(f"job {job.number} is {later} already: strike that first")
