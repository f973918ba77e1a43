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
    """One line of a document; `net` is `price` of `quantity`, rounded half up once.

    Where several pay for a job, `whole` is that amount and `net` the payer's part of it.
    """

    service: str
    text: str
    quantity: Quantity
    price: Price
    net: Money
    tax_kind: str
    whole: Money | None = None

    @property
    def is_part(self) -> bool:
        return self.whole is not None and self.whole != self.net


@dataclass(frozen=True, slots=True)
class Tax:
    """One tax: `rate` is a fraction (0.0825), `amount` its share of `base`, rounded half up once a document."""

    place: str
    name: str
    rate: Decimal
    base: Money
    amount: Money


@dataclass(frozen=True, slots=True)
class Shared:
    """That an invoice is one of several for a job, whose lines come to `whole` before tax.

    `fraction` is the payer's of what fixed sums leave (None: its own is a fixed sum), `fixed` what those take, and
    `others` are the names of who else is invoiced.
    """

    fraction: Decimal | None
    fixed: Money
    whole: Money
    others: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Exempted:
    """Why no tax of a place, or of any that lies in it, is charged."""

    place: str
    reason: str
    certificate: str


@dataclass(frozen=True, slots=True)
class Received:
    """What came in before an invoice was issued and was drawn on it: the day it came, and how much of it."""

    day: dt.date
    amount: Money


@dataclass(frozen=True, slots=True)
class InvoiceRecord:
    """A final invoice.

    `upkeep` are sentences on what keeps the coatings' terms, `cautions` the usual cautions; `authorities` say who
    passed a safety gate and on what document. `head` is the short head of the chain before the issuing act.
    `received` are the deposits drawn on it. One that was `brought_in` was issued before the book began: it has no
    lines and is never drawn. What has a default came with a later version; earlier records lack it.
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
    shared: Shared | None = None
    exempted: Exempted | None = None
    received: tuple[Received, ...] = ()
    brought_in: bool = False

    @property
    def balance(self) -> Money:
        """What is asked for: the gross sum less what was received before."""
        return self.gross - sum((one.amount for one in self.received), Money.zero(self.currency))
