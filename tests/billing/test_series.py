"""Document numbers: the shop's own pattern, without a gap, in the order of issue."""

import datetime as dt

import pytest

from coatbook.billing.actions import number_in, set_series
from coatbook.billing.views import invoices, series
from coatbook.desk import invoicing
from coatbook.store.book import Book
from coatbook.values import Misuse, Refusal
from desk.shopfloor import TODAY, ask, do, hand_over, issue, new_job, washed


def numbers(book: Book) -> list[str]:
    with book.read() as session:
        return [one.record.number for one in invoices(session, TODAY)]


@pytest.mark.parametrize(
    ("pattern", "n", "number"),
    [
        ("{year}-{n:4}", 7, "2026-0007"),
        ("{n}", 7, "7"),
        ("{n:3}", 12345, "12345"),
        ("INV/{year}/{n:2}-A", 7, "INV/2026/07-A"),
        ("L{n:9}", 10**9 - 1, "L999999999"),
    ],
)
def test_a_number_by_its_pattern(pattern: str, n: int, number: str) -> None:
    assert number_in(pattern, n, dt.date(2026, 12, 31)) == number


@pytest.mark.parametrize("pattern", ["{n}", "{year}{n:1}", "A-{year}/{n:4}", "{n:9}B"])
def test_patterns_that_number(book: Book, pattern: str) -> None:
    do(book, None, set_series, code="invoice", pattern=pattern, first=1)
    with book.read() as session:
        assert series(session) == (("invoice", pattern, 1),)


@pytest.mark.parametrize(
    "pattern",
    ["", "{year}", "INV", "{n}{n}", "{n:0}", "{n:10}", "{n}{year}", "{month}-{n}", "№{n}", "a.{n}", "{n:x}"],
)
def test_patterns_that_number_nothing_are_refused(book: Book, pattern: str) -> None:
    with pytest.raises(Misuse):
        do(book, None, set_series, code="invoice", pattern=pattern)


@pytest.mark.parametrize("first", [0, -1, 10**9 + 1])
def test_first_numbers_that_are_none_are_refused(book: Book, first: int) -> None:
    with pytest.raises(Misuse, match="must lie between 1 and 1000000000"):
        do(book, None, set_series, code="invoice", pattern="{n}", first=first)


def test_numbers_go_on_without_a_gap_from_the_first(shop: Book) -> None:
    do(shop, "2026-04-01", set_series, code="invoice", pattern="{n:3}", first=98)
    issued = [washed(shop, day)[1] for day in ("2026-04-02", "2026-04-02", "2026-04-09")]
    assert issued == numbers(shop) == ["098", "099", "100"]


def test_a_refused_or_tried_issue_takes_no_number(shop: Book) -> None:
    job = new_job(shop, "2026-04-01", ("wash", ()))
    with pytest.raises(Refusal, match="is not handed over yet"):
        issue(shop, "2026-04-01", job)
    hand_over(shop, "2026-04-01", job)
    shop.do(ask("2026-04-01", dry_run=True), invoicing.issue, job=job)
    assert numbers(shop) == []
    assert issue(shop, "2026-04-01", job) == "2026-0001"


def test_no_number_is_dated_before_the_one_before_it(shop: Book) -> None:
    washed(shop, "2026-04-09")
    job = new_job(shop, "2026-04-01", ("wash", ()))
    hand_over(shop, "2026-04-01", job)
    with pytest.raises(Refusal, match="a document on 2026-04-08 would come before"):
        issue(shop, "2026-04-08", job)
    assert issue(shop, "2026-04-09", job) == "2026-0002"


def test_a_series_stands_once_it_has_numbered(shop: Book) -> None:
    washed(shop, "2026-04-09")
    with pytest.raises(Refusal, match="must go on without a gap as they are"):
        do(shop, None, set_series, code="invoice", pattern="{n}", first=1)
