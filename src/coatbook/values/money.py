"""Exact money: whole minor units of one currency (ISO 4217), rounded half up, never a binary float."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Self

from coatbook.values.currency import digits
from coatbook.values.quantity import Quantity
from coatbook.values.refusal import Misuse, Refusal
from coatbook.values.rounding import round_half_up

LARGEST = 2**63 - 1
MOST_TYPED = 100_000_000_000  # minor units; 1,000,000,000.00 in a currency of two decimals

_AMOUNT = re.compile(r"(-?)([0-9]{1,15})(?:\.([0-9]{1,9}))?")


def parse_decimal(text: str, what: str) -> Decimal:
    """A plain decimal number, ASCII digits only.

    Raises:
        Misuse: anything else: NaN, exponents, thousands separators, other digits.
    """
    if not _AMOUNT.fullmatch(text.strip()):
        raise Misuse(f"the {what} {text!r} is not a plain number: write it like 1234.50")
    return Decimal(text.strip())


@dataclass(frozen=True, slots=True)
class Money:
    """An amount in minor units (cents) of a currency named by its ISO 4217 code."""

    minor: int
    currency: str

    def __post_init__(self) -> None:
        if abs(self.minor) > LARGEST:
            raise Refusal("the amount is larger than a book can hold: check the number of digits")

    @classmethod
    def parse(cls, text: str, currency: str, what: str = "amount") -> Self:
        """Read "45.00".

        Raises:
            Misuse: no plain number, or more decimals than the currency has.
            Refusal: more than `MOST_TYPED`, which no shop can mean.
        """
        places = digits(currency)
        scaled = parse_decimal(text, what).scaleb(places)
        if scaled != scaled.to_integral_value():
            raise Misuse(f"the {what} {text.strip()} has more than {places} decimals: {currency} has {places}")
        if abs(scaled) > MOST_TYPED:
            most = f"{cls(MOST_TYPED, currency)} {currency}"
            raise Refusal(
                f"the {what} {text.strip()} is larger than a book can hold: check the digits, {most} is the most"
            )
        return cls(int(scaled), currency)

    @classmethod
    def zero(cls, currency: str) -> Self:
        return cls(0, currency)

    @property
    def decimal(self) -> Decimal:
        """The amount in major units, with the currency's own number of decimals."""
        return Decimal(self.minor).scaleb(-digits(self.currency))

    def __str__(self) -> str:
        return f"{self.decimal:.{digits(self.currency)}f}"

    def _same(self, other: "Money") -> int:
        if other.currency != self.currency:
            raise Refusal(f"{self.currency} and {other.currency} do not add up: a book has one currency")
        return other.minor

    def __add__(self, other: "Money") -> "Money":
        return Money(self.minor + self._same(other), self.currency)

    def __sub__(self, other: "Money") -> "Money":
        return Money(self.minor - self._same(other), self.currency)

    def __neg__(self) -> "Money":
        return Money(-self.minor, self.currency)

    def __lt__(self, other: "Money") -> bool:
        return self.minor < self._same(other)

    def __bool__(self) -> bool:
        return self.minor != 0

    def times(self, numerator: int, denominator: int) -> "Money":
        """This amount times a ratio, rounded half up once."""
        return Money(round_half_up(self.minor * numerator, denominator), self.currency)

    def split(self, weights: Sequence[int]) -> tuple["Money", ...]:
        """Shares by weight that add up to the amount exactly: each share is the growth of the rounded running total."""
        whole = sum(weights)
        if whole <= 0 or min(weights) < 0:
            raise Refusal("shares need weights of zero or more that do not all vanish")
        shares, running, given = [], 0, 0
        for weight in weights:
            running += weight
            reached = round_half_up(self.minor * running, whole)
            shares.append(Money(reached - given, self.currency))
            given = reached
        return tuple(shares)


@dataclass(frozen=True, slots=True)
class Price:
    """Money per a stated quantity, such as 45.00 per 128 fl oz."""

    money: Money
    per: Quantity

    def __post_init__(self) -> None:
        if self.per.quanta <= 0:
            raise Refusal(f"a price per {self.per} says nothing: give a quantity of more than zero")

    def of(self, quantity: Quantity) -> Money:
        """What `quantity` costs, rounded half up once."""
        return self.money.times(quantity.in_same(self.per), self.per.quanta)

    def __str__(self) -> str:
        per = self.per.unit if self.per.quanta == Quantity.of(1, self.per.unit).quanta else str(self.per)
        return f"{self.money} per {per}"
