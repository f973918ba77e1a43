"""Bounds that typed values must keep, each refused by one sentence."""

import datetime as dt
from typing import TypeVar

from coatbook.values.money import Money
from coatbook.values.quantity import Quantity, units_of
from coatbook.values.refusal import Misuse, Refusal
from coatbook.values.words import a

Amount = TypeVar("Amount", Money, Quantity)


def _size(value: Money | Quantity) -> int:
    return value.minor if isinstance(value, Money) else value.quanta


def more_than_nothing(value: Amount, what: str) -> Amount:
    """Refuse zero and less."""
    if _size(value) <= 0:
        raise Refusal(f"the {what} {value} must be more than zero")
    return value


def not_negative(value: Amount, what: str) -> Amount:
    """Refuse less than zero."""
    if _size(value) < 0:
        raise Refusal(f"the {what} {value} must not be below zero")
    return value


def of_dimension(value: Quantity, dimension: str, what: str) -> Quantity:
    """Refuse a quantity of another dimension."""
    if value.dimension != dimension:
        raise Misuse(f"the {what} {value} must be {a(dimension)}: use one of {', '.join(units_of(dimension))}")
    return value


def whole(number: int, least: int, most: int, what: str) -> int:
    """Refuse a whole number outside its bounds."""
    if not least <= number <= most:
        raise Misuse(f"the {what} {number} must lie between {least} and {most}")
    return number


def not_before(day: dt.date, earliest: dt.date, what: str, since: str) -> None:
    """Refuse a day that comes before what it follows."""
    if day < earliest:
        raise Refusal(f"{what} on {day} would come before {since} on {earliest}: give a later --on")
