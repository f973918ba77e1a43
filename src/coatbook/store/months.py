"""Which months are closed, and what that refuses: nothing takes a date inside one."""

import datetime as dt

from sqlalchemy import select
from sqlalchemy.orm import Session

from coatbook.store.tables import Closing
from coatbook.values import Refusal
from coatbook.values.days import Month


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
