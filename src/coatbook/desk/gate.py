"""The safety gate: what stands before work on an aircraft's skin.

Every calculator in use is asked. Film verdicts come from the thickness calculator: an abrasive step without a go or
care is stopped whatever the reason; no calculator, no answer and no reading count as unknown. Another calculator's
verdict stops the steps it names. A control surface that must be balanced, or may have to be, stops any step on it but
a wash. Leather work stops where it is not known what interior burn requirement the aircraft stands under, or nothing on
file shows that a product meets it.
"""

import hashlib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from coatbook.calculators import Sheet, Verdict
from coatbook.calculators.host import Answer, Host
from coatbook.desk.sheets import BURN_EVIDENCE
from coatbook.desk.wording import itself
from coatbook.jobs.actions import keep_result
from coatbook.jobs.gates import Finding
from coatbook.jobs.tables import CalculatorResult
from coatbook.values import frozen

FILM_CALCULATOR = "thickness"
PASSING = ("go", "care")


@dataclass(frozen=True, slots=True)
class Looked:
    """What the gate found, the answers it rests on, and a sentence for each calculator that gave none."""

    findings: tuple[Finding, ...]
    answers: tuple[Answer, ...]
    failures: tuple[str, ...]

    @property
    def at_test_spot(self) -> "Looked":
        """What stops on a test spot: everything but film that is not known."""
        return replace(
            self, findings=tuple(one for one in self.findings if (one.gate, one.level) != ("film", "unknown"))
        )

    @property
    def advice(self) -> tuple[str, ...]:
        """What to take care of where the gate lets the work pass, and the cautions of all the answers."""
        results = [one.result for one in self.answers if one.result]
        gating = [result for result in results if any(verdict.gates for verdict in result.verdicts)]
        care = [verdict.reason for result in gating for verdict in result.verdicts if verdict.level == "care"]
        cautions = [caution for result in gating for caution in result.cautions]
        return tuple(dict.fromkeys((*(f"Care: {one}." for one in care), *(f"Caution: {one}." for one in cautions))))

    def results(self, job: int) -> tuple[CalculatorResult, ...]:
        """The answers as the book keeps them, under a job's row id."""
        return tuple(
            keep_result(one.calculator, one.version, job, one.inputs, one.result)
            for one in self.answers
            if one.result is not None
        )


def look(sheet: Sheet, host: Host) -> Looked:
    """Look at a job's plan, surfaces and readings. The calculators run in their child; no book is open meanwhile."""
    return look_at_all([sheet], host)[0]


def look_at_all(sheets: Sequence[Sheet], host: Host) -> tuple[Looked, ...]:
    """As `look`, at many jobs in one go of the calculators."""
    answers: list[list[Answer]] = [[] for _ in sheets]
    for calculator in host.plugins.all():
        for one in host.answer(calculator.name, sheets):
            answers[one.task].append(one)
    return tuple(_found(sheet, tuple(own)) for sheet, own in zip(sheets, answers, strict=True))


def _found(sheet: Sheet, answers: tuple[Answer, ...]) -> Looked:
    verdicts = [(one.calculator, verdict) for one in answers if one.result for verdict in one.result.verdicts]
    film = {verdict.of: verdict for name, verdict in verdicts if name == FILM_CALCULATOR}
    others = [(name, verdict) for name, verdict in verdicts if name != FILM_CALCULATOR and verdict.gates]
    findings = [*_film(sheet, film, _trouble(answers)), *_others(sheet, others), *_balance(sheet), *_burn(sheet)]
    failures = tuple(one.failure for one in answers if one.failure)
    return Looked(tuple(findings), answers, failures)


def film_verdicts(sheet: Sheet, host: Host) -> tuple[Verdict, ...]:
    """What the film calculator alone says of each surface; nothing where it fails: the gate will name that."""
    answers = host.answer(FILM_CALCULATOR, [sheet])
    return tuple(verdict for one in answers if one.result for verdict in one.result.verdicts)


def _trouble(answers: Iterable[Answer]) -> str | None:
    """Why the film calculator gave no answer, if it said."""
    own = [one for one in answers if one.calculator == FILM_CALCULATOR]
    return next((one.failure or one.refusal for one in own if one.failure or one.refusal), None)


def _film(sheet: Sheet, verdicts: Mapping[str, Verdict], trouble: str | None) -> Iterable[Finding]:
    """A finding for each surface with an abrasive step whose film no verdict clears."""
    abrasive = [step for step in sheet.steps if step.abrasive]
    for surface in dict.fromkeys(step.surface or "" for step in abrasive):
        steps = tuple(dict.fromkeys(step.key for step in abrasive if (step.surface or "") == surface))
        verdict = verdicts.get(surface)
        if verdict is not None and verdict.level in PASSING:
            continue
        level = verdict.level if verdict else "unknown"
        reason = verdict.reason if verdict else trouble or "the film is not known: no thickness answer"
        yield Finding("film", surface, level, itself(surface, reason), _seen(sheet, surface), steps)


def _others(sheet: Sheet, verdicts: Iterable[tuple[str, Verdict]]) -> Iterable[Finding]:
    for name, verdict in verdicts:
        if verdict.level not in PASSING:
            reason = itself(verdict.of, verdict.reason)
            yield Finding(name, verdict.of, verdict.level, reason, _seen(sheet, verdict.of), verdict.gates)


BALANCE = {
    "yes": ("stop", "it is a control surface that must be balanced, and paint or coating changes its balance"),
    "unknown": (
        "unknown",
        "whether it is a control surface that must be balanced is not known: paint or coating may change its balance",
    ),
}


def _balance(sheet: Sheet) -> Iterable[Finding]:
    """A finding for each surface worked on that is a balanced control surface, or may be one."""
    touching = [step for step in sheet.steps if step.surface and step.work != "wash"]
    for surface in (sheet.surface(name) for name in dict.fromkeys(step.surface for step in touching if step.surface)):
        if surface is not None and surface.balanced in BALANCE:
            level, reason = BALANCE[surface.balanced]
            steps = tuple(dict.fromkeys(step.key for step in touching if step.surface == surface.name))
            yield Finding("balance", surface.name, level, reason, _seen(sheet, surface.name), steps)


def _burn(sheet: Sheet) -> Iterable[Finding]:
    """One finding for the cabin, if leather is worked and its burn evidence is not complete."""
    steps = [step for step in sheet.steps if step.work == "leather"]
    if not steps:
        return
    basis = sheet.aircraft.burn_basis if sheet.aircraft else "unknown"
    products = [one for one in sheet.stock if one.code in {step.material for step in steps}]
    bare = [one.code for one in products if not one.fact(BURN_EVIDENCE)]
    lacking = []
    if basis == "unknown":
        lacking.append("what interior burn requirement this aircraft stands under is not known")
    if bare or not products:
        lacking.append(f"no burn evidence is on file for {', '.join(bare) or 'what the leather is worked with'}")
    if lacking:
        looked_at = {"basis": basis, "steps": steps, "products": [(one.code, one.facts) for one in products]}
        keys = tuple(dict.fromkeys(step.key for step in steps))
        yield Finding("interior burn", "cabin", "unknown", " and ".join(lacking), _hash(looked_at), keys)


def _seen(sheet: Sheet, surface: str) -> str:
    """A hash of all the gate looks at for a surface: what is known of it, its steps and its readings."""
    looked_at = {
        "surface": sheet.surface(surface),
        "steps": [step for step in sheet.steps if step.surface == surface],
        "readings": [reading for reading in sheet.readings if reading.surface == surface],
    }
    return _hash(looked_at)


def _hash(looked_at: object) -> str:
    return hashlib.sha256(frozen.dump(looked_at).encode()).hexdigest()
