"""A backup is a book: one SQLite file with every row, whichever store the book lives in."""

import datetime as dt
import sqlite3
from decimal import Decimal
from pathlib import Path
from typing import Any

from sqlalchemy import Engine, MetaData, Table, insert, select

from coatbook.store import guards
from coatbook.store.engine import READ_ONLY, engine_for, is_url, journal_of, new_file, remove_file
from coatbook.store.upgrade import migrate
from coatbook.values import Refusal

_ROWS_AT_ONCE = 1000


def backup(where: str, revision: str, target: Path) -> None:
    """Copy the book at `where` into a new file that only its owner can read.

    Raises:
        Refusal: the target exists or cannot be written; a damaged copy is removed.
    """
    new_file(target)
    try:
        if is_url(where):
            _copy_rows(where, revision, target)
        else:
            _copy_file(Path(where), target)
        _check_whole(target)
        journal_of(target).unlink(missing_ok=True)  # empty by now: a backup is one file
    except BaseException:
        remove_file(target)
        raise


def backup_place(where: str, head: str, instant: dt.datetime) -> Path:
    """Where a backup goes when nobody says: beside the book, named by its instant and the head of its chain."""
    book = Path("book.db") if is_url(where) else Path(where)
    return book.with_name(f"{book.stem}-{instant:%Y%m%dT%H%M%S}-{head}.db")


def _copy_file(source: Path, target: Path) -> None:
    # In one step (pages=-1): a stepwise copy starts over at every write and may never end.
    reader, writer = sqlite3.connect(source.absolute()), sqlite3.connect(target.absolute())
    try:
        reader.backup(writer, pages=-1)
    finally:
        reader.close()
        writer.close()


def _copy_rows(where: str, revision: str, target: Path) -> None:
    migrate(str(target), revision)
    source, copy = engine_for(where), engine_for(str(target))
    try:
        _copy_tables(source, copy)
    finally:
        source.dispose()
        copy.dispose()


def _copy_tables(source: Engine, copy: Engine) -> None:
    there, here = MetaData(), MetaData()
    with source.connect().execution_options(**READ_ONLY) as reading, copy.begin() as writing:
        writing.exec_driver_sql("PRAGMA defer_foreign_keys = ON")
        there.reflect(reading)
        here.reflect(writing)
        for guard in guards.expected(writing):
            writing.exec_driver_sql(f'DROP TRIGGER "{guard.name}"')
        for table in there.sorted_tables:
            if table.name not in guards.UNGUARDED:
                _copy_table(reading, table, writing, here.tables[table.name])
        guards.install(writing)


def _copy_table(reading: Any, table: Table, writing: Any, target: Table) -> None:
    rows = reading.execution_options(yield_per=_ROWS_AT_ONCE).execute(select(table).order_by(table.c.id))
    for some in rows.mappings().partitions(_ROWS_AT_ONCE):
        writing.execute(insert(target), [{name: _plain(value) for name, value in row.items()} for row in some])


def _plain(value: Any) -> Any:
    """A value as the SQLite store keeps it."""
    if isinstance(value, dt.datetime):
        return value.astimezone(dt.UTC).isoformat(timespec="microseconds")
    if isinstance(value, dt.date):
        return value.isoformat()
    if isinstance(value, bool | Decimal):
        return int(value)
    return value


def _check_whole(target: Path) -> None:
    connection = sqlite3.connect(target.absolute())
    try:
        verdict = connection.execute("PRAGMA integrity_check").fetchone()[0]
    finally:
        connection.close()
    if verdict != "ok":
        raise Refusal(
            f"the copy at {target} came out damaged ({verdict}) and is not kept: look at the book with "
            "`coatbook book check`, and at the disk"
        )
