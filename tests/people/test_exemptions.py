"""Exemptions from tax: where and when one holds, which two cannot stand together, and which end soon."""

import datetime as dt
from typing import Any

import pytest
from sqlalchemy import select

from coatbook.desk import striking
from coatbook.desk.papers import exemption_warnings
from coatbook.people.papers import add_exemption
from coatbook.people.tables import Customer
from coatbook.people.views import ExemptionView, exemption_of, exemptions, lies_in
from coatbook.store.book import Book
from coatbook.values import Refusal
from people.conftest import Do

TODAY = dt.date(2026, 8, 20)


def day(text: str) -> dt.date:
    return dt.date.fromisoformat(text)


def exemption(place: str, from_on: str, expires: str | None, **more: Any) -> dict[str, Any]:
    values = {"customer": "birch", "place": place, "reason": "resale", "certificate": "01-339"} | more
    return values | {"from_on": day(from_on), "expires": day(expires) if expires else None}


def found(book: Book, place: str, on: dt.date = TODAY, seen: dt.date = TODAY, who: str = "birch") -> int | None:
    with book.read() as session:
        customer = session.scalars(select(Customer.id).filter_by(code=who)).one()
        one = exemption_of(session, customer, place, on, seen)
        return one.id if one else None


@pytest.mark.parametrize(
    ("place", "wider", "inside"),
    [
        ("US-TX", "US-TX", True),
        ("US-TX-AUSTIN", "US-TX", True),
        ("US-TX-AUSTIN", "US", True),
        ("US", "US-TX", False),
        ("US-TXA", "US-TX", False),
        ("US-NM", "US-TX", False),
    ],
)
def test_a_place_lies_in_a_wider_one(place: str, wider: str, inside: bool) -> None:
    assert lies_in(place, wider) is inside


def test_it_holds_at_its_place_and_all_that_lies_in_it(any_book: Book, do: Do) -> None:
    do(add_exemption, **exemption("us-tx", "2026-01-01", None))
    assert found(any_book, "US-TX") == found(any_book, "US-TX-AUSTIN") == 1
    assert found(any_book, "US") is found(any_book, "US-NM") is found(any_book, "US-TXA") is None
    assert found(any_book, "US-TX", who="alder") is None


def test_it_holds_from_its_first_day_through_its_last(any_book: Book, do: Do) -> None:
    do(add_exemption, **exemption("US-TX", "2026-03-01", "2026-06-30"))
    for on, holds in (("2026-02-28", None), ("2026-03-01", 1), ("2026-06-30", 1), ("2026-07-01", None)):
        assert found(any_book, "US-TX", day(on)) == holds


def test_it_holds_for_who_looks_after_it_was_written(any_book: Book, do: Do) -> None:
    do(add_exemption, day="2026-08-01", **exemption("US-TX", "2026-03-01", None))
    assert found(any_book, "US-TX", day("2026-05-01"), seen=day("2026-07-31")) is None
    assert found(any_book, "US-TX", day("2026-05-01"), seen=day("2026-08-01")) == 1


def test_a_struck_one_does_not_hold_and_makes_room(any_book: Book, do: Do) -> None:
    do(add_exemption, **exemption("US-TX", "2026-01-01", None))
    do(striking.strike, name="exemption:1", why="the certificate ends in June")
    assert found(any_book, "US-TX") is None
    do(add_exemption, **exemption("US-TX", "2026-01-01", "2026-06-30"))
    assert found(any_book, "US-TX", day("2026-06-30")) == 2


OVERLAPS = [
    ("US-TX", "2026-06-30", None),  # its last day
    ("US-TX", "2025-01-01", "2026-01-01"),  # its first day
    ("US-TX", "2025-01-01", None),
    ("US-TX", "2026-02-01", "2026-02-02"),
    ("US-TX-AUSTIN", "2026-05-01", "2026-12-31"),  # lies in it
    ("US", "2026-05-01", "2026-12-31"),  # it lies in that
]


@pytest.mark.parametrize(("place", "from_on", "expires"), OVERLAPS)
def test_two_at_one_place_on_one_day_are_refused(
    any_book: Book, do: Do, place: str, from_on: str, expires: str | None
) -> None:
    do(add_exemption, **exemption("US-TX", "2026-01-01", "2026-06-30"))
    with pytest.raises(
        Refusal, match=r"is exempt in US-TX from 2026-01-01 until 2026-06-30 already: give days outside"
    ):
        do(add_exemption, **exemption(place, from_on, expires))
    with any_book.read() as session:
        assert len(exemptions(session, TODAY)) == 1


def test_those_beside_each_other_stand_together(any_book: Book, do: Do) -> None:
    do(add_exemption, **exemption("US-TX", "2026-01-01", "2026-06-30"))
    do(add_exemption, **exemption("US-TX", "2026-07-01", None))
    do(add_exemption, **exemption("US-NM", "2026-01-01", None))
    do(add_exemption, **exemption("US-TX", "2026-01-01", None, customer="alder"))
    with any_book.read() as session:
        told = [(one.customer, one.place, one.id) for one in exemptions(session, TODAY)]
        assert told == [("alder", "US-TX", 4), ("birch", "US-NM", 3), ("birch", "US-TX", 1), ("birch", "US-TX", 2)]
        assert exemptions(session, TODAY, "Alder") == (
            ExemptionView(4, "alder", "Jo Alder", "US-TX", "resale", "01-339", day("2026-01-01"), None),
        )


def warned(book: Book, on: dt.date = TODAY) -> tuple[str, ...]:
    with book.read() as session:
        return exemption_warnings(session, on, TODAY)


def test_one_that_ends_within_thirty_days_is_named(any_book: Book, do: Do) -> None:
    do(add_exemption, **exemption("US-TX", "2026-01-01", "2026-09-19"))
    do(add_exemption, **exemption("US-TX", "2026-01-01", "2026-09-20", customer="alder"))
    do(add_exemption, **exemption("US-NM", "2026-01-01", "2026-08-19"))
    assert warned(any_book) == (
        (
            "The exemption of Birch Flying Club in US-TX (certificate 01-339) expires in 30 days, on 2026-09-19, "
            "and tax is charged after that: ask for a new certificate and write it with "
            "`coatbook tax exempt birch US-TX …`."
        ),
    )


@pytest.mark.parametrize(
    ("place", "from_on", "quiet"),
    [
        ("US-TX", "2026-09-11", True),
        ("US", "2026-09-11", True),
        ("US-TX-AUSTIN", "2026-09-11", False),
        ("US-TX", "2026-09-12", False),
    ],
)
def test_one_that_is_followed_is_not(any_book: Book, do: Do, place: str, from_on: str, quiet: bool) -> None:
    do(add_exemption, **exemption("US-TX", "2026-01-01", "2026-09-10"))
    do(add_exemption, **exemption(place, from_on, None))
    assert (warned(any_book) == ()) is quiet
