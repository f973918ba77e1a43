"""Tables of materials and their lots."""

import datetime as dt

from sqlalchemy import UniqueConstraint
from sqlalchemy.orm import Mapped

from coatbook.store.tables import Edited, WrittenOnce, optional, refers, strict
from coatbook.values import Quantity


class Material(Edited, kw_only=True, repr=False):
    """A product the shop buys. `facts` is canonical JSON: pairs of a fact's name and its value as typed."""

    __tablename__ = "material"
    __table_args__ = strict(UniqueConstraint("code"))

    code: Mapped[str]
    name: Mapped[str]
    unit: Mapped[str]
    facts: Mapped[str]
    evidence: Mapped[str | None] = optional()


class Terms(WrittenOnce, kw_only=True, repr=False):
    """One item of the upkeep a coating product asks for, from a day on. Days count in whole days."""

    __tablename__ = "terms"

    material: Mapped[int] = refers("material", index=True)
    from_on: Mapped[dt.date]
    item: Mapped[str]
    every: Mapped[int]
    per: Mapped[str]
    opens_before: Mapped[int]
    grace: Mapped[int]
    miss: Mapped[str]
    first_after: Mapped[int]


class Purchase(WrittenOnce, kw_only=True, repr=False):
    """One purchase of a material, paid in minor units; `reference` is the number on the supplier's own invoice."""

    __tablename__ = "purchase"

    material: Mapped[int] = refers("material", index=True)
    quanta: Mapped[int]
    unit: Mapped[str]
    minor: Mapped[int]
    supplier: Mapped[str]
    reference: Mapped[str | None] = optional()


class Lot(WrittenOnce, kw_only=True, repr=False):
    """What a purchase put on the shelf: quantity, cost, and the lot number on the label."""

    __tablename__ = "lot"

    purchase: Mapped[int] = refers("purchase", part_of=True, index=True)
    material: Mapped[int] = refers("material", index=True)
    label: Mapped[str]
    quanta: Mapped[int]
    unit: Mapped[str]
    minor: Mapped[int]
    expires: Mapped[dt.date | None] = optional()

    @property
    def quantity(self) -> Quantity:
        return Quantity(self.quanta, self.unit)


class Drawn(WrittenOnce, kw_only=True, repr=False):
    """What a line of the diary took out of a lot, and at what cost."""

    __tablename__ = "drawn"

    entry: Mapped[int] = refers("entry", part_of=True, index=True)
    lot: Mapped[int] = refers("lot", index=True)
    quanta: Mapped[int]
    minor: Mapped[int]
