"""`book check`: does every row still say what it said when it was written?"""

import heapq
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby
from typing import Any

from sqlalchemy import Connection, Table, func, inspect, or_, select

from coatbook.store import chain, guards
from coatbook.store.book import Book
from coatbook.store.engine import READ_ONLY
from coatbook.store.tables import STRUCK, Act, Base, Revision, law_of
from coatbook.values import frozen

Hashed = tuple[int, str, int, str]  # act, table, row id, hash
_STREAMED = {"yield_per": 200}  # rows at once: some carry the bytes of a document


@dataclass(frozen=True, slots=True)
class Finding:
    """Something that is not as the book was written: what kind, where, and what."""

    kind: str
    where: str
    what: str


def check(book: Book) -> list[Finding]:
    """All that is wrong with a book; an empty list if it is whole. Memory stays bounded by one act's rows."""
    with book.engine.connect().execution_options(**READ_ONLY) as connection:
        found = [*_damage(connection), *_tables_gone(connection), *_guards(connection)]
        if not any(finding.kind == "table" for finding in found):
            found += [*_half_struck(connection), *_acts(connection), *_edited(connection)]
        return found


def _damage(connection: Connection) -> Iterator[Finding]:
    if connection.dialect.name != "sqlite":
        return
    for row in connection.exec_driver_sql("PRAGMA integrity_check").fetchall():
        if row[0] != "ok":
            yield Finding("damage", "file", f"SQLite finds the file damaged ({row[0]}): go back to a backup")
    for row in connection.exec_driver_sql("PRAGMA foreign_key_check").fetchall():
        yield Finding("reference", f"{row[0]} {row[1]}", f"this row refers to a row of {row[2]} that is gone")


def _tables_gone(connection: Connection) -> Iterator[Finding]:
    """Tables and columns that are not there. Without them the rows cannot be read at all."""
    there = {
        name: {column["name"] for column in columns}
        for (_schema, name), columns in inspect(connection).get_multi_columns().items()
    }
    for table in Base.metadata.sorted_tables:
        if table.name not in there:
            yield Finding("table", table.name, "this table is gone: go back to a backup")
            continue
        for column in table.columns:
            if column.name not in there[table.name]:
                what = f"the column {column.name} of this table is gone: go back to a backup"
                yield Finding("table", table.name, what)


def _guards(connection: Connection) -> Iterator[Finding]:
    for guard in guards.missing(connection):
        what = f"the guard {guard.name} is missing or altered: run `coatbook book upgrade` to set it again"
        yield Finding("guard", guard.table, what)


def _tables() -> list[Table]:
    return [table for table in Base.metadata.sorted_tables if table.name != "act"]


def _written(connection: Connection, table: Table) -> Iterator[Hashed]:
    rows = connection.execute(select(table).order_by(table.c.act, table.c.id).execution_options(**_STREAMED))
    for row in rows.mappings():
        yield row["act"], table.name, row["id"], chain.row_hash(table.name, dict(row))


def _half_struck(connection: Connection) -> Iterator[Finding]:
    """Rows with only some of the struck columns set: they name no act that would prove the strike."""
    for table in _tables():
        if "struck_act" not in table.c:
            continue
        struck = [table.c[name] for name in STRUCK]
        some = or_(*(column.is_not(None) for column in struck)) & or_(*(column.is_(None) for column in struck))
        for row_id in connection.scalars(select(table.c.id).where(some).order_by(table.c.id)):
            yield Finding("rows", f"{table.name} {row_id}", f"{table.name} {row_id} is struck by halves, by no act")


def _struck(connection: Connection, table: Table) -> Iterator[Hashed]:
    columns = (table.c.struck_act, table.c.id, table.c.struck_on, table.c.struck_why)
    struck = select(*columns).where(table.c.struck_act.is_not(None)).order_by(table.c.struck_act)
    for act, row_id, struck_on, struck_why in connection.execute(struck.execution_options(**_STREAMED)):
        yield act, table.name, row_id, chain.strike_hash(table.name, row_id, struck_on, struck_why)


def _acts(connection: Connection) -> Iterator[Finding]:
    """Walk all acts and, beside them, all rows in act order: one pass over each table."""
    streams = [_written(connection, table) for table in _tables() if "act" in table.c]
    streams += [_struck(connection, table) for table in _tables() if "struck_act" in table.c]
    by_act = groupby(heapq.merge(*streams, key=lambda item: item[0]), key=lambda item: item[0])
    pending: tuple[int, list[Hashed]] | None = None
    before, expected = chain.GENESIS, 1
    acts = select(Act.__table__).order_by(Act.id).execution_options(**_STREAMED)
    for act in connection.execute(acts).mappings():
        while expected < act["id"]:
            yield Finding("chain", f"act {expected}", "this act is gone from the chain")
            expected += 1
        expected = act["id"] + 1
        rows: list[Hashed] = []
        while pending is not None or (pending := _next(by_act)) is not None:
            if pending[0] > act["id"]:
                break
            if pending[0] == act["id"]:
                rows = pending[1]
            else:
                yield from _orphans(pending)
            pending = None
        yield from _changed(act, [item[1:] for item in rows])
        if chain.act_head(dict(act), before) != act["head"]:
            what = f"act {act['id']} (`{act['command']}`) was changed, or one before it"
            yield Finding("chain", f"act {act['id']}", what)
        before = act["head"]
    while pending is not None or (pending := _next(by_act)) is not None:
        yield from _orphans(pending)
        pending = None


def _next(by_act: Any) -> tuple[int, list[Hashed]] | None:
    group = next(by_act, None)
    return None if group is None else (group[0], list(group[1]))


def _orphans(group: tuple[int, list[Hashed]]) -> Iterator[Finding]:
    for act, table, row_id, _hash in group[1]:
        yield Finding("rows", f"{table} {row_id}", f"this row names act {act}, which is not in the book")


def _changed(act: Any, rows: list[chain.RowHash]) -> Iterator[Finding]:
    if chain.rows_mark(rows) == act["rows"]:
        return
    strange, gone = chain.differing(act["rows"], rows)
    by = f"act {act['id']} (`{act['command']}`, {act['on_day']})"
    for row in strange:
        yield Finding("rows", row, f"{row} is not as {by} wrote it")
    for row in gone:
        yield Finding("rows", row, f"{row} is gone, or no longer struck, as {by} wrote it")
    if not strange and not gone:
        yield Finding("rows", f"act {act['id']}", f"the record of what {by} wrote was changed")


def _edited(connection: Connection) -> Iterator[Finding]:
    """An edited row must equal its last kept revision."""
    for table in _tables():
        if law_of(table) != "edited":
            continue
        last = (
            select(Revision.of_id, func.max(Revision.n).label("n"))
            .where(Revision.of_table == table.name)
            .group_by(Revision.of_id)
            .subquery()
        )
        kept = (
            select(Revision.of_id, Revision.content)
            .where(Revision.of_table == table.name)
            .join(last, (last.c.of_id == Revision.of_id) & (last.c.n == Revision.n))
        )
        contents = {row.of_id: row.content for row in connection.execute(kept)}
        for row in connection.execute(select(table).order_by(table.c.id)).mappings():
            if frozen.dump(chain.content(dict(row))) != contents.pop(row["id"], None):
                what = f"this row of {table.name} is not as its last kept revision"
                yield Finding("edited", f"{table.name} {row['id']}", what)
        for row_id in contents:
            yield Finding("edited", f"{table.name} {row_id}", f"this row of {table.name} is gone")
