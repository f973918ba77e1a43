"""What writes prices, tax rates, series, documents and payments."""

import datetime as dt
import hashlib
import re
from collections.abc import Sequence
from decimal import Decimal

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from coatbook.billing.record import InvoiceRecord
from coatbook.billing.tables import (
    BASES,
    BROUGHT_IN,
    INVOICE,
    Document,
    DocumentFile,
    DocumentLine,
    DocumentTax,
    Payment,
    PriceRow,
    Series,
    Settles,
    TaxRate,
)
from coatbook.billing.views import final_invoices, find_document, owed_on
from coatbook.jobs.actions import TAX_KINDS, add_service
from coatbook.jobs.tables import Job, Service
from coatbook.people.actions import place as read_place
from coatbook.people.tables import Customer
from coatbook.store.acts import OpenAct
from coatbook.store.finding import by_code, got
from coatbook.store.tables import Act
from coatbook.values import Misuse, Money, Quantity, Refusal, frozen, text
from coatbook.values.checks import more_than_nothing, not_before, not_negative, of_dimension, whole
from coatbook.values.money import parse_decimal

MILLION = 1_000_000
INVOICES = "invoice"
_PATTERN = re.compile(r"[A-Za-z0-9/-]*(\{year\}[A-Za-z0-9/-]*)?\{n(:[1-9])?\}[A-Za-z0-9/-]*")
_BASIS_UNITS = {"job": "each", "each": "each", "hour": "h", "area": "ft2"}


def offer_service(
    act: OpenAct,
    *,
    code: str,
    name: str,
    abrasive: bool,
    tax_kind: str,
    price: Money | None = None,
    basis: str | None = None,
    work: str | None = None,
) -> None:
    """Write a new service, and what it costs if that is known."""
    if price is None and basis is not None:
        raise Misuse("--per says what a price counts: give the --price too")
    add_service(act, code=code, name=name, abrasive=abrasive, tax_kind=tax_kind, work=work)
    if price is not None:
        set_price(act, service=code, amount=price, basis=basis or "job")


def set_price(
    act: OpenAct,
    *,
    service: str,
    amount: Money,
    basis: str,
    per: Quantity | None = None,
    from_on: dt.date | None = None,
) -> None:
    """Write what a service costs from a day on: by job, area, hour or each planned step."""
    row, kind = by_code(act.session, Service, service, "service"), text.one_of(basis, BASES, "basis")
    not_negative(amount, "price")
    if per is not None and kind in ("job", "each"):
        raise Misuse(f"a price per {kind} is for one: leave out the quantity")
    quantity = per or Quantity.of(1, _BASIS_UNITS[kind])
    of_dimension(quantity, Quantity.of(1, _BASIS_UNITS[kind]).dimension, "quantity the price is for")
    more_than_nothing(quantity, "quantity the price is for")
    start = from_on or act.on
    act.check_not_closed(start, "the price")
    act.add(
        PriceRow(
            service=row.id,
            from_on=start,
            basis=kind,
            minor=amount.minor,
            quanta=quantity.quanta,
            unit=quantity.unit,
        )
    )
    counted = {"job": "per job", "each": "for each step"}.get(kind, f"per {quantity}".replace("per 1 ", "per "))
    act.tell(f"{row.name} costs {amount} {act.currency} {counted} from {start}.")


def set_tax_rate(
    act: OpenAct, *, place: str, kind: str, percent: str, name: str, from_on: dt.date | None = None
) -> None:
    """Write a tax on a kind of charge at a place from a day on, in per cent with at most four decimals."""
    where, what = read_place(place), text.one_of(kind, TAX_KINDS, "kind of charge")
    rate = parse_decimal(percent, "tax rate") * 10_000
    if rate != rate.to_integral_value() or not 0 <= rate <= MILLION:
        raise Misuse(f"the tax rate {percent} must be between 0 and 100 per cent with at most four decimals")
    start = from_on or act.on
    act.check_not_closed(start, "the tax rate")
    row = TaxRate(
        place=where, kind=what, name=text.line(name, "name of the tax", 60), millionths=int(rate), from_on=start
    )
    act.add(row)
    act.tell(
        f"{row.name}: {Decimal(percent):f} % on {what} in {where} from {start}. "
        "Whether it applies to this work is the shop's to confirm locally."
    )


def set_series(act: OpenAct, *, code: str, pattern: str, first: int = 1) -> None:
    """Write how documents are numbered: a pattern with {n} or {n:4}, and {year} if wanted."""
    kept = text.line(pattern, "pattern", 40)
    if not _PATTERN.fullmatch(kept):
        raise Misuse(
            f"the pattern {kept!r} cannot be used: letters, digits, / and -, with {{n}} or {{n:4}} once, "
            "after {year} if the year is wanted"
        )
    whole(first, 1, 10**9, "first number")
    code = text.code(code, "series")
    _refuse_brought_in(act, code, kept, first)
    row = act.session.scalars(select(Series).filter_by(code=code)).first()
    if row is None:
        act.add(Series(code=code, pattern=kept, first=first))
    else:
        if act.session.scalar(select(Document.id).filter_by(series=row.id).limit(1)) is not None:
            raise Refusal(
                f"documents of the series {code} are issued: its numbers must go on without a gap as they are"
            )
        act.edit(row, pattern=kept, first=first)
    act.tell(f"The next {code} is numbered {number_in(kept, first, act.on)}.")


def number_in(pattern: str, n: int, day: dt.date) -> str:
    """A document's number by its series' pattern."""
    width = re.search(r"\{n(?::([1-9]))?\}", pattern)
    digits = str(n).zfill(int(width[1]) if width and width[1] else 1)
    return re.sub(r"\{n(:[1-9])?\}", digits, pattern.replace("{year}", str(day.year)))


def reaches(pattern: str, number: str, year: int) -> int | None:
    """The n at which a pattern gives a number in some year from `year` on; None if it never does."""
    parts = re.split(r"(\{year\}|\{n(?::[1-9])?\})", pattern)
    read = "".join(
        "([0-9]{4})" if part == "{year}" else "([0-9]+)" if part.startswith("{n") else re.escape(part) for part in parts
    )
    found = re.fullmatch(read, number)
    if found is None:
        return None
    *years, digits = found.groups()
    of_year, n = int(years[0]) if years else year, int(digits)
    if of_year < year or number_in(pattern, n, dt.date(max(of_year, 1), 1, 1)) != number:
        return None
    return n


def _refuse_brought_in(act: OpenAct, code: str, pattern: str, first: int) -> None:
    """A number that an invoice bears which was brought in is not given again."""
    for number in act.session.scalars(select(Document.number).filter_by(kind=BROUGHT_IN).order_by(Document.number)):
        n = reaches(pattern, number, act.on.year)
        if n is not None and n >= first:
            raise Refusal(
                f"an invoice that was brought in bears the number {number}, which the {code} series would reach: "
                f"let it begin with --first {n + 1}"
            )


def next_number(session: Session, series: Series) -> int:
    """The n that the next document of a series takes."""
    last = session.scalar(select(func.max(Document.n)).filter_by(series=series.id))
    return series.first if last is None else int(last) + 1


def take_number(act: OpenAct, code: str) -> tuple[Series, int, str]:
    """The next number of a series, in order of issue: no gap, none twice, no date before the one before it."""
    series = act.session.scalars(select(Series).filter_by(code=code)).one()
    latest = act.session.scalar(select(func.max(Document.dated)).filter_by(series=series.id))
    if latest is not None:
        not_before(act.on, latest, "a document", "the one numbered before it was issued")
    n = next_number(act.session, series)
    number = number_in(series.pattern, n, act.on)
    if act.session.scalar(select(Document.id).filter_by(number=number)) is not None:
        raise Refusal(f"the number {number} is that of an invoice brought in: date this one in a later year")
    return series, n, number


def refuse_second_invoice(act: OpenAct, job: Job) -> None:
    """A job has its final invoices once, one for each who pays."""
    numbers = final_invoices(act.session, job.id)
    if numbers:
        raise Refusal(
            f"job {job.number} is invoiced already, as {' and '.join(numbers)}: `coatbook invoice show {numbers[0]}`"
        )


def keep_invoice(act: OpenAct, job: Job, customer: int, series: Series, n: int, record: InvoiceRecord) -> Document:
    """Freeze an invoice: its record, its lines and its taxes, under its number."""
    act.check_open(record.date, "the invoice")
    document = act.add(
        Document(
            kind=INVOICE,
            series=series.id,
            n=n,
            number=record.number,
            customer=customer,
            job=job.id,
            dated=record.date,
            due=record.due,
            net=record.net.minor,
            tax=record.tax.minor,
            gross=record.gross.minor,
            record=frozen.dump(record),
        )
    )
    for place, line in enumerate(record.lines, start=1):
        act.add(
            DocumentLine(
                document=document.id,
                n=place,
                service=by_code(act.session, Service, line.service, "service").id,
                text=line.text,
                quanta=line.quantity.quanta,
                unit=line.quantity.unit,
                price=line.price.money.minor,
                price_quanta=line.price.per.quanta,
                price_unit=line.price.per.unit,
                net=line.net.minor,
                tax_kind=line.tax_kind,
            )
        )
    for place, tax in enumerate(record.taxes, start=1):
        act.add(
            DocumentTax(
                document=document.id,
                n=place,
                place=tax.place,
                name=tax.name,
                millionths=int(tax.rate * MILLION),
                base=tax.base.minor,
                amount=tax.amount.minor,
            )
        )
    return document


def keep_file(act: OpenAct, *, number: str, media: str, name: str, drawn_by: str, content: bytes) -> None:
    """Keep a drawn document, byte for byte. Drawing the same document again finds it kept and writes nothing."""
    document = find_document(act.session, number)
    if act.session.scalars(select(DocumentFile).filter_by(document=document.id, media=media)).first() is None:
        sha256 = hashlib.sha256(content).hexdigest()
        act.add(
            DocumentFile(document=document.id, media=media, name=name, drawn_by=drawn_by, sha256=sha256, bytes=content)
        )


def take_payment(
    act: OpenAct,
    *,
    customer: str,
    amount: Money,
    method: str,
    invoices: Sequence[str],
    reference: str | None = None,
) -> None:
    """Write money that came in and settle invoices with it, in the order named.

    Raises:
        Refusal: an invoice is another customer's, or more came in than is owed on them.
    """
    payer = by_code(act.session, Customer, customer, "customer")
    more_than_nothing(amount, "amount")
    if not invoices:
        raise Misuse("name what is paid with --invoice NUMBER; `coatbook invoice list` shows what is owed")
    payment = act.add(
        Payment(
            customer=payer.id,
            minor=amount.minor,
            method=text.line(method, "method", 40),
            reference=text.line(reference, "reference") if reference else None,
        )
    )
    left = amount.minor
    for number in dict.fromkeys(invoices):
        left -= _settle(act, payment, payer, number, left)
    if left:
        raise Refusal(
            f"{Money(left, act.currency)} more came in than is owed on {', '.join(invoices)}: "
            "check the amount, or name further invoices with --invoice"
        )
    act.tell(f"Payment {payment.id}: {amount} {act.currency} from {payer.name} by {payment.method}.")
    for number in dict.fromkeys(invoices):
        owed = Money(owed_on(act.session, find_document(act.session, number), act.today), act.currency)
        act.tell(f"Invoice {number}: {f'{owed} {act.currency} still owed' if owed else 'settled'}.")


def _refuse_before(act: OpenAct, document: Document) -> None:
    """Money that came before an invoice was issued, or brought in with what was open then, is none for it here."""
    not_before(act.on, document.dated, "a payment", f"invoice {document.number} was issued")
    brought = act.session.get(Act, document.act) if document.kind == BROUGHT_IN else None
    if brought is not None:
        not_before(act.on, brought.on_day, "a payment", f"invoice {document.number} was brought in with what was open")


def _settle(act: OpenAct, payment: Payment, payer: Customer, number: str, left: int) -> int:
    document = find_document(act.session, number)
    if document.customer != payer.id:
        other = got(act.session, Customer, document.customer)
        raise Refusal(f"invoice {number} is {other.name}'s, not {payer.name}'s: check the number")
    _refuse_before(act, document)
    part = min(left, owed_on(act.session, document, act.today))
    if part:
        act.add(Settles(payment=payment.id, document=document.id, minor=part))
    return part
