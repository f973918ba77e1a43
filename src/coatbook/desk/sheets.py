"""Frozen sheets for calculators, assembled from the rooms' views."""

import datetime as dt

from sqlalchemy.orm import Session

from coatbook.aircraft.views import AirframeView, airframe_by_id, hours_flown, keep_off_of
from coatbook.calculators import (
    Aircraft,
    Coating,
    Done,
    Every,
    Gauge,
    Product,
    Reading,
    Sheet,
    Step,
    Surface,
    Terms,
    Upkeep,
)
from coatbook.jobs.tables import Job
from coatbook.jobs.views import film_readings, steps_of
from coatbook.stock.tables import Material
from coatbook.stock.views import MaterialView, materials
from coatbook.store.remembering import recalled
from coatbook.upkeep.views import CoatingView, coatings_of
from coatbook.values import Money, Price, Quantity

BURN_EVIDENCE = "burn evidence"  # a product's fact: what shows that it meets an interior burn requirement


def job_sheet(session: Session, job: Job, on: dt.date, currency: str) -> Sheet:
    """All that the book knows of a job, for any calculator. The session is one that only reads."""
    airframe = airframe_by_id(session, job.airframe, on)
    return Sheet(
        as_of=on,
        currency=currency,
        job=str(job.number),
        steps=tuple(
            Step(
                key=str(step.key),
                service=step.service,
                surface=step.surface,
                passes=step.passes,
                removal=step.removal,
                abrasive=step.abrasive,
                material=material,
                hours=step.hours,
                work=step.work,
            )
            for step in steps_of(session, job.id)
            for material in step.materials or (None,)
        ),
        aircraft=_aircraft(session, airframe, on),
        readings=tuple(
            Reading(one.surface, one.spot, "film", one.value, Gauge(one.gauge or "", one.serial or ""), one.stage)
            for one in film_readings(session, job.id, every_stage=True)
        ),
        stock=recalled(session, Material, ("stock", on), lambda: _stock(session, on, currency)),
        coatings=_coatings(session, job.airframe, on),
    )


def _stock(session: Session, on: dt.date, currency: str) -> tuple[Product, ...]:
    return tuple(_product(one, currency) for one in materials(session, on))


def coatings_sheet(session: Session, airframe: int, on: dt.date, currency: str) -> Sheet:
    """An aircraft's coatings, for what upkeep is due."""
    view = airframe_by_id(session, airframe, on)
    return Sheet(
        as_of=on,
        currency=currency,
        aircraft=_aircraft(session, view, on),
        coatings=_coatings(session, airframe, on),
    )


def _aircraft(session: Session, view: AirframeView, on: dt.date) -> Aircraft:
    return Aircraft(
        mark=view.called,
        maker=view.maker,
        model=view.model,
        designator=view.designator or "",
        year=view.year,
        burn_basis=view.burn_basis or "unknown",
        surfaces=tuple(
            Surface(
                name=one.name,
                area=one.area,
                substrate=one.substrate,
                paint=one.paint,
                layers_known=one.layers_known,
                balanced=one.balanced,
                primer=one.primer,
                mesh=bool(one.mesh),
                painted=one.painted,
            )
            for one in view.surfaces
        ),
        times=tuple((one.on_day, one.hours.decimal("h")) for one in hours_flown(session, view.id, on)),
        keep_off=tuple(f"{one.called}: {one.rule}" for one in keep_off_of(session, view.id)),
    )


def _product(view: MaterialView, currency: str) -> Product:
    facts = dict(view.facts)
    last = next((lot for lot in reversed(view.lots) if lot.customer is None), None)
    price = Price(Money(last.whole_minor, currency), Quantity(last.whole_quanta, view.unit)) if last else None
    shown = ((BURN_EVIDENCE, view.burn_evidence),) if view.burn_evidence else ()
    return Product(view.code, (*view.facts, *shown), facts.get("pack"), view.usable, price)


def _coatings(session: Session, airframe: int, on: dt.date) -> tuple[Coating, ...]:
    return tuple(_coating(one) for one in coatings_of(session, airframe, on) if one.terms)


def _coating(view: CoatingView) -> Coating:
    items = tuple(
        Upkeep(
            item=term.item,
            every=(Every(term.every, term.per),),  # type: ignore[arg-type]
            opens_before=term.opens_before,
            grace=term.grace,
            miss=term.miss,  # type: ignore[arg-type]
            first_after=term.first_after,
        )
        for term in view.terms
    )
    return Coating(
        key=view.key,
        surface=view.surface,
        product=view.product,
        applied=view.applied,
        terms=Terms(items),
        ended=view.ended,
        done=tuple(Done(item, day) for item, day in view.done),
    )
