"""The first month to close is the first with a line in its journal; a month that is closed says so."""

import datetime as dt
import json
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from coatbook.desk import closing
from coatbook.desk.opening import open_book
from coatbook.store import closings
from coatbook.store.book import Book
from coatbook.store.clock import Clock
from coatbook.values import Refusal
from coatbook.values.days import Month
from store.season import TODAY, basics, buy, do

Command = Callable[..., tuple[int, str, str]]
MAY, JUNE, JULY, AUGUST = (Month(2026, number) for number in range(5, 9))


def close(book: Book, month: Month) -> str:
    return str(do(book, None, closing.close_month, month=month).text)


@pytest.fixture
def bought(any_where: str) -> Iterator[Book]:
    """A book with prices and rates since June, a purchase in June and one in July."""
    book = open_book(any_where, Clock(TODAY))
    basics(book)
    buy(book, "2026-06-03", "32 fl oz", "71.00", "B-203")
    buy(book, "2026-07-03", "32 fl oz", "71.00", "B-204")
    yield book
    book.close()


def test_it_begins_with_the_first_month_that_has_lines_in_its_journal(bought: Book) -> None:
    with pytest.raises(
        Refusal, match="months close in order: 2026-06 has lines in its journal and comes before 2026-07"
    ):
        close(bought, JULY)
    assert close(bought, JUNE).startswith("2026-06 is closed")
    assert close(bought, JULY).startswith("2026-07 is closed")


def test_a_line_written_later_for_an_earlier_day_comes_first(bought: Book) -> None:
    buy(bought, "2026-05-30", "1 fl oz", "2.00", "B-1")
    with pytest.raises(Refusal, match="2026-05 has lines in its journal and comes before 2026-06"):
        close(bought, JUNE)
    close(bought, MAY)
    close(bought, JUNE)


def test_a_line_struck_on_its_own_day_never_counted(bought: Book) -> None:
    """A year mistyped and struck would else leave ten years of months to close."""
    from coatbook.desk.striking import strike

    buy(bought, "2016-08-03", "1 fl oz", "2.00", "B-1")
    with pytest.raises(Refusal, match="2016-08 has lines in its journal and comes before 2026-06"):
        close(bought, JUNE)
    do(bought, None, strike, name="purchase:3", why="the year was mistyped")
    close(bought, JUNE)


def test_reopened_to_the_beginning_it_begins_there_again(bought: Book) -> None:
    close(bought, JUNE)
    do(bought, None, closings.reopen, month=JUNE, why="a receipt turned up")
    with pytest.raises(Refusal, match="2026-06 has lines in its journal"):
        close(bought, JULY)
    close(bought, JUNE)


def test_a_book_without_a_line_may_begin_with_any_month_that_is_over(any_book: Book) -> None:
    with pytest.raises(Refusal, match="2026-08 is not over"):
        close(any_book, AUGUST)
    assert close(any_book, MAY).startswith("2026-05 is closed; its journal has 0 lines")
    with pytest.raises(Refusal, match="after 2026-05 comes 2026-06"):
        close(any_book, JULY)


def test_a_month_that_is_closed_says_since_when(season_book: Book) -> None:
    close(season_book, JULY)
    for month in (JUNE, JULY):
        with pytest.raises(Refusal, match=f"{month} is closed since {TODAY}: the next to close is 2026-08"):
            close(season_book, month)


def test_closing_twice_by_command(season_where: str, command_on: Command) -> None:
    close_july = ("book", "close", "2026-07", "--yes")
    assert command_on(season_where, *close_july)[0] == 0
    code, out, err = command_on(season_where, *close_july)
    assert (code, out) == (1, "")
    assert err == f"coatbook: 2026-07 is closed since {TODAY}: the next to close is 2026-08\n"
    assert command_on(season_where, "book", "close", "2026-07", "--dry-run")[2] == err


def test_a_retry_by_its_key_prints_the_first_result(season_where: str, command_on: Command) -> None:
    close_july = ("book", "close", "2026-07", "--yes", "--key", "july")
    first = command_on(season_where, *close_july)
    assert first[0] == 0
    assert command_on(season_where, *close_july) == first


def test_the_first_to_close_by_command(furnished: Path, command_on: Command) -> None:
    code, _, err = command_on(furnished, "book", "close", "2026-04", "--yes")
    assert (code, err) == (
        1,
        "coatbook: months close in order: 2026-03 has lines in its journal and comes before 2026-04\n",
    )
    assert command_on(furnished, "book", "close", "2026-03", "--yes")[0] == 0
    found = json.loads(command_on(furnished, "book", "info", "--json")[1])
    assert dt.date.fromisoformat(found["closed_through"]) == dt.date(2026, 3, 31)
