"""Days on which upkeep falls due, against law, published recurrences and python-dateutil's own expansion."""

import datetime as dt

import pytest
from dateutil.rrule import MONTHLY, rrule, rrulestr

from coatbook.calculators import Every, Upkeep
from coatbook.calculators.sheet import LastDay
from coatbook_plugins.warranty.formulas import nth_window
from published.checks import Check, table

DATEUTIL = "python-dateutil, rrule"


def nth(anchor: str, every: str, n: int, convention: LastDay = "same date") -> str:
    item = Upkeep("wash", (Every.parse(every),))
    return nth_window(dt.date.fromisoformat(anchor), item, n, convention).due.isoformat()


LAWS = (
    Check("warranty-uk-year", ("2025-03-01", "12 months", "day before"), "2026-02-28",
          "UK SI 2018/1082 r. 1.4: a term ends the day before the corresponding date", status="memory"),
    Check("warranty-eu-short-month", ("2025-01-31", "1 month", "same date"), "2025-02-28",
          "Reg. (EEC, Euratom) 1182/71 art. 3: the month's last day where it lacks the date", status="memory"),
    Check("warranty-leap-day", ("2024-02-29", "12 months", "same date"), "2025-02-28",
          "Reg. (EEC, Euratom) 1182/71 art. 3: the month's last day where it lacks the date", status="memory"),
    Check("warranty-relativedelta", ("2005-01-31", "1 month", "same date"), "2005-02-28",
          "python-dateutil, relativedelta, as quoted on the python.org tutor list, February 2007"),
)  # fmt: skip


@table(LAWS)
def test_the_first_day_due(check: Check) -> None:
    anchor, every, convention = check.inputs
    check.agrees(nth(anchor, every, 1, convention))


SERIES = (
    Check("warranty-from-the-anchor", ("2026-01-30", "1 month", 1),
          ["2026-02-28", "2026-03-30", "2026-04-30", "2026-05-30", "2026-06-30"],
          "published note on recurring dates: counted from the anchor, 30 January stays the 30th"),
    Check("warranty-skip-backward", ("2014-01-31", "1 month", 1), ["2014-02-28", "2014-03-31", "2014-04-30"],
          "RFC 7529 SKIP=BACKWARD, libical src/test/icalrecur_test_rscale.txt"),
    Check("warranty-not-chained", ("2024-01-31", "1 month", 2), ["2024-03-31"],
          "python-dateutil 2.9.0: two months at once, 2024-03-31, not one and one, 2024-03-29"),
    Check("warranty-every-ten-days", ("1997-09-02", "10 days", 1), ["1997-09-12", "1997-09-22", "1997-10-02",
          "1997-10-12"], "RFC 5545 section 3.8.5.3, every 10 days"),
)  # fmt: skip


@table(SERIES)
def test_days_due_one_after_the_other(check: Check) -> None:
    anchor, every, first = check.inputs
    check.agrees([nth(anchor, every, n) for n in range(first, first + len(check.expected))])


@pytest.mark.published(source=DATEUTIL)
@pytest.mark.parametrize("anchor", ["2024-01-01", "2024-02-28", "2025-12-15", "2023-08-27"])
@pytest.mark.parametrize(("per", "frequency"), [("day", "DAILY"), ("week", "WEEKLY"), ("month", "MONTHLY")])
@pytest.mark.parametrize("amount", [1, 3, 6, 12])
def test_days_that_every_month_has_agree_with_dateutil(anchor: str, per: str, frequency: str, amount: int) -> None:
    start = dt.datetime.fromisoformat(anchor)
    rule = rrulestr(f"FREQ={frequency};INTERVAL={amount};COUNT=9", dtstart=start)
    theirs = [day.date().isoformat() for day in rule]
    assert [nth(anchor, f"{amount} {per}", n) for n in range(1, 9)] == theirs[1:]


@pytest.mark.published(source=DATEUTIL)
@pytest.mark.parametrize("anchor", ["2024-01-31", "2024-02-29", "2025-10-31"])
@pytest.mark.parametrize("amount", [1, 3, 6, 12])
def test_calendar_months_agree_with_dateutil_s_last_day_of_the_month(anchor: str, amount: int) -> None:
    start = dt.datetime.fromisoformat(anchor)
    theirs = rrule(MONTHLY, dtstart=start, interval=amount, bymonthday=-1, count=9)
    expected = [day.date().isoformat() for day in theirs][1:]
    assert [nth(anchor, f"{amount} calendar months", n) for n in range(1, 9)] == expected
    if anchor != "2024-02-29":  # from the 31st, clamping comes to the same
        assert [nth(anchor, f"{amount} months", n) for n in range(1, 9)] == expected
