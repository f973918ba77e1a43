"""The frozen record of an issued document: all that is ever drawn of it, as it stood when it took its number."""

import datetime as dt
from dataclasses import dataclass
from decimal import Decimal

from coatbook.people.views import Person, Shop
from coatbook.values import Money, Price, Quantity


@dataclass(frozen=True, slots=True)
class WorkedAircraft:
    """The aircraft a document is about. `mark` is None for one known by its serial number only."""

    mark: str | None
    maker: str
    model: str
    serial: str
    year: int | None


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a document; `net` is `price` of `quantity`, rounded half up once."""

    service: str
    text: str
    quantity: Quantity
    price: Price
    net: Money
    tax_kind: str


@dataclass(frozen=True, slots=True)
class Tax:
    """One tax: `rate` is a fraction (0.0825), `amount` its share of `base`, rounded half up once a document."""

    place: str
    name: str
    rate: Decimal
    base: Money
    amount: Money


@dataclass(frozen=True, slots=True)
class InvoiceRecord:
    """A final invoice.

    `upkeep` are sentences on what keeps the coatings' terms, `cautions` the usual cautions; `authorities` say who
    passed a safety gate and on what document. `head` is the short head of the chain before the issuing act.
    """

    number: str
    date: dt.date
    due: dt.date
    currency: str
    shop: Shop
    customer: Person
    job: int
    asked_for: str
    aircraft: WorkedAircraft
    place_of_work: tuple[str, ...]
    arrived: dt.date
    handed_over: dt.date
    lines: tuple[Line, ...]
    net: Money
    taxes: tuple[Tax, ...]
    tax: Money
    gross: Money
    upkeep: tuple[str, ...]
    cautions: tuple[str, ...]
    authorities: tuple[str, ...]
    head: str
