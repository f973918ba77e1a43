"""What writes materials, their terms, purchases, and what is drawn out of lots."""

import datetime as dt
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass

from coatbook.people.tables import Customer
from coatbook.stock.tables import HAZARDS, Drawn, Lot, Material, Purchase, Terms
from coatbook.stock.views import Facts, LotLeft, facts_of, found_later, lots_left
from coatbook.store.acts import OpenAct
from coatbook.store.finding import by_code, refuse_taken
from coatbook.values import Misuse, Money, Quantity, Refusal, frozen, round_half_up, text
from coatbook.values.checks import more_than_nothing, not_negative, whole
from coatbook.values.quantity import UNITS, Unit, unit_named
from coatbook.values.words import a

STOCKED = ("volume", "mass", "count", "area", "length")
OWN = "own"  # the dimension of the material's own unit
FACTS = {
    "spreading": "spreading",  # what a unit of product covers: m2/L or ft2/gal
    "loss": "ratio",  # share lost in application
    "coats": "count",
    "pack": "volume",
    "low": OWN,  # what is left when it is time to buy
}
PERS = ("day", "week", "month", "calendar month")
MISSES = ("ends", "shortens", "warns")
NONE = "none"


def add_material(
    act: OpenAct,
    *,
    code: str,
    name: str,
    unit: str,
    facts: Sequence[tuple[str, Quantity]] = (),
    evidence: str | None = None,
    sds: str | None = None,
    hazards: Sequence[str] = (),
    burn_evidence: str | None = None,
) -> None:
    """Write a material and what its label or sheet says: facts such as ("spreading", 500 ft2/gal).

    `evidence` names where the facts were read: the label, a technical data sheet and its date. `sds` says where its
    safety data sheet is, and of what day; `hazards` are of HAZARDS; `burn_evidence` is what shows that it meets an
    interior burn requirement.
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
        facts=frozen.dump(_facts(facts, known)),
        evidence=text.line(evidence, "evidence") if evidence else None,
        sds=_sheet(sds) if sds else None,
        hazards=_hazards(hazards),
        burn_evidence=_burn(burn_evidence) if burn_evidence else None,
    )
    act.add(material)
    act.tell(f"Material {kept}: {material.name}, kept in {material.unit}.")
    _note_sheet(act, material)


def edit_material(
    act: OpenAct,
    *,
    code: str,
    name: str | None = None,
    facts: Sequence[tuple[str, Quantity]] = (),
    drop: Sequence[str] = (),
    evidence: str | None = None,
    sds: str | None = None,
    hazards: Sequence[str] = (),
    burn_evidence: str | None = None,
) -> None:
    """Change what is said of a material. Facts given replace those of their names, `drop` takes facts out; hazards
    given replace all, and "none" leaves none.
    """
    material = by_code(act.session, Material, code, "material")
    changes: dict[str, str | None] = {}
    if name is not None:
        changes["name"] = text.line(name, "name")
    if facts or drop:
        changes["facts"] = frozen.dump(_edited_facts(material, facts, drop))
    if evidence is not None:
        changes["evidence"] = text.line(evidence, "evidence")
    if sds is not None:
        changes["sds"] = _sheet(sds)
    if hazards:
        changes["hazards"] = _hazards(hazards)
    if burn_evidence is not None:
        changes["burn_evidence"] = _burn(burn_evidence)
    if not changes:
        raise Misuse("nothing is changed: give what changes, such as --sds or --hazard")
    act.edit(material, **changes)
    act.tell(f"Material {material.code}: changed {', '.join(sorted(changes)).replace('_', ' ')}.")
    _note_sheet(act, material)


def _facts(facts: Iterable[tuple[str, Quantity]], unit: Unit) -> Facts:
    given = tuple(facts)
    for name, value in given:
        if name not in FACTS:
            raise Misuse(f"{text.shown(name)!r} is not a fact coatbook uses: use one of {', '.join(FACTS)}")
        dimension = unit.dimension if FACTS[name] == OWN else FACTS[name]
        if value.dimension != dimension:
            raise Misuse(f"the fact {name} {value} has the wrong unit: it is a {dimension}")
        if name == "loss" and value.value("%") >= 100:
            raise Misuse(f"a loss of {value} leaves nothing to lay: write what is lost in application, below 100 %")
        more_than_nothing(value, name) if name != "loss" else not_negative(value, name)
    names = [name for name, _ in given]
    if len(set(names)) != len(names):
        raise Misuse("a fact is given twice: give each once")
    return tuple(sorted(given))


def _edited_facts(material: Material, facts: Sequence[tuple[str, Quantity]], drop: Sequence[str]) -> Facts:
    given, gone = dict(_facts(facts, UNITS[material.unit])), {name.strip().lower() for name in drop}
    standing = dict(facts_of(material))
    for name in sorted(gone):
        if name in given:
            raise Misuse(f"the fact {text.shown(name)} is given and dropped at once: do one of the two")
        if name not in standing:
            raise Misuse(
                f"{material.name} has no fact {text.shown(name)!r} to drop: its facts are told by "
                f"`coatbook material show {material.code}`"
            )
    kept = {name: value for name, value in standing.items() if name not in gone}
    return tuple(sorted((kept | given).items()))


def _sheet(typed: str) -> str:
    return text.line(typed, "place of the safety data sheet")


def _burn(typed: str) -> str:
    return text.line(typed, "evidence of burn tests")


def _hazards(typed: Sequence[str]) -> str | None:
    """Hazards as they are kept: those of HAZARDS that were named, in its order."""
    named = {text.one_of(one, (*HAZARDS, NONE), "hazard") for one in typed}
    if NONE in named and len(named) > 1:
        raise Misuse("a material has hazards or none: give --hazard none alone, or leave it out")
    return ",".join(one for one in HAZARDS if one in named) or None


def _note_sheet(act: OpenAct, material: Material) -> None:
    if material.hazards and not material.sds:
        act.tell(
            f"Note: no safety data sheet of {material.name} is named: "
            f'`coatbook material edit {material.code} --sds "WHERE, OF WHAT DAY"`.'
        )


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
    cost: Money | None = None,
    supplier: str | None = None,
    label: str,
    expires: dt.date | None = None,
    reference: str | None = None,
    estimated: bool = False,
    tax_paid: bool | None = None,
    supplied_by: str | None = None,
    brought_in: bool = False,
) -> None:
    """Write a purchase and put it on the shelf as one lot with the number on its label.

    `estimated`: the price is not known yet. `tax_paid`: whether the supplier charged tax on it. `supplied_by`: the
    customer whose own product it is; it has no cost and no supplier. `brought_in`: it was on the shelf when the book
    began.
    """
    material = by_code(act.session, Material, code, "material")
    same_kind(material, quantity)
    more_than_nothing(quantity, "quantity")
    owner = by_code(act.session, Customer, supplied_by, "customer") if supplied_by else None
    paid, seller = _paid(act, cost, supplier, owner, priced=estimated or tax_paid is not None)
    if expires is not None and expires < act.on and not brought_in:
        raise Refusal(f"the lot expired on {expires}, before it was bought on {act.on}: check the date on the label")
    kept = text.line(label, "lot number", 60)
    _refuse_other_lot(act, material, kept, owner, expires)
    purchase = act.add(
        Purchase(
            material=material.id,
            quanta=quantity.quanta,
            unit=quantity.unit,
            minor=paid.minor,
            supplier=seller,
            reference=text.line(reference, "reference", 60) if reference else None,
            estimated=estimated or None,
            tax_paid=tax_paid,
            supplied_by=owner.id if owner else None,
            brought_in=brought_in or None,
        )
    )
    act.add(
        Lot(
            purchase=purchase.id,
            material=material.id,
            label=kept,
            quanta=quantity.quanta,
            unit=quantity.unit,
            minor=paid.minor,
            expires=expires,
        )
    )
    _tell_bought(act, material, purchase, kept)


def _paid(
    act: OpenAct, cost: Money | None, supplier: str | None, owner: Customer | None, *, priced: bool
) -> tuple[Money, str]:
    """What a purchase cost and who sold it."""
    if owner is None:
        if cost is None or supplier is None:
            raise Misuse("a purchase has a cost and a supplier: give COST and --supplier, or --supplied-by CUSTOMER")
        return not_negative(cost, "cost"), text.line(supplier, "supplier")
    if (cost is not None and cost.minor) or priced:
        raise Misuse(
            f"what {owner.name} supplies costs the shop nothing: leave out COST, --estimated and --tax-paid, or write "
            "it as a purchase with --supplier"
        )
    if supplier is not None:
        raise Misuse(f"it is {owner.name} who supplies it: give --supplier or --supplied-by, not both")
    return Money.zero(act.currency), owner.name


def _refuse_other_lot(
    act: OpenAct, material: Material, label: str, owner: Customer | None, expires: dt.date | None
) -> None:
    """Refuse a label that a lot of another owner or with another last day bears: a coat is known by its label."""
    for lot in lots_left(act.session, material.id, act.today):
        if lot.label.lower() != label.lower():
            continue
        if lot.customer != (owner.id if owner else None):
            whose = f"{lot.supplier}'s own" if lot.customer is not None else "the shop's own"
            raise Refusal(
                f"lot {lot.label} of {material.name} is {whose} (purchase {lot.purchase}): mark this container apart "
                f"and write the mark with its number, such as --lot '{label} 2'"
            )
        if None not in (lot.expires, expires) and lot.expires != expires:
            raise Refusal(
                f"lot {lot.label} of {material.name} expires on {lot.expires} by purchase {lot.purchase}, here on "
                f"{expires}: read both labels again"
            )


def _tell_bought(act: OpenAct, material: Material, purchase: Purchase, label: str) -> None:
    quantity, cost = Quantity(purchase.quanta, purchase.unit), Money(purchase.minor, act.currency)
    of = f"{quantity} of {material.name}"
    if purchase.supplied_by is not None:
        act.tell(
            f"Took in {of} from {purchase.supplier}, lot {label}: their own, so it costs nothing, and a coating laid "
            "from it has no terms of ours."
        )
        return
    done = "On the shelf at the start:" if purchase.brought_in else "Bought"
    act.tell(f"{done} {of} for {cost} {act.currency}{' (estimated)' if purchase.estimated else ''}, lot {label}.")
    if purchase.estimated:
        act.tell(f"Once its price is known: `coatbook material reprice {material.code}:{label} PRICE`.")


def same_kind(material: Material, quantity: Quantity) -> None:
    """Refuse a quantity of another dimension than the material's."""
    if quantity.dimension != UNITS[material.unit].dimension:
        raise Misuse(f"{material.name} is kept in {material.unit}: {quantity} is {a(quantity.dimension)}")


@dataclass(frozen=True, slots=True)
class Draw:
    """What will be taken out of one lot, in quanta, and its cost in minor units."""

    lot: int
    quanta: int
    minor: int


def share(lot: LotLeft, quanta: int) -> int:
    """What some of a lot costs: its share of the lot's price, rounded half up; all that is left costs what is left."""
    if quanta == lot.quanta:
        return lot.minor
    return min(round_half_up(lot.whole_minor * quanta, lot.whole_quanta), lot.minor)


def plan_draws(
    act: OpenAct, material: Material, quantity: Quantity, *, lot: str | None = None, parties: Collection[int] = ()
) -> tuple[Draw, ...]:
    """How a quantity comes out of the lots bought no later than the act's day, oldest first.

    Lots that expired, and those that customers supplied, are passed over unless `lot` names one by its label; a
    customer's own goes only on jobs it is a party to (`parties`, by row).

    Raises:
        Refusal: not enough on hand; the sentence names the commands that help.
    """
    same_kind(material, quantity)
    draws, wanted = [], more_than_nothing(quantity, "quantity").quanta
    shelf = lots_left(act.session, material.id, act.on)
    later = found_later(act.session, material.id, act.on)
    chosen = (
        _named(act, material, shelf, lot, parties) if lot is not None else [one for one in shelf if one.usable(act.on)]
    )
    for one in chosen:
        taken = min(wanted, max(one.quanta - later.get(one.id, 0), 0))
        if taken:
            draws.append(Draw(one.id, taken, share(one, taken)))
        wanted -= taken
    if wanted:
        raise Refusal(_too_little(act, material, quantity, quantity.quanta - wanted, shelf, lot))
    if lot is None:
        _tell_passed_over(act, material, shelf)
    return tuple(draws)


def _named(
    act: OpenAct, material: Material, shelf: Sequence[LotLeft], label: str, parties: Collection[int]
) -> list[LotLeft]:
    """The lots of a label, if they may go on a job of these parties."""
    lots = [one for one in shelf if one.label.lower() == label.strip().lower()]
    if not lots:
        raise Refusal(
            f"{material.name} had no lot {text.shown(label)!r} on {act.on}: `coatbook material show {material.code}` "
            "lists its lots"
        )
    for one in lots:
        if one.customer is not None and one.customer not in parties:
            raise Refusal(
                f"lot {one.label} of {material.name} is {one.supplier}'s own, who is no party to this job: take "
                "another lot"
            )
        if one.expired(act.on):
            act.tell(
                f"Note: lot {one.label} of {material.name} expired on {one.expires}; whether it may still be used, its "
                "maker's sheet says."
            )
    return lots


def _too_little(
    act: OpenAct, material: Material, quantity: Quantity, drawn: int, shelf: Sequence[LotLeft], label: str | None
) -> str:
    """Why there is not enough, and what helps."""
    code, have = material.code, Quantity(drawn, quantity.unit)
    where = f" in lot {text.shown(label)}" if label is not None else ""
    old = [one for one in shelf if one.quanta and one.expired(act.on) and one.customer is None]
    if old and label is None:
        listed = ", ".join(f"lot {one.label} expired on {one.expires}" for one in old)
        return (
            f"{have} of {material.name} that may be used were on hand on {act.on}, {quantity} are asked for, and "
            f"{listed}: write it off with `coatbook material expire {code}:{old[0].label}`, or name it with --lot "
            f'"{old[0].label}" if its maker lets it be used'
        )
    theirs = [one for one in shelf if one.quanta and one.customer is not None]
    hint = f"; {theirs[0].supplier}'s own is drawn only if --lot names it" if theirs and label is None else ""
    return (
        f"{have} of {material.name} were on hand{where} on {act.on}, {quantity} are asked for{hint}: write what was "
        f"bought with `coatbook material buy {code} QUANTITY COST --estimated`, or what is there with `coatbook "
        f"material count {code} QUANTITY --why …`"
    )


def _tell_passed_over(act: OpenAct, material: Material, shelf: Sequence[LotLeft]) -> None:
    for lot in shelf:
        if lot.customer is None and lot.quanta and lot.expired(act.on):
            act.tell(
                f"Note: lot {lot.label} of {material.name} expired on {lot.expires} and was passed over; "
                f"`coatbook material expire {material.code}:{lot.label}` writes it off."
            )


def draw(act: OpenAct, entry: int, draws: Sequence[Draw]) -> None:
    """Write planned draws as parts of a line of the diary."""
    for one in draws:
        act.add(Drawn(entry=entry, lot=one.lot, quanta=one.quanta, minor=one.minor))
