"""What a calculator's author needs: `hookimpl`, the sheet it reads, the result it returns.

A plug-in is an importable module, named by an entry point of the group `coatbook`, with one function:

    from coatbook.calculators import Calculator, hookimpl

    @hookimpl
    def calculators():
        return (Calculator(name="area", version="1", summary="...", reads=("aircraft",), inputs=Inputs,
                           gather=gather, compute=compute),)
"""

from coatbook.calculators.contract import Calculator
from coatbook.calculators.fields import Field
from coatbook.calculators.hooks import hookimpl
from coatbook.calculators.result import Due, Figure, Level, Need, NotEnough, Result, State, Verdict
from coatbook.calculators.sheet import (
    Aircraft,
    Coating,
    Done,
    Every,
    Gauge,
    Past,
    Product,
    Reading,
    Sheet,
    Step,
    Surface,
    Terms,
    Upkeep,
)

__all__ = [
    "Aircraft",
    "Calculator",
    "Coating",
    "Done",
    "Due",
    "Every",
    "Field",
    "Figure",
    "Gauge",
    "Level",
    "Need",
    "NotEnough",
    "Past",
    "Product",
    "Reading",
    "Result",
    "Sheet",
    "State",
    "Step",
    "Surface",
    "Terms",
    "Upkeep",
    "Verdict",
    "hookimpl",
]
