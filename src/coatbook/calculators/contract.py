"""The calculator: a pure function with a face."""

from collections.abc import Callable
from dataclasses import dataclass, is_dataclass
from typing import Generic, TypeVar

from coatbook.calculators.result import Result
from coatbook.calculators.sheet import PARTS, Sheet

Inputs = TypeVar("Inputs")


@dataclass(frozen=True)  # not slotted: Python 3.11 cannot then call Calculator[Inputs](...)
class Calculator(Generic[Inputs]):
    """A calculator: which parts of a sheet it reads, how it gathers inputs from one, and how it computes.

    `gather` returns one input for each surface, product or coating of the sheet, and none where it has
    nothing to say. `compute` is pure: no clock, no input or output, no randomness, no binary float in its
    result; too little known is `NotEnough`. Heavy libraries are imported inside `compute`.
    """

    name: str
    version: str
    summary: str
    reads: tuple[str, ...]
    inputs: type[Inputs]
    gather: Callable[[Sheet], tuple[Inputs, ...]]
    compute: Callable[[Inputs], Result]

    def __post_init__(self) -> None:
        unknown = [part for part in self.reads if part not in PARTS]
        if unknown:
            raise ValueError(f"{self.name} reads {', '.join(unknown)}: a sheet has {', '.join(PARTS)}")
        if not is_dataclass(self.inputs):
            raise ValueError(f"{self.name}'s inputs are not a dataclass")
