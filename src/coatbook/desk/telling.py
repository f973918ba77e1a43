"""The book in words: what screens say of jobs, invoices, upkeep and months, for people and as data."""

import datetime as dt
import textwrap
from collections.abc import Iterable
from typing import Any

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from coatbook.aircraft.tables import Surface
from coatbook.billing.record import InvoiceRecord, Line
from coatbook.billing.views import InvoiceView, final_invoices, invoice
from coatbook.desk.gate import FILM_CALCULATOR
from coatbook.desk.telling_gate import authority_sentences, kept_verdicts
from coatbook.desk.telling_scope import before_the_plan, beside_the_plan, roles
from coatbook.desk.wording import counted, itself
from coatbook.jobs.tables import Entry, JobEvent, Reading
from coatbook.jobs.views import (
    DiaryLine,
    FilmReading,
    JobView,
    diary,
    film_readings,
    find_job,
    job_view,
    jobs,
    masks_left_on,
    steps_of,
)
from coatbook.store.book import Book
from coatbook.store.live import live
from coatbook.values import Money
from coatbook.values.quantity import plain
from coatbook.values.words import count, percent, table

SCREEN = 80  # columns


def state_of(session: Session, job: JobView, on: dt.date) -> str:
    """A job's state, settled included: nothing owed on any of its final invoices."""
    if job.no_charge:
        return "settled"
    numbers = final_invoices(session, job.id)
    if numbers and all(invoice(session, number, on).state == "settled" for number in numbers):
        return "settled"
    return job.state


def job_rows(book: Book, on: dt.date) -> list[dict[str, Any]]:
    """All jobs opened by a day, with stable keys."""
    with book.read() as session:
        return [
            {
                "job": job.number,
                "mark": job.airframe.called,
                "customer": job.payer.code,
                "state": state_of(session, job, on),
                "opened": job.opened.isoformat(),
                "handed_over": job.handed_over.isoformat() if job.handed_over else None,
            }
            for job in jobs(session, on)
        ]


def job_story(book: Book, number: int, on: dt.date, struck: bool) -> str:
    """A job in words: one sentence, then parties and events, plan, film, authorities and diary."""
    with book.read() as session:
        row = find_job(session, number)
        job = job_view(session, row, on)
        bills = final_invoices(session, row.id)
        parts = [
            *((title, _each(told)) for title, told in before_the_plan(session, row.id, on)),
            ("Plan", _plan(session, row.id) or ["  none yet"]),
            *((title, _each(told)) for title, told in beside_the_plan(session, row.id, book.currency)),
            ("Film", _film(session, row.id, on)),
            ("On authority", _authorities(session, row.id, on)),
            ("Masks still on", _masks(session, row.id)),
            ("Diary", _diary(diary(session, row.id, on, struck=struck), book.currency)),
        ]
        people = roles(session, row.id, book.currency)
        lines = [_opening(session, job, bills, on), "", *_parties(job, people), *_events(session, job, on, struck)]
    for title, told in parts:
        if told:
            lines += ["", title, *told]
    return "\n".join(lines)


def _hung(first: str, text: str) -> list[str]:
    """Text beside its label, in lines of a screen; the further lines stand under the text."""
    whole = textwrap.fill(
        text,
        SCREEN,
        initial_indent=first,
        subsequent_indent=" " * len(first),
        break_on_hyphens=False,
        break_long_words=False,
    )
    return whole.splitlines() or [first.rstrip()]


def _each(sentences: Iterable[str]) -> list[str]:
    return [line for sentence in sentences for line in _hung("  ", sentence)]


def _opening(session: Session, job: JobView, bills: tuple[str, ...], on: dt.date) -> str:
    state = state_of(session, job, on)
    told = f"Job {job.number} is {state}: {job.asked_for} on {job.airframe.called} for {job.payer.name}"
    if job.called_off:
        told += f", because {job.called_off_why}"
    if job.handed_over:
        told += f", handed over on {job.handed_over}{' at no charge' if job.no_charge else ''}"
    for bill in bills:
        found = invoice(session, bill, on)
        owed = f"{found.owed} {found.record.currency} owed" if found.owed else "nothing owed"
        told += f"; invoice {bill}, {owed}"
    return f"{told}."


def _parties(job: JobView, people: list[tuple[str, str]]) -> list[str]:
    airframe = job.airframe
    facts = [
        ("aircraft", f"{airframe.maker} {airframe.model}, serial {airframe.serial}"),
        *people,
        ("place", f"{job.site.name}, taxed as {job.site.place}"),
        ("rework", f"of job {job.rework_of}: {job.cause}" if job.rework_of else ""),
    ]
    return [line for label, text in facts if text for line in _hung(f"  {label:<10} ", text)]


def _events(session: Session, job: JobView, on: dt.date, struck: bool) -> list[str]:
    """The days a job moved on, each event with the name `coatbook strike` takes."""
    which = JobEvent.on_day <= on if struck else live(JobEvent, on)
    rows = session.scalars(select(JobEvent).where(JobEvent.job == job.id, which).order_by(JobEvent.id))
    told = [f"opened {job.opened}"]
    for row in rows:
        ruled = f", STRUCK: {row.struck_why}" if row.struck_why else ""
        told.append(f"{row.kind} {row.on_day}{_WITH.get(row.kind, _BY)} {row.who} (job_event:{row.id}{ruled})")
    return _hung("  days       ", "; ".join(told))


_WITH = {"agreed": " with", "arrived": ", received by", "handed over": " to"}
_BY = " by"  # all else a person does: call off, look at the keep-off list or at the masks


def _plan(session: Session, job: int) -> list[str]:
    told = []
    for step in steps_of(session, job):
        where = f" on {step.surface} ({step.area})" if step.surface else ""
        passes = f", {step.passes} passes" if step.passes > 1 else ""
        film = f", {step.passes} x {step.removal}" if step.removal else passes
        planned = f", {step.hours}" if step.hours else ""
        using = f", with {', '.join(step.materials)}" if step.materials else ""
        called = f"{step.service_name}, {step.name}" if step.name else step.service_name
        changed = f", change {step.change}" if step.change else ""
        told += _hung(f"  {step.key:>2}  ", f"{called}{where}{film}{planned}{using}{changed}")
    return told


def _film(session: Session, job: int, on: dt.date) -> list[str]:
    """What was read on each surface, and the last verdict that was kept of it: a word and its reason."""
    readings = film_readings(session, job)
    read_last = _read_last(session, job)
    verdicts = {
        (one.calculator, one.of): one
        for one in kept_verdicts(session, job, on)
        if one.calculator == FILM_CALCULATOR or one.gates
    }
    told = []
    for surface in dict.fromkeys((*(one.surface for one in readings), *(of for _, of in verdicts))):
        read = _read([one for one in readings if one.surface == surface])
        told += _hung("  ", f"{surface}: {read}")
        for (calculator, of), one in verdicts.items():
            if of == surface:
                by = "" if calculator == FILM_CALCULATOR else f" by {calculator}"
                since = "; read again since" if read_last.get(surface, 0) > one.act else ""
                told += _hung("    ", f"{one.level} on {one.on_day}{by}: {itself(of, one.reason)}{since}")
    return told


def _read(own: list[FilmReading]) -> str:
    if not own:
        return "no readings"
    spots = count(len({one.spot for one in own}), "spot")
    low, high = min(own, key=lambda one: one.value), max(own, key=lambda one: one.value)
    return f"{spots}, {count(len(own), 'reading')}, {low.value} to {high.value}"


def _read_last(session: Session, job: int) -> dict[str, int]:
    """The act that last read film on each surface."""
    rows = session.execute(
        select(Surface.name, func.max(Reading.act))
        .join(Entry, Entry.surface == Surface.id)
        .join(Reading, Reading.entry == Entry.id)
        .where(Entry.job == job, Reading.kind == "film", Reading.struck_on.is_(None))
        .group_by(Surface.name)
    )
    return {name: int(act) for name, act in rows}


def _authorities(session: Session, job: int, on: dt.date) -> list[str]:
    told = []
    for row, sentence in authority_sentences(session, job, on):
        told += _hung("  ", f"{sentence.rstrip('.')} (authority:{row}).")
    return told


def _masks(session: Session, job: int) -> list[str]:
    masks = masks_left_on(session, job)
    return _hung("  ", ", ".join(f"{item} {number}" for item, number in masks)) if masks else []


def _diary(entries: tuple[DiaryLine, ...], currency: str) -> list[str]:
    told = []
    for one in entries:
        parts = [
            _quantity(one),
            f"{one.what}{f' (step {one.step})' if one.step else ''}",
            str(Money(one.minor, currency)) if one.minor is not None else "",
            f"STRUCK: {one.struck}" if one.struck else "",
        ]
        text = ", ".join((" ".join(filter(None, parts[:2])), *filter(None, parts[2:])))
        told += _hung(f"{one.id:>4}  {one.on_day} {one.kind:<10} ", text)
    return told


def _quantity(one: DiaryLine) -> str:
    """How much; masks are told as put on or taken off."""
    if one.quantity is None:
        return ""
    if one.kind != "mask":
        return str(one.quantity)
    number = one.quantity.decimal()
    return f"{plain(abs(number))} {'off' if number < 0 else 'on'}"


def invoice_row(view: InvoiceView) -> dict[str, Any]:
    """An invoice with stable keys; amounts are decimal strings."""
    record = view.record
    return {
        "number": record.number,
        "date": record.date.isoformat(),
        "due": record.due.isoformat(),
        "customer": record.customer.code,
        "job": record.job,
        "mark": record.aircraft.mark,
        "currency": record.currency,
        "net": str(record.net),
        "tax": str(record.tax),
        "gross": str(record.gross),
        "owed": str(view.owed),
        "state": view.state,
        "late_days": view.late,
        "brought_in": record.brought_in,
    }


def invoice_data(view: InvoiceView) -> dict[str, Any]:
    """An invoice with its lines, taxes and payments."""
    record, shared, exempted = view.record, view.record.shared, view.record.exempted
    return invoice_row(view) | {
        "lines": [
            {
                "text": line.text,
                "quantity": format(line.quantity.decimal().normalize(), "f"),
                "unit": line.quantity.unit,
                "price": str(line.price.money),
                "price_per": str(line.price.per),
                "net": str(line.net),
                "tax_kind": line.tax_kind,
                "whole": str(line.whole) if line.is_part else None,
            }
            for line in record.lines
        ],
        "taxes": [
            {
                "place": tax.place,
                "name": tax.name,
                "rate": format(tax.rate.normalize(), "f"),
                "base": str(tax.base),
                "amount": str(tax.amount),
            }
            for tax in record.taxes
        ],
        "payments": [
            {
                "payment": paid.id,
                "date": paid.on_day.isoformat(),
                "method": paid.method,
                "reference": paid.reference,
                "amount": str(paid.amount),
                "kind": paid.kind,
            }
            for paid in view.payments
        ],
        "shared": shared
        and {
            "fraction": None if shared.fraction is None else format(shared.fraction.normalize(), "f"),
            "whole": str(shared.whole),
            "others": list(shared.others),
        },
        "exempted": exempted
        and {"place": exempted.place, "reason": exempted.reason, "certificate": exempted.certificate},
    }


def invoice_story(view: InvoiceView) -> str:
    """An invoice in words: one sentence, then lines, tax, payments and what is owed."""
    record = view.record
    called = record.aircraft.mark or f"{record.aircraft.maker} {record.aircraft.model} sn {record.aircraft.serial}"
    over = f"handed over on {record.handed_over}: {record.gross} {record.currency}"
    if record.brought_in:
        over = f"brought in when the book began: {record.gross} {record.currency} open then"
    told = f"Invoice {record.number} to {record.customer.name} for {record.asked_for} on {called}, {over}, "
    told += f"due {record.due}; "
    told += f"{view.owed} still owed" if view.owed else "settled"
    told += f", {view.late} days late." if view.late else "."
    rows = [_line_row(line) for line in record.lines]
    rows += [
        (f"{tax.name} ({tax.place})", percent(tax.rate), f"of {tax.base}", str(tax.amount)) for tax in record.taxes
    ]
    rows.append(("Total", "", "", str(record.gross)))
    rows += [
        (f"{paid.kind.capitalize()} {paid.on_day}", paid.method, paid.reference or "", str(-paid.amount))
        for paid in view.payments
    ]
    rows.append(("Owed", "", "", str(view.owed)))
    why = [*_shared(record), *_exempted(record)]
    headings = ("", "quantity", "price", record.currency)
    return "\n".join((told, *why, "", table(headings, _narrow([headings, *rows])[1:], right=(3,))))


def _line_row(line: Line) -> tuple[str, str, str, str]:
    text = f"{line.text}, part of {line.whole}" if line.is_part else line.text
    return text, *counted(line), str(line.net)


def _shared(record: InvoiceRecord) -> list[str]:
    """Which part of its job an invoice is, if others pay too."""
    shared = record.shared
    if shared is None:
        return []
    if shared.fraction is None:
        part = "A fixed sum of the job's lines"
    else:
        left = f" after fixed sums of {shared.fixed}" if shared.fixed else ""
        part = f"{percent(shared.fraction)} of the job's lines{left}"
    others = " and ".join(shared.others)
    return [f"{part}: {record.net} of {shared.whole} before tax; the rest is invoiced to {others}."]


def _exempted(record: InvoiceRecord) -> list[str]:
    why = record.exempted
    return [f"No tax of {why.place}: {why.reason}, certificate {why.certificate}."] if why else []


def _narrow(rows: list[tuple[str, str, str, str]]) -> list[tuple[str, str, str, str]]:
    """Rows whose first cell is broken over further rows, so that a screen holds all four columns."""
    taken = sum(2 + max(len(row[place]) for row in rows) for place in (1, 2, 3))
    told: list[tuple[str, str, str, str]] = []
    for text, *cells in rows:
        first, *more = textwrap.wrap(text, max(20, SCREEN - taken)) or [""]
        told += [(first, *cells), *((f"  {line}", "", "", "") for line in more)]  # type: ignore[list-item]
    return told
