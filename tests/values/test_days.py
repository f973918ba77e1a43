"""Days, months, due dates and the ends of terms."""

import datetime as dt
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coatbook.values import Misuse, Refusal
from coatbook.values.days import Month, add_months, end_of_calendar_months, last_day, nth_due, parse_day

DAYS = st.dates(dt.date(1900, 1, 1), dt.date(2200, 12, 31))
MONTHS = st.builds(Month.of, DAYS)


def day(text: str) -> dt.date:
    return parse_day(text)


def test_a_day_is_read() -> None:
    assert parse_day(" 2026-07-31 ") == dt.date(2026, 7, 31)


@pytest.mark.parametrize(
    "typed", ["", "2026-7-31", "31.07.2026", "07/31/2026", "20260731", "2026-W31-5", "٢٠٢٦-٠٧-٣١", "2026-07-31T00:00"]
)
def test_another_way_of_writing_a_day_is_refused(typed: str) -> None:
    with pytest.raises(Misuse, match="is not a date: write it like 2026-07-31"):
        parse_day(typed, "start")


@pytest.mark.parametrize("typed", ["2026-02-29", "2026-13-01", "2026-00-10", "2026-04-31", "0000-01-01"])
def test_a_day_that_does_not_exist_is_refused(typed: str) -> None:
    with pytest.raises(Misuse, match=f"the day {typed} does not exist"):
        parse_day(typed)


@pytest.mark.parametrize("typed", ["1899-12-31", "2201-01-01", "0026-07-31"])
def test_a_year_far_off_is_refused(typed: str) -> None:
    with pytest.raises(Misuse, match="outside the years 1900 to 2200"):
        parse_day(typed)


@given(DAYS)
def test_a_day_prints_and_reads_back(some: dt.date) -> None:
    assert parse_day(some.isoformat()) == some


def test_a_month_is_read_and_printed() -> None:
    month = Month.parse(" 2026-02 ")
    assert month == Month(2026, 2)
    assert str(month) == "2026-02"
    assert (month.first, month.last) == (dt.date(2026, 2, 1), dt.date(2026, 2, 28))
    assert Month(2024, 2).last == dt.date(2024, 2, 29)


@pytest.mark.parametrize("typed", ["", "2026", "2026-7", "2026-13", "2026-00", "07/2026", "2026-07-01", "٢٠٢٦-٠٧"])
def test_another_way_of_writing_a_month_is_refused(typed: str) -> None:
    with pytest.raises(Misuse, match="is not a month: write it like 2026-07"):
        Month.parse(typed)


def test_a_month_far_off_is_refused() -> None:
    with pytest.raises(Misuse, match="outside the years"):
        Month.parse("1899-12")


@pytest.mark.parametrize(("year", "number"), [(2026, 0), (2026, 13), (0, 1), (10000, 1)])
def test_no_month_is_made_that_does_not_exist(year: int, number: int) -> None:
    with pytest.raises(ValueError, match=r"must be in|out of range"):
        Month(year, number)


def test_the_turn_of_the_year() -> None:
    assert Month(2026, 12).next() == Month(2027, 1)
    assert Month(2027, 1).previous() == Month(2026, 12)
    assert Month(2026, 12) < Month(2027, 1)


@given(MONTHS, DAYS)
def test_months_follow_each_other_without_gap(month: Month, some: dt.date) -> None:
    assert month.last + dt.timedelta(days=1) == month.next().first
    assert month.next().previous() == month
    assert month.contains(some) == (month.first <= some <= month.last) == (Month.of(some) == month)
    assert Month.parse(str(month)) == month


@given(DAYS, st.integers(-600, 600))
def test_months_keep_the_day_or_clamp_to_the_last(anchor: dt.date, months: int) -> None:
    found = add_months(anchor, months)
    assert (found.year * 12 + found.month) - (anchor.year * 12 + anchor.month) == months
    assert found.day == min(anchor.day, Month.of(found).last.day)
    assert end_of_calendar_months(anchor, months) == Month.of(found).last


def test_due_dates_are_counted_from_the_anchor() -> None:
    anchor = day("2026-01-31")
    assert [nth_due(anchor, n, 1, "month").day for n in (1, 2, 3, 4)] == [28, 31, 30, 31]
    assert nth_due(day("2024-02-29"), 4, 12, "month") == day("2028-02-29")
    assert nth_due(anchor, 3, 10, "day") == day("2026-03-02")
    assert nth_due(anchor, 2, 2, "week") == day("2026-02-28")
    assert nth_due(day("2026-01-02"), 1, 12, "calendar month") == day("2027-01-31")


@given(DAYS, st.integers(1, 30), st.sampled_from(["day", "week", "month", "calendar month"]))
def test_due_dates_rise(anchor: dt.date, amount: int, per: Any) -> None:
    dues = [anchor, *(nth_due(anchor, n, amount, per) for n in range(1, 6))]
    assert all(earlier < later for earlier, later in pairwise(dues))


@pytest.mark.parametrize(("n", "amount", "per"), [(0, 1, "month"), (1, 0, "month"), (-1, 1, "day"), (1, -6, "week")])
def test_counts_below_one_are_refused(n: int, amount: int, per: Any) -> None:
    with pytest.raises(Misuse, match="must be 1 or more"):
        nth_due(day("2026-01-31"), n, amount, per)


@pytest.mark.parametrize("per", ["flight hour", "year", "Month", ""])
def test_an_unknown_step_is_refused(per: Any) -> None:
    with pytest.raises(Misuse, match="use day, week, month or calendar month"):
        nth_due(day("2026-01-31"), 1, 1, per)


@pytest.mark.parametrize("per", ["day", "week", "month", "calendar month"])
@pytest.mark.parametrize("amount", [10**7, 10**30])
def test_a_date_beyond_the_calendar_is_refused(per: Any, amount: int) -> None:
    with pytest.raises(Refusal, match="lies beyond the calendar"):
        nth_due(day("2026-01-31"), 1, amount, per)


@pytest.mark.parametrize(
    ("begins", "amount", "per", "same_date", "day_before"),
    [
        ("2026-03-01", 12, "month", "2027-03-01", "2027-02-28"),
        ("2026-07-15", 6, "month", "2027-01-15", "2027-01-14"),
        ("2026-01-29", 1, "month", "2026-02-28", "2026-02-28"),  # 29 February is missing
        ("2026-01-28", 1, "month", "2026-02-28", "2026-02-27"),
        ("2024-02-29", 12, "month", "2025-02-28", "2025-02-28"),
        ("2026-07-15", 30, "day", "2026-08-14", "2026-08-13"),
        ("2026-07-15", 2, "week", "2026-07-29", "2026-07-28"),
        ("2026-07-15", 12, "calendar month", "2027-07-31", "2027-07-31"),
    ],
)
def test_a_term_ends_by_its_convention(begins: str, amount: int, per: Any, same_date: str, day_before: str) -> None:
    assert last_day(day(begins), amount, per, "same date") == day(same_date)
    assert last_day(day(begins), amount, per, "day before") == day(day_before)


def test_an_unknown_convention_is_refused() -> None:
    with pytest.raises(Misuse, match="use same date or day before"):
        last_day(day("2026-01-31"), 1, "month", "day after")  # type: ignore[arg-type]
