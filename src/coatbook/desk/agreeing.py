"""Agreeing a job and beginning its steps, past the safety gate."""

import contextlib
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any, TypeVar

from sqlalchemy.orm import Session

from coatbook.billing.pricing import price_plan
from coatbook.desk.gate import Looked, film_verdicts, look
from coatbook.desk.hosting import host_for
from coatbook.desk.papers import exemption_warnings, warnings
from coatbook.desk.sheets import job_sheet
from coatbook.desk.wording import itself
from coatbook.jobs import actions, diary
from coatbook.jobs.tables import Authority, Job
from coatbook.jobs.views import StepView, asks_up_to, find_job, steps_not_begun, steps_of, undecided_steps
from coatbook.stock.cautions import hazard_cautions
from coatbook.stock.views import materials
from coatbook.store.acts import Ask, OpenAct, Told
from coatbook.store.book import Book
from coatbook.store.chain import GENESIS
from coatbook.values import Money, Quantity, Refusal

R = TypeVar("R")
TRIES = 3


@dataclass(frozen=True, slots=True)
class Claim:
    """Who passes the gate: name, certificate, the document it rests on, and why."""

    name: str
    certificate: str
    document: str
    why: str


class _BookMoved(Exception):
    """Someone wrote between the gate's look and the act: look again."""


def _looked_then(
    book: Book, job: int, no_plugins: bool, ask: Ask, then: Callable[[OpenAct, Looked], R], **given: Any
) -> Told[R]:
    """Look at the gate with no book open, then act on it in one transaction, if the book has not moved since.

    `given` is what the command was given besides the job: a repeat is told by it.
    """
    host = host_for(no_plugins)
    for _ in range(TRIES):
        with book.read() as session:
            seen = book.head(session) or GENESIS
            sheet = job_sheet(session, find_job(session, job), ask.on or book.today(), book.currency)
        book.engine.dispose()  # the calculators' child inherits no open connection
        looked = look(sheet, host)

        def act_on_it(act: OpenAct, /, *, job: int, seen: str = seen, looked: Looked = looked, **_given: Any) -> R:
            if act.head_before != seen:
                raise _BookMoved
            for failure in looked.failures:
                act.tell(f"Note: {failure}.")
            return then(act, looked)

        try:
            return book.do(ask, act_on_it, job=job, **given)
        except _BookMoved:
            continue
    raise Refusal("others are writing in the book all the time: try again in a moment")


def agree_job(
    book: Book, ask: Ask, *, job: int, by: str, claim: Claim | None = None, no_plugins: bool = False
) -> Told[None]:
    """Write that the owner agreed to a job's plan. `claim` passes what the gate finds, written as an authority."""

    def then(act: OpenAct, looked: Looked) -> None:
        found = find_job(act.session, job)
        authorized = _authority(claim)
        actions.agree(
            act,
            job=job,
            by=by,
            findings=looked.findings,
            results=looked.results(found.id),
            authorized=authorized,
        )
        for sentence in (*looked.advice, *_warnings(act, found)):
            act.tell(sentence)

    return _looked_then(book, job, no_plugins, ask, then, by=by, claim=claim)


def _warnings(act: OpenAct, job: Job) -> tuple[str, ...]:
    """What the agreement does not wait for, but should be seen to.

    Papers and exemptions that run out, what the materials' hazards ask for, a price beyond what may be asked for, and
    who signs.
    """
    steps = steps_of(act.session, job.id)
    told = [*warnings(act.session, job.site, act.on, act.today), *exemption_warnings(act.session, act.on, act.today)]
    told += [*_cautions(act, steps), *_over_limit(act, job, steps)]
    waiting = ", ".join(str(one.key) for one in undecided_steps(act.session, job.id))
    if waiting:
        told.append(
            f"Next, before step {waiting}: who may do and sign the work, `coatbook job signing {job.number} …`."
        )
    return tuple(told)


def _cautions(act: OpenAct, steps: tuple[StepView, ...]) -> tuple[str, ...]:
    used = {code for step in steps for code in step.materials}
    hazards = {one for view in materials(act.session, act.on) if view.code in used for one in view.hazards}
    return hazard_cautions(hazards, any(step.abrasive for step in steps))


def _over_limit(act: OpenAct, job: Job, steps: tuple[StepView, ...]) -> Iterator[str]:
    """Whether the plan comes to more than whoever asks may ask for; a plan that cannot be priced yet says nothing."""
    limit = asks_up_to(act.session, job.id)
    if limit is None:
        return
    with contextlib.suppress(Refusal):
        priced = price_plan(act.session, steps, act.on, act.today, act.currency)
        net = sum((line.net for line in priced.lines), Money.zero(act.currency))
        if net.minor > limit:
            yield (
                f"The plan comes to {net} {act.currency} before tax, and who asks may ask for up to "
                f"{Money(limit, act.currency)}: let the owner agree to the rest."
            )


def authorize(
    book: Book, ask: Ask, *, job: int, claim: Claim, surface: str | None = None, no_plugins: bool = False
) -> Told[None]:
    """Write who passes the gate as it stands now, for one surface or for all it finds."""

    def then(act: OpenAct, looked: Looked) -> None:
        found = find_job(act.session, job)
        wanted = [one for one in looked.findings if surface is None or one.of == surface.strip().lower()]
        if not wanted:
            where = f" on {surface}" if surface else ""
            raise Refusal(f"the gate finds nothing to pass on job {job}{where}: nothing was written")
        actions.pass_gate(act, found, wanted, _authority(claim))

    return _looked_then(book, job, no_plugins, ask, then, claim=claim, surface=surface)


def log_hours(
    book: Book,
    ask: Ask,
    no_plugins: bool,
    *,
    job: int,
    worker: str,
    hours: Quantity,
    step: int | None = None,
    note: str | None = None,
    test_spot: bool = False,
) -> Told[int]:
    """Write hours. Before the first hours of a step the gate is looked at again: it may have changed since."""
    given: dict[str, Any] = {"worker": worker, "hours": hours, "step": step, "note": note, "test_spot": test_spot}
    with book.read() as session:
        beginning = begun_by(session, find_job(session, job), step)
    if not beginning:
        return book.do(ask, diary.log_hours, job=job, **given)
    return _looked_then(
        book, job, no_plugins, ask, lambda act, looked: hours_past_gate(act, looked, job=job, **given), **given
    )


def hours_past_gate(
    act: OpenAct, looked: Looked, /, *, job: int, step: int | None = None, test_spot: bool = False, **given: Any
) -> int:
    """Write hours, unless the gate stands before a step they would begin.

    A test spot that was consented to is there to find out what the film is: there, unknown does not stop.
    """
    row = find_job(act.session, job)
    beginning = begun_by(act.session, row, step)
    if beginning:
        _settled_before(act, row, beginning)
        _pass_before(act, row, looked.at_test_spot if test_spot else looked, beginning)
    return diary.log_hours(act, job=job, step=step, test_spot=test_spot, **given)


def log_coat(
    book: Book,
    ask: Ask,
    no_plugins: bool,
    *,
    job: int,
    material: str,
    surfaces: Sequence[str],
    label: str,
    layer: int = 1,
) -> Told[tuple[int, ...]]:
    """Write a coat. The gate of the steps that lay it is looked at again: a coat is the step's work, hours or not."""
    given: dict[str, Any] = {"material": material, "surfaces": surfaces, "label": label, "layer": layer}
    return _looked_then(
        book, job, no_plugins, ask, lambda act, looked: coat_past_gate(act, looked, job=job, **given), **given
    )


def coat_past_gate(
    act: OpenAct, looked: Looked, /, *, job: int, surfaces: Sequence[str], **given: Any
) -> tuple[int, ...]:
    """Write a coat, unless the gate stands before a step that lays it."""
    row, coated = find_job(act.session, job), {name.strip().lower() for name in surfaces}
    laying = {str(one.key) for one in steps_of(act.session, row.id) if one.surface in coated and not one.abrasive}
    _settled_before(act, row, laying)
    _pass_before(act, row, looked, laying)
    return diary.log_coat(act, job=job, surfaces=surfaces, **given)


def hand_over(book: Book, ask: Ask, no_plugins: bool, *, job: int, to: str, no_charge: bool = False) -> Told[None]:
    """Write the handover. A step without hours was never begun past the gate: what stops it stops the handover.

    Otherwise a step planned after the agreement and worked without an hour written would pass unseen.
    """

    given: dict[str, Any] = {"to": to, "no_charge": no_charge}
    return _looked_then(
        book, job, no_plugins, ask, lambda act, looked: handover_past_gate(act, looked, job=job, **given), **given
    )


def handover_past_gate(act: OpenAct, looked: Looked, /, *, job: int, **given: Any) -> None:
    """Write the handover, unless the gate stands before a step without hours."""
    row = find_job(act.session, job)
    _pass_before(act, row, looked, begun_by(act.session, row, None))
    actions.hand_over(act, job=job, **given)


def _pass_before(act: OpenAct, job: Job, looked: Looked, steps: set[str]) -> None:
    """Refuse while the gate stands before one of these steps."""
    actions.pass_gate(act, job, [one for one in looked.findings if set(one.steps) & steps], None)


def _settled_before(act: OpenAct, job: Job, steps: set[str]) -> None:
    """Refuse while it is not settled who may do and sign the work of one of these steps."""
    waiting = [one for one in undecided_steps(act.session, job.id) if str(one.key) in steps]
    if waiting:
        named = ", ".join(f"step {one.key}, {one.service_name}" for one in waiting)
        raise Refusal(
            f"who may do and sign the work of job {job.number} is not settled, and {named}, waits for it: write it "
            f"with `coatbook job signing {job.number} KIND --by … --document … --why …`"
        )


def begun_by(session: Session, job: Job, step: int | None) -> set[str]:
    """The steps without hours that these hours would begin; hours that name no step may begin any."""
    return {str(key) for key in steps_not_begun(session, job.id) if step in (None, key)}


def film_now(book: Book, job: int, surfaces: Iterable[str], no_plugins: bool) -> tuple[str, ...]:
    """What the film of some surfaces of a job says now, a sentence each: so that thin readings are not just filed."""
    with book.read() as session:
        sheet = job_sheet(session, find_job(session, job), book.today(), book.currency)
    book.engine.dispose()
    wanted = set(surfaces)
    return tuple(
        f"Film of {verdict.of}: {verdict.level}, {itself(verdict.of, verdict.reason)}."
        for verdict in film_verdicts(sheet, host_for(no_plugins))
        if verdict.of in wanted
    )


def _authority(claim: Claim | None) -> Authority | None:
    if claim is None:
        return None
    return actions.authority(name=claim.name, certificate=claim.certificate, document=claim.document, why=claim.why)
