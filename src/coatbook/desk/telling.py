"""The book in words: what screens say of jobs, invoices, upkeep and months, for people and as data."""

import datetime as dt
from typing import Any

from sqlalchemy.orm import Session

from coatbook.billing.views import InvoiceView, final_invoice, invoice
from coatbook.jobs.views import (
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
from coatbook.values import Money
from coatbook.values.words import percent, table


def state_of(session: Session, job: JobView, on: dt.date) -> str:
    """A job's state, settled included: nothing owed on its final invoice."""
    if job.no_charge:
        return "settled"
    number = final_invoice(session, job.id)
    if number is not None and invoice(session, number, on).state == "settled":
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
    """A job in words: one sentence, then parties, plan, readings and diary."""
    with book.read() as session:
        row = find_job(session, number)
        job = job_view(session, row, on)
        bill = final_invoice(session, row.id)
        lines = [_opening(session, job, bill, on), "", *_parties(job), "", "Plan"]
        lines += [f"  {line}" for line in _plan(session, row.id)] or ["  none yet"]
        readings = film_readings(session, row.id)
        if readings:
            lines += ["", "Film readings", *(f"  {line}" for line in _film(readings))]
        masks = masks_left_on(session, row.id)
        if masks:
            listed = ", ".join(f"{item} {count}" for item, count in masks)
            lines += ["", f"Masks still on: {listed}."]
        entries = diary(session, row.id, on, struck=struck)
        if entries:
            lines += ["", "Diary", *(f"  {line}" for line in _diary(entries, book.currency))]
    return "\n".join(lines)


def _opening(session: Session, job: JobView, bill: str | None, on: dt.date) -> str:
    state = state_of(session, job, on)
    told = f"Job {job.number} is {state}: {job.asked_for} on {job.airframe.called} for {job.payer.name}"
    if job.handed_over:
        told += f", handed over on {job.handed_over}{' at no charge' if job.no_charge else ''}"
    if bill is None:
        return f"{told}."
    found = invoice(session, bill, on)
    owed = f"{found.owed} {found.record.currency} owed" if found.owed else "nothing owed"
    return f"{told}; invoice {bill}, {owed}."


def _parties(job: JobView) -> list[str]:
    airframe = job.airframe
    rework = [f"  rework     of job {job.rework_of}: {job.cause}"] if job.rework_of else []
    events = [
        ("opened", job.opened),
        ("agreed", job.agreed),
        ("arrived", job.arrived),
        ("handed over", job.handed_over),
    ]
    return [
        f"  aircraft   {airframe.maker} {airframe.model}, serial {airframe.serial}",
        f"  pays       {job.payer.name} ({job.payer.code})",
        f"  hears      {job.hears.name} ({job.hears.code})",
        f"  place      {job.site.name}, taxed as {job.site.place}",
        "  days       " + ", ".join(f"{name} {day}" for name, day in events if day),
        *rework,
    ]


def _plan(session: Session, job: int) -> list[str]:
    told = []
    for step in steps_of(session, job):
        where = f" on {step.surface} ({step.area})" if step.surface else ""
        film = (
            f", {step.passes} x {step.removal}"
            if step.removal
            else f", {step.passes} passes"
            if step.passes > 1
            else ""
        )
        planned = f", {step.hours} planned" if step.hours else ""
        using = f", with {', '.join(step.materials)}" if step.materials else ""
        told.append(f"{step.key:>2}  {step.service_name}{where}{film}{planned}{using}")
    return told


def _film(readings: tuple[Any, ...]) -> list[str]:
    told = []
    for surface in dict.fromkeys(one.surface for one in readings):
        own = [one for one in readings if one.surface == surface]
        spots = len({one.spot for one in own})
        low, high = min(own, key=lambda one: one.value), max(own, key=lambda one: one.value)
        told.append(f"{surface}: {spots} spots, {len(own)} readings, {low.value} to {high.value}")
    return told


def _diary(entries: tuple[Any, ...], currency: str) -> list[str]:
    told = []
    for one in entries:
        quantity = f"{one.quantity} " if one.quantity else ""
        cost = f"  {Money(one.minor, currency)}" if one.minor is not None else ""
        step = f" (step {one.step})" if one.step else ""
        ruled = f"  STRUCK: {one.struck}" if one.struck else ""
        told.append(f"{one.id:>4}  {one.on_day}  {one.kind:<10} {quantity}{one.what}{step}{cost}{ruled}".rstrip())
    return told


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
    }


def invoice_data(view: InvoiceView) -> dict[str, Any]:
    """An invoice with its lines, taxes and payments."""
    record = view.record
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
            }
            for paid in view.payments
        ],
    }


def invoice_story(view: InvoiceView) -> str:
    """An invoice in words: one sentence, then lines, tax, payments and what is owed."""
    record = view.record
    called = record.aircraft.mark or f"{record.aircraft.maker} {record.aircraft.model} sn {record.aircraft.serial}"
    told = (
        f"Invoice {record.number} to {record.customer.name} for {record.asked_for} on {called}, handed over on "
        f"{record.handed_over}: {record.gross} {record.currency}, due {record.due}; "
    )
    told += f"{view.owed} still owed" if view.owed else "settled"
    told += f", {view.late} days late." if view.late else "."
    rows = [(line.text, str(line.quantity), str(line.price), str(line.net)) for line in record.lines]
    rows += [
        (f"{tax.name} ({tax.place})", percent(tax.rate), f"of {tax.base}", str(tax.amount)) for tax in record.taxes
    ]
    rows.append(("Total", "", "", str(record.gross)))
    rows += [(f"Paid {paid.on_day}", paid.method, paid.reference or "", str(-paid.amount)) for paid in view.payments]
    rows.append(("Owed", "", "", str(view.owed)))
    return "\n".join((told, "", table(("", "quantity", "price", record.currency), rows, right=(3,))))
