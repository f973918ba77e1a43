"""A file comes into a book on either store, and what is refused leaves nothing on either."""

import datetime as dt
from collections.abc import Callable
from pathlib import Path

import pytest
from sqlalchemy import func, select

from coatbook.aircraft.tables import Airframe, Marking
from coatbook.desk.exporting import export_tables
from coatbook.desk.importing.files import Source, import_file
from coatbook.desk.importing.tables import TABLES
from coatbook.people.tables import Customer
from coatbook.store import chain
from coatbook.store.acts import Ask
from coatbook.store.book import Book
from coatbook.store.check import check
from coatbook.values import Refusal

Written = Callable[..., Path]

CUSTOMERS = "code,name,address\n" + "".join(f"c{n},Customer {n},{n} Road\n" for n in range(40))
AIRCRAFT = "on,code,maker,model,serial,mark,owner\n" + "".join(
    f"2026-04-01,a{n},Cessna,182T,{n},N{100 + n},c{n}\n" for n in range(40)
)


def bring(book: Book, table: str, path: Path) -> int | None:
    ask = Ask("import", "tester", dt.date(2026, 3, 2))
    return import_file(book, ask, Source(TABLES[table], path, book.currency)).result


def test_files_come_into_either_store(any_book: Book, file: Written, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(chain, "_IN_MEMORY", 30)
    monkeypatch.setattr(chain, "_LISTED", 100)
    assert bring(any_book, "customers", file(CUSTOMERS)) == 40
    assert bring(any_book, "aircraft", file(AIRCRAFT)) == 40
    assert bring(any_book, "aircraft", file(AIRCRAFT)) == 0
    assert check(any_book) == []


def test_a_refused_row_leaves_nothing_for_the_rows_after_it(any_book: Book, file: Written, tmp_path: Path) -> None:
    bring(any_book, "customers", file(CUSTOMERS))
    wrong = AIRCRAFT.replace("N103,c3", "N102,c3").replace("N105,c5", "N105,nobody") + "2026-04-01,a3,Cessna,182T,3,,\n"
    with pytest.raises(Refusal) as refusal:
        bring(any_book, "aircraft", file(wrong))
    lines = str(refusal.value).splitlines()
    assert [line.partition(":")[0] for line in lines[1:]] == [
        "rows.csv line 5, column mark",
        "rows.csv line 7, column owner",
    ]
    with any_book.read() as session:
        for table in (Airframe, Marking):
            assert session.scalar(select(func.count()).select_from(table)) == 0
        assert session.scalar(select(func.count()).select_from(Customer)) == 40
    assert bring(any_book, "aircraft", file(AIRCRAFT)) == 40  # and nothing is left locked
    export_tables(any_book, tmp_path / "out", comparable=True)
    assert (tmp_path / "out" / "airframe.csv").read_text().count("\n") == 41
