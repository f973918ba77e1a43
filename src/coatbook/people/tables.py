"""Tables of the business, its customers, sites and workers."""

import datetime as dt

from sqlalchemy import UniqueConstraint
from sqlalchemy.orm import Mapped

from coatbook.store.tables import Edited, WrittenOnce, optional, refers, strict

WORKER_KINDS = ("owner", "employee", "subcontractor")


class Business(Edited, kw_only=True, repr=False):
    """The shop as its documents name it. One row."""

    __tablename__ = "business"

    name: Mapped[str]
    address: Mapped[str]
    email: Mapped[str | None] = optional()
    phone: Mapped[str | None] = optional()
    tax_number: Mapped[str | None] = optional()
    locale: Mapped[str]
    paper: Mapped[str]
    color: Mapped[str | None] = optional()
    pay_how: Mapped[str | None] = optional()
    net_days: Mapped[int]


class Customer(Edited, kw_only=True, repr=False):
    """Someone the shop works for: an owner, a club, a broker."""

    __tablename__ = "customer"
    __table_args__ = strict(UniqueConstraint("code"))

    code: Mapped[str]
    name: Mapped[str]
    address: Mapped[str]
    email: Mapped[str | None] = optional()
    phone: Mapped[str | None] = optional()
    locale: Mapped[str]


class Site(Edited, kw_only=True, repr=False):
    """Where work is done: a hangar at an airport, and the tax place it lies in."""

    __tablename__ = "site"
    __table_args__ = strict(UniqueConstraint("code"))

    code: Mapped[str]
    name: Mapped[str]
    airport: Mapped[str | None] = optional()
    address: Mapped[str]
    place: Mapped[str]


class Worker(Edited, kw_only=True, repr=False):
    """Someone whose hours go into the book."""

    __tablename__ = "worker"
    __table_args__ = strict(UniqueConstraint("code"))

    code: Mapped[str]
    name: Mapped[str]
    kind: Mapped[str]


class WorkerRate(WrittenOnce, kw_only=True, repr=False):
    """What an hour of a worker costs from a day on, in minor units per hour."""

    __tablename__ = "worker_rate"

    worker: Mapped[int] = refers("worker", index=True)
    from_on: Mapped[dt.date]
    minor: Mapped[int]


class OverheadRate(WrittenOnce, kw_only=True, repr=False):
    """The shop's overhead per hour of work from a day on, in minor units per hour."""

    __tablename__ = "overhead_rate"

    from_on: Mapped[dt.date]
    minor: Mapped[int]
