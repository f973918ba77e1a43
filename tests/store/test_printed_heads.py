"""`book check` compares the head that an invoice prints with the chain's, on either store."""

from coatbook.desk.checking import check_book
from coatbook.store.book import Book
from store.raw import Raw


def test_a_whole_season(season_book: Book) -> None:
    assert check_book(season_book) == []


def test_another_head_in_the_record(season_book: Book, raw: Raw) -> None:
    raw.unguard("document")
    raw.run("""UPDATE document SET record = replace(record, '"head":"', '"head":"x') WHERE id = 1""")
    found = [one for one in check_book(season_book) if one.kind == "document"]
    assert [one.where for one in found] == ["document 1"]
    assert found[0].what.startswith("invoice 2026-0001 prints the head x")
