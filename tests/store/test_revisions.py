"""A book made at the first revision is refused, upgraded after a backup, and then used."""

import gzip
import json
import sqlite3
from collections.abc import Callable
from pathlib import Path

import pytest
from alembic import command
from alembic.script import ScriptDirectory
from sqlalchemy import inspect, text

from coatbook.desk.all_tables import metadata
from coatbook.store import guards
from coatbook.store.engine import engine_for
from coatbook.store.upgrade import NEWEST, REVISIONS, alembic_config

STORED = Path(__file__).parent / "assets" / "book-revision-0001.db.gz"
Run = Callable[..., str]


@pytest.fixture
def old_book(book_path: Path) -> Path:
    """The test's own book, replaced by the stored one of the first revision."""
    book_path.write_bytes(gzip.decompress(STORED.read_bytes()))
    return book_path


def rows(path: Path) -> dict[str, list[dict[str, object]]]:
    """Every row of every table that has any, without the columns that are empty: a later revision adds such."""
    with sqlite3.connect(path) as connection:
        connection.row_factory = sqlite3.Row
        tables = [name for (name,) in connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")]
        found = {
            table: [
                {name: value for name, value in zip(row.keys(), row, strict=True) if value is not None}
                for row in connection.execute(f'SELECT * FROM "{table}" ORDER BY 1')
            ]
            for table in tables
            if table != "alembic_version"
        }
    connection.close()
    return {table: lines for table, lines in found.items() if lines}


def test_an_older_book_says_so_and_stays_as_it_is(old_book: Path, refused: Callable[..., str]) -> None:
    before = old_book.read_bytes()
    assert "coatbook book upgrade" in refused("customer", "list")
    assert old_book.read_bytes() == before


def test_the_upgrade_takes_a_backup_and_loses_nothing(old_book: Path, coatbook: Run) -> None:
    before = rows(old_book)
    told = coatbook("book", "upgrade")
    backups = list(old_book.parent.glob("*revision-0001*.db"))
    assert len(backups) == 1
    assert str(backups[0]) in told
    assert backups[0].stat().st_mode & 0o777 == 0o600
    assert rows(backups[0]) == before
    assert rows(old_book) == before
    assert json.loads(coatbook("book", "check", "--json")) == {"ok": True, "findings": []}


def test_the_upgraded_book_is_guarded_strict_and_used(old_book: Path, coatbook: Run) -> None:
    coatbook("book", "upgrade")
    with sqlite3.connect(old_book) as connection:
        loose = "SELECT name FROM sqlite_master WHERE type = 'table' AND sql NOT LIKE '%STRICT%'"
        assert connection.execute(loose).fetchall() == [("alembic_version",)]
        with pytest.raises(sqlite3.IntegrityError, match="written once"):
            connection.execute("UPDATE purchase SET reference = 'forged'")
    connection.close()
    bought = ("--supplier", "Field Supply", "--lot", "K-32", "--reference", "FS-20931")
    coatbook("material", "buy", "ceramic", "250 mL", "190.00", *bought)
    coatbook("payment", "take", "dell", "232.86", "--invoice", "2026-0001", "--yes")
    assert "FS-20931" in coatbook("export", "journal", "2026-08")
    month = json.loads(coatbook("review", "month", "2026-03", "--json"))
    # By hand: 84 ft2 x 4.85 = 407.40; 75 of 500 mL at 365.00 = 54.75; Kit 2 h x 24.50 = 49.00; overhead 2 h x 9.50.
    assert month["revenue"] == "407.40"
    assert month["cost"] == "103.75"
    assert month["profit"] == "284.65"
    assert json.loads(coatbook("book", "check", "--json"))["ok"]


def test_the_kept_journal_of_a_closed_month_comes_out_byte_for_byte(old_book: Path, coatbook: Run) -> None:
    with sqlite3.connect(old_book) as connection:
        (kept,) = connection.execute("SELECT journal FROM closing").fetchone()
    connection.close()
    coatbook("book", "upgrade")
    assert coatbook("export", "journal", "2026-03").encode() == kept


def test_an_upgrade_of_a_current_book_sets_lost_guards_again(book_path: Path, coatbook: Run) -> None:
    with sqlite3.connect(book_path) as connection:
        connection.execute("DROP TRIGGER guard_payment_update")
    connection.close()
    assert "guard_payment_update" in coatbook("book", "check", code=1)
    coatbook("book", "upgrade")
    assert json.loads(coatbook("book", "check", "--json"))["ok"]


def test_the_program_names_the_newest_of_its_migrations() -> None:
    script = ScriptDirectory.from_config(alembic_config())
    assert script.get_heads() == [NEWEST]
    assert [one.revision for one in script.walk_revisions()][::-1] == list(REVISIONS)


def test_the_tables_are_those_of_the_migrations(any_where: str) -> None:
    engine = engine_for(any_where)
    with engine.begin() as connection:
        config = alembic_config(connection)
        config.attributes["metadata"] = metadata
        command.check(config)
        assert guards.missing(connection) == []
        assert set(inspect(connection).get_table_names()) == {*metadata.tables, "alembic_version"}
        assert connection.execute(text("SELECT version_num FROM alembic_version")).scalar_one() == NEWEST
    engine.dispose()
