"""Writes a generated season into a book, by its actions, and into the plain model beside it, event by event."""

import datetime as dt
import shutil
import tempfile
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from decimal import Decimal
from fractions import Fraction
from functools import partial
from heapq import heappop, heappush
from itertools import count
from pathlib import Path
from typing import Any

from hypothesis import event

from coatbook.aircraft.actions import add_airframe, add_surface
from coatbook.billing.actions import offer_service, set_price, set_tax_rate, take_payment
from coatbook.desk import invoicing, striking
from coatbook.desk.closing import close_month, journal_of
from coatbook.desk.opening import open_book
from coatbook.jobs import actions as jobs
from coatbook.jobs import diary
from coatbook.people import actions as people
from coatbook.stock import actions as stock
from coatbook.store.acts import Ask, OpenAct
from coatbook.store.book import Book
from coatbook.store.clock import Clock
from coatbook.store.engine import is_url
from coatbook.values import Money, Quantity, Refusal
from coatbook.values.days import Month
from coatbook.values.marks import parse_mark
from databases import copy_database, drop_database
from properties.model import MONTH_ENDS, Cost, Lot, Received, Shop
from properties.seasons import BEGIN, CUSTOMERS, MATERIALS, SITES, WORKERS, Bought, Job, Line, Paid, Season

TODAY = dt.date(2026, 8, 20)
NAMES = {code: f"{code.title()} Flying" for code in CUSTOMERS}
UNITS = {"area": "ft2", "hour": "h"}
Event = tuple[dt.date, int, int, Callable[[], Any]]  # the third tells equals apart


def usd(cents: int) -> Money:
    return Money(cents, "USD")


def thousandths(amount: int, unit: str) -> Quantity:
    return Quantity.of(Fraction(amount, 1000), unit)


def furnish(act: OpenAct, *, season: Season) -> None:
    """All that stands before the first job, as one act."""
    for code, name in NAMES.items():
        people.add_customer(act, code=code, name=name, address="1 Field Road")
    for code, place in SITES.items():
        people.add_site(act, code=code, name=code, address="1 Field Road", place=place)
    for code, kind in WORKERS.items():
        people.add_worker(act, code=code, name=code, kind=kind)
        for since, cents in season.wages[code]:
            people.set_worker_rate(act, code=code, rate=usd(cents), from_on=since)
    for since, cents in season.overhead:
        people.set_overhead_rate(act, rate=usd(cents), from_on=since)
    plane = {"maker": "Piper", "model": "PA-28-181", "serial": "2843001"}
    add_airframe(act, code="plane", mark=parse_mark("N123AB"), owner="alder", **plane)
    for name, area in season.areas.items():
        surface = {"area": thousandths(area, "ft2"), "substrate": "aluminum", "paint": "single-stage"}
        add_surface(act, aircraft="plane", name=name, **surface)
    for code in MATERIALS:
        stock.add_material(act, code=code, name=code, unit="fl oz")
    for service in season.services:
        offer_service(act, code=service.code, name=service.code, abrasive=False, tax_kind=service.kind)
        for price, basis in zip(service.prices, service.bases, strict=True):
            per = thousandths(price.per, UNITS[basis]) if basis in UNITS else None
            values: dict[str, Any] = {"basis": basis, "per": per, "from_on": price.since}
            set_price(act, service=service.code, amount=usd(price.cents), **values)
    for rate in season.rates:
        percent = f"{Decimal(rate.millionths) / 10_000:f}"
        set_tax_rate(act, place=rate.place, kind=rate.kind, name=rate.name, percent=percent, from_on=rate.since)


class Both:
    """A book and the model, and the events still to come: each on its day, in the order of a day's work."""

    def __init__(self, book: Book, season: Season) -> None:
        self.book, self.season, self.model = book, season, Shop(season)
        self.events: list[Event] = []  # a heap
        self.begun = count()
        self.kept: dict[int, bytes] = {}
        self.purchases = self.payments = 0

    def run(self) -> None:
        self.do(BEGIN, furnish, season=self.season)
        for month in self.season.closings:
            self.at(dt.date(2026, month + 1, 1), 0, self.close, month)
        for bought in self.season.bought:
            self.at(bought.day + dt.timedelta(days=bought.late), 1, self.buy, bought)
        for number, job in enumerate(self.season.jobs, start=1):
            self.plan(number, job)
        while self.events:
            heappop(self.events)[3]()

    def at(self, day: dt.date, order: int, then: Callable[..., Any], *given: Any) -> None:
        """Let something happen on a day; `order` is its place in the day's work."""
        heappush(self.events, (day, order, next(self.begun), partial(then, *given)))

    def do(self, on: dt.date | None, action: Callable[..., Any], **values: Any) -> Any:
        return self.book.do(Ask(action.__name__, "tester", on, again=True), action, **values).result

    def refused(self, on: dt.date, action: Callable[..., Any], **values: Any) -> None:
        """What the model does not let through, the book does not either."""
        try:
            self.do(on, action, **values)
        except Refusal:
            event(f"refused: {action.__name__}")
            return
        raise AssertionError(f"{action.__name__} on {on} was written, but the model refuses it: {values}")

    def close(self, month: int) -> None:
        """Close a month and all before it that are open: months close in order."""
        for number in range(max(self.kept, default=0) + 1, month + 1):
            self.do(None, close_month, month=Month(2026, number))
            self.kept[number] = journal_of(self.book, Month(2026, number))
        self.model.close(MONTH_ENDS[month - 1])

    def buy(self, bought: Bought) -> None:
        values = {"code": bought.material, "cost": usd(bought.cents), "supplier": "Low Road", "label": "B-1"}
        values["quantity"] = thousandths(bought.thousandths, "fl oz")
        lot = self.model.buy(bought)
        if lot is None:
            self.refused(bought.day, stock.buy, **values)
            return
        self.do(bought.day, stock.buy, **values)
        self.purchases += 1
        if bought.struck_after is not None:
            later = bought.day + dt.timedelta(days=bought.late + bought.struck_after)
            self.at(later, 6, self.strike_lot, f"purchase:{self.purchases}", lot)

    def strike_lot(self, name: str, lot: Lot) -> None:
        if not self.model.may_strike_purchase(lot):
            self.refused(TODAY, striking.strike, name=name, why="not bought")
            return
        self.strike(name)
        self.model.strike(lot)

    def strike(self, name: str) -> None:
        self.do(None, striking.strike, name=name, why="written in error")

    def plan(self, number: int, job: Job) -> None:
        agreed: dict[str, Any] = {"by": "Jo", "findings": (), "results": ()}
        self.at(job.opened, 1, self.open, number, job)
        self.at(job.agreed, 2, partial(self.do, job.agreed, jobs.agree, job=number, **agreed))
        self.at(job.arrived, 3, partial(self.do, job.arrived, jobs.arrive, job=number, by="Sam"))
        self.at(job.over, 5, partial(self.do, job.over, jobs.hand_over, job=number, to="Jo"))
        for line in job.lines:
            self.at(line.day + dt.timedelta(days=line.late), 4, self.write, number, line)
        if job.invoiced is not None:
            self.at(job.invoiced, 7, self.invoice, number, job, job.invoiced)

    def open(self, number: int, job: Job) -> None:
        values = {"aircraft": "plane", "site": job.site, "asked_for": "wash", "payer": job.payer, "number": number}
        self.do(job.opened, jobs.open_job, **values)
        for code, surfaces in job.steps:
            self.do(job.opened, jobs.plan_steps, job=number, service=code, surfaces=surfaces)

    def write(self, number: int, line: Line) -> None:
        action, values = diary_line(line)
        cost = self.model.write(number, line)
        if cost is None:
            self.refused(line.day, action, job=number, **values)
            return
        entry = self.do(line.day, action, job=number, **values)
        if line.struck_after is not None:
            later = line.day + dt.timedelta(days=line.late + line.struck_after)
            self.at(later, 6, self.strike_line, str(entry), cost)

    def strike_line(self, name: str, cost: Cost) -> None:
        self.strike(name)
        self.model.strike_cost(cost)

    def invoice(self, number: int, job: Job, on: dt.date) -> None:
        if self.model.invoice(number, job, on) is None:
            self.refused(on, invoicing.issue, job=number)
            return
        (name,) = self.do(on, invoicing.issue, job=number)
        for paid in job.paid:
            day = on + dt.timedelta(days=paid.after)
            self.at(day, 8, self.pay, number, job.payer, name, day, paid)

    def pay(self, number: int, payer: str, name: str, day: dt.date, paid: Paid) -> None:
        money = self.model.pay(number, day, paid.per_cent)
        if money is None:
            return
        values = {"customer": payer, "amount": usd(money.cents), "method": "check", "invoices": [name]}
        self.do(day, take_payment, **values)
        self.payments += 1
        if paid.struck_after is not None:
            which = f"payment:{self.payments}"
            self.at(day + dt.timedelta(days=paid.struck_after), 9, self.strike_payment, which, money)

    def strike_payment(self, name: str, money: Received) -> None:
        self.strike(name)
        self.model.strike(money)


def diary_line(line: Line) -> tuple[Callable[..., Any], dict[str, Any]]:
    """The action that writes a line, and its values."""
    if line.kind == "hours":
        return diary.log_hours, {"worker": line.who, "hours": Quantity.of(line.amount, "min"), "step": line.step}
    if line.kind == "use":
        return diary.log_use, {
            "material": line.who,
            "quantity": thousandths(line.amount, "fl oz"),
            "step": line.step,
        }
    if line.kind == "expense":
        return diary.log_expense, {"amount": usd(line.amount), "what": "hangar"}
    return diary.log_travel, {"distance": thousandths(line.amount, "mi"), "rate": usd(line.rate), "where": "field"}


@contextmanager
def copied(template: str) -> Iterator[str]:
    """A copy of a book, at a path or a URL."""
    if is_url(template):
        url = copy_database(template)
        try:
            yield url
        finally:
            drop_database(url)
        return
    with tempfile.TemporaryDirectory() as folder:
        yield str(shutil.copy(template, Path(folder) / "book.db"))


@contextmanager
def written(template: str, season: Season) -> Iterator[Both]:
    """A season in a copy of an empty book, and in the model."""
    with copied(template) as where, closing(open_book(where, Clock(TODAY))) as book:
        both = Both(book, season)
        both.run()
        yield both
