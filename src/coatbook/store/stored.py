"""Rows as they are stored, hashed for `book check`; whatever they hold, reading them does not fail."""

from collections.abc import Iterator, Sequence
from typing import Any

from sqlalchemy import Column, ColumnElement, Connection, Dialect, Table, TypeDecorator, func, or_, select, type_coerce

from coatbook.store import chain
from coatbook.store.tables import STRUCK

Hashed = tuple[int, str, int, str]  # act, table, row id, hash
_AT_ONCE = 200  # rows: some carry the bytes of a document


def written(connection: Connection, table: Table) -> Iterator[Hashed]:
    """The rows of a table in act order."""
    for row in rows(connection, table, list(table.c), table.c.act, table.c.id):
        yield row["act"], table.name, row["id"], chain.row_hash(table.name, row)


def struck(connection: Connection, table: Table) -> Iterator[Hashed]:
    """The strikes in a table in act order, those set by halves too; one that names no act comes as act 0."""
    columns = [table.c[name] for name in STRUCK]
    by_act = func.coalesce(table.c.struck_act, 0)
    any_set = or_(*(column.is_not(None) for column in columns))
    for row in rows(connection, table, [table.c.id, *columns], by_act, where=any_set):
        act, row_id, day, why = row["struck_act"] or 0, row["id"], row["struck_on"], row["struck_why"]
        yield act, table.name, row_id, chain.strike_hash(table.name, row_id, day, why)


def rows(
    connection: Connection,
    table: Table,
    columns: Sequence[Column[Any]],
    *order: ColumnElement[Any],
    where: ColumnElement[bool] | None = None,
) -> Iterator[dict[str, Any]]:
    """Rows of a table as they are stored: a value that our own types would not have written comes as it stands.

    SQLite keeps days, instants and flags as text and numbers, and whoever has the file can write others there: some
    that cannot be read, and some that read as the same day but sort elsewhere.
    """
    stored = connection.dialect.name == "sqlite"
    kept = {column.name: column.type for column in columns if stored and isinstance(column.type, TypeDecorator)}
    read = [
        type_coerce(column, kept[column.name].load_dialect_impl(connection.dialect)).label(column.name)
        if column.name in kept
        else column
        for column in columns
    ]
    found = select(*read).order_by(*order).execution_options(yield_per=_AT_ONCE)
    for row in connection.execute(found if where is None else found.where(where)).mappings():
        yield dict(row) | {name: _as_written(kind, row[name], connection.dialect) for name, kind in kept.items()}


def _as_written(kind: TypeDecorator[Any], stored: Any, dialect: Dialect) -> Any:
    try:
        value = kind.process_result_value(stored, dialect)
    except ValueError:
        return stored
    return value if kind.process_bind_param(value, dialect) == stored else stored
