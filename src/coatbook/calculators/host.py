"""Asking calculators, and containing what goes wrong with them.

One path for coatbook's own calculators and strangers'. A batch of tasks is worked through in one forked
child, which says a line about each input. The clock starts anew at each line; a child that is too slow, too
big, too talkative or gone is named, and a fresh one goes on after the input that did it. This contains
faults, not malice.
"""

import contextlib
import json
import os
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from itertools import islice
from pathlib import Path
from typing import Any

from coatbook.calculators.child import WHOLE_TASK, Given, Task, one_line, serve
from coatbook.calculators.contract import Calculator
from coatbook.calculators.discovery import Plugins
from coatbook.calculators.forked import Child, Silent, Write, alarmed, contained
from coatbook.calculators.result import Result
from coatbook.calculators.sheet import Sheet
from coatbook.values import Misuse, frozen

__all__ = ["Answer", "Host", "Limits", "contained"]

FINISHED = b"finished"
NO_ANSWER = "wrote what is no answer where its answer is meant"


@dataclass(frozen=True, slots=True)
class Limits:
    """What one answer may take: seconds, bytes of memory beyond the program's own, bytes of answer.

    `inputs` is how many inputs may be gathered from one sheet, `batch` how many tasks share one child.
    """

    seconds: float = 5.0
    memory: int = 512 * 1024 * 1024
    answer: int = 1_000_000
    inputs: int = 10_000
    batch: int = 2_000


@dataclass(frozen=True, slots=True)
class Answer:
    """How one input ended: exactly one of `result`, `refusal` and `failure` is set.

    Shapes: `task` is the place of its sheet, or of the input given, from 0; `inputs` is None where
    gathering them already ended otherwise; `refusal` is the calculator's own sentence, `failure` ours,
    naming the calculator.
    """

    calculator: str
    version: str
    task: int
    inputs: Any
    result: Result | None = None
    refusal: str | None = None
    failure: str | None = None


class Host:
    """Asks calculators by name, under limits."""

    def __init__(self, plugins: Plugins, limits: Limits | None = None) -> None:
        self.plugins = plugins
        self.limits = limits or Limits()

    def answer(self, name: str, sheets: Iterable[Sheet]) -> tuple[Answer, ...]:
        """What the calculator says to each sheet: as many answers as it gathers inputs, possibly none.

        Raises:
            Refusal, Misuse: there is no such calculator in use.
        """
        return ask(self.plugins.find(name), sheets, self.limits)

    def compute(self, name: str, inputs: Iterable[Any]) -> tuple[Answer, ...]:
        """What the calculator says to each of `inputs`, one answer each. Raises as `answer` does."""
        calculator = self.plugins.find(name)
        given = tuple(inputs)
        for one in given:
            if not isinstance(one, calculator.inputs):
                raise Misuse(f"{name} takes {calculator.inputs.__name__}, not {type(one).__name__}")
        return ask(calculator, map(Given, given), self.limits)


def ask(calculator: Calculator[Any], tasks: Iterable[Task], limits: Limits) -> tuple[Answer, ...]:
    """Every answer of one calculator, in the order of `tasks`, which are drawn batch by batch."""
    answers: list[Answer] = []
    remaining = iter(tasks)
    before = 0
    while batch := tuple(islice(remaining, limits.batch)):
        answers += _Batch(calculator, batch, before, limits).answers()
        before += len(batch)
    return tuple(answers)


@dataclass(slots=True)
class _Batch:
    """One batch and how far it has come: `task` and `number` are what is to be answered next.

    `gathered` and `inputs` are what the child has said of them so far; `spoiled` what was wrong with those
    inputs.
    """

    calculator: Calculator[Any]
    tasks: Sequence[Task]
    before: int
    limits: Limits
    task: int = 0
    number: int = 0
    gathered: int | None = None
    inputs: Any = None
    spoiled: str = ""
    answered: list[Answer] = field(default_factory=list)

    def answers(self) -> list[Answer]:
        while self.task < len(self.tasks):
            self.gathered = None
            if contained():
                self._in_a_child()
            else:
                self._in_here()
        return self.answered

    def _in_a_child(self) -> None:
        try:
            with Child(self._work, self.limits.memory) as child:
                while (said := child.line(self.limits.seconds, self.limits.answer)) != FINISHED:
                    self._hear_line(said)
        except Silent as silent:
            self._end("failure", str(silent))

    def _work(self, write: Write) -> None:
        """In the child. Its own alarm is for a child whose parent is gone: the parent's clock comes first."""

        def say(*line: Any) -> None:
            write(json.dumps(line, separators=(",", ":"), allow_nan=False).encode() + b"\n")

        seconds = self.limits.seconds + 1
        serve(self.calculator, self.tasks, self._start, self.limits.inputs, say, lambda: alarmed(seconds))
        write(FINISHED + b"\n")

    def _in_here(self) -> None:
        """Where there is no fork: the same work in this process, with no limits."""
        with Path(os.devnull).open("w", encoding="utf-8") as nowhere, contextlib.redirect_stdout(nowhere):
            serve(self.calculator, self.tasks, self._start, self.limits.inputs, self._hear)

    @property
    def _start(self) -> tuple[int, int]:
        return self.task, self.number

    def _hear_line(self, said: bytes) -> None:
        try:
            task, number, kind, what = json.loads(said)
        except (ValueError, TypeError, RecursionError):
            raise Silent(NO_ANSWER) from None
        if (task, number) not in ((self.task, self.number), (self.task, WHOLE_TASK)):
            raise Silent(NO_ANSWER)
        self._hear(task, number, kind, what)

    def _hear(self, task: int, number: int, kind: str, what: Any) -> None:
        if kind == "gathered":
            self.gathered = what
            self._move_on_if_done()
        elif kind == "inputs":
            self._hear_inputs(what)
        else:
            self._end(kind, what)

    def _hear_inputs(self, what: Any) -> None:
        try:
            self.inputs = frozen.from_plain(self.calculator.inputs, what)
        except Exception as error:  # whatever a stranger's type makes of it
            self.spoiled = f"has inputs that do not come back from JSON: {one_line(error)}"

    def _end(self, kind: str, what: Any) -> None:
        """The input at hand, or the whole task if its inputs are not known yet, ended thus."""
        if self.spoiled:
            kind, what = "failure", self.spoiled
        if kind == "result":
            kind, what = _read_result(what)
        if kind == "failure":
            gathering = "" if self.gathered is not None else " while gathering its inputs"
            what = f"the calculator {self.calculator.name} {self.calculator.version} {what}{gathering}"
        name, version = self.calculator.name, self.calculator.version
        self.answered.append(Answer(name, version, self.before + self.task, self.inputs, **{kind: what}))
        self.inputs, self.spoiled = None, ""
        self.number += 1
        self._move_on_if_done()

    def _move_on_if_done(self) -> None:
        if self.gathered is None or self.number >= self.gathered:
            self.task, self.number, self.gathered = self.task + 1, 0, None


def _read_result(what: Any) -> tuple[str, Any]:
    """The result in `what` again, or what is wrong with it: it is read by type, and must be writable."""
    try:
        result = frozen.from_plain(Result, what)
        frozen.dump(result).encode()
    except Exception as error:  # a wrong type shows itself in many ways, a bad decimal is even no ValueError
        return "failure", f"answered with what no result may hold: {one_line(error)}"
    return "result", result
