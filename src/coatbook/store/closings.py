"""Closed months: nothing takes a date inside one, and only the latest reopens."""

import datetime as dt
import hashlib
from typing import TYPE_CHECKING

from sqlalchemy import select
from sqlalchemy.orm import Session

from coatbook.store.tables import Closing
from coatbook.values import Refusal
from coatbook.values.days import Month

if TYPE_CHECKING:
    from coatbook.store.acts import OpenAct


def latest(session: Session) -> Closing | None:
    """The closing of the latest month that is closed now."""
    return session.scalars(
        select(Closing).where(Closing.struck_on.is_(None)).order_by(Closing.month.desc()).limit(1)
    ).first()


def of_month(session: Session, month: Month) -> Closing | None:
    """The closing of a month, if it is closed now."""
    return session.scalars(select(Closing).where(Closing.struck_on.is_(None)).filter_by(month=str(month))).first()


def closed_through(session: Session) -> dt.date | None:
    """The last day of the latest closed month, or None while no month is closed."""
    closing = latest(session)
    return Month.parse(closing.month).last if closing else None


def check_open(day: dt.date, through: dt.date | None, what: str) -> None:
    """Refuse a day inside a closed month."""
    if through is not None and day <= through:
        raise Refusal(
            f"{what} is dated {day}, but {Month.of(day)} is closed: date it {through + dt.timedelta(days=1)} or "
            f"later and name the month it belongs to, or reopen with `coatbook book reopen {Month.of(through)} --why …`"
        )


def strike_day(on_day: dt.date, through: dt.date | None) -> dt.date:
    """The day a strike counts from: the line's own while its month is open, else the first open day."""
    if through is None or on_day > through:
        return on_day
    return through + dt.timedelta(days=1)


def close(act: "OpenAct", month: Month, journal: bytes) -> None:
    """Close a month with its journal as drawn. Months close in order, after their last day."""
    before = latest(act.session)
    if month.last >= act.today:
        raise Refusal(f"{month} is not over: close it after {month.last}")
    if before and Month.parse(before.month).next() != month:
        raise Refusal(f"months close in order: after {before.month} comes {Month.parse(before.month).next()}")
    digest = hashlib.sha256(journal).hexdigest()
    act.add(Closing(month=str(month), journal=journal, sha256=digest, on_day=act.today))
    act.tell(f"{month} is closed; its journal has {len(journal.splitlines()) - 1} lines (SHA-256 {digest[:12]}).")


def reopen(act: "OpenAct", month: Month, why: str) -> None:
    """Reopen the latest closed month."""
    closing = latest(act.session)
    if closing is None or closing.month != str(month):
        last = f"the latest closed month is {closing.month}" if closing else "no month is closed"
        raise Refusal(f"{month} cannot be reopened: {last}")
    act.strike(closing, why, on=act.today)
    act.tell(f"{month} is open again: close it anew when it is right.")
