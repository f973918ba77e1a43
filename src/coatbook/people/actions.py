"""What writes the business, customers, sites, workers and their rates."""

import datetime as dt
import re
from typing import Any

from sqlalchemy import select

from coatbook.people.tables import (
    WORKER_KINDS,
    Business,
    Customer,
    OverheadRate,
    Site,
    Worker,
    WorkerRate,
)
from coatbook.store.acts import OpenAct
from coatbook.store.finding import by_code, refuse_taken
from coatbook.store.live import in_force
from coatbook.values import Misuse, Money, Quantity, Refusal, text
from coatbook.values.checks import not_negative, of_dimension, whole
from coatbook.values.words import a

_EMAIL = re.compile(r"[^@\s,;<>\"()\[\]:\\]{1,64}@[A-Za-z0-9-]+(\.[A-Za-z0-9-]+)+")
_PLACE = re.compile(r"[A-Z]{2}(-[A-Z0-9]{1,20})*")
_COLOR = re.compile(r"#[0-9a-f]{6}")
_LOCALE = re.compile(r"[a-z]{2,3}(_[A-Z][a-z]{3})?(_[A-Z]{2})?")
_LETTER_COUNTRIES = {"US", "CA", "MX", "CL", "CO", "CR", "GT", "PA", "PH", "PR", "SV", "VE"}
MOST_ON_COST = Quantity.of(300, "%")
_MILLIONTHS = 10  # of one, in a quantum of the ratio: 0.001 %


def email(typed: str) -> str:
    """One plain mail address. Raises Misuse for anything else, several addresses included."""
    kept = text.line(typed, "mail address")
    if not _EMAIL.fullmatch(kept):
        raise Misuse(f"{kept!r} is not one mail address: write it like owner@example.com")
    return kept


def place(typed: str) -> str:
    """A tax place: country, then state, county and city as far as needed, such as US-TX-TRAVIS."""
    kept = text.line(typed, "place").upper()
    if not _PLACE.fullmatch(kept):
        raise Misuse(f"{kept!r} is not a place: write country and state like US-TX, or finer like US-TX-AUSTIN")
    return kept


def locale(typed: str) -> str:
    """A locale name such as en_US or de_DE, known to the Unicode locale data."""
    from babel import Locale, UnknownLocaleError

    kept = text.line(typed, "locale").replace("-", "_")
    try:
        if _LOCALE.fullmatch(kept):
            return str(Locale.parse(kept))
    except (UnknownLocaleError, ValueError):
        pass
    raise Misuse(f"{kept!r} is not a locale: write language and country like en_US or de_DE")


def paper_of(locale_name: str) -> str:
    """The paper a locale's country writes on: Letter in much of the Americas, A4 elsewhere."""
    return "Letter" if locale_name.rpartition("_")[2] in _LETTER_COUNTRIES else "A4"


_BUSINESS = {
    "name": lambda typed: text.line(typed, "name of the shop"),
    "address": lambda typed: text.note(typed, "address"),
    "email": email,
    "phone": lambda typed: text.line(typed, "phone number", 40),
    "tax_number": lambda typed: text.line(typed, "tax number", 40),
    "locale": locale,
    "paper": lambda typed: {"letter": "Letter", "a4": "A4"}[text.one_of(typed, ("letter", "a4"), "paper")],
    "color": lambda typed: _color(typed),
    "pay_how": lambda typed: text.note(typed, "payment instructions"),
    "net_days": lambda typed: whole(int(typed), 0, 365, "number of days to pay"),
}
_CUSTOMER = {
    "name": lambda typed: text.line(typed, "name"),
    "address": lambda typed: text.note(typed, "address"),
    "email": email,
    "phone": lambda typed: text.line(typed, "phone number", 40),
    "locale": locale,
}
_SITE = {
    "name": lambda typed: text.line(typed, "name"),
    "airport": lambda typed: text.line(typed, "airport", 60),
    "address": lambda typed: text.note(typed, "address"),
    "place": place,
    "landlord": lambda typed: text.line(typed, "landlord"),
    "access": lambda typed: text.line(typed, "rule for access"),
    "power": lambda typed: text.line(typed, "rule for power"),
    "water": lambda typed: text.line(typed, "rule for water"),
}
_WORKER = {
    "name": lambda typed: text.line(typed, "name"),
    "kind": lambda typed: text.one_of(typed, WORKER_KINDS, "kind of worker"),
}


def _color(typed: str) -> str:
    kept = text.line(typed, "color").lower()
    if not _COLOR.fullmatch(kept):
        raise Misuse(f"{kept!r} is not a color: write it like #31556b")
    return kept


def _read(readers: Any, given: dict[str, Any]) -> dict[str, Any]:
    """The values that were given, each through its reader."""
    return {name: readers[name](value) for name, value in given.items() if value is not None}


def _named(values: dict[str, Any]) -> str:
    return ", ".join(name.replace("_", " ") for name in sorted(values))


def set_up_business(act: OpenAct, *, name: str, address: str, locale: str, net_days: int, **more: str | None) -> None:
    """Write the shop as its documents name it, when a book begins."""
    values = _read(_BUSINESS, {"name": name, "address": address, "locale": locale, "net_days": net_days} | more)
    values.setdefault("paper", paper_of(values["locale"]))
    act.add(Business(**values))
    act.tell(f"The book of {values['name']} begins: money in {act.currency}, days in {act.zone}.")


def edit_business(act: OpenAct, /, **changes: Any) -> None:
    """Change what the shop's documents say of it from now on; issued documents keep what they said."""
    business = act.session.scalars(select(Business)).one()
    values = _read(_BUSINESS, changes)
    if not values:
        raise Misuse("nothing to change: give at least one option, such as --phone")
    act.edit(business, **values)
    act.tell(f"{business.name}: {_named(values)} changed.")


def add_customer(act: OpenAct, /, *, code: str, name: str, address: str, **more: str | None) -> None:
    """Write a new customer. The language defaults to the shop's."""
    kept = text.code(code, "customer code")
    refuse_taken(act.session, Customer, "customer", code=kept)
    values = _read(_CUSTOMER, {"name": name, "address": address} | more)
    values.setdefault("locale", act.session.scalars(select(Business)).one().locale)
    act.add(Customer(code=kept, **values))
    act.tell(f"Customer {kept}: {values['name']}.")


def edit_customer(act: OpenAct, /, *, code: str, **changes: str | None) -> None:
    """Change a customer's contact data from now on."""
    customer = by_code(act.session, Customer, code, "customer")
    values = _read(_CUSTOMER, changes)
    if not values:
        raise Misuse("nothing to change: give at least one option, such as --email")
    act.edit(customer, **values)
    act.tell(f"Customer {customer.code}: {_named(values)} changed.")


def add_site(
    act: OpenAct,
    *,
    code: str,
    name: str,
    address: str,
    place: str,
    airport: str | None = None,
    landlord: str | None = None,
    access: str | None = None,
    power: str | None = None,
    water: str | None = None,
) -> None:
    """Write a new site: the tax place it lies in, its landlord, and the rules for access, power and water there."""
    kept = text.code(code, "site code")
    refuse_taken(act.session, Site, "site", code=kept)
    rules = {"landlord": landlord, "access": access, "power": power, "water": water}
    values = _read(_SITE, {"name": name, "airport": airport, "address": address, "place": place} | rules)
    act.add(Site(code=kept, **values))
    act.tell(f"Site {kept}: {values['name']}, taxed as {values['place']}.")


def edit_site(act: OpenAct, /, *, code: str, **changes: str | None) -> None:
    """Change what is known of a site from now on; issued documents keep what they said."""
    site = by_code(act.session, Site, code, "site")
    values = _read(_SITE, changes)
    if not values:
        raise Misuse("nothing to change: give at least one option, such as --access")
    act.edit(site, **values)
    act.tell(f"Site {site.code}: {_named(values)} changed.")


def add_worker(
    act: OpenAct, *, code: str, name: str, kind: str, rate: Money | None = None, on_cost: Quantity | None = None
) -> None:
    """Write a new worker (owner, employee or subcontractor), and what an hour of theirs costs if that is known."""
    kept = text.code(code, "worker code")
    refuse_taken(act.session, Worker, "worker", code=kept)
    if on_cost is not None and rate is None:
        raise Misuse("--on-cost comes on top of a rate: give the --rate too")
    worker = Worker(code=kept, **_read(_WORKER, {"name": name, "kind": kind}))
    act.add(worker)
    act.tell(f"Worker {kept}: {worker.name}, {worker.kind}.")
    if rate is None:
        act.tell(f"Next, what an hour costs: `coatbook worker rate {kept} AMOUNT`.")
    else:
        set_worker_rate(act, code=kept, rate=rate, on_cost=on_cost)


def edit_worker(act: OpenAct, *, code: str, name: str | None = None, kind: str | None = None) -> None:
    """Change a worker's name or kind from now on: each line of the diary has kept the kind it was written with."""
    worker = by_code(act.session, Worker, code, "worker")
    values = _read(_WORKER, {"name": name, "kind": kind})
    if not values:
        raise Misuse("nothing to change: give at least one option, such as --name")
    act.edit(worker, **values)
    act.tell(f"Worker {worker.code}: {_named(values)} changed.")
    if "kind" in values:
        act.tell(f"Hours written from now on are those of {a(worker.kind)}; hours written before stay as they are.")


def set_worker_rate(
    act: OpenAct, *, code: str, rate: Money, on_cost: Quantity | None = None, from_on: dt.date | None = None
) -> None:
    """Write what an hour of a worker costs from a day on: the rate, and what comes on top of it in per cent."""
    worker = by_code(act.session, Worker, code, "worker")
    start = from_on or act.on
    act.check_not_closed(start, "the rate")  # it may begin on a coming day
    millionths = _on_cost(on_cost)
    minor = not_negative(rate, "rate").minor
    row = act.add(WorkerRate(worker=worker.id, from_on=start, minor=minor, on_cost=millionths))
    of_which = f": {rate} and {on_cost} on top" if millionths else ""
    act.tell(f"An hour of {worker.name} costs {Money(row.cost, act.currency)} {act.currency} from {start}{of_which}.")


def _on_cost(typed: Quantity | None) -> int | None:
    """What comes on top of a rate, in millionths of it."""
    if typed is None:
        return None
    not_negative(of_dimension(typed, "ratio", "on-cost"), "on-cost")
    if typed > MOST_ON_COST:
        raise Refusal(f"an on-cost of {typed} is above {MOST_ON_COST} of the rate: give only what comes on top of it")
    return typed.quanta * _MILLIONTHS


def set_overhead_rate(act: OpenAct, *, rate: Money, from_on: dt.date | None = None) -> None:
    """Write the shop's overhead per hour of work from a day on."""
    start = from_on or act.on
    act.check_not_closed(start, "the rate")  # it may begin on a coming day
    act.add(OverheadRate(from_on=start, minor=not_negative(rate, "overhead").minor))
    act.tell(f"Overhead is {rate} {act.currency} per hour of work from {start}.")


def worker_rate(act: OpenAct, worker: Worker) -> int:
    """What an hour of the worker costs on the act's day, on-cost included, in minor units."""
    rate = in_force(act.session, WorkerRate, act.on, act.today, worker=worker.id)
    if rate is None:
        raise Refusal(
            f"what an hour of {worker.name} costs on {act.on} is not known: "
            f"write it with `coatbook worker rate {worker.code} AMOUNT --from {act.on}`"
        )
    return rate.cost


def overhead_rate(act: OpenAct) -> int:
    """The overhead per hour on the act's day, in minor units; nothing until the shop sets one."""
    rate = in_force(act.session, OverheadRate, act.on, act.today)
    return rate.minor if rate else 0
