"""Money that came in: what it settles, what it may not, and how an invoice stands afterwards."""

import datetime as dt

import pytest

from coatbook.billing.views import InvoiceView, invoice, payments
from coatbook.store.book import Book
from coatbook.values import Misuse, Refusal
from coatbook.values.days import Month
from desk.shopfloor import TODAY, accounts, close_through, derived, pay, strike, washed

ISSUED = "2026-04-09"  # 150.00 and 6.25 % tax, 9.375: 159.38, due in 14 days


def stands(book: Book, number: str, on: dt.date = TODAY) -> tuple[str, str, int]:
    """What is owed, the state, and days late."""
    with book.read() as session:
        view: InvoiceView = invoice(session, number, on)
    return str(view.owed), view.state, view.late


def test_nothing_paid(shop: Book) -> None:
    _, number = washed(shop, ISSUED)
    assert stands(shop, number, dt.date(2026, 4, 9)) == ("159.38", "owed", 0)
    assert stands(shop, number, dt.date(2026, 4, 23)) == ("159.38", "owed", 0)  # the due day itself
    assert stands(shop, number, dt.date(2026, 4, 24)) == ("159.38", "owed", 1)


def test_part_paid_then_settled(shop: Book) -> None:
    _, number = washed(shop, ISSUED)
    told = pay(shop, "2026-05-01", "100.00", number)
    assert told.text == "Payment 1: 100.00 USD from Jo Alder by check.\nInvoice 2026-0001: 59.38 USD still owed."
    assert stands(shop, number) == ("59.38", "part paid", 119)  # 23 April to 20 August
    told = pay(shop, "2026-05-20", "59.38", number)
    assert told.text.endswith("Invoice 2026-0001: settled.")
    assert stands(shop, number) == ("0.00", "settled", 0)


def test_as_of_an_earlier_day_later_money_has_not_come(shop: Book) -> None:
    _, number = washed(shop, ISSUED)
    pay(shop, "2026-05-01", "159.38", number)
    assert stands(shop, number, dt.date(2026, 4, 30)) == ("159.38", "owed", 7)
    assert stands(shop, number, dt.date(2026, 5, 1)) == ("0.00", "settled", 0)


def test_one_payment_settles_several_in_the_order_named(shop: Book) -> None:
    first, second = washed(shop, ISSUED)[1], washed(shop, ISSUED)[1]
    pay(shop, "2026-05-01", "200.00", second, first, second)
    assert stands(shop, second) == ("0.00", "settled", 0)
    assert stands(shop, first) == ("118.76", "part paid", 119)  # 2 x 159.38 - 200.00


def test_more_than_is_owed_is_refused(shop: Book) -> None:
    _, number = washed(shop, ISSUED)
    with pytest.raises(Refusal, match=r"0\.01 more came in than is owed on 2026-0001: check the amount"):
        pay(shop, "2026-05-01", "159.39", number)
    pay(shop, "2026-05-01", "159.38", number)
    with pytest.raises(Refusal, match=r"0\.01 more came in"):
        pay(shop, "2026-05-02", "0.01", number)
    assert stands(shop, number) == ("0.00", "settled", 0)


def test_another_customers_invoice_is_refused(shop: Book) -> None:
    _, number = washed(shop, ISSUED)
    with pytest.raises(Refusal, match="invoice 2026-0001 is Jo Alder's, not Birch Flying Club's"):
        pay(shop, "2026-05-01", "10.00", number, customer="birch")
    with pytest.raises(Refusal, match="there is no customer 'nobody'"):
        pay(shop, "2026-05-01", "10.00", number, customer="nobody")


def test_money_before_the_invoice_is_refused(shop: Book) -> None:
    _, number = washed(shop, ISSUED)
    with pytest.raises(Refusal, match="a payment on 2026-04-08 would come before invoice 2026-0001 was issued"):
        pay(shop, "2026-04-08", "10.00", number)
    pay(shop, ISSUED, "10.00", number)


@pytest.mark.parametrize("amount", ["0.00", "-5.00"])
def test_no_money_is_no_payment(shop: Book, amount: str) -> None:
    _, number = washed(shop, ISSUED)
    with pytest.raises(Refusal, match="must be more than zero"):
        pay(shop, "2026-05-01", amount, number)


def test_a_payment_names_what_it_pays(shop: Book) -> None:
    with pytest.raises(Misuse, match="name what is paid with --invoice NUMBER"):
        pay(shop, "2026-05-01", "10.00")
    with pytest.raises(Refusal, match="there is no invoice '2026-0009'"):
        pay(shop, "2026-05-01", "10.00", "2026-0009")


def test_a_struck_payment_never_was(shop: Book) -> None:
    first, second = washed(shop, ISSUED)[1], washed(shop, ISSUED)[1]
    pay(shop, "2026-05-01", "59.38", first)
    before = derived(shop)
    pay(shop, "2026-05-02", "150.00", first, second)
    strike(shop, "payment:2")
    assert derived(shop) == before
    with pytest.raises(Refusal, match="settles 2 is a part of payment:2"):
        strike(shop, "settles:2")


def test_a_payment_of_a_closed_month_is_struck_in_the_first_open_one(shop: Book) -> None:
    _, number = washed(shop, ISSUED)
    pay(shop, "2026-05-01", "100.00", number)
    close_through(shop, Month(2026, 5))
    strike(shop, "payment:1")
    assert stands(shop, number, dt.date(2026, 5, 31)) == ("59.38", "part paid", 38)
    assert stands(shop, number, dt.date(2026, 6, 1)) == ("159.38", "owed", 39)
    assert accounts(shop, dt.date(2026, 5, 31))["Money received, to bank"] == 100_00
    assert "Money received, to bank" not in accounts(shop)
    with shop.read() as session:
        assert [view.amount.minor for _, view in payments(session, dt.date(2026, 5, 31), "USD")] == [100_00]
        assert payments(session, TODAY, "USD") == ()
