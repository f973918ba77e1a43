"""The diary: hours, uses, expenses, travel, readings, coats, conditions, stops, masks and notes, as they happen."""

import re
from collections.abc import Iterator, Sequence

from sqlalchemy import select

from coatbook.aircraft.actions import find_surface
from coatbook.aircraft.tables import Airframe
from coatbook.jobs.gauge_file import Spot
from coatbook.jobs.gauges import AFTER, GAUGES, may_read
from coatbook.jobs.standing import any_job, refuse_called_off, refuse_handed_over, refuse_without_consent
from coatbook.jobs.tables import STOPS, TEST_SPOT, Coat, Entry, Job, Reading
from coatbook.jobs.views import event_day, find_step, party_ids, steps_of
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
STAGES_OF_A_COAT = ("start", "end")
_HOUR = re.compile(r"([01][0-9]|2[0-3]):[0-5][0-9]")


def _open_job(act: OpenAct, number: int) -> Job:
    """The job, which must not have been called off before the act's day: nothing more is done on it."""
    job = any_job(act, number)
    refuse_called_off(act, job, late=True)
    return job


def _on_floor(act: OpenAct, number: int, what: str) -> Job:
    """The job, which must be on the floor: coats and masks come after the arrival and before the handover."""
    job = _open_job(act, number)
    refuse_called_off(act, job)
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
    act: OpenAct,
    *,
    job: int,
    worker: str,
    hours: Quantity,
    step: int | None = None,
    note: str | None = None,
    test_spot: bool = False,
) -> int:
    """Write hours of work, at what an hour of the worker costs on that day. The desk checks the gate first.

    Hours on a `test_spot` of a step need consent to one on its surface, and do not begin the step.
    """
    found, who = _open_job(act, job), by_code(act.session, Worker, worker, "worker")
    over = event_day(act.session, found.id, "handed over")
    if over is not None and act.on > over:
        raise Refusal(
            f"job {job} was handed over on {over}: hours after that go on a rework, opened with "
            f"`coatbook job open … --rework-of {job} --cause …`"
        )
    entry = hours_line(act, who, hours, note)
    entry.job, entry.step = found.id, _step_id(act, found, step)
    if test_spot:
        refuse_without_consent(act, found, _surface_of(act, found, step))
        entry.stage = TEST_SPOT
    entry.overhead = Money(overhead_rate(act), act.currency).times(hours.quanta, Quantity.of(1, "h").quanta).minor
    act.add(entry)
    at = f" on {'the test spot of ' if test_spot else ''}step {step}" if step is not None else ""
    act.tell(f"Line {entry.id}, job {job}: {hours} of {who.name}{at}, {Money(entry.minor or 0, act.currency)}.")
    return entry.id


def _surface_of(act: OpenAct, job: Job, step: int | None) -> int:
    """The surface a step is on. Raises Misuse where a test spot would be on none."""
    surface = find_step(act.session, job, step).surface if step is not None else None
    if surface is None:
        raise Misuse("a test spot is one of a step on a surface: name the step with --step")
    return surface


def hours_line(act: OpenAct, who: Worker, hours: Quantity, note: str | None) -> Entry:
    """A line of hours, not yet added, at what an hour of the worker costs on the act's day."""
    more_than_nothing(of_dimension(hours, "time", "hours"), "hours")
    if hours > DAY_OF_HOURS:
        raise Misuse(f"{hours} is more than a day has: write the hours of one day")
    rate = worker_rate(act, who)
    return Entry(
        kind="hours",
        worker=who.id,
        worker_kind=who.kind,
        quanta=hours.quanta,
        unit=hours.unit,
        rate=rate,
        minor=Money(rate, act.currency).times(hours.quanta, Quantity.of(1, "h").quanta).minor,
        text=text.note(note, "note") if note else None,
    )


def log_use(
    act: OpenAct,
    *,
    job: int,
    material: str,
    quantity: Quantity,
    step: int | None = None,
    note: str | None = None,
    lot: str | None = None,
) -> int:
    """Write a material used: it is drawn from the oldest lots, or from those of the label `lot`, at their cost."""
    found, what = _open_job(act, job), by_code(act.session, Material, material, "material")
    draws = plan_draws(act, what, quantity, lot=lot, parties=party_ids(act.session, found.id))
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


def log_expense(
    act: OpenAct, *, job: int, amount: Money, what: str, payee: str | None = None, paid_from: str | None = None
) -> int:
    """Write money spent for a job: to whom, and from which till or account, where that is wanted."""
    found = any_job(act, job)
    entry = expense_line(act, amount, what, payee, paid_from)
    entry.job = found.id
    act.add(entry)
    act.tell(f"Line {entry.id}, job {job}: {amount} {act.currency} for {entry.text}{to_and_from(entry)}.")
    return entry.id


def expense_line(act: OpenAct, amount: Money, what: str, payee: str | None, paid_from: str | None) -> Entry:
    """A line of money spent, not yet added."""
    return Entry(
        kind="expense",
        minor=more_than_nothing(amount, "amount").minor,
        text=text.line(what, "expense"),
        payee=text.line(payee, "payee", 100) if payee is not None else None,
        paid_from=text.line(paid_from, "account it was paid from", 60) if paid_from is not None else None,
    )


def to_and_from(entry: Entry) -> str:
    """ ", to North Field Hangars, from checking"."""
    return f"{f', to {entry.payee}' if entry.payee else ''}{f', from {entry.paid_from}' if entry.paid_from else ''}"


def log_travel(act: OpenAct, *, job: int, distance: Quantity, rate: Money, where: str) -> int:
    """Write a trip for a job at a rate for each unit of the distance (a mile, a kilometer)."""
    found = any_job(act, job)
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


def log_film(
    act: OpenAct, *, job: int, spots: Sequence[Spot], gauge: str, serial: str, stage: str | None = None
) -> tuple[int, ...]:
    """Write film readings, one line of the diary for each surface.

    A spot is a place read several times; `gauge` is eddy current, magnetic or ultrasound; `stage` is before the work
    (as without one), after it, or a test spot.
    """
    found = _open_job(act, job)
    kind = text.one_of(gauge, GAUGES, "kind of gauge")
    number = text.line(serial, "gauge's serial number", 60)
    airframe = got(act.session, Airframe, found.airframe)
    if not spots:
        raise Misuse("no readings were given: give --spot with --film, or --file")
    surfaces = {name: find_surface(act, airframe, name) for name in dict.fromkeys(spot.surface for spot in spots)}
    when = may_read(act, found, kind, number, stage, tuple(surfaces.values()))
    lines = []
    for name, surface in surfaces.items():
        entry = act.add(Entry(job=found.id, kind="reading", surface=surface.id))
        own = [spot for spot in spots if spot.surface == name]
        for spot in own:
            _film_spot(act, entry.id, spot, kind, number, when)
        read = (
            f"{words.count(len(own), 'spot')} of film, {words.count(sum(len(spot.values) for spot in own), 'reading')}"
        )
        at = f", {when}" if when in (TEST_SPOT, AFTER) else ""
        act.tell(f"Line {entry.id}, job {job}: {surface.name}, {read}{at}.")
        lines.append(entry.id)
    return tuple(lines)


def _film_spot(act: OpenAct, entry: int, spot: Spot, gauge: str, serial: str, stage: str | None) -> None:
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
                stage=stage,
            )
        )


def log_conditions(
    act: OpenAct,
    *,
    job: int,
    air: Quantity,
    skin: Quantity,
    humidity: Quantity,
    stage: str | None = None,
    time: str | None = None,
) -> int:
    """Write air and skin temperature and relative humidity where the work stands.

    `stage` is the start or the end of a coat, `time` the hour, HH:MM; an end follows its start.
    """
    found = _open_job(act, job)
    of_dimension(air, "temperature", "air temperature")
    of_dimension(skin, "temperature", "skin temperature")
    of_dimension(humidity, "ratio", "humidity")
    if not 0 <= humidity.value("%") <= 100:
        raise Misuse(f"a humidity of {humidity} does not exist: write it between 0 % and 100 %")
    when, hour = (text.one_of(stage, STAGES_OF_A_COAT, "stage") if stage is not None else None), _hour(time)
    if when == "end":
        _after_its_start(act, found, hour)
    entry = act.add(Entry(job=found.id, kind="conditions", stage=when, time=hour))
    for kind, value in (("air", air), ("skin", skin), ("humidity", humidity)):
        act.add(Reading(entry=entry.id, kind=kind, spot="", n=1, quanta=value.quanta, unit=value.unit))
    at = f"{f', at the {when}' if when else ''}{f', {hour}' if hour else ''}"
    act.tell(f"Line {entry.id}, job {job}: air {air}, skin {skin}, humidity {humidity}{at}.")
    return entry.id


def _hour(typed: str | None) -> str | None:
    """An hour of the day, HH:MM."""
    if typed is not None and not _HOUR.fullmatch(typed.strip()):
        raise Misuse(f"the time {text.shown(typed)!r} is no hour of the day: write it like 09:30 or 14:05")
    return typed.strip() if typed is not None else None


def _after_its_start(act: OpenAct, job: Job, hour: str | None) -> None:
    """Refuse the end of a coat without a start that still waits for one, or at an hour before it."""
    lines = select(Entry).filter_by(job=job.id, kind="conditions", struck_on=None).where(Entry.on_day <= act.on)
    staged = [row for row in act.session.scalars(lines.order_by(Entry.on_day, Entry.id)) if row.stage is not None]
    starts = [row for row in staged if row.stage == "start"]
    if len(starts) * 2 <= len(staged):
        raise Refusal(
            f"job {job.number} has no start of a coat that waits for its end on {act.on}: write it first with "
            f"`coatbook log conditions {job.number} … --stage start`"
        )
    began = starts[-1]
    if began.on_day == act.on and began.time is not None and hour is not None and hour < began.time:
        raise Refusal(f"the coat began at {began.time}, and {hour} is before that: check the --time of its end")


def log_stop(act: OpenAct, *, job: int, kind: str, what: str, hours: Quantity | None = None) -> int:
    """Write that the work stood still: why in one word and in a few, and the hours lost where they are known."""
    found = _open_job(act, job)
    over = event_day(act.session, found.id, "handed over")
    if over is not None and act.on > over:
        refuse_handed_over(act, found)
    if hours is not None:
        more_than_nothing(of_dimension(hours, "time", "hours lost"), "hours lost")
        if hours > DAY_OF_HOURS:
            raise Misuse(f"{hours} lost is more than a day has: write a stop for each day")
    entry = act.add(
        Entry(
            job=found.id,
            kind="stop",
            category=text.one_of(kind, STOPS, "kind of stop"),
            text=text.line(what, "what stopped the work"),
            quanta=hours.quanta if hours is not None else None,
            unit=hours.unit if hours is not None else None,
        )
    )
    lost = f", {hours} lost" if hours is not None else ""
    act.tell(f"Line {entry.id}, job {job}: stopped, {entry.category}: {entry.text}{lost}.")
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
    found = any_job(act, job)
    entry = act.add(Entry(job=found.id, kind="note", text=text.note(note, "note")))
    act.tell(f"Line {entry.id}, job {job}: noted.")
    return entry.id
