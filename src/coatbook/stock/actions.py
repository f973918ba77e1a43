"""What writes materials, their terms, purchases, and what is drawn out of lots."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from coatbook.stock.tables import Drawn, Lot, Material, Purchase, Terms
from coatbook.stock.views import Facts, lots_left
from coatbook.store.acts import OpenAct
from coatbook.store.finding import by_code, refuse_taken
from coatbook.values import Misuse, Money, Quantity, Refusal, frozen, round_half_up, text
from coatbook.values.checks import more_than_nothing, not_negative, whole
from coatbook.values.quantity import UNITS, unit_named
from coatbook.values.words import a

STOCKED = ("volume", "mass", "count", "area", "length")
FACTS = {
    "spreading": "spreading",  # what a unit of product covers: m2/L or ft2/gal
    "loss": "ratio",  # share lost in application
    "coats": "count",
    "pack": "volume",
}
PERS = ("day", "week", "month", "calendar month")
MISSES = ("ends", "shortens", "warns")


def add_material(
    act: OpenAct,
    *,
    code: str,
    name: str,
    unit: str,
    facts: Sequence[tuple[str, Quantity]] = (),
    evidence: str | None = None,
) -> None:
    """Write a material and what its label or sheet says: facts such as ("spreading", 500 ft2/gal).

    `evidence` names where the facts were read: the label, a technical data sheet and its date.
    """
    kept = text.code(code, "material code")
    refuse_taken(act.session, Material, "material", code=kept)
    known = unit_named(unit)
    if known.dimension not in STOCKED:
        raise Misuse(f"a material is not stocked in {known.name}: use a unit of volume, mass, count, area or length")
    material = Material(
        code=kept,
        name=text.line(name, "name"),
        unit=known.name,
        facts=frozen.dump(_facts(facts)),
        evidence=text.line(evidence, "evidence") if evidence else None,
    )
    act.add(material)
    act.tell(f"Material {kept}: {material.name}, kept in {material.unit}.")


def _facts(facts: Sequence[tuple[str, Quantity]]) -> Facts:
    for name, value in facts:
        if name not in FACTS:
            raise Misuse(f"{text.shown(name)!r} is not a fact coatbook uses: use one of {', '.join(FACTS)}")
        if value.dimension != FACTS[name]:
            raise Misuse(f"the fact {name} {value} has the wrong unit: it is a {FACTS[name]}")
        if name == "loss" and value.value("%") >= 100:
            raise Misuse(f"a loss of {value} leaves nothing to lay: write what is lost in application, below 100 %")
        more_than_nothing(value, name) if name != "loss" else not_negative(value, name)
    names = [name for name, _ in facts]
    if len(set(names)) != len(names):
        raise Misuse("a fact is given twice: give each once")
    return tuple(sorted(facts))


def add_terms(
    act: OpenAct,
    *,
    code: str,
    item: str,
    every: int,
    per: str,
    opens_before: int = 30,
    grace: int = 0,
    miss: str = "warns",
    first_after: int = 0,
    from_on: dt.date | None = None,
) -> None:
    """Write one item of the upkeep a coating product asks for. Coatings keep the terms they were laid under."""
    material = by_code(act.session, Material, code, "material")
    start = from_on or act.on
    act.check_not_closed(start, "the terms")
    row = Terms(
        material=material.id,
        from_on=start,
        item=text.line(item, "upkeep item", 60).lower(),
        every=whole(every, 1, 1000, "interval"),
        per=text.one_of(per, PERS, "unit of the interval"),
        opens_before=whole(opens_before, 0, 365, "days the window opens before"),
        grace=whole(grace, 0, 365, "days of grace"),
        miss=text.one_of(miss, MISSES, "consequence of a miss"),
        first_after=whole(first_after, 0, 3650, "days before the count begins"),
    )
    act.add(row)
    every_text = f"every {per}" if every == 1 else f"every {every} {per}s"
    act.tell(f"{material.name} laid from {start} on asks for {row.item} {every_text}, {grace} days of grace.")


def buy(
    act: OpenAct,
    *,
    code: str,
    quantity: Quantity,
    cost: Money,
    supplier: str,
    label: str,
    expires: dt.date | None = None,
    reference: str | None = None,
) -> None:
    """Write a purchase and put it on the shelf as one lot with the number on its label."""
    material = by_code(act.session, Material, code, "material")
    _same_kind(material, quantity)
    more_than_nothing(quantity, "quantity")
    not_negative(cost, "cost")
    if expires is not None and expires < act.on:
        raise Refusal(f"the lot expired on {expires}, before it was bought on {act.on}: check the date on the label")
    purchase = act.add(
        Purchase(
            material=material.id,
            quanta=quantity.quanta,
            unit=quantity.unit,
            minor=cost.minor,
            supplier=text.line(supplier, "supplier"),
            reference=text.line(reference, "reference", 60) if reference else None,
        )
    )
    lot = Lot(
        purchase=purchase.id,
        material=material.id,
        label=text.line(label, "lot number", 60),
        quanta=quantity.quanta,
        unit=quantity.unit,
        minor=cost.minor,
        expires=expires,
    )
    act.add(lot)
    act.tell(f"Bought {quantity} of {material.name} for {cost} {act.currency}, lot {lot.label}.")


def _same_kind(material: Material, quantity: Quantity) -> None:
    if quantity.dimension != UNITS[material.unit].dimension:
        raise Misuse(f"{material.name} is kept in {material.unit}: {quantity} is {a(quantity.dimension)}")


@dataclass(frozen=True, slots=True)
class Draw:
    """What will be taken out of one lot, in quanta, and its cost in minor units."""

    lot: int
    quanta: int
    minor: int


def plan_draws(act: OpenAct, material: Material, quantity: Quantity) -> tuple[Draw, ...]:
    """How a quantity comes out of the lots bought no later than the act's day, oldest first.

    Each draw costs its share of the lot's cost, rounded half up; the draw that empties a lot takes what is left.

    Raises:
        Refusal: not enough on hand; the sentence names the command that helps.
    """
    _same_kind(material, quantity)
    draws, wanted = [], more_than_nothing(quantity, "quantity").quanta
    for lot in lots_left(act.session, material.id, act.on):
        taken = min(wanted, lot.quanta)
        share = lot.minor if taken == lot.quanta else round_half_up(lot.whole_minor * taken, lot.whole_quanta)
        if taken:
            draws.append(Draw(lot.id, taken, min(share, lot.minor)))
        wanted -= taken
    if wanted:
        have = Quantity(quantity.quanta - wanted, quantity.unit)
        raise Refusal(
            f"{have} of {material.name} were on hand on {act.on}, {quantity} are asked for: write the purchase "
            f"first with `coatbook material buy {material.code} QUANTITY COST --on DAY`"
        )
    return tuple(draws)


def draw(act: OpenAct, entry: int, draws: Sequence[Draw]) -> None:
    """Write planned draws as parts of a line of the diary."""
    for one in draws:
        act.add(Drawn(entry=entry, lot=one.lot, quanta=one.quanta, minor=one.minor))
