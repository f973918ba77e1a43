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
from coatbook.jobs.views import ChangeView, StepView, hours_on_step
from coatbook.people.views import lies_in
from coatbook.store.finding import by_code
from coatbook.store.live import in_force, live
from coatbook.values import Money, Price, Quantity, Refusal, round_half_up

MILLION = 1_000_000


@dataclass(frozen=True, slots=True)
class Priced:
    """The lines of a plan, and a sentence for each service that comes to nothing."""

    lines: tuple[Line, ...]
    left_out: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Group:
    """The steps of one service that were agreed on one day, with the plan (`change` is None) or by a change."""

    service: Service
    steps: tuple[StepView, ...]
    agreed: dt.date
    change: int | None


def price_plan(
    session: Session,
    steps: Sequence[StepView],
    agreed: dt.date,
    seen: dt.date,
    currency: str,
    changes: Sequence[ChangeView] = (),
) -> Priced:
    """One line for each service of the plan, then what was changed, each at the price in force when it was agreed.

    A change with a price of its own is one line, and its steps are not priced; the steps of another are lines of
    their own. A price for the job is charged once, however many changes add to it.

    Raises:
        Refusal: a service without a price, or priced by area with a step that has no surface.
    """
    lines: list[Line] = []
    left_out: list[str] = []
    by_job: set[str] = set()
    for group in _groups(session, steps, agreed, changes):
        row = _price(session, group, seen)
        code, name = group.service.code, group.service.name
        if row.basis == "job" and code in by_job:
            left_out.append(f"{name} is priced by the job and charged once: change {group.change} adds nothing for it.")
            continue
        quantity = _counted(session, row, group.steps)
        if not quantity.quanta:
            left_out.append(f"{name} is priced by the hour and has no hours: it is not on the invoice.")
            continue
        by_job |= {code} if row.basis == "job" else set()
        price = Price(Money(row.minor, currency), Quantity(row.quanta, row.unit))
        lines.append(Line(code, _text(group), quantity, price, price.of(quantity), group.service.tax_kind))
    lines += (_own_price(session, change, currency) for change in changes if change.minor is not None)
    return Priced(tuple(lines), tuple(left_out))


def _groups(
    session: Session, steps: Sequence[StepView], agreed: dt.date, changes: Sequence[ChangeView]
) -> Iterator[_Group]:
    """The steps that are charged by the price list: the plan's first, then each change's, by service."""
    days: dict[int | None, dt.date] = {None: agreed}
    days |= {change.n: change.on_day for change in changes if change.minor is None}
    for change, day in days.items():
        for code in dict.fromkeys(step.service for step in steps if step.change == change):
            own = tuple(step for step in steps if (step.change, step.service) == (change, code))
            yield _Group(by_code(session, Service, code, "service"), own, day, change)


def _price(session: Session, group: _Group, seen: dt.date) -> PriceRow:
    row = in_force(session, PriceRow, group.agreed, seen, service=group.service.id)
    if row is None:
        what = "the job" if group.change is None else f"change {group.change}"
        raise Refusal(
            f"{group.service.name} has no price on {group.agreed}, when {what} was agreed: write it with "
            f"`coatbook service price {group.service.code} AMOUNT --per … --from {group.agreed}`"
        )
    return row


def _text(group: _Group) -> str:
    where = ", ".join(dict.fromkeys(step.surface for step in group.steps if step.surface))
    text = f"{group.service.name}: {where}" if where else group.service.name
    return text if group.change is None else f"{text} (agreed change {group.change})"


def _own_price(session: Session, change: ChangeView, currency: str) -> Line:
    """The line of a change that has a price of its own."""
    assert change.minor is not None
    if change.service is None:
        raise Refusal(
            f"change {change.n} ({change.what}) has a price and no service it is charged as: strike it and agree it "
            "anew with a service, whose tax it bears"
        )
    service, each = by_code(session, Service, change.service, "service"), Quantity.of(1, "each")
    money = Money(change.minor, currency)
    return Line(
        service.code, f"Agreed change {change.n}: {change.what}", each, Price(money, each), money, service.tax_kind
    )


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
    areas = {step.surface: step.area.quanta for step in steps if step.area}  # once, however many steps stand on it
    return Quantity(sum(areas.values()), row.unit)


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


def tax_lines(
    session: Session, place: str, lines: Sequence[Line], on: dt.date, seen: dt.date, exempt: str | None = None
) -> tuple[Tax, ...]:
    """The taxes on a document: rates of all jurisdictions combined, rounded half up once, then shared out.

    `exempt` is a place whose taxes are not charged, nor those of any place that lies in it.

    So the tax of a document is the rounded product of its base and the combined rate (Streamlined Sales and Use Tax
    Agreement, section 324: to the third decimal, above four rounds up), and the shares add up to it exactly.
    """
    bases: dict[tuple[str, str, int], int] = {}
    for line in lines:
        for rate in _rates(session, place, line.tax_kind, on, seen):
            if exempt is not None and lies_in(rate.place, exempt):
                continue
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
