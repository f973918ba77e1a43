"""Month ends, calendar months and ends of terms against regulations, laws and reference libraries."""

import datetime as dt

import pytest
from dateutil.rrule import rrulestr

from coatbook.values.days import Month, add_months, end_of_calendar_months, last_day, nth_due
from published.checks import Check, table

OWNER_EXAMPLES = "14 CFR 91.409 and 91.411, end of the calendar month: owners' worked examples"
FLIGHT_REVIEW = "14 CFR 61.56, 24 calendar months: a pilot's worked example"
CALENDAR_RULE = "14 CFR 91.409, end of the calendar month: computed from the rule"
DATEUTIL = "python-dateutil relativedelta, published examples"
MONTHDELTA = "monthdelta (PyPI), published examples"
RSCALE = "libical@d31d57c src/test/icalrecur_test_rscale.txt (RFC 7529, SKIP=BACKWARD)"
LIBICAL = "libical@d31d57c src/test/icalrecur_test.txt"
RFC_5545 = "RFC 5545, 3.8.5.3"
UK_TERM = "UK SI 2018/1082, r. 1.4: the term ends the day before the corresponding date"
EU_TERM = "Regulation (EEC, Euratom) 1182/71, art. 3: the last day of the month where the date is missing"
BGB = "BGB sections 187(2) and 188(2), (3)"


def day(text: str) -> dt.date:
    return dt.date.fromisoformat(text)


CALENDAR_MONTHS = (
    Check("calendar-2017-05-29", ("2017-05-29", 12), "2018-05-31", OWNER_EXAMPLES),
    Check("calendar-2018-06-01", ("2018-06-01", 12), "2019-06-30", OWNER_EXAMPLES),
    Check("calendar-2011-07-01", ("2011-07-01", 12), "2012-07-31", OWNER_EXAMPLES),
    Check("calendar-2020-07-22", ("2020-07-22", 24), "2022-07-31", OWNER_EXAMPLES),
    Check("calendar-2010-07-01", ("2010-07-01", 24), "2012-07-31", FLIGHT_REVIEW),
    Check("calendar-2015-06-04", ("2015-06-04", 12), "2016-06-30", OWNER_EXAMPLES),
    Check("calendar-2026-03-14", ("2026-03-14", 24), "2028-03-31", CALENDAR_RULE, status="memory"),
    Check("calendar-2024-02-29", ("2024-02-29", 12), "2025-02-28", CALENDAR_RULE, status="memory"),
    Check("calendar-2023-02-10", ("2023-02-10", 12), "2024-02-29", CALENDAR_RULE, status="memory"),
    Check("calendar-2020-12-31", ("2020-12-31", 12), "2021-12-31", CALENDAR_RULE, status="memory"),
    Check("calendar-2024-08-31", ("2024-08-31", 6), "2025-02-28", CALENDAR_RULE, status="memory"),
    Check("calendar-2025-01-31", ("2025-01-31", 1), "2025-02-28", CALENDAR_RULE, status="memory"),
)


@table(CALENDAR_MONTHS)
def test_calendar_months_run_to_the_end_of_the_month(check: Check) -> None:
    done, months = check.inputs
    check.agrees(end_of_calendar_months(day(done), months).isoformat())
    check.agrees(nth_due(day(done), 1, months, "calendar month").isoformat())


MONTH_ENDS = (
    Check("months-dateutil-2005-01-31", ("2005-01-31", 1), "2005-02-28", DATEUTIL),
    Check("months-dateutil-2024-01-31", ("2024-01-31", 2), "2024-03-31", DATEUTIL),
    Check("months-dateutil-2013-03-31", ("2013-03-31", -1), "2013-02-28", DATEUTIL),
    Check("months-dateutil-2003-09-17", ("2003-09-17", 1), "2003-10-17", DATEUTIL),
    Check("months-monthdelta-2012-01-31", ("2012-01-31", 1), "2012-02-29", MONTHDELTA),
    Check("months-monthdelta-2012-01-31-3", ("2012-01-31", 3), "2012-04-30", MONTHDELTA),
    Check("months-monthdelta-2012-02-29", ("2012-02-29", 12), "2013-02-28", MONTHDELTA),
    Check("months-eu-2025-01-31", ("2025-01-31", 1), "2025-02-28", EU_TERM, status="memory"),
)


@table(MONTH_ENDS)
def test_months_clamp_to_the_last_day(check: Check) -> None:
    anchor, months = check.inputs
    check.agrees(add_months(day(anchor), months).isoformat())


ANCHORED = (
    Check(
        "anchor-2026-01-30",
        ("2026-01-30", 1, 1),
        ["2026-02-28", "2026-03-30", "2026-04-30", "2026-05-30", "2026-06-30"],
        "published note on recurring due dates counted from an anchor",
    ),
    Check("anchor-2014-01-31", ("2014-01-31", 1, 0), ["2014-01-31", "2014-02-28", "2014-03-31", "2014-04-30"], RSCALE),
)


@table(ANCHORED)
def test_due_dates_come_from_the_anchor(check: Check) -> None:
    start, amount, first = check.inputs
    anchor = day(start)
    count = len(check.expected)
    found = [nth_due(anchor, n, amount, "month") if n else anchor for n in range(first, first + count)]
    check.agrees([due.isoformat() for due in found])


STEPS = (
    Check(
        "step-10-days",
        ("1997-09-02", 10, "day"),
        ["1997-09-12", "1997-09-22", "1997-10-02", "1997-10-12"],
        f"{RFC_5545}: DAILY;INTERVAL=10",
    ),
    Check(
        "step-2-weeks",
        ("1997-08-05", 2, "week"),
        ["1997-08-19"],
        f"{RFC_5545}: WEEKLY;INTERVAL=2, its Tuesdays",
    ),
)


@table(STEPS)
def test_steps_of_days_and_weeks(check: Check) -> None:
    start, amount, per = check.inputs
    found = [nth_due(day(start), n, amount, per) for n in range(1, len(check.expected) + 1)]
    check.agrees([due.isoformat() for due in found])


TERMS = (
    Check("term-uk", ("2025-03-01", 12, "day before"), "2026-02-28", UK_TERM, status="memory"),
    Check("term-eu-short-month", ("2025-01-31", 1, "same date"), "2025-02-28", EU_TERM, status="memory"),
    Check("term-bgb-day-before", ("2025-01-15", 1, "day before"), "2025-02-14", BGB, status="memory"),
    Check("term-bgb-31", ("2025-01-31", 1, "day before"), "2025-02-28", BGB, status="memory"),
    Check("term-bgb-30", ("2025-01-30", 1, "day before"), "2025-02-28", BGB, status="memory"),
    Check("term-bgb-29", ("2025-01-29", 1, "day before"), "2025-02-28", BGB, status="memory"),
    Check("term-bgb-28", ("2025-01-28", 1, "day before"), "2025-02-27", BGB, status="memory"),
    Check("term-leap-same", ("2024-02-29", 12, "same date"), "2025-02-28", EU_TERM, status="memory"),
)


@table(TERMS)
def test_terms_end_as_the_law_says(check: Check) -> None:
    begins, months, convention = check.inputs
    check.agrees(last_day(day(begins), months, "month", convention).isoformat())


MONTH_LAST_DAYS = (
    Check("ends-1997", "1997-09", ["1997-09-30", "1997-10-31", "1997-11-30", "1997-12-31", "1998-01-31"], RFC_5545),
    Check(
        "ends-leap",
        "2024-02",
        ["2024-02-29", "2024-03-31"],
        f"{RFC_5545}: BYMONTHDAY=-1 by dateutil 2.9.0",
        status="memory",
    ),
)


@table(MONTH_LAST_DAYS)
def test_months_know_their_last_day(check: Check) -> None:
    month, found = Month.parse(check.inputs), []
    for _ in check.expected:
        found.append(month.last.isoformat())
        month = month.next()
    check.agrees(found)


SILENT = (
    Check("yearly-2012-02-29", ("2012-02-29", "FREQ=YEARLY"), ["2012-02-29", "2016-02-29", "2020-02-29"], LIBICAL),
    Check("monthly-2015-01-31", ("2015-01-31", "FREQ=MONTHLY"), ["2015-01-31", "2015-03-31", "2015-05-31"], LIBICAL),
)


@table(SILENT)
def test_recurrence_rules_skip_what_due_dates_clamp(check: Check) -> None:
    """Why due dates are not RFC 5545 rules: those leave out months without the day, so a reminder would be silent."""
    start, rule = check.inputs
    times = rrulestr(f"{rule};COUNT={len(check.expected)}", dtstart=dt.datetime.fromisoformat(start))
    check.agrees([time.date().isoformat() for time in times])
    months = 12 if "YEARLY" in rule else 1
    assert nth_due(day(start), 1, months, "month").isoformat() not in check.expected


@pytest.mark.published(source="python-dateutil 2.9.0, run: relativedelta(months=1) twice against months=2 once")
def test_chaining_drifts_and_the_anchor_does_not() -> None:
    anchor = day("2024-01-31")
    assert add_months(add_months(anchor, 1), 1) == day("2024-03-29")
    assert nth_due(anchor, 2, 1, "month") == day("2024-03-31")
