"""Which lines count on a day, and which dated row is in force: the one place that says so."""

import datetime as dt
from typing import Any, TypeVar

from sqlalchemy import ColumnElement, Select, and_, or_, select
from sqlalchemy.orm import Session

from coatbook.store.remembering import recalled, remembers
from coatbook.store.tables import WrittenOnce

Row = TypeVar("Row", bound=WrittenOnce)


def live(table: type[WrittenOnce], on: dt.date) -> ColumnElement[bool]:
    """A line counts on a day if it is dated no later and was not struck by then."""
    return and_(table.on_day <= on, or_(table.struck_on.is_(None), table.struck_on > on))


def in_force(session: Session, table: type[Row], on: dt.date, seen: dt.date, **keys: Any) -> Row | None:
    """The row of a dated table in force on `on`, as the book stood on `seen`.

    Among the rows live on `seen` that match `keys`: the greatest `from_on` no later than `on`, then the greatest id.
    """
    dated: Any = table

    def rows() -> Select[Row]:
        known = select(table).where(live(table, seen)).filter_by(**keys)
        return known.order_by(dated.from_on.desc(), dated.id.desc())

    if not remembers(session):
        found: Row | None = session.scalars(rows().where(dated.from_on <= on).limit(1)).first()
        return found
    known: Any = recalled(session, table, (seen, *sorted(keys.items())), lambda: session.scalars(rows()).all())
    return next((row for row in known if row.from_on <= on), None)
