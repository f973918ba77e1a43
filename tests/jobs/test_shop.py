"""The shop's own hours and spending: costs of the month, of no job, and the journal and the review agree on them."""

import datetime as dt
import json
from collections.abc import Callable

import pytest

from coatbook.billing import journal
from coatbook.jobs import shop as shops
from coatbook.jobs.tables import Entry
from coatbook.jobs.views import diary
from coatbook.review.views import review_month
from coatbook.store.book import Book
from coatbook.values.days import Month
from desk.shopfloor import TODAY, do, expense, quantity, strike, usd, washed

MAY = Month(2026, 5)
Run = Callable[..., str]


def rent(book: Book, day: str = "2026-05-04", amount: str = "620.00") -> int:
    values = {"what": "May", "category": "Rent", "payee": "North Field Hangars", "paid_from": "checking"}
    return int(do(book, day, shops.log_shop_expense, amount=usd(amount), **values).result)


def clean(book: Book, worker: str, day: str = "2026-05-05") -> int:
    return int(do(book, day, shops.log_shop_hours, worker=worker, hours=quantity("2 h"), note="cleaned").result)


def journal_lines(book: Book) -> list[tuple[str, int]]:
    with book.read() as session:
        found = journal.postings(session, TODAY)
    return [(line.account, line.minor) for line in found if line.job is None and line.day >= dt.date(2026, 5, 1)]


def test_they_stand_in_the_journal_as_costs_of_the_shop(shop: Book) -> None:
    rent(shop)
    clean(shop, "kim")
    clean(shop, "sam")  # the owner's hours are memo only
    assert journal_lines(shop) == [
        ("Cost of shop: expenses", 62000),
        ("Expenses, to pay", -62000),
        ("Cost of shop: labor", 5600),
        ("Wages, to pay", -5600),
    ]


def test_a_month_counts_them_apart_from_its_jobs(shop: Book) -> None:
    job, _ = washed(shop, "2026-05-06")
    expense(shop, "2026-05-06", "10.00", job)
    rent(shop)
    clean(shop, "kim")
    with shop.read() as session:
        month = review_month(session, MAY, TODAY)
    assert month.shop_costs == 67600
    assert month.figures.cost == 1000
    assert month.figures.overhead == 0  # shop hours bear none
    assert month.journal_profit == month.figures.profit_before_owner - month.shop_costs == 15000 - 1000 - 67600


def test_a_struck_one_never_was(shop: Book) -> None:
    strike(shop, str(rent(shop)))
    with shop.read() as session:
        assert review_month(session, MAY, TODAY).shop_costs == 0


def test_a_line_keeps_category_payee_and_where_it_was_paid_from(shop: Book) -> None:
    line = rent(shop)
    with shop.read() as session:
        row = session.get_one(Entry, line)
        assert (row.job, row.category, row.payee, row.paid_from) == (None, "rent", "North Field Hangars", "checking")
        (told,) = diary(session, None, TODAY)
    assert told.what == "rent, May, to North Field Hangars, from checking"
    hours = clean(shop, "kim")
    with shop.read() as session:
        assert session.get_one(Entry, hours).overhead is None


def test_as_typed(furnished: object, coatbook: Run) -> None:
    told = coatbook("log", "hours", "shop", "kim", "2h", "--note", "Cleaned the shop")
    assert told == "Line 1, the shop: 2 h of Kim Soto, 56.00.\n"
    typed = ("--category", "rent", "--payee", "North Field", "--paid-from", "checking")
    told = coatbook("log", "expense", "Shop", "120.00", "August", *typed)
    assert told == "Line 2, the shop: 120.00 USD for August (rent), to North Field, from checking.\n"
    told = coatbook("log", "expense", "1", "35.00", "day fee", "--payee", "North Field", "--paid-from", "card")
    assert told == "Line 3, job 1: 35.00 USD for day fee, to North Field, from card.\n"
    assert [row["line"] for row in json.loads(coatbook("log", "list", "shop", "--json"))] == [1, 2]
    assert "rent, August, to North Field, from checking" in coatbook("log", "list", "shop")
    assert "day fee" in coatbook("log", "list", "1")
    assert "day fee" in coatbook("job", "show", "1")
    month = json.loads(coatbook("review", "month", "2026-08", "--json"))
    assert (month["shop_costs"], month["journal_profit"]) == ("176.00", "-176.00")


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        (("hours", "shop", "kim", "1h", "--step", "1"), "the shop's own hours are on no step"),
        (("hours", "hangar", "kim", "1h"), "'hangar' is neither a job's number nor the word shop"),
        (("expense", "shop", "5.00", "tape"), "the shop's spending has a category"),
        (("expense", "1", "5.00", "tape", "--category", "tools"), "only the shop's own spending has a category"),
        (("hours", "shop", "kim", "25h"), "25 h is more than a day has"),
    ],
)
def test_misuse(typed: tuple[str, ...], says: str, furnished: object, refused: Run) -> None:
    assert says in refused("log", *typed, code=2)
