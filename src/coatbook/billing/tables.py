"""Tables of prices, tax rates, documents and payments."""

import datetime as dt

from sqlalchemy import UniqueConstraint
from sqlalchemy.orm import Mapped

from coatbook.store.tables import Edited, Issued, WrittenOnce, optional, refers, strict

PAID, DEPOSIT, KEPT, REFUND = PAYMENT_KINDS = ("paid", "deposit", "kept", "refund")
INVOICE, BROUGHT_IN = DOCUMENT_KINDS = ("invoice", "brought in")
BASES = ("job", "area", "hour", "each")
TAX_KINDS = ("labor", "material", "travel", "rebilled expense", "other")


class PriceRow(WrittenOnce, kw_only=True, repr=False):
    """What a service costs from a day on: minor units per quantity; the basis says what is counted."""

    __tablename__ = "price"

    service: Mapped[int] = refers("service", index=True)
    from_on: Mapped[dt.date]
    basis: Mapped[str]
    minor: Mapped[int]
    quanta: Mapped[int]
    unit: Mapped[str]


class TaxRate(WrittenOnce, kw_only=True, repr=False):
    """A tax on a kind of charge at a place from a day on. `millionths` of the base: 82500 is 8.25 %."""

    __tablename__ = "tax_rate"

    place: Mapped[str]
    kind: Mapped[str]
    name: Mapped[str]
    millionths: Mapped[int]
    from_on: Mapped[dt.date]


class Series(Edited, kw_only=True, repr=False):
    """A run of document numbers without a gap, with the shop's own pattern."""

    __tablename__ = "series"
    __table_args__ = strict(UniqueConstraint("code"))

    code: Mapped[str]
    pattern: Mapped[str]
    first: Mapped[int]


class Document(Issued, kw_only=True, repr=False):
    """An issued document: its number, its totals, and the frozen record it is drawn from (canonical JSON).

    `kind` is of DOCUMENT_KINDS: one that was brought in was issued before the book began, has no lines, and comes to
    what was open then.
    """

    __tablename__ = "document"
    __table_args__ = strict(UniqueConstraint("series", "n"), UniqueConstraint("number"))

    kind: Mapped[str]
    series: Mapped[int] = refers("series")
    n: Mapped[int]
    number: Mapped[str]
    customer: Mapped[int] = refers("customer", index=True)
    job: Mapped[int] = refers("job", index=True)
    dated: Mapped[dt.date]
    due: Mapped[dt.date]
    net: Mapped[int]
    tax: Mapped[int]
    gross: Mapped[int]
    record: Mapped[str]


class DocumentLine(Issued, kw_only=True, repr=False):
    """One line of an issued document."""

    __tablename__ = "document_line"
    __table_args__ = strict(UniqueConstraint("document", "n"))

    document: Mapped[int] = refers("document")
    n: Mapped[int]
    service: Mapped[int] = refers("service")
    text: Mapped[str]
    quanta: Mapped[int]
    unit: Mapped[str]
    price: Mapped[int]
    price_quanta: Mapped[int]
    price_unit: Mapped[str]
    net: Mapped[int]
    tax_kind: Mapped[str]


class DocumentTax(Issued, kw_only=True, repr=False):
    """One tax of an issued document: by name and place, rate in millionths, base and amount in minor units."""

    __tablename__ = "document_tax"
    __table_args__ = strict(UniqueConstraint("document", "n"))

    document: Mapped[int] = refers("document")
    n: Mapped[int]
    place: Mapped[str]
    name: Mapped[str]
    millionths: Mapped[int]
    base: Mapped[int]
    amount: Mapped[int]


class DocumentFile(Issued, kw_only=True, repr=False):
    """A drawn document, byte for byte as it was handed out."""

    __tablename__ = "document_file"
    __table_args__ = strict(UniqueConstraint("document", "media"))

    document: Mapped[int] = refers("document")
    media: Mapped[str]
    name: Mapped[str]
    drawn_by: Mapped[str]
    sha256: Mapped[str]
    bytes: Mapped[bytes]


class Payment(WrittenOnce, kw_only=True, repr=False):
    """Money that came in from a customer, or what became of a deposit.

    `kind` is of PAYMENT_KINDS (empty: paid). A deposit is for a `job`; what was kept of one or given back names it in
    `of`, and `text` says why it was kept. `brought_in`: it was held when the book began, taken on `taken_on`.
    """

    __tablename__ = "payment"

    customer: Mapped[int] = refers("customer", index=True)
    minor: Mapped[int]
    method: Mapped[str]
    reference: Mapped[str | None] = optional()
    kind: Mapped[str | None] = optional()
    job: Mapped[int | None] = refers("job", default=None)
    of: Mapped[int | None] = refers("payment", default=None)
    text: Mapped[str | None] = optional()
    brought_in: Mapped[bool | None] = optional()
    taken_on: Mapped[dt.date | None] = optional()


class Settles(WrittenOnce, kw_only=True, repr=False):
    """What part of a payment goes to which document."""

    __tablename__ = "settles"

    payment: Mapped[int] = refers("payment", part_of=True, index=True)
    document: Mapped[int] = refers("document", index=True)
    minor: Mapped[int]
