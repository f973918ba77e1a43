"""Fixtures for all tests: a clean surrounding, a book of one's own, and the command line called in process.

* `coatbook("customer", "list")` runs one command on the test's own book, checks its exit code and returns stdout;
* `refused("customer", "show", "nobody")` runs one that must be refused and returns its one sentence;
* `book` is that same book, opened, for tests that call actions and views themselves;
* `any_where` and `any_book` are the same on either store: such a test runs on SQLite and on PostgreSQL.

PostgreSQL tests need COATBOOK_TEST_POSTGRES, the URL of a superuser's database on a server of their own; without it
they are skipped, and with COATBOOK_TEST_ALL=1 they fail instead.

The book belongs to an invented shop and "today" is 2026-08-20 in it. Making a book runs all migrations, so one is
made for the whole session and copied.
"""

import datetime as dt
import os
import shutil
import uuid
from collections.abc import Callable, Iterator
from pathlib import Path

import psycopg
import pytest
from psycopg import sql
from sqlalchemy import make_url

from coatbook.cli import run
from coatbook.desk.opening import make_book, open_book
from coatbook.store.acts import Ask
from coatbook.store.book import Book
from coatbook.store.clock import Clock

TODAY = dt.date(2026, 8, 20)
SHOP = {
    "name": "Larkfield Aircraft Finish",
    "address": "Hangar 7\n4100 Runway Road\nMesa Alta, TX 78000",
    "email": "shop@example.com",
    "phone": "555-0100",
    "locale": "en_US",
    "net_days": 14,
}
STORES = ("sqlite", "postgresql")
POSTGRESQL = os.environ.get("COATBOOK_TEST_POSTGRES")  # read before `surroundings` takes it away
ALL = os.environ.get("COATBOOK_TEST_ALL") == "1"


@pytest.fixture(autouse=True)
def surroundings(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """No book, name, place or color of the machine reaches a test, and none of its umask leaves one."""
    for name in [name for name in os.environ if name.startswith("COATBOOK_")]:
        monkeypatch.delenv(name)
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.setenv("COLUMNS", "80")
    monkeypatch.setenv("NO_COLOR", "1")
    mask = os.umask(0o077)
    yield
    os.umask(mask)


@pytest.fixture(scope="session")
def template_book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A new book as `make_book` makes it, to copy from."""
    path = tmp_path_factory.mktemp("template") / "book.db"
    ask = Ask("init", "tester", dt.date(2026, 1, 2))
    make_book(str(path), Clock(TODAY), ask, currency="USD", zone="America/Chicago", **SHOP)
    return path


@pytest.fixture
def book_path(tmp_path: Path, template_book: Path) -> Path:
    """The test's own book: a fresh copy of the template."""
    return Path(shutil.copy(template_book, tmp_path / "book.db"))


@pytest.fixture
def book(book_path: Path) -> Iterator[Book]:
    """The test's own book, opened."""
    opened = open_book(str(book_path), Clock(TODAY))
    yield opened
    opened.close()


@pytest.fixture
def command(
    book_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> Callable[..., tuple[int, str, str]]:
    """Run one command on the test's own book: exit code, stdout, stderr without the note about the pretended day."""
    monkeypatch.setenv("COATBOOK_BOOK", str(book_path))
    monkeypatch.setenv("COATBOOK_TODAY", TODAY.isoformat())
    monkeypatch.setenv("COATBOOK_ACTOR", "tester")

    def call(*arguments: object) -> tuple[int, str, str]:
        capsys.readouterr()
        code = run([str(argument) for argument in arguments])
        out, err = capsys.readouterr()
        told = [line for line in err.splitlines(keepends=True) if not line.startswith("note: today is taken")]
        return code, out, "".join(told)

    return call


@pytest.fixture
def coatbook(command: Callable[..., tuple[int, str, str]]) -> Callable[..., str]:
    """Run one command, check its exit code (`code=0`) and return what it printed to stdout."""

    def call(*arguments: object, code: int = 0) -> str:
        found, out, err = command(*arguments)
        assert found == code, f"coatbook {' '.join(map(str, arguments))}: exit {found}\n{out}{err}"
        return out

    return call


@pytest.fixture
def refused(command: Callable[..., tuple[int, str, str]]) -> Callable[..., str]:
    """Run one command that must be refused with `code` (1 or 2) and nothing on stdout; its sentence."""

    def call(*arguments: object, code: int = 1) -> str:
        found, out, err = command(*arguments)
        assert found == code, f"coatbook {' '.join(map(str, arguments))}: exit {found}\n{out}{err}"
        assert out == ""
        assert "Traceback" not in err
        return err.strip()

    return call


def _new_database(template: str | None = None) -> str:
    """A new database on the test server; its URL."""
    assert POSTGRESQL is not None
    name = f"coatbook_test_{uuid.uuid4().hex}"
    statement = sql.SQL("CREATE DATABASE {} TEMPLATE {}").format(
        sql.Identifier(name), sql.Identifier(make_url(template).database if template else "template0")
    )
    with psycopg.connect(POSTGRESQL, autocommit=True) as connection:
        connection.execute(statement)
    return make_url(POSTGRESQL).set(database=name).render_as_string(hide_password=False)


def _drop_database(url: str) -> None:
    assert POSTGRESQL is not None
    with psycopg.connect(POSTGRESQL, autocommit=True) as connection:
        name = sql.Identifier(make_url(url).database or "")
        connection.execute(sql.SQL("DROP DATABASE IF EXISTS {} WITH (FORCE)").format(name))


@pytest.fixture(scope="session")
def postgresql_server() -> str:
    """The URL of a superuser's database on the test server."""
    if POSTGRESQL is None:
        left_out = "no PostgreSQL server: COATBOOK_TEST_POSTGRES names none"
        pytest.fail(left_out) if ALL else pytest.skip(left_out)
    return POSTGRESQL


@pytest.fixture(scope="session")
def postgresql_template(postgresql_server: str) -> Iterator[str]:
    """A new book as `make_book` makes it, in a database to copy from."""
    url = _new_database()
    ask = Ask("init", "tester", dt.date(2026, 1, 2))
    make_book(url, Clock(TODAY), ask, currency="USD", zone="America/Chicago", **SHOP)
    yield url
    _drop_database(url)


@pytest.fixture
def new_database(postgresql_server: str) -> Iterator[str]:
    """The URL of an empty database of the test's own."""
    url = _new_database()
    yield url
    _drop_database(url)


@pytest.fixture(params=STORES)
def any_where(request: pytest.FixtureRequest) -> Iterator[str]:
    """Where the test's own book is: the path of a SQLite file, then the URL of a PostgreSQL database."""
    if request.param == "sqlite":
        yield str(request.getfixturevalue("book_path"))
        return
    url = _new_database(template=request.getfixturevalue("postgresql_template"))
    yield url
    _drop_database(url)


@pytest.fixture
def any_book(any_where: str) -> Iterator[Book]:
    """The test's own book on either store, opened."""
    opened = open_book(any_where, Clock(TODAY))
    yield opened
    opened.close()
