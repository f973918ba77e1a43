"""Rounding half up on whole numbers."""

from decimal import ROUND_HALF_UP, Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coatbook.values import round_half_up


@pytest.mark.parametrize(
    ("numerator", "denominator", "expected"),
    [(5, 10, 1), (4, 10, 0), (-5, 10, -1), (-4, 10, 0), (15, 10, 2), (25, 10, 3), (5, -10, -1), (0, 7, 0), (7, 1, 7)],
)
def test_a_tie_goes_away_from_zero(numerator: int, denominator: int, expected: int) -> None:
    assert round_half_up(numerator, denominator) == expected


@given(st.integers(-(10**12), 10**12), st.sampled_from([1, 2, 4, 5, 8, 10, 1000]))
def test_it_agrees_with_the_decimal_module(numerator: int, denominator: int) -> None:
    exact = Decimal(numerator) / Decimal(denominator)
    assert round_half_up(numerator, denominator) == int(exact.quantize(Decimal(1), ROUND_HALF_UP))


def test_nothing_is_divided_by_nothing() -> None:
    with pytest.raises(ZeroDivisionError):
        round_half_up(1, 0)
