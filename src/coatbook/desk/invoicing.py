"""Invoicing right after handover: freeze the record under its number, then draw it, then keep what was drawn."""

import datetime as dt

from coatbook import __version__
from coatbook.aircraft.views import airframe_by_id
from coatbook.billing.actions import (
    INVOICES,
    keep_file,
    keep_invoice,
    refuse_second_invoice,
    take_number,
)
from coatbook.billing.pricing import price_plan, tax_lines
from coatbook.billing.record import InvoiceRecord, WorkedAircraft
from coatbook.billing.views import invoice, kept_file
from coatbook.desk.telling_gate import authority_sentences
from coatbook.desk.wording import CAUTIONS, charged, keeping_sentences
from coatbook.jobs.tables import Job
from coatbook.jobs.views import JobView, find_job, job_view, party_id, steps_of
from coatbook.people.views import shop
from coatbook.store.acts import Ask, OpenAct
from coatbook.store.book import Book
from coatbook.store.chain import short
from coatbook.upkeep.views import coatings_of
from coatbook.values import Money, Refusal
from coatbook.values.checks import not_before
from coatbook.values.words import percent

PDF = "application/pdf"


def issue(act: OpenAct, *, job: int, due: dt.date | None = None) -> str:
    """Freeze a job's final invoice under the next number; that number.

    Raises:
        Refusal: not handed over, invoiced already, a service without a price, or a character the paper's typeface
            does not have; nothing has a number then.
    """
    row = find_job(act.session, job)
    refuse_second_invoice(act, row)
    view = job_view(act.session, row, act.today)
    if view.no_charge:
        raise Refusal(f"job {job} was handed over at no charge on {view.handed_over}: there is nothing to invoice")
    if view.handed_over is None or view.agreed is None or view.arrived is None:
        raise Refusal(f"job {job} is not handed over yet: `coatbook job handover {job}` comes before the invoice")
    not_before(act.on, view.handed_over, "the invoice", "the handover")
    series, n, number = take_number(act, INVOICES)
    record = _record(act, row, view, number, due)
    _check_drawable(record)
    keep_invoice(act, row, party_id(act.session, row.id, "pays"), series, n, record)
    act.tell(
        f"Invoice {number} to {record.customer.name}: {record.gross} {record.currency} "
        f"for job {job} on {view.airframe.called}, due {record.due}."
    )
    for line in record.lines:
        act.tell(f"  {charged(line)}")
    for tax in record.taxes:
        act.tell(f"  {tax.name} ({tax.place}) {percent(tax.rate)} of {tax.base}: {tax.amount}")
    if not record.taxes:
        act.tell(f"  No tax: no rate is written for {view.site.place}; whether that is right is to confirm locally.")
    return number


def _record(act: OpenAct, row: Job, view: JobView, number: str, due: dt.date | None) -> InvoiceRecord:
    assert view.agreed is not None
    assert view.arrived is not None
    assert view.handed_over is not None
    session, own = act.session, shop(act.session)
    priced = price_plan(session, steps_of(session, row.id), view.agreed, act.today, act.currency)
    if not priced.lines:
        raise Refusal(f"nothing on job {view.number} comes to a charge: plan a step with a price first")
    for sentence in priced.left_out:
        act.tell(sentence)
    net = sum((line.net for line in priced.lines), Money.zero(act.currency))
    taxes = tax_lines(session, view.site.place, priced.lines, act.on, act.today)
    tax = sum((one.amount for one in taxes), Money.zero(act.currency))
    airframe = airframe_by_id(session, row.airframe, view.arrived, act.today)
    due_day = due or act.on + dt.timedelta(days=own.net_days)
    not_before(due_day, act.on, "the due day", "the invoice's own date")
    coatings = [one for one in coatings_of(session, row.airframe, act.on, act.today) if one.job == view.number]
    return InvoiceRecord(
        number=number,
        date=act.on,
        due=due_day,
        currency=act.currency,
        shop=own,
        customer=view.payer,
        job=view.number,
        asked_for=view.asked_for,
        aircraft=WorkedAircraft(airframe.mark, airframe.maker, airframe.model, airframe.serial, airframe.year),
        place_of_work=(view.site.name, *((view.site.airport,) if view.site.airport else ()), *view.site.address),
        arrived=view.arrived,
        handed_over=view.handed_over,
        lines=priced.lines,
        net=net,
        taxes=taxes,
        tax=tax,
        gross=net + tax,
        upkeep=keeping_sentences(coatings, own.locale),
        cautions=CAUTIONS,
        authorities=tuple(said for _, said in authority_sentences(session, row.id, act.today)),
        head=short(act.head_before),
    )


def _check_drawable(record: InvoiceRecord) -> None:
    from coatbook.paper.invoice import check_invoice  # fpdf2 is slow to import

    check_invoice(record)


def draw(book: Book, ask: Ask, number: str) -> tuple[str, bytes]:
    """The invoice as it was handed out: its file's name and bytes, drawn and kept if that has not been done yet."""
    with book.read() as session:
        kept = kept_file(session, number, PDF)
        record = invoice(session, number, book.today()).record
    if kept is None:
        from coatbook.paper.invoice import draw_invoice

        content, name = draw_invoice(record), file_name(record)
        book.do(
            ask, keep_file, number=number, media=PDF, name=name, drawn_by=f"coatbook {__version__}", content=content
        )
        with book.read() as session:
            kept = kept_file(session, number, PDF)
    assert kept is not None
    return kept.name, kept.bytes


def file_name(record: InvoiceRecord) -> str:
    """A file name of the number's letters, digits and hyphens only."""
    safe = "".join(sign if sign.isascii() and sign.isalnum() else "-" for sign in record.number)
    return f"invoice-{safe}.pdf"
