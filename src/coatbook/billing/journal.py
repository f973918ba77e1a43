"""The journal: balanced lines of every event, derived from the book. Owner's hours and overhead are memo only."""

import csv
import datetime as dt
import io
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import groupby

from sqlalchemy import select
from sqlalchemy.orm import Session

from coatbook.billing import moves
from coatbook.billing.tables import (
    BROUGHT_IN,
    DEPOSIT,
    KEPT,
    REFUND,
    Document,
    DocumentTax,
    Payment,
    Settles,
)
from coatbook.jobs.tables import Job
from coatbook.stock.tables import Purchase
from coatbook.store.tables import Act, WrittenOnce
from coatbook.values import Money
from coatbook.values.days import Month

OWED = "Owed by customers"
MONEY_IN = "Money received, to bank"
DEPOSITS = "Deposits held"
TAX = "Tax collected, to remit"
STOCK = "Materials on the shelf"
IN_PROGRESS = "Work in progress"
REVENUE = "Earned: "
COST = "Cost of jobs: "
SHOP = "Cost of shop: "
AT_THE_START = "Brought in at the start"
CLEARING = {
    moves.MATERIALS: "Purchases, to pay",
    moves.LABOR: "Wages, to pay",
    moves.EXPENSES: "Expenses, to pay",
}
HEADINGS = ("date", "entry", "account", "debit", "credit", "document", "job", "text")
_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\0")


@dataclass(frozen=True, slots=True)
class Posting:
    """One line of the journal: a debit in minor units, or a credit as a negative one."""

    day: dt.date
    entry: str
    account: str
    minor: int
    text: str
    document: str | None = None
    job: int | None = None


def postings(session: Session, on: dt.date) -> list[Posting]:
    """All lines of the journal by a day, in day and entry order. Those of one entry add up to nothing."""
    numbers = {job.id: job.number for job in session.scalars(select(Job))}
    lines = [
        *_purchases(session, on),
        *_lot_changes(session, on),
        *_costs(session, on, numbers),
        *_documents(session, on, numbers),
        *_brought_in(session, on, numbers),
        *_payments(session, on),
        *_deposits(session, on, numbers),
    ]
    return sorted((line for line in lines if line.minor), key=lambda line: (line.day, line.entry))


def _pair(
    day: dt.date, entry: str, debit: str, credit: str, minor: int, text: str, **more: str | int | None
) -> Iterator[Posting]:
    yield Posting(day, entry, debit, minor, text, **more)  # type: ignore[arg-type]
    yield Posting(day, entry, credit, -minor, text, **more)  # type: ignore[arg-type]


def _struck_too(entry: str, line: WrittenOnce, on: dt.date) -> Iterator[tuple[dt.date, str, int]]:
    """The day, name and sign of a line, and of its strike if that counts on a later day."""
    for day, sign in moves.counted(line, on):
        yield day, entry if sign > 0 else f"{entry} struck", sign


def _purchases(session: Session, on: dt.date) -> Iterator[Posting]:
    for row in session.scalars(select(Purchase).where(Purchase.on_day <= on).order_by(Purchase.id)):
        text = f"{row.supplier}, {row.reference}" if row.reference else row.supplier
        for day, entry, sign in _struck_too(f"purchase {row.id}", row, on):
            source = AT_THE_START if row.brought_in else CLEARING[moves.MATERIALS]
            yield from _pair(day, entry, STOCK, source, sign * row.minor, text)


def _lot_changes(session: Session, on: dt.date) -> Iterator[Posting]:
    """What counts, corrected prices, write-offs and returns change: the shelf, the shop's costs, and who supplied."""
    for move in moves.lot_moves(session, on):
        entry = f"lot change {move.change}{' struck' if move.struck else ''}"
        source = AT_THE_START if move.at_the_start else CLEARING[moves.MATERIALS]
        yield Posting(move.day, entry, STOCK, move.shelf, move.text)
        yield Posting(move.day, entry, SHOP + moves.MATERIALS, move.shop, move.text)
        yield Posting(move.day, entry, source, -move.shelf - move.shop, move.text)


def _costs(session: Session, on: dt.date, numbers: dict[int, int]) -> Iterator[Posting]:
    recognized = moves.recognized_days(session, on)
    taken_over: dict[tuple[int, str], int] = {}
    for cost in moves.line_costs(session, on):
        if cost.kind not in moves.JOURNAL_COSTS:
            continue
        entry = f"line {cost.entry}" if cost.minor >= 0 else f"line {cost.entry} struck"
        source = AT_THE_START if cost.brought_in else STOCK if cost.kind == moves.MATERIALS else CLEARING[cost.kind]
        if cost.job is None:
            yield from _pair(cost.day, entry, SHOP + cost.kind, source, cost.minor, cost.text)
            continue
        after = cost.job in recognized and cost.day > recognized[cost.job]
        if not after:
            key = (cost.job, cost.kind)
            taken_over[key] = taken_over.get(key, 0) + cost.minor
        account = COST + cost.kind if after else IN_PROGRESS
        yield from _pair(cost.day, entry, account, source, cost.minor, cost.text, job=numbers[cost.job])
    for (job, kind), minor in taken_over.items():
        if job in recognized:
            entry, text = f"job {numbers[job]} recognized", f"work in progress of job {numbers[job]}"
            yield from _pair(recognized[job], entry, COST + kind, IN_PROGRESS, minor, text, job=numbers[job])


def _documents(session: Session, on: dt.date, numbers: dict[int, int]) -> Iterator[Posting]:
    lines = moves.document_lines(session, on)
    earned = {number: list(own) for number, own in groupby(lines, lambda line: line.document)}
    issued = select(Document).where(Document.kind != BROUGHT_IN, Document.dated <= on).order_by(Document.id)
    for row in session.scalars(issued):
        entry, job = f"invoice {row.number}", numbers[row.job]
        yield Posting(row.dated, entry, OWED, row.gross, f"invoice {row.number}", row.number, job)
        for line in earned.get(row.number, []):
            yield Posting(row.dated, entry, REVENUE + line.service, -line.minor, line.service, row.number, job)
        for tax in session.scalars(select(DocumentTax).filter_by(document=row.id).order_by(DocumentTax.n)):
            yield Posting(row.dated, entry, TAX, -tax.amount, f"{tax.name} {tax.place}", row.number, job)


def _brought_in(session: Session, on: dt.date, numbers: dict[int, int]) -> Iterator[Posting]:
    """What was open on invoices of the books before this one, on the day it was brought in."""
    rows = (
        select(Document, Act.on_day)
        .join(Act, Act.id == Document.act)
        .where(Document.kind == BROUGHT_IN, Act.on_day <= on)
        .order_by(Document.id)
    )
    for row, day in session.execute(rows):
        text = f"invoice {row.number} of {row.dated}"
        more: dict[str, str | int | None] = {"document": row.number, "job": numbers[row.job]}
        yield from _pair(day, f"invoice {row.number}", OWED, AT_THE_START, row.gross, text, **more)


def _payments(session: Session, on: dt.date) -> Iterator[Posting]:
    """Money and deposits as they settle invoices."""
    rows = session.execute(
        select(Payment, Settles, Document.number)
        .join(Settles, Settles.payment == Payment.id)
        .join(Document, Document.id == Settles.document)
        .where(Settles.on_day <= on)
        .order_by(Payment.id, Settles.id)
    )
    for payment, settles, number in rows:
        deposit = payment.kind == DEPOSIT
        name, source = (f"deposit {payment.id} drawn", DEPOSITS) if deposit else (f"payment {payment.id}", MONEY_IN)
        for day, entry, sign in _struck_too(name, settles, on):
            yield from _pair(day, entry, source, OWED, sign * settles.minor, payment.method, document=number)


def _deposits(session: Session, on: dt.date, numbers: dict[int, int]) -> Iterator[Posting]:
    """Deposits as they come in, are kept and go back; drawn on an invoice they settle it."""
    rows = select(Payment).where(Payment.kind.in_((DEPOSIT, KEPT, REFUND)), Payment.on_day <= on).order_by(Payment.id)
    for row in session.scalars(rows):
        debit, credit = {
            DEPOSIT: (AT_THE_START if row.brought_in else MONEY_IN, DEPOSITS),
            KEPT: (DEPOSITS, REVENUE + moves.DEPOSITS_KEPT),
            REFUND: (DEPOSITS, MONEY_IN),
        }[row.kind or ""]
        job = numbers[row.job] if row.job is not None else None
        entry = f"{'deposit' if row.kind == DEPOSIT else 'payment'} {row.id}"
        for day, name, sign in _struck_too(entry, row, on):
            yield from _pair(day, name, debit, credit, sign * row.minor, row.text or row.method, job=job)


def in_month(lines: Iterable[Posting], month: Month) -> list[Posting]:
    return [line for line in lines if month.contains(line.day)]


def profit(lines: Iterable[Posting]) -> int:
    """What the income accounts of some lines come to: earned less cost, in minor units."""
    return -sum(line.minor for line in lines if line.account.startswith((REVENUE, COST, SHOP)))


def as_csv(lines: Iterable[Posting], currency: str) -> bytes:
    """Journal lines as CSV (RFC 4180, UTF-8). Text a spreadsheet would run as a formula gets a leading apostrophe."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(HEADINGS)
    for line in lines:
        debit, credit = (line.minor, 0) if line.minor > 0 else (0, -line.minor)
        writer.writerow(
            (
                line.day.isoformat(),
                line.entry,
                line.account,
                str(Money(debit, currency)) if debit else "",
                str(Money(credit, currency)) if credit else "",
                _harmless(line.document or ""),
                line.job if line.job is not None else "",
                _harmless(line.text.replace("\n", " ")),
            )
        )
    return out.getvalue().encode()


def _harmless(text: str) -> str:
    return f"'{text}" if text.startswith(_FORMULA) else text
