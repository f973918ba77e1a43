"""What others read of documents and payments: frozen records, derived as of a day."""

import datetime as dt
import json
from collections.abc import Iterator
from dataclasses import dataclass

from sqlalchemy import ColumnElement, and_, func, or_, select
from sqlalchemy.orm import Session

from coatbook.billing.record import InvoiceRecord
from coatbook.billing.tables import (
    BROUGHT_IN,
    DEPOSIT,
    INVOICE,
    KEPT,
    PAID,
    REFUND,
    Document,
    DocumentFile,
    Payment,
    PriceRow,
    Series,
    Settles,
    TaxRate,
)
from coatbook.jobs.tables import Job, Service
from coatbook.people.tables import Customer
from coatbook.people.views import Place
from coatbook.store.finding import by_code, total
from coatbook.store.live import in_force, live
from coatbook.store.tables import Act
from coatbook.values import Money, Price, Quantity, Refusal, frozen
from coatbook.values.text import shown

_AT_ONCE = 200  # documents read at once: a record is a whole invoice


@dataclass(frozen=True, slots=True)
class PaymentView:
    """A payment, or its part that went to one document. `kind` is of PAYMENT_KINDS, `job` that of a deposit."""

    id: int
    on_day: dt.date
    method: str
    reference: str | None
    amount: Money
    kind: str = PAID
    job: int | None = None


@dataclass(frozen=True, slots=True)
class DepositView:
    """A deposit and what became of it by the day asked for. `taken` is the day the money came."""

    id: int
    job: int
    customer: str
    taken: dt.date
    method: str
    amount: Money
    drawn: Money
    kept: Money
    refunded: Money

    @property
    def held(self) -> Money:
        return self.amount - self.drawn - self.kept - self.refunded


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


def final_invoices(session: Session, job: int) -> tuple[str, ...]:
    """The numbers of a job's final invoices, one for each who pays; none until they are issued."""
    return tuple(session.scalars(select(Document.number).filter_by(job=job, kind=INVOICE).order_by(Document.id)))


def in_book(on: dt.date) -> ColumnElement[bool]:
    """Whether the book knows a document on a day: from its own date, or from the day it was brought in."""
    brought = select(Act.id).where(Act.id == Document.act, Act.on_day <= on).exists()
    return and_(Document.dated <= on, or_(Document.kind != BROUGHT_IN, brought))


def work_place(site: Place) -> tuple[str, ...]:
    """A site as a document names it: its name, its airport, and where that is."""
    return (site.name, *((site.airport,) if site.airport else ()), *site.address)


def owed_in_all(session: Session, on: dt.date) -> int:
    """What all customers owe on a day, in minor units."""
    settled = total(session, Settles.minor, live(Settles, on))
    return total(session, Document.gross, in_book(on)) - settled


def owed_on(session: Session, document: Document, on: dt.date) -> int:
    """What is owed on a document on a day, in minor units."""
    return document.gross - total(session, Settles.minor, Settles.document == document.id, live(Settles, on))


def invoices(session: Session, on: dt.date) -> tuple[InvoiceView, ...]:
    rows = session.scalars(select(Document).where(in_book(on)).order_by(Document.series, Document.n)).all()
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
            PaymentView(
                payment.id,
                payment.taken_on or payment.on_day,
                payment.method,
                payment.reference,
                Money(minor, record.currency),
                payment.kind or PAID,
                record.job if payment.kind else None,
            )
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
        select(Payment, Customer.code, Job.number)
        .join(Customer, Customer.id == Payment.customer)
        .outerjoin(Job, Job.id == Payment.job)
        .where(live(Payment, on))
        .order_by(Payment.on_day, Payment.id)
    )
    return tuple(
        (
            code,
            PaymentView(
                row.id, row.on_day, row.method, row.reference, Money(row.minor, currency), row.kind or PAID, job
            ),
        )
        for row, code, job in rows
    )


def deposits(session: Session, on: dt.date, currency: str) -> tuple[DepositView, ...]:
    """All deposits that count on a day, and what was drawn of them, kept and given back by then."""
    rows = session.execute(
        select(Payment, Customer.code, Job.number)
        .join(Customer, Customer.id == Payment.customer)
        .join(Job, Job.id == Payment.job)
        .where(live(Payment, on), Payment.kind == DEPOSIT)
        .order_by(Payment.on_day, Payment.id)
    )
    drawn = select(Settles.payment, func.sum(Settles.minor)).where(live(Settles, on)).group_by(Settles.payment)
    used = select(Payment.of, Payment.kind, func.sum(Payment.minor)).where(live(Payment, on), Payment.of.is_not(None))
    sums: dict[tuple[int | None, str | None], int] = {
        **{(of, None): int(minor) for of, minor in session.execute(drawn)},
        **{(of, kind): int(minor) for of, kind, minor in session.execute(used.group_by(Payment.of, Payment.kind))},
    }
    return tuple(
        DepositView(
            id=row.id,
            job=job,
            customer=code,
            taken=row.taken_on or row.on_day,
            method=row.method,
            amount=Money(row.minor, currency),
            drawn=Money(sums.get((row.id, None), 0), currency),
            kept=Money(sums.get((row.id, KEPT), 0), currency),
            refunded=Money(sums.get((row.id, REFUND), 0), currency),
        )
        for row, code, job in rows
    )


def held_on(session: Session, job: int, on: dt.date) -> int:
    """What is held of a job's deposits on a day, in minor units."""
    own = (Payment.job == job, live(Payment, on))
    taken = select(Payment.id).where(Payment.kind == DEPOSIT, *own)
    drawn = total(session, Settles.minor, Settles.payment.in_(taken), live(Settles, on))
    used = total(session, Payment.minor, Payment.kind.in_((KEPT, REFUND)), *own)
    return total(session, Payment.minor, Payment.kind == DEPOSIT, *own) - drawn - used


def deposits_of(session: Session, job: int, customer: int | None = None) -> tuple[Payment, ...]:
    """The deposits for a job that stand now, of one customer or of all, the earliest first."""
    rows = select(Payment).filter_by(job=job, kind=DEPOSIT, struck_on=None).order_by(Payment.on_day, Payment.id)
    return tuple(session.scalars(rows if customer is None else rows.filter_by(customer=customer)))


def held_from(session: Session, deposit: Payment, since: dt.date) -> int:
    """The least of a deposit that is held on any day from `since` on, in minor units: so much can be used."""
    uses: list[Payment | Settles] = [
        *session.scalars(select(Payment).filter_by(of=deposit.id)),
        *session.scalars(select(Settles).filter_by(payment=deposit.id)),
    ]
    moves = [(deposit.on_day, deposit.minor), *((one.on_day, -one.minor) for one in uses)]
    moves += [(one.struck_on, one.minor) for one in uses if one.struck_on is not None]
    days = {since, *(day for day, _ in moves if day > since)}
    return min(sum(minor for day, minor in moves if day <= last) for last in days)


def series(session: Session) -> tuple[tuple[str, str, int], ...]:
    """The series of document numbers the book gives: code, pattern, first number."""
    rows = session.scalars(select(Series).where(Series.code != BROUGHT_IN).order_by(Series.code))
    return tuple((row.code, row.pattern, row.first) for row in rows)
