"""Generated seasons, written into a book through its actions and into the plain model beside it: they must agree.

Stock, invoices, journal, job and month reviews are compared to the cent, and the identities that hold between them are
checked on the book's own figures.
"""

import datetime as dt
from decimal import Decimal
from fractions import Fraction
from itertools import groupby
from pathlib import Path
from typing import Any

from hypothesis import HealthCheck, given, settings

from coatbook.billing import journal
from coatbook.billing.views import invoices
from coatbook.desk.closing import journal_of
from coatbook.desk.telling_review import job_data, month_data
from coatbook.review.views import review_job, review_month
from coatbook.stock.views import materials
from coatbook.store.book import Book
from coatbook.store.check import check
from coatbook.values.days import Month
from properties.driving import NAMES, TODAY, thousandths, usd, written
from properties.model import MONTH_ENDS, Shop, half_up
from properties.seasons import BEGIN, MATERIALS, Season, seasons

# What the model expects, as the book tells it.


def told(cents: int) -> str:
    return f"{'-' if cents < 0 else ''}{abs(cents) // 100}.{abs(cents) % 100:02}"


def told_figures(sums: dict[str, int]) -> dict[str, Any]:
    cost = sums["materials"] + sums["labor"] + sums["expenses"]
    profit = sums["revenue"] - cost - sums["owner_labor"] - sums["overhead"]
    hours = Decimal(half_up(Fraction(sums["minutes"] * 1000, 60))) / 1000
    margin = None
    if sums["revenue"]:
        margin = f"{Decimal(half_up(Fraction(profit * 10_000, sums['revenue']))).scaleb(-4):.4f}"
    return {
        **{name: told(sums[name]) for name in sums if name != "minutes"},
        "profit_before_owner": told(sums["revenue"] - cost),
        "profit": told(profit),
        "margin": margin,
        "hours": f"{hours.normalize():f}",
    }


def told_month(model: Shop, season: Season, month: int) -> dict[str, Any]:
    first, last = dt.date(2026, month, 1), min(MONTH_ENDS[month - 1], TODAY)
    sums = model.figures(None, first, last)
    cost = sums["materials"] + sums["labor"] + sums["expenses"]
    whole = told_figures(sums)
    rows = [
        {
            "job": number,
            "mark": "N123AB",
            "customer": job.payer,
            "customer_name": NAMES[job.payer],
            **told_figures(model.figures(number, first, last)),
            "to_date": told_figures(model.figures(number, BEGIN, last)),
        }
        for number, job in enumerate(season.jobs, start=1)
        if model.touched(number, first, last)
    ]
    places: dict[str, tuple[int, int]] = {}
    for bill in model.bills.values():
        for place, base, amount in bill.taxes if first <= bill.day <= last else ():
            before = places.get(place, (0, 0))
            places[place] = (before[0] + base, before[1] + amount)
    return {
        "month": f"2026-{month:02}",
        "as_of": last.isoformat(),
        "currency": "USD",
        "revenue": told(sums["revenue"]),
        "cost": told(cost),
        **{name: whole[name] for name in ("profit_before_owner", "owner_labor", "overhead", "profit", "hours")},
        "shop_costs": "0.00",
        "journal_profit": told(sums["revenue"] - cost),
        "jobs": rows,
        "work_in_progress": told(model.balances(last).get("Work in progress", 0)),
        "billed_ahead": "0.00",
        "deposits_held": "0.00",
        "owed": told(sum(model.owed(number, last) for number in model.bills)),
        "tax": [
            {"place": place, "base": told(base), "amount": told(amount)}
            for place, (base, amount) in sorted(places.items())
        ],
    }


# The checks.


def check_invoices(book: Book, model: Shop) -> None:
    with book.read() as session:
        found = invoices(session, TODAY)
    assert {view.record.job for view in found} == set(model.bills)  # the model's jobs bear their numbers
    for view in found:
        record, bill = view.record, model.bills[view.record.job]
        assert [(line.service, line.net.minor) for line in record.lines] == bill.lines
        assert [(tax.place, tax.base.minor, tax.amount.minor) for tax in record.taxes] == bill.taxes
        assert sum(line.net.minor for line in record.lines) == record.net.minor == bill.net
        assert sum(tax.amount.minor for tax in record.taxes) == record.tax.minor
        assert record.net + record.tax == record.gross == usd(bill.gross)
        assert view.owed == record.gross - usd(sum(paid.amount.minor for paid in view.payments))
        assert view.owed.minor == model.owed(record.job)
        assert (view.state == "settled") == (not view.owed)


def check_stock(book: Book, model: Shop, on: dt.date) -> None:
    with book.read() as session:
        shelf = {one.code: one for one in materials(session, on)}
        lines = journal.postings(session, on)
    for code in MATERIALS:
        amount, cents = model.on_hand(code, on)
        assert (shelf[code].on_hand, shelf[code].value) == (thousandths(amount, "fl oz"), cents)
    assert sum(one.value for one in shelf.values()) == sum(
        line.minor for line in lines if line.account == journal.STOCK
    )


def check_journal(book: Book, model: Shop, on: dt.date) -> None:
    with book.read() as session:
        lines = journal.postings(session, on)
    for key in (lambda line: (line.day, line.entry), lambda line: line.day):
        for which, group in groupby(sorted(lines, key=key), key=key):
            assert sum(line.minor for line in group) == 0, which
    balances: dict[str, int] = {}
    for line in lines:
        assert line.day <= on
        balances[line.account] = balances.get(line.account, 0) + line.minor
    assert {account: cents for account, cents in balances.items() if cents} == model.balances(on)


def check_reviews(book: Book, model: Shop, season: Season) -> None:
    with book.read() as session:
        months = {month: month_data(review_month(session, Month(2026, month), TODAY), "USD") for month in range(1, 9)}
        reviews = [job_data(review_job(session, number, TODAY), "USD") for number in range(1, len(season.jobs) + 1)]
    for month, data in months.items():
        assert data == told_month(model, season, month)
    for number, data in enumerate(reviews, start=1):
        expected = told_figures(model.figures(number, BEGIN, TODAY))
        assert {name: data[name] for name in expected} == expected
        # a job is the sum of its months, and its month is its row in that month
        for name in ("revenue", "profit_before_owner", "profit"):
            assert Decimal(data[name]) == sum(Decimal(row[name]) for row in data["months"])
        for row in data["months"]:
            (own,) = [one for one in months[int(row["month"][-2:])]["jobs"] if one["job"] == number]
            assert (row["revenue"], row["profit_before_owner"], row["profit"]) == (
                own["revenue"],
                own["profit_before_owner"],
                own["profit"],
            )
    for data in months.values():  # a month is the sum of its jobs, and the journal says the same
        for name in ("revenue", "owner_labor", "overhead", "profit_before_owner", "profit"):
            assert Decimal(data[name]) == sum(Decimal(row[name]) for row in data["jobs"])
        assert Decimal(data["journal_profit"]) == Decimal(data["profit_before_owner"]) - Decimal(data["shop_costs"])


def check_closed_months(book: Book, kept: dict[int, bytes]) -> None:
    """A closed month never changes, not even drawn anew."""
    for month, content in kept.items():
        with book.read() as session:
            lines = journal.in_month(journal.postings(session, MONTH_ENDS[month - 1]), Month(2026, month))
        assert journal_of(book, Month(2026, month)) == content == journal.as_csv(lines, "USD")


def check_all(template: str, season: Season) -> None:
    with written(template, season) as both:
        check_invoices(both.book, both.model)
        for on in (*MONTH_ENDS[1:7], TODAY):
            check_journal(both.book, both.model, on)
            check_stock(both.book, both.model, on)
        check_reviews(both.book, both.model, season)
        check_closed_months(both.book, both.kept)
        assert check(both.book) == []


SLOW = [HealthCheck.too_slow, HealthCheck.data_too_large]


@settings(max_examples=50, deadline=None, suppress_health_check=SLOW)
@given(season=seasons())
def test_generated_jobs_agree_with_a_plain_model(template_book: Path, season: Season) -> None:
    check_all(str(template_book), season)


@settings(max_examples=10, deadline=None, suppress_health_check=SLOW)
@given(season=seasons())
def test_generated_jobs_agree_on_postgresql_too(postgresql_template: str, season: Season) -> None:
    check_all(postgresql_template, season)
