"""Tables of jobs, their plan and their diary."""

import datetime as dt

from sqlalchemy import Index, UniqueConstraint
from sqlalchemy.orm import Mapped

from coatbook.store.tables import Edited, Issued, WrittenOnce, optional, refers, strict

ROLES = ("owner", "asks", "pays", "hears")
NO_CHARGE = "no charge"
WORKS = ("wash", "abrasive", "coat", "leather", "other")
SIGNED_WORK = ("abrasive", "coat", "leather")  # work that someone must be able to answer for
CONDITIONS = ("sound", "dull", "chalking", "failing")
SIGNING_GATE = "work"  # the gate of an authority that says who may do and sign a job's work
SIGNING = ("no entry expected", "supervised", "repair station", "owner's mechanic decides")
TEST_SPOT = "test spot"
STOPS = ("cold", "humid", "access", "customer", "product")


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
    work: Mapped[str | None] = optional()  # of WORKS; empty: abrasive or other


class ServiceStep(Edited, kw_only=True, repr=False):
    """One of the standard steps of a service. `hours` are quanta of time for `area` quanta of area.

    One that is done no more is kept with `n` 0.
    """

    __tablename__ = "service_step"
    __table_args__ = strict(UniqueConstraint("service", "name"))

    service: Mapped[int] = refers("service")
    n: Mapped[int]
    name: Mapped[str]
    hours: Mapped[int | None] = optional()
    area: Mapped[int | None] = optional()
    area_unit: Mapped[str | None] = optional()
    passes: Mapped[int]
    removal: Mapped[int | None] = optional()
    removal_unit: Mapped[str | None] = optional()
    material: Mapped[int | None] = refers("material", default=None)


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
    """A customer's role in a job. Who asks may be bound to a sum (`up_to`, minor units); who pays has a share of the
    invoice, in millionths or in minor units (neither: the rest).
    """

    __tablename__ = "party"

    job: Mapped[int] = refers("job", index=True)
    customer: Mapped[int] = refers("customer", index=True)
    role: Mapped[str]
    up_to: Mapped[int | None] = optional()
    share: Mapped[int | None] = optional()
    minor: Mapped[int | None] = optional()


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
    name: Mapped[str | None] = optional()  # of the standard step it was planned from
    change: Mapped[int | None] = refers("change", default=None)


class StepMaterial(WrittenOnce, kw_only=True, repr=False):
    """A material a step is planned with."""

    __tablename__ = "step_material"

    step: Mapped[int] = refers("step", part_of=True, index=True)
    material: Mapped[int] = refers("material")


class Change(WrittenOnce, kw_only=True, repr=False):
    """A change of a job's scope that was agreed: what, with whom, how it was told.

    Either at a price of its own (`minor`, charged as `service`), or by the price list like the rest of the plan.
    """

    __tablename__ = "change"

    job: Mapped[int] = refers("job", index=True)
    n: Mapped[int]
    what: Mapped[str]
    who: Mapped[str]
    how: Mapped[str]
    minor: Mapped[int | None] = optional()
    service: Mapped[int | None] = refers("service", default=None)
    hours: Mapped[int | None] = optional()  # quanta of time more (or fewer) than planned


class Condition(WrittenOnce, kw_only=True, repr=False):
    """How a surface looked when the job was looked at."""

    __tablename__ = "condition"

    job: Mapped[int] = refers("job", index=True)
    surface: Mapped[int] = refers("surface")
    state: Mapped[str]
    text: Mapped[str | None] = optional()


class Consent(WrittenOnce, kw_only=True, repr=False):
    """Consent to a test spot: where, how large (quanta of area), with what, the risk that was told, by whom, how."""

    __tablename__ = "consent"

    job: Mapped[int] = refers("job", index=True)
    surface: Mapped[int] = refers("surface")
    place: Mapped[str]
    size: Mapped[int]
    size_unit: Mapped[str]
    product: Mapped[str]
    risk: Mapped[str]
    who: Mapped[str]
    how: Mapped[str]


class JobEvent(WrittenOnce, kw_only=True, repr=False):
    """What moves a job on: agreed, arrived, handed over (at `NO_CHARGE` if its text says so), called off; and what a
    named person looked at: the keep-off list on arrival, the masks before the handover.
    """

    __tablename__ = "job_event"

    job: Mapped[int] = refers("job", index=True)
    kind: Mapped[str]
    who: Mapped[str]
    text: Mapped[str | None] = optional()


class Authority(WrittenOnce, kw_only=True, repr=False):
    """Who passed one safety gate, on what certificate and document, and why. `seen` is what the gate looked at.

    With the gate "work" it says who may do and sign the job's work; `kind` is then of SIGNING.
    """

    __tablename__ = "authority"

    job: Mapped[int] = refers("job", index=True)
    gate: Mapped[str]
    of: Mapped[str]
    name: Mapped[str]
    certificate: Mapped[str]
    document: Mapped[str]
    why: Mapped[str]
    seen: Mapped[str]
    kind: Mapped[str | None] = optional()


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
    category: Mapped[str | None] = optional()  # of shop spending, of a stop, of a cost brought in
    payee: Mapped[str | None] = optional()
    paid_from: Mapped[str | None] = optional()
    stage: Mapped[str | None] = optional()  # conditions at the start or end of a coat
    time: Mapped[str | None] = optional()  # HH:MM, where the hour matters


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
    stage: Mapped[str | None] = optional()  # before, test spot, after


class GaugeCheck(WrittenOnce, kw_only=True, repr=False):
    """A gauge checked before or after readings: bare metal (zero) and a shim of known thickness, in quanta."""

    __tablename__ = "gauge_check"

    entry: Mapped[int] = refers("entry", part_of=True, index=True)
    gauge: Mapped[str]
    serial: Mapped[str]
    stage: Mapped[str]
    zero: Mapped[int]
    shim: Mapped[int]
    shim_read: Mapped[int]
    allowed: Mapped[int]
    unit: Mapped[str]
    good: Mapped[bool]


class Attachment(WrittenOnce, kw_only=True, repr=False):
    """A file kept with a line of the diary: a photo, a signed consent."""

    __tablename__ = "attachment"

    entry: Mapped[int] = refers("entry", part_of=True, index=True)
    name: Mapped[str]
    media: Mapped[str]
    sha256: Mapped[str]
    bytes: Mapped[bytes]


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
