"""Agreeing a job and beginning its steps, past the safety gate."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Any, TypeVar

from coatbook.desk.gate import Looked, film_verdicts, look
from coatbook.desk.hosting import host_for
from coatbook.desk.sheets import job_sheet
from coatbook.desk.wording import itself
from coatbook.jobs import actions, diary
from coatbook.jobs.tables import Authority
from coatbook.jobs.views import StepView, find_job, hours_on_step, steps_of
from coatbook.store.acts import Ask, OpenAct, Told
from coatbook.store.book import Book
from coatbook.store.chain import GENESIS
from coatbook.values import Quantity, Refusal

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
        for sentence in looked.advice:
            act.tell(sentence)

    return _looked_then(book, job, no_plugins, ask, then, by=by, claim=claim)


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
) -> Told[int]:
    """Write hours. Before the first hours of a step the gate is looked at again: it may have changed since."""
    with book.read() as session:
        found = find_job(session, job)
        beginning = _begun_by(steps_of(session, found.id), step, lambda one: hours_on_step(session, one.id).quanta)
    if not beginning:
        return book.do(ask, diary.log_hours, job=job, worker=worker, hours=hours, step=step, note=note)

    def then(act: OpenAct, looked: Looked) -> int:
        row = find_job(act.session, job)
        standing = [one for one in looked.findings if set(one.steps) & beginning]
        actions.pass_gate(act, row, standing, None)
        return diary.log_hours(act, job=job, worker=worker, hours=hours, step=step, note=note)

    given = {"worker": worker, "hours": hours, "step": step, "note": note}
    return _looked_then(book, job, no_plugins, ask, then, **given)


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
    coated = {name.strip().lower() for name in surfaces}

    def then(act: OpenAct, looked: Looked) -> tuple[int, ...]:
        row = find_job(act.session, job)
        laying = {str(one.key) for one in steps_of(act.session, row.id) if one.surface in coated and not one.abrasive}
        standing = [one for one in looked.findings if set(one.steps) & laying]
        actions.pass_gate(act, row, standing, None)
        return diary.log_coat(act, job=job, material=material, surfaces=surfaces, label=label, layer=layer)

    given = {"material": material, "surfaces": surfaces, "label": label, "layer": layer}
    return _looked_then(book, job, no_plugins, ask, then, **given)


def hand_over(book: Book, ask: Ask, no_plugins: bool, *, job: int, to: str, no_charge: bool = False) -> Told[None]:
    """Write the handover. A step without hours was never begun past the gate: what stops it stops the handover.

    Otherwise a step planned after the agreement and worked without an hour written would pass unseen.
    """

    def then(act: OpenAct, looked: Looked) -> None:
        row = find_job(act.session, job)
        unbegun = _begun_by(steps_of(act.session, row.id), None, lambda one: hours_on_step(act.session, one.id).quanta)
        standing = [one for one in looked.findings if set(one.steps) & unbegun]
        actions.pass_gate(act, row, standing, None)
        actions.hand_over(act, job=job, to=to, no_charge=no_charge)

    return _looked_then(book, job, no_plugins, ask, then, to=to, no_charge=no_charge)


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


def _begun_by(steps: tuple[StepView, ...], step: int | None, hours: Callable[[StepView], int]) -> set[str]:
    """The steps these hours would begin; hours that name no step may begin any."""
    return {str(one.key) for one in steps if step in (None, one.key) and not hours(one)}


def _authority(claim: Claim | None) -> Authority | None:
    if claim is None:
        return None
    return actions.authority(name=claim.name, certificate=claim.certificate, document=claim.document, why=claim.why)
