"""Tables of the business, its customers, sites and workers."""

import datetime as dt

from sqlalchemy import UniqueConstraint
from sqlalchemy.orm import Mapped

from coatbook.store.tables import Edited, WrittenOnce, optional, refers, strict
from coatbook.values import round_half_up

MILLION = 1_000_000
WORKER_KINDS = ("owner", "employee", "subcontractor")
PAPER_KINDS = ("insurance", "permit", "certificate")


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
    landlord: Mapped[str | None] = optional()
    access: Mapped[str | None] = optional()
    power: Mapped[str | None] = optional()
    water: Mapped[str | None] = optional()


class Worker(Edited, kw_only=True, repr=False):
    """Someone whose hours go into the book."""

    __tablename__ = "worker"
    __table_args__ = strict(UniqueConstraint("code"))

    code: Mapped[str]
    name: Mapped[str]
    kind: Mapped[str]


class WorkerRate(WrittenOnce, kw_only=True, repr=False):
    """What an hour of a worker costs from a day on, in minor units per hour.

    `on_cost` is what comes on top of it (insurance, employer's taxes), in millionths of the rate.
    """

    __tablename__ = "worker_rate"

    worker: Mapped[int] = refers("worker", index=True)
    from_on: Mapped[dt.date]
    minor: Mapped[int]
    on_cost: Mapped[int | None] = optional()

    @property
    def cost(self) -> int:
        """What an hour costs, on-cost included, in minor units; rounded half up once."""
        return round_half_up(self.minor * (MILLION + (self.on_cost or 0)), MILLION)


class OverheadRate(WrittenOnce, kw_only=True, repr=False):
    """The shop's overhead per hour of work from a day on, in minor units per hour."""

    __tablename__ = "overhead_rate"

    from_on: Mapped[dt.date]
    minor: Mapped[int]


class Exemption(WrittenOnce, kw_only=True, repr=False):
    """Why a customer is charged no tax at a place and all that lies in it: reason, certificate, and until when."""

    __tablename__ = "exemption"

    customer: Mapped[int] = refers("customer", index=True)
    place: Mapped[str]
    reason: Mapped[str]
    certificate: Mapped[str]
    from_on: Mapped[dt.date]
    expires: Mapped[dt.date | None] = optional()


class Paper(WrittenOnce, kw_only=True, repr=False):
    """An insurance policy, permit or certificate: of a site, of a worker, or (with neither) of the business itself.

    `minor` is the sum insured where there is one. A later paper of the same kind and subject takes its place.
    """

    __tablename__ = "paper"

    kind: Mapped[str]
    site: Mapped[int | None] = refers("site", default=None)
    worker: Mapped[int | None] = refers("worker", default=None)
    issuer: Mapped[str]
    number: Mapped[str]
    minor: Mapped[int | None] = optional()
    from_on: Mapped[dt.date]
    expires: Mapped[dt.date | None] = optional()
