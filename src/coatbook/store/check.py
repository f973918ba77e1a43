"""`book check`: does every row still say what it said when it was written?"""

import heapq
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby
from typing import Any

from sqlalchemy import Connection, Table, func, inspect, select

from coatbook.store import chain, guards
from coatbook.store.book import Book
from coatbook.store.engine import READ_ONLY
from coatbook.store.stored import rows, struck, written
from coatbook.store.tables import Base, Revision, law_of
from coatbook.values import frozen

_ACTS = Base.metadata.tables["act"]


@dataclass(frozen=True, slots=True)
class Finding:
    """Something that is not as the book was written: what kind, where, and what."""

    kind: str
    where: str
    what: str


def check(book: Book) -> list[Finding]:
    """All that is wrong with a book; an empty list if it is whole. Memory stays bounded, also by acts of many rows."""
    with book.engine.connect().execution_options(**READ_ONLY) as connection:
        found = [*_damage(connection), *_tables_gone(connection), *_guards(connection)]
        if not any(finding.kind == "table" for finding in found):
            found += [*_acts(connection), *_edited(connection)]
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
    wanted = list(guards.expected(connection))
    for guard in guards.missing(connection, wanted):
        what = f"the guard {guard.name} is missing or altered: run `coatbook book upgrade` to set it again"
        yield Finding("guard", guard.table, what)
    for name, table in guards.strange(connection, wanted):
        yield Finding("guard", table, f"the trigger {name} is none of coatbook's: find out who made it, and drop it")


def _tables() -> list[Table]:
    return [table for table in Base.metadata.sorted_tables if table.name != "act"]


def _acts(connection: Connection) -> Iterator[Finding]:
    """Walk all acts and, beside them, all rows in act order: one pass over each table."""
    streams = [written(connection, table) for table in _tables() if "act" in table.c]
    streams += [struck(connection, table) for table in _tables() if "struck_act" in table.c]
    by_act = groupby(heapq.merge(*streams, key=lambda item: item[0]), key=lambda item: item[0])
    pending: tuple[int, chain.RowHashes] | None = None
    before, expected = chain.GENESIS, 1
    for act in rows(connection, _ACTS, list(_ACTS.c), _ACTS.c.id):
        if expected < act["id"]:
            gone = f"act {expected}" if expected + 1 == act["id"] else f"act {expected} to {act['id'] - 1}"
            yield Finding("chain", gone, f"{gone} is gone from the chain")
        expected = act["id"] + 1
        own = chain.RowHashes()
        while pending is not None or (pending := _next(by_act)) is not None:
            if pending[0] > act["id"]:
                break
            if pending[0] == act["id"]:
                own = pending[1]
            else:
                yield from _orphans(pending)
            pending = None
        yield from _changed(act, own)
        if chain.act_head(act, before) != act["head"]:
            what = f"act {act['id']} (`{act['command']}`) was changed, or one before it"
            yield Finding("chain", f"act {act['id']}", what)
        before = act["head"]
    while pending is not None or (pending := _next(by_act)) is not None:
        yield from _orphans(pending)
        pending = None


def _next(by_act: Any) -> tuple[int, chain.RowHashes] | None:
    group = next(by_act, None)
    return None if group is None else (group[0], chain.RowHashes(item[1:] for item in group[1]))


def _orphans(group: tuple[int, chain.RowHashes]) -> Iterator[Finding]:
    act, hashes = group
    names = f"names act {act}, which is not in the book" if act else "is struck by no act"
    for table, row_id, _hash in hashes:
        yield Finding("rows", f"{table} {row_id}", f"{table} {row_id} {names}")


def _changed(act: Any, rows: chain.RowHashes) -> Iterator[Finding]:
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
        for row in rows(connection, table, list(table.c), table.c.id):
            if frozen.dump(chain.content(row)) != contents.pop(row["id"], None):
                what = f"this row of {table.name} is not as its last kept revision"
                yield Finding("edited", f"{table.name} {row['id']}", what)
        for row_id in contents:
            yield Finding("edited", f"{table.name} {row_id}", f"this row of {table.name} is gone")
