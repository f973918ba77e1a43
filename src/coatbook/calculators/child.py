"""The work on the calculator's side of the fence: gather, compute, and say one line about each input.

A line is canonical JSON: [place of the task, place of its input, kind, what]. The kinds are
  gathered   what = how many inputs the task has; its place of an input is -1
  inputs     what = the input about to be computed
  result, refusal, failure   how that input ended; with place -1 the whole task ended so
"""

import contextlib
from collections.abc import Callable, Sequence
from dataclasses import dataclass, fields, replace
from functools import partial
from typing import Any

from coatbook.calculators.contract import Calculator
from coatbook.calculators.fields import check
from coatbook.calculators.result import Result
from coatbook.calculators.sheet import PARTS, Sheet
from coatbook.values import Refusal, frozen
from coatbook.values.text import shown

WHOLE_TASK = -1
LONGEST_SENTENCE = 500


@dataclass(frozen=True, slots=True)
class Given:
    """A task that is an input already, not a sheet to gather inputs from."""

    inputs: Any


Task = Sheet | Given
Say = Callable[[int, int, str, Any], None]
Watched = Callable[[], contextlib.AbstractContextManager[None]]
Ended = tuple[str, Any]


def only_what_it_reads(sheet: Sheet, reads: tuple[str, ...]) -> Sheet:
    """The sheet with the parts left empty that a calculator does not say it reads."""
    empty: dict[str, Any] = {field.name: field.default for field in fields(Sheet) if field.name in PARTS}
    return replace(sheet, **{part: nothing for part, nothing in empty.items() if part not in reads})


def serve(
    calculator: Calculator[Any],
    tasks: Sequence[Task],
    start: tuple[int, int],
    most_inputs: int,
    say: Say,
    watched: Watched = contextlib.nullcontext,
) -> None:
    """Work through `tasks` from `start` = (task, input) on. Code of the plug-in runs inside `watched()` only."""
    first_task, first_input = start
    for place in range(first_task, len(tasks)):
        skipped = first_input if place == first_task else 0
        with watched():
            kind, what = _ended(partial(_gathered, calculator, tasks[place], most_inputs))
        if kind != "gathered":
            say(place, WHOLE_TASK, kind, what)
            continue
        say(place, WHOLE_TASK, kind, len(what))
        for number in range(skipped, len(what)):
            _serve_one(calculator, place, number, what[number], say, watched)


def _serve_one(
    calculator: Calculator[Any],
    place: int,
    number: int,
    inputs: Any,
    say: Say,
    watched: Watched,
) -> None:
    kind, what = _ended(lambda: ("inputs", frozen.plain(inputs)))
    say(place, number, kind, what)
    if kind == "inputs":
        with watched():
            kind, what = _ended(partial(_computed, calculator, inputs))
        say(place, number, kind, what)


def _gathered(calculator: Calculator[Any], task: Task, most_inputs: int) -> Ended:
    if isinstance(task, Given):
        return "gathered", (task.inputs,)
    gathered = calculator.gather(only_what_it_reads(task, calculator.reads))
    if not isinstance(gathered, tuple):
        return "failure", f"gathered a {type(gathered).__name__} where a tuple of inputs is meant"
    if len(gathered) > most_inputs:
        return "failure", f"gathered {len(gathered)} inputs from one sheet, more than {most_inputs}"
    for inputs in gathered:
        if not isinstance(inputs, calculator.inputs):
            return "failure", f"gathered a {type(inputs).__name__}, not its own inputs"
    return "gathered", gathered


def _computed(calculator: Calculator[Any], inputs: Any) -> Ended:
    check(inputs)
    result = calculator.compute(inputs)
    if not isinstance(result, Result):
        return "failure", f"answered with a {type(result).__name__}, not a Result"
    try:
        return "result", frozen.plain(result)
    except (TypeError, ValueError, AttributeError) as error:
        return "failure", f"answered with what no result may hold: {one_line(error)}"


def _ended(work: Callable[[], Ended]) -> Ended:
    """What `work` returns, or in words how it ended. Nothing that Python can catch gets past here."""
    try:
        return work()
    except Refusal as refusal:
        return "refusal", one_line(refusal)
    except MemoryError:
        pass  # said below, once the frames that hold the memory are gone
    except SystemExit as leaving:
        return "failure", f"asked the program to exit ({one_line(leaving)})"
    except BaseException as error:
        return "failure", f"raised {type(error).__name__}: {one_line(error)}"
    return "failure", "asked for more memory than it may have"


def one_line(error: BaseException) -> str:
    """An error's own words as one printable line of bounded length."""
    with contextlib.suppress(Exception):
        text = " ".join(shown(str(error)).split())
        return text[:LONGEST_SENTENCE] or "no reason given"
    return "its reason cannot be read"
