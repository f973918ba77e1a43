"""What others read of jobs: frozen records, derived as of a day."""

import datetime as dt
from dataclasses import dataclass

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from coatbook.aircraft.tables import Surface
from coatbook.aircraft.views import AirframeView, airframe_by_id
from coatbook.jobs.tables import (
    NO_CHARGE,
    Coat,
    Entry,
    Job,
    JobEvent,
    Party,
    Reading,
    Service,
    Step,
    StepMaterial,
)
from coatbook.people.tables import Worker
from coatbook.people.views import Person, Place, customer_by_id, site_by_id
from coatbook.stock.tables import Material
from coatbook.store.finding import got
from coatbook.store.live import live
from coatbook.values import Quantity, Refusal
from coatbook.values.quantity import LARGEST


@dataclass(frozen=True, slots=True)
class ServiceView:
    code: str
    name: str
    abrasive: bool
    tax_kind: str


@dataclass(frozen=True, slots=True)
class StepView:
    """A planned step. `id` is the row, `key` the number within the job."""

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

    @property
    def state(self) -> str:
        """The state that follows from the events so far (settled is known to billing only)."""
        if self.handed_over:
            return "handed over"
        if self.arrived:
            return "on the floor"
        return "agreed" if self.agreed else "asked"


def find_job(session: Session, number: int) -> Job:
    job = session.scalars(select(Job).filter_by(number=number)).first() if abs(number) <= LARGEST else None
    if job is None:
        raise Refusal(f"there is no job {number}: `coatbook job list` shows them")
    return job


def event_day(session: Session, job: int, kind: str) -> dt.date | None:
    """The day of a job's event that stands now."""
    return session.scalar(select(JobEvent.on_day).filter_by(job=job, kind=kind, struck_on=None))


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
    planned = select(Step).filter_by(job=job.id, key=key, struck_on=None)
    step = session.scalars(planned).first() if abs(key) <= LARGEST else None
    if step is None:
        raise Refusal(f"job {job.number} has no step {key}: `coatbook job show {job.number}` lists the plan")
    return step


def services(session: Session) -> tuple[ServiceView, ...]:
    rows = session.scalars(select(Service).order_by(Service.code))
    return tuple(ServiceView(row.code, row.name, row.abrasive, row.tax_kind) for row in rows)


def steps_of(session: Session, job: int) -> tuple[StepView, ...]:
    """The plan as it stands now, in step order."""
    rows = session.execute(
        select(Step, Service, Surface)
        .join(Service, Service.id == Step.service)
        .outerjoin(Surface, Surface.id == Step.surface)
        .where(Step.job == job, Step.struck_on.is_(None))
        .order_by(Step.key)
    )
    return tuple(_step(session, step, service, surface) for step, service, surface in rows)


def _step(session: Session, step: Step, service: Service, surface: Surface | None) -> StepView:
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
    )


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


def film_readings(session: Session, job: int) -> tuple[FilmReading, ...]:
    """The film readings of a job that count now, in the order they were taken.

    Of a spot read again, on another day or by another gauge, the latest readings count and no others: what was
    there before may have been polished off since. "Root" and "root" are one spot.
    """
    rows = session.execute(
        select(Reading, Surface.name)
        .join(Entry, Entry.id == Reading.entry)
        .join(Surface, Surface.id == Entry.surface)
        .where(Entry.job == job, Reading.kind == "film", Reading.struck_on.is_(None))
        .order_by(Reading.on_day, Reading.id)
    ).all()
    spots: dict[tuple[str, str], str] = {}
    latest: dict[tuple[str, str], tuple[dt.date, str | None]] = {}
    for row, surface in rows:
        place = (surface, row.spot.casefold())
        spots.setdefault(place, row.spot)
        latest[place] = (row.on_day, row.serial)
    return tuple(
        FilmReading(surface, spots[place], Quantity(row.quanta, row.unit), row.gauge, row.serial, row.on_day)
        for row, surface in rows
        if latest[place := (surface, row.spot.casefold())] == (row.on_day, row.serial)
    )


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
    )


def party_id(session: Session, job: int, role: str) -> int:
    """The customer who has a role in a job now."""
    return session.scalars(
        select(Party.customer).filter_by(job=job, role=role, struck_on=None).order_by(Party.id.desc())
    ).one()


def jobs(session: Session, on: dt.date) -> tuple[JobView, ...]:
    rows = session.scalars(select(Job).where(Job.opened <= on).order_by(Job.number)).all()
    return tuple(job_view(session, row, on) for row in rows)


def hours_on_step(session: Session, step: int) -> Quantity:
    """The hours of a step that stand now."""
    quanta = session.scalar(
        select(func.sum(Entry.quanta)).where(Entry.step == step, Entry.kind == "hours", Entry.struck_on.is_(None))
    )
    return Quantity(int(quanta or 0), "h")


def diary(session: Session, job: int, on: dt.date, *, struck: bool = False) -> tuple[DiaryLine, ...]:
    """The lines of a job's diary that count on a day, by day; with `struck`, those ruled out stand there too."""
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
    measured = _measured(session, job)
    return tuple(_line(*row, measured.get(row[0].id)) for row in rows)


def _measured(session: Session, job: int) -> dict[int, str]:
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
    parts = [worker, material, surface, f"layer {layer}, lot {label}" if layer else None, measured, entry.text]
    quantity = Quantity(entry.quanta, entry.unit) if entry.quanta is not None and entry.unit else None
    what = ", ".join(part for part in parts if part)
    return DiaryLine(entry.id, entry.on_day, entry.kind, step, what, quantity, entry.minor, entry.struck_why)
