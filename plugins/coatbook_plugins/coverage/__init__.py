"""Coverage: product needed for an area, packs to buy, cost. README.md tells formulas, limits and sources."""

from typing import Any

from coatbook.calculators import Calculator, hookimpl
from coatbook_plugins.coverage.calculator import CALCULATOR


@hookimpl
def calculators() -> tuple[Calculator[Any], ...]:
    return (CALCULATOR,)
