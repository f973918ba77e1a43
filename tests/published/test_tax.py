"""The tax of a whole document, all jurisdictions together, against textbooks, standards and the sales tax rule."""

import datetime as dt
from collections.abc import Sequence
from decimal import Decimal

import pytest

from coatbook.billing.actions import set_tax_rate
from coatbook.billing.pricing import tax_lines
from coatbook.billing.record import Line, Tax
from coatbook.store.acts import Ask
from coatbook.store.book import Book
from coatbook.values import Money, Price, Quantity
from published.checks import Check, table

SSUTA = "SSUTA s. 324 as enacted: R.I. Gen. Laws 44-18.1-25, N.D.C.C. 57-39.4-25"
CITY_CODE = "city code of Vienna, WV, s. 754: third decimal, by item or by invoice (Ord. 13-14)"
CONTEMPORARY = "openstax Contemporary Mathematics @6458acc"
ACCOUNTING = "openstax Principles of Accounting @2165bf6"
EN_16931 = "ConnectingEurope/eInvoicing-EN16931@b6c9e06"
DAY = dt.date(2026, 3, 2)


def taxes(book: Book, nets: Sequence[str], percents: Sequence[str]) -> tuple[Tax, ...]:
    """The taxes on lines of these amounts, at a place where these rates are charged by one jurisdiction each."""
    for level, percent in enumerate(percents):
        place = "US" + "-TX" * (level > 0) + "-MESA" * (level > 1)
        values = {"place": place, "kind": "labor", "percent": percent, "name": "Sales tax"}
        book.do(Ask("tax add", "tester", DAY), set_tax_rate, **values)
    each = Quantity.of(1, "each")
    amounts = [Money.parse(net, "USD") for net in nets]
    lines = [Line("wash", "Wash", each, Price(amount, each), amount, "labor") for amount in amounts]
    with book.read() as session:
        return tax_lines(session, "US-TX-MESA", lines, DAY, DAY)


DOCUMENTS = (
    Check("document-tax-428.99", (["428.99"], ["8.25"]), "35.39", f"{CONTEMPORARY} m00058"),
    Check("document-tax-499", (["499.00"], ["8.81"]), "43.96", f"{CONTEMPORARY} m00058"),
    Check("document-tax-432", (["432.00"], ["8.25"]), "35.64", f"{CONTEMPORARY} m00058"),
    Check("document-tax-18000", (["18000.00"], ["6"]), "1080.00", f"{ACCOUNTING} m67904"),
    Check("document-tax-50", (["50.00"], ["8"]), "4.00", f"{ACCOUNTING} m67903"),
    Check("document-vat-tie", (["1460.50"], ["25"]), "365.13", f"{EN_16931} ubl-tc434-example2.xml"),
    Check("document-vat-21", (["908.91"], ["21"]), "190.87", f"{EN_16931} ubl-tc434-example8.xml"),
    Check("document-vat-147", (["147.00"], ["21"]), "30.87", f"{EN_16931} ubl-tc434-example9.xml"),
    Check("document-vat-1562.39", (["1562.39"], ["25"]), "390.60", f"{EN_16931} BIS_Billing_30-Elnat.xml"),
    Check("document-third-decimal-5", (["0.90"], ["5"]), "0.05", SSUTA, status="memory"),
    Check("document-third-decimal-4", (["0.88"], ["5"]), "0.04", SSUTA, status="memory"),
    Check("document-by-invoice", (["1.09"] * 3, ["5"]), "0.16", SSUTA, status="memory"),
    Check("document-by-invoice-city", (["0.30"] * 3, ["1"]), "0.01", CITY_CODE, status="memory"),
    Check("document-aggregated", (["10.10"], ["6.25", "1.25"]), "0.76", SSUTA, status="memory"),
    Check("document-aggregated-down", (["1.00"], ["0.5", "0.5", "0.4"]), "0.01", SSUTA, status="memory"),
    Check("document-aggregated-up", (["1.00"], ["0.7", "0.7", "0.1"]), "0.02", SSUTA, status="memory"),
)


@table(DOCUMENTS)
def test_tax_of_a_document(book: Book, check: Check) -> None:
    nets, percents = check.inputs
    found = taxes(book, nets, percents)
    check.agrees(sum((tax.amount.decimal for tax in found), Decimal(0)))
    assert len(found) == len(percents)
    assert {tax.base.decimal for tax in found} == {sum(map(Decimal, nets))}


@pytest.mark.published(source=f"{SSUTA}: state and local rates are applied together, not rounded one by one")
def test_rates_rounded_one_by_one_would_come_to_more(book: Book) -> None:
    found = taxes(book, ["1.00"], ["0.5", "0.5", "0.5"])
    alone = sum((tax.base.decimal * tax.rate).quantize(Decimal("0.01"), "ROUND_HALF_UP") for tax in found)
    assert (sum(tax.amount.decimal for tax in found), alone) == (Decimal("0.02"), Decimal("0.03"))
