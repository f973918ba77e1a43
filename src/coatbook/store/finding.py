"""Finding one row by what people call it, and adding up columns the same on both stores."""

from typing import Any, TypeVar

from sqlalchemy import ColumnElement, func, select
from sqlalchemy.orm import InstrumentedAttribute, Session

from coatbook.store.remembering import recalled
from coatbook.store.tables import Base
from coatbook.values import Refusal
from coatbook.values.text import shown
from coatbook.values.words import a

Row = TypeVar("Row", bound=Base)


def by_code(session: Session, table: type[Row], code: str, noun: str) -> Row:
    """The row of an edited table with that code.

    Raises:
        Refusal: there is none; the sentence names the command that lists them.
    """
    coded = code.strip().lower()
    row = recalled(session, table, coded, lambda: session.scalars(select(table).filter_by(code=coded)).first())
    if row is None:
        raise Refusal(f"there is no {noun} {shown(code)!r}: `coatbook {noun} list` shows them")
    return row


def refuse_taken(session: Session, table: type[Row], noun: str, **columns: Any) -> None:
    """Refuse a second row with the same name."""
    if session.scalars(select(table).filter_by(**columns)).first() is not None:
        name = ", ".join(shown(str(value)) for value in columns.values())
        raise Refusal(f"there is {a(noun)} {name!r} already: choose another, or edit that one")


def got(session: Session, table: type[Row], row_id: int) -> Row:
    """The row that another row refers to."""
    return recalled(session, table, row_id, lambda: session.get_one(table, row_id))


def total(session: Session, column: InstrumentedAttribute[Any], *where: ColumnElement[bool]) -> int:
    """The sum of an integer column as a Python integer (PostgreSQL answers Decimal, an empty set None)."""
    return int(session.scalar(select(func.sum(column)).where(*where)) or 0)
