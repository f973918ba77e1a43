"""Money in whole minor units, its splits, and prices per a stated quantity."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coatbook.values import Misuse, Money, Price, Quantity, Refusal
from coatbook.values.money import LARGEST, MOST_TYPED, parse_decimal

AMOUNTS = st.integers(-(10**15), 10**15)
WEIGHTS = st.lists(st.integers(0, 10**9), min_size=1, max_size=12).filter(lambda weights: sum(weights) > 0)


def usd(text: str) -> Money:
    return Money.parse(text, "USD")


@pytest.mark.parametrize(
    ("text", "currency", "minor"),
    [("45.00", "USD", 4500), (" 45 ", "USD", 4500), ("-0.05", "USD", -5), ("7", "JPY", 7), ("1.234", "KWD", 1234)],
)
def test_an_amount_is_read_into_minor_units(text: str, currency: str, minor: int) -> None:
    assert Money.parse(text, currency) == Money(minor, currency)


@pytest.mark.parametrize(
    "text", ["", "45,00", "1,000.00", "$45", "4.5e1", "NaN", "inf", "+5", ".5", "5.", "٤٥", "45 USD", "1_000"]
)
def test_anything_but_a_plain_number_is_refused(text: str) -> None:
    with pytest.raises(Misuse, match="is not a plain number"):
        Money.parse(text, "USD")


@pytest.mark.parametrize(("text", "currency"), [("0.005", "USD"), ("1.5", "JPY"), ("1.0001", "KWD")])
def test_more_decimals_than_the_currency_has_are_refused(text: str, currency: str) -> None:
    with pytest.raises(Misuse, match=f"decimals: {currency} has"):
        Money.parse(text, currency, "price")


def test_zeros_beyond_the_currencys_decimals_do_no_harm() -> None:
    assert Money.parse("45.0000", "USD") == usd("45.00")


def test_an_unknown_currency_is_refused() -> None:
    with pytest.raises(Misuse, match="not an ISO 4217"):
        Money.parse("1.00", "usd")


def test_an_amount_beyond_64_bits_is_refused() -> None:
    assert Money(-LARGEST, "USD").minor == -LARGEST
    with pytest.raises(Refusal, match="larger than a book can hold"):
        Money(LARGEST, "USD") + Money(1, "USD")


@pytest.mark.parametrize(
    ("most", "beyond", "currency"),
    [
        ("1000000000.00", "1000000000.01", "USD"),
        ("100000000000", "100000000001", "JPY"),
        ("100000000.000", "100000000.001", "KWD"),
    ],
)
def test_more_money_than_a_shop_can_mean_is_refused(most: str, beyond: str, currency: str) -> None:
    assert Money.parse(most, currency).minor == -Money.parse(f"-{most}", currency).minor == MOST_TYPED
    for typed in (beyond, f"-{beyond}", "999999999999999"):
        with pytest.raises(Refusal, match=f"the rate {typed} is larger than a book can hold.* {most} {currency} is"):
            Money.parse(typed, currency, "rate")


def test_two_currencies_do_not_mix() -> None:
    for operation in (lambda a, b: a + b, lambda a, b: a - b, lambda a, b: a < b):
        with pytest.raises(Refusal, match="one currency"):
            operation(usd("1.00"), Money.parse("1.00", "EUR"))


def test_amounts_add_compare_and_print() -> None:
    assert usd("1.10") + usd("2.20") == usd("3.30")
    assert usd("1.10") - usd("2.20") == -usd("1.10")
    assert usd("1.10") < usd("2.20")
    assert usd("2.20") > usd("1.10")
    assert not Money.zero("USD")
    assert usd("0.01")
    assert (str(usd("-0.05")), str(Money(7, "JPY")), str(Money(5, "KWD"))) == ("-0.05", "7", "0.005")
    assert usd("12.30").decimal == Decimal("12.30")


@given(st.integers(-MOST_TYPED, MOST_TYPED))
def test_what_is_printed_reads_back(minor: int) -> None:
    assert usd(str(Money(minor, "USD"))).minor == minor


@given(AMOUNTS, WEIGHTS)
def test_a_split_adds_up_to_the_cent(minor: int, weights: list[int]) -> None:
    shares = Money(minor, "USD").split(weights)
    assert len(shares) == len(weights)
    assert sum(share.minor for share in shares) == minor


@given(AMOUNTS, WEIGHTS)
def test_no_share_is_a_cent_or_more_from_its_part(minor: int, weights: list[int]) -> None:
    for share, weight in zip(Money(minor, "USD").split(weights), weights, strict=True):
        assert abs(share.minor * sum(weights) - minor * weight) <= sum(weights)
        assert weight or not share


@pytest.mark.parametrize("weights", [[], [0, 0], [3, -1], [-1]])
def test_weights_that_cannot_share_are_refused(weights: list[int]) -> None:
    with pytest.raises(Refusal, match="shares need weights"):
        usd("10.00").split(weights)


def test_a_ratio_is_rounded_once() -> None:
    assert usd("10.00").times(1, 3) == usd("3.33")
    assert usd("0.01").times(1, 2) == usd("0.01")
    assert usd("-0.01").times(1, 2) == usd("-0.01")


def test_a_price_is_for_a_stated_quantity() -> None:
    price = Price(usd("45.00"), Quantity.parse("128 fl oz"))
    assert price.of(Quantity.parse("1 gal")) == usd("45.00")
    assert price.of(Quantity.parse("12 fl oz")) == usd("4.22")  # 4.21875
    assert str(price) == "45.00 per 128 fl oz"
    assert str(Price(usd("95.00"), Quantity.parse("1 h"))) == "95.00 per h"


def test_a_price_says_which_dimension_it_is_for() -> None:
    with pytest.raises(Refusal, match="is a mass, where a volume is meant"):
        Price(usd("45.00"), Quantity.parse("1 gal")).of(Quantity.parse("1 lb"))


@pytest.mark.parametrize("per", ["0 gal", "-1 gal"])
def test_a_price_per_nothing_is_refused(per: str) -> None:
    with pytest.raises(Refusal, match="says nothing"):
        Price(usd("45.00"), Quantity.parse(per))


@given(st.integers(0, 10**8), st.integers(0, 10**6))
def test_what_empties_the_pack_costs_the_pack(minor: int, thousandths: int) -> None:
    pack = Quantity.of(Decimal(thousandths + 1) / 1000, "gal")
    assert Price(Money(minor, "USD"), pack).of(pack.told("fl oz")) == Money(minor, "USD")


def test_a_plain_number_keeps_its_decimals() -> None:
    assert parse_decimal(" 1234.50 ", "rate") == Decimal("1234.50")
    with pytest.raises(Misuse, match="the rate '1e3'"):
        parse_decimal("1e3", "rate")
