"""The one form of a check against a source outside the project.

A module of published checks holds a table of `Check` rows, each with its own copy of the figure and its source beside
it, and one test per table:

    CHECKS = (
        Check("mil", inputs="1 mil", expected="25.4", source="16 CFR 500.19(a)"),
    )

    @table(CHECKS)
    def test_length(check: Check) -> None:
        check.agrees(Quantity.parse(check.inputs).decimal("µm"))

A check that is no table row, such as a count over a whole register, takes the marker instead:

    @pytest.mark.published(source="14 CFR 47.15")

The run prints at its end how many checks ran, by source.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Any, Literal

import pytest

Status = Literal["seen", "memory", "common practice"]


@dataclass(frozen=True, slots=True)
class Check:
    """One figure from outside.

    Attributes:
        id: a short name, unique in the whole of tests/published.
        inputs: what the figure is computed from.
        expected: the figure as the source gives it; a number may be written as a string to keep its decimals.
        source: standard and clause, book and table, data set and version, or reference library.
        tolerance: the greatest difference allowed between figures, 0 for equal.
        status: "seen", the figure was read in the source or a copy of it, or comes from a run of the named library;
            "memory", it was remembered, or computed here from the source's rule; "common practice", a rule of the
            trade without a source.
    """

    id: str
    inputs: Any
    expected: Any
    source: str
    tolerance: str = "0"
    status: Status = "seen"

    def agrees(self, found: Any) -> None:
        """Fail unless `found` is the expected figure within the tolerance."""
        expected, tolerance = self.expected, Fraction(self.tolerance)
        if isinstance(found, int | float | Decimal | Fraction) and not isinstance(found, bool):
            agreed = abs(Fraction(found) - Fraction(expected)) <= tolerance
        else:
            agreed = found == expected
        if not agreed:
            pytest.fail(f"{self.id}: found {found}, but {self.source} gives {expected} (± {self.tolerance})", False)


_BY_ID: dict[str, Check] = {}


def table(checks: Iterable[Check]) -> pytest.MarkDecorator:
    """Run a test once per row, as its argument `check`.

    Raises:
        ValueError: two different checks share an id, so that one would not be counted.
    """
    rows = tuple(checks)
    for row in rows:
        if _BY_ID.setdefault(row.id, row) != row:
            raise ValueError(f"two published checks are named {row.id!r}")
    return pytest.mark.parametrize("check", rows, ids=[row.id for row in rows])
