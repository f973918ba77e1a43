"""Tables of airframes and what is known of them."""

import datetime as dt

from sqlalchemy import UniqueConstraint
from sqlalchemy.orm import Mapped

from coatbook.store.tables import Edited, WrittenOnce, optional, refers, strict
from coatbook.values import Quantity

SUBSTRATES = ("aluminum", "magnesium", "steel", "stainless", "composite", "fabric", "acrylic")
PAINTS = ("single-stage", "base/clear", "gelcoat", "dope", "bare")
BALANCED = ("no", "yes", "unknown")


class Airframe(Edited, kw_only=True, repr=False):
    """One aircraft for life: marks and owners change, the serial number does not."""

    __tablename__ = "airframe"
    __table_args__ = strict(UniqueConstraint("code"))

    code: Mapped[str]
    maker: Mapped[str]
    model: Mapped[str]
    serial: Mapped[str]
    year: Mapped[int | None] = optional()


class Marking(WrittenOnce, kw_only=True, repr=False):
    """The registration mark an airframe wears from a day on."""

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

    @property
    def size(self) -> Quantity:
        return Quantity(self.area, self.area_unit)
