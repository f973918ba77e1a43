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
import hashlib
import os
import shutil
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path

import pytest

import furniture
from coatbook.cli import run
from coatbook.desk.opening import make_book, open_book
from coatbook.store.acts import Ask
from coatbook.store.book import Book
from coatbook.store.clock import Clock
from databases import ALL, POSTGRESQL, STORES, Copies, copy_database, drop_database


def pytest_configure(config: pytest.Config) -> None:
    """Let the run print how many published checks it made, by source, over all workers."""
    from published.counting import count_published_checks

    count_published_checks(config)


TODAY = dt.date(2026, 8, 20)
SHOP: dict[str, str | int | None] = {
    "name": "Larkfield Aircraft Finish",
    "address": "Hangar 7\n4100 Runway Road\nMesa Alta, TX 78000",
    "email": "shop@example.com",
    "phone": "555-0100",
    "locale": "en_US",
    "net_days": 14,
}


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


@pytest.fixture(scope="session")
def furnished_template(template_book: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A book with all that a job needs, to copy from; written by commands, as a user would."""
    path = Path(shutil.copy(template_book, tmp_path_factory.mktemp("furnished") / "book.db"))
    with pytest.MonkeyPatch.context() as surrounding:
        surrounding.setenv("COATBOOK_TODAY", TODAY.isoformat())
        surrounding.setenv("COATBOOK_ACTOR", "tester")
        for arguments in furniture.COMMANDS:
            assert run(["--book", str(path), *arguments]) == 0, arguments
    return path


@pytest.fixture
def book_path(tmp_path: Path, template_book: Path) -> Path:
    """The test's own book: a fresh copy of the template."""
    return Path(shutil.copy(template_book, tmp_path / "book.db"))


@pytest.fixture
def furnished(book_path: Path, furnished_template: Path) -> Path:
    """The test's own book, furnished."""
    return Path(shutil.copy(furnished_template, book_path))


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


def written(path: Path) -> str:
    """A hash over all that a book file holds: every row of every table, and every guard."""
    with closing(sqlite3.connect(path)) as connection:
        return hashlib.sha256("\n".join(connection.iterdump()).encode()).hexdigest()


@pytest.fixture
def refused(command: Callable[..., tuple[int, str, str]], book_path: Path) -> Callable[..., str]:
    """Run one command that must be refused with `code` (1 or 2), print nothing and leave the book as it was.

    Returns what was said on stderr: `coatbook: ` and a sentence, or a usage error.
    """

    def call(*arguments: object, code: int = 1) -> str:
        before = written(book_path)
        found, out, err = command(*arguments)
        assert found == code, f"coatbook {' '.join(map(str, arguments))}: exit {found}\n{out}{err}"
        assert out == ""
        assert written(book_path) == before
        return err.strip()

    return call


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
    url = copy_database()
    ask = Ask("init", "tester", dt.date(2026, 1, 2))
    make_book(url, Clock(TODAY), ask, currency="USD", zone="America/Chicago", **SHOP)
    yield url
    drop_database(url)


@pytest.fixture(scope="session")
def postgresql_copies(postgresql_template: str) -> Iterator[Copies]:
    copies = Copies(postgresql_template)
    yield copies
    copies.close()


@pytest.fixture
def new_database(postgresql_server: str) -> Iterator[str]:
    """The URL of an empty database of the test's own."""
    url = copy_database()
    yield url
    drop_database(url)


@pytest.fixture(params=STORES)
def any_where(request: pytest.FixtureRequest) -> Iterator[str]:
    """Where the test's own book is: the path of a SQLite file, then the URL of a PostgreSQL database."""
    if request.param == "sqlite":
        yield str(request.getfixturevalue("book_path"))
        return
    with request.getfixturevalue("postgresql_copies").one() as url:
        yield url


@pytest.fixture
def any_book(any_where: str) -> Iterator[Book]:
    """The test's own book on either store, opened."""
    opened = open_book(any_where, Clock(TODAY))
    yield opened
    opened.close()
