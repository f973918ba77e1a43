"""Tables of materials and their lots."""

import datetime as dt

from sqlalchemy import UniqueConstraint
from sqlalchemy.orm import Mapped

from coatbook.store.tables import Edited, WrittenOnce, optional, refers, strict
from coatbook.values import Quantity

HAZARDS = ("isocyanates", "chromates", "solvents", "strong acid", "strong alkali")
COUNT, EXPIRED, PRICE, RETURN = LOT_CHANGES = ("count", "expired", "price", "return")


class Material(Edited, kw_only=True, repr=False):
    """A product the shop buys. `facts` is canonical JSON: pairs of a fact's name and its value as typed."""

    __tablename__ = "material"
    __table_args__ = strict(UniqueConstraint("code"))

    code: Mapped[str]
    name: Mapped[str]
    unit: Mapped[str]
    facts: Mapped[str]
    evidence: Mapped[str | None] = optional()
    sds: Mapped[str | None] = optional()  # where its safety data sheet is, and of what day
    hazards: Mapped[str | None] = optional()  # of HAZARDS, apart by a comma
    burn_evidence: Mapped[str | None] = optional()  # what shows that it meets an interior burn requirement


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
    """One purchase of a material, paid in minor units; `reference` is the number on the supplier's own invoice.

    `estimated`: the price is not known yet. `tax_paid`: the supplier charged tax on it. `supplied_by`: the customer
    whose own product it is. `brought_in`: it was on the shelf when the book began.
    """

    __tablename__ = "purchase"

    material: Mapped[int] = refers("material", index=True)
    quanta: Mapped[int]
    unit: Mapped[str]
    minor: Mapped[int]
    supplier: Mapped[str]
    reference: Mapped[str | None] = optional()
    estimated: Mapped[bool | None] = optional()
    tax_paid: Mapped[bool | None] = optional()
    supplied_by: Mapped[int | None] = refers("customer", default=None)
    brought_in: Mapped[bool | None] = optional()


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


class LotChange(WrittenOnce, kw_only=True, repr=False):
    """What changed in a lot besides uses: `quanta` and `minor` are added to it, with their signs.

    `shop` is what of it is a cost of the shop (or less of one), in minor units: what is missing or spoiled, what of a
    later price was used up already, what a supplier did not give back. `minor + shop` is what is owed to the supplier
    besides the purchase.
    """

    __tablename__ = "lot_change"

    lot: Mapped[int] = refers("lot", index=True)
    kind: Mapped[str]
    quanta: Mapped[int]
    minor: Mapped[int]
    shop: Mapped[int]
    text: Mapped[str]
