"""What others read of documents and payments: frozen records, derived as of a day."""

import datetime as dt
import json
from collections.abc import Iterator
from dataclasses import dataclass

from sqlalchemy import select
from sqlalchemy.orm import Session

from coatbook.billing.record import InvoiceRecord
from coatbook.billing.tables import Document, DocumentFile, Payment, PriceRow, Series, Settles, TaxRate
from coatbook.jobs.tables import Service
from coatbook.people.tables import Customer
from coatbook.store.finding import by_code, total
from coatbook.store.live import in_force, live
from coatbook.store.tables import Act
from coatbook.values import Money, Price, Quantity, Refusal, frozen
from coatbook.values.text import shown

_AT_ONCE = 200  # documents read at once: a record is a whole invoice


@dataclass(frozen=True, slots=True)
class PaymentView:
    """A payment's part that went to one document."""

    id: int
    on_day: dt.date
    method: str
    reference: str | None
    amount: Money


@dataclass(frozen=True, slots=True)
class InvoiceView:
    """An issued invoice and what became of it by the day asked for.

    `state` is owed, part paid or settled; `late` counts the days since it fell due while something is owed.
    """

    record: InvoiceRecord
    owed: Money
    state: str
    late: int
    payments: tuple[PaymentView, ...]


@dataclass(frozen=True, slots=True)
class PriceView:
    """A price from a day on."""

    service: str
    from_on: dt.date
    basis: str
    price: Price

    @property
    def counted(self) -> str:
        """What the price is for, in words: job, step, hour, ft2, 10 ft2."""
        if self.basis in ("job", "each"):
            return "job" if self.basis == "job" else "step"
        if self.price.per == Quantity.of(1, self.price.per.unit):
            return {"h": "hour"}.get(self.price.per.unit, self.price.per.unit)
        return str(self.price.per)


@dataclass(frozen=True, slots=True)
class TaxRateView:
    """A tax rate from a day on, in millionths."""

    place: str
    kind: str
    name: str
    millionths: int
    from_on: dt.date


@dataclass(frozen=True, slots=True)
class KeptFile:
    """A drawn document as it was handed out."""

    name: str
    media: str
    sha256: str
    bytes: bytes


@dataclass(frozen=True, slots=True)
class PrintedHead:
    """The head that an issued document prints (None: it cannot be read), and the chain's before the document's act."""

    document: int
    number: str
    act: int
    printed: str | None
    before: str | None


def find_document(session: Session, number: str) -> Document:
    document = session.scalars(select(Document).filter_by(number=number.strip())).first()
    if document is None:
        raise Refusal(f"there is no invoice {shown(number)!r}: `coatbook invoice list` shows them")
    return document


def final_invoice(session: Session, job: int) -> str | None:
    """The number of a job's final invoice, if it is issued."""
    return session.scalar(select(Document.number).filter_by(job=job, kind="invoice"))


def owed_on(session: Session, document: Document, on: dt.date) -> int:
    """What is owed on a document on a day, in minor units."""
    return document.gross - total(session, Settles.minor, Settles.document == document.id, live(Settles, on))


def invoices(session: Session, on: dt.date) -> tuple[InvoiceView, ...]:
    rows = session.scalars(select(Document).where(Document.dated <= on).order_by(Document.series, Document.n)).all()
    return tuple(_invoice(session, row, on) for row in rows)


def invoice(session: Session, number: str, on: dt.date) -> InvoiceView:
    return _invoice(session, find_document(session, number), on)


def _invoice(session: Session, row: Document, on: dt.date) -> InvoiceView:
    record = frozen.load(InvoiceRecord, row.record)
    owed = owed_on(session, row, on)
    state = "owed" if owed == row.gross and owed else "part paid" if owed else "settled"
    paid = session.execute(
        select(Payment, Settles.minor)
        .join(Settles, Settles.payment == Payment.id)
        .where(Settles.document == row.id, live(Settles, on))
        .order_by(Settles.id)
    )
    return InvoiceView(
        record=record,
        owed=Money(owed, record.currency),
        state=state,
        late=max(0, (on - row.due).days) if owed else 0,
        payments=tuple(
            PaymentView(payment.id, payment.on_day, payment.method, payment.reference, Money(minor, record.currency))
            for payment, minor in paid
        ),
    )


def kept_file(session: Session, number: str, media: str) -> KeptFile | None:
    document = find_document(session, number)
    row = session.scalars(select(DocumentFile).filter_by(document=document.id, media=media)).first()
    return KeptFile(row.name, row.media, row.sha256, row.bytes) if row else None


def printed_heads(session: Session) -> Iterator[PrintedHead]:
    """What each issued document prints of the chain, and what the chain says now; whatever a record holds."""
    rows = session.execute(
        select(Document.id, Document.number, Document.act, Document.record, Act.head)
        .outerjoin(Act, Act.id == Document.act - 1)
        .order_by(Document.id)
        .execution_options(yield_per=_AT_ONCE)
    )
    for document, number, act, record, head in rows:
        yield PrintedHead(document, number, act, _head_in(record), head)


def _head_in(record: str) -> str | None:
    try:
        head = json.loads(record)["head"]
    except (ValueError, TypeError, LookupError):
        return None
    return head if isinstance(head, str) else None


def prices(session: Session, on: dt.date, currency: str) -> tuple[PriceView, ...]:
    rows = session.execute(
        select(PriceRow, Service.code)
        .join(Service, Service.id == PriceRow.service)
        .where(live(PriceRow, on))
        .order_by(Service.code, PriceRow.from_on, PriceRow.id)
    )
    return tuple(
        PriceView(code, row.from_on, row.basis, Price(Money(row.minor, currency), Quantity(row.quanta, row.unit)))
        for row, code in rows
    )


def price_in_force(session: Session, service: str, on: dt.date, currency: str) -> PriceView | None:
    """What a service costs on a day, if a price is in force."""
    row = in_force(session, PriceRow, on, on, service=by_code(session, Service, service, "service").id)
    if row is None:
        return None
    price = Price(Money(row.minor, currency), Quantity(row.quanta, row.unit))
    return PriceView(service, row.from_on, row.basis, price)


def tax_rates(session: Session, on: dt.date) -> tuple[TaxRateView, ...]:
    rows = session.scalars(
        select(TaxRate).where(live(TaxRate, on)).order_by(TaxRate.place, TaxRate.kind, TaxRate.from_on, TaxRate.id)
    )
    return tuple(TaxRateView(row.place, row.kind, row.name, row.millionths, row.from_on) for row in rows)


def payments(session: Session, on: dt.date, currency: str) -> tuple[tuple[str, PaymentView], ...]:
    """All payments that count on a day, with the customer's code."""
    rows = session.execute(
        select(Payment, Customer.code)
        .join(Customer, Customer.id == Payment.customer)
        .where(live(Payment, on))
        .order_by(Payment.on_day, Payment.id)
    )
    return tuple(
        (code, PaymentView(row.id, row.on_day, row.method, row.reference, Money(row.minor, currency)))
        for row, code in rows
    )


def series(session: Session) -> tuple[tuple[str, str, int], ...]:
    """The series of document numbers: code, pattern, first number."""
    return tuple((row.code, row.pattern, row.first) for row in session.scalars(select(Series).order_by(Series.code)))
