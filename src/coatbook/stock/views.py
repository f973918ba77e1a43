"""What others read of materials: what is on hand, the facts of a product, the terms of a coating."""

import datetime as dt
import re
from collections.abc import Iterable
from dataclasses import dataclass

from sqlalchemy import ColumnElement, and_, func, or_, select
from sqlalchemy.orm import InstrumentedAttribute, Session

from coatbook.people.tables import Customer
from coatbook.stock.tables import PRICE, Drawn, Lot, LotChange, Material, Purchase, Terms
from coatbook.store.finding import by_code, got
from coatbook.store.live import live
from coatbook.store.remembering import recalled
from coatbook.values import Quantity, Refusal, frozen
from coatbook.values.text import shown

Facts = tuple[tuple[str, Quantity], ...]
SOON = dt.timedelta(days=60)  # how long before its last day a lot is told of
_PURCHASE = re.compile(r"purchase:([0-9]{1,18})")
LOW_SHARE = 4  # less than a quarter of what was bought last is low: common practice, no source


@dataclass(frozen=True, slots=True)
class LotLeft:
    """What is left of a lot: quanta and minor units, beside those it was bought with.

    `whole_minor` is the price as corrected since. `customer` is the row, `supplied_by` the code of the customer whose
    own product it is; its `supplier` is then their name.
    """

    id: int
    material: int
    purchase: int
    label: str
    bought: dt.date
    supplier: str
    quanta: int
    minor: int
    whole_quanta: int
    whole_minor: int
    expires: dt.date | None
    estimated: bool
    tax_paid: bool | None
    customer: int | None
    supplied_by: str | None

    def expired(self, on: dt.date) -> bool:
        """Whether the last day of use on its label lies before a day."""
        return self.expires is not None and self.expires < on

    def usable(self, on: dt.date) -> bool:
        """Whether a use draws on it without being told to: the shop's own, and not too old."""
        return self.customer is None and not self.expired(on)


@dataclass(frozen=True, slots=True)
class MaterialView:
    """A material with what is on hand on the day asked for and what that cost, in minor units.

    `usable` is the part of it that uses draw on without being told to: neither expired nor a customer's own.
    """

    code: str
    name: str
    unit: str
    facts: Facts
    evidence: str | None
    sds: str | None
    hazards: tuple[str, ...]
    burn_evidence: str | None
    on_hand: Quantity
    usable: Quantity
    value: int
    lots: tuple[LotLeft, ...]


@dataclass(frozen=True, slots=True)
class UpkeepTerm:
    """One item of a coating product's upkeep, as laid down on a day. Days in whole days."""

    item: str
    every: int
    per: str
    opens_before: int
    grace: int
    miss: str
    first_after: int


def facts_of(material: Material) -> Facts:
    return frozen.load(Facts, material.facts)


def hazards_of(material: Material) -> tuple[str, ...]:
    return tuple(material.hazards.split(",")) if material.hazards else ()


def lots_left(session: Session, material: int, on: dt.date) -> tuple[LotLeft, ...]:
    """What is left of the lots bought by a day, less and more all that was drawn and changed and stands now.

    Oldest first.
    """
    which = and_(Lot.material == material, Lot.struck_on.is_(None), Lot.on_day <= on)
    asked = ("left", material, on)
    lots = recalled(session, Lot, asked, lambda: _bought(session, which))
    changes = recalled(session, LotChange, asked, lambda: _changes(session, which, LotChange.struck_on.is_(None)))
    return _left(lots, _drawn(session, which, Drawn.struck_on.is_(None)), changes)


def found_later(session: Session, material: int, on: dt.date) -> dict[int, int]:
    """Quanta by lot that a count found only after a day: nothing of them was there to be drawn before."""

    def find() -> dict[int, int]:
        rows = session.execute(
            select(LotChange.lot, func.sum(LotChange.quanta))
            .join(Lot, Lot.id == LotChange.lot)
            .where(Lot.material == material, LotChange.on_day > on, LotChange.struck_on.is_(None), LotChange.quanta > 0)
            .group_by(LotChange.lot)
        )
        return {lot: int(quanta) for lot, quanta in rows}

    return recalled(session, LotChange, ("later", material, on), find)


def lots_on(session: Session, material: int, on: dt.date) -> tuple[LotLeft, ...]:
    """What was left of each lot at the end of a day, by the lines that count on it."""
    which = and_(Lot.material == material, live(Lot, on))
    return _lots(session, which, live(Drawn, on), live(LotChange, on))


def lots_called(session: Session, label: str, on: dt.date) -> tuple[tuple[Material, LotLeft], ...]:
    """The lots with a number on their label, of any material, as lines count on a day."""
    which = and_(labelled(Lot.label, label), live(Lot, on))
    lots = _lots(session, which, live(Drawn, on), live(LotChange, on))
    found = [(got(session, Material, lot.material), lot) for lot in lots]
    return tuple(sorted(found, key=lambda one: one[0].code))


def labelled(column: InstrumentedAttribute[str], label: str) -> ColumnElement[bool]:
    """Whether a label reads as `label`; capitals do not tell two labels apart."""
    return or_(column == label, func.lower(column) == label.lower())


def lots_meant(session: Session, name: str, on: dt.date) -> tuple[tuple[Material, LotLeft], ...]:
    """All lots a person may mean by the number on a label, by MATERIAL:LABEL, or by purchase:NUMBER."""
    found = _purchased(session, name, on)
    code, colon, label = name.strip().partition(":")
    if not found and colon:
        found = tuple(one for one in lots_called(session, label.strip(), on) if one[0].code == code.strip().lower())
    return found or lots_called(session, name.strip(), on)


def lots_named(session: Session, name: str, on: dt.date) -> tuple[Material, tuple[LotLeft, ...]]:
    """The lots a person means (see `lots_meant`): of one material, several if the same number was bought again.

    Raises:
        Refusal: none, or of several materials.
    """
    found = lots_meant(session, name, on)
    if not found:
        raise no_such_lot(name, on)
    owners = {material.code: material for material, _ in found}
    if len(owners) > 1:
        listed = " or ".join(f"{code}:{found[0][1].label}" for code in owners)
        raise Refusal(f"{len(owners)} materials have a lot {shown(name)!r}: name the one you mean, {listed}")
    return found[0][0], tuple(lot for _, lot in found)


def no_such_lot(name: str, on: dt.date) -> Refusal:
    return Refusal(f"there is no lot {shown(name)!r} on {on}: `coatbook material show CODE` lists a material's lots")


def _purchased(session: Session, name: str, on: dt.date) -> tuple[tuple[Material, LotLeft], ...]:
    """The lot of a purchase that was named by its number."""
    number = _PURCHASE.fullmatch(name.strip().lower())
    if number is None:
        return ()
    which = and_(Lot.purchase == int(number[1]), live(Lot, on))
    lots = _lots(session, which, live(Drawn, on), live(LotChange, on))
    return tuple((got(session, Material, lot.material), lot) for lot in lots)


def _lots(
    session: Session, which: ColumnElement[bool], drawn: ColumnElement[bool], changed: ColumnElement[bool]
) -> tuple[LotLeft, ...]:
    lots = _bought(session, which)
    if not lots:
        return ()
    return _left(lots, _drawn(session, which, drawn), _changes(session, which, changed))


Bought = tuple[tuple[Lot, Purchase, str | None], ...]


def _bought(session: Session, which: ColumnElement[bool]) -> Bought:
    """Lots with their purchases, and the code of the customer who supplied them; oldest first."""
    rows = session.execute(
        select(Lot, Purchase, Customer.code)
        .join(Purchase, Purchase.id == Lot.purchase)
        .outerjoin(Customer, Customer.id == Purchase.supplied_by)
        .where(which)
        .order_by(Lot.on_day, Lot.id)
    )
    return tuple((lot, purchase, customer) for lot, purchase, customer in rows)


def _drawn(session: Session, which: ColumnElement[bool], counts: ColumnElement[bool]) -> dict[int, tuple[int, int]]:
    """Quanta and minor units drawn out of lots, by lot."""
    sums = select(Drawn.lot, func.sum(Drawn.quanta), func.sum(Drawn.minor))
    rows = session.execute(sums.where(Drawn.lot.in_(select(Lot.id).where(which)), counts).group_by(Drawn.lot))
    return {lot: (int(quanta), int(minor)) for lot, quanta, minor in rows}


def _changes(session: Session, which: ColumnElement[bool], counts: ColumnElement[bool]) -> dict[int, list[LotChange]]:
    """What changed in lots besides, by lot."""
    found: dict[int, list[LotChange]] = {}
    rows = select(LotChange).where(LotChange.lot.in_(select(Lot.id).where(which)), counts).order_by(LotChange.id)
    for change in session.scalars(rows):
        found.setdefault(change.lot, []).append(change)
    return found


def _left(lots: Bought, draws: dict[int, tuple[int, int]], changes: dict[int, list[LotChange]]) -> tuple[LotLeft, ...]:
    return tuple(
        _lot_left(lot, purchase, customer, draws.get(lot.id, (0, 0)), changes.get(lot.id, []))
        for lot, purchase, customer in lots
    )


def _lot_left(
    lot: Lot, purchase: Purchase, customer: str | None, drawn: tuple[int, int], changes: list[LotChange]
) -> LotLeft:
    prices = [change for change in changes if change.kind == PRICE]
    return LotLeft(
        id=lot.id,
        material=lot.material,
        purchase=purchase.id,
        label=lot.label,
        bought=lot.on_day,
        supplier=purchase.supplier,
        quanta=lot.quanta - drawn[0] + sum(change.quanta for change in changes),
        minor=lot.minor - drawn[1] + sum(change.minor for change in changes),
        whole_quanta=lot.quanta,
        whole_minor=lot.minor + sum(change.minor + change.shop for change in prices),
        expires=lot.expires,
        estimated=bool(purchase.estimated) and not prices,
        tax_paid=purchase.tax_paid,
        customer=purchase.supplied_by,
        supplied_by=customer,
    )


def supplied_labels(session: Session, materials: Iterable[int], on: dt.date) -> frozenset[tuple[int, str]]:
    """Material and label (in small letters) of the lots that customers supplied, and of which the shop has none."""
    rows = session.execute(
        select(Lot.material, Lot.label, Purchase.supplied_by)
        .join(Purchase, Purchase.id == Lot.purchase)
        .where(Lot.material.in_(tuple(materials)), live(Lot, on))
    ).all()
    own = {(material, label.lower()) for material, label, customer in rows if customer is None}
    return frozenset((material, label.lower()) for material, label, _ in rows) - own


def material_view(session: Session, row: Material, on: dt.date) -> MaterialView:
    return _view(row, lots_on(session, row.id, on), on)


def _view(row: Material, lots: tuple[LotLeft, ...], on: dt.date) -> MaterialView:
    return MaterialView(
        code=row.code,
        name=row.name,
        unit=row.unit,
        facts=facts_of(row),
        evidence=row.evidence,
        sds=row.sds,
        hazards=hazards_of(row),
        burn_evidence=row.burn_evidence,
        on_hand=Quantity(sum(lot.quanta for lot in lots), row.unit),
        usable=Quantity(sum(lot.quanta for lot in lots if lot.usable(on)), row.unit),
        value=sum(lot.minor for lot in lots),
        lots=lots,
    )


def materials(session: Session, on: dt.date) -> tuple[MaterialView, ...]:
    """All materials, in four questions however many they are."""
    rows = session.scalars(select(Material).order_by(Material.code)).all()
    lots: dict[int, list[LotLeft]] = {}
    for lot in _lots(session, live(Lot, on), live(Drawn, on), live(LotChange, on)):
        lots.setdefault(lot.material, []).append(lot)
    return tuple(_view(row, tuple(lots.get(row.id, ())), on) for row in rows)


def material(session: Session, code: str, on: dt.date) -> MaterialView:
    return material_view(session, by_code(session, Material, code, "material"), on)


def worth_knowing(view: MaterialView, on: dt.date) -> tuple[str, ...]:
    """What a person should know of a material on the shelf, in a few words each: low, expired, expiring, estimated."""
    told = []
    own = [lot for lot in view.lots if lot.customer is None]
    if own and not view.usable.quanta:
        told.append("none left to use")
    elif own and view.usable.quanta < low_below(view):
        told.append("low")
    for lot in view.lots:
        if not lot.quanta or lot.expires is None:
            continue
        if lot.expired(on):
            told.append(f"{lot.label} expired {lot.expires}")
        elif lot.expires <= on + SOON:
            told.append(f"{lot.label} expires {lot.expires}")
    told += [f"price of {lot.label} estimated" for lot in own if lot.estimated]
    told += [f"{lot.label} is {lot.supplier}'s own" for lot in view.lots if lot.customer is not None and lot.quanta]
    return tuple(dict.fromkeys(told))


def low_below(view: MaterialView) -> int:
    """The quanta below which a material is low: what its facts say, else a share of what was bought last."""
    said = dict(view.facts).get("low")
    if said is not None:
        return said.quanta
    last = next((lot.whole_quanta for lot in reversed(view.lots) if lot.customer is None), 0)
    return -(-last // LOW_SHARE)


def upkeep_asked(session: Session, code: str, on: dt.date) -> tuple[UpkeepTerm, ...]:
    """The terms of a coating laid on a day, as the book stood on it."""
    return terms_on(session, by_code(session, Material, code, "material").id, on, on)


def terms_on(session: Session, material: int, laid: dt.date, seen: dt.date) -> tuple[UpkeepTerm, ...]:
    """The terms a coating laid on a day is under: all items of the latest set begun by then."""
    known = (Terms.material == material, live(Terms, seen), Terms.from_on <= laid)
    latest = select(func.max(Terms.from_on)).where(*known).scalar_subquery()
    rows = session.scalars(select(Terms).where(*known, Terms.from_on == latest).order_by(Terms.id))
    return tuple(
        UpkeepTerm(row.item, row.every, row.per, row.opens_before, row.grace, row.miss, row.first_after) for row in rows
    )
