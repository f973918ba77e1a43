"""What writes the scope of a job: how its surfaces look, test spots, who signs, agreed changes, calling off."""

from sqlalchemy import func, select

from coatbook.aircraft.actions import find_surface
from coatbook.aircraft.tables import Airframe
from coatbook.jobs.standing import job_under_way
from coatbook.jobs.tables import (
    CONDITIONS,
    SIGNING,
    SIGNING_GATE,
    Authority,
    Change,
    Condition,
    Consent,
    Entry,
    JobEvent,
    Service,
)
from coatbook.jobs.views import event_day, masks_left_on
from coatbook.store.acts import OpenAct
from coatbook.store.finding import by_code, got
from coatbook.values import Misuse, Money, Quantity, Refusal, text
from coatbook.values.checks import more_than_nothing, not_before, of_dimension

NONE_HELD = "none held"
CERTIFIED = ("supervised", "repair station")  # who signs holds a certificate of their own


def look_at(act: OpenAct, *, job: int, surface: str, state: str, note: str | None = None) -> None:
    """Write how a surface looks; the latest counts. With its first condition a job is looked at."""
    found = job_under_way(act, job, "the condition")
    part = find_surface(act, got(act.session, Airframe, found.airframe), surface)
    row = act.add(
        Condition(
            job=found.id,
            surface=part.id,
            state=text.one_of(state, CONDITIONS, "condition"),
            text=text.note(note, "note") if note is not None else None,
        )
    )
    act.tell(f"Job {job}: the paint of {part.name} is {row.state}.")


def consent(
    act: OpenAct, *, job: int, surface: str, place: str, size: Quantity, product: str, risk: str, by: str, how: str
) -> None:
    """Write consent to a test spot. What is not known of the film may be tried there, and nowhere else."""
    found = job_under_way(act, job, "the consent")
    part = find_surface(act, got(act.session, Airframe, found.airframe), surface)
    more_than_nothing(of_dimension(size, "area", "size"), "size")
    if size > part.size:
        raise Refusal(f"a test spot of {size} is larger than {part.name} with its {part.size}: check the size")
    row = act.add(
        Consent(
            job=found.id,
            surface=part.id,
            place=text.line(place, "place of the test spot", 100),
            size=size.quanta,
            size_unit=size.unit,
            product=text.line(product, "product", 100),
            risk=text.note(risk, "risk that was told"),
            who=text.line(by, "name of who consented"),
            how=text.line(how, "way it was consented to", 60),
        )
    )
    act.tell(
        f"Job {job}: {row.who} consented {row.how} to a test spot of {size} at {row.place} on {part.name}, with "
        f"{row.product}; the risk was told."
    )
    act.tell("Consent is for that spot only: the rest of the surface waits at the safety gate as before.")


def settle_signing(
    act: OpenAct, *, job: int, kind: str, by: str, document: str, why: str, certificate: str | None = None
) -> None:
    """Write who may do and sign a job's work, or who decided that no entry is expected; the latest counts.

    Whether work needs an entry is not the shop's to decide alone: the row keeps who did, on what document and why.
    """
    found = job_under_way(act, job, "who signs")
    wanted = text.one_of(kind.replace("’", "'"), SIGNING, "way of signing")
    held = text.line(certificate, "certificate") if certificate is not None else NONE_HELD
    if wanted in CERTIFIED and held.casefold() == NONE_HELD:
        raise Misuse(
            f"work that is {_told(wanted)} is signed on a certificate: give its kind and number, --certificate"
        )
    row = act.add(
        Authority(
            job=found.id,
            gate=SIGNING_GATE,
            of="the job",
            name=text.line(by, "name of who decides"),
            certificate=held,
            document=text.line(document, "document"),
            why=text.note(why, "reason"),
            seen="",
            kind=wanted,
        )
    )
    act.tell(f"Job {found.number}, who may do and sign the work: {wanted}, {row.name} ({held}), on {row.document}.")
    act.tell("What local rules and the maker's manual ask of this work is for a licensed mechanic to say.")


def _told(kind: str) -> str:
    return "done by a repair station" if kind == "repair station" else kind


def change_scope(
    act: OpenAct,
    *,
    job: int,
    what: str,
    by: str,
    how: str,
    price: Money | None = None,
    service: str | None = None,
    hours: Quantity | None = None,
) -> int:
    """Write a change of the scope that was agreed after the plan was; its number within the job.

    At a `price` of its own it is charged as `service`; else the steps planned for it are charged by the price list.
    Price and hours are more than planned, or below zero less.
    """
    found = job_under_way(act, job, "the change")
    agreed = event_day(act.session, found.id, "agreed")
    if agreed is None:
        raise Refusal(
            f"job {job} is not agreed yet, so its plan may still change: plan it with `coatbook job plan {job} "
            f"SERVICE …`, then `coatbook job agree {job}`"
        )
    not_before(act.on, agreed, "the change", f"job {job} was agreed")
    if (price is None) != (service is None):
        raise Misuse("a change at a price of its own is charged as a service: give --price and --as together")
    if hours is not None and not of_dimension(hours, "time", "hours of the change").quanta:
        raise Misuse("a change of 0 hours is none: leave --hours out")
    numbers = select(func.max(Change.n)).filter_by(job=found.id)
    row = act.add(
        Change(
            job=found.id,
            n=(act.session.scalar(numbers) or 0) + 1,
            what=text.line(what, "change"),
            who=text.line(by, "name of who agreed"),
            how=text.line(how, "way it was agreed", 60),
            minor=price.minor if price is not None else None,
            service=by_code(act.session, Service, service, "service").id if service is not None else None,
            hours=hours.told("h").quanta if hours is not None else None,
        )
    )
    at = f" at {price} {act.currency}" if price is not None else ""
    more = f", {hours}" if hours is not None else ""
    act.tell(f"Job {job}, change {row.n}: {row.what}{at}{more}, agreed with {row.who} {row.how}.")
    if price is None:
        act.tell(f"Plan its steps with `coatbook job plan {job} SERVICE … --change {row.n}`.")
    return row.n


def call_off(act: OpenAct, *, job: int, by: str, why: str) -> None:
    """Write that a job will not be done, or not go on. What it cost so far counts from this day."""
    found = job_under_way(act, job, "calling the job off")
    for kind in ("agreed", "arrived"):
        day = event_day(act.session, found.id, kind)
        if day is not None:
            not_before(act.on, day, "calling the job off", f"the job {kind}")
    worked = select(func.max(Entry.on_day)).filter_by(job=found.id, struck_on=None)
    last = act.session.scalar(worked.where(Entry.kind.in_(("hours", "use"))))
    if last is not None:
        not_before(act.on, last, "calling the job off", "its last work")
    left = masks_left_on(act.session, found.id)
    if left:
        listed = ", ".join(f"{item}: {count}" for item, count in left)
        raise Refusal(
            f"masks are still on the aircraft ({listed}): take them off first, and write `coatbook log mask {job} off "
            "ITEM COUNT`"
        )
    reason = text.line(why, "reason")
    act.add(JobEvent(job=found.id, kind="called off", who=text.line(by, "name of who called it off"), text=reason))
    act.tell(f"Job {found.number} is called off by {by.strip()}: {reason}. What it cost so far counts from {act.on}.")
