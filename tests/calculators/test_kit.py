"""The kit's checks fail where a calculator breaks the contract: each breach is caught by the check meant for it."""

import dataclasses
import random
from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from typing import Annotated, Any

import pytest

from coatbook.calculators import Calculator, Field, Figure, Result, Sheet
from coatbook.calculators.testing import CalculatorChecks, is_one_sentence
from coatbook.values import Refusal

CHECKS = CalculatorChecks()


@dataclass(frozen=True, slots=True)
class Inputs:
    size: Annotated[int, Field("a size", low=Decimal(0), high=Decimal(100))] = 1


@dataclass
class Loose:
    size: Annotated[int, Field("a size")] = 1
    unsaid: int = 0


def answer(value: Any = Decimal(2), unit: str = "m2", **more: Any) -> Result:
    return Result((Figure("size", value, unit, **more),), sources=("arithmetic",))


def nothing(_: Sheet) -> tuple[Any, ...]:
    return ()


def good(inputs: Inputs) -> Result:
    return answer(Decimal(inputs.size))


GOOD: Calculator[Any] = Calculator("good", "1", "a good one", (), Inputs, nothing, good)
EXAMPLES = (Inputs(), Inputs(5))


class TestAGoodOnePasses(CalculatorChecks):
    @pytest.fixture
    def calculator(self) -> Calculator[Any]:
        return GOOD

    @pytest.fixture
    def examples(self) -> tuple[Any, ...]:
        return EXAMPLES

    def test_its_import_is_light(self, calculator: Calculator[Any]) -> None:
        """Left out: a test module is not imported by its name."""


def but(**changes: Any) -> Calculator[Any]:
    return dataclasses.replace(GOOD, **changes)


def unpredictable(_: Inputs) -> Result:
    return answer(Decimal(random.random()).quantize(Decimal("0.000001")))


def meddling(inputs: Inputs) -> Result:
    object.__setattr__(inputs, "size", inputs.size + 1)
    return answer()


def bad_at_bounds(inputs: Inputs) -> Result:
    if inputs.size == 5:
        raise Refusal("two\nlines")
    return answer()


BREACHES: list[tuple[Calculator[Any], Callable[..., None]]] = [
    (but(name="Not a code"), CHECKS.test_it_has_a_name_a_version_and_a_summary),
    (but(summary=" "), CHECKS.test_it_has_a_name_a_version_and_a_summary),
    (but(inputs=Loose), CHECKS.test_every_input_can_be_an_option_and_is_explained),
    (but(inputs=Loose), CHECKS.test_inputs_are_frozen_and_come_back_from_json),
    (but(compute=unpredictable), CHECKS.test_the_same_inputs_give_the_same_answer),
    (but(compute=meddling), CHECKS.test_it_leaves_its_inputs_as_they_were),
    (but(compute=lambda _: answer(1.5)), CHECKS.test_results_hold_nothing_but_finite_exact_values),
    (but(compute=lambda _: answer(Decimal("NaN"))), CHECKS.test_results_hold_nothing_but_finite_exact_values),
    (but(compute=lambda _: answer(unit="")), CHECKS.test_every_figure_states_its_unit),
    (but(compute=lambda _: answer(unit="furlong")), CHECKS.test_every_figure_states_its_unit),
    (but(compute=lambda _: answer(low=Decimal(3))), CHECKS.test_every_figure_states_its_unit),
    (but(compute=lambda _: Result()), CHECKS.test_it_names_its_sources),
    (but(gather=lambda _: (Inputs(),)), CHECKS.test_a_sheet_with_nothing_on_it_gives_nothing),
]


@pytest.mark.parametrize(("calculator", "check"), BREACHES, ids=[check.__name__[5:] for _, check in BREACHES])
def test_a_breach_is_caught(calculator: Calculator[Any], check: Callable[..., None]) -> None:
    arguments: list[Any] = [calculator]
    if "examples" in check.__code__.co_varnames[: check.__code__.co_argcount]:
        arguments.append((Loose(),) if calculator.inputs is Loose else (Inputs(), Inputs(5)))
    with pytest.raises((AssertionError, TypeError, Refusal)):
        check(*arguments)


@pytest.mark.parametrize("unit", ["1", "µm", "each", "USD"])
def test_units_that_are_stated(unit: str) -> None:
    CHECKS.test_every_figure_states_its_unit(but(compute=lambda _: answer(unit=unit)), EXAMPLES)


def test_reading_more_than_it_says_is_caught() -> None:
    import datetime as dt

    from coatbook.calculators import Step

    class Checks(CalculatorChecks):
        sheets = (Sheet(dt.date(2026, 1, 31), "USD", steps=(Step("1", "wash"),)),)

    greedy = but(gather=lambda sheet: tuple(Inputs() for _ in sheet.steps))
    with pytest.raises(AssertionError):
        Checks().test_it_reads_only_what_it_says(greedy)
    Checks().test_it_reads_only_what_it_says(dataclasses.replace(greedy, reads=("steps",)))


def test_a_heavy_import_is_caught() -> None:
    def heavy(inputs: Inputs) -> Result:
        return good(inputs)

    heavy.__module__ = "numpy"
    with pytest.raises(AssertionError, match="import numpy inside compute"):
        CHECKS.test_its_import_is_light(but(compute=heavy))


@pytest.mark.parametrize(
    ("text", "one"), [("give the area", True), ("", False), ("two\nlines", False), ("Traceback (most recent", False)]
)
def test_one_sentence(text: str, one: bool) -> None:
    assert is_one_sentence(text) is one
