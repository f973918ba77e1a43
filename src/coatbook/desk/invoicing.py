"""Invoicing right after handover: freeze the record under its number, then draw it, then keep what was drawn."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal

from coatbook import __version__
from coatbook.aircraft.views import airframe_by_id
from coatbook.billing.actions import INVOICES, keep_file, keep_invoice, refuse_second_invoice, take_number
from coatbook.billing.deposits import Drawing, day_taken, plan_drawings, tell_held
from coatbook.billing.deposits import draw as draw_deposits
from coatbook.billing.pricing import price_plan, tax_lines
from coatbook.billing.record import Exempted, InvoiceRecord, Received, Shared, WorkedAircraft
from coatbook.billing.sharing import MILLION, Part, parts
from coatbook.billing.views import invoice, kept_file, work_place
from coatbook.desk.telling_gate import authority_sentences
from coatbook.desk.wording import CAUTIONS, charged, keeping_sentences
from coatbook.jobs.tables import Job
from coatbook.jobs.views import JobView, changes_of, find_job, job_view, payers_of, steps_of
from coatbook.people.views import customer_by_id, exemption_of, shop
from coatbook.store.acts import Ask, OpenAct
from coatbook.store.book import Book
from coatbook.store.chain import short
from coatbook.upkeep.views import coatings_of
from coatbook.values import Money, Refusal
from coatbook.values.checks import not_before
from coatbook.values.words import percent

PDF = "application/pdf"


def issue(act: OpenAct, *, job: int, due: dt.date | None = None) -> tuple[str, ...]:
    """Freeze a job's final invoices under the next numbers, one for each who pays; those numbers.

    Raises:
        Refusal: not handed over, invoiced already, a service without a price, shares that are not the whole, or a
            character the paper's typeface does not have; nothing has a number then.
    """
    row = find_job(act.session, job)
    refuse_second_invoice(act, row)
    view = job_view(act.session, row, act.today)
    _refuse_unfinished(act, view)
    whole = _whole(act, row, view, due)
    payers = payers_of(act.session, row.id)
    shared = []
    for part in parts(job, whole.lines, payers):
        if part.net or not whole.net:
            shared.append(part)
        else:
            act.tell(f"Nothing of job {job} is left for {customer_by_id(act.session, part.customer).name}: no invoice.")
    numbers = tuple(_issue_part(act, row, view, whole, part, shared) for part in shared)
    tell_held(act, row)
    return numbers


def _refuse_unfinished(act: OpenAct, view: JobView) -> None:
    job = view.number
    if view.called_off is not None:
        raise Refusal(
            f"job {job} was called off on {view.called_off} and has no invoice: write what is kept of its deposits "
            f"with `coatbook deposit keep {job} AMOUNT --why …`"
        )
    if view.no_charge:
        raise Refusal(f"job {job} was handed over at no charge on {view.handed_over}: there is nothing to invoice")
    if view.handed_over is None or view.agreed is None or view.arrived is None:
        raise Refusal(f"job {job} is not handed over yet: `coatbook job handover {job}` comes before the invoice")
    not_before(act.on, view.handed_over, "the invoice", "the handover")


def _issue_part(act: OpenAct, row: Job, view: JobView, whole: InvoiceRecord, part: Part, shared: Sequence[Part]) -> str:
    """Freeze what one payer is asked for; the invoice's number."""
    series, n, number = take_number(act, INVOICES)
    record, drawings = _record(act, row, view, whole, part, shared)
    record = replace(record, number=number)
    _check_drawable(record)
    document = keep_invoice(act, row, part.customer, series, n, record)
    act.tell(
        f"Invoice {number} to {record.customer.name}: {record.gross} {record.currency} "
        f"for job {view.number} on {view.airframe.called}, due {record.due}."
    )
    for line in record.lines:
        of = f", part of {line.whole}" if line.is_part else ""
        act.tell(f"  {charged(line)}{of}")
    for tax in record.taxes:
        act.tell(f"  {tax.name} ({tax.place}) {percent(tax.rate)} of {tax.base}: {tax.amount}")
    if record.exempted is not None:
        why = record.exempted
        act.tell(f"  No tax of {why.place}: {why.reason}, certificate {why.certificate}.")
    elif not record.taxes:
        act.tell(f"  No tax: no rate is written for {view.site.place}; whether that is right is to confirm locally.")
    draw_deposits(act, document, drawings)
    if drawings:
        act.tell(f"  {record.balance} {record.currency} is asked for.")
    return number


def _whole(act: OpenAct, row: Job, view: JobView, due: dt.date | None) -> InvoiceRecord:
    """What a job comes to before tax, whoever pays for it."""
    assert view.agreed is not None
    assert view.arrived is not None
    assert view.handed_over is not None
    session, own = act.session, shop(act.session)
    changes = changes_of(session, row.id)
    priced = price_plan(session, steps_of(session, row.id), view.agreed, act.today, act.currency, changes)
    if not priced.lines:
        raise Refusal(f"nothing on job {view.number} comes to a charge: plan a step with a price first")
    for sentence in priced.left_out:
        act.tell(sentence)
    net = sum((line.net for line in priced.lines), Money.zero(act.currency))
    if net.minor < 0:
        raise Refusal(
            f"the agreed changes of job {view.number} take off more than its work comes to ({net}): agree one that "
            "leaves something to ask for"
        )
    airframe = airframe_by_id(session, row.airframe, view.arrived, act.today)
    due_day = due or act.on + dt.timedelta(days=own.net_days)
    not_before(due_day, act.on, "the due day", "the invoice's own date")
    coatings = [one for one in coatings_of(session, row.airframe, act.on, act.today) if one.job == view.number]
    return InvoiceRecord(
        number="",
        date=act.on,
        due=due_day,
        currency=act.currency,
        shop=own,
        customer=view.payer,
        job=view.number,
        asked_for=view.asked_for,
        aircraft=WorkedAircraft(airframe.mark, airframe.maker, airframe.model, airframe.serial, airframe.year),
        place_of_work=work_place(view.site),
        arrived=view.arrived,
        handed_over=view.handed_over,
        lines=priced.lines,
        net=net,
        taxes=(),
        tax=Money.zero(act.currency),
        gross=net,
        upkeep=keeping_sentences(coatings, own.locale),
        cautions=CAUTIONS,
        authorities=tuple(said for _, said in authority_sentences(session, row.id, act.today)),
        head=short(act.head_before),
    )


def _record(
    act: OpenAct, row: Job, view: JobView, whole: InvoiceRecord, part: Part, shared: Sequence[Part]
) -> tuple[InvoiceRecord, tuple[Drawing, ...]]:
    """A payer's invoice, still without its number, and the deposits it draws."""
    session, place = act.session, view.site.place
    exempt = exemption_of(session, part.customer, place, act.on, act.today)
    taxes = tax_lines(session, place, part.lines, act.on, act.today, exempt.place if exempt else None)
    tax = sum((one.amount for one in taxes), Money.zero(act.currency))
    gross = part.net + tax
    drawings = plan_drawings(act, row, part.customer, gross)
    record = replace(
        whole,
        customer=customer_by_id(session, part.customer),
        lines=part.lines,
        net=part.net,
        taxes=taxes,
        tax=tax,
        gross=gross,
        shared=_shared(act, whole, part, shared),
        exempted=Exempted(exempt.place, exempt.reason, exempt.certificate) if exempt else None,
        received=tuple(Received(day_taken(one.deposit), one.amount) for one in drawings),
    )
    return record, drawings


def _shared(act: OpenAct, whole: InvoiceRecord, part: Part, shared: Sequence[Part]) -> Shared | None:
    """How an invoice stands beside the others of its job; None if it is the only one."""
    if len(shared) == 1:
        return None
    fixed = sum((one.net for one in shared if one.share is None), Money.zero(act.currency))
    others = tuple(customer_by_id(act.session, one.customer).name for one in shared if one is not part)
    fraction = Decimal(part.share) / MILLION if part.share is not None else None
    return Shared(fraction, fixed, whole.net, others)


def _check_drawable(record: InvoiceRecord) -> None:
    from coatbook.paper.invoice import check_invoice  # fpdf2 is slow to import

    check_invoice(record)


def draw(book: Book, ask: Ask, number: str) -> tuple[str, bytes]:
    """The invoice as it was handed out: its file's name and bytes, drawn and kept if that has not been done yet."""
    with book.read() as session:
        kept = kept_file(session, number, PDF)
        record = invoice(session, number, book.today()).record
    if record.brought_in:
        raise Refusal(f"invoice {record.number} was issued before this book began: print it where it was issued")
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
