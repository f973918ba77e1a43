"""What others read of jobs: frozen records, derived as of a day."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from sqlalchemy import func, or_, select
from sqlalchemy.orm import Session

from coatbook.aircraft.tables import Surface
from coatbook.aircraft.views import AirframeView, airframe_by_id
from coatbook.jobs.tables import (
    NO_CHARGE,
    ROLES,
    SIGNED_WORK,
    SIGNING_GATE,
    TEST_SPOT,
    Authority,
    Change,
    Coat,
    Condition,
    Consent,
    Entry,
    GaugeCheck,
    Job,
    JobEvent,
    Party,
    Reading,
    Service,
    ServiceStep,
    Step,
    StepMaterial,
)
from coatbook.people.tables import Worker
from coatbook.people.views import Person, Place, customer_by_id, site_by_id
from coatbook.stock.tables import Material
from coatbook.store.finding import got
from coatbook.store.live import live
from coatbook.store.remembering import recalled
from coatbook.values import Quantity, Refusal
from coatbook.values.quantity import LARGEST


@dataclass(frozen=True, slots=True)
class ServiceView:
    code: str
    name: str
    abrasive: bool
    tax_kind: str
    work: str


@dataclass(frozen=True, slots=True)
class StandardStep:
    """The n-th standard step of a service; `hours` are for each `per_area`, or without one for each surface."""

    n: int
    name: str
    hours: Quantity | None
    per_area: Quantity | None
    passes: int
    removal: Quantity | None
    material: str | None


@dataclass(frozen=True, slots=True)
class StepView:
    """A planned step. `id` is the row, `key` the number within the job; `work` is of WORKS."""

    id: int
    key: int
    service: str
    service_name: str
    abrasive: bool
    surface: str | None
    area: Quantity | None
    passes: int
    removal: Quantity | None
    hours: Quantity | None
    materials: tuple[str, ...]
    work: str
    name: str | None  # of the standard step it was planned from
    change: int | None  # the number of the change it was planned for


@dataclass(frozen=True, slots=True)
class DiaryLine:
    """A line of the diary as people read it; `minor` is its cost in minor units."""

    id: int
    on_day: dt.date
    kind: str
    step: int | None
    what: str
    quantity: Quantity | None
    minor: int | None
    struck: str | None


@dataclass(frozen=True, slots=True)
class FilmReading:
    """One reading of film, in the order it was taken."""

    surface: str
    spot: str
    value: Quantity
    gauge: str | None
    serial: str | None
    on_day: dt.date
    stage: str  # empty: before the work


@dataclass(frozen=True, slots=True)
class Signing:
    """Who may do and sign a job's work, or who decided about it; `id` is the row, `kind` of SIGNING."""

    id: int
    kind: str
    name: str
    certificate: str
    document: str
    why: str
    on_day: dt.date

    @property
    def sentence(self) -> str:
        who = f"{self.name}, {self.certificate}, on {self.document} ({self.on_day})"
        return f"{self.kind.capitalize()}: {who}; {self.why.rstrip('.')}."


@dataclass(frozen=True, slots=True)
class JobView:
    """A job on the day asked for: its aircraft, place, parties, events and state."""

    id: int
    number: int
    airframe: AirframeView
    site: Place
    asked_for: str
    opened: dt.date
    agreed: dt.date | None
    arrived: dt.date | None
    handed_over: dt.date | None
    handed_to: str | None
    no_charge: bool
    payer: Person
    hears: Person
    rework_of: int | None
    cause: str | None
    looked_at: dt.date | None = None
    called_off: dt.date | None = None
    called_off_why: str | None = None

    @property
    def state(self) -> str:
        """The state that follows from the events so far (settled is known to billing only)."""
        if self.handed_over:
            return "handed over"
        if self.called_off:
            return "called off"
        if self.arrived:
            return "on the floor"
        if self.agreed:
            return "agreed"
        return "looked at" if self.looked_at else "asked"


@dataclass(frozen=True, slots=True)
class Payer:
    """Who pays: a share in millionths, or a fixed sum in minor units; neither: the rest."""

    customer: int
    share: int | None
    minor: int | None


@dataclass(frozen=True, slots=True)
class PartyView:
    """A customer's role in a job; sums in minor units, the share in millionths."""

    role: str
    person: Person
    up_to: int | None
    share: int | None
    minor: int | None


@dataclass(frozen=True, slots=True)
class ChangeView:
    """A change of a job's scope: `minor` is its own price, charged as `service`; `hours` more (or fewer)."""

    id: int
    n: int
    what: str
    who: str
    how: str
    on_day: dt.date
    minor: int | None
    service: str | None
    hours: Quantity | None


@dataclass(frozen=True, slots=True)
class ConditionView:
    """How a surface looked when the job was looked at, with what was said of it; `state` is of CONDITIONS."""

    id: int
    surface: str
    state: str
    note: str | None
    on_day: dt.date


@dataclass(frozen=True, slots=True)
class ConsentView:
    """Consent to a test spot: `size` is an area, `risk` what was told of it."""

    id: int
    surface: str
    place: str
    size: Quantity
    product: str
    risk: str
    who: str
    how: str
    on_day: dt.date


def find_job(session: Session, number: int) -> Job:
    def find() -> Job | None:
        return session.scalars(select(Job).filter_by(number=number)).first() if abs(number) <= LARGEST else None

    job = recalled(session, Job, ("number", number), find)
    if job is None:
        raise Refusal(f"there is no job {number}: `coatbook job list` shows them")
    return job


def event_day(session: Session, job: int, kind: str) -> dt.date | None:
    """The day of a job's event that stands now."""
    event = _event(session, job, kind)
    return event.on_day if event else None


def called_off(session: Session, job: int) -> JobEvent | None:
    """The event that called a job off, if one stands now."""
    return _event(session, job, "called off")


def _event(session: Session, job: int, kind: str) -> JobEvent | None:
    def find() -> Sequence[JobEvent]:
        return session.scalars(select(JobEvent).filter_by(job=job, struck_on=None).order_by(JobEvent.id)).all()

    events = recalled(session, JobEvent, job, find)
    return next((event for event in events if event.kind == kind), None)


def last_day_of_plan(session: Session, job: int) -> dt.date | None:
    """The day of the latest step or film reading that stands: what an agreement rests on."""
    steps = select(func.max(Step.on_day)).filter_by(job=job, struck_on=None)
    readings = (
        select(func.max(Reading.on_day))
        .join(Entry, Entry.id == Reading.entry)
        .where(Entry.job == job, Reading.kind == "film", Reading.struck_on.is_(None))
    )
    return max((day for day in (session.scalar(steps), session.scalar(readings)) if day), default=None)


def next_step_key(session: Session, job: int) -> int:
    return (session.scalar(select(func.max(Step.key)).filter_by(job=job)) or 0) + 1


def find_step(session: Session, job: Job, key: int) -> Step:
    def find() -> Step | None:
        planned = select(Step).filter_by(job=job.id, key=key, struck_on=None)
        return session.scalars(planned).first() if abs(key) <= LARGEST else None

    step = recalled(session, Step, (job.id, key), find)
    if step is None:
        raise Refusal(f"job {job.number} has no step {key}: `coatbook job show {job.number}` lists the plan")
    return step


def find_change(session: Session, job: Job, n: int) -> Change:
    changed = select(Change).filter_by(job=job.id, n=n, struck_on=None)
    row = session.scalars(changed).first() if abs(n) <= LARGEST else None
    if row is None:
        raise Refusal(
            f"job {job.number} has no change {n}: write what was agreed with "
            f"`coatbook job change {job.number} WHAT --by NAME --how …`"
        )
    return row


def changes_of(session: Session, job: int) -> tuple[ChangeView, ...]:
    """The agreed changes of a job's scope that stand now, in their order."""
    rows = session.execute(
        select(Change, Service.code)
        .outerjoin(Service, Service.id == Change.service)
        .where(Change.job == job, Change.struck_on.is_(None))
        .order_by(Change.n)
    )
    return tuple(
        ChangeView(
            id=row.id,
            n=row.n,
            what=row.what,
            who=row.who,
            how=row.how,
            on_day=row.on_day,
            minor=row.minor,
            service=service,
            hours=Quantity(row.hours, "h") if row.hours is not None else None,
        )
        for row, service in rows
    )


def conditions_of(session: Session, job: int, on: dt.date) -> tuple[ConditionView, ...]:
    """How each surface of a job looked, by name of the surface: of several looks the latest counts."""
    rows = session.execute(
        select(Condition, Surface.name)
        .join(Surface, Surface.id == Condition.surface)
        .where(Condition.job == job, live(Condition, on))
        .order_by(Condition.on_day, Condition.id)
    )
    latest = {name: ConditionView(row.id, name, row.state, row.text, row.on_day) for row, name in rows}
    return tuple(latest[name] for name in sorted(latest))


def consents_of(session: Session, job: int) -> tuple[ConsentView, ...]:
    """The test spots of a job that were consented to and stand now."""
    rows = session.execute(
        select(Consent, Surface.name)
        .join(Surface, Surface.id == Consent.surface)
        .where(Consent.job == job, Consent.struck_on.is_(None))
        .order_by(Consent.id)
    )
    return tuple(
        ConsentView(
            id=row.id,
            surface=name,
            place=row.place,
            size=Quantity(row.size, row.size_unit),
            product=row.product,
            risk=row.risk,
            who=row.who,
            how=row.how,
            on_day=row.on_day,
        )
        for row, name in rows
    )


def services(session: Session) -> tuple[ServiceView, ...]:
    rows = session.scalars(select(Service).order_by(Service.code))
    return tuple(ServiceView(row.code, row.name, row.abrasive, row.tax_kind, work_of(row)) for row in rows)


def standard_steps(session: Session, service: int) -> tuple[StandardStep, ...]:
    """The standard steps of a service in their order, those dropped left out."""
    rows = session.execute(
        select(ServiceStep, Material.code)
        .outerjoin(Material, Material.id == ServiceStep.material)
        .where(ServiceStep.service == service, ServiceStep.n > 0)
        .order_by(ServiceStep.n, ServiceStep.id)
    )
    return tuple(
        StandardStep(
            n=row.n,
            name=row.name,
            hours=Quantity(row.hours, "min") if row.hours is not None else None,
            per_area=Quantity(row.area, row.area_unit) if row.area is not None and row.area_unit else None,
            passes=row.passes,
            removal=Quantity(row.removal, row.removal_unit) if row.removal is not None and row.removal_unit else None,
            material=material,
        )
        for row, material in rows
    )


def steps_of(session: Session, job: int) -> tuple[StepView, ...]:
    """The plan as it stands now, in step order."""
    rows = session.execute(
        select(Step, Service, Surface, Change.n)
        .join(Service, Service.id == Step.service)
        .outerjoin(Surface, Surface.id == Step.surface)
        .outerjoin(Change, Change.id == Step.change)
        .where(Step.job == job, Step.struck_on.is_(None))
        .order_by(Step.key)
    )
    return tuple(_step(session, *row) for row in rows)


def _step(session: Session, step: Step, service: Service, surface: Surface | None, change: int | None) -> StepView:
    materials = session.scalars(
        select(Material.code)
        .join(StepMaterial, StepMaterial.material == Material.id)
        .where(StepMaterial.step == step.id, StepMaterial.struck_on.is_(None))
        .order_by(StepMaterial.id)
    )
    removal = Quantity(step.removal, step.removal_unit) if step.removal is not None and step.removal_unit else None
    return StepView(
        id=step.id,
        key=step.key,
        service=service.code,
        service_name=service.name,
        abrasive=service.abrasive,
        surface=surface.name if surface else None,
        area=surface.size if surface else None,
        passes=step.passes,
        removal=removal,
        hours=Quantity(step.hours, "h") if step.hours is not None else None,
        materials=tuple(materials),
        work=work_of(service),
        name=step.name,
        change=change,
    )


def work_of(service: Service) -> str:
    """The kind of work a service is. One written before kinds were told apart is abrasive or other."""
    return service.work or ("abrasive" if service.abrasive else "other")


def masks_left_on(session: Session, job: int) -> tuple[tuple[str, int], ...]:
    """Items masked more often than unmasked (or the other way: a negative count), as (item, count)."""
    count = func.sum(Entry.quanta)
    rows = session.execute(
        select(Entry.text, count)
        .where(Entry.job == job, Entry.kind == "mask", Entry.struck_on.is_(None))
        .group_by(Entry.text)
        .having(count != 0)
        .order_by(Entry.text)
    )
    each = Quantity.of(1, "each").quanta
    return tuple((item or "", int(quanta or 0) // each) for item, quanta in rows)


def film_readings(session: Session, job: int, *, every_stage: bool = False) -> tuple[FilmReading, ...]:
    """The film readings of a job that count now, in the order they were taken: those before the work, or all.

    Of a spot read again, on another day or by another gauge, the latest readings count and no others: what was
    there before may have been polished off since. "Root" and "root" are one spot. What was read after the work or on a
    test spot is kept apart and takes no other's place.
    """
    rows = session.execute(
        select(Reading, Surface.name)
        .join(Entry, Entry.id == Reading.entry)
        .join(Surface, Surface.id == Entry.surface)
        .where(Entry.job == job, Reading.kind == "film", Reading.struck_on.is_(None))
        .order_by(Reading.on_day, Reading.id)
    ).all()
    wanted = [(row, surface) for row, surface in rows if every_stage or not _stage(row)]
    spots: dict[tuple[str, str, str], str] = {}
    latest: dict[tuple[str, str, str], tuple[dt.date, str | None]] = {}
    for row, surface in wanted:
        place = (surface, row.spot.casefold(), _stage(row))
        spots.setdefault(place, row.spot)
        latest[place] = (row.on_day, row.serial)
    return tuple(
        FilmReading(
            surface, spots[place], Quantity(row.quanta, row.unit), row.gauge, row.serial, row.on_day, _stage(row)
        )
        for row, surface in wanted
        if latest[place := (surface, row.spot.casefold(), _stage(row))] == (row.on_day, row.serial)
    )


def _stage(reading: Reading) -> str:
    """When in the work a reading was taken; before it is what is meant where nothing is said."""
    return reading.stage if reading.stage not in (None, "before") else ""


def job_view(session: Session, row: Job, on: dt.date) -> JobView:
    events = {
        event.kind: event
        for event in session.scalars(select(JobEvent).where(JobEvent.job == row.id, live(JobEvent, on)))
    }
    handed = events.get("handed over")
    earlier = got(session, Job, row.rework_of) if row.rework_of else None
    day = {kind: event.on_day for kind, event in events.items()}
    return JobView(
        id=row.id,
        number=row.number,
        airframe=airframe_by_id(session, row.airframe, day.get("handed over", on), on),  # by the mark it wore then
        site=site_by_id(session, row.site),
        asked_for=row.asked_for,
        opened=row.opened,
        agreed=day.get("agreed"),
        arrived=day.get("arrived"),
        handed_over=day.get("handed over"),
        handed_to=handed.who if handed else None,
        no_charge=handed is not None and handed.text == NO_CHARGE,
        payer=customer_by_id(session, party_id(session, row.id, "pays")),
        hears=customer_by_id(session, party_id(session, row.id, "hears")),
        rework_of=earlier.number if earlier else None,
        cause=row.cause,
        looked_at=session.scalar(
            select(func.min(Condition.on_day)).where(Condition.job == row.id, live(Condition, on))
        ),
        called_off=day.get("called off"),
        called_off_why=events["called off"].text if "called off" in events else None,
    )


def party_id(session: Session, job: int, role: str) -> int:
    """The customer who has a role in a job now; of several who pay, the first."""
    return session.scalars(
        select(Party.customer).filter_by(job=job, role=role, struck_on=None).order_by(Party.id).limit(1)
    ).one()


def payers_of(session: Session, job: int) -> tuple[Payer, ...]:
    """Who pays for a job now, in the order written."""
    rows = session.scalars(select(Party).filter_by(job=job, role="pays", struck_on=None).order_by(Party.id))
    return tuple(Payer(row.customer, row.share, row.minor) for row in rows)


def asks_up_to(session: Session, job: int) -> int | None:
    """The sum, in minor units, up to which whoever asks for a job may ask; None: no bound is written."""
    return session.scalar(select(Party.up_to).filter_by(job=job, role="asks", struck_on=None).order_by(Party.id))


def parties_of(session: Session, job: int) -> tuple[PartyView, ...]:
    """Everyone who has a role in a job now, by role."""
    rows = session.scalars(select(Party).filter_by(job=job, struck_on=None).order_by(Party.id)).all()
    return tuple(
        PartyView(row.role, customer_by_id(session, row.customer), row.up_to, row.share, row.minor)
        for role in ROLES
        for row in rows
        if row.role == role
    )


def party_ids(session: Session, job: int) -> frozenset[int]:
    """The customers who have any role in a job now."""

    def find() -> frozenset[int]:
        return frozenset(session.scalars(select(Party.customer).filter_by(job=job, struck_on=None)))

    return recalled(session, Party, ("all", job), find)


def jobs(session: Session, on: dt.date) -> tuple[JobView, ...]:
    rows = session.scalars(select(Job).where(Job.opened <= on).order_by(Job.number)).all()
    return tuple(job_view(session, row, on) for row in rows)


def hours_on_step(session: Session, step: int) -> Quantity:
    """The hours of a step that stand now."""
    job = select(Step.job).where(Step.id == step).scalar_subquery()  # lines are found by their job
    quanta = session.scalar(
        select(func.sum(Entry.quanta)).where(
            Entry.job == job, Entry.step == step, Entry.kind == "hours", Entry.struck_on.is_(None)
        )
    )
    return Quantity(int(quanta or 0), "h")


def steps_not_begun(session: Session, job: int) -> set[int]:
    """The keys of the planned steps that no hours stand on, but for those of a test spot."""
    hours = select(Entry.id).where(
        Entry.job == Step.job,
        Entry.step == Step.id,
        Entry.kind == "hours",
        Entry.struck_on.is_(None),
        or_(Entry.stage.is_(None), Entry.stage != TEST_SPOT),
    )
    return set(session.scalars(select(Step.key).where(Step.job == job, Step.struck_on.is_(None), ~hours.exists())))


def diary(session: Session, job: int | None, on: dt.date, *, struck: bool = False) -> tuple[DiaryLine, ...]:
    """The lines of a job's diary (None: the shop's own) that count on a day, by day.

    With `struck`, those ruled out stand there too.
    """
    which = Entry.on_day <= on if struck else live(Entry, on)
    rows = session.execute(
        select(Entry, Step.key, Surface.name, Worker.name, Material.name, Coat.layer, Coat.label)
        .outerjoin(Step, Step.id == Entry.step)
        .outerjoin(Surface, Surface.id == Entry.surface)
        .outerjoin(Worker, Worker.id == Entry.worker)
        .outerjoin(Material, Material.id == Entry.material)
        .outerjoin(Coat, Coat.entry == Entry.id)
        .where(Entry.job == job, which)
        .order_by(Entry.on_day, Entry.id)
    )
    measured = _measured(session, job) | _checked(session, job)
    return tuple(_line(*row, measured.get(row[0].id)) for row in rows)


def _measured(session: Session, job: int | None) -> dict[int, str]:
    """What the conditions lines of a job say: air, skin, humidity."""
    rows = session.execute(
        select(Reading)
        .join(Entry, Entry.id == Reading.entry)
        .where(Entry.job == job, Entry.kind == "conditions")
        .order_by(Reading.id)
    )
    told: dict[int, list[str]] = {}
    for (reading,) in rows:
        told.setdefault(reading.entry, []).append(f"{reading.kind} {Quantity(reading.quanta, reading.unit)}")
    return {entry: ", ".join(parts) for entry, parts in told.items()}


def _checked(session: Session, job: int | None) -> dict[int, str]:
    """What the gauge checks of a job say."""
    rows = session.scalars(select(GaugeCheck).join(Entry, Entry.id == GaugeCheck.entry).where(Entry.job == job))
    return {
        row.entry: f"{row.gauge} gauge {row.serial}, {row.stage} readings: {'good' if row.good else 'failed'}"
        for row in rows
    }


def _line(
    entry: Entry,
    step: int | None,
    surface: str | None,
    worker: str | None,
    material: str | None,
    layer: int | None,
    label: str | None,
    measured: str | None,
) -> DiaryLine:
    parts = [worker, material, surface, f"layer {layer}, lot {label}" if layer else None, measured]
    parts += [f"at the {entry.stage}" if entry.stage else None, entry.time]
    parts += [entry.category, entry.text, f"to {entry.payee}" if entry.payee else None]
    parts += [f"from {entry.paid_from}" if entry.paid_from else None]
    quantity = Quantity(entry.quanta, entry.unit) if entry.quanta is not None and entry.unit else None
    what = ", ".join(part for part in parts if part)
    return DiaryLine(entry.id, entry.on_day, entry.kind, step, what, quantity, entry.minor, entry.struck_why)


def signing_of(session: Session, job: int) -> Signing | None:
    """Who may do and sign a job's work, as it was settled last; None while it is not."""
    row = session.scalars(
        select(Authority)
        .filter_by(job=job, gate=SIGNING_GATE, struck_on=None)
        .order_by(Authority.on_day.desc(), Authority.id.desc())
        .limit(1)
    ).first()
    if row is None:
        return None
    return Signing(row.id, row.kind or "", row.name, row.certificate, row.document, row.why, row.on_day)


def undecided_steps(session: Session, job: int) -> tuple[StepView, ...]:
    """The steps that wait until it is settled who may do and sign the job's work: abrasive, coat and leather."""
    if signing_of(session, job) is not None:
        return ()
    return tuple(step for step in steps_of(session, job) if step.work in SIGNED_WORK)
