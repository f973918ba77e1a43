"""kill -9 of coatbook itself: what was acknowledged stands, what was not is whole or absent."""

import datetime as dt
import random
import shutil
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

from coatbook.billing.tables import Document
from coatbook.desk.opening import open_book
from coatbook.store import engine
from coatbook.store.acts import Ask, OpenAct
from coatbook.store.book import Book
from coatbook.store.check import check
from coatbook.store.clock import Clock
from databases import ALL
from faults.many_jobs import hand_over_many
from faults.warm_child import INSIDE, Child, killed_at_call, kills
from furniture import FURNISHED_ON

INSIDE_WANTED = 25
JOBS = 60
Rows = dict[str, list[tuple[Any, ...]]]


def query(path: Path, statement: str) -> list[tuple[Any, ...]]:
    """By a client that knows nothing of coatbook; opening the file plays back what a kill left half done."""
    with closing(sqlite3.connect(path)) as connection:
        return connection.execute(statement).fetchall()


def keys(path: Path) -> list[str]:
    return [key for (key,) in query(path, "SELECT key FROM act WHERE key IS NOT NULL ORDER BY id")]


def rows(path: Path) -> Rows:
    """Every row of every table, without what differs from one run of the same command to the next."""
    with closing(sqlite3.connect(path)) as connection:
        tables = connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'").fetchall()
        columns = {"act": "id, actor, command, asked, on_day, key, told, rows"}
        return {
            table: connection.execute(f'SELECT {columns.get(table, "*")} FROM "{table}" ORDER BY 1').fetchall()
            for (table,) in tables
        }


def findings(book: Book) -> list[str]:
    found = [f"{one.kind} {one.where}: {one.what}" for one in check(book)]
    book.engine.dispose()  # a child inherits no open connection
    return found


@pytest.fixture
def environment(furnished: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("COATBOOK_BOOK", str(furnished))
    monkeypatch.setenv("COATBOOK_TODAY", FURNISHED_ON)
    monkeypatch.setenv("COATBOOK_ACTOR", "tester")
    return furnished


@pytest.fixture
def book(environment: Path) -> Iterator[Book]:
    opened = open_book(str(environment), Clock(dt.date.fromisoformat(FURNISHED_ON)))
    opened.engine.dispose()
    yield opened
    opened.close()


def season_of(begin: int) -> list[list[str]]:
    """Commands that write one row, several, an edited one and a strike; each has a key of its own."""
    commands: list[list[str]] = []
    for number in range(begin, begin + 3):
        film = ["--film", "110 µm", "--film", "112 µm", "--gauge", "magnetic", "--serial", "G-1"]
        commands += [
            ["log", "expense", "1", "1.00", f"expense {number}"],
            ["material", "buy", "sealant", "2 fl oz", "3.00", "--supplier", "Hillside Supply", "--lot", f"L-{number}"],
            ["log", "use", "1", "sealant", "1 fl oz", "--again"],
            ["log", "reading", "1", "left wing", "--spot", str(number), *film],
            ["strike", "last", "--why", "wrong gauge"],
            ["customer", "edit", "alder", "--phone", f"555-0{number % 1000:03}"],
        ]
    return [[*command, "--key", f"{begin}-{place}"] for place, command in enumerate(commands)]


def test_acknowledged_commands_stand_and_no_others(environment: Path, book: Book) -> None:
    chance, written, number = random.Random(9), keys(environment), 0

    def commands() -> list[list[str]]:
        return season_of(number)

    for killed in kills(commands, chance, INSIDE_WANTED, most=300, most_begun=6):
        found = keys(environment)
        acknowledged = written + [f"{number}-{place}" for place in range(killed.acknowledged)]
        unheard = f"{number}-{killed.acknowledged}"  # committed, but killed before it could say so
        assert found in (acknowledged, [*acknowledged, unheard])
        assert findings(book) == []  # each act's rows are all there, and no row is of no act
        written = found
        number += 10


@pytest.fixture
def jobs_to_invoice(environment: Path, book: Book) -> Path:
    """Many jobs handed over and not yet invoiced, written by the rooms' own actions in one act."""
    book.do(Ask("many jobs", "tester"), hand_over_many, count=JOBS)
    book.engine.dispose()
    return environment


def numbers(path: Path) -> list[int]:
    found = [n for (n,) in query(path, "SELECT n FROM document ORDER BY n")]
    lines = {n for (n,) in query(path, "SELECT d.n FROM document d JOIN document_line l ON l.document = d.id")}
    assert set(found) == lines, "an invoice has no lines"
    return found


def test_invoices_are_whole_and_their_numbers_have_no_gap(jobs_to_invoice: Path, book: Book, tmp_path: Path) -> None:
    chance, issued = random.Random(4), 0

    def commands() -> list[list[str]]:
        out = str(tmp_path / "out")
        return [["invoice", "issue", str(2 + issued + one), "--yes", "--to", out] for one in range(4)]

    for killed in kills(commands, chance, wanted_inside=6, most=JOBS, most_begun=6):
        found = numbers(jobs_to_invoice)
        assert found == list(range(1, len(found) + 1))
        assert killed.acknowledged <= len(found) - issued <= killed.acknowledged + 1
        assert findings(book) == []
        issued = len(found)
        if issued > JOBS - 10:
            break


def commit_between_document_and_lines() -> None:
    """Plant the bug: what stands after the document's row is committed before its lines are written."""
    honest = OpenAct.add

    def hasty(act: OpenAct, row: Any) -> Any:
        written = honest(act, row)
        if isinstance(row, Document):
            act.session.commit()
        return written

    OpenAct.add = hasty  # type: ignore[method-assign]


def commit_with_references_unchecked() -> None:
    """The same bug where the database does not hold the act's row to be there at COMMIT."""
    engine._PRAGMAS = tuple(one.replace("foreign_keys = ON", "foreign_keys = OFF") for one in engine._PRAGMAS)
    commit_between_document_and_lines()


def test_a_planted_commit_is_refused_by_the_database(
    jobs_to_invoice: Path, book: Book, monkeypatch: pytest.MonkeyPatch, refused: Callable[..., str]
) -> None:
    monkeypatch.setattr(OpenAct, "add", OpenAct.add)  # put back afterwards
    monkeypatch.setenv("COATBOOK_TODAY", FURNISHED_ON)
    commit_between_document_and_lines()
    refused("invoice", "issue", "2", "--yes")
    assert numbers(jobs_to_invoice) == []
    assert findings(book) == []


def test_a_planted_commit_is_caught_by_the_same_kills(jobs_to_invoice: Path, book: Book, tmp_path: Path) -> None:
    chance, out = random.Random(2), str(tmp_path / "out")
    for attempt in range(80):
        command = ["invoice", "issue", str(2 + attempt), "--yes", "--to", out]
        Child([command], commit_with_references_unchecked).kill(1 + attempt % 3, chance.uniform(0, 0.02))
        found = findings(book)
        if found:
            assert any(one.startswith("rows document ") for one in found)
            return
    raise AssertionError("a commit between document and lines was not caught by any of 80 kills")


@pytest.mark.parametrize("call", ["pwrite64", "fdatasync", "ftruncate"])
def test_killed_at_every_call_that_writes(environment: Path, book: Book, tmp_path: Path, call: str) -> None:
    """Not at random: at the first such call of a command, then at the second, until it makes no more of them."""
    if shutil.which("strace") is None:
        pytest.fail("strace is not installed") if ALL else pytest.skip("strace is not installed")
    begun = Path(shutil.copy(environment, tmp_path / "before.db"))
    command = ["log", "use", "1", "sealant", "1 fl oz", "--key", "k"]
    before, inside, nth = rows(begun), 0, 1
    while killed := killed_at_call([command], call, nth):
        found = rows(environment)
        assert killed.acknowledged == 0
        if found != before:  # the commit was through, all of it
            assert keys(environment) == ["k"]
            assert [len(found[table]) - len(before[table]) for table in ("act", "entry", "drawn")] == [1, 1, 1]
            assert findings(book) == []
        inside += killed.place >= INSIDE
        shutil.copy(begun, environment)
        nth += 1
    assert keys(environment) == ["k"]
    assert findings(book) == []
    assert inside >= {"pwrite64": 25, "fdatasync": 4, "ftruncate": 1}[call]
