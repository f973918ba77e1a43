"""What is asked about first says why, and only what is true of it."""

import json
from collections.abc import Callable

import pytest

from coatbook.store.book import Book
from desk.shopfloor import hand_over, new_job, washed

Command = Callable[..., str]


@pytest.fixture
def shop(furnished: object, book: Book) -> Book:
    return book


def test_money_that_comes_in(shop: Book, refused: Command) -> None:
    _, number = washed(shop, "2026-04-01")
    told = refused("payment", "take", "alder", "10.00", "--invoice", number)
    assert told.endswith(
        "coatbook: money that comes in is asked about first: give --yes to do it, or --dry-run to look only"
    )
    assert "taken back" not in told


def test_a_month(shop: Book, refused: Command) -> None:
    told = refused("book", "close", "2026-03")
    assert told.endswith(
        "coatbook: in a month that is closed nothing takes a date any more: "
        "give --yes to do it, or --dry-run to look only"
    )


def test_an_invoice(shop: Book, refused: Command) -> None:
    job = new_job(shop, "2026-04-01", ("wash", ()))
    hand_over(shop, "2026-04-01", job)
    told = refused("invoice", "issue", job)
    assert told.endswith(
        "coatbook: an invoice that is issued stands for good: give --yes to do it, or --dry-run to look only"
    )


def test_what_may_be_taken_back_can_be(shop: Book, coatbook: Command) -> None:
    _, number = washed(shop, "2026-04-01")
    coatbook("payment", "take", "alder", "10.00", "--invoice", number, "--yes")
    coatbook("strike", "payment:1", "--why", "another customer's")
    assert json.loads(coatbook("payment", "list", "--json")) == []


def test_a_message_no_book_can_number(refused: Command) -> None:
    for number in (2**63, 10**30, -(10**30)):
        told = refused("remind", "settle", "--sent", "--", number)
        assert told == "coatbook: a number that was given is larger than a book can hold: check its digits"
    assert "there is no message 7" in refused("remind", "settle", "7", "--sent")


NUMBERS = [
    ("job", "show", "{}"),
    ("job", "plan", "{}", "wash"),
    ("job", "plan", "1", "wash", "--passes", "{}"),
    ("job", "plan", "1", "wash", "--drop", "{}"),
    ("job", "open", "skylane", "mesa", "x", "--number", "{}"),
    ("job", "open", "skylane", "mesa", "x", "--rework-of", "{}", "--cause", "ours"),
    ("job", "handover", "{}", "--to", "Jo"),
    ("log", "hours", "1", "sam", "1h", "--step", "{}"),
    ("log", "hours", "{}", "sam", "1h"),
    ("log", "mask", "1", "on", "static port", "{}"),
    ("log", "coat", "1", "sealant", "left wing", "--lot", "B-204", "--layer", "{}"),
    ("review", "job", "{}"),
    ("calc", "thickness", "--job", "{}"),
    ("invoice", "issue", "{}", "--yes"),
    ("aircraft", "add", "two", "--maker", "C", "--model", "M", "--serial", "2", "--owner", "alder", "--year", "{}"),
    ("material", "terms", "sealant", "x", "--every", "6 months", "--grace", "{}"),
    ("material", "terms", "sealant", "x", "--every", "6 months", "--opens-before", "{}"),
    ("material", "terms", "sealant", "x", "--every", "6 months", "--first-after", "{}"),
    ("business", "edit", "--net-days", "{}"),
    ("business", "series", "invoice", "--pattern", "{{n}}", "--first", "{}"),
    ("strike", "{}", "--why", "x"),
    ("strike", "payment:{}", "--why", "x"),
    ("remind", "settle", "{}", "--sent"),
]


@pytest.mark.parametrize("words", NUMBERS, ids=" ".join)
def test_a_number_beyond_64_bits_is_refused_in_a_sentence(
    words: tuple[str, ...], furnished: object, command: Callable[..., tuple[int, str, str]]
) -> None:
    for number in (2**63, 10**30):
        code, out, err = command(*(word.format(number) for word in words))
        assert code in (1, 2)
        assert out == ""
        assert err.startswith("coatbook: ")
