"""The whole book as CSV, a file for each table: to look at, to hand on, or to compare two books.

Two books that say the same differ in what depends on when and in which order it was written. `comparable` leaves that
out: ids, acts, instants, hashes and drawn bytes; a reference is written as the name of the row it refers to (its code,
its number) or, where that has none, its place among the rows of its table as they are sorted by what they say.
"""

import base64
import csv
import datetime as dt
import json
import os
import shutil
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from typing import Any

from sqlalchemy import Column, Connection, LargeBinary, Table, UniqueConstraint

from coatbook.desk.all_tables import metadata
from coatbook.store.book import Book
from coatbook.store.stored import rows
from coatbook.store.types import Instant
from coatbook.values import Refusal
from coatbook.values.text import harmless

Row = dict[str, Any]
File = tuple[str, list[str], Iterable[Iterable[Any]]]  # table, headings, lines
Names = dict[str, dict[int, str]]  # of the rows of each table, by id
ACTS = ("act", "revision", "import_row")
_ACT_COLUMNS = ("act", "struck_act")
_HASHES = ("sha256", "head", "seen", "uuid", "message_id")


def export_tables(book: Book, folder: Path, *, without_acts: bool = False, comparable: bool = False) -> int:
    """Write every table into a new folder; how many there are.

    Raises:
        Refusal: there is something in the folder already, or it cannot be written.
    """
    if folder.is_file() or (folder.is_dir() and any(folder.iterdir())):
        raise Refusal(f"there is something at {folder} already: name a new folder")
    half = folder.with_name(f".{folder.name}.{os.getpid()}")
    try:
        half.mkdir(parents=True)
        with book.read() as session:
            files = _comparable(session.connection()) if comparable else _as_stored(session.connection(), without_acts)
            count = sum(_write(half / f"{name}.csv", headings, lines) for name, headings, lines in files)
        half.replace(folder)
    except OSError as problem:
        raise Refusal(f"cannot write {folder}: {problem.strerror}; name a folder you may write to") from None
    finally:
        shutil.rmtree(half, ignore_errors=True)
    return count


def _write(path: Path, headings: Iterable[str], lines: Iterable[Iterable[Any]]) -> int:
    with path.open("x", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\r\n")
        writer.writerow(headings)
        writer.writerows([_cell(value) for value in line] for line in lines)
    return 1


def _cell(value: Any) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, bytes):
        return base64.b64encode(value).decode()
    if isinstance(value, dt.date):
        return value.isoformat()
    return harmless(value) if isinstance(value, str) else str(value)


def _as_stored(connection: Connection, without_acts: bool) -> Iterator[File]:
    for table in metadata.sorted_tables:
        if without_acts and table.name in ACTS:
            continue
        columns = [column for column in table.c if not (without_acts and column.name in _ACT_COLUMNS)]
        found = rows(connection, table, columns, table.c.id)
        yield table.name, [column.name for column in columns], (row.values() for row in found)


def _comparable(connection: Connection) -> Iterator[File]:
    """Every table after those it refers to, so that each reference has its name by then; revisions last."""
    names: Names = {}
    for table in metadata.sorted_tables:
        if table.name not in ACTS:
            yield _compared(table, list(rows(connection, table, list(table.c), table.c.id)), names)
    revisions = metadata.tables["revision"]
    told = [_revision(row, names) for row in rows(connection, revisions, list(revisions.c), revisions.c.id)]
    yield "revision", ["of_table", "of_id", "n", "content"], sorted(told)


def _compared(table: Table, found: Sequence[Row], names: Names) -> File:
    """One table by what its rows say, in the order of that; the names of its rows are added to `names`."""
    columns = [column for column in table.c if column.name != "id" and not _differs(column)]
    to_itself = [column.name for column in columns if _referred(column) == table.name]
    told = {row["id"]: {column.name: _said(column, row[column.name], names) for column in columns} for row in found}

    def said(row_id: int) -> list[str]:
        return [_cell(value) for name, value in told[row_id].items() if name not in to_itself]

    order = sorted(told, key=lambda row_id: (said(row_id), row_id))
    unique = _unique(table)
    names[table.name] = {
        row_id: "/".join(_cell(told[row_id][name]) for name in unique) if unique else str(place)
        for place, row_id in enumerate(order, start=1)
    }
    for name in to_itself:
        for row in told.values():
            row[name] = names[table.name].get(row[name])
    return table.name, [column.name for column in columns], [list(told[row_id].values()) for row_id in order]


def _differs(column: Column[Any]) -> bool:
    """Whether two books that say the same differ in this column."""
    kind = column.type
    return column.name in (*_ACT_COLUMNS, *_HASHES) or isinstance(kind, Instant | LargeBinary)


def _referred(column: Column[Any]) -> str | None:
    return next((key.column.table.name for key in column.foreign_keys), None)


def _unique(table: Table) -> tuple[str, ...]:
    """The columns that name a row for people: the shortest that are unique and say the same in every book."""
    found = [
        tuple(column.name for column in one.columns)
        for one in table.constraints
        if isinstance(one, UniqueConstraint) and not any(_differs(column) for column in one.columns)
    ]
    return min(sorted(found), key=len, default=())


def _said(column: Column[Any], value: Any, names: Names) -> Any:
    """A value as any book would say it."""
    referred = _referred(column)
    if value is None or (referred == column.table.name):
        return value
    if referred is not None:
        return names[referred].get(value)
    if column.name == "record":
        return json.dumps({name: part for name, part in json.loads(value).items() if name != "head"}, sort_keys=True)
    return value


def _revision(row: Row, names: Names) -> tuple[str, str, int, str]:
    table = metadata.tables[row["of_table"]]
    content = json.loads(row["content"])
    said = {
        name: names.get(_referred(table.c[name]) or "", {}).get(value, value)
        for name, value in content.items()
        if name != "id" and not _differs(table.c[name])
    }
    return row["of_table"], names[row["of_table"]].get(row["of_id"], ""), row["n"], json.dumps(said, sort_keys=True)
