"""Where a lot went: every coat and use of it, on which aircraft, whose it was then and whose it is now.

A coat is found by the lot number read off its label, a use by the lot it was drawn from.
"""

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from coatbook.aircraft.tables import Surface
from coatbook.aircraft.views import airframe_by_id
from coatbook.jobs.tables import Coat, Entry, Job, Step
from coatbook.people.views import Person
from coatbook.stock.tables import Drawn, Material
from coatbook.stock.views import LotLeft, labelled, lots_meant, no_such_lot
from coatbook.store.finding import got
from coatbook.store.live import live
from coatbook.values import Quantity, Refusal
from coatbook.values.quantity import plain
from coatbook.values.text import shown
from coatbook.values.words import count, table

SHOP = "the shop"


@dataclass(frozen=True, slots=True)
class Traced:
    """One line of the diary that took from a lot: a coat of a layer, or a use of a quantity.

    `airframe` is its code, `called` the mark it wore on the day; all of them None for a use of the shop's own.
    """

    line: int
    kind: str
    on_day: dt.date
    job: int | None
    airframe: str | None
    called: str | None
    called_now: str | None
    surface: str | None
    layer: int | None
    quantity: Quantity | None
    owner_then: Person | None
    owner_now: Person | None


@dataclass(frozen=True, slots=True)
class Trace:
    """Where the lots of one label went, by a day, and what is left of them (none if no purchase has the label)."""

    material: str
    name: str
    unit: str
    label: str
    lots: tuple[LotLeft, ...]
    lines: tuple[Traced, ...]

    @property
    def left(self) -> Quantity:
        return Quantity(sum(lot.quanta for lot in self.lots), self.unit)


def trace(session: Session, name: str, on: dt.date) -> Trace:
    """Where a lot went by a day. It is named by its label, by MATERIAL:LABEL, or by purchase:NUMBER.

    Raises:
        Refusal: no purchase and no coat bears the label, or those of several materials do.
    """
    material, label, lots = _meant(session, name, on)
    lines = sorted((*_coats(session, material, label, on), *_uses(session, lots, on)), key=_in_order)
    return Trace(material.code, material.name, material.unit, label, lots, tuple(lines))


def _in_order(one: Traced) -> tuple[dt.date, int]:
    return one.on_day, one.line


def _meant(session: Session, name: str, on: dt.date) -> tuple[Material, str, tuple[LotLeft, ...]]:
    """The material, the label and the lots; a label that only coats bear, bought by nobody, is traced too."""
    found = lots_meant(session, name, on)
    code, colon, rest = name.strip().partition(":")
    of_code = _coated_with(session, rest.strip(), on, code.strip().lower()) if colon else []
    label = found[0][1].label if found else rest.strip() if of_code else name.strip()
    named = label.lower() != name.strip().lower()  # by its material or its purchase, not by the label alone
    materials = {material.code: material for material, _ in found}
    if not (found and named):
        materials |= {one.code: one for one in of_code or _coated_with(session, label, on)}
    if not materials:
        raise no_such_lot(name, on)
    if len(materials) > 1:
        listed = " or ".join(f"{one}:{label}" for one in materials)
        raise Refusal(f"lots and coats of {len(materials)} materials bear {shown(label)!r}: name one, {listed}")
    (material,) = materials.values()
    return material, label, tuple(lot for _, lot in found)


def _coated_with(session: Session, label: str, on: dt.date, code: str | None = None) -> list[Material]:
    """The materials of which coats bear a label."""
    rows = (
        select(Material)
        .join(Entry, Entry.material == Material.id)
        .join(Coat, Coat.entry == Entry.id)
        .where(labelled(Coat.label, label), live(Entry, on))
        .distinct()
        .order_by(Material.code)
    )
    return [one for one in session.scalars(rows) if code in (None, one.code)]


def _coats(session: Session, material: Material, label: str, on: dt.date) -> Iterator[Traced]:
    rows = session.execute(
        select(Entry, Coat.layer, Surface)
        .join(Coat, Coat.entry == Entry.id)
        .join(Surface, Surface.id == Entry.surface)
        .where(Entry.material == material.id, labelled(Coat.label, label), live(Entry, on))
    )
    for entry, layer, surface in rows:
        yield _line(session, entry, on, airframe=surface.airframe, surface=surface.name, layer=layer)


def _uses(session: Session, lots: tuple[LotLeft, ...], on: dt.date) -> Iterator[Traced]:
    """Uses by line; one that drew on several purchases of the label is told once, with all it took of them."""
    rows = session.execute(
        select(Entry, Drawn.quanta, Surface.name)
        .join(Drawn, Drawn.entry == Entry.id)
        .outerjoin(Step, Step.id == Entry.step)
        .outerjoin(Surface, Surface.id == Step.surface)
        .where(Drawn.lot.in_([lot.id for lot in lots]), live(Drawn, on))
        .order_by(Drawn.id)
    )
    found: dict[int, tuple[Entry, int, str | None]] = {}
    for entry, quanta, part in rows:
        before = found.get(entry.id, (entry, 0, None))[1]
        found[entry.id] = (entry, before + quanta, part)
    for entry, quanta, surface in found.values():
        airframe = got(session, Job, entry.job).airframe if entry.job is not None else None
        taken = Quantity(quanta, entry.unit or "")
        yield _line(session, entry, on, airframe=airframe, surface=surface, quantity=taken)


def _line(
    session: Session,
    entry: Entry,
    on: dt.date,
    *,
    airframe: int | None,
    surface: str | None,
    layer: int | None = None,
    quantity: Quantity | None = None,
) -> Traced:
    then = airframe_by_id(session, airframe, entry.on_day, on) if airframe is not None else None
    now = airframe_by_id(session, airframe, on) if airframe is not None else None
    return Traced(
        line=entry.id,
        kind=entry.kind,
        on_day=entry.on_day,
        job=got(session, Job, entry.job).number if entry.job is not None else None,
        airframe=then.code if then else None,
        called=then.called if then else None,
        called_now=now.called if now else None,
        surface=surface,
        layer=layer,
        quantity=quantity,
        owner_then=then.owner if then else None,
        owner_now=now.owner if now else None,
    )


def story(found: Trace) -> str:
    """A trace in words: one sentence that says it all, then a row for each line."""
    planes = list(dict.fromkeys(one.called_now for one in found.lines if one.called_now))
    jobs = {one.job for one in found.lines if one.job is not None}
    of = f"Lot {found.label} of {found.name}"
    left = f"{found.left} of it are left" if found.lots else "no purchase has that lot number"
    if not found.lines:
        return f"{of} went nowhere yet; {left}."
    during = f" in {count(len(jobs), 'job')}" if jobs else ""
    went = f"went onto {len(planes)} aircraft ({', '.join(planes)}){during}" if planes else f"was used by {SHOP}"
    rows = [_row(one) for one in found.lines]
    heads = ("day", "line", "job", "aircraft", "what", "owner")
    return f"{of} {went}; {left}.\n\n{table(heads, rows, right=(1, 2))}"


def _row(one: Traced) -> tuple[str, ...]:
    if one.kind == "coat":
        what = f"layer {one.layer}, {one.surface}"
    else:
        what = f"{one.quantity}{f', {one.surface}' if one.surface else ''}"
    owners = [owner.name if owner else None for owner in (one.owner_then, one.owner_now)]
    called, owner = _then_now(one.called, one.called_now), _then_now(*owners)
    return (one.on_day.isoformat(), str(one.line), str(one.job or ""), called or SHOP, what, owner)


def _then_now(then: str | None, now: str | None) -> str:
    return f"{then or 'nobody known'}, now {now or 'nobody known'}" if then != now else then or ""


def data(found: Trace) -> dict[str, Any]:
    """A trace with stable keys."""
    return {
        "material": found.material,
        "name": found.name,
        "lot": found.label,
        "left": plain(found.left.decimal()),
        "unit": found.unit,
        "purchases": [
            {
                "purchase": lot.purchase,
                "bought": lot.bought.isoformat(),
                "supplier": lot.supplier,
                "supplied_by": lot.supplied_by,
                "quantity": plain(Quantity(lot.whole_quanta, found.unit).decimal()),
                "left": plain(Quantity(lot.quanta, found.unit).decimal()),
                "expires": lot.expires.isoformat() if lot.expires else None,
            }
            for lot in found.lots
        ],
        "lines": [
            {
                "line": one.line,
                "kind": one.kind,
                "date": one.on_day.isoformat(),
                "job": one.job,
                "airframe": one.airframe,
                "mark": one.called,
                "mark_now": one.called_now,
                "surface": one.surface,
                "layer": one.layer,
                "quantity": plain(one.quantity.decimal()) if one.quantity else None,
                "unit": one.quantity.unit if one.quantity else None,
                "owner_then": one.owner_then.code if one.owner_then else None,
                "owner_now": one.owner_now.code if one.owner_now else None,
            }
            for one in found.lines
        ],
    }
