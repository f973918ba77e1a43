"""A small season in a book, made once on each store and copied; a plain SQL client; commands on any book."""

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from coatbook.cli import run
from coatbook.desk.opening import open_book
from coatbook.store.book import Book
from coatbook.store.clock import Clock
from databases import STORES, Copies, copy_database, drop_database
from store.raw import Raw
from store.season import TODAY, season

Command = Callable[..., tuple[int, str, str]]


def _seasoned(where: str) -> None:
    book = open_book(where, Clock(TODAY))
    season(book)
    book.close()


@pytest.fixture(scope="session")
def sqlite_season(template_book: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = Path(shutil.copy(template_book, tmp_path_factory.mktemp("season") / "book.db"))
    _seasoned(str(path))
    return path


@pytest.fixture(scope="session")
def postgresql_season(postgresql_template: str) -> Iterator[str]:
    url = copy_database(postgresql_template)
    _seasoned(url)
    yield url
    drop_database(url)


@pytest.fixture(scope="session")
def season_copies(postgresql_season: str) -> Iterator[Copies]:
    copies = Copies(postgresql_season)
    yield copies
    copies.close()


@pytest.fixture(params=STORES)
def season_where(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[str]:
    """Where a book with a small season is: the path of a SQLite file, then the URL of a PostgreSQL database."""
    if request.param == "sqlite":
        yield str(shutil.copy(request.getfixturevalue("sqlite_season"), tmp_path / "season.db"))
        return
    with request.getfixturevalue("season_copies").one() as url:
        yield url


@pytest.fixture
def season_book(season_where: str) -> Iterator[Book]:
    """The book with a small season, opened."""
    opened = open_book(season_where, Clock(TODAY))
    yield opened
    opened.close()


@pytest.fixture
def raw(season_where: str) -> Iterator[Raw]:
    """A plain SQL client on the book with a small season."""
    client = Raw(season_where)
    yield client
    client.close()


@pytest.fixture
def command_on(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Command:
    """Run one command on the book at `where`: exit code, stdout, stderr without the note about the pretended day."""
    monkeypatch.setenv("COATBOOK_TODAY", TODAY.isoformat())
    monkeypatch.setenv("COATBOOK_ACTOR", "tester")

    def call(where: str | Path, *arguments: object) -> tuple[int, str, str]:
        capsys.readouterr()
        code = run(["--book", str(where), *(str(argument) for argument in arguments)])
        out, err = capsys.readouterr()
        told = [line for line in err.splitlines(keepends=True) if not line.startswith("note: today is taken")]
        return code, out, "".join(told)

    return call
