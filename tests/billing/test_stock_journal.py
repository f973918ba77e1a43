"""Which lines of the journal a purchase that was brought in, and each change of a lot, makes; entry by entry."""

import datetime as dt

import pytest

from coatbook.billing import journal, moves
from coatbook.desk.closing import close_month
from coatbook.store.book import Book
from coatbook.values.days import Month
from desk.shopfloor import TODAY, do, strike, use
from stock.shelf import buy, count, expire, give_back, reprice

SHELF, TO_PAY, SHOP = "Materials on the shelf", "Purchases, to pay", "Cost of shop: materials"
START = "Brought in at the start"
Lines = list[tuple[str, str, str, int]]


def lines(book: Book, since: str = "2026-05-01", on: dt.date = TODAY) -> Lines:
    """(day, entry, account, debit or minus credit) of each line since a day."""
    with book.read() as session:
        found = journal.postings(session, on)
    return [(str(line.day), line.entry, line.account, line.minor) for line in found if str(line.day) >= since]


def change(day: str, *accounts: tuple[str, int], entry: str = "lot change 1") -> Lines:
    return [(day, entry, account, minor) for account, minor in accounts]


def test_what_was_on_the_shelf_when_the_book_began_is_owed_to_nobody(shop: Book) -> None:
    buy(shop, "2026-05-04", "1 qt", "40.00", "OLD", brought_in=True)
    assert lines(shop) == change("2026-05-04", (SHELF, 4000), (START, -4000), entry="purchase 2")


def test_what_a_customer_supplied_has_no_line(shop: Book) -> None:
    buy(shop, "2026-05-04", "1 qt", None, "A-7", supplied_by="alder")
    count(shop, "2026-05-05", "20 fl oz", "A-7")
    assert lines(shop) == []


@pytest.mark.parametrize(
    ("price", "accounts"),
    [
        ("64.00", ((SHELF, 1200), (SHOP, 400), (TO_PAY, -1600))),  # 24 of 32 are left
        ("40.00", ((SHELF, -600), (SHOP, -200), (TO_PAY, 800))),
    ],
)
def test_a_corrected_price(shop: Book, price: str, accounts: tuple[tuple[str, int], ...]) -> None:
    use(shop, "2026-04-02", "8 fl oz")
    reprice(shop, "2026-05-04", "B-204", price)
    assert lines(shop) == change("2026-05-04", *accounts)


def test_a_corrected_price_of_what_was_brought_in(shop: Book) -> None:
    buy(shop, "2026-04-04", "1 qt", "40.00", "OLD", brought_in=True)
    reprice(shop, "2026-05-04", "OLD", "44.00")
    assert lines(shop) == change("2026-05-04", (SHELF, 400), (START, -400))


def test_counts(shop: Book) -> None:
    count(shop, "2026-05-04", "28 fl oz")
    count(shop, "2026-05-05", "30 fl oz")
    assert lines(shop) == [
        *change("2026-05-04", (SHELF, -600), (SHOP, 600)),
        *change("2026-05-05", (SHELF, 300), (SHOP, -300), entry="lot change 2"),
    ]


def test_a_write_off(shop: Book) -> None:
    expire(shop, "2026-05-04", "B-204", "froze")
    assert lines(shop) == change("2026-05-04", (SHELF, -4800), (SHOP, 4800))


def test_a_return(shop: Book) -> None:
    give_back(shop, "2026-05-04", "B-204", "16 fl oz", "20.00")
    assert lines(shop) == change("2026-05-04", (SHELF, -2400), (SHOP, 400), (TO_PAY, 2000))


def test_a_change_struck_after_its_month_closed(shop: Book) -> None:
    count(shop, "2026-05-04", "28 fl oz")
    for number in (3, 4, 5):
        do(shop, None, close_month, month=Month(2026, number))
    strike(shop, "lot_change:1")
    assert lines(shop, on=dt.date(2026, 5, 31)) == change("2026-05-04", (SHELF, -600), (SHOP, 600))
    assert lines(shop, "2026-06-01") == change("2026-06-01", (SHELF, 600), (SHOP, -600), entry="lot change 1 struck")


def test_they_are_costs_of_the_shop_and_of_no_job(shop: Book) -> None:
    use(shop, "2026-05-02", "8 fl oz")
    count(shop, "2026-05-04", "20 fl oz")
    with shop.read() as session:
        costs = [cost for cost in moves.costs(session, TODAY) if cost.kind == moves.MATERIALS]
        of_the_job = moves.costs(session, TODAY, job=1)
    assert [(cost.job is None, cost.minor, cost.text) for cost in costs] == [
        (False, 1200, "Paint sealant"),
        (True, 600, "Paint sealant, lot B-204: count"),
    ]
    assert [cost.minor for cost in of_the_job] == [1200]
