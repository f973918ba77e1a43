"""Frozen sheets for calculators, assembled from the rooms' views."""

import datetime as dt

from sqlalchemy.orm import Session

from coatbook.aircraft.views import AirframeView, airframe_by_id
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
from coatbook.stock.views import MaterialView, materials
from coatbook.upkeep.views import CoatingView, coatings_of
from coatbook.values import Money, Price, Quantity


def job_sheet(session: Session, job: Job, on: dt.date, currency: str) -> Sheet:
    """All that the book knows of a job, for any calculator."""
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
            )
            for step in steps_of(session, job.id)
            for material in step.materials or (None,)
        ),
        aircraft=_aircraft(airframe),
        readings=tuple(
            Reading(one.surface, one.spot, "film", one.value, Gauge(one.gauge or "", one.serial or ""))
            for one in film_readings(session, job.id)
        ),
        stock=tuple(_product(one, currency) for one in materials(session, on)),
        coatings=_coatings(session, job.airframe, on),
    )


def coatings_sheet(session: Session, airframe: int, on: dt.date, currency: str) -> Sheet:
    """An aircraft's coatings, for what upkeep is due."""
    view = airframe_by_id(session, airframe, on)
    return Sheet(as_of=on, currency=currency, aircraft=_aircraft(view), coatings=_coatings(session, airframe, on))


def _aircraft(view: AirframeView) -> Aircraft:
    return Aircraft(
        mark=view.called,
        maker=view.maker,
        model=view.model,
        year=view.year,
        surfaces=tuple(
            Surface(one.name, one.area, one.substrate, one.paint, one.layers_known, one.balanced, one.primer)
            for one in view.surfaces
        ),
    )


def _product(view: MaterialView, currency: str) -> Product:
    facts = dict(view.facts)
    last = view.lots[-1] if view.lots else None
    price = Price(Money(last.whole_minor, currency), Quantity(last.whole_quanta, view.unit)) if last else None
    return Product(view.code, view.facts, facts.get("pack"), view.on_hand, price)


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
