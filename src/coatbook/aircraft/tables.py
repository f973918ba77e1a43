"""Tables of airframes and what is known of them."""

import datetime as dt

from sqlalchemy import UniqueConstraint
from sqlalchemy.orm import Mapped

from coatbook.store.tables import Edited, WrittenOnce, optional, refers, strict
from coatbook.values import Quantity

SUBSTRATES = ("aluminum", "magnesium", "steel", "stainless", "composite", "fabric", "acrylic")
PAINTS = ("single-stage", "base/clear", "gelcoat", "dope", "bare")
BALANCED = ("no", "yes", "unknown")
CERTIFICATIONS = ("type certificate", "light sport", "experimental", "other")
CLOCKS = ("airframe", "hobbs", "tach")
RULES = (
    "mask", "no touch", "no polish", "no coating", "no polish or coating", "named products only", "keep readable",
)  # fmt: skip


class Airframe(Edited, kw_only=True, repr=False):
    """One aircraft for life: marks and owners change, the serial number does not."""

    __tablename__ = "airframe"
    __table_args__ = strict(UniqueConstraint("code"))

    code: Mapped[str]
    maker: Mapped[str]
    model: Mapped[str]
    serial: Mapped[str]
    year: Mapped[int | None] = optional()
    designator: Mapped[str | None] = optional()  # ICAO type designator, such as C172
    certification: Mapped[str | None] = optional()
    burn_basis: Mapped[str | None] = optional()  # what interior materials must be shown to meet
    operated: Mapped[str | None] = optional()


class Marking(WrittenOnce, kw_only=True, repr=False):
    """The registration mark an airframe wears from a day on; empty if it wears none."""

    __tablename__ = "marking"

    airframe: Mapped[int] = refers("airframe", index=True)
    mark: Mapped[str]
    mark_key: Mapped[str]
    from_on: Mapped[dt.date]


class Ownership(WrittenOnce, kw_only=True, repr=False):
    """Who owns an airframe from a day on."""

    __tablename__ = "ownership"

    airframe: Mapped[int] = refers("airframe", index=True)
    customer: Mapped[int] = refers("customer", index=True)
    from_on: Mapped[dt.date]


class Surface(Edited, kw_only=True, repr=False):
    """A part of an airframe's skin that is worked and read as one.

    `area` and `primer` are quanta of area and length; `balanced` asks whether it is a balanced control surface.
    """

    __tablename__ = "surface"
    __table_args__ = strict(UniqueConstraint("airframe", "name"))

    airframe: Mapped[int] = refers("airframe")
    name: Mapped[str]
    area: Mapped[int]
    area_unit: Mapped[str]
    substrate: Mapped[str]
    paint: Mapped[str]
    layers_known: Mapped[bool]
    balanced: Mapped[str]
    primer: Mapped[int | None] = optional()
    primer_unit: Mapped[str | None] = optional()
    painted: Mapped[int | None] = optional()  # year
    mesh: Mapped[bool | None] = optional()  # lightning mesh under the paint

    @property
    def size(self) -> Quantity:
        return Quantity(self.area, self.area_unit)


class KeepOff(Edited, kw_only=True, repr=False):
    """A part with a rule of its own: how many there are, where, and what must not happen to it.

    Without a count nobody has counted it yet. One that is not on this aircraft after all is kept with a count of 0.
    """

    __tablename__ = "keepoff"
    __table_args__ = strict(UniqueConstraint("airframe", "item", "place"))

    airframe: Mapped[int] = refers("airframe")
    item: Mapped[str]
    place: Mapped[str]
    count: Mapped[int | None] = optional()
    rule: Mapped[str]


class Times(WrittenOnce, kw_only=True, repr=False):
    """What one of an airframe's clocks stood at on a day, in quanta of time."""

    __tablename__ = "times"

    airframe: Mapped[int] = refers("airframe", index=True)
    clock: Mapped[str]
    quanta: Mapped[int]
    unit: Mapped[str]


class Withdrawn(WrittenOnce, kw_only=True, repr=False):
    """The airframe flies no more for anyone the shop knows: scrapped, lost, exported. Nobody is reminded of it."""

    __tablename__ = "withdrawn"

    airframe: Mapped[int] = refers("airframe", index=True)
    why: Mapped[str]
    from_on: Mapped[dt.date]
