"""Windows of upkeep: when each opens, is due and closes, which are done, and how they stand on a day."""

import datetime as dt
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from coatbook.calculators import Every, NotEnough, State, Upkeep
from coatbook.calculators.sheet import LastDay
from coatbook.values import Misuse
from coatbook.values.days import last_day


@dataclass(frozen=True, slots=True)
class Window:
    """The n-th time an item falls due. `every` is the interval that was reached first."""

    n: int
    opens: dt.date
    due: dt.date
    closes: dt.date
    every: Every
    done: dt.date | None = None

    def state(self, as_of: dt.date) -> State:
        """How it stands at the end of the day `as_of`."""
        if self.done is not None:
            return "done"
        if as_of < self.opens:
            return "not yet"
        if as_of < self.due:
            return "opening"
        if as_of == self.due:
            return "due"
        return "in grace" if as_of <= self.closes else "missed"


def anchor_of(applied: dt.date, item: Upkeep) -> dt.date:
    """The day an item's intervals are counted from."""
    return applied + dt.timedelta(days=item.first_after)


def nth_window(anchor: dt.date, item: Upkeep, n: int, convention: LastDay) -> Window:
    """The n-th window, counted from the anchor and never from the one before: n intervals after it."""
    due, every = min(
        ((_nth_due(anchor, n, every, convention), every) for every in item.every), key=lambda pair: pair[0]
    )
    return Window(n, due - dt.timedelta(days=item.opens_before), due, due + dt.timedelta(days=item.grace), every)


def _nth_due(anchor: dt.date, n: int, every: Every, convention: LastDay) -> dt.date:
    if every.per == "flight hour":
        raise NotEnough(f"upkeep every {every} cannot be dated: the hours flown are not known")
    return last_day(anchor, n * every.amount, every.per, convention)


def windows(
    anchor: dt.date, item: Upkeep, convention: LastDay, done: Sequence[dt.date], as_of: dt.date
) -> Iterator[Window]:
    """Every window up to the first that opens after `as_of`, each with the day it was done, if it was.

    Upkeep done inside a window counts for it, and for one window only; what was done after `as_of` is not known
    yet on that day.
    """
    _refuse_odd(item)
    left = sorted(day for day in done if day <= as_of)
    n = 0
    while True:
        n += 1
        window = nth_window(anchor, item, n, convention)
        inside = next((day for day in left if window.opens <= day <= window.closes), None)
        if inside is not None:
            left.remove(inside)
        yield Window(window.n, window.opens, window.due, window.closes, window.every, inside)
        if window.opens > as_of:
            return


def from_first_not_done(every_window: Sequence[Window]) -> tuple[Window, ...]:
    """The windows from the first that is not done on."""
    first = next(place for place, window in enumerate(every_window) if window.done is None)
    return tuple(every_window[first:])


def _refuse_odd(item: Upkeep) -> None:
    if not item.every:
        raise NotEnough(f"the terms do not say how often {item.item} is asked: give its interval")
    for name, days in (
        ("opens before", item.opens_before), ("grace", item.grace), ("first after", item.first_after),
    ):  # fmt: skip
        if not 0 <= days <= 3660:
            raise Misuse(f"the {name} of {item.item} is {days} days: it must lie between 0 and 3660")
