"""What the agreed plan comes to: lines from steps and prices, and the tax on them."""

import datetime as dt
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

from sqlalchemy import select
from sqlalchemy.orm import Session

from coatbook.billing.record import Line, Tax
from coatbook.billing.tables import PriceRow, TaxRate
from coatbook.jobs.tables import Service
from coatbook.jobs.views import StepView, hours_on_step
from coatbook.store.finding import by_code
from coatbook.store.live import in_force, live
from coatbook.values import Money, Price, Quantity, Refusal, round_half_up

MILLION = 1_000_000


@dataclass(frozen=True, slots=True)
class Priced:
    """The lines of a plan, and a sentence for each service that comes to nothing."""

    lines: tuple[Line, ...]
    left_out: tuple[str, ...]


def price_plan(session: Session, steps: Sequence[StepView], agreed: dt.date, seen: dt.date, currency: str) -> Priced:
    """One line for each service of the plan, at the price in force on the day of the agreement.

    Raises:
        Refusal: a service without a price, or priced by area with a step that has no surface.
    """
    lines, left_out = [], []
    for code in dict.fromkeys(step.service for step in steps):
        own = [step for step in steps if step.service == code]
        service = by_code(session, Service, code, "service")
        row = in_force(session, PriceRow, agreed, seen, service=service.id)
        if row is None:
            raise Refusal(
                f"{service.name} has no price on {agreed}, when the job was agreed: write it with "
                f"`coatbook service price {code} AMOUNT --per … --from {agreed}`"
            )
        quantity = _counted(session, row, own)
        if not quantity.quanta:
            left_out.append(f"{service.name} is priced by the hour and has no hours: it is not on the invoice.")
            continue
        price = Price(Money(row.minor, currency), Quantity(row.quanta, row.unit))
        where = ", ".join(dict.fromkeys(step.surface for step in own if step.surface))
        text = f"{service.name}: {where}" if where else service.name
        lines.append(Line(code, text, quantity, price, price.of(quantity), service.tax_kind))
    return Priced(tuple(lines), tuple(left_out))


def _counted(session: Session, row: PriceRow, steps: Sequence[StepView]) -> Quantity:
    """How much of what a price counts is in these steps, in the price's unit."""
    if row.basis == "job":
        return Quantity.of(1, "each")
    if row.basis == "each":
        return Quantity.of(len(steps), "each")
    if row.basis == "hour":
        return Quantity(sum(hours_on_step(session, step.id).quanta for step in steps), "h")
    bare = [step for step in steps if step.area is None]
    if bare:
        raise Refusal(
            f"step {bare[0].key} ({bare[0].service_name}) is priced by area and names no surface: "
            "strike it and plan it anew with --surface"
        )
    return Quantity(sum(step.area.quanta for step in steps if step.area), row.unit)


def places_above(place: str) -> tuple[str, ...]:
    """A place and all that it lies in, the widest first: US, US-TX, US-TX-AUSTIN."""
    parts = place.split("-")
    return tuple("-".join(parts[: count + 1]) for count in range(len(parts)))


def _rates(session: Session, place: str, kind: str, on: dt.date, seen: dt.date) -> Iterator[TaxRate]:
    """The rates of every jurisdiction a place lies in, on a kind of charge, in force on a day."""
    for jurisdiction in places_above(place):
        names = select(TaxRate.name).where(
            TaxRate.place == jurisdiction, TaxRate.kind == kind, live(TaxRate, seen), TaxRate.from_on <= on
        )
        for name in session.scalars(names.distinct().order_by(TaxRate.name)):
            rate = in_force(session, TaxRate, on, seen, place=jurisdiction, kind=kind, name=name)
            if rate is not None and rate.millionths:
                yield rate


def tax_lines(session: Session, place: str, lines: Sequence[Line], on: dt.date, seen: dt.date) -> tuple[Tax, ...]:
    """The taxes on a document: rates of all jurisdictions combined, rounded half up once, then shared out.

    So the tax of a document is the rounded product of its base and the combined rate (Streamlined Sales and Use Tax
    Agreement, section 324: to the third decimal, above four rounds up), and the shares add up to it exactly.
    """
    bases: dict[tuple[str, str, int], int] = {}
    for line in lines:
        for rate in _rates(session, place, line.tax_kind, on, seen):
            key = (rate.place, rate.name, rate.millionths)
            bases[key] = bases.get(key, 0) + line.net.minor
    if not bases:
        return ()
    currency = lines[0].net.currency
    exact = [base * millionths for (_place, _name, millionths), base in bases.items()]
    whole = Money(round_half_up(sum(exact), MILLION), currency)
    shares = whole.split(exact) if any(exact) else (Money.zero(currency),) * len(exact)
    return tuple(
        Tax(jurisdiction, name, Decimal(millionths) / MILLION, Money(base, currency), share)
        for ((jurisdiction, name, millionths), base), share in zip(bases.items(), shares, strict=True)
    )
