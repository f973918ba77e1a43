"""What a service is made of: its kind of work and its standard steps, and a plan made from them.

Hours are a surface's area times the standard, rounded up to 5 minutes: nobody plans a surface by the second.
"""

from collections.abc import Sequence

from sqlalchemy import select

from coatbook.aircraft.actions import find_surface
from coatbook.aircraft.tables import Airframe, Surface
from coatbook.jobs.actions import TAX_KINDS, plan_steps, service_work
from coatbook.jobs.tables import Service, ServiceStep, Step
from coatbook.jobs.views import StandardStep, find_job, standard_steps
from coatbook.stock.tables import Material
from coatbook.store.acts import OpenAct
from coatbook.store.finding import by_code, got
from coatbook.values import Misuse, Quantity, Refusal, text
from coatbook.values.checks import more_than_nothing, of_dimension, whole

ROUNDED_UP_TO = Quantity.of(5, "min")


def edit_service(
    act: OpenAct, *, code: str, name: str | None = None, tax_kind: str | None = None, work: str | None = None
) -> None:
    """Change a service from now on. Whether it takes film off stays while a plan or a standard step rests on it."""
    service, changes = by_code(act.session, Service, code, "service"), {}
    if name is not None:
        changes["name"] = text.line(name, "name")
    if tax_kind is not None:
        changes["tax_kind"] = text.one_of(tax_kind, TAX_KINDS, "kind of charge")
    if not changes and work is None:
        raise Misuse("nothing to change: give at least one option, such as --name")
    told = [one.replace("_", " ") for one in changes]
    if work is not None:
        abrasive, kind = service_work(False, work)
        if abrasive != service.abrasive:
            _refuse_rested_on(act, service)
        act.edit(service, abrasive=abrasive, work=kind, **changes)
        told.append("work")
    else:
        act.edit(service, **changes)
    act.tell(f"Service {service.code}: {', '.join(told)} changed.")


def _refuse_rested_on(act: OpenAct, service: Service) -> None:
    planned = select(Step.id).filter_by(service=service.id, struck_on=None).limit(1)
    if act.session.scalar(planned) is not None or standard_steps(act.session, service.id):
        raise Refusal(
            f"steps of {service.name} are planned or are its standard, and whether it takes film off decides what "
            "stops them: write another service with `coatbook service add`"
        )


def add_standard_step(
    act: OpenAct,
    *,
    service: str,
    name: str,
    hours: Quantity | None = None,
    per_area: Quantity | None = None,
    passes: int = 1,
    removal: Quantity | None = None,
    material: str | None = None,
) -> None:
    """Write the next standard step of a service. `hours` are for each `per_area`, or without one for each surface."""
    kind = by_code(act.session, Service, service, "service")
    called = text.line(name, "name of the step", 60)
    standing = standard_steps(act.session, kind.id)
    if any(one.name.casefold() == called.casefold() for one in standing):
        raise Refusal(
            f"{kind.name} has a standard step {called!r} already: drop it first with `coatbook service steps "
            f'{kind.code} --drop "{called}"`'
        )
    if per_area is not None and hours is None:
        raise Misuse("--per-area says what the --hours are for: give both")
    _check_removal(kind, removal)
    values = {
        "n": max((one.n for one in standing), default=0) + 1,
        "hours": _more(hours, "time", "hours"),
        "area": _more(per_area, "area", "area"),
        "area_unit": per_area.unit if per_area else None,
        "passes": whole(passes, 1, 20, "number of passes"),
        "removal": removal.quanta if removal else None,
        "removal_unit": removal.unit if removal else None,
        "material": by_code(act.session, Material, material, "material").id if material is not None else None,
    }
    dropped = _row(act, kind, called)
    if dropped is None:
        act.add(ServiceStep(service=kind.id, name=called, **values))  # type: ignore[arg-type]
    else:
        act.edit(dropped, **values)
    per = f", {hours}{f' for each {per_area}' if per_area else ' for each surface'}" if hours else ""
    act.tell(f"{kind.name}, standard step {values['n']}: {called}{per}.")


def drop_standard_step(act: OpenAct, *, service: str, name: str) -> None:
    """Do a standard step no more. Plans made with it stay as they are."""
    kind = by_code(act.session, Service, service, "service")
    row = _row(act, kind, name.strip())
    if row is None or not row.n:
        raise Refusal(
            f"{kind.name} has no standard step {text.shown(name)!r}: `coatbook service steps {kind.code}` lists them"
        )
    act.edit(row, n=0)
    act.tell(f"{kind.name}: {row.name} is no standard step any more.")


def plan_standard(
    act: OpenAct, *, job: int, service: str, surfaces: Sequence[str] = (), change: int | None = None
) -> tuple[int, ...]:
    """Plan the standard steps of a service, each on each surface in turn; the steps' numbers."""
    found, kind = find_job(act.session, job), by_code(act.session, Service, service, "service")
    standard = standard_steps(act.session, kind.id)
    if not standard:
        raise Refusal(
            f"{kind.name} has no standard steps: write them with `coatbook service steps {kind.code} --add …`"
        )
    airframe = got(act.session, Airframe, found.airframe)
    parts: list[Surface | None] = [find_surface(act, airframe, name) for name in dict.fromkeys(surfaces)]
    planned: list[int] = []
    total = 0
    for one in standard:
        for part in parts or [None]:
            hours = standard_hours(one, part.size if part else None)
            total += hours.quanta if hours else 0
            planned += plan_steps(
                act,
                job=job,
                service=service,
                surfaces=(part.name,) if part else (),
                passes=one.passes,
                removal=one.removal,
                hours=hours,
                materials=(one.material,) if one.material else (),
                change=change,
                name=one.name,
            )
    if total:
        act.tell(f"Hours are area times standard, each rounded up to 5 minutes: {Quantity(total, 'min')} in all.")
    return tuple(planned)


def standard_hours(step: StandardStep, area: Quantity | None) -> Quantity | None:
    """The hours a standard step takes on a surface, rounded up to 5 minutes; None where the standard has none."""
    if step.hours is None:
        return None
    exact, per = step.hours.quanta, 1
    if step.per_area is not None:
        if area is None:
            raise Misuse(f"{step.name} is timed by area: name what it is done on with --surface")
        exact, per = step.hours.quanta * area.quanta, step.per_area.quanta
    slot = ROUNDED_UP_TO.quanta
    return Quantity(-(-exact // (per * slot)) * slot, "min")


def _check_removal(service: Service, removal: Quantity | None) -> None:
    """A step of an abrasive service takes film off, one of another service does not."""
    if removal is not None:
        more_than_nothing(of_dimension(removal, "length", "removal"), "removal")
        if not service.abrasive:
            raise Refusal(
                f"{service.name} is written as taking no film off: give the step to an abrasive service, or leave "
                "--removal out"
            )
    elif service.abrasive:
        raise Misuse(f"{service.name} takes film off: say what one pass takes with --removal, such as '1.5 µm'")


def _more(value: Quantity | None, dimension: str, what: str) -> int | None:
    return None if value is None else more_than_nothing(of_dimension(value, dimension, what), what).quanta


def _row(act: OpenAct, service: Service, name: str) -> ServiceStep | None:
    """The standard step of that name, dropped ones too."""
    rows = act.session.scalars(select(ServiceStep).filter_by(service=service.id))
    return next((row for row in rows if row.name.casefold() == name.casefold()), None)
