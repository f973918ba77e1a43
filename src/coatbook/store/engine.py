"""How the book's database is reached: SQLite by default, PostgreSQL through psycopg for a shop with several desks."""

import os
import sqlite3
from collections.abc import Iterator
from functools import partial
from pathlib import Path
from typing import Any

from sqlalchemy import URL, Connection, Dialect, Engine, create_engine, event, make_url
from sqlalchemy.exc import ArgumentError

from coatbook.values import Misuse, Refusal

APPLICATION_ID = 0x436F6174  # "Coat"
READ_ONLY = {"coatbook_read_only": True}
_PATIENCE = 10  # seconds that a server may take to answer

# Rollback journal, not WAL: SQLite up to 3.51.2 can corrupt a WAL book when two connections write and checkpoint
# at one instant, and a book in this mode is one file between commands. EXTRA makes a commit survive power loss.
_PRAGMAS = (
    "journal_mode = TRUNCATE",
    "synchronous = EXTRA",
    "foreign_keys = ON",
    "recursive_triggers = ON",
    "trusted_schema = OFF",
    "cell_size_check = ON",
)


def is_url(where: str) -> bool:
    return "://" in where


def hidden(where: str) -> str:
    """The book's place without a password, fit for a message."""
    return _without_secrets(make_url(where)) if is_url(where) else where


def _secrets(url: URL) -> Iterator[str]:
    """The passwords in a URL: that of the user, and those that libpq takes as parameters."""
    if url.password:
        yield str(url.password)
    for name, value in url.query.items():
        if "password" in name.lower():
            yield from (value,) if isinstance(value, str) else value


def _without_secrets(url: URL) -> str:
    kept = {name: value for name, value in url.query.items() if "password" not in name.lower()}
    return url.set(query=kept).render_as_string(hide_password=True)


def engine_for(where: str) -> Engine:
    """An engine on the book at `where`: a file path, or a postgresql:// URL.

    Raises:
        Misuse: an unreadable URL or another kind of database.
    """
    if not is_url(where):
        return _sqlite_engine(Path(where))
    try:
        url = make_url(where)
    except (ArgumentError, ValueError):
        raise Misuse("the book's database URL cannot be read: write postgresql://USER@HOST/NAME") from None
    if url.get_backend_name() != "postgresql":
        raise Misuse(f"{url.get_backend_name()} is not a store coatbook knows: give a file path or postgresql://…")
    engine = create_engine(url.set(drivername="postgresql+psycopg"))
    event.listen(engine, "do_connect", partial(_reach, url))
    event.listen(engine, "begin", _begin_postgresql)
    return engine


def _reach(url: URL, dialect: Dialect, _record: Any, arguments: tuple[Any, ...], parameters: dict[str, Any]) -> Any:
    """Connect to the server, or say that it cannot be reached; no password is ever printed."""
    if "PGCONNECT_TIMEOUT" not in os.environ:
        parameters.setdefault("connect_timeout", _PATIENCE)
    try:
        return dialect.connect(*arguments, **parameters)
    except dialect.loaded_dbapi.Error as problem:
        cause = str(problem).strip().partition("\n")[0]
        for secret in _secrets(url):
            cause = cause.replace(secret, "***")
        raise Refusal(
            f"the server of the book at {_without_secrets(url)} cannot be reached ({cause}): "
            "look at the URL in --book or COATBOOK_BOOK, and whether the server runs"
        ) from None


def sqlite_url(path: Path) -> URL:
    """A URL that means this very file, also where its name has a ? or is :memory:."""
    return URL.create("sqlite", database=str(path.absolute()))


def _sqlite_engine(path: Path) -> Engine:
    engine = create_engine(sqlite_url(path), connect_args={"timeout": 30})
    event.listen(engine, "connect", _prepare_sqlite)
    event.listen(engine, "begin", _begin_sqlite)
    event.listen(engine, "checkin", _end_sqlite)
    return engine


def _prepare_sqlite(connection: sqlite3.Connection, _record: Any) -> None:
    connection.isolation_level = None  # we say BEGIN ourselves: the driver's own would come too late
    for pragma in _PRAGMAS:
        connection.execute(f"PRAGMA {pragma}").close()


def _begin_sqlite(connection: Connection) -> None:
    reading = connection.get_execution_options().get("coatbook_read_only")
    connection.exec_driver_sql("BEGIN" if reading else "BEGIN IMMEDIATE")


def _end_sqlite(connection: sqlite3.Connection | None, _record: Any) -> None:
    # A COMMIT that SQLite refuses leaves the transaction open, and SQLAlchemy takes it for done: nothing of it may
    # stay in the pool.
    if connection is not None and connection.in_transaction:
        connection.rollback()


def _begin_postgresql(connection: Connection) -> None:
    # Said each time: a server's own default may be another, and a writer that waited for the lock must see what was
    # written meanwhile.
    reading = connection.get_execution_options().get("coatbook_read_only")
    mode = "REPEATABLE READ READ ONLY" if reading else "READ COMMITTED READ WRITE"
    connection.exec_driver_sql(f"SET TRANSACTION ISOLATION LEVEL {mode}")


def new_file(path: Path) -> None:
    """Make an empty book file that only its owner can read; refuse to touch one that is there.

    Raises:
        Refusal: there is a file, or a folder that cannot be written, or the journal of a book that was cut short:
            SQLite would play it back into the new file.
    """
    journal = journal_of(path)
    if journal.exists() and journal.stat().st_size:
        raise Refusal(f"{journal} belongs to a book that was cut short: put that book back at {path}, or name another")
    try:
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        handle = os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600)
        os.close(handle)
    except FileExistsError:
        raise Refusal(f"there is a file at {path} already: name another, or open it with --book {path}") from None
    except OSError as problem:
        raise Refusal(f"cannot make a book at {path}: {problem.strerror}; name a folder you may write to") from None


def journal_of(path: Path) -> Path:
    """Where SQLite keeps what it would undo: empty between commands."""
    return path.with_name(f"{path.name}-journal")


def remove_file(path: Path) -> None:
    """Take away a book file that came to nothing, with its journal."""
    path.unlink(missing_ok=True)
    journal_of(path).unlink(missing_ok=True)


def identify(path: Path) -> None:
    """Refuse a file that is no book: missing, not SQLite, or another program's.

    Raises:
        Refusal: with what it is and what to do.
    """
    if not path.exists():
        raise Refusal(f"there is no book at {path}: make one with `coatbook init`, or name yours with --book")
    try:
        with path.open("rb") as file:
            header = file.read(100)
    except OSError as problem:
        raise Refusal(f"cannot read the book at {path}: {problem.strerror}") from None
    if header[:16] != b"SQLite format 3\0" or int.from_bytes(header[68:72], "big") != APPLICATION_ID:
        raise Refusal(f"{path} is not a coatbook book: name yours with --book, or make one with `coatbook init`")
