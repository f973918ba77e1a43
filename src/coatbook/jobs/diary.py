"""The diary: hours, uses, expenses, travel, readings, coats, conditions, masks and notes, as they happen."""

from collections.abc import Iterator, Sequence

from sqlalchemy import select

from coatbook.aircraft.actions import find_surface
from coatbook.aircraft.tables import Airframe
from coatbook.jobs.gauge_file import Spot
from coatbook.jobs.tables import Coat, Entry, Job, Reading
from coatbook.jobs.views import event_day, find_job, find_step, steps_of
from coatbook.people.actions import overhead_rate, worker_rate
from coatbook.people.tables import Worker
from coatbook.stock.actions import draw, plan_draws
from coatbook.stock.tables import Material
from coatbook.stock.views import lots_on
from coatbook.store.acts import OpenAct
from coatbook.store.finding import by_code, got
from coatbook.values import Misuse, Money, Quantity, Refusal, text, words
from coatbook.values.checks import more_than_nothing, not_before, not_negative, of_dimension, whole

DAY_OF_HOURS = Quantity.of(24, "h")
THICKEST = Quantity.of(5000, "µm")
GAUGES = ("eddy current", "magnetic", "ultrasound")


def _open_job(act: OpenAct, number: int) -> Job:
    job = find_job(act.session, number)
    not_before(act.on, job.opened, "a line", f"job {number} was opened")
    return job


def _on_floor(act: OpenAct, number: int, what: str) -> Job:
    """The job, which must be on the floor: coats and masks come after the arrival and before the handover."""
    job = _open_job(act, number)
    arrived = event_day(act.session, job.id, "arrived")
    if arrived is None:
        raise Refusal(f"job {number} is not on the floor yet: `coatbook job arrive {number}` comes before {what}")
    not_before(act.on, arrived, what, f"job {number} arrived")
    over = event_day(act.session, job.id, "handed over")
    if over is not None:
        raise Refusal(
            f"job {number} was handed over on {over}, and {what} would come after what was handed over: open a rework "
            f"with `coatbook job open … --rework-of {number} --cause …`"
        )
    return job


def _step_id(act: OpenAct, job: Job, step: int | None) -> int | None:
    return find_step(act.session, job, step).id if step is not None else None


def log_hours(
    act: OpenAct, *, job: int, worker: str, hours: Quantity, step: int | None = None, note: str | None = None
) -> int:
    """Write hours of work, at what an hour of the worker costs on that day. The desk checks the gate first."""
    found, who = _open_job(act, job), by_code(act.session, Worker, worker, "worker")
    over = event_day(act.session, found.id, "handed over")
    if over is not None and act.on > over:
        raise Refusal(
            f"job {job} was handed over on {over}: hours after that go on a rework, opened with "
            f"`coatbook job open … --rework-of {job} --cause …`"
        )
    more_than_nothing(of_dimension(hours, "time", "hours"), "hours")
    if hours > DAY_OF_HOURS:
        raise Misuse(f"{hours} is more than a day has: write the hours of one day")
    rate, overhead, hour = worker_rate(act, who), overhead_rate(act), Quantity.of(1, "h").quanta
    entry = act.add(
        Entry(
            job=found.id,
            kind="hours",
            step=_step_id(act, found, step),
            worker=who.id,
            worker_kind=who.kind,
            quanta=hours.quanta,
            unit=hours.unit,
            rate=rate,
            minor=Money(rate, act.currency).times(hours.quanta, hour).minor,
            overhead=Money(overhead, act.currency).times(hours.quanta, hour).minor,
            text=text.note(note, "note") if note else None,
        )
    )
    at = f" on step {step}" if step is not None else ""
    act.tell(f"Line {entry.id}, job {job}: {hours} of {who.name}{at}, {Money(entry.minor or 0, act.currency)}.")
    return entry.id


def log_use(
    act: OpenAct, *, job: int, material: str, quantity: Quantity, step: int | None = None, note: str | None = None
) -> int:
    """Write a material used: it is drawn from the oldest lots, and costs what they cost."""
    found, what = _open_job(act, job), by_code(act.session, Material, material, "material")
    draws = plan_draws(act, what, quantity)
    entry = act.add(
        Entry(
            job=found.id,
            kind="use",
            step=_step_id(act, found, step),
            material=what.id,
            quanta=quantity.quanta,
            unit=quantity.unit,
            minor=sum(one.minor for one in draws),
            text=text.note(note, "note") if note else None,
        )
    )
    draw(act, entry.id, draws)
    act.tell(f"Line {entry.id}, job {job}: {quantity} of {what.name} used, {Money(entry.minor or 0, act.currency)}.")
    return entry.id


def log_expense(act: OpenAct, *, job: int, amount: Money, what: str) -> int:
    """Write money spent for a job."""
    found = _open_job(act, job)
    more_than_nothing(amount, "amount")
    entry = act.add(Entry(job=found.id, kind="expense", minor=amount.minor, text=text.line(what, "expense")))
    act.tell(f"Line {entry.id}, job {job}: {amount} {act.currency} for {entry.text}.")
    return entry.id


def log_travel(act: OpenAct, *, job: int, distance: Quantity, rate: Money, where: str) -> int:
    """Write a trip for a job at a rate for each unit of the distance (a mile, a kilometer)."""
    found = _open_job(act, job)
    more_than_nothing(of_dimension(distance, "length", "distance"), "distance")
    not_negative(rate, "rate")
    one = Quantity.of(1, distance.unit)
    entry = act.add(
        Entry(
            job=found.id,
            kind="travel",
            quanta=distance.quanta,
            unit=distance.unit,
            rate=rate.minor,
            minor=rate.times(distance.quanta, one.quanta).minor,
            text=text.line(where, "trip"),
        )
    )
    cost = Money(entry.minor or 0, act.currency)
    act.tell(f"Line {entry.id}, job {job}: {distance} at {rate} per {distance.unit}, {cost}.")
    return entry.id


def log_film(act: OpenAct, *, job: int, spots: Sequence[Spot], gauge: str, serial: str) -> tuple[int, ...]:
    """Write film readings, one line of the diary for each surface.

    A spot is a place read several times; `gauge` is eddy current, magnetic or ultrasound.
    """
    found = _open_job(act, job)
    kind = text.one_of(gauge, GAUGES, "kind of gauge")
    number = text.line(serial, "gauge's serial number", 60)
    airframe = got(act.session, Airframe, found.airframe)
    if not spots:
        raise Misuse("no readings were given: give --spot with --film, or --file")
    lines = []
    for name in dict.fromkeys(spot.surface for spot in spots):
        surface = find_surface(act, airframe, name)
        entry = act.add(Entry(job=found.id, kind="reading", surface=surface.id))
        own = [spot for spot in spots if spot.surface == name]
        for spot in own:
            _film_spot(act, entry.id, spot, kind, number)
        read = (
            f"{words.count(len(own), 'spot')} of film, {words.count(sum(len(spot.values) for spot in own), 'reading')}"
        )
        act.tell(f"Line {entry.id}, job {job}: {surface.name}, {read}.")
        lines.append(entry.id)
    return tuple(lines)


def _film_spot(act: OpenAct, entry: int, spot: Spot, gauge: str, serial: str) -> None:
    for n, value in enumerate(spot.values, start=1):
        not_negative(of_dimension(value, "length", "film"), "film")
        if value > THICKEST:
            raise Misuse(f"{value} of film at {spot.surface}, spot {spot.name} is no paint: check the unit")
        act.add(
            Reading(
                entry=entry,
                kind="film",
                spot=text.line(spot.name, "spot", 40),
                n=n,
                quanta=value.quanta,
                unit=value.unit,
                gauge=gauge,
                serial=serial,
            )
        )


def log_conditions(act: OpenAct, *, job: int, air: Quantity, skin: Quantity, humidity: Quantity) -> int:
    """Write air and skin temperature and relative humidity where the work stands."""
    found = _open_job(act, job)
    of_dimension(air, "temperature", "air temperature")
    of_dimension(skin, "temperature", "skin temperature")
    of_dimension(humidity, "ratio", "humidity")
    if not 0 <= humidity.value("%") <= 100:
        raise Misuse(f"a humidity of {humidity} does not exist: write it between 0 % and 100 %")
    entry = act.add(Entry(job=found.id, kind="conditions"))
    for kind, value in (("air", air), ("skin", skin), ("humidity", humidity)):
        act.add(Reading(entry=entry.id, kind=kind, spot="", n=1, quanta=value.quanta, unit=value.unit))
    act.tell(f"Line {entry.id}, job {job}: air {air}, skin {skin}, humidity {humidity}.")
    return entry.id


def log_coat(
    act: OpenAct, *, job: int, material: str, surfaces: Sequence[str], label: str, layer: int = 1
) -> tuple[int, ...]:
    """Write one coat laid on each surface, with the lot number read off the label; one line for each.

    Each surface must have a step planned on it. The desk looks at the gate of those steps first.
    """
    nth, read = whole(layer, 1, 20, "layer"), text.line(label, "lot number", 60)
    found, what = _on_floor(act, job, "a coat"), by_code(act.session, Material, material, "material")
    airframe, lines = got(act.session, Airframe, found.airframe), []
    planned = {step.surface for step in steps_of(act.session, found.id)}
    for name in dict.fromkeys(name.strip().lower() for name in surfaces):
        part = find_surface(act, airframe, name)
        if part.name not in planned:
            raise Refusal(
                f"nothing is planned on {part.name} in job {job}: plan the coating first with "
                f'`coatbook job plan {job} SERVICE --surface "{part.name}"`'
            )
        entry = act.add(Entry(job=found.id, kind="coat", material=what.id, surface=part.id))
        act.add(Coat(entry=entry.id, layer=nth, label=read))
        act.tell(f"Line {entry.id}, job {job}: {what.name} on {part.name}, layer {nth}, lot {read}.")
        lines.append(entry.id)
    for sentence in _of_label(act, what, read):
        act.tell(f"Note: {sentence}.")
    return tuple(lines)


def _of_label(act: OpenAct, material: Material, label: str) -> Iterator[str]:
    """What is amiss with a lot number read off a label: nobody bought it, or it is too old."""
    lots = [lot for lot in lots_on(act.session, material.id, act.on) if lot.label == label]
    if not lots:
        yield f"no purchase of {material.name} has the lot number {label}: read the label again"
    for lot in lots:
        if lot.expires is not None and lot.expires < act.on:
            yield (
                f"lot {label} of {material.name} expired on {lot.expires}: whether its maker stands by a coat of it, "
                "the product's sheet says"
            )


def log_mask(act: OpenAct, *, job: int, way: str, item: str, count: int) -> int:
    """Write masks put on or taken off, by item; the handover waits until as many came off as went on."""
    direction, each = text.one_of(way, ("on", "off"), "way"), Quantity.of(whole(count, 1, 1000, "count"), "each")
    found = _on_floor(act, job, "a mask")
    kept = text.line(item, "item", 60).lower()
    if direction == "off" and not _masked(act, found, kept, each):
        raise Refusal(f"fewer than {count} masks of {kept!r} are on: `coatbook job show {job}` counts them")
    signed = each if direction == "on" else -each
    entry = act.add(Entry(job=found.id, kind="mask", quanta=signed.quanta, unit="each", text=kept))
    act.tell(f"Line {entry.id}, job {job}: {count} x {kept} masked {direction}.")
    return entry.id


def _masked(act: OpenAct, job: Job, item: str, each: Quantity) -> bool:
    on = select(Entry.quanta).filter_by(job=job.id, kind="mask", text=item, struck_on=None)
    return sum(quanta or 0 for quanta in act.session.scalars(on)) >= each.quanta


def log_note(act: OpenAct, *, job: int, note: str) -> int:
    """Write a note."""
    found = _open_job(act, job)
    entry = act.add(Entry(job=found.id, kind="note", text=text.note(note, "note")))
    act.tell(f"Line {entry.id}, job {job}: noted.")
    return entry.id
