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
from coatbook.values import Misuse, Money, Refusal, text
from coatbook.values.checks import not_negative, whole

_EMAIL = re.compile(r"[^@\s,;<>\"()\[\]:\\]{1,64}@[A-Za-z0-9-]+(\.[A-Za-z0-9-]+)+")
_PLACE = re.compile(r"[A-Z]{2}(-[A-Z0-9]{1,20})*")
_COLOR = re.compile(r"#[0-9a-f]{6}")
_LOCALE = re.compile(r"[a-z]{2,3}(_[A-Z][a-z]{3})?(_[A-Z]{2})?")
_LETTER_COUNTRIES = {"US", "CA", "MX", "CL", "CO", "CR", "GT", "PA", "PH", "PR", "SV", "VE"}
PAPERS = ("Letter", "A4")


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


def add_site(act: OpenAct, *, code: str, name: str, address: str, place: str, airport: str | None = None) -> None:
    """Write a new site and the tax place it lies in."""
    kept = text.code(code, "site code")
    refuse_taken(act.session, Site, "site", code=kept)
    values = _read(_SITE, {"name": name, "address": address, "place": place, "airport": airport})
    act.add(Site(code=kept, **values))
    act.tell(f"Site {kept}: {values['name']}, taxed as {values['place']}.")


def add_worker(act: OpenAct, *, code: str, name: str, kind: str, rate: Money | None = None) -> None:
    """Write a new worker (owner, employee or subcontractor), and what an hour of theirs costs if that is known."""
    kept = text.code(code, "worker code")
    refuse_taken(act.session, Worker, "worker", code=kept)
    worker = Worker(code=kept, name=text.line(name, "name"), kind=text.one_of(kind, WORKER_KINDS, "kind of worker"))
    act.add(worker)
    act.tell(f"Worker {kept}: {worker.name}, {worker.kind}.")
    if rate is None:
        act.tell(f"Next, what an hour costs: `coatbook worker rate {kept} AMOUNT`.")
    else:
        set_worker_rate(act, code=kept, rate=rate)


def set_worker_rate(act: OpenAct, *, code: str, rate: Money, from_on: dt.date | None = None) -> None:
    """Write what an hour of a worker costs from a day on."""
    worker = by_code(act.session, Worker, code, "worker")
    start = from_on or act.on
    act.check_not_closed(start, "the rate")  # it may begin on a coming day
    act.add(WorkerRate(worker=worker.id, from_on=start, minor=not_negative(rate, "rate").minor))
    act.tell(f"An hour of {worker.name} costs {rate} {act.currency} from {start}.")


def set_overhead_rate(act: OpenAct, *, rate: Money, from_on: dt.date | None = None) -> None:
    """Write the shop's overhead per hour of work from a day on."""
    start = from_on or act.on
    act.check_not_closed(start, "the rate")  # it may begin on a coming day
    act.add(OverheadRate(from_on=start, minor=not_negative(rate, "rate").minor))
    act.tell(f"Overhead is {rate} {act.currency} per hour of work from {start}.")


def worker_rate(act: OpenAct, worker: Worker) -> int:
    """What an hour of the worker costs on the act's day, in minor units."""
    rate = in_force(act.session, WorkerRate, act.on, act.today, worker=worker.id)
    if rate is None:
        raise Refusal(
            f"what an hour of {worker.name} costs on {act.on} is not known: "
            f"write it with `coatbook worker rate {worker.code} AMOUNT --from {act.on}`"
        )
    return rate.minor


def overhead_rate(act: OpenAct) -> int:
    """The overhead per hour on the act's day, in minor units; nothing until the shop sets one."""
    rate = in_force(act.session, OverheadRate, act.on, act.today)
    return rate.minor if rate else 0
