"""Exact, pure values: money, quantities with units, days, registration marks. No input, no output, no clock."""

from coatbook.values.money import Money, Price
from coatbook.values.quantity import Quantity
from coatbook.values.refusal import Misuse, Refusal
from coatbook.values.rounding import round_half_up

__all__ = ["Misuse", "Money", "Price", "Quantity", "Refusal", "round_half_up"]
