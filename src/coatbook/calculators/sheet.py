"""The frozen job sheet a calculator looks at: only the parts it `reads` are filled.

Every record here is frozen, holds exact values only, and goes through `coatbook.values.frozen` to JSON and
back.
"""

import datetime as dt
import re
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal, Self, cast, get_args

from coatbook.values import Misuse, Price, Quantity

PARTS = ("steps", "aircraft", "readings", "stock", "coatings", "history")

Miss = Literal["ends", "shortens", "warns"]
LastDay = Literal["same date", "day before"]
Per = Literal["day", "week", "month", "calendar month", "flight hour"]

_EVERY = re.compile(r"([0-9]{1,5})\s*(days?|weeks?|months?|calendar months?|flight hours?)")


@dataclass(frozen=True, slots=True)
class Surface:
    """A part of the skin that is worked and read as one.

    Shapes: `area` is an area, or None where it was never measured; `primer` is the primer's film allowance,
    or None where it is not known; `painted` is the year; `balanced` is no, yes or unknown (a balanced
    control surface); `mesh` says that metal mesh lies under the paint (lightning protection of a composite
    skin).
    """

    name: str
    area: Quantity | None
    substrate: str
    paint: str
    layers_known: bool
    balanced: str
    primer: Quantity | None = None
    mesh: bool = False
    painted: int | None = None


@dataclass(frozen=True, slots=True)
class Aircraft:
    """The airframe of a job. `times` are (day, hours on the clock); `keep_off` names parts left alone."""

    mark: str
    maker: str
    model: str
    surfaces: tuple[Surface, ...] = ()
    designator: str = ""
    year: int | None = None
    takeoff_weight: Quantity | None = None
    burn_basis: str = "unknown"
    times: tuple[tuple[dt.date, Decimal], ...] = ()
    keep_off: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Step:
    """One planned step of the job, in the order of the plan. With several materials it stands once for each.

    Shapes: `key` names the step within its job ("3"); `removal` is the film one pass takes, a length, or
    None where it is not known; `material` is a product's code; `hours` are planned, a time; `starts` is the
    planned day; `work` is wash, abrasive, coat, leather or other, empty where it was never said.
    """

    key: str
    service: str
    surface: str | None = None
    condition: str | None = None
    passes: int = 1
    removal: Quantity | None = None
    abrasive: bool = False
    material: str | None = None
    hours: Quantity | None = None
    starts: dt.date | None = None
    work: str = ""


@dataclass(frozen=True, slots=True)
class Gauge:
    """The instrument of a reading.

    Shapes: `kind` is "eddy current", "magnetic" or "ultrasound" for film; `accuracy` are the parts its
    maker states, which add up: (1 µm, 1 %). Empty where nothing is stated.
    """

    kind: str
    serial: str = ""
    accuracy: tuple[Quantity, ...] = ()


@dataclass(frozen=True, slots=True)
class Reading:
    """One value read off an instrument. Several readings of one `spot` make one spot mean.

    Shapes: `kind` is film, gloss, air, skin or humidity; `stage` says when in the work ("before", "after");
    `angle` is the gloss meter's, in degrees; `at` is the instant.
    """

    surface: str
    spot: str
    kind: str
    value: Quantity
    gauge: Gauge | None = None
    stage: str = ""
    angle: int | None = None
    at: dt.datetime | None = None


@dataclass(frozen=True, slots=True)
class Product:
    """A material of the shop. `facts` are pairs from its label: ("spreading", 500 ft2/gal), ("coats", "2").

    Shapes: `pack` is what one pack holds, `on_hand` what is on the shelf, `price` money per a stated
    quantity.
    """

    code: str
    facts: tuple[tuple[str, Quantity | str], ...] = ()
    pack: Quantity | None = None
    on_hand: Quantity | None = None
    price: Price | None = None
    lead_days: int | None = None

    def fact(self, name: str) -> Quantity | str | None:
        """The fact's value, or None where the label does not give it."""
        return dict(self.facts).get(name)


@dataclass(frozen=True, slots=True)
class Every:
    """How often: `amount` of `per`. A calendar month ends with its month, a month on its own day."""

    amount: int
    per: Per

    def __post_init__(self) -> None:
        if self.amount < 1 or self.per not in get_args(Per):
            raise Misuse(f"every {self.amount} {self.per} is no interval: write one such as 6 months")

    @classmethod
    def parse(cls, text: str, what: str = "interval") -> Self:
        """Read "6 months" or "800 flight hours"."""
        typed = _EVERY.fullmatch(" ".join(text.split()).lower())
        if typed is None:
            raise Misuse(
                f"the {what} {text!r} is not a number of days, weeks, months, calendar months or "
                "flight hours: write it like 6 months"
            )
        return cls(int(typed[1]), cast(Per, typed[2].removesuffix("s")))

    def __str__(self) -> str:
        return f"{self.amount} {self.per}{'' if self.amount == 1 else 's'}"


@dataclass(frozen=True, slots=True)
class Upkeep:
    """One thing a coating needs to keep its terms.

    Shapes: of several `every` the first reached counts; `opens_before` and `grace` are days before and
    after the day it is due; `first_after` are days from the coating's day to the day the intervals are
    counted from (cure time).
    """

    item: str
    every: tuple[Every, ...]
    opens_before: int = 0
    grace: int = 0
    miss: Miss = "warns"
    first_after: int = 0


@dataclass(frozen=True, slots=True)
class Terms:
    """The terms a coating was laid under.

    Shapes: `last_day` says whether a period's last day bears the same date as its first or is the day before;
    `exposure` are pairs of a kind of exposure and the factor on its intervals; `register_within` are days.
    """

    upkeep: tuple[Upkeep, ...] = ()
    last_day: LastDay = "same date"
    exposure: tuple[tuple[str, Decimal], ...] = ()
    transfer: bool = False
    register_within: int | None = None


@dataclass(frozen=True, slots=True)
class Done:
    """Upkeep done on a coating, by anyone."""

    item: str
    on: dt.date


@dataclass(frozen=True, slots=True)
class Coating:
    """One product on one surface. `owners` are (customer, from day); `exposure` is named in the terms."""

    key: str
    surface: str
    product: str
    applied: dt.date
    terms: Terms
    ended: dt.date | None = None
    done: tuple[Done, ...] = ()
    owners: tuple[tuple[str, dt.date], ...] = ()
    exposure: str = ""


@dataclass(frozen=True, slots=True)
class Past:
    """What one step of a closed job took: the shop's own history. `hours` is a time."""

    job: str
    service: str
    step: str
    condition: str | None
    size_group: str
    area: Quantity | None
    hours: Quantity
    closed: dt.date


@dataclass(frozen=True, slots=True)
class Sheet:
    """What the book knows of one job, or of the aircraft's coatings, on the day `as_of`.

    `now` is the instant only where a calculator is asked about today. `job` is the job's number, "" without
    a job.
    """

    as_of: dt.date
    currency: str
    job: str = ""
    now: dt.datetime | None = None
    steps: tuple[Step, ...] = ()
    aircraft: Aircraft | None = None
    readings: tuple[Reading, ...] = ()
    stock: tuple[Product, ...] = ()
    coatings: tuple[Coating, ...] = ()
    history: tuple[Past, ...] = ()

    def surface(self, name: str) -> Surface | None:
        """The aircraft's surface of that name, if the sheet holds it."""
        surfaces = self.aircraft.surfaces if self.aircraft else ()
        return next((surface for surface in surfaces if surface.name == name), None)

    def product(self, code: str) -> Product | None:
        """The product of that code, if the sheet holds it."""
        return next((product for product in self.stock if product.code == code), None)
