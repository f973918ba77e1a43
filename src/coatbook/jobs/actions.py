"""What writes services, jobs, who is party to them, their plan and the events that move them on."""

from collections.abc import Sequence

from sqlalchemy import func, select

from coatbook.aircraft.actions import find_surface
from coatbook.aircraft.tables import Airframe, Surface
from coatbook.aircraft.views import find_airframe, mark_of, owner_id, refuse_withdrawn
from coatbook.jobs.gates import Finding, authority_for
from coatbook.jobs.looks import confirm_keep_off, refuse_masks_not_seen
from coatbook.jobs.parties import add_payer, refuse_open_shares
from coatbook.jobs.standing import check_rework, refuse_called_off, refuse_over
from coatbook.jobs.tables import (
    NO_CHARGE,
    ROLES,
    WORKS,
    Authority,
    CalculatorResult,
    Job,
    JobEvent,
    Party,
    Service,
    Step,
    StepMaterial,
)
from coatbook.jobs.views import (
    event_day,
    find_change,
    find_job,
    find_step,
    last_day_of_plan,
    masks_left_on,
    next_step_key,
    steps_of,
)
from coatbook.people.tables import Customer, Site
from coatbook.stock.tables import Material
from coatbook.store.acts import OpenAct
from coatbook.store.finding import by_code, got, refuse_taken
from coatbook.store.strikes import strike_whole
from coatbook.values import Misuse, Money, Quantity, Refusal, frozen, text
from coatbook.values.checks import more_than_nothing, not_before, not_negative, of_dimension, whole

TAX_KINDS = ("labor", "material", "travel", "rebilled expense", "other")


def add_service(
    act: OpenAct, *, code: str, name: str, abrasive: bool, tax_kind: str = "labor", work: str | None = None
) -> None:
    """Write something the shop does and sells. An abrasive one stands behind the film gate; `work` is its kind."""
    kept = text.code(code, "service code")
    refuse_taken(act.session, Service, "service", code=kept)
    charged = text.one_of(tax_kind, TAX_KINDS, "kind of charge")
    takes_off, kind = service_work(abrasive, work)
    service = act.add(Service(code=kept, name=text.line(name, "name"), abrasive=takes_off, tax_kind=charged, work=kind))
    how = "takes film off" if takes_off else "takes no film off"
    act.tell(f"Service {kept}: {service.name}; it {how}, and is taxed as {charged}.")


def service_work(abrasive: bool, work: str | None) -> tuple[bool, str | None]:
    """Whether a service takes film off, and its kind of work; to say either is to say that it is abrasive."""
    kind = text.one_of(work, WORKS, "kind of work") if work is not None else None
    if abrasive and kind not in (None, "abrasive"):
        raise Misuse(f"what takes film off is abrasive work, not {kind}: leave out --abrasive or --work")
    takes_off = abrasive or kind == "abrasive"
    return takes_off, "abrasive" if takes_off else kind


def open_job(
    act: OpenAct,
    *,
    aircraft: str,
    site: str,
    asked_for: str,
    payer: str | None = None,
    rework_of: int | None = None,
    cause: str | None = None,
    number: int | None = None,
) -> int:
    """Open a job. The aircraft's owner asks, pays and hears reminders unless another customer is named to pay."""
    airframe = find_airframe(act.session, aircraft, act.on, act.today)
    refuse_withdrawn(act.session, airframe, act.on, act.today, "no job is opened for it")
    owner = owner_id(act.session, airframe.id, act.on, act.today)
    if owner is None:
        raise Refusal(
            f"who owns {airframe.code} on {act.on} is not known: write it with "
            f"`coatbook aircraft owner {airframe.code} CUSTOMER`"
        )
    pays = by_code(act.session, Customer, payer, "customer").id if payer else owner
    taken = (act.session.scalar(select(func.max(Job.number))) or 0) + 1 if number is None else number
    refuse_taken(act.session, Job, "job", number=whole(taken, 1, 10**9, "job number"))
    earlier = find_job(act.session, rework_of) if rework_of is not None else None
    if (earlier is None) != (cause is None):
        raise Misuse("a rework names the job it mends and the cause: give --rework-of and --cause together")
    if earlier is not None:
        check_rework(act, earlier, airframe.id)
    job = act.add(
        Job(
            number=taken,
            airframe=airframe.id,
            site=by_code(act.session, Site, site, "site").id,
            asked_for=text.line(asked_for, "work asked for"),
            opened=act.on,
            rework_of=earlier.id if earlier else None,
            cause=text.line(cause, "cause") if cause else None,
        )
    )
    for role, customer in (("owner", owner), ("asks", owner), ("pays", pays), ("hears", owner)):
        act.add(Party(job=job.id, customer=customer, role=role))
    called = mark_of(act.session, airframe.id, act.on, act.today) or airframe.code
    act.tell(f"Job {job.number} opened for {called}: {job.asked_for}.")
    return job.number


def set_party(
    act: OpenAct,
    *,
    job: int,
    role: str,
    customer: str,
    up_to: Money | None = None,
    share: Quantity | None = None,
    amount: Money | None = None,
) -> None:
    """Write who has a role in a job; whoever had it is struck out.

    Who asks may be bound to a sum. Who pays takes all of it, or with a `share` (a ratio) or a fixed `amount` is one
    of several: then the others stay.
    """
    found, kept = find_job(act.session, job), text.one_of(role, ROLES, "role")
    new = by_code(act.session, Customer, customer, "customer")
    if up_to is not None and kept != "asks":
        raise Misuse(f"only who asks is bound to a sum: leave out --up-to for {kept!r}")
    if kept != "pays" and (share is not None or amount is not None):
        raise Misuse(f"only who pays has a share: leave out --share for {kept!r}")
    if share is not None or amount is not None:
        add_payer(act, found, new, share, amount)
        return
    for party in act.session.scalars(select(Party).filter_by(job=found.id, role=kept, struck_on=None)):
        act.strike(party, f"{new.code} now {kept}")
    bound = more_than_nothing(up_to, "sum") if up_to is not None else None
    act.add(Party(job=found.id, customer=new.id, role=kept, up_to=bound.minor if bound else None))
    act.tell(f"Job {found.number}: {new.name} ({kept}{f', up to {bound} {act.currency}' if bound else ''}).")


def plan_steps(
    act: OpenAct,
    *,
    job: int,
    service: str,
    surfaces: Sequence[str] = (),
    passes: int = 1,
    removal: Quantity | None = None,
    hours: Quantity | None = None,
    materials: Sequence[str] = (),
    instead_of: int | None = None,
    change: int | None = None,
    name: str | None = None,
) -> tuple[int, ...]:
    """Plan a service, one step for each surface (one in all without any); the steps' numbers.

    Passes, film removed by each pass, hours and materials hold for each step. `instead_of` is a step to strike first:
    steps are never changed, but struck and written anew. `change` is the agreed change they are planned for, `name`
    the standard step they are planned from.
    """
    found = find_job(act.session, job)
    refuse_over(act, found)
    if instead_of is not None:
        strike_whole(act, find_step(act.session, found, instead_of), "planned anew")
        act.tell(f"Job {found.number}: step {instead_of} is struck out.")
    kind = by_code(act.session, Service, service, "service")
    if kind.abrasive and (not surfaces or removal is None):
        raise Misuse(
            f"{kind.name} takes film off: name the --surface and what one pass takes with --removal, such as '1.5 µm'"
        )
    airframe = got(act.session, Airframe, found.airframe)
    parts: list[Surface | None] = [find_surface(act, airframe, one) for one in dict.fromkeys(surfaces)]
    parts = parts or [None]
    if removal is not None:
        of_dimension(removal, "length", "removal")
        (more_than_nothing if kind.abrasive else not_negative)(removal, "removal")
        if removal.quanta and not kind.abrasive:
            raise Refusal(
                f"{kind.name} is written as taking no film off: plan an abrasive service, or leave --removal out"
            )
    if hours is not None:
        more_than_nothing(of_dimension(hours, "time", "planned hours"), "planned hours")
    products = [by_code(act.session, Material, code, "material") for code in dict.fromkeys(materials)]
    keys = []
    for part in parts:
        step = act.add(
            Step(
                job=found.id,
                key=next_step_key(act.session, found.id),
                service=kind.id,
                surface=part.id if part else None,
                passes=whole(passes, 1, 20, "number of passes"),
                removal=removal.quanta if removal else None,
                removal_unit=removal.unit if removal else None,
                hours=hours.told("h").quanta if hours else None,
                name=text.line(name, "name of the step", 60) if name is not None else None,
                change=find_change(act.session, found, change).id if change is not None else None,
            )
        )
        for product in products:
            act.add(StepMaterial(step=step.id, material=product.id))
        where = f" on {part.name}" if part else ""
        called = f"{kind.name}, {step.name}" if step.name else kind.name
        act.tell(f"Job {found.number}, step {step.key}: {called}{where}.")
        keys.append(step.key)
    agreed = event_day(act.session, found.id, "agreed")
    if agreed is not None:
        act.tell(
            f"Job {found.number} was agreed on {agreed}: tell its owner of this. The safety gate looks at it before "
            "its first hours and again at the handover."
        )
    return tuple(keys)


def _once(act: OpenAct, job: Job, kind: str) -> None:
    day = event_day(act.session, job.id, kind)
    if day is not None:
        raise Refusal(f"job {job.number} is {kind} since {day}: nothing to write")


def _after(act: OpenAct, job: Job, kind: str, before: str, verb: str) -> None:
    """Refuse an event whose forerunner is missing or later."""
    day = event_day(act.session, job.id, before)
    if day is None:
        raise Refusal(f"job {job.number} is not {before} yet: `coatbook job {verb} {job.number}` comes first")
    not_before(act.on, day, kind, before)


def agree(
    act: OpenAct,
    *,
    job: int,
    by: str,
    findings: Sequence[Finding],
    results: Sequence[CalculatorResult],
    authorized: Authority | None = None,
) -> None:
    """Write that the owner agreed to the plan, past the safety gate.

    `findings` is what the gate stopped at; each needs an authority, given here or written before.
    """
    found = find_job(act.session, job)
    refuse_over(act, found)
    _once(act, found, "agreed")
    not_before(act.on, found.opened, "the agreement", "the job was opened")
    rests_on = last_day_of_plan(act.session, found.id)
    if rests_on is not None:
        not_before(act.on, rests_on, "the agreement", "the plan and the readings it rests on")
    if not steps_of(act.session, found.id):
        raise Refusal(f"job {job} has no plan to agree to: add steps with `coatbook job plan {job} SERVICE …`")
    refuse_open_shares(act, found)
    for result in results:
        act.add(result)
    pass_gate(act, found, findings, authorized)
    act.add(JobEvent(job=found.id, kind="agreed", who=text.line(by, "name of who agreed")))
    act.tell(f"Job {found.number} is agreed with {by}.")


def pass_gate(act: OpenAct, job: Job, findings: Sequence[Finding], authorized: Authority | None) -> None:
    """Refuse while a finding has no authority; with one given, write it for each finding and say so."""
    standing = [finding for finding in findings if authority_for(act.session, job.id, finding) is None]
    if standing and authorized is None:
        listed = "; ".join(f"{finding.of}: {finding.reason}" for finding in standing)
        raise Refusal(
            f"the safety gate stops job {job.number} ({listed}). Change the plan, take readings, or let someone who "
            "may decide it pass the gate: --on-authority NAME --certificate … --document … --why …"
        )
    for finding in standing:
        assert authorized is not None
        act.add(
            Authority(
                job=job.id,
                gate=finding.gate,
                of=finding.of,
                name=authorized.name,
                certificate=authorized.certificate,
                document=authorized.document,
                why=authorized.why,
                seen=finding.seen,
            )
        )
        act.tell(f"Gate passed on authority of {authorized.name} for {finding.of}: {finding.reason}.")


def authority(*, name: str, certificate: str, document: str, why: str) -> Authority:
    """The authority a person claims, checked but not yet written."""
    return Authority(
        job=0,
        gate="",
        of="",
        name=text.line(name, "name of who decides"),
        certificate=text.line(certificate, "certificate"),
        document=text.line(document, "document"),
        why=text.note(why, "reason"),
        seen="",
    )


def arrive(act: OpenAct, *, job: int, by: str, keepoff_seen_by: str | None = None) -> None:
    """Write that the aircraft is on the floor, its keep-off list seen by a named person if it has one."""
    found = find_job(act.session, job)
    refuse_called_off(act, found)
    _once(act, found, "arrived")
    _after(act, found, "the arrival", "agreed", "agree")
    act.add(JobEvent(job=found.id, kind="arrived", who=text.line(by, "name of who received it")))
    act.tell(f"Job {found.number} is on the floor since {act.on}.")
    confirm_keep_off(act, found, keepoff_seen_by)


def hand_over(act: OpenAct, *, job: int, to: str, no_charge: bool = False) -> None:
    """Write that the aircraft went back, with every mask that went on taken off again.

    With `no_charge` there will be no invoice: the job's costs count from this day.
    """
    found = find_job(act.session, job)
    refuse_called_off(act, found)
    _once(act, found, "handed over")
    _after(act, found, "the handover", "arrived", "arrive")
    left = masks_left_on(act.session, found.id)
    if left:
        listed = ", ".join(f"{item}: {count} on more than off" for item, count in left)
        raise Refusal(
            f"masks are not all accounted for ({listed}): look at the aircraft again, then write "
            f"`coatbook log mask {job} off ITEM COUNT`"
        )
    refuse_masks_not_seen(act, found)
    who = text.line(to, "name of who took it over")
    act.add(JobEvent(job=found.id, kind="handed over", who=who, text=NO_CHARGE if no_charge else None))
    next_step = "at no charge" if no_charge else f"Next: `coatbook invoice issue {job}`"
    act.tell(f"Job {found.number} is handed over to {who}{', ' if no_charge else '. '}{next_step}.")


def keep_result(calculator: str, version: str, job: int, inputs: object, result: object) -> CalculatorResult:
    """A calculator's answer as the book keeps it."""
    return CalculatorResult(
        job=job,
        calculator=calculator,
        version=version,
        inputs=frozen.dump(inputs),
        result=frozen.dump(result),
    )
