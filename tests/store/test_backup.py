"""A backup is a book: one SQLite file, whole, only its owner's, whichever store the book lives in."""

import re
import sqlite3
import stat
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import select

from coatbook.desk.opening import open_book
from coatbook.stock import actions as stock
from coatbook.store import backup as copying
from coatbook.store import guards
from coatbook.store.backup import backup
from coatbook.store.book import Book
from coatbook.store.check import check
from coatbook.store.clock import Clock
from coatbook.store.engine import APPLICATION_ID
from coatbook.store.tables import Base
from coatbook.store.upgrade import NEWEST
from coatbook.values import Refusal
from store.raw import Raw
from store.season import TODAY, do
from store.test_closings import BOUGHT

Command = Callable[..., tuple[int, str, str]]


def dump(book: Book) -> dict[str, list[Any]]:
    with book.read() as session:
        return {
            table.name: [tuple(row) for row in session.execute(select(table).order_by(table.c.id))]
            for table in Base.metadata.sorted_tables
        }


def mode(path: Path) -> int:
    return stat.S_IMODE(path.stat().st_mode)


@pytest.fixture
def copied(season_where: str, tmp_path: Path) -> Path:
    target = tmp_path / "backups" / "copy.db"
    backup(season_where, NEWEST, target)
    return target


def test_a_backup_equals_the_book(season_book: Book, copied: Path) -> None:
    copy = open_book(str(copied), Clock(TODAY))
    assert dump(copy) == dump(season_book)
    assert check(copy) == []
    with copy.read() as here, season_book.read() as there:
        assert copy.head(here) == season_book.head(there)
    copy.close()


def test_a_backup_is_guarded_and_goes_on_as_a_book(copied: Path) -> None:
    copy = open_book(str(copied), Clock(TODAY))
    with copy.engine.connect() as connection:
        assert guards.missing(connection) == []
    do(copy, None, stock.buy, **BOUGHT)
    assert check(copy) == []
    copy.close()
    with (
        sqlite3.connect(copied) as connection,
        pytest.raises(sqlite3.IntegrityError, match="coatbook: a line of entry"),
    ):
        connection.execute("UPDATE entry SET minor = 1")
    connection.close()


def test_a_backup_is_one_file_of_its_owner(copied: Path) -> None:
    assert [path.name for path in copied.parent.iterdir()] == ["copy.db"]
    assert (mode(copied), mode(copied.parent)) == (0o600, 0o700)
    with sqlite3.connect(copied) as connection:
        assert connection.execute("PRAGMA application_id").fetchone() == (APPLICATION_ID,)
        assert connection.execute("PRAGMA user_version").fetchone() == (int(NEWEST),)
    connection.close()


def test_a_file_that_is_there_is_not_touched(season_where: str, tmp_path: Path) -> None:
    target = tmp_path / "notes.txt"
    target.write_text("mine")
    with pytest.raises(Refusal, match=r"there is a file at .*notes\.txt already"):
        backup(season_where, NEWEST, target)
    assert target.read_text() == "mine"


def test_a_copy_that_came_out_damaged_is_taken_away(
    season_where: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def damaged(target: Path) -> None:
        raise Refusal(f"the copy at {target} came out damaged")

    monkeypatch.setattr(copying, "_check_whole", damaged)
    with pytest.raises(Refusal, match="came out damaged"):
        backup(season_where, NEWEST, tmp_path / "new" / "copy.db")
    assert list((tmp_path / "new").iterdir()) == []


def test_the_book_itself_is_not_written(season_book: Book, season_where: str, tmp_path: Path) -> None:
    before = dump(season_book)
    backup(season_where, NEWEST, tmp_path / "copy.db")
    assert dump(season_book) == before


def test_by_the_command(season_where: str, tmp_path: Path, command_on: Command) -> None:
    target = tmp_path / "copy.db"
    code, out, err = command_on(season_where, "book", "backup", target)
    assert (code, err) == (0, "")
    head = re.fullmatch(rf"The backup is {target}; head of the chain (.+)\. Keep it away from this machine\.\n", out)
    assert head is not None
    assert command_on(target, "book", "check")[0] == 0
    assert f"head of the chain {head[1]}." in command_on(target, "book", "info")[1]
    code, out, err = command_on(season_where, "book", "backup", target)
    assert (code, out) == (1, "")
    assert "already" in err


def test_without_a_name_it_stands_beside_the_book_or_here(
    season_where: str, tmp_path: Path, command_on: Command, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    before = set(tmp_path.iterdir())
    assert command_on(season_where, "book", "backup")[0] == 0
    (new,) = set(tmp_path.iterdir()) - before
    assert re.fullmatch(r"(season|book)-\d{8}T\d{6}-([0-9a-f]{3}-){3}[0-9a-f]{3}\.db", new.name)
    assert mode(new) == 0o600


def test_a_backup_of_a_book_that_was_forced_names_the_same_row(season_where: str, raw: Raw, tmp_path: Path) -> None:
    """A backup is no way to wash a change clean."""
    raw.guard(_forced(raw))
    backup(season_where, NEWEST, tmp_path / "copy.db")
    copy = open_book(str(tmp_path / "copy.db"), Clock(TODAY))
    assert {finding.where for finding in check(copy)} == {"entry 4"}
    copy.close()


def _forced(raw: Raw) -> dict[str, str]:
    guards_of_entry = raw.unguard("entry")
    raw.run("UPDATE entry SET minor = minor + 1 WHERE id = 4")
    return guards_of_entry
