"""The warranty calculator: one coating's upkeep, as it stands on a day."""

import datetime as dt
from dataclasses import dataclass
from typing import Annotated

from coatbook.calculators import (
    Calculator,
    Coating,
    Done,
    Due,
    Field,
    Level,
    NotEnough,
    Result,
    Sheet,
    Upkeep,
    Verdict,
)
from coatbook.calculators.sheet import LastDay
from coatbook_plugins.warranty.formulas import Window, anchor_of, from_first_not_done, windows

SOURCES = (
    "the upkeep and its intervals: the terms the coating was laid under",
    "n-th day due from the anchor, the month's last day where it lacks the date: Reg. (EEC, Euratom) 1182/71 art. 3",
    "anyone may do the upkeep: 16 CFR 700.10(c)",
)
ANYONE = "anyone may do this upkeep; what counts is the day and evidence of it (16 CFR 700.10(c))"
CONSEQUENCES = {
    "ends": "a miss ends the terms of this coating",
    "shortens": "a miss shortens the terms of this coating",
    "warns": "a miss is noted and changes no terms",
}


@dataclass(frozen=True, slots=True)
class Inputs:
    """One coating, the upkeep its terms ask for, and what was done of it."""

    applied: Annotated[dt.date, Field("day of the last coat")]
    as_of: Annotated[dt.date, Field("day to look at it from")]
    upkeep: Annotated[tuple[Upkeep, ...], Field("what the terms ask for, every=6 months|800 flight hours")]
    coating: Annotated[str, Field("the coating's name")] = "coating"
    surface: Annotated[str, Field("the surface it is on")] = ""
    product: Annotated[str, Field("the product it is of")] = ""
    done: Annotated[tuple[Done, ...], Field("upkeep done, by anyone")] = ()
    last_day: Annotated[LastDay, Field("which day ends an interval: same date, or the day before")] = "same date"
    ended: Annotated[dt.date | None, Field("day the coating was taken off or given up")] = None


def gather(sheet: Sheet) -> tuple[Inputs, ...]:
    """One input for each coating whose terms ask for upkeep."""
    return tuple(_inputs(coating, sheet.as_of) for coating in sheet.coatings if coating.terms.upkeep)


def _inputs(coating: Coating, as_of: dt.date) -> Inputs:
    return Inputs(
        applied=coating.applied,
        as_of=as_of,
        upkeep=coating.terms.upkeep,
        coating=coating.key,
        surface=coating.surface,
        product=coating.product,
        done=coating.done,
        last_day=coating.terms.last_day,
        ended=coating.ended,
    )


def compute(inputs: Inputs) -> Result:
    """The windows that matter on the day: from each item's first not done to its first still to open.

    Raises:
        NotEnough: an interval is in flight hours, which are not known here; or nothing is asked.
    """
    if not inputs.upkeep:
        raise NotEnough(f"the terms of {inputs.coating} ask for no upkeep: there is nothing to date")
    if inputs.as_of < inputs.applied:
        raise NotEnough(f"on {inputs.as_of} {inputs.coating} was not applied yet: it was on {inputs.applied}")
    if inputs.ended is not None and inputs.ended <= inputs.as_of:
        reason = f"ended: the coating was taken off or given up on {inputs.ended}"
        return Result(verdicts=(Verdict(inputs.coating, "stop", reason),), sources=SOURCES)
    found = {item: tuple(_windows(inputs, item)) for item in inputs.upkeep}
    last = _ended_by_a_miss(inputs, found)
    dues = tuple(
        _due(inputs, item, window)
        for item, every_window in found.items()
        for window in from_first_not_done(every_window)
        if last is None or window.opens <= last
    )
    level, reason = _standing(inputs, found, dues, last)
    return Result(
        verdicts=(Verdict(inputs.coating, level, reason),),
        dues=dues,
        cautions=(ANYONE, *_cautions(inputs, found)),
        sources=SOURCES,
    )


Found = dict[Upkeep, tuple[Window, ...]]


def _windows(inputs: Inputs, item: Upkeep) -> tuple[Window, ...]:
    done = [one.on for one in inputs.done if one.item == item.item]
    try:
        return tuple(windows(anchor_of(inputs.applied, item), item, inputs.last_day, done, inputs.as_of))
    except NotEnough as refusal:
        raise NotEnough(f"{inputs.coating}, {item.item}: {refusal}") from None


def _missed(inputs: Inputs, found: Found, miss: str) -> list[tuple[dt.date, str]]:
    """(Day its window closed, item) of every missed window of items with that consequence, in order."""
    return sorted(
        (window.closes, item.item)
        for item, every_window in found.items()
        if item.miss == miss
        for window in every_window
        if window.state(inputs.as_of) == "missed"
    )


def _ended_by_a_miss(inputs: Inputs, found: Found) -> dt.date | None:
    """The last day of the terms, if a miss ended them."""
    return min((day for day, _ in _missed(inputs, found, "ends")), default=None)


def _due(inputs: Inputs, item: Upkeep, window: Window) -> Due:
    anchor = anchor_of(inputs.applied, item)
    since = "the day" if anchor == inputs.applied else f"{item.first_after} days after"
    return Due(
        coating=inputs.coating,
        item=item.item,
        n=window.n,
        opens=window.opens,
        due=window.due,
        closes=window.closes,
        state=window.state(inputs.as_of),
        because=f"{window.n} × {window.every} after {anchor}, {since} it was applied",
        consequence=CONSEQUENCES[item.miss],
    )


def _standing(inputs: Inputs, found: Found, dues: tuple[Due, ...], last: dt.date | None) -> tuple[Level, str]:
    """go, care and stop stand for in terms, shortened and ended, which the reason begins with."""
    if last is not None:
        item = _missed(inputs, found, "ends")[0][1]
        return "stop", f"ended: {item} was to be done by {last}"
    shortened = _missed(inputs, found, "shortens")
    if shortened:
        day, item = shortened[0]
        return "care", f"shortened: {item} was to be done by {day}"
    ahead = [due for due in dues if due.state not in ("missed", "done")]
    following = min(ahead, key=lambda due: (due.due, due.item))
    if following.state == "in grace":
        return "go", f"in terms: {following.item} was due on {following.due}, its grace ends on {following.closes}"
    return "go", f"in terms: {following.item} is due on {following.due}"


def _cautions(inputs: Inputs, found: Found) -> list[str]:
    cautions = [f"{item} was missed: its window closed on {day}" for day, item in _missed(inputs, found, "warns")]
    asked = {item.item for item in inputs.upkeep}
    used = {(item.item, window.done) for item, every_window in found.items() for window in every_window}
    for one in inputs.done:
        if one.item not in asked:
            cautions.append(f"{one.item} was done on {one.on}, which the terms do not ask for")
        elif one.on <= inputs.as_of and (one.item, one.on) not in used:
            cautions.append(f"{one.item} was done on {one.on}, outside every window or a second time in one")
    return cautions


CALCULATOR = Calculator(
    name="warranty",
    version="1",
    summary="when a coating's upkeep falls due, and whether its terms still hold",
    reads=("coatings",),
    inputs=Inputs,
    gather=gather,
    compute=compute,
)
