"""The safety gate in words: what calculators said of a job's surfaces, and who passed a gate on what."""

import datetime as dt
import json
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from sqlalchemy import select
from sqlalchemy.orm import Session

from coatbook.desk.gate import FILM_CALCULATOR
from coatbook.desk.wording import itself
from coatbook.jobs.tables import SIGNING_GATE, Authority, CalculatorResult
from coatbook.store.live import live
from coatbook.store.tables import Act

FILM_GATE = "film"


@dataclass(frozen=True, slots=True)
class KeptVerdict:
    """A calculator's verdict of one surface or coating, as an act kept it with a job."""

    calculator: str
    of: str
    level: str
    reason: str
    gates: tuple[str, ...]
    act: int
    on_day: dt.date


def kept_verdicts(session: Session, job: int, on: dt.date) -> Iterator[KeptVerdict]:
    """The verdicts kept with a job, by its row's id, in the order they were given, up to a day."""
    rows = session.execute(
        select(CalculatorResult, Act.on_day)
        .join(Act, Act.id == CalculatorResult.act)
        .where(CalculatorResult.job == job, Act.on_day <= on)
        .order_by(CalculatorResult.id)
    )
    for row, day in rows:
        for one in json.loads(row.result)["verdicts"]:
            gates = tuple(one["gates"])
            yield KeptVerdict(row.calculator, one["of"], one["level"], one["reason"], gates, row.act, day)


def authority_sentences(
    session: Session, job: int, on: dt.date, day: Callable[[dt.date], str] = str
) -> tuple[tuple[int, str], ...]:
    """Who passed which gate of a job, on what, and what it had found: each authority's row id and sentence.

    `day` puts a day into words. What the gate had found is known where the same act kept the calculator's answer.
    """
    which = (Authority.job == job, Authority.gate != SIGNING_GATE, live(Authority, on))
    rows = session.scalars(select(Authority).where(*which).order_by(Authority.id))
    found = {(one.act, one.calculator, one.of): one for one in kept_verdicts(session, job, on)}
    told = []
    for row in rows:
        verdict = found.get((row.act, FILM_CALCULATOR if row.gate == FILM_GATE else row.gate, row.of))
        why = f" ({verdict.level}: {itself(row.of, verdict.reason)})" if verdict else ""
        passed = f"passed on {day(row.on_day)} by {row.name}, {row.certificate}, on {row.document}: {row.why}"
        told.append((row.id, f"{row.gate.capitalize()} gate of {row.of}{why} {passed}"))
    return tuple(told)
