"""Calendar arithmetic on plain dates: months, the n-th due from an anchor, the last day of a term.

No clock: every function gets its dates. A due date is always computed from the anchor, because stepping from one due
date to the next drifts (31 Jan -> 28 Feb -> 28 Mar).
"""

import datetime as dt
import re
from dataclasses import dataclass
from typing import Literal, Self

from dateutil.relativedelta import relativedelta

from coatbook.values.refusal import Misuse, Refusal

FIRST_YEAR = 1900
LAST_YEAR = 2200

Per = Literal["day", "week", "month", "calendar month"]
Convention = Literal["same date", "day before"]

_DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
_MONTH = re.compile(r"([0-9]{4})-(0[1-9]|1[0-2])")


def _check_year(year: int, typed: str, what: str) -> None:
    if not FIRST_YEAR <= year <= LAST_YEAR:
        raise Misuse(f"the {what} {typed} lies outside the years {FIRST_YEAR} to {LAST_YEAR}: check the year")


def parse_day(text: str, what: str = "day") -> dt.date:
    """Read "2026-07-31".

    Raises:
        Misuse: another way of writing a date, a day that does not exist, or a year outside 1900 to 2200.
    """
    typed = text.strip()
    if not _DAY.fullmatch(typed):
        raise Misuse(f"the {what} {text!r} is not a date: write it like 2026-07-31")
    try:
        day = dt.date.fromisoformat(typed)
    except ValueError:
        raise Misuse(f"the {what} {typed} does not exist: check the month and the day") from None
    _check_year(day.year, typed, what)
    return day


@dataclass(frozen=True, order=True, slots=True)
class Month:
    """One month of one year, such as July 2026. Months order as they follow each other."""

    year: int
    number: int

    def __post_init__(self) -> None:
        # both ends must exist as dates, whoever makes the month
        dt.date(self.year, self.number, 1)

    @classmethod
    def parse(cls, text: str, what: str = "month") -> Self:
        """Read "2026-07".

        Raises:
            Misuse: another way of writing a month, or a year outside 1900 to 2200.
        """
        typed = text.strip()
        parts = _MONTH.fullmatch(typed)
        if parts is None:
            raise Misuse(f"the {what} {text!r} is not a month: write it like 2026-07")
        _check_year(int(parts[1]), typed, what)
        return cls(int(parts[1]), int(parts[2]))

    @classmethod
    def of(cls, day: dt.date) -> Self:
        """The month that `day` belongs to."""
        return cls(day.year, day.month)

    @property
    def first(self) -> dt.date:
        return dt.date(self.year, self.number, 1)

    @property
    def last(self) -> dt.date:
        return end_of_calendar_months(self.first, 0)

    def next(self) -> "Month":
        return Month.of(add_months(self.first, 1))

    def previous(self) -> "Month":
        return Month.of(add_months(self.first, -1))

    def contains(self, day: dt.date) -> bool:
        return (day.year, day.month) == (self.year, self.number)

    def __str__(self) -> str:
        return f"{self.year:04}-{self.number:02}"


def _shift(anchor: dt.date, step: relativedelta) -> dt.date:
    try:
        return anchor + step
    except (ValueError, OverflowError):
        raise Refusal(f"counted from {anchor} the date lies beyond the calendar: check the interval") from None


def add_months(anchor: dt.date, months: int) -> dt.date:
    """The same day of the month `months` later, or that month's last day where it is shorter."""
    return _shift(anchor, relativedelta(months=months))


def end_of_calendar_months(anchor: dt.date, months: int) -> dt.date:
    """The last day of the calendar month that lies `months` after the anchor's (the rule of 14 CFR 91.409)."""
    # relativedelta replaces the day by 31 and clamps it to the month's length
    return _shift(anchor, relativedelta(months=months, day=31))


def nth_due(anchor: dt.date, n: int, amount: int, per: Per) -> dt.date:
    """The n-th due date, `amount * n` steps after the anchor.

    Args:
        anchor: the day the counting starts from, such as the day a coating was applied.
        n: 1 for the first due date.
        amount: steps between two due dates, 1 or more.
        per: "month" keeps the day of the month (month-end clamp); "calendar month" runs to the end of the month.

    Raises:
        Misuse: n or amount below 1, or a step that is not one of the four.
        Refusal: a date beyond the calendar.
    """
    if n < 1 or amount < 1:
        raise Misuse(f"due date {n} of every {amount} {per}: both numbers must be 1 or more")
    steps = amount * n
    match per:
        case "day":
            return _shift(anchor, relativedelta(days=steps))
        case "week":
            return _shift(anchor, relativedelta(weeks=steps))
        case "month":
            return add_months(anchor, steps)
        case "calendar month":
            return end_of_calendar_months(anchor, steps)
        case _:
            raise Misuse(f"{per!r} is not a step between dates: use day, week, month or calendar month")


def last_day(begins: dt.date, amount: int, per: Per, convention: Convention) -> dt.date:
    """The last day of a term of `amount` steps that begins on `begins`.

    "same date": 12 months from 1 March end on 1 March. "day before": they end on the last day of February. Where the
    last month lacks the date, both end on that month's last day (BGB section 188(3); Regulation 1182/71 art. 3). A
    term in calendar months runs to the end of the month whatever the convention.

    Raises:
        Misuse: amount below 1, or an unknown step or convention.
    """
    if convention not in ("same date", "day before"):
        raise Misuse(f"{convention!r} does not say how a term ends: use same date or day before")
    end = nth_due(begins, 1, amount, per)
    date_is_missing = per == "month" and end.day < begins.day
    if convention == "same date" or per == "calendar month" or date_is_missing:
        return end
    return end - dt.timedelta(days=1)
