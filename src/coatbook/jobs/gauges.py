"""Film gauges: which there are, when in the work they read, and the check that says whether to believe them.

A gauge is checked on bare metal (zero) and on a shim of known thickness. What it read since its last good check
stands or falls with the next one.
"""

from collections.abc import Sequence

from sqlalchemy import select

from coatbook.aircraft.tables import Surface
from coatbook.jobs.standing import any_job, refuse_called_off, refuse_without_consent
from coatbook.jobs.tables import TEST_SPOT, Entry, GaugeCheck, Job, Reading
from coatbook.jobs.views import event_day
from coatbook.store.acts import OpenAct
from coatbook.store.finding import got
from coatbook.store.remembering import recalled
from coatbook.store.strikes import strike_whole
from coatbook.values import Quantity, Refusal, text
from coatbook.values.checks import more_than_nothing, not_negative, of_dimension
from coatbook.values.words import count

GAUGES = ("eddy current", "magnetic", "ultrasound")
CHECKS = ("before", "after")
BEFORE, AFTER = "before", "after"
STAGES = (BEFORE, TEST_SPOT, AFTER)
ALLOWED = Quantity.of(3, "µm")  # a value from memory: the gauge's own sheet counts


def check_gauge(
    act: OpenAct,
    *,
    job: int,
    gauge: str,
    serial: str,
    stage: str,
    zero: Quantity,
    shim: Quantity,
    shim_read: Quantity,
    allowed: Quantity | None = None,
) -> int:
    """Write a gauge's check before or after its readings; how many lines of readings it strikes.

    It is good if zero and shim are read within what is allowed. A failed check after readings strikes what the gauge
    read in this job since its last good one; after a failed check it reads nothing more that day.
    """
    found = any_job(act, job)
    refuse_called_off(act, found, late=True)
    kind, number = text.one_of(gauge, GAUGES, "kind of gauge"), text.line(serial, "gauge's serial number", 60)
    when = text.one_of(stage, CHECKS, "stage of the check")
    of_dimension(zero, "length", "reading of bare metal")
    more_than_nothing(of_dimension(shim, "length", "shim"), "shim")
    not_negative(of_dimension(shim_read, "length", "reading of the shim"), "reading of the shim")
    bound = more_than_nothing(of_dimension(allowed or ALLOWED, "length", "allowed error"), "allowed error")
    good = max(abs(zero.quanta), abs(shim_read.quanta - shim.quanta)) <= bound.quanta
    doubtful = [] if good or when == "before" else _since_last_good(act, found, kind, number)
    entry = act.add(Entry(job=found.id, kind="gauge"))
    act.add(
        GaugeCheck(
            entry=entry.id,
            gauge=kind,
            serial=number,
            stage=when,
            zero=zero.quanta,
            shim=shim.quanta,
            shim_read=shim_read.quanta,
            allowed=bound.quanta,
            unit=shim.unit,
            good=good,
        )
    )
    act.tell(
        f"Line {entry.id}, job {job}: {kind} gauge {number} reads {zero} on bare metal and {shim_read} on a shim of "
        f"{shim}, {bound} allowed: {'good' if good else 'it failed'}."
    )
    if allowed is None:
        act.tell(f"{bound} is a value from memory: what the gauge's own sheet allows counts, write it with --allowed.")
    for line in doubtful:
        strike_whole(act, line, f"gauge {number} failed its check on {act.on}")
        act.tell(f"Struck line {line.id} of {line.on_day}: {_told(act, line)}.")
    if not good:
        act.tell(f"Nothing more is read with it on {act.on} until a good check.")
    return len(doubtful)


def may_read(
    act: OpenAct, job: Job, gauge: str, serial: str, stage: str | None, surfaces: Sequence[Surface]
) -> str | None:
    """The stage of some readings, once it is known that the gauge may take them there and then.

    Raises:
        Refusal: the gauge failed its last check of the day, a test spot has no consent, or no work was begun yet.
    """
    last = [good for kind, number, good in _checks_today(act) if (kind, number) == (gauge, serial.casefold())]
    if last and not last[-1]:
        raise Refusal(
            f"gauge {serial} failed its check on {act.on}: set it anew and write a good check first with "
            f"`coatbook log gauge {job.number} …`"
        )
    when = text.one_of(stage, STAGES, "stage of the readings") if stage is not None else None
    if when == TEST_SPOT:
        for surface in surfaces:
            refuse_without_consent(act, job, surface.id)
    if when == AFTER and event_day(act.session, job.id, "arrived") is None:
        raise Refusal(
            f"job {job.number} is not on the floor yet, so nothing was read after the work: leave --stage out, or "
            f"write `coatbook job arrive {job.number}` first"
        )
    return when


def _checks_today(act: OpenAct) -> list[tuple[str, str, bool]]:
    """The standing checks of the act's day in all jobs, in the order written: gauge, serial, whether it was good."""

    def find() -> list[tuple[str, str, bool]]:
        rows = select(GaugeCheck).filter_by(on_day=act.on, struck_on=None).order_by(GaugeCheck.id)
        return [(row.gauge, row.serial.casefold(), row.good) for row in act.session.scalars(rows)]

    return recalled(act.session, GaugeCheck, act.on, find)


def _since_last_good(act: OpenAct, job: Job, gauge: str, serial: str) -> list[Entry]:
    """The lines of a job that a gauge read since its last good check in it, or all it read."""
    checks = (
        select(GaugeCheck)
        .join(Entry, Entry.id == GaugeCheck.entry)
        .where(Entry.job == job.id, GaugeCheck.gauge == gauge)
        .where(GaugeCheck.struck_on.is_(None), GaugeCheck.on_day <= act.on)
        .order_by(GaugeCheck.on_day, GaugeCheck.id)
    )
    own = [row for row in act.session.scalars(checks) if row.serial.casefold() == serial.casefold()]
    good = [(row.on_day, row.entry) for row in own if row.good]
    rows = act.session.execute(
        select(Entry, Reading.serial)
        .join(Reading, Reading.entry == Entry.id)
        .where(Entry.job == job.id, Entry.kind == "reading", Entry.struck_on.is_(None), Entry.on_day <= act.on)
        .where(Reading.gauge == gauge)
        .order_by(Entry.on_day, Entry.id)
    )
    read = {
        entry.id: entry
        for entry, number in rows
        if (number or "").casefold() == serial.casefold() and (not good or (entry.on_day, entry.id) > good[-1])
    }
    return list(read.values())


def _told(act: OpenAct, line: Entry) -> str:
    number = len(act.session.scalars(select(Reading.id).filter_by(entry=line.id)).all())
    surface = got(act.session, Surface, line.surface).name if line.surface else "the aircraft"
    return f"{surface}, {count(number, 'reading')}"
