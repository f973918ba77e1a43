"""Striking a line out: legible ever after, with all its parts, and never from under a line that stands on it."""

from collections.abc import Iterator

from sqlalchemy import ColumnElement, select

from coatbook.store.acts import OpenAct
from coatbook.store.tables import Act, Base, Closing, WrittenOnce
from coatbook.values import Misuse, Refusal
from coatbook.values.text import shown


def _referring(row: WrittenOnce) -> Iterator[tuple[type[Base], ColumnElement[int], bool]]:
    """Every (table, column, whether a part) that may refer to rows of this row's table."""
    for mapper in Base.registry.mappers:
        for column in mapper.local_table.columns:
            if any(key.column.table.name == row.__tablename__ for key in column.foreign_keys):
                yield mapper.class_, column, bool(column.info.get("part_of"))


def strike_whole(act: OpenAct, row: WrittenOnce, why: str) -> int:
    """Strike a row and all its parts; the number of rows struck.

    Raises:
        Refusal: it is struck already, or a standing line that is no part of it refers to it.
    """
    name = f"{row.__tablename__} {row.id}"
    if row.struck_on is not None:
        raise Refusal(f"{name} was struck on {row.struck_on} ({row.struck_why}): nothing to strike")
    struck = 1
    for table, column, part in _referring(row):
        rows = select(table).where(column == row.id)
        if issubclass(table, WrittenOnce):
            rows = rows.where(table.struck_on.is_(None))
        for other in act.session.scalars(rows).all():
            if not part or not isinstance(other, WrittenOnce):
                raise Refusal(
                    f"{name} cannot be struck: {other.__tablename__} {other.id} stands on it; strike that first"
                )
            struck += strike_whole(act, other, why)
    act.strike(row, why)
    return struck


def named_row(act: OpenAct, name: str) -> WrittenOnce:
    """The line a person means by "12" (line 12 of the diary) or "payment:3".

    Raises:
        Misuse: no such kind of line. Refusal: no such line.
    """
    kind, _, number = name.strip().rpartition(":")
    tables = {mapper.class_.__tablename__: mapper.class_ for mapper in WrittenOnce.registry.mappers}
    table = tables.get(kind or "entry")
    if (
        table is None
        or not issubclass(table, WrittenOnce)
        or not number.isascii()
        or not number.isdigit()
        or len(number) > 18
    ):
        raise Misuse(
            f"{shown(name)!r} names no line: write a diary line's number such as 12, or KIND:NUMBER such as payment:3"
        )
    row = act.session.get(table, int(number))
    if row is None:
        raise Refusal(f"there is no {kind or 'line'} {number}: look it up with `coatbook job show JOB`")
    _refuse_part(row)
    return row


def _refuse_part(row: WrittenOnce) -> None:
    """A part goes with its whole, and a closing by reopening its month: else the figures would not add up."""
    name = f"{row.__tablename__} {row.id}"
    if isinstance(row, Closing):
        raise Refusal(f"{name} closes {row.month}: take it back with `coatbook book reopen {row.month} --why …`")
    for column in row.__table__.columns:
        if column.info.get("part_of"):
            whole = f"{next(iter(column.foreign_keys)).column.table.name}:{getattr(row, column.key)}"
            raise Refusal(f"{name} is a part of {whole}: strike that with `coatbook strike {whole} --why …`")


def last_rows(act: OpenAct) -> list[WrittenOnce]:
    """The standing lines that the latest act wrote and that a person may strike (a part is struck with its whole)."""
    rows: list[WrittenOnce] = []
    for mapper in WrittenOnce.registry.mappers:
        if issubclass(mapper.class_, WrittenOnce) and mapper.class_ is not Closing:
            wrote = select(mapper.class_).filter_by(act=act.id - 1, struck_on=None).order_by(mapper.class_.id)
            rows += act.session.scalars(wrote).all()
    return [row for row in rows if not any(column.info.get("part_of") for column in row.__table__.columns)]


def meant(act: OpenAct, name: str) -> list[WrittenOnce]:
    """The lines a person means: one by its name, or with "last" all that the latest act wrote."""
    if name.strip().lower() != "last":
        return [named_row(act, name)]
    last = act.session.get(Act, act.id - 1)
    if last is not None and last.actor != act.ask.actor:
        raise Refusal(f"the latest act is {last.actor}'s (`{last.command}`), not yours: name the line instead")
    rows = last_rows(act)
    if not rows:
        raise Refusal("the latest act wrote no line that could be struck: name the line instead")
    return rows
