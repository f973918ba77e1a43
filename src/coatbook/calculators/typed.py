"""One value as people write it: on the command line, in a cell of a CSV file, in a TOML file."""

import datetime as dt
import re
import typing
from decimal import Decimal
from typing import Any

from coatbook.calculators.fields import Described
from coatbook.values import Misuse, Money, Quantity
from coatbook.values.days import parse_day
from coatbook.values.money import parse_decimal
from coatbook.values.text import line, one_of

BETWEEN_ITEMS = "|"

_WHOLE = re.compile(r"-?[0-9]{1,9}")
_MONEY = re.compile(r"(\S+)\s+([A-Za-z]{3})")


def value_of(kind: Any, text: str, what: str) -> Any:
    """The value of type `kind` that `text` writes.

    Raises:
        Misuse: it writes none; the sentence says how one is written.
        TypeError: no value of that type can be written: the calculator's inputs are at fault.
    """
    text = text.strip()
    if typing.get_origin(kind) is typing.Literal:
        return one_of(text, typing.get_args(kind), what)
    if kind is str:
        return line(text, what)
    if kind is bool:
        return one_of(text, ("yes", "no", "true", "false"), what) in ("yes", "true")
    if kind is int:
        return _whole(text, what)
    if kind is Decimal:
        return parse_decimal(text, what)
    if kind is dt.date:
        return parse_day(text, what)
    if kind is Money:
        return _money(text, what)
    if hasattr(kind, "parse"):
        return kind.parse(text, what)
    raise TypeError(f"the input {what} is of a type that cannot be written: {kind}")


def native_of(kind: Any, value: Any, what: str) -> Any:
    """The value of type `kind` in a TOML file, where numbers, truths and days need no quotes."""
    if isinstance(value, str):
        return value_of(kind, value, what)
    if kind in (int, bool, dt.date) and type(value) is kind:
        return value
    if kind is Decimal and isinstance(value, int | Decimal) and not isinstance(value, bool):
        return value_of(Decimal, f"{value:f}" if isinstance(value, Decimal) else str(value), what)
    if kind is Quantity:
        raise Misuse(f'the {what} {value} has no unit: write it in quotes with its unit, such as "12 µm"')
    raise Misuse(f"the {what} {value!r} is not what is meant here: write it in quotes")


def cell_of(field: Described, text: str, what: str) -> Any:
    """The value of one field of a row; several items of one field are written with | between them."""
    if field.many:
        return tuple(value_of(field.kind, item, what) for item in text.split(BETWEEN_ITEMS))
    return value_of(field.kind, text, what)


def written(value: Any) -> str:
    """A default as help shows it."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, tuple):
        return BETWEEN_ITEMS.join(written(item) for item in value)
    if isinstance(value, Money):
        return f"{value} {value.currency}"
    return "" if value is None else str(value)


def _whole(text: str, what: str) -> int:
    if not _WHOLE.fullmatch(text):
        raise Misuse(f"the {what} {text!r} is not a whole number: write it like 2")
    return int(text)


def _money(text: str, what: str) -> Money:
    typed = _MONEY.fullmatch(text)
    if typed is None:
        raise Misuse(f"the {what} {text!r} is not an amount with its currency: write it like 45.00 USD")
    return Money.parse(typed[1], typed[2].upper(), what)
