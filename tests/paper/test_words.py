"""Money, numbers and days as the locale writes them."""

import datetime as dt
from decimal import Decimal

import pytest

from coatbook.paper import words
from coatbook.values import Misuse, Money, Price, Quantity


@pytest.mark.parametrize(
    ("minor", "currency", "locale", "shown"),
    [
        (451_238, "USD", "en_US", "$4,512.38"),
        (-451_238, "USD", "en_US", "-$4,512.38"),
        (451_238, "EUR", "de_DE", "4.512,38\u00a0€"),
        (451_238, "EUR", "fr_FR", "4\u202f512,38\u00a0€"),
        (4_512, "JPY", "en_US", "¥4,512"),
        (4_512_345, "KWD", "en_US", "KWD\u00a04,512.345"),
        (4_512_345, "IQD", "en_US", "IQD\u00a04,512.345"),  # ISO 4217 has three decimals, locale data none
        (2**63 - 1, "USD", "en_US", "$92,233,720,368,547,758.07"),
    ],
)
def test_money_shows_every_minor_unit(minor: int, currency: str, locale: str, shown: str) -> None:
    assert words.money(Money(minor, currency), locale) == shown


@pytest.mark.parametrize(
    ("fraction", "locale", "shown"),
    [
        ("0.0825", "en_US", "8.25%"),
        ("0.08375", "en_US", "8.375%"),
        ("0.10", "en_US", "10%"),
        ("0", "en_US", "0%"),
        ("0.19", "de_DE", "19\u00a0%"),
        ("0.055", "fr_FR", "5,5\u00a0%"),
    ],
)
def test_a_rate_keeps_its_decimals(fraction: str, locale: str, shown: str) -> None:
    assert words.rate(Decimal(fraction), locale) == shown


@pytest.mark.parametrize(
    ("written", "locale", "shown"),
    [
        ("174.5 ft2", "en_US", "174.5 ft²"),
        ("1234.25 m2", "de_DE", "1.234,25 m²"),
        ("100 fl oz", "en_US", "100 fl oz"),
        ("3 each", "en_US", "3"),
        ("0 h", "en_US", "0 h"),
    ],
)
def test_a_quantity_with_its_unit(written: str, locale: str, shown: str) -> None:
    assert words.quantity(Quantity.parse(written), locale) == shown


@pytest.mark.parametrize(
    ("per", "shown"),
    [
        ("1 ft2", "$45.00 per ft²"),
        ("128 fl oz", "$45.00 per 128 fl oz"),
        ("1 each", "$45.00 each"),
        ("10 each", "$45.00 for 10"),
    ],
)
def test_a_price_says_what_it_is_for(per: str, shown: str) -> None:
    assert words.price(Price(Money(4500, "USD"), Quantity.parse(per)), "en_US") == shown


def test_days_are_long() -> None:
    day = dt.date(2026, 7, 17)
    assert words.long_date(day, "en_US") == "July 17, 2026"
    assert words.long_date(day, "en_GB") == "17 July 2026"
    assert words.long_date(day, "el_GR") == "17 Ιουλίου 2026"


def test_an_unknown_locale_is_refused() -> None:
    with pytest.raises(Misuse, match="is not a locale"):
        words.money(Money(1, "USD"), "xx_YY")


def test_registration_is_an_n_number_in_the_united_states() -> None:
    assert words.registration_label("N123AB") == "Registration (N-number)"
    assert words.registration_label("SX-ABC") == "Registration"


def test_phrases_fit_into_sentences() -> None:
    assert words.within_sentence("Oxidation removal.") == "oxidation removal"
    assert words.within_sentence("N123AB, belly only") == "N123AB, belly only"
    assert words.whole_sentence("the term ends") == "The term ends."
    assert words.listed(["wash", "inspection", "boost"]) == "wash, inspection and boost"
