"""Aircraft in words and as data with stable keys: what each is, and what is known of it over time."""

import datetime as dt
from dataclasses import dataclass
from typing import Any

from coatbook.aircraft.keepoff_types import UNSOURCED
from coatbook.aircraft.views import (
    AirframeView,
    ClockView,
    KeepOffView,
    MarkTurn,
    OwnerTurn,
    SurfaceView,
    WithdrawalView,
    airframe_view,
    airframes,
    find_airframe,
    keep_off_of,
    marks_of,
    owners_of,
    times_of,
    withdrawal_of,
)
from coatbook.store.book import Book
from coatbook.upkeep.views import CoatingView, coatings_of
from coatbook.values import Quantity
from coatbook.values.quantity import plain
from coatbook.values.words import a, count, table

IN_SERVICE, WITHDRAWN = "in service", "withdrawn"


@dataclass(frozen=True, slots=True)
class Known:
    """All that the book knows of an aircraft on a day."""

    airframe: AirframeView
    withdrawal: WithdrawalView | None
    marks: tuple[MarkTurn, ...]
    owners: tuple[OwnerTurn, ...]
    times: tuple[ClockView, ...]
    keep_off: tuple[KeepOffView, ...]
    coatings: tuple[CoatingView, ...]

    @property
    def state(self) -> str:
        return WITHDRAWN if self.withdrawal else IN_SERVICE


def known(book: Book, named: str, on: dt.date) -> Known:
    """What is known of the aircraft that a person means by a mark, a code or `sn:SERIAL`."""
    with book.read() as session:
        row = find_airframe(session, named, on)
        return Known(
            airframe=airframe_view(session, row, on),
            withdrawal=withdrawal_of(session, row.id, on),
            marks=marks_of(session, row.id, on),
            owners=owners_of(session, row.id, on),
            times=times_of(session, row.id, on),
            keep_off=keep_off_of(session, row.id, absent=True),
            coatings=coatings_of(session, row.id, on),
        )


Fleet = list[tuple[AirframeView, str]]


def fleet(book: Book, on: dt.date) -> Fleet:
    """All aircraft with the marks they wear and their states on a day."""
    with book.read() as session:
        return [
            (one, WITHDRAWN if withdrawal_of(session, one.id, on) else IN_SERVICE) for one in airframes(session, on)
        ]


def fleet_rows(aircraft: Fleet) -> list[dict[str, Any]]:
    """All aircraft, with stable keys."""
    return [
        {
            "airframe": one.code,
            "mark": one.mark,
            "serial": one.serial,
            "maker": one.maker,
            "model": one.model,
            "owner": one.owner.code if one.owner else None,
            "state": state,
        }
        for one, state in aircraft
    ]


def fleet_story(aircraft: Fleet) -> str:
    """All aircraft in columns."""
    if not aircraft:
        return "No aircraft yet. Add one with `coatbook aircraft add`."
    rows = [
        (
            one.mark or "no mark",
            one.code,
            f"{one.maker} {one.model}",
            one.serial,
            one.owner.name if one.owner else "",
            state,
        )
        for one, state in aircraft
    ]
    return table(("mark", "code", "type", "serial", "owner", "state"), rows)


def aircraft_data(one: Known) -> dict[str, Any]:
    """An aircraft with all that is known of it, with stable keys; null is not known."""
    airframe = one.airframe
    return {
        "airframe": airframe.code,
        "mark": airframe.mark,
        "serial": airframe.serial,
        "maker": airframe.maker,
        "model": airframe.model,
        "year": airframe.year,
        "designator": airframe.designator,
        "certification": airframe.certification,
        "burn_basis": airframe.burn_basis,
        "operated": airframe.operated,
        "owner": airframe.owner.code if airframe.owner else None,
        "state": one.state,
        "withdrawn": _withdrawn(one.withdrawal) if one.withdrawal else None,
        "marks": [{"mark": turn.mark} | _days(turn) | {"line": f"marking:{turn.id}"} for turn in one.marks],
        "owners": [{"owner": turn.owner.code} | _days(turn) | {"line": f"ownership:{turn.id}"} for turn in one.owners],
        "times": [_read_off(read) for read in one.times],
        "surfaces": [_surface(part) for part in airframe.surfaces],
        "keep_off": keep_off_rows(one),
        "coatings": [
            {
                "surface": laid.surface,
                "product": laid.product,
                "applied": laid.applied.isoformat(),
                "ended": laid.ended.isoformat() if laid.ended else None,
            }
            for laid in one.coatings
        ],
    }


def _days(turn: MarkTurn | OwnerTurn) -> dict[str, str | None]:
    return {"from": turn.from_on.isoformat(), "to": turn.last.isoformat() if turn.last else None}


def _withdrawn(gone: WithdrawalView) -> dict[str, str]:
    return {"from": gone.from_on.isoformat(), "why": gone.why, "line": f"withdrawn:{gone.id}"}


def _read_off(read: ClockView) -> dict[str, str]:
    hours = plain(read.hours.decimal("h"))
    return {"clock": read.clock, "day": read.on_day.isoformat(), "hours": hours, "line": f"times:{read.id}"}


def _surface(part: SurfaceView) -> dict[str, Any]:
    return {
        "surface": part.name,
        "area": plain(part.area.decimal()),
        "area_unit": part.area.unit,
        "substrate": part.substrate,
        "paint": part.paint,
        "layers_known": part.layers_known,
        "balanced": part.balanced,
        "primer": plain(part.primer.decimal()) if part.primer else None,
        "primer_unit": part.primer.unit if part.primer else None,
        "painted": part.painted,
        "mesh": part.mesh,
    }


def keep_off_rows(one: Known) -> list[dict[str, Any]]:
    """The keep-off list with stable keys; a count of null is to count yet, one of 0 is not on this aircraft."""
    return [{"item": part.item, "place": part.place, "count": part.count, "rule": part.rule} for part in one.keep_off]


def aircraft_story(one: Known) -> str:
    """An aircraft in words: one sentence, then what is known of it, its surfaces, and the rest where there is any."""
    airframe = one.airframe
    paragraphs = [
        [_opening(one)],
        _plate(airframe),
        _surfaces(airframe),
        _turns("mark", [(turn.mark or "no mark", turn, f"marking:{turn.id}") for turn in one.marks]),
        _turns("owner", [(turn.owner.name, turn, f"ownership:{turn.id}") for turn in one.owners]),
        _times(one.times),
        [_keep_off_table(one.keep_off)] if one.keep_off else [],
        [_coatings(one.coatings)] if one.coatings else [],
    ]
    return "\n\n".join("\n".join(lines) for lines in paragraphs if lines)


def _opening(one: Known) -> str:
    airframe = one.airframe
    built = f" of {airframe.year}" if airframe.year else ""
    owned = f"owned by {airframe.owner.name} ({airframe.owner.code})" if airframe.owner else "its owner not known"
    gone = f"; withdrawn since {one.withdrawal.from_on}: {one.withdrawal.why}" if one.withdrawal else ""
    return (
        f"{airframe.mark or airframe.code} is {a(airframe.maker)} {airframe.model}{built}, serial {airframe.serial}, "
        f"{owned}{gone}."
    )


def _plate(airframe: AirframeView) -> list[str]:
    rows = [
        ("code", airframe.code),
        ("designator", airframe.designator),
        ("certification", airframe.certification),
        ("burn basis", airframe.burn_basis or "not known"),  # said always: the gate asks for it
        ("operated under", airframe.operated),
    ]
    return [f"  {label:<14}  {value}" for label, value in rows if value]


def _surfaces(airframe: AirframeView) -> list[str]:
    if not airframe.surfaces:
        return [f"No surfaces yet. Add one with `coatbook aircraft surface {airframe.code} NAME`."]
    headings = ("surface", "area", "paint", "layers", "balanced", "primer", "painted", "mesh")
    rows = [
        (
            part.name,
            str(part.area),
            f"{part.paint} on {part.substrate}",
            "known" if part.layers_known else "not known",
            part.balanced,
            _or_nothing(part.primer),
            _or_nothing(part.painted),
            {True: "yes", False: "no", None: ""}[part.mesh],
        )
        for part in airframe.surfaces
    ]
    told = [place for place in range(len(headings)) if place < 5 or any(row[place] for row in rows)]
    figures = [at for at, place in enumerate(told) if place in (1, 5, 6)]
    return [table([headings[place] for place in told], [[row[place] for place in told] for row in rows], figures)]


def _or_nothing(value: Quantity | int | None) -> str:
    return "" if value is None else str(value)


def _turns(heading: str, turns: list[tuple[str, MarkTurn | OwnerTurn, str]]) -> list[str]:
    rows = [(name, str(turn.from_on), str(turn.last or ""), line) for name, turn, line in turns]
    return [table((heading, "from", "to", "line"), rows)] if rows else []


def _times(read: tuple[ClockView, ...]) -> list[str]:
    if not read:
        return []
    rows = [(one.clock, one.on_day.isoformat(), plain(one.hours.decimal("h")), f"times:{one.id}") for one in read]
    return [table(("clock", "day", "hours", "line"), rows, right=(2,))]


def _coatings(coatings: tuple[CoatingView, ...]) -> str:
    rows = [(laid.product, laid.surface, str(laid.applied), str(laid.job), str(laid.ended or "")) for laid in coatings]
    return table(("coating", "surface", "laid on", "job", "replaced"), rows, right=(3,))


def _keep_off_table(parts: tuple[KeepOffView, ...]) -> str:
    rows = [
        (part.item, part.place, {None: "to count", 0: "none"}.get(part.count, str(part.count)), part.rule)
        for part in parts
    ]
    return table(("keep off", "place", "count", "rule"), rows, right=(2,))


def keep_off_story(one: Known) -> str:
    """The keep-off list in words: how much of it is counted, then the list."""
    code = one.airframe.code
    called = one.airframe.mark or code
    if not one.keep_off:
        return (
            f'{called} has no keep-off list yet: `coatbook aircraft keepoff {code} --prefill "high wing"` begins one.'
        )
    to_count = sum(part.count is None for part in one.keep_off)
    there = sum(part.count != 0 for part in one.keep_off)
    told = f"{called} has {count(there, 'part')} on its keep-off list, "
    told += f"{to_count} of them still to count." if to_count else "all counted."
    return f"{told}\n\n{_keep_off_table(one.keep_off)}\n\nThe usual rules are {UNSOURCED}."
