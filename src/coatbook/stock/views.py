"""What others read of materials: what is on hand, the facts of a product, the terms of a coating."""

import datetime as dt
from dataclasses import dataclass

from sqlalchemy import ColumnElement, func, select
from sqlalchemy.orm import Session

from coatbook.stock.tables import Drawn, Lot, Material, Terms
from coatbook.store.finding import by_code
from coatbook.store.live import live
from coatbook.values import Quantity, frozen

Facts = tuple[tuple[str, Quantity], ...]


@dataclass(frozen=True, slots=True)
class LotLeft:
    """What is left of a lot: quanta and minor units, beside those it began with."""

    id: int
    label: str
    quanta: int
    minor: int
    whole_quanta: int
    whole_minor: int
    expires: dt.date | None


@dataclass(frozen=True, slots=True)
class MaterialView:
    """A material with what is on hand on the day asked for and what that cost, in minor units."""

    code: str
    name: str
    unit: str
    facts: Facts
    evidence: str | None
    on_hand: Quantity
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


def lots_left(session: Session, material: int, on: dt.date) -> tuple[LotLeft, ...]:
    """What can be drawn on a day: lots bought by then, less all that was drawn and stands now, oldest first."""
    return _lots(
        session,
        Lot.material == material,
        Lot.struck_on.is_(None),
        Lot.on_day <= on,
        drawn=Drawn.struck_on.is_(None),
    )


def lots_on(session: Session, material: int, on: dt.date) -> tuple[LotLeft, ...]:
    """What was left of each lot at the end of a day, by the lines that count on it."""
    return _lots(session, Lot.material == material, live(Lot, on), drawn=live(Drawn, on))


def _lots(session: Session, *which: ColumnElement[bool], drawn: ColumnElement[bool]) -> tuple[LotLeft, ...]:
    taken = (
        select(Drawn.lot, func.sum(Drawn.quanta).label("quanta"), func.sum(Drawn.minor).label("minor"))
        .where(drawn)
        .group_by(Drawn.lot)
        .subquery()
    )
    rows = session.execute(
        select(Lot, taken.c.quanta, taken.c.minor)
        .outerjoin(taken, taken.c.lot == Lot.id)
        .where(*which)
        .order_by(Lot.on_day, Lot.id)
    )
    return tuple(
        LotLeft(
            id=lot.id,
            label=lot.label,
            quanta=lot.quanta - int(quanta or 0),
            minor=lot.minor - int(minor or 0),
            whole_quanta=lot.quanta,
            whole_minor=lot.minor,
            expires=lot.expires,
        )
        for lot, quanta, minor in rows
    )


def material_view(session: Session, row: Material, on: dt.date) -> MaterialView:
    lots = lots_on(session, row.id, on)
    on_hand = Quantity(sum(lot.quanta for lot in lots), row.unit)
    value = sum(lot.minor for lot in lots)
    return MaterialView(row.code, row.name, row.unit, facts_of(row), row.evidence, on_hand, value, lots)


def materials(session: Session, on: dt.date) -> tuple[MaterialView, ...]:
    rows = session.scalars(select(Material).order_by(Material.code)).all()
    return tuple(material_view(session, row, on) for row in rows)


def material(session: Session, code: str, on: dt.date) -> MaterialView:
    return material_view(session, by_code(session, Material, code, "material"), on)


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


def has_terms(session: Session, material: int, seen: dt.date) -> bool:
    return session.scalar(select(Terms.id).where(Terms.material == material, live(Terms, seen)).limit(1)) is not None
