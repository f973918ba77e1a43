"""What others read of people: frozen records."""

import datetime as dt
from dataclasses import dataclass

from sqlalchemy import select
from sqlalchemy.orm import Session

from coatbook.people.tables import Business, Customer, Site, Worker, WorkerRate
from coatbook.store.finding import by_code, got
from coatbook.store.live import in_force


@dataclass(frozen=True, slots=True)
class Shop:
    """The business as documents name it; `address` and `pay_how` by lines."""

    name: str
    address: tuple[str, ...]
    email: str | None
    phone: str | None
    tax_number: str | None
    locale: str
    paper: str
    color: str | None
    pay_how: tuple[str, ...]
    net_days: int


@dataclass(frozen=True, slots=True)
class Person:
    """A customer as documents name it."""

    code: str
    name: str
    address: tuple[str, ...]
    email: str | None
    phone: str | None
    locale: str


@dataclass(frozen=True, slots=True)
class Place:
    """A site: where, and the tax place it lies in."""

    code: str
    name: str
    airport: str | None
    address: tuple[str, ...]
    place: str


@dataclass(frozen=True, slots=True)
class Hand:
    """A worker and what an hour costs on the day asked for, in minor units (None if not known)."""

    code: str
    name: str
    kind: str
    rate: int | None


def shop(session: Session) -> Shop:
    row = session.scalars(select(Business)).one()
    return Shop(
        name=row.name,
        address=tuple(row.address.splitlines()),
        email=row.email,
        phone=row.phone,
        tax_number=row.tax_number,
        locale=row.locale,
        paper=row.paper,
        color=row.color,
        pay_how=tuple((row.pay_how or "").splitlines()),
        net_days=row.net_days,
    )


def _person(row: Customer) -> Person:
    address = tuple(row.address.splitlines())
    return Person(row.code, row.name, address, row.email, row.phone, row.locale)


def customers(session: Session) -> tuple[Person, ...]:
    return tuple(_person(row) for row in session.scalars(select(Customer).order_by(Customer.code)))


def customer(session: Session, code: str) -> Person:
    return _person(by_code(session, Customer, code, "customer"))


def customer_by_id(session: Session, row_id: int) -> Person:
    return _person(got(session, Customer, row_id))


def _place(row: Site) -> Place:
    return Place(row.code, row.name, row.airport, tuple(row.address.splitlines()), row.place)


def sites(session: Session) -> tuple[Place, ...]:
    return tuple(_place(row) for row in session.scalars(select(Site).order_by(Site.code)))


def site_by_id(session: Session, row_id: int) -> Place:
    return _place(got(session, Site, row_id))


def workers(session: Session, on: dt.date) -> tuple[Hand, ...]:
    rows = session.scalars(select(Worker).order_by(Worker.code))
    return tuple(Hand(row.code, row.name, row.kind, _rate(session, row, on)) for row in rows)


def _rate(session: Session, worker: Worker, on: dt.date) -> int | None:
    rate = in_force(session, WorkerRate, on, on, worker=worker.id)
    return rate.minor if rate else None
