"""What writes airframes, their marks, owners and surfaces."""

import datetime as dt
import re
from collections.abc import Callable
from typing import Any

from sqlalchemy import select

from coatbook.aircraft.lifetime import write_mark, write_owner
from coatbook.aircraft.surfaces import refuse_impossible
from coatbook.aircraft.tables import BALANCED, CERTIFICATIONS, PAINTS, SUBSTRATES, Airframe, Surface
from coatbook.aircraft.views import find_airframe
from coatbook.store.acts import OpenAct
from coatbook.store.finding import refuse_taken
from coatbook.values import Misuse, Quantity, Refusal, text
from coatbook.values.checks import more_than_nothing, not_negative, of_dimension, whole
from coatbook.values.marks import Mark

FIRST_YEAR = 1903
_DESIGNATOR = re.compile(r"[A-Z][A-Z0-9]{1,3}")
CONTROL_SURFACES = {
    "aileron", "elevator", "rudder", "flap", "stabilator", "ruddervator", "elevon", "flaperon", "tab",
}  # fmt: skip
_WORD = re.compile(r"[a-z]+")


def add_airframe(
    act: OpenAct,
    *,
    code: str,
    maker: str,
    model: str,
    serial: str,
    year: int | None = None,
    mark: Mark | None = None,
    owner: str | None = None,
    from_on: dt.date | None = None,
    designator: str | None = None,
    certification: str | None = None,
    burn_basis: str | None = None,
    operated: str | None = None,
) -> None:
    """Write an airframe, and if known the mark it wears and who owns it.

    `designator` is ICAO's for the type; `burn_basis` is what interior materials must be shown to meet, `operated` the
    rule it is operated under, both as people write them.
    """
    kept = text.code(code, "aircraft code")
    refuse_taken(act.session, Airframe, "aircraft", code=kept)
    plate = _read({"maker": maker, "model": model, "serial": serial})
    refuse_taken(act.session, Airframe, "aircraft", **plate)
    known = {"designator": designator, "certification": certification, "burn_basis": burn_basis, "operated": operated}
    values = plate | _read(known) | _year(act, year)
    airframe = act.add(Airframe(code=kept, **values))
    act.tell(f"Aircraft {kept}: {airframe.maker} {airframe.model}, serial {airframe.serial}.")
    if mark is not None:
        write_mark(act, airframe, mark, from_on or act.on)
    if owner is not None:
        write_owner(act, airframe, owner, from_on or act.on)


def edit_airframe(
    act: OpenAct,
    *,
    aircraft: str,
    maker: str | None = None,
    model: str | None = None,
    serial: str | None = None,
    year: int | None = None,
    designator: str | None = None,
    certification: str | None = None,
    burn_basis: str | None = None,
    operated: str | None = None,
) -> None:
    """Correct what is known of an airframe. What may be unknown becomes so by an empty text, or a year of 0."""
    airframe = find_airframe(act.session, aircraft, act.on, act.today)
    plate = _read({"maker": maker, "model": model, "serial": serial})
    known = {"designator": designator, "certification": certification, "burn_basis": burn_basis, "operated": operated}
    values = plate | _read(known) | _year(act, year)
    if not values:
        raise Misuse("nothing to change: give at least one option, such as --burn-basis")
    changes = {name: value for name, value in values.items() if value != getattr(airframe, name)}
    if not changes:
        raise Refusal(f"all of that stands so for {airframe.code} already: nothing to change")
    if changes.keys() & plate.keys():
        whole_plate = {name: values.get(name, getattr(airframe, name)) for name in ("maker", "model", "serial")}
        refuse_taken(act.session, Airframe, "aircraft", **whole_plate)
    act.edit(airframe, **changes)
    act.tell(f"{airframe.code}: {', '.join(_CALLED.get(name, name) for name in changes)} changed.")


def _read(given: dict[str, str | None]) -> dict[str, Any]:
    """What was given, as columns; None where it was given empty and may be unknown."""
    return {name: _AIRFRAME[name](typed) for name, typed in given.items() if typed is not None}


def _year(act: OpenAct, year: int | None) -> dict[str, Any]:
    """The year of manufacture as a column, if it was given; 0 is not known."""
    if year is None:
        return {}
    return {"year": whole(year, FIRST_YEAR, act.today.year + 1, "year of manufacture") if year else None}


def _designator(typed: str) -> str | None:
    """An ICAO type designator (Doc 8643): two to four letters and digits, a letter first. ZZZZ says there is none."""
    kept = typed.strip().upper()
    if kept == "ZZZZ":
        raise Refusal("ZZZZ stands for an aircraft without a type designator: leave --designator empty")
    if kept and not _DESIGNATOR.fullmatch(kept):
        raise Misuse(
            f"{text.shown(typed)!r} is not a type designator: it has two to four letters and digits, a letter first, "
            "such as C172"
        )
    return kept or None


def _certification(typed: str) -> str | None:
    return text.one_of(typed, CERTIFICATIONS, "certification") if typed.strip() else None


def _free(typed: str, what: str) -> str | None:
    return text.line(typed, what, 80) if typed.strip() else None


_AIRFRAME: dict[str, Callable[[str], str | None]] = {
    "maker": lambda typed: text.line(typed, "maker"),
    "model": lambda typed: text.line(typed, "model"),
    "serial": lambda typed: text.line(typed, "serial number", 60),
    "designator": _designator,
    "certification": _certification,
    "burn_basis": lambda typed: _free(typed, "burn basis"),
    "operated": lambda typed: _free(typed, "rule it is operated under"),
}
_CALLED = {"burn_basis": "burn basis", "operated": "operated under", "serial": "serial number"}


def set_mark(act: OpenAct, *, aircraft: str, mark: Mark | None = None, from_on: dt.date | None = None) -> None:
    """Write the mark an airframe wears from a day on; without one, that it wears none."""
    write_mark(act, find_airframe(act.session, aircraft, act.on, act.today), mark, from_on or act.on)


def set_owner(act: OpenAct, *, aircraft: str, owner: str, from_on: dt.date | None = None) -> None:
    """Write who owns an airframe from a day on."""
    write_owner(act, find_airframe(act.session, aircraft, act.on, act.today), owner, from_on or act.on)


def add_surface(
    act: OpenAct,
    *,
    aircraft: str,
    name: str,
    area: Quantity,
    substrate: str,
    paint: str,
    layers_known: bool = False,
    balanced: str | None = None,
    primer: Quantity | None = None,
    painted: int | None = None,
    mesh: bool | None = None,
) -> None:
    """Write a surface: its area, what it is made of, how it is painted and whether its layers are known.

    `balanced` says whether it is a control surface that must be balanced (yes, no, unknown); if it is not given its
    name decides: see `balanced_by_name`. `primer` is the film under the color that must never be polished into,
    where it is known; `painted` the year it was painted; `mesh` whether metal mesh lies under the paint (lightning
    protection of a composite skin).
    """
    airframe = find_airframe(act.session, aircraft, act.on, act.today)
    kept = text.line(name, "name of the surface", 60).lower()
    refuse_taken(act.session, Surface, "surface", airframe=airframe.id, name=kept)
    answer = balanced_by_name(kept) if balanced is None else balanced
    surface = Surface(airframe=airframe.id, name=kept, **_surface(area, substrate, paint, answer, primer))
    surface.layers_known = layers_known
    surface.painted, surface.mesh = _painted_in(act, painted), mesh
    refuse_impossible(_made(surface))
    act.add(surface)
    layers = "known" if layers_known else "not known"
    act.tell(f"{airframe.code}, {kept}: {area} of {surface.paint} on {surface.substrate}, layers {layers}.")
    if surface.painted:
        act.tell(f"It was painted in {surface.painted}.")
    if surface.mesh:
        act.tell("Metal mesh lies under its paint: an eddy-current gauge may be fooled by it.")
    act.tell(_balance_told(surface.balanced, " (taken from its name)" if balanced is None else ""))


def balanced_by_name(name: str) -> str:
    """Whether a surface must be balanced, as far as its name says: unknown for a control surface, else no.

    Common practice, no source: these are the names of the hinged surfaces that fly an airplane.
    """
    words = {word.removesuffix("s") for word in _WORD.findall(name.lower())}
    return "unknown" if words & CONTROL_SURFACES else "no"


def _balance_told(balanced: str, taken: str) -> str:
    """What an answer to --balanced means for the work."""
    if balanced == "no":
        return f"Balanced: no{taken}, so the gate asks nothing about its balance."
    counts = "" if balanced == "yes" else ", which counts as yes"
    return (
        f"Balanced: {balanced}{taken}{counts}: a control surface that must be balanced. The gate asks for an authority "
        "before any step that adds or takes film on it; defer to the maker's manual and a licensed mechanic."
    )


def _surface(area: Quantity, substrate: str, paint: str, balanced: str, primer: Quantity | None) -> dict[str, Any]:
    more_than_nothing(of_dimension(area, "area", "area"), "area")
    if primer is not None:
        not_negative(of_dimension(primer, "length", "primer"), "primer")
    return {
        "area": area.quanta,
        "area_unit": area.unit,
        "substrate": text.one_of(substrate, SUBSTRATES, "substrate"),
        "paint": text.one_of(paint, PAINTS, "paint system"),
        "layers_known": False,
        "balanced": text.one_of(balanced, BALANCED, "answer to --balanced"),
        "primer": primer.quanta if primer else None,
        "primer_unit": primer.unit if primer else None,
    }


def _painted_in(act: OpenAct, year: int | None) -> int | None:
    return whole(year, FIRST_YEAR, act.today.year, "year it was painted") if year else None


def _made(surface: Surface) -> dict[str, Any]:
    """What a surface is made of, for `refuse_impossible`."""
    return {name: getattr(surface, name) for name in ("name", "substrate", "paint", "primer", "painted", "mesh")}


def _stripped(surface: Surface) -> list[str]:
    """What is known of a surface's paint and goes with it when it is bare."""
    return [name for name in ("primer", "primer_unit", "painted") if getattr(surface, name) is not None]


def edit_surface(
    act: OpenAct,
    *,
    aircraft: str,
    name: str,
    area: Quantity | None = None,
    substrate: str | None = None,
    paint: str | None = None,
    layers_known: bool | None = None,
    balanced: str | None = None,
    primer: Quantity | None = None,
    painted: int | None = None,
    mesh: bool | None = None,
) -> None:
    """Correct what is known of a surface. A `painted` of 0 is a year not known; bare, it has no paint to be known."""
    airframe = find_airframe(act.session, aircraft, act.on, act.today)
    surface = find_surface(act, airframe, name)
    changes: dict[str, Any] = {}
    if area is not None:
        more_than_nothing(of_dimension(area, "area", "area"), "area")
        changes |= {"area": area.quanta, "area_unit": area.unit}
    if substrate is not None:
        changes["substrate"] = text.one_of(substrate, SUBSTRATES, "substrate")
    if paint is not None:
        changes["paint"] = text.one_of(paint, PAINTS, "paint system")
    if layers_known is not None:
        changes["layers_known"] = layers_known
    if balanced is not None:
        changes["balanced"] = text.one_of(balanced, BALANCED, "answer to --balanced")
    if primer is not None:
        not_negative(of_dimension(primer, "length", "primer"), "primer")
        changes |= {"primer": primer.quanta, "primer_unit": primer.unit}
    if painted is not None:
        changes["painted"] = _painted_in(act, painted)
    if mesh is not None:
        changes["mesh"] = mesh
    if not changes:
        raise Misuse("nothing to change: give at least one option, such as --area")
    if changes.get("paint") == "bare":
        changes |= {name: None for name in _stripped(surface) if name not in changes}
    refuse_impossible(_made(surface) | changes)
    act.edit(surface, **changes)
    told = [name.replace("_", " ") for name in changes if not name.endswith("_unit")]
    act.tell(f"{airframe.code}, {surface.name}: {', '.join(told)} changed.")
    if "balanced" in changes:
        act.tell(_balance_told(surface.balanced, ""))


def find_surface(act: OpenAct, airframe: Airframe, name: str) -> Surface:
    """The surface of an airframe by name. Raises Refusal naming those there are."""
    rows = act.session.scalars(select(Surface).filter_by(airframe=airframe.id).order_by(Surface.name)).all()
    for row in rows:
        if row.name == name.strip().lower():
            return row
    known = ", ".join(row.name for row in rows) or "none yet"
    raise Refusal(
        f"{airframe.code} has no surface {text.shown(name)!r} ({known}): "
        f"add it with `coatbook aircraft surface {airframe.code} …`"
    )
