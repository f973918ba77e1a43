"""Dated rows of one kind put in turn: each holds from its own day to the day before the next one's."""

import datetime as dt
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any, Generic, TypeVar

from coatbook.aircraft.tables import Marking, Ownership

Row = TypeVar("Row", Marking, Ownership)


@dataclass(frozen=True, slots=True)
class Turn(Generic[Row]):
    """What holds from a day to a last day; None if nothing follows."""

    what: Row
    from_on: dt.date
    last: dt.date | None

    def meets(self, other: "Turn[Row]") -> bool:
        """Whether there is a day on which both hold."""
        return (other.last is None or self.from_on <= other.last) and (self.last is None or other.from_on <= self.last)


def turns(rows: Iterable[Row], alike: Callable[[Row], Any]) -> tuple[Turn[Row], ...]:
    """The rows of one airframe in turn. Of several from one day the last written holds; what follows itself goes on.

    `alike` says of a row what makes it the same as another.
    """
    of_day = {row.from_on: row for row in sorted(rows, key=lambda row: (row.from_on, row.id or 0))}
    begun: list[Row] = []
    for row in of_day.values():
        if not begun or alike(begun[-1]) != alike(row):
            begun.append(row)
    ends: list[dt.date | None] = [row.from_on - dt.timedelta(days=1) for row in begun[1:]]
    return tuple(Turn(row, row.from_on, last) for row, last in zip(begun, [*ends, None], strict=False))
