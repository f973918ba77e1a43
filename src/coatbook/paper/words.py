"""Values as people read them: money, numbers and days by the locale; the words around them are English.

Every amount comes exact and already rounded; nothing here rounds money. A currency shows the decimals of ISO 4217,
as the book keeps it, whatever the locale data say of cash.
"""

import datetime as dt
import re
from collections.abc import Sequence
from copy import copy
from decimal import Decimal
from functools import cache

from babel import Locale, UnknownLocaleError
from babel.dates import format_date
from babel.numbers import format_decimal

from coatbook.values import Misuse, Money, Price, Quantity
from coatbook.values.currency import digits

NO_BREAK = "\u00a0"

_RAISED = {"m2": "m²", "ft2": "ft²", "m2/L": "m²/L", "ft2/gal": "ft²/gal"}
_LETTER_BEFORE_DIGIT = re.compile(r"(?<=[^\W\d_])(?=\d)")


@cache
def locale_named(name: str) -> Locale:
    """The locale of a name such as en_US.

    Raises:
        Misuse: the Unicode locale data know no such locale.
    """
    try:
        return Locale.parse(name)
    except (UnknownLocaleError, ValueError):
        raise Misuse(f"{name!r} is not a locale: write language and country like en_US or de_DE") from None


def money(amount: Money, locale: str) -> str:
    """An amount in the locale's standard form: $4,512.38 in en_US, 4.512,38 € in de_DE."""
    known = locale_named(locale)
    pattern = copy(known.currency_formats["standard"])
    places = digits(amount.currency)
    pattern.frac_prec = (places, places)
    text = str(pattern.apply(amount.decimal, known, currency=amount.currency, currency_digits=False))
    return _LETTER_BEFORE_DIGIT.sub(NO_BREAK, text)


def number(value: Decimal, locale: str) -> str:
    """A number with as many decimals as it has, zeros at the end left off."""
    return format_decimal(value.normalize(), locale=locale_named(locale), decimal_quantization=False)


def unit(name: str) -> str:
    """A unit as printed: ft2 is ft²."""
    return _RAISED.get(name, name)


def quantity(amount: Quantity, locale: str) -> str:
    """A quantity with its unit, to three decimals; pieces are a bare number."""
    figure = number(amount.decimal(), locale)
    return figure if amount.unit == "each" else f"{figure} {unit(amount.unit)}"


def price(asked: Price, locale: str) -> str:
    """A price as "$12.50 per ft²", "$45.00 per 128 fl oz" or "$250.00 each"."""
    one = asked.per.decimal() == 1
    if asked.per.unit == "each":
        per = "each" if one else f"for {quantity(asked.per, locale)}"
    else:
        per = f"per {unit(asked.per.unit) if one else quantity(asked.per, locale)}"
    return f"{money(asked.money, locale)} {per}"


def rate(fraction: Decimal, locale: str) -> str:
    """A fraction in percent, with the decimals it needs: 0.0825 is 8.25%."""
    known = locale_named(locale)
    return str(known.percent_formats[None].apply(fraction, known, decimal_quantization=False))


def long_date(day: dt.date, locale: str) -> str:
    """A day in the locale's long form: July 17, 2026."""
    return format_date(day, format="long", locale=locale_named(locale))


def every_long_date(locale: str) -> tuple[str, ...]:
    """A day of each month in the locale's long form: all the letters its days can bring to paper."""
    return tuple(long_date(dt.date(2026, month, 28), locale) for month in range(1, 13))


def registration_label(mark: str | None) -> str:
    """What a registration is called: by its N-number in the United States."""
    return "Registration (N-number)" if (mark or "").upper().startswith("N") else "Registration"


def listed(parts: Sequence[str]) -> str:
    """ "a", "a and b", "a, b and c"."""
    return " and ".join([*([", ".join(parts[:-1])] if parts[1:] else []), *parts[-1:]])


def within_sentence(text: str) -> str:
    """A phrase put inside a sentence: no full stop at its end, and small at its start unless a name or code."""
    kept = text.strip().rstrip(".")
    first_word = kept.split(" ", 1)[0]
    if first_word[1:] and not first_word[1:].islower():
        return kept
    return kept[:1].lower() + kept[1:]


def whole_sentence(text: str) -> str:
    """A phrase as a sentence: large at its start, with a full stop."""
    kept = text.strip()
    return kept[:1].upper() + kept[1:] + ("" if kept.endswith((".", "!", "?")) else ".")


def kept_together(text: str, *pieces: str) -> str:
    """`text` with the blanks inside each of `pieces` made unbreakable, so that no line ends within a date."""
    for piece in pieces:
        text = text.replace(piece, piece.replace(" ", NO_BREAK))
    return text
