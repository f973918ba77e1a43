"""Warranty: when a coating's upkeep falls due. README.md tells the rules, their limits and sources."""

from typing import Any

from coatbook.calculators import Calculator, hookimpl
from coatbook_plugins.warranty.calculator import CALCULATOR


@hookimpl
def calculators() -> tuple[Calculator[Any], ...]:
    return (CALCULATOR,)
