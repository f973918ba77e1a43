"""Tax by jurisdiction: which rates apply where and when, rounded once together and shared out exactly."""

import datetime as dt
from collections.abc import Sequence
from decimal import Decimal

import pytest

from coatbook.billing.actions import set_tax_rate
from coatbook.billing.pricing import places_above, tax_lines
from coatbook.billing.record import Line, Tax
from coatbook.desk.closing import close_month
from coatbook.store.book import Book
from coatbook.values import Misuse, Price, Quantity, Refusal
from coatbook.values.days import Month
from desk.shopfloor import TODAY, do, strike, usd

MARCH = "2026-03-02"


def rate(book: Book, place: str, percent: str, name: str, kind: str = "labor", since: str = MARCH) -> None:
    do(book, since, set_tax_rate, place=place, kind=kind, percent=percent, name=name)


def line(net: str, kind: str = "labor") -> Line:
    return Line("wash", "Wash", Quantity.of(1, "each"), Price(usd(net), Quantity.of(1, "each")), usd(net), kind)


def taxes(
    book: Book, place: str, lines: Sequence[Line], on: str = "2026-06-01", exempt: str | None = None
) -> tuple[Tax, ...]:
    with book.read() as session:
        return tax_lines(session, place, lines, dt.date.fromisoformat(on), TODAY, exempt)


def told(found: Sequence[Tax]) -> list[tuple[str, str, str, str]]:
    return [(tax.place, f"{tax.rate.normalize():f}", str(tax.base), str(tax.amount)) for tax in found]


def test_a_place_lies_in_all_before_it() -> None:
    assert places_above("US-TX-AUSTIN") == ("US", "US-TX", "US-TX-AUSTIN")


def test_every_jurisdiction_a_place_lies_in_and_no_other(book: Book) -> None:
    rate(book, "US-TX-AUSTIN", "1", "City tax")
    rate(book, "US-TX", "6.25", "State tax")
    rate(book, "US-NM", "4.875", "State tax")
    rate(book, "US-TX-AUST", "9", "Another city")
    rate(book, "US-TX-AUSTIN", "0.125", "Transit tax")
    found = taxes(book, "US-TX-AUSTIN", [line("200.00")])
    # 6.25 % + 1 % + 0.125 % of 200.00 = 12.50 + 2.00 + 0.25
    assert told(found) == [
        ("US-TX", "0.0625", "200.00", "12.50"),
        ("US-TX-AUSTIN", "0.01", "200.00", "2.00"),
        ("US-TX-AUSTIN", "0.00125", "200.00", "0.25"),
    ]
    assert told(taxes(book, "US-TX", [line("200.00")])) == [("US-TX", "0.0625", "200.00", "12.50")]
    assert taxes(book, "DE-BY", [line("200.00")]) == ()


def test_only_the_kinds_of_charge_that_are_taxed(book: Book) -> None:
    rate(book, "US-TX", "6.25", "State tax", "material")
    rate(book, "US-TX", "6.25", "State tax", "travel")
    rate(book, "US-TX", "2", "Labor tax", "labor")
    charged = [line("100.00"), line("40.00", "material"), line("60.00", "travel"), line("500.00", "other")]
    # one tax of one rate on two kinds is one line: 6.25 % of 100.00, and 2 % of 100.00
    assert told(taxes(book, "US-TX", charged)) == [
        ("US-TX", "0.02", "100.00", "2.00"),
        ("US-TX", "0.0625", "100.00", "6.25"),
    ]


def test_rates_are_added_up_before_they_are_rounded(book: Book) -> None:
    for name in ("State tax", "City tax", "Transit tax"):
        rate(book, "US-TX", "0.5", name)
    found = taxes(book, "US-TX", [line("1.00")])
    # each alone would be half a cent, rounded up to 0.03 in all; together they are 1.5 cents, which is 0.02
    assert sum(tax.amount.minor for tax in found) == 2
    assert [tax.amount.minor for tax in found] == [1, 0, 1]


def test_lines_are_added_up_before_they_are_rounded(book: Book) -> None:
    rate(book, "US-TX", "5", "State tax")
    # 3 x 1.09 x 5 % = 0.1635, by line it would be 0.15
    assert told(taxes(book, "US-TX", [line("1.09")] * 3))[0][3] == "0.16"


@pytest.mark.parametrize("net", ["0.01", "0.07", "10.10", "33.33", "6754.90", "99999.99"])
def test_shares_add_up_to_the_tax_of_the_document(book: Book, net: str) -> None:
    rates = ("6.25", "1.125", "0.5", "0.3333")
    for place, percent in enumerate(rates):
        rate(book, "US-TX", percent, f"Tax {place}")
    found = taxes(book, "US-TX", [line(net)])
    exact = Decimal(net) * sum(map(Decimal, rates)) / 100
    assert Decimal(sum(tax.amount.minor for tax in found)) / 100 == exact.quantize(Decimal("0.01"), "ROUND_HALF_UP")
    for tax in found:
        assert abs(tax.amount.decimal - tax.base.decimal * tax.rate) <= Decimal("0.01")


def test_a_document_of_nothing_bears_a_tax_of_nothing(book: Book) -> None:
    rate(book, "US-TX", "6.25", "State tax")
    assert told(taxes(book, "US-TX", [line("0.00")])) == [("US-TX", "0.0625", "0.00", "0.00")]
    assert taxes(book, "US-TX", []) == ()


@pytest.mark.parametrize(
    ("on", "percents"),
    [("2026-03-01", []), ("2026-03-02", ["0.0625"]), ("2026-06-30", ["0.0625"]), ("2026-07-01", ["0.065"])],
)
def test_the_rate_in_force_on_the_invoices_day(book: Book, on: str, percents: list[str]) -> None:
    rate(book, "US-TX", "6.25", "State tax")
    rate(book, "US-TX", "6.5", "State tax", since="2026-07-01")
    assert [percent for _, percent, *_ in told(taxes(book, "US-TX", [line("1.00")], on))] == percents


def test_a_rate_of_zero_ends_a_tax_and_a_struck_one_never_was(book: Book) -> None:
    rate(book, "US-TX", "6.25", "State tax")
    rate(book, "US-TX", "0", "State tax", since="2026-05-01")
    assert taxes(book, "US-TX", [line("100.00")]) == ()
    strike(book, "tax_rate:2")
    assert told(taxes(book, "US-TX", [line("100.00")]))[0][3] == "6.25"


@pytest.mark.parametrize("percent", ["100.0001", "-1", "6.25001", "6,25", "1e1", "six"])
def test_rates_that_are_none_are_refused(book: Book, percent: str) -> None:
    with pytest.raises(Misuse, match="tax rate"):
        rate(book, "US-TX", percent, "State tax")


@pytest.mark.parametrize("percent", ["0", "0.0001", "8.125", "100"])
def test_rates_of_four_decimals_are_kept_exactly(book: Book, percent: str) -> None:
    rate(book, "US-TX", percent, "State tax")
    found = taxes(book, "US-TX", [line("100.00")])
    assert [tax.rate * 100 for tax in found] == [Decimal(percent)] * (percent != "0")


@pytest.mark.parametrize("place", ["Texas", "US-", "U", "us tx", "US--TX"])
def test_places_that_are_none_are_refused(book: Book, place: str) -> None:
    with pytest.raises(Misuse, match="is not a place"):
        rate(book, place, "1", "State tax")


def test_no_rate_begins_in_a_closed_month(book: Book) -> None:
    do(book, None, close_month, month=Month(2026, 6))
    with pytest.raises(Refusal, match="2026-06 is closed"):
        rate(book, "US-TX", "1", "State tax", since="2026-06-30")


@pytest.mark.parametrize(
    ("exempt", "places"),
    [
        (None, ["US", "US-TX", "US-TX-AUSTIN"]),
        ("US-TX-AUSTIN", ["US", "US-TX"]),
        ("US-TX", ["US"]),
        ("US", []),
        ("US-NM", ["US", "US-TX", "US-TX-AUSTIN"]),
        ("US-TX-AUST", ["US", "US-TX", "US-TX-AUSTIN"]),
    ],
)
def test_an_exemption_takes_off_the_taxes_of_its_place_and_below(
    book: Book, exempt: str | None, places: list[str]
) -> None:
    for place in ("US", "US-TX", "US-TX-AUSTIN"):
        rate(book, place, "1", f"Tax of {place}")
    assert [tax.place for tax in taxes(book, "US-TX-AUSTIN", [line("100.00")], exempt=exempt)] == places
