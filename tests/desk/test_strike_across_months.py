"""Striking a line of a closed month says from when the strike counts, and that the month keeps the line."""

from collections.abc import Callable

import pytest

from coatbook.store.book import Book
from coatbook.values.days import Month
from desk.shopfloor import close_through, expense

Command = Callable[..., str]


@pytest.fixture
def closed(shop: Book) -> Book:
    """A book with an expense in June and one in July, closed through June."""
    expense(shop, "2026-06-20", "12.00")
    expense(shop, "2026-07-02", "13.00")
    close_through(shop, Month(2026, 6))
    return shop


def test_across_a_closed_month_it_says_what_counts_from_when(closed: Book, coatbook: Command) -> None:
    assert coatbook("strike", 1, "--why", "the hangar was free") == (
        "Struck entry 1 of 2026-06-20: the hangar was free.\n"
        "2026-06 is closed and keeps the line as it was handed out; the strike counts from 2026-07-01, the first open "
        "day.\n"
    )


def test_in_an_open_month_it_says_no_more_than_that_it_is_struck(closed: Book, coatbook: Command) -> None:
    assert coatbook("strike", 2, "--why", "the hangar was free") == (
        "Struck entry 2 of 2026-07-02: the hangar was free.\n"
    )
