"""Closing a month with its journal, and reopening the latest one."""

import hashlib

from coatbook.store.acts import OpenAct
from coatbook.store.months import latest, of_month
from coatbook.store.tables import Closing
from coatbook.values import Refusal
from coatbook.values.days import Month


def close(act: OpenAct, month: Month, journal: bytes, first: Month | None) -> None:
    """Close a month with its journal as drawn. Months close in order, after their last day.

    `first` is the first month with a line in the journal, which none may pass over; None while there is no line.
    """
    before, closed = latest(act.session), of_month(act.session, month)
    if before and closed:
        next_one = Month.parse(before.month).next()
        raise Refusal(f"{month} is closed since {closed.on_day}: the next to close is {next_one}")
    if month.last >= act.today:
        raise Refusal(f"{month} is not over: close it after {month.last}")
    if before and Month.parse(before.month).next() != month:
        raise Refusal(f"months close in order: after {before.month} comes {Month.parse(before.month).next()}")
    if not before and first and first < month:
        raise Refusal(f"months close in order: {first} has lines in its journal and comes before {month}")
    digest = hashlib.sha256(journal).hexdigest()
    act.add(Closing(month=str(month), journal=journal, sha256=digest, on_day=act.today))
    act.tell(f"{month} is closed; its journal has {len(journal.splitlines()) - 1} lines (SHA-256 {digest[:12]}).")


def reopen(act: OpenAct, month: Month, why: str) -> None:
    """Reopen the latest closed month."""
    closing = latest(act.session)
    if closing is None or closing.month != str(month):
        last = f"the latest closed month is {closing.month}" if closing else "no month is closed"
        raise Refusal(f"{month} cannot be reopened: {last}")
    act.strike(closing, why, on=act.today)
    act.tell(f"{month} is open again: close it anew when it is right.")
