"""Thickness: is there enough film to polish? README.md tells formulas, assumptions, limits and sources."""

from typing import Any

from coatbook.calculators import Calculator, hookimpl
from coatbook_plugins.thickness.calculator import CALCULATOR


@hookimpl
def calculators() -> tuple[Calculator[Any], ...]:
    return (CALCULATOR,)
