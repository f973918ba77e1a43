"""What a named person looks at with their own eyes: the keep-off list on arrival, the masks before the handover.

That a second person counts the masks is common practice, no source: who took them off sees what they expect to see.
"""

from sqlalchemy import func, select

from coatbook.aircraft.views import airframe_by_id, keep_off_of
from coatbook.jobs.standing import job_under_way
from coatbook.jobs.tables import Entry, Job, JobEvent
from coatbook.jobs.views import event_day, masks_left_on
from coatbook.people.tables import Worker
from coatbook.store.acts import OpenAct
from coatbook.values import Refusal, text
from coatbook.values.checks import not_before
from coatbook.values.words import count

KEEP_OFF_SEEN = "keep-off list confirmed"
MASKS_SEEN = "masks looked at"


def confirm_keep_off(act: OpenAct, job: Job, by: str | None) -> None:
    """Write who held the keep-off list against the aircraft. An aircraft that has one does not arrive without."""
    listed = len(keep_off_of(act.session, job.airframe))  # those still to count too
    if by is None:
        if listed:
            airframe = airframe_by_id(act.session, job.airframe, act.on, act.today)
            raise Refusal(
                f"{airframe.called} has {count(listed, 'part')} on its keep-off list: hold the list against the "
                f"aircraft (`coatbook aircraft keepoff {airframe.mark or airframe.code}`) and say who did with "
                "--keepoff-seen-by NAME"
            )
        return
    who = text.line(by, "name of who saw the keep-off list")
    act.add(JobEvent(job=job.id, kind=KEEP_OFF_SEEN, who=who))
    act.tell(f"Keep-off list of {count(listed, 'part')} seen by {who}.")


def look_at_masks(act: OpenAct, *, job: int, by: str) -> None:
    """Write that a named person looked at the aircraft and found every mask off."""
    found = job_under_way(act, job, "the look at the masks")
    arrived = event_day(act.session, found.id, "arrived")
    if arrived is None:
        raise Refusal(f"job {job} is not on the floor yet: `coatbook job arrive {job}` comes before masks")
    last = _last_mask(act, found)
    if last is None:
        raise Refusal(f"no mask went on in job {job}: there is nothing to look at")
    not_before(act.on, last.on_day, "the look at the masks", "the last mask came off")
    left = masks_left_on(act.session, found.id)
    if left:
        listed = ", ".join(f"{item}: {number}" for item, number in left)
        raise Refusal(
            f"masks are still on in job {job} ({listed}): take them off, write `coatbook log mask {job} off ITEM "
            "COUNT`, then look again"
        )
    who = text.line(by, "name of who looked at the masks")
    act.add(JobEvent(job=found.id, kind=MASKS_SEEN, who=who))
    act.tell(f"Job {job}: {who} looked at the aircraft, every mask is off.")


def refuse_masks_not_seen(act: OpenAct, job: Job) -> None:
    """Refuse to hand over an aircraft that was masked until another than who hands it over has looked at it."""
    last = _last_mask(act, job)
    if last is None:
        return
    looks = select(JobEvent).filter_by(job=job.id, kind=MASKS_SEEN, struck_on=None).order_by(JobEvent.id.desc())
    look = act.session.scalars(looks).first()
    helps = f"`coatbook log mask {job.number} look --by NAME`"
    if look is None or look.act < last.act:
        raise Refusal(f"nobody has looked at the aircraft of job {job.number} since its last mask: {helps}")
    not_before(act.on, look.on_day, "the handover", "the look at the masks")
    if _workers(act) > 1 and _same_person(act, look.who, act.ask.actor):
        raise Refusal(
            f"{look.who} looked at the masks of job {job.number} and hands the aircraft over: another pair of eyes "
            f"looks first, {helps}"
        )


def _last_mask(act: OpenAct, job: Job) -> Entry | None:
    """The mask that was put on or taken off last."""
    masks = select(Entry).filter_by(job=job.id, kind="mask", struck_on=None).order_by(Entry.act.desc(), Entry.id.desc())
    return act.session.scalars(masks).first()


def _workers(act: OpenAct) -> int:
    return act.session.scalar(select(func.count(Worker.id))) or 0


def _same_person(act: OpenAct, one: str, other: str) -> bool:
    """Whether two names are one person's; a worker is known by code and by name."""
    called = {name.casefold(): row.code for row in act.session.scalars(select(Worker)) for name in (row.code, row.name)}
    first, second = (called.get(name.casefold(), name.casefold()) for name in (one, other))
    return first == second
