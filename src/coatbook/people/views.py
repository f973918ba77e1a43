"""What others read of people: frozen records."""

import datetime as dt
from dataclasses import dataclass

from sqlalchemy import or_, select
from sqlalchemy.orm import Session

from coatbook.people.tables import Business, Customer, Exemption, Paper, Site, Worker, WorkerRate
from coatbook.store.finding import by_code, got
from coatbook.store.live import in_force, live


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
    """A site: where, the tax place it lies in, its landlord, and the rules there."""

    code: str
    name: str
    airport: str | None
    address: tuple[str, ...]
    place: str
    landlord: str | None
    access: str | None
    power: str | None
    water: str | None


@dataclass(frozen=True, slots=True)
class Hand:
    """A worker and what an hour costs on the day asked for, all of it None if not known.

    `rate` and `cost` are minor units, without and with the on-cost; `on_cost` is in millionths of the rate.
    """

    code: str
    name: str
    kind: str
    rate: int | None
    on_cost: int | None
    cost: int | None


@dataclass(frozen=True, slots=True)
class PaperView:
    """A paper of "business", "site:CODE" or "worker:CODE" (`of`), who is called `whose`; `minor` is the sum insured."""

    id: int
    kind: str
    of: str
    whose: str
    issuer: str
    number: str
    minor: int | None
    from_on: dt.date
    expires: dt.date | None


@dataclass(frozen=True, slots=True)
class ExemptionView:
    """Why a customer (by code and name) is charged no tax at a place, on which certificate, and for which days."""

    id: int
    customer: str
    name: str
    place: str
    reason: str
    certificate: str
    from_on: dt.date
    expires: dt.date | None


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
    return Place(
        code=row.code,
        name=row.name,
        airport=row.airport,
        address=tuple(row.address.splitlines()),
        place=row.place,
        landlord=row.landlord,
        access=row.access,
        power=row.power,
        water=row.water,
    )


def sites(session: Session) -> tuple[Place, ...]:
    return tuple(_place(row) for row in session.scalars(select(Site).order_by(Site.code)))


def site(session: Session, code: str) -> Place:
    return _place(by_code(session, Site, code, "site"))


def site_by_id(session: Session, row_id: int) -> Place:
    return _place(got(session, Site, row_id))


def workers(session: Session, on: dt.date) -> tuple[Hand, ...]:
    rows = session.scalars(select(Worker).order_by(Worker.code))
    return tuple(_hand(row, in_force(session, WorkerRate, on, on, worker=row.id)) for row in rows)


def _hand(row: Worker, rate: WorkerRate | None) -> Hand:
    if rate is None:
        return Hand(row.code, row.name, row.kind, None, None, None)
    return Hand(row.code, row.name, row.kind, rate.minor, rate.on_cost, rate.cost)


def papers(session: Session, on: dt.date, seen: dt.date | None = None) -> tuple[PaperView, ...]:
    """The papers in force on a day or expired by then, the latest of each kind of each subject, and those to come.

    By subject (the business, sites, workers), kind and first day. `seen` is the day whose book is looked at (else
    `on`): a policy written later than it was in force from is known to who looks later.
    """
    known = seen or on
    kept = select(Paper.kind, Paper.site, Paper.worker).where(live(Paper, known)).distinct()
    found: list[PaperView] = []
    for kind, site_id, worker_id in session.execute(kept):
        keys = {"kind": kind, "site": site_id, "worker": worker_id}
        ahead = select(Paper.from_on).where(live(Paper, known), Paper.from_on > on).filter_by(**keys).distinct()
        rows = (in_force(session, Paper, day, known, **keys) for day in (on, *session.scalars(ahead)))
        found += (_paper(session, row) for row in rows if row is not None)
    return tuple(sorted(found, key=lambda one: (one.of, one.kind, one.from_on)))


def _paper(session: Session, row: Paper) -> PaperView:
    of, whose = "business", ""
    if row.site is not None:
        place = got(session, Site, row.site)
        of, whose = f"site:{place.code}", place.name
    elif row.worker is not None:
        worker = got(session, Worker, row.worker)
        of, whose = f"worker:{worker.code}", worker.name
    else:
        whose = shop(session).name
    return PaperView(row.id, row.kind, of, whose, row.issuer, row.number, row.minor, row.from_on, row.expires)


def lies_in(place: str, wider: str) -> bool:
    """Whether a place is another or lies in it: US-TX-AUSTIN lies in US-TX, and in US."""
    return place == wider or place.startswith(f"{wider}-")


def exemption_of(session: Session, customer: int, place: str, on: dt.date, seen: dt.date) -> ExemptionView | None:
    """The exemption of a customer at a place on a day, as the book stood on `seen`; None if tax is due there."""
    rows = session.scalars(
        select(Exemption)
        .where(live(Exemption, seen), Exemption.customer == customer, Exemption.from_on <= on)
        .where(or_(Exemption.expires.is_(None), Exemption.expires >= on))
        .order_by(Exemption.id.desc())
    )
    return next((_exemption(session, row) for row in rows if lies_in(place, row.place)), None)


def exemptions(session: Session, on: dt.date, code: str | None = None) -> tuple[ExemptionView, ...]:
    """The exemptions that stand in the book on a day, of one customer or of all, those over and to come included."""
    rows = select(Exemption).join(Customer, Customer.id == Exemption.customer).where(live(Exemption, on))
    if code is not None:
        rows = rows.where(Customer.code == code.strip().lower())
    ordered = rows.order_by(Customer.code, Exemption.place, Exemption.from_on, Exemption.id)
    return tuple(_exemption(session, row) for row in session.scalars(ordered))


def _exemption(session: Session, row: Exemption) -> ExemptionView:
    who = got(session, Customer, row.customer)
    return ExemptionView(
        id=row.id,
        customer=who.code,
        name=who.name,
        place=row.place,
        reason=row.reason,
        certificate=row.certificate,
        from_on=row.from_on,
        expires=row.expires,
    )
