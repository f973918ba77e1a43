"""The safety gate: what stands before abrasive work on an aircraft's skin.

Film verdicts come from the thickness calculator; a control surface of unknown balance stops any step on it. An
abrasive step without a go or care is stopped whatever the reason: no calculator, no answer and no reading count as
unknown.
"""

import hashlib
from collections.abc import Iterable
from dataclasses import dataclass

from coatbook.calculators import Sheet, Step
from coatbook.calculators.host import Answer, Host
from coatbook.jobs.actions import keep_result
from coatbook.jobs.gates import Finding
from coatbook.jobs.tables import CalculatorResult
from coatbook.values import Refusal, frozen

FILM_CALCULATOR = "thickness"


@dataclass(frozen=True, slots=True)
class Looked:
    """What the gate found and the answers it rests on."""

    findings: tuple[Finding, ...]
    answers: tuple[Answer, ...]

    def results(self, job: int) -> tuple[CalculatorResult, ...]:
        """The answers as the book keeps them, under a job's row id."""
        return tuple(
            keep_result(one.calculator, one.version, job, one.inputs, one.result)
            for one in self.answers
            if one.result is not None
        )


def look(sheet: Sheet, host: Host) -> Looked:
    """Look at a job's plan, surfaces and readings. Runs the calculator in its child; no book is open meanwhile."""
    abrasive = [step for step in sheet.steps if step.abrasive]
    answers = _film_answers(sheet, host) if abrasive else ()
    findings = [*_film(sheet, abrasive, answers), *_balance(sheet)]
    return Looked(tuple(findings), answers)


def _film_answers(sheet: Sheet, host: Host) -> tuple[Answer, ...]:
    try:
        return host.answer(FILM_CALCULATOR, [sheet])
    except Refusal:
        return ()  # no such calculator here: every abrasive step counts as unknown below


def _film(sheet: Sheet, abrasive: list[Step], answers: tuple[Answer, ...]) -> Iterable[Finding]:
    """A finding for each surface with an abrasive step whose film no verdict clears."""
    verdicts = {verdict.of: verdict for one in answers if one.result for verdict in one.result.verdicts}
    trouble = next((one.failure or one.refusal for one in answers if one.failure or one.refusal), None)
    for surface in dict.fromkeys(step.surface or "" for step in abrasive):
        steps = tuple(dict.fromkeys(step.key for step in abrasive if (step.surface or "") == surface))
        verdict = verdicts.get(surface)
        if verdict is not None and verdict.level in ("go", "care"):
            continue
        level = verdict.level if verdict else "unknown"
        reason = verdict.reason if verdict else trouble or "the film is not known: no thickness answer"
        yield Finding("film", surface, level, reason, _seen(sheet, surface), steps)


def _balance(sheet: Sheet) -> Iterable[Finding]:
    for step in sheet.steps:
        surface = sheet.surface(step.surface) if step.surface else None
        if surface is not None and surface.balanced == "unknown":
            reason = "whether it is a balanced control surface is not known: paint or coating may change its balance"
            yield Finding("balance", surface.name, "unknown", reason, _seen(sheet, surface.name), (step.key,))


def _seen(sheet: Sheet, surface: str) -> str:
    """A hash of all the gate looks at for a surface: what is known of it, its steps and its readings."""
    looked_at = {
        "surface": sheet.surface(surface),
        "steps": [step for step in sheet.steps if step.surface == surface],
        "readings": [reading for reading in sheet.readings if reading.surface == surface],
    }
    return hashlib.sha256(frozen.dump(looked_at).encode()).hexdigest()
