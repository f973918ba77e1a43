"""ISO 4217 decimals, half-up rounding and the sales tax rounding rule against laws, standards and textbooks."""

from decimal import ROUND_DOWN, Decimal
from fractions import Fraction

import pytest
from babel.numbers import get_currency_precision
from hypothesis import given
from hypothesis import strategies as st

from coatbook.values import Money, round_half_up
from coatbook.values.currency import digits
from published.checks import Check, table

ISO_4217 = "ISO 4217 list, datasets/currency-codes@ab9b0ae data/codes-all.csv"
NOT_CLDR = f"{ISO_4217} against CLDR digits (Babel 2.18.0)"
EN_16931 = "ConnectingEurope/eInvoicing-EN16931@b6c9e06"
SSUTA = "SSUTA s. 324 as enacted: R.I. Gen. Laws 44-18.1-25, N.D.C.C. 57-39.4-25"
CONTEMPORARY = "openstax Contemporary Mathematics @6458acc"
ACCOUNTING = "openstax Principles of Accounting @2165bf6"
CASH = "ICU 72.1 Precision.currency(CASH) with CLDR's increment of 0.05"

DIGITS = [
    Check(f"iso-4217-{code}", code, places, ISO_4217)
    for places, codes in {0: "JPY KRW CLP ISK VND", 2: "USD EUR", 3: "KWD OMR TND JOD IQD LYD", 4: "UYW"}.items()
    for code in codes.split()
]
CARIBBEAN_GUILDER = Check("iso-4217-XCG", "XCG", 2, "central bank of Curaçao and Sint Maarten: 1/100, code XCG, 2025")


@table([*DIGITS, CARIBBEAN_GUILDER])
def test_decimals_of_a_currency(check: Check) -> None:
    check.agrees(digits(check.inputs))


DISAGREEMENTS = [
    Check(f"not-cldr-{code}", code, iso, NOT_CLDR)
    for iso, codes in {2: "AFN ALL IRR KPW LAK LBP MGA MMK RSD SOS SYP YER", 3: "IQD"}.items()
    for code in codes.split()
]


@table(DISAGREEMENTS)
def test_the_ledger_takes_iso_decimals_where_cldr_differs(check: Check) -> None:
    check.agrees(digits(check.inputs))
    assert get_currency_precision(check.inputs) != check.expected


def half_up(exact: str | Fraction, places: int = 2) -> Decimal:
    """`exact` at so many decimals, by the rounding of the book."""
    scaled = Fraction(exact) * 10**places
    return Decimal(round_half_up(scaled.numerator, scaled.denominator)).scaleb(-places)


ROUNDED = (
    Check("tie-overtime", "8.565", "8.57", "29 CFR 778.322, overtime rate"),
    Check("tie-negative-vat", Fraction("-625743.54") * 25 / 100, "-156435.89", f"{EN_16931} BIS3_Invoice_negativ.XML"),
    Check("vat-5.5", Fraction("-2141.19") * 55 / 1000, "-117.77", f"{EN_16931} BR-CO-17.xml test 6"),
    Check("vat-25-tie", Fraction("1460.50") * 25 / 100, "365.13", f"{EN_16931} ubl-tc434-example2.xml"),
    Check("vat-15", Fraction("1.00") * 15 / 100, "0.15", f"{EN_16931} ubl-tc434-example2.xml"),
    Check("vat-21", Fraction("908.91") * 21 / 100, "190.87", f"{EN_16931} ubl-tc434-example8.xml"),
    Check("vat-21-small", Fraction("147.00") * 21 / 100, "30.87", f"{EN_16931} ubl-tc434-example9.xml"),
    Check("vat-25-elhandel", Fraction("593.99") * 25 / 100, "148.50", f"{EN_16931} BIS_Billing_30-Elhandel.xml"),
    Check("vat-25-elnat", Fraction("1562.39") * 25 / 100, "390.60", f"{EN_16931} BIS_Billing_30-Elnat.xml"),
    Check(
        "line-net",
        486 * Fraction("4.9715"),
        "2416.15",
        f"{EN_16931} BIS_Billing_30-Rantefaktura (file is 0.01 off)",
        status="memory",
    ),
    Check("prompt-payment", Fraction(1500) * Fraction("0.065") * 10 / 360, "2.71", "5 CFR 1315.17(b)"),
    Check("prompt-payment-2", Fraction(1500) * Fraction("0.066") * 10 / 360, "2.75", "fiscal.treasury.gov, interest"),
    Check("sales-tax-428.99", Fraction("428.99") * Fraction("0.0825"), "35.39", f"{CONTEMPORARY} m00058"),
    Check("sales-tax-499", Fraction("499.00") * Fraction("0.0881"), "43.96", f"{CONTEMPORARY} m00058"),
    Check("tax-inclusive", Fraction("467.64") / Fraction("1.0825"), "432.00", f"{CONTEMPORARY} m00058"),
    Check("sales-tax-18000", Fraction(18000) * Fraction("0.06"), "1080.00", f"{ACCOUNTING} m67904"),
    Check("sales-tax-50", Fraction(50) * Fraction("0.08"), "4.00", f"{ACCOUNTING} m67903"),
    Check("regular-rate", Fraction(200) / 35, "5.71", "29 CFR 778.322, regular rate"),
    Check("piece-rate", Fraction("10.46") * Fraction("1.5"), "15.69", "29 CFR 778.111(a)"),
)


@table(ROUNDED)
def test_amounts_round_half_up(check: Check) -> None:
    check.agrees(half_up(check.inputs))


@table(
    [
        Check("times-vat-negative", (-62574354, 25, 100), -15643589, f"{EN_16931} BIS3_Invoice_negativ.XML"),
        Check("times-prompt-payment", (150000, 65 * 10, 1000 * 360), 271, "5 CFR 1315.17(b)"),
        Check("times-sales-tax", (42899, 825, 10000), 3539, f"{CONTEMPORARY} m00058"),
    ]
)
def test_money_rounds_once(check: Check) -> None:
    minor, numerator, denominator = check.inputs
    check.agrees(Money(minor, "USD").times(numerator, denominator).minor)


RULE_APPLIED = (
    Check("ssuta-0.0450", "0.0450", "0.05", SSUTA, status="memory"),
    Check("ssuta-0.0499", "0.0499", "0.05", SSUTA, status="memory"),
    Check("ssuta-1.2345", "1.2345", "1.23", SSUTA, status="memory"),
    Check("ssuta-1.234", "1.234", "1.23", "published guide to the half-cent rule of SSUTA s. 324"),
    Check("ssuta-1.235", "1.235", "1.24", "published guide to the half-cent rule of SSUTA s. 324"),
    Check("ssuta-10.99", Fraction("10.99") * Fraction("0.0625"), "0.69", SSUTA, status="memory"),
    Check("ssuta-combined", Fraction("10.10") * Fraction("0.075"), "0.76", SSUTA, status="memory"),
)


@table(RULE_APPLIED)
def test_sales_tax_rounds_by_its_third_decimal(check: Check) -> None:
    check.agrees(half_up(check.inputs))


def test_items_and_invoice_may_differ_by_the_sellers_election() -> None:
    """SSUTA s. 324(B): by item 3 x 0.05, by invoice 0.1635."""
    item = half_up(Fraction("1.09") * Fraction("0.05"))
    assert (3 * item, half_up(3 * Fraction("1.09") * Fraction("0.05"))) == (Decimal("0.15"), Decimal("0.16"))


def third_decimal_rule(tax: Decimal) -> Decimal:
    """The statute's own words: carried to the third decimal place, up to the next cent where that is above four."""
    carried = tax.quantize(Decimal("0.001"), ROUND_DOWN)
    cents = carried.quantize(Decimal("0.01"), ROUND_DOWN)
    return cents + Decimal("0.01") if (carried - cents) * 1000 > 4 else cents


@pytest.mark.published(source=f"{SSUTA}, each thousandth of a dollar")
def test_half_up_is_the_statutes_rule() -> None:
    for thousandths in range(20_000):
        tax = Decimal(thousandths) / 1000
        assert half_up(Fraction(tax)) == third_decimal_rule(tax)


@given(st.integers(0, 10**9), st.integers(0, 20_000))
def test_half_up_is_the_statutes_rule_for_any_sale(cents: int, rate: int) -> None:
    """Rates with up to three decimals of a per cent, such as 8.125 %."""
    tax = Decimal(cents) * rate / 10_000_000
    assert half_up(Fraction(tax)) == third_decimal_rule(tax)


@table(
    [
        Check("cash-1234.52", 123452, 123450, CASH),
        Check("cash-1234.53", 123453, 123455, CASH),
        Check("cash-1234.57", 123457, 123455, CASH),
        Check("cash-1234.58", 123458, 123460, CASH),
    ]
)
def test_cash_rounds_to_five_rappen(check: Check) -> None:
    check.agrees(round_half_up(check.inputs, 5) * 5)


@table(
    [
        Check(f"quarter-hour-{minutes}", minutes, rounded, "US Department of Labor, Fact Sheet 53")
        for minutes, rounded in {1: 0, 7: 0, 8: 15, 14: 15, 15: 15, 22: 15, 23: 30}.items()
    ]
)
def test_minutes_round_to_the_quarter_hour(check: Check) -> None:
    check.agrees(round_half_up(check.inputs, 15) * 15)
