"""Months close in order, after their last day; nothing takes a date inside one; only the latest reopens."""

import datetime as dt
import hashlib
from collections.abc import Callable
from typing import Any

import pytest
from sqlalchemy import select

from coatbook.billing import journal
from coatbook.billing.actions import set_price, set_tax_rate, take_payment
from coatbook.desk import closing, invoicing
from coatbook.desk.opening import open_book
from coatbook.jobs import actions as jobs
from coatbook.jobs import diary
from coatbook.people import actions as people
from coatbook.stock import actions as stock
from coatbook.store.book import Book
from coatbook.store.clock import Clock
from coatbook.store.closings import reopen
from coatbook.store.tables import Act, Closing
from coatbook.values import Refusal
from coatbook.values.days import Month
from store.season import AUGUST, INVOICE, JULY, JUNE, TODAY, do, quantity, usd

Command = Callable[..., tuple[int, str, str]]
MAY = Month(2026, 5)


def close(book: Book, month: Month) -> None:
    do(book, None, closing.close_month, month=month)


def take_back(book: Book, month: Month) -> None:
    do(book, None, reopen, month=month, why="an expense was forgotten")


def closings(book: Book) -> list[Closing]:
    with book.read() as session:
        return list(session.scalars(select(Closing).order_by(Closing.id)))


def acts(book: Book) -> int:
    with book.read() as session:
        return len(session.scalars(select(Act.id)).all())


def test_a_closing_keeps_the_journal_as_bytes_and_hash(season_book: Book) -> None:
    (june,) = closings(season_book)
    assert (june.month, june.on_day) == ("2026-06", TODAY)
    assert hashlib.sha256(june.journal).hexdigest() == june.sha256
    assert june.journal.startswith(b"date,entry,account,debit,credit,document,job,text\r\n2026-06-03,purchase 1,")


def test_the_kept_bytes_are_handed_out_whatever_would_be_drawn_today(
    season_book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    (june,) = closings(season_book)
    monkeypatch.setattr(journal, "as_csv", lambda *_: b"drawn by a later program")
    assert closing.journal_of(season_book, JUNE) == june.journal
    assert closing.journal_of(season_book, JULY) == b"drawn by a later program"


def test_an_exported_journal_is_the_kept_one(season_book: Book, season_where: str, command_on: Command) -> None:
    (june,) = closings(season_book)
    code, out, err = command_on(season_where, "export", "journal", "2026-06")
    assert (code, out.encode(), err) == (0, june.journal, "")


def test_months_close_in_order(season_book: Book) -> None:
    before = acts(season_book)
    for month, told in (
        (AUGUST, "2026-08 is not over: close it after 2026-08-31"),
        (JUNE, f"2026-06 is closed since {TODAY}: the next to close is 2026-07"),
        (MAY, "months close in order: after 2026-06 comes 2026-07"),
    ):
        with pytest.raises(Refusal, match=told):
            close(season_book, month)
    assert acts(season_book) == before
    close(season_book, JULY)


def test_a_month_closes_after_its_last_day(season_where: str) -> None:
    for today, closes in ((JULY.last, False), (AUGUST.first, True)):
        book = open_book(season_where, Clock(today))
        if closes:
            close(book, JULY)
        else:
            with pytest.raises(Refusal, match="2026-07 is not over: close it after 2026-07-31"):
                close(book, JULY)
        book.close()


def test_only_the_latest_reopens(season_book: Book) -> None:
    close(season_book, JULY)
    for month, told in ((JUNE, "the latest closed month is 2026-07"), (AUGUST, "the latest closed month is 2026-07")):
        with pytest.raises(Refusal, match=told):
            take_back(season_book, month)
    take_back(season_book, JULY)
    with pytest.raises(Refusal, match="2026-07 cannot be reopened: the latest closed month is 2026-06"):
        take_back(season_book, JULY)
    take_back(season_book, JUNE)
    with pytest.raises(Refusal, match="2026-06 cannot be reopened: no month is closed"):
        take_back(season_book, JUNE)


def test_a_reopened_month_closes_anew_and_both_closings_stand(season_book: Book) -> None:
    take_back(season_book, JUNE)
    do(season_book, "2026-06-25", stock.buy, **BOUGHT)
    close(season_book, JUNE)
    first, second = closings(season_book)
    assert (first.struck_on, first.struck_why) == (TODAY, "an expense was forgotten")
    assert second.struck_on is None
    assert len(second.journal.splitlines()) == len(first.journal.splitlines()) + 2
    assert closing.journal_of(season_book, JUNE) == second.journal


BOUGHT = {
    "code": "sealant",
    "quantity": quantity("1 fl oz"),
    "cost": usd("2.00"),
    "supplier": "Hillside Supply",
    "label": "B-9",
}
DATED: dict[str, tuple[Callable[..., Any], dict[str, Any]]] = {
    "a purchase": (stock.buy, BOUGHT),
    "a payment": (
        take_payment,
        {"customer": "hill", "amount": usd("1.00"), "method": "check", "invoices": [INVOICE]},
    ),
    "an expense": (diary.log_expense, {"job": 1, "amount": usd("1.00"), "what": "fee"}),
    "an invoice": (invoicing.issue, {"job": 1}),
    "a job": (jobs.open_job, {"aircraft": "archer", "site": "mesa", "asked_for": "a wash"}),
    "a rate": (people.set_worker_rate, {"code": "lee", "rate": usd("30.00")}),
    "a price": (set_price, {"service": "wash", "amount": usd("200.00"), "basis": "job"}),
    "a tax rate": (
        set_tax_rate,
        {"place": "US-TX", "kind": "labor", "percent": "7", "name": "Sales tax"},
    ),
    "terms": (stock.add_terms, {"code": "sealant", "item": "inspection", "every": 12, "per": "month"}),
}


def test_nothing_takes_a_date_inside_a_closed_month(season_book: Book) -> None:
    before = acts(season_book)
    for action, values in DATED.values():
        for day in (JUNE.last, JUNE.first, MAY.last):  # what came before the first closed month is closed with it
            with pytest.raises(Refusal):
                do(season_book, day, action, **values)
    assert acts(season_book) == before


def test_nothing_that_is_dated_reaches_back_into_a_closed_month(season_book: Book) -> None:
    before = acts(season_book)
    for what in ("a rate", "a price", "a tax rate", "terms"):
        action, values = DATED[what]
        with pytest.raises(Refusal, match="is dated 2026-06-30, but 2026-06 is closed"):
            do(season_book, None, action, from_on=JUNE.last, **values)
        assert acts(season_book) == before
        do(season_book, None, action, from_on=JULY.first, **values)
        before += 1


def test_the_first_open_day_is_open(season_book: Book) -> None:
    do(season_book, JULY.first, stock.buy, **BOUGHT)


def test_by_commands(season_where: str, command_on: Command) -> None:
    code, out, err = command_on(season_where, "book", "close", "2026-07")
    assert (code, out) == (1, "")
    assert err.endswith(
        "coatbook: in a month that is closed nothing takes a date any more: "
        "give --yes to do it, or --dry-run to look only\n"
    )
    assert command_on(season_where, "book", "close", "2026-07", "--dry-run")[0] == 0
    assert command_on(season_where, "book", "info")[1].splitlines()[0].endswith("closed through 2026-06-30.")
    code, out, _ = command_on(season_where, "book", "close", "2026-07", "--yes")
    assert (code, out.startswith("2026-07 is closed; its journal has ")) == (0, True)
    code, out, _ = command_on(season_where, "book", "reopen", "2026-07", "--why", "an expense was forgotten")
    assert (code, out) == (0, "2026-07 is open again: close it anew when it is right.\n")
    code, out, err = command_on(season_where, "book", "reopen", "2026-05", "--why", "x")
    assert (code, out) == (1, "")
    assert err == "coatbook: 2026-05 cannot be reopened: the latest closed month is 2026-06\n"


def test_a_clock_set_back_changes_no_closed_month(season_where: str) -> None:
    """Today may come from a clock that is wrong: what is closed stays closed by its own date."""
    book = open_book(season_where, Clock(dt.date(2026, 6, 15)))
    with pytest.raises(Refusal, match="2026-06 is closed"):
        do(book, None, stock.buy, **BOUGHT)
    book.close()
