"""Corrected prices, counts, write-offs and returns: what is left, what it cost, and what the shop pays for."""

import datetime as dt

import pytest
from sqlalchemy import select

from coatbook.desk import striking
from coatbook.desk.closing import close_month
from coatbook.desk.telling_review import month_data
from coatbook.review.views import review_month
from coatbook.stock.tables import LotChange
from coatbook.store.book import Book
from coatbook.store.check import check
from coatbook.values import Refusal
from coatbook.values.days import Month
from desk.shopfloor import accounts, derived, do, strike, usd, use
from stock.shelf import buy, count, expire, give_back, left, lot, reprice, shelf

SHOP, SHELF, TO_PAY, WIP = "Cost of shop: materials", "Materials on the shelf", "Purchases, to pay", "Work in progress"


def months(book: Book) -> list[tuple[str, str]]:
    """Shop costs and journal profit of May to August 2026."""
    with book.read() as session:
        found = [
            month_data(review_month(session, Month(2026, number), dt.date(2026, 8, 20)), "USD")
            for number in (5, 6, 7, 8)
        ]
    return [(one["shop_costs"], one["journal_profit"]) for one in found]


def test_a_price_corrected_before_any_use(shop: Book) -> None:
    told = reprice(shop, "2026-05-04", "B-204", "56.00")
    assert told == (
        "Lot B-204 of Paint sealant cost 56.00, not 48.00: the 32 fl oz left are worth 8.00 more, and what is gone "
        "already cost 0.00 more, which is a cost of the shop in 2026-05."
    )
    assert left(shop) == {"B-204": ("32 fl oz", 5600)}
    assert left(shop, dt.date(2026, 5, 3)) == {"B-204": ("32 fl oz", 4800)}
    assert accounts(shop) == {SHELF: 5600, TO_PAY: -5600}


def test_a_price_corrected_after_a_use_is_a_difference_of_its_own_month(shop: Book) -> None:
    use(shop, "2026-05-02", "8 fl oz")  # 12.00, and it stays so
    told = reprice(shop, "2026-06-04", "B-204", "56.00")
    assert "the 24 fl oz left are worth 6.00 more, and what is gone already cost 2.00 more" in told
    assert left(shop) == {"B-204": ("24 fl oz", 4200)}
    assert accounts(shop) == {SHELF: 4200, TO_PAY: -5600, WIP: 1200, SHOP: 200}
    assert months(shop) == [("0.00", "0.00"), ("2.00", "-2.00"), ("0.00", "0.00"), ("0.00", "0.00")]
    use(shop, "2026-06-05", "8 fl oz")  # at 1.75 now
    use(shop, "2026-06-06", "16 fl oz")  # all that is left
    assert accounts(shop) == {TO_PAY: -5600, WIP: 1200 + 1400 + 2800, SHOP: 200}


def test_a_price_corrected_downward_gives_the_shop_something_back(shop: Book) -> None:
    use(shop, "2026-05-02", "32 fl oz")
    told = reprice(shop, "2026-06-04", "B-204", "40.00")
    assert "the 0 fl oz left are worth 0.00 more, and what is gone already cost 8.00 less" in told
    assert accounts(shop) == {TO_PAY: -4000, WIP: 4800, SHOP: -800}
    assert months(shop)[1] == ("-8.00", "8.00")


def test_a_price_of_a_third_leaves_no_cent_behind(shop: Book) -> None:
    buy(shop, "2026-05-01", "3 fl oz", "1.00", "T-3")
    expire(shop, "2026-05-01", "B-204", "to be out of the way")
    use(shop, "2026-05-02", "1 fl oz")  # 0.33
    reprice(shop, "2026-05-03", "T-3", "2.00")  # 2 of 3 are worth 1.33
    assert left(shop)["T-3"] == ("2 fl oz", 133)
    use(shop, "2026-05-04", "1 fl oz")  # 0.67
    use(shop, "2026-05-05", "1 fl oz")  # the rest
    assert left(shop)["T-3"] == ("0 fl oz", 0)
    assert accounts(shop)[WIP] == 33 + 67 + 66
    assert accounts(shop)[TO_PAY] == -4800 - 200


def test_an_estimated_price_is_estimated_until_it_is_known(shop: Book) -> None:
    buy(shop, "2026-05-01", "1 qt", "50.00", "B-301", estimated=True)
    assert lot(shop, "B-301").estimated
    told = reprice(shop, "2026-05-20", "sealant:b-301", "50.00")
    assert told.startswith("Lot B-301 of Paint sealant cost 50.00 as written:")
    assert not lot(shop, "B-301").estimated
    assert lot(shop, "B-301", dt.date(2026, 5, 19)).estimated
    with pytest.raises(Refusal, match=r"has cost 50\.00 all along: nothing to correct"):
        reprice(shop, "2026-05-21", "B-301", "50.00")
    strike(shop, "lot_change:1")
    assert lot(shop, "B-301").estimated


def test_of_two_purchases_with_one_label_the_estimated_one_is_repriced(shop: Book) -> None:
    buy(shop, "2026-05-01", "1 qt", "50.00", "B-204", estimated=True)
    reprice(shop, "2026-05-20", "B-204", "52.00")
    assert [one.whole_minor for one in shelf(shop).lots] == [4800, 5200]
    with pytest.raises(Refusal, match=r"was bought 2 times, each at its own price: name purchase:1 or purchase:2"):
        reprice(shop, "2026-05-20", "B-204", "53.00")
    reprice(shop, "2026-05-20", "purchase:1", "53.00")
    assert [one.whole_minor for one in shelf(shop).lots] == [5300, 5200]


def test_what_came_back_at_an_old_price_is_valued_at_the_new_one_by_repricing_again(shop: Book) -> None:
    wrong = use(shop, "2026-05-02", "16 fl oz")
    reprice(shop, "2026-05-04", "B-204", "64.00")
    told = do(shop, None, striking.strike, name=str(wrong), why="of another job").text
    assert "Note: lot B-204 got another price since; `coatbook material reprice purchase:1 64.00` values" in told
    assert left(shop) == {"B-204": ("32 fl oz", 3200 + 2400)}
    reprice(shop, "2026-05-04", "purchase:1", "64.00")
    assert left(shop) == {"B-204": ("32 fl oz", 6400)}
    assert accounts(shop) == {SHELF: 6400, TO_PAY: -6400}


def test_a_count_finds_less(shop: Book) -> None:
    buy(shop, "2026-05-01", "1 qt", "64.00", "B-301")
    told = count(shop, "2026-05-20", "30 fl oz")  # 32 of the old lot at 1.50, 2 of the next at 2.00
    assert told == (
        "Counted 30 fl oz of Paint sealant, the book had 64 fl oz: 34 fl oz are missing, 52.00, a cost of the shop."
    )
    assert left(shop) == {"B-204": ("0 fl oz", 0), "B-301": ("30 fl oz", 6000)}
    assert accounts(shop) == {SHELF: 6000, TO_PAY: -11200, SHOP: 5200}
    assert months(shop)[0] == ("52.00", "-52.00")


def test_a_count_finds_more_and_puts_it_where_it_came_from(shop: Book) -> None:
    use(shop, "2026-05-02", "20 fl oz")
    told = count(shop, "2026-05-20", "0.5 qt")
    assert told == (
        "Counted 16 fl oz of Paint sealant, the book had 12 fl oz: 4 fl oz more, 6.00 off the costs of the shop."
    )
    assert left(shop) == {"B-204": ("16 fl oz", 2400)}
    assert accounts(shop) == {SHELF: 2400, TO_PAY: -4800, WIP: 3000, SHOP: -600}
    use(shop, "2026-05-21", "16 fl oz")
    assert accounts(shop) == {TO_PAY: -4800, WIP: 5400, SHOP: -600}


def test_what_was_found_fills_lots_no_fuller_than_they_were_bought(shop: Book) -> None:
    buy(shop, "2026-05-01", "1 qt", "64.00", "B-301")
    use(shop, "2026-05-02", "40 fl oz")  # all of B-204, 8 of B-301
    count(shop, "2026-05-20", "34 fl oz")  # 8 to B-301, which is begun, 2 to B-204
    assert left(shop) == {"B-204": ("2 fl oz", 300), "B-301": ("32 fl oz", 6400)}


def test_a_count_of_one_lot_and_one_that_agrees(shop: Book) -> None:
    buy(shop, "2026-05-01", "1 qt", "64.00", "B-301")
    assert "of Paint sealant, lot B-301, the book had 32 fl oz" in count(shop, "2026-05-20", "31 fl oz", "b-301")
    assert left(shop) == {"B-204": ("32 fl oz", 4800), "B-301": ("31 fl oz", 6200)}
    before = derived(shop)
    assert count(shop, "2026-05-20", "63 fl oz") == "Counted 63 fl oz of Paint sealant: as the book says."
    assert derived(shop) == before


def test_a_count_of_an_earlier_day_leaves_later_uses_alone(shop: Book) -> None:
    use(shop, "2026-05-20", "20 fl oz")
    assert "the book had 32 fl oz: 2 fl oz are missing" in count(shop, "2026-05-10", "30 fl oz")
    assert left(shop) == {"B-204": ("10 fl oz", 1500)}
    with pytest.raises(Refusal, match="8 fl oz of Paint sealant that would be missing on 2026-05-11 stand as used aft"):
        count(shop, "2026-05-11", "12 fl oz")


def test_what_a_count_finds_later_is_not_there_before(shop: Book) -> None:
    use(shop, "2026-05-02", "20 fl oz")
    count(shop, "2026-05-20", "16 fl oz")
    with pytest.raises(Refusal, match="12 fl oz of Paint sealant were on hand on 2026-05-19, 13 fl oz are asked for"):
        use(shop, "2026-05-19", "13 fl oz")
    with pytest.raises(Refusal, match="a count found 4 fl oz in lot B-204 of Paint sealant after 2026-05-19"):
        expire(shop, "2026-05-19", "B-204", "froze")
    use(shop, "2026-05-20", "16 fl oz")
    assert left(shop) == {"B-204": ("0 fl oz", 0)}


def test_a_lot_too_old_is_written_off(shop: Book) -> None:
    buy(shop, "2026-05-01", "1 qt", "64.00", "B-301", expires=dt.date(2026, 6, 30))
    with pytest.raises(Refusal, match="may be used until 2026-06-30: say what makes it unfit with --why"):
        expire(shop, "2026-06-30", "B-301")
    assert expire(shop, "2026-07-01", "B-301") == (
        "Lot B-301 of Paint sealant: 32 fl oz written off, 64.00, a cost of the shop."
    )
    assert left(shop)["B-301"] == ("0 fl oz", 0)
    assert months(shop)[2] == ("64.00", "-64.00")
    with pytest.raises(Refusal, match="nothing is left of lot B-301"):
        expire(shop, "2026-07-01", "B-301")


def test_a_lot_without_a_last_day_is_unfit_for_a_reason(shop: Book) -> None:
    with pytest.raises(Refusal, match="has no last day on its label: say what makes it unfit with --why"):
        expire(shop, "2026-07-01", "B-204")
    expire(shop, "2026-07-01", "B-204", "froze in the van")
    assert accounts(shop) == {TO_PAY: -4800, SHOP: 4800}


@pytest.mark.parametrize(
    ("credit", "told", "cost"),
    [
        ("12.00", "credited 12.00 USD.", 0),
        ("10.00", "credited 10.00 USD; the shop's costs are 2.00 more.", 200),
        ("12.50", "credited 12.50 USD; the shop's costs are 0.50 less.", -50),
    ],
)
def test_what_goes_back_is_credited(shop: Book, credit: str, told: str, cost: int) -> None:
    assert give_back(shop, "2026-05-04", "B-204", "8 fl oz", credit) == (
        f"Back to Hillside Supply: 8 fl oz of Paint sealant, lot B-204, which cost 12.00; {told}"
    )
    assert left(shop) == {"B-204": ("24 fl oz", 3600)}
    expected = {SHELF: 3600, TO_PAY: usd(credit).minor - 4800, SHOP: cost}
    assert accounts(shop) == {account: minor for account, minor in expected.items() if minor}


def test_more_than_is_left_does_not_go_back(shop: Book) -> None:
    buy(shop, "2026-05-01", "1 pt", "30.00", "B-204")
    with pytest.raises(Refusal, match=r"32 fl oz and 16 fl oz are left .* \(name purchase:1 or purchase:2 to return"):
        give_back(shop, "2026-05-04", "B-204", "33 fl oz", "1.00")
    give_back(shop, "2026-05-04", "B-204", "20 fl oz", "30.00")
    give_back(shop, "2026-05-04", "B-204", "16 fl oz", "30.00")  # the first has 12 left
    assert [one.quanta for one in shelf(shop).lots if one.purchase == 2] == [0]


def test_what_was_brought_in_is_corrected_against_the_start(shop: Book) -> None:
    start = "Brought in at the start"
    buy(shop, "2026-05-01", "1 qt", "60.00", "OLD", brought_in=True, estimated=True)
    assert accounts(shop) == {SHELF: 10800, TO_PAY: -4800, start: -6000}
    reprice(shop, "2026-05-02", "OLD", "55.00")
    assert accounts(shop) == {SHELF: 10300, TO_PAY: -4800, start: -5500}
    give_back(shop, "2026-05-03", "OLD", "32 fl oz", "50.00")
    assert accounts(shop) == {SHELF: 4800, TO_PAY: 200, start: -5500, SHOP: 500}


WRONG = {
    "price": lambda book: reprice(book, "2026-06-20", "B-301", "99.99"),
    "less": lambda book: count(book, "2026-06-20", "17 fl oz"),
    "more": lambda book: count(book, "2026-06-20", "61 fl oz"),
    "expired": lambda book: expire(book, "2026-06-20", "B-301"),
    "return": lambda book: give_back(book, "2026-06-20", "B-204", "3 fl oz", "1.00"),
}


@pytest.fixture
def working(shop: Book) -> Book:
    """Two lots that were drawn from, one of them too old, in a job."""
    buy(shop, "2026-05-01", "1 qt", "64.01", "B-301", expires=dt.date(2026, 6, 1), estimated=True)
    use(shop, "2026-05-02", "7 fl oz")
    return shop


@pytest.mark.parametrize("kind", WRONG)
def test_struck_in_its_open_month_a_change_never_was(working: Book, kind: str) -> None:
    before = derived(working)
    WRONG[kind](working)
    assert derived(working) != before
    strike(working, "last")
    assert derived(working) == before
    assert check(working) == []


@pytest.mark.parametrize("kind", WRONG)
def test_struck_after_its_month_closed_a_change_is_undone_in_the_next(working: Book, kind: str) -> None:
    before = derived(working)
    WRONG[kind](working)
    written = derived(working)
    for number in (3, 4, 5, 6):
        do(working, None, close_month, month=Month(2026, number))
    june = derived(working, dt.date(2026, 6, 30))
    with working.read() as session:
        numbers = session.scalars(select(LotChange.id)).all()
    for number in numbers:
        strike(working, f"lot_change:{number}")
    assert derived(working, dt.date(2026, 6, 30)) == june
    after = derived(working)
    assert after["stock"] == before["stock"] != written["stock"]
    assert sum(int(usd(one["shop_costs"]).minor) for one in after["months"]) == 0
    balances = accounts(working)
    assert SHOP not in balances
    assert balances[SHELF] == shelf(working).value


def test_a_change_is_struck_only_while_nothing_came_after_it(shop: Book) -> None:
    reprice(shop, "2026-05-04", "B-204", "56.00")
    drawn = use(shop, "2026-05-05", "8 fl oz")
    before = derived(shop)
    with pytest.raises(
        Refusal,
        match=f"lot_change 1 cannot be struck: line {drawn} came after it in lot B-204; strike that first, or set "
        "right what is wrong with `coatbook material reprice purchase:1 PRICE`",
    ):
        strike(shop, "lot_change:1")
    assert derived(shop) == before
    strike(shop, drawn)
    count(shop, "2026-05-06", "30 fl oz")
    with pytest.raises(Refusal, match="lot_change 2 came after it"):
        strike(shop, "lot_change:1")
    strike(shop, "lot_change:2")
    strike(shop, "lot_change:1")
    assert left(shop) == {"B-204": ("32 fl oz", 4800)}


def test_a_purchase_that_was_changed_is_not_struck(shop: Book) -> None:
    count(shop, "2026-05-06", "30 fl oz")
    with pytest.raises(Refusal, match="lot 1 cannot be struck: lot_change 1 stands on it; strike that first"):
        strike(shop, "purchase:1")
    strike(shop, "lot_change:1")
    strike(shop, "purchase:1")
    assert left(shop) == {}
