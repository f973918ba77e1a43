"""Tables of jobs, their plan and their diary."""

import datetime as dt

from sqlalchemy import Index, UniqueConstraint
from sqlalchemy.orm import Mapped

from coatbook.store.tables import Edited, Issued, WrittenOnce, optional, refers, strict

ROLES = ("owner", "asks", "pays", "hears")
EVENTS = ("agreed", "arrived", "handed over")
NO_CHARGE = "no charge"
ENTRY_KINDS = ("hours", "use", "expense", "travel", "reading", "coat", "conditions", "mask", "note")


class Service(Edited, kw_only=True, repr=False):
    """Something the shop does and sells: wash, oxidation removal, polish, coating, leather.

    Stands in this room, not in billing, because a planned step names its service; prices stand in billing.
    """

    __tablename__ = "service"
    __table_args__ = strict(UniqueConstraint("code"))

    code: Mapped[str]
    name: Mapped[str]
    abrasive: Mapped[bool]
    tax_kind: Mapped[str]


class Job(Edited, kw_only=True, repr=False):
    """One piece of work on one aircraft at one site."""

    __tablename__ = "job"
    __table_args__ = strict(UniqueConstraint("number"))

    number: Mapped[int]
    airframe: Mapped[int] = refers("airframe", index=True)
    site: Mapped[int] = refers("site")
    asked_for: Mapped[str]
    opened: Mapped[dt.date]
    rework_of: Mapped[int | None] = refers("job", default=None)
    cause: Mapped[str | None] = optional()


class Party(WrittenOnce, kw_only=True, repr=False):
    """A customer's role in a job."""

    __tablename__ = "party"

    job: Mapped[int] = refers("job", index=True)
    customer: Mapped[int] = refers("customer", index=True)
    role: Mapped[str]


class Step(WrittenOnce, kw_only=True, repr=False):
    """One planned step. `key` numbers the steps of a job and is never used again once struck."""

    __tablename__ = "step"

    job: Mapped[int] = refers("job", index=True)
    key: Mapped[int]
    service: Mapped[int] = refers("service")
    surface: Mapped[int | None] = refers("surface", default=None)
    passes: Mapped[int]
    removal: Mapped[int | None] = optional()
    removal_unit: Mapped[str | None] = optional()
    hours: Mapped[int | None] = optional()  # planned, quanta of time


class StepMaterial(WrittenOnce, kw_only=True, repr=False):
    """A material a step is planned with."""

    __tablename__ = "step_material"

    step: Mapped[int] = refers("step", part_of=True, index=True)
    material: Mapped[int] = refers("material")


class JobEvent(WrittenOnce, kw_only=True, repr=False):
    """What moves a job on: agreed, arrived, handed over (at `NO_CHARGE` if its text says so)."""

    __tablename__ = "job_event"

    job: Mapped[int] = refers("job", index=True)
    kind: Mapped[str]
    who: Mapped[str]
    text: Mapped[str | None] = optional()


class Authority(WrittenOnce, kw_only=True, repr=False):
    """Who passed one safety gate, on what certificate and document, and why. `seen` is what the gate looked at."""

    __tablename__ = "authority"

    job: Mapped[int] = refers("job", index=True)
    gate: Mapped[str]
    of: Mapped[str]
    name: Mapped[str]
    certificate: Mapped[str]
    document: Mapped[str]
    why: Mapped[str]
    seen: Mapped[str]


class Entry(WrittenOnce, kw_only=True, repr=False):
    """One line of the diary. Which columns are filled depends on `kind`; `minor` is what the line cost."""

    __tablename__ = "entry"

    job: Mapped[int | None] = refers("job", default=None)
    kind: Mapped[str]
    step: Mapped[int | None] = refers("step", default=None)
    surface: Mapped[int | None] = refers("surface", default=None)
    worker: Mapped[int | None] = refers("worker", default=None)
    worker_kind: Mapped[str | None] = optional()
    material: Mapped[int | None] = refers("material", default=None)
    quanta: Mapped[int | None] = optional()
    unit: Mapped[str | None] = optional()
    rate: Mapped[int | None] = optional()  # minor units per hour or per mile, as written
    minor: Mapped[int | None] = optional()
    overhead: Mapped[int | None] = optional()  # minor units, hours only
    text: Mapped[str | None] = optional()


# The diary's covering index: a job's costs are summed from it alone, so it holds struck_on too.
Index("ix_entry_job_costs", Entry.job, Entry.kind, Entry.on_day, Entry.struck_on, Entry.minor)


class Reading(WrittenOnce, kw_only=True, repr=False):
    """One value read off an instrument: film in µm or mil, air and skin temperature, humidity."""

    __tablename__ = "reading"

    entry: Mapped[int] = refers("entry", part_of=True, index=True)
    kind: Mapped[str]
    spot: Mapped[str]
    n: Mapped[int]
    quanta: Mapped[int]
    unit: Mapped[str]
    gauge: Mapped[str | None] = optional()
    serial: Mapped[str | None] = optional()


class Coat(WrittenOnce, kw_only=True, repr=False):
    """One coat laid on a surface; the lot is read off the label."""

    __tablename__ = "coat"

    entry: Mapped[int] = refers("entry", part_of=True, index=True)
    layer: Mapped[int]
    label: Mapped[str]


class CalculatorResult(Issued, kw_only=True, repr=False):
    """What a calculator answered for a job: canonical JSON of its inputs and result, kept to be recomputed."""

    __tablename__ = "result"

    job: Mapped[int] = refers("job", index=True)
    calculator: Mapped[str]
    version: Mapped[str]
    inputs: Mapped[str]
    result: Mapped[str]
