"""What writes airframes, their marks, owners and surfaces."""

import datetime as dt
import re
from typing import Any

from sqlalchemy import select

from coatbook.aircraft.tables import BALANCED, PAINTS, SUBSTRATES, Airframe, Marking, Ownership, Surface
from coatbook.aircraft.views import find_airframe, wearer
from coatbook.people.tables import Customer
from coatbook.store.acts import OpenAct
from coatbook.store.finding import by_code, refuse_taken
from coatbook.store.live import in_force, live
from coatbook.values import Misuse, Quantity, Refusal, text
from coatbook.values.checks import more_than_nothing, not_negative, of_dimension, whole
from coatbook.values.marks import Mark

FIRST_YEAR = 1903
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
) -> None:
    """Write an airframe, and if known the mark it wears and who owns it."""
    kept = text.code(code, "aircraft code")
    refuse_taken(act.session, Airframe, "aircraft", code=kept)
    values: dict[str, Any] = {
        "maker": text.line(maker, "maker"),
        "model": text.line(model, "model"),
        "serial": text.line(serial, "serial number", 60),
    }
    refuse_taken(act.session, Airframe, "aircraft", **values)
    if year is not None:
        values["year"] = whole(year, FIRST_YEAR, act.today.year + 1, "year of manufacture")
    airframe = act.add(Airframe(code=kept, **values))
    act.tell(f"Aircraft {kept}: {airframe.maker} {airframe.model}, serial {airframe.serial}.")
    if mark is not None:
        _mark(act, airframe, mark, from_on or act.on)
    if owner is not None:
        _own(act, airframe, owner, from_on or act.on)


def set_mark(act: OpenAct, *, aircraft: str, mark: Mark, from_on: dt.date | None = None) -> None:
    """Write the mark an airframe wears from a day on."""
    _mark(act, find_airframe(act.session, aircraft, act.on, act.today), mark, from_on or act.on)


def _mark(act: OpenAct, airframe: Airframe, mark: Mark, start: dt.date) -> None:
    current = in_force(act.session, Marking, start, act.today, airframe=airframe.id)
    if current is not None and current.mark_key == mark.key:
        raise Refusal(f"{airframe.code} wears {mark.text} on {start} already: nothing to write")
    _refuse_worn(act, airframe, mark, start)
    act.add(Marking(airframe=airframe.id, mark=mark.text, mark_key=mark.key, from_on=start))
    act.tell(f"{airframe.code} wears {mark.text} from {start}.")
    if mark.warning:
        act.tell(f"Note: {mark.warning}")


def _refuse_worn(act: OpenAct, airframe: Airframe, mark: Mark, start: dt.date) -> None:
    """Refuse a mark that another airframe wears on any day from `start` until this airframe's next mark."""
    later = select(Marking.from_on).where(live(Marking, act.today), Marking.from_on > start).order_by(Marking.from_on)
    until = act.session.scalars(later.filter_by(airframe=airframe.id)).first()
    begins = act.session.scalars(later.filter_by(mark_key=mark.key)).all()
    for day in (start, *(day for day in begins if until is None or day < until)):
        other = wearer(act.session, mark.key, day, act.today)
        if other is not None and other.id != airframe.id:
            raise Refusal(
                f"{mark.text} is worn by {other.code} on {day}: write {other.code}'s new mark first, "
                "or check the day and the spelling"
            )


def set_owner(act: OpenAct, *, aircraft: str, owner: str, from_on: dt.date | None = None) -> None:
    """Write who owns an airframe from a day on."""
    _own(act, find_airframe(act.session, aircraft, act.on, act.today), owner, from_on or act.on)


def _own(act: OpenAct, airframe: Airframe, owner: str, start: dt.date) -> None:
    customer = by_code(act.session, Customer, owner, "customer")
    current = in_force(act.session, Ownership, start, act.today, airframe=airframe.id)
    if current is not None and current.customer == customer.id:
        raise Refusal(f"{customer.code} owns {airframe.code} on {start} already: nothing to write")
    act.add(Ownership(airframe=airframe.id, customer=customer.id, from_on=start))
    act.tell(f"{customer.name} owns {airframe.code} from {start}.")


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
) -> None:
    """Write a surface: its area, what it is made of, how it is painted and whether its layers are known.

    `balanced` says whether it is a control surface that must be balanced (yes, no, unknown); if it is not given its
    name decides: see `balanced_by_name`. `primer` is the film under the color that must never be polished into,
    where it is known.
    """
    airframe = find_airframe(act.session, aircraft, act.on, act.today)
    kept = text.line(name, "name of the surface", 60).lower()
    refuse_taken(act.session, Surface, "surface", airframe=airframe.id, name=kept)
    answer = balanced_by_name(kept) if balanced is None else balanced
    surface = Surface(airframe=airframe.id, name=kept, **_surface(area, substrate, paint, answer, primer))
    surface.layers_known = layers_known
    act.add(surface)
    layers = "known" if layers_known else "not known"
    act.tell(f"{airframe.code}, {kept}: {area} of {surface.paint} on {surface.substrate}, layers {layers}.")
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
) -> None:
    """Correct what is known of a surface."""
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
    if not changes:
        raise Misuse("nothing to change: give at least one option, such as --area")
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
