"""What an issued document prints of the chain is compared with the chain: who rewrote the past is found by it."""

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path

import pytest

from coatbook.desk.checking import check_book, check_copy
from coatbook.store import chain, guards
from coatbook.store.backup import backup
from coatbook.store.book import Book
from coatbook.store.check import check
from coatbook.store.clock import Clock
from coatbook.store.stored import rows, struck, written
from coatbook.store.tables import Act, Base
from coatbook.store.upgrade import NEWEST
from desk.shopfloor import TODAY, washed

Command = Callable[..., str]


@pytest.fixture
def invoiced(shop: Book) -> Iterator[Book]:
    """The furnished book with two invoices."""
    washed(shop, "2026-04-01")
    washed(shop, "2026-05-01")
    yield shop
    shop.close()


def change(path: Path, *statements: str) -> None:
    """Change rows behind the book's back, with the guards out of the way meanwhile."""
    with closing(sqlite3.connect(path)) as connection, connection:
        triggers = connection.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'").fetchall()
        for name, _ in triggers:
            connection.execute(f'DROP TRIGGER "{name}"')
        for statement in statements:
            connection.execute(statement)
        for _, sql in triggers:
            connection.execute(sql)


def rechain(book: Book) -> None:
    """Make the whole chain anew over the rows as they stand, as a forger who knows how would."""
    tables = [table for table in Base.metadata.sorted_tables if table.name != "act" and "act" in table.c]
    with book.engine.begin() as connection:
        for guard in guards.expected(connection):
            connection.exec_driver_sql(f'DROP TRIGGER "{guard.name}"')
        hashes: dict[int, chain.RowHashes] = {}
        for table in tables:
            for act, *row in written(connection, table):
                hashes.setdefault(act, chain.RowHashes()).add(*row)
            if "struck_act" in table.c:
                for act, *row in struck(connection, table):
                    hashes.setdefault(act, chain.RowHashes()).add(*row)
        before = chain.GENESIS
        acts = Act.__table__
        for act in list(rows(connection, acts, list(acts.c), acts.c.id)):  # type: ignore[arg-type]
            act["rows"] = chain.rows_mark(hashes.get(act["id"], chain.RowHashes()))
            before = chain.act_head(act, before)
            connection.exec_driver_sql(
                "UPDATE act SET rows = ?, head = ? WHERE id = ?", (act["rows"], before, act["id"])
            )
        guards.install(connection)


def told(book: Book) -> list[str]:
    return [f"{one.kind} {one.where}: {one.what}" for one in check_book(book)]


def test_what_is_printed_is_what_the_chain_says(invoiced: Book) -> None:
    assert check_book(invoiced) == []


def test_a_past_rewritten_with_its_chain_is_found_by_what_was_printed(invoiced: Book, book_path: Path) -> None:
    change(book_path, "UPDATE purchase SET minor = minor - 100")
    assert any("purchase 1 is not as act" in one for one in told(invoiced))
    rechain(invoiced)
    assert check(invoiced) == []  # the rows and the chain agree again
    found = told(invoiced)
    assert [one.partition(" prints")[0] for one in found] == [
        "document document 1: invoice 2026-0001",
        "document document 2: invoice 2026-0002",
    ]
    assert all(" and the chain has " in one for one in found)


def test_a_past_rewritten_after_an_invoice_leaves_what_it_prints_true(invoiced: Book, book_path: Path) -> None:
    change(book_path, "UPDATE document SET record = replace(record, 'Larkfield', 'Other') WHERE id = 2")
    rechain(invoiced)
    assert told(invoiced) == []  # nothing was issued after that document's act
    change(book_path, "UPDATE document SET record = replace(record, 'Larkfield', 'Other') WHERE id = 1")
    rechain(invoiced)
    assert [one.split(":")[0] for one in told(invoiced)] == ["document document 2"]


@pytest.mark.parametrize("record", ["", "[]", "{}", '{"head":7}', "no json"])
def test_a_record_that_cannot_be_read_is_no_traceback(invoiced: Book, book_path: Path, record: str) -> None:
    change(book_path, f"UPDATE document SET record = '{record}' WHERE id = 1")
    assert any(one.startswith("document document 1: invoice 2026-0001 prints the head None") for one in told(invoiced))


def test_a_chain_cut_off_before_an_invoice(invoiced: Book, book_path: Path) -> None:
    with invoiced.read() as session:
        act = session.connection().exec_driver_sql("SELECT act FROM document WHERE id = 1").scalar_one()
    change(book_path, f"DELETE FROM act WHERE id = {act - 1}")
    assert any(one.startswith("document document 1: ") and "has none before" in one for one in told(invoiced))


def test_a_table_that_is_gone_is_told_first(invoiced: Book, book_path: Path) -> None:
    with closing(sqlite3.connect(book_path)) as connection, connection:
        connection.execute("DROP TABLE document_file")
    assert {one.partition(" ")[0] for one in told(invoiced)} <= {"table", "guard"}


def test_a_copy_is_looked_at_too(invoiced: Book, book_path: Path, tmp_path: Path) -> None:
    backup(str(book_path), NEWEST, tmp_path / "whole.db")
    assert check_copy(tmp_path / "whole.db", Clock(TODAY)) == []
    change(book_path, "UPDATE purchase SET minor = minor - 100")
    backup(str(book_path), NEWEST, tmp_path / "changed.db")
    assert [one.where for one in check_copy(tmp_path / "changed.db", Clock(TODAY))] == ["purchase 1"]


def test_by_command(invoiced: Book, book_path: Path, coatbook: Command) -> None:
    assert coatbook("book", "check") == "The book is whole: every row is as it was written, every guard stands.\n"
    change(book_path, "UPDATE purchase SET minor = minor - 100")
    rechain(invoiced)
    lines = coatbook("book", "check", code=1).splitlines()
    assert lines[0] == "The book is not as it was written: 2 findings."
    assert lines[1].startswith("  document  document 1: invoice 2026-0001 prints the head ")
