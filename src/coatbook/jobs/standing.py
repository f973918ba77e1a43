"""What a job's events allow: whether its scope may still change, and whether work may still be written on it."""

from sqlalchemy import select

from coatbook.aircraft.tables import Surface
from coatbook.jobs.tables import Consent, Job
from coatbook.jobs.views import called_off, event_day, find_job
from coatbook.store.acts import OpenAct
from coatbook.store.finding import got
from coatbook.values import Refusal
from coatbook.values.checks import not_before


def refuse_handed_over(act: OpenAct, job: Job) -> None:
    """Refuse what would come after what was handed over: its day does not matter, the papers are out."""
    over = event_day(act.session, job.id, "handed over")
    if over is not None:
        raise Refusal(
            f"job {job.number} was handed over on {over}: open a rework with "
            f"`coatbook job open … --rework-of {job.number} --cause …`"
        )


def refuse_called_off(act: OpenAct, job: Job, *, late: bool = False) -> None:
    """Refuse to go on with a job that was called off; `late`: what belongs to the days before may still be written."""
    event = called_off(act.session, job.id)
    if event is not None and not (late and act.on <= event.on_day):
        raise Refusal(
            f"job {job.number} was called off on {event.on_day} ({event.text}): if it goes on after all, write that "
            f"first with `coatbook strike job_event:{event.id} --why …`"
        )


def check_rework(act: OpenAct, earlier: Job, airframe: int) -> None:
    """Refuse a rework of a job on another aircraft, or of one that is not handed over yet."""
    if earlier.airframe != airframe:
        raise Refusal(
            f"job {earlier.number} was on another aircraft, and a rework mends the same one: `coatbook job list` "
            "shows the jobs"
        )
    over = event_day(act.session, earlier.id, "handed over")
    if over is None:
        raise Refusal(
            f"job {earlier.number} is not handed over yet, so there is nothing to rework: plan what it still needs "
            f"with `coatbook job plan {earlier.number} SERVICE …`"
        )
    not_before(act.on, over, "the rework", f"the handover of job {earlier.number}")


def refuse_over(act: OpenAct, job: Job) -> None:
    """Refuse to go on with a job that was handed over or called off."""
    refuse_handed_over(act, job)
    refuse_called_off(act, job)


def refuse_without_consent(act: OpenAct, job: Job, surface: int) -> None:
    """Refuse work on a test spot, or readings of one, that nobody consented to."""
    given = select(Consent.id).filter_by(job=job.id, surface=surface, struck_on=None).where(Consent.on_day <= act.on)
    if act.session.scalar(given.limit(1)) is None:
        name = got(act.session, Surface, surface).name
        raise Refusal(
            f"no consent to a test spot on {name} stands in job {job.number}: write it with "
            f'`coatbook job consent {job.number} "{name}" …`'
        )


def any_job(act: OpenAct, number: int) -> Job:
    """The job, opened by the act's day, whatever became of it: bills, trips and notes may still come."""
    job = find_job(act.session, number)
    not_before(act.on, job.opened, "a line", f"job {number} was opened")
    return job


def job_under_way(act: OpenAct, number: int, what: str) -> Job:
    """The job, opened by the act's day and not over: its scope may be settled or changed."""
    job = find_job(act.session, number)
    not_before(act.on, job.opened, what, f"job {number} was opened")
    refuse_over(act, job)
    return job
