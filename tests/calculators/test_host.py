"""Whatever a calculator does, it is named, the next input is answered, and no process is left."""

import contextlib
import ctypes
import datetime as dt
import os
import re
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from coatbook.calculators import Calculator, Figure, NotEnough, Result, Sheet, Step
from coatbook.calculators import host as host_module
from coatbook.calculators.discovery import Plugins
from coatbook.calculators.host import Answer, Host, Limits, contained
from coatbook.values import Misuse

QUICK = Limits(seconds=3.0, memory=256 * 1024 * 1024)
ONE = Result(figures=(Figure("double", Decimal(2), "each"),), sources=("arithmetic",))


@dataclass(frozen=True, slots=True)
class Inputs:
    deed: str


def loops_in_c(_: Inputs) -> Result:
    re.fullmatch(r"(a+)+b", "a" * 60)
    return ONE


def sums_in_c(_: Inputs) -> Result:
    sum(range(10**12))
    return ONE


def hangs(_: Inputs) -> Result:
    time.sleep(60)
    return ONE


def raises(_: Inputs) -> Result:
    raise ValueError("the paint\nis wet")


def leaves(_: Inputs) -> Result:
    sys.exit(3)


def leaves_at_once(_: Inputs) -> Result:
    os._exit(0)


def interrupts(_: Inputs) -> Result:
    raise KeyboardInterrupt


def crashes(_: Inputs) -> Result:
    ctypes.string_at(0)
    return ONE


def floods_memory(_: Inputs) -> Result:
    kept = [bytes(16 * 1024 * 1024) for _ in range(100_000)]  # asked for, not touched: quick on a busy machine too
    return Result(cautions=(str(len(kept)),))


def floods_output(_: Inputs) -> Result:
    for _round in range(10):
        print("x" * 1_000_000, flush=True)  # noqa: T201
        os.write(1, b"y" * 1_000_000)
        os.write(2, b"z" * 1_000_000)
    return ONE


def floods_answer(_: Inputs) -> Result:
    return Result(cautions=("x" * 10_000_000,))


def answers_float(_: Inputs) -> Result:
    return Result(figures=(Figure("film", 1.5, "µm"),))  # type: ignore[arg-type]


def answers_nan(_: Inputs) -> Result:
    return Result(figures=(Figure("film", Decimal("NaN"), "µm"),))


def answers_nan_as_text(_: Inputs) -> Result:
    return Result(figures=(Figure("film", "NaN", "µm"),))  # type: ignore[arg-type]


def answers_text(_: Inputs) -> Result:
    return "42"  # type: ignore[return-value]


def answers_wrong_field(_: Inputs) -> Result:
    return Result(figures=("film",))  # type: ignore[arg-type]


def answers_unwritable(_: Inputs) -> Result:
    return Result(cautions=("\ud800",))


def starts_children(_: Inputs) -> Result:
    subprocess.Popen(["sleep", "61"])
    return ONE


def closes_everything(_: Inputs) -> Result:
    os.closerange(3, 256)
    return ONE


def honest(_: Inputs) -> Result:
    raise NotEnough("two spots are too few")


def good(_: Inputs) -> Result:
    return ONE


DEEDS: dict[str, tuple[Callable[[Inputs], Result], str]] = {
    "raises": (raises, "raised ValueError: the paint is wet"),
    "leaves": (leaves, "asked the program to exit"),
    "leaves-at-once": (leaves_at_once, "ended its process (exit 0)"),
    "interrupts": (interrupts, "raised KeyboardInterrupt"),
    "loops-in-c": (loops_in_c, "ran longer than 3 s"),
    "sums-in-c": (sums_in_c, "ran longer than 3 s"),
    "hangs": (hangs, "ran longer than 3 s"),
    "crashes": (crashes, "crashed its process (SIGSEGV)"),
    "floods-memory": (floods_memory, "asked for more memory than it may have"),
    "floods-answer": (floods_answer, "answered with more than 1000000 bytes"),
    "float": (answers_float, "cannot hold a float"),
    "nan": (answers_nan, "not a finite number"),
    "nan-as-text": (answers_nan_as_text, "no result may hold"),
    "text": (answers_text, "answered with a str, not a Result"),
    "wrong-field": (answers_wrong_field, "no result may hold"),
    "unwritable": (answers_unwritable, "no result may hold"),
    "closes": (closes_everything, "ended its process"),
}


def act(inputs: Inputs) -> Result:
    return {"good": good, "honest": honest, "floods-output": floods_output, "children": starts_children}.get(
        inputs.deed, DEEDS.get(inputs.deed, (good, ""))[0]
    )(inputs)


def gather(sheet: Sheet) -> tuple[Inputs, ...]:
    if sheet.job == "raises":
        raise ValueError("no such job")
    return tuple(Inputs(step.service) for step in sheet.steps)


ACTOR = Calculator("actor", "7", "does as told", ("steps",), Inputs, gather, act)
GOOD = Calculator("steady", "1", "always answers", ("steps",), Inputs, gather, good)


def processes() -> Iterator[tuple[str, str, str]]:
    """(number, parent's number, command) of every process, zombies included."""
    for folder in Path("/proc").glob("[0-9]*"):
        with contextlib.suppress(OSError):
            after_name = (folder / "stat").read_text().rpartition(")")[2].split()
            yield folder.name, after_name[1], (folder / "cmdline").read_text().replace("\0", " ").strip()


def own_children() -> set[str]:
    return {number for number, parent, _ in processes() if parent == str(os.getpid())}


@pytest.fixture(autouse=True)
def _leaves_no_child_and_no_descriptor() -> Iterator[None]:
    children, descriptors = own_children(), len(list(Path("/proc/self/fd").iterdir()))
    yield
    assert own_children() == children
    assert len(list(Path("/proc/self/fd").iterdir())) == descriptors


@pytest.fixture
def host(plugins_of: Callable[..., Plugins]) -> Host:
    return Host(plugins_of(ACTOR, GOOD), QUICK)


def told(*deeds: str) -> list[Inputs]:
    return [Inputs(deed) for deed in deeds]


@pytest.mark.parametrize("deed", DEEDS)
def test_a_fault_is_named_and_the_inputs_around_it_are_answered(host: Host, deed: str) -> None:
    before, bad, after = host.compute("actor", told("good", deed, "good"))
    assert before.result == after.result == ONE
    assert bad.result is None
    assert bad.refusal is None
    assert bad.failure is not None
    assert bad.failure.startswith("the calculator actor 7 ")
    assert DEEDS[deed][1] in bad.failure
    assert "\n" not in bad.failure
    assert bad.inputs == Inputs(deed)
    assert [answer.task for answer in (before, bad, after)] == [0, 1, 2]
    assert host.compute("steady", told("good"))[0].result == ONE


def test_many_faults_in_one_batch_are_each_named(host: Host) -> None:
    deeds = ("leaves-at-once", "crashes", "raises", "leaves-at-once", "nan")
    answers = host.compute("actor", told(*deeds, "good"))
    assert [bool(answer.failure) for answer in answers] == [True] * 5 + [False]
    for deed, answer in zip(deeds, answers, strict=False):
        assert DEEDS[deed][1] in str(answer.failure)


def test_output_of_the_calculator_is_dropped(host: Host, capfd: pytest.CaptureFixture[str]) -> None:
    assert host.compute("actor", told("floods-output"))[0].result == ONE
    assert capfd.readouterr() == ("", "")


def test_unflushed_output_of_the_program_is_not_written_twice() -> None:
    program = """
import sys
from coatbook.calculators.forked import Child
sys.stdout.write("once")
with Child(lambda write: (sys.stdout.flush(), sys.__stdout__.flush(), write(b"done\\n")), 1 << 28) as child:
    assert child.line(5, 100) == b"done"
"""
    ran = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert ran.stdout == "once"


def test_the_program_s_own_clean_up_is_not_run_by_the_child() -> None:
    program = """
import atexit
from coatbook.calculators.forked import Child
atexit.register(print, "cleaned up")
with Child(lambda write: write(b"done\\n"), 1 << 28) as child:
    child.line(5, 100)
"""
    ran = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert ran.stdout == "cleaned up\n"


def test_children_of_the_child_are_ended_too(host: Host) -> None:
    assert host.compute("actor", told("children"))[0].result == ONE
    until = time.monotonic() + 10
    while (left := [one for one in processes() if one[2] == "sleep 61"]) and time.monotonic() < until:
        time.sleep(0.05)
    assert not left


def test_a_child_ends_even_if_the_program_is_killed() -> None:
    program = """
import os, signal, re
from coatbook.calculators.forked import Child, alarmed
def work(write):
    with alarmed(1):
        write(str(os.getpid()).encode() + b"\\n")
        re.fullmatch(r"(a+)+b", "a" * 60)
with Child(work, 1 << 28) as child:
    print(child.line(5, 100).decode(), flush=True)
    os.kill(os.getpid(), signal.SIGKILL)
"""
    ran = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=False)
    child = ran.stdout.strip()
    until = time.monotonic() + 20
    while Path(f"/proc/{child}").exists() and time.monotonic() < until:
        time.sleep(0.1)
    assert child.isdigit()
    assert not Path(f"/proc/{child}").exists()


def test_a_refusal_is_no_failure(host: Host) -> None:
    (answer,) = host.compute("actor", told("honest"))
    assert answer == Answer("actor", "7", 0, Inputs("honest"), refusal="two spots are too few")


def sheet(*deeds: str, job: str = "1") -> Sheet:
    steps = tuple(Step(key=str(number), service=deed) for number, deed in enumerate(deeds, 1))
    return Sheet(dt.date(2026, 3, 1), "USD", job=job, steps=steps)


def test_sheets_give_as_many_answers_as_inputs_are_gathered(host: Host) -> None:
    sheets = (sheet("good", "leaves-at-once", "good"), sheet(), sheet("raises"), sheet("good"))
    answers = host.answer("actor", sheets)
    assert [(answer.task, answer.failure is None) for answer in answers] == [
        (0, True), (0, False), (0, True), (2, False), (3, True),
    ]  # fmt: skip


def test_a_sheet_whose_last_input_ends_the_child_is_not_begun_again(host: Host) -> None:
    answers = host.answer("actor", (sheet("good", "leaves-at-once"), sheet("good")))
    assert [(answer.task, answer.failure is None) for answer in answers] == [(0, True), (0, False), (1, True)]


def test_a_fault_while_gathering_is_named(host: Host) -> None:
    bad, fine = host.answer("actor", (sheet(job="raises"), sheet("good")))
    assert bad.failure == ("the calculator actor 7 raised ValueError: no such job while gathering its inputs")
    assert bad.inputs is None
    assert fine.result == ONE


def test_batches_are_drawn_as_needed(plugins_of: Callable[..., Plugins]) -> None:
    host = Host(plugins_of(GOOD), Limits(batch=3))
    answers = host.answer("steady", (sheet("good") for _ in range(10)))
    assert [answer.task for answer in answers] == list(range(10))


def test_only_the_parts_it_reads_are_shown(plugins_of: Callable[..., Plugins]) -> None:
    blind = Calculator("blind", "1", "reads no steps", ("stock",), Inputs, gather, good)
    assert Host(plugins_of(blind)).answer("blind", (sheet("good"),)) == ()


def test_too_many_inputs_of_one_sheet(plugins_of: Callable[..., Plugins]) -> None:
    host = Host(plugins_of(GOOD), Limits(inputs=2))
    (answer,) = host.answer("steady", (sheet("a", "b", "c"),))
    assert "gathered 3 inputs" in str(answer.failure)


def test_gathering_what_are_no_inputs(plugins_of: Callable[..., Plugins]) -> None:
    def gather_text(_: Sheet) -> Any:
        return ("text",)

    def gather_list(_: Sheet) -> Any:
        return []

    for name, wrong in (("a", gather_text), ("b", gather_list)):
        calculator = Calculator(name, "1", "", (), Inputs, wrong, good)
        (answer,) = Host(plugins_of(calculator)).answer(name, (sheet(),))
        assert "gathered a" in str(answer.failure)


def test_inputs_of_another_calculator_are_refused(host: Host) -> None:
    with pytest.raises(Misuse, match="takes Inputs, not Step"):
        host.compute("actor", [Step("1", "wash")])


@pytest.mark.parametrize("line", [("one",), (5, 0, "result", {}), (0, 3, "result", {})])
def test_a_line_that_is_no_answer_is_named(host: Host, monkeypatch: pytest.MonkeyPatch, line: tuple[Any, ...]) -> None:
    monkeypatch.setattr(host_module, "serve", lambda *work: work[4](*line))
    (answer,) = host.compute("actor", told("good"))
    assert "wrote what is no answer" in str(answer.failure)


def test_without_fork_the_same_answers_come_without_limits(
    host: Host, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(host_module, "contained", lambda: False)
    good_one, exiting, refused, wrong, after = host.compute(
        "actor", told("good", "leaves", "honest", "nan-as-text", "good")
    )
    assert good_one.result == after.result == ONE
    assert "asked the program to exit" in str(exiting.failure)
    assert refused.refusal == "two spots are too few"
    assert "no result may hold" in str(wrong.failure)
    assert capsys.readouterr() == ("", "")


def test_whether_calculators_are_contained_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    assert contained()
    monkeypatch.delattr(os, "fork")
    assert not contained()


def test_an_answer_survives_json() -> None:
    from coatbook.values import frozen

    assert frozen.load(Result, frozen.dump(ONE)) == ONE
