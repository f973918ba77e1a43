"""The shelf on either store: each change once, and what is read of it."""

import datetime as dt

from coatbook.billing import journal
from coatbook.desk import tracing
from coatbook.people import actions as people
from coatbook.stock import actions
from coatbook.stock.views import material, supplied_labels
from coatbook.store.book import Book
from coatbook.store.check import check
from desk.shopfloor import TODAY, do, quantity, strike
from stock.shelf import buy, count, expire, give_back, left, reprice


def test_each_change_once(any_book: Book) -> None:
    book = any_book
    do(book, "2026-03-02", people.add_customer, code="alder", name="Jo Alder", address="12 Field Lane")
    do(book, "2026-03-02", actions.add_material, code="sealant", name="Paint sealant", unit="fl oz")
    buy(book, "2026-03-02", "1 qt", "48.00", "B-204")
    buy(book, "2026-03-03", "1 qt", "60.00", "Ä-301", expires=dt.date(2026, 6, 30), estimated=True, tax_paid=False)
    buy(book, "2026-03-04", "1 pt", None, "A-7", supplied_by="alder")
    reprice(book, "2026-05-01", "Ä-301", "64.00")
    count(book, "2026-05-02", "62 fl oz")
    give_back(book, "2026-05-03", "b-204", "10 fl oz", "15.00")
    expire(book, "2026-07-01", "sealant:Ä-301")
    assert left(book) == {"B-204": ("20 fl oz", 3000), "Ä-301": ("0 fl oz", 0), "A-7": ("16 fl oz", 0)}
    assert left(book, dt.date(2026, 5, 2))["B-204"] == ("30 fl oz", 4500)
    balances: dict[str, int] = {}
    with book.read() as session:
        for line in journal.postings(session, TODAY):
            balances[line.account] = balances.get(line.account, 0) + line.minor
        assert material(session, "sealant", TODAY).usable.same(quantity("20 fl oz"))
        assert supplied_labels(session, [1], TODAY) == {(1, "a-7")}
        assert [lot.label for lot in tracing.trace(session, "B-204", TODAY).lots] == ["B-204"]
    assert balances == {
        "Materials on the shelf": 3000,
        "Purchases, to pay": 1500 - 4800 - 6400,
        "Cost of shop: materials": 300 + 6400,
    }
    strike(book, "last")
    assert left(book)["Ä-301"] == ("32 fl oz", 6400)
    assert check(book) == []
