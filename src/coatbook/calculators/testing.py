"""Checks that every calculator passes: subclass them in a test module of your own, with two fixtures.

    class TestArea(CalculatorChecks):
        @pytest.fixture
        def calculator(self):
            return AREA

        @pytest.fixture
        def examples(self):
            return (Inputs(...), Inputs(...))

`examples` are inputs the calculator has an answer for. Set `sheets` to job sheets as well, and gathering is
checked too.
"""

import dataclasses
import datetime as dt
import subprocess
import sys
from collections.abc import Iterator
from decimal import Decimal
from typing import Any

from coatbook.calculators.child import Given, only_what_it_reads
from coatbook.calculators.contract import Calculator
from coatbook.calculators.fields import Described, described
from coatbook.calculators.host import Answer, Limits, ask
from coatbook.calculators.options import options
from coatbook.calculators.result import Result
from coatbook.calculators.sheet import Sheet
from coatbook.values import Misuse, Quantity, frozen
from coatbook.values.currency import digits
from coatbook.values.quantity import UNITS
from coatbook.values.text import code

PURE_NUMBER = "1"
HEAVY = ("numpy", "scipy", "pandas", "sqlalchemy", "alembic", "fpdf", "babel", "typer", "icalendar")
PATIENT = Limits(seconds=60.0)


class CalculatorChecks:
    """What the contract asks of every calculator."""

    sheets: tuple[Sheet, ...] = ()

    def test_it_has_a_name_a_version_and_a_summary(self, calculator: Calculator[Any]) -> None:
        assert code(calculator.name, "name") == calculator.name
        assert calculator.version.strip()
        assert calculator.summary.strip()

    def test_every_input_can_be_an_option_and_is_explained(self, calculator: Calculator[Any]) -> None:
        for option in options(calculator):
            assert option.help.strip(), option.name
        for field in described(calculator.inputs):
            assert field.field.help.strip(), f"{field.name} has no help"

    def test_inputs_are_frozen_and_come_back_from_json(
        self, calculator: Calculator[Any], examples: tuple[Any, ...]
    ) -> None:
        assert examples
        assert calculator.inputs.__dataclass_params__.frozen
        for inputs in examples:
            assert frozen.load(calculator.inputs, frozen.dump(inputs)) == inputs

    def test_the_same_inputs_give_the_same_answer(self, calculator: Calculator[Any], examples: tuple[Any, ...]) -> None:
        here = [frozen.dump(calculator.compute(inputs)) for inputs in examples]
        again = [frozen.dump(calculator.compute(inputs)) for inputs in reversed(examples)]
        assert here == again[::-1]
        assert here == [frozen.dump(_result(answer)) for answer in _asked(calculator, examples)]

    def test_it_leaves_its_inputs_as_they_were(self, calculator: Calculator[Any], examples: tuple[Any, ...]) -> None:
        for inputs in examples:
            before = frozen.dump(inputs)
            calculator.compute(inputs)
            assert frozen.dump(inputs) == before

    def test_results_hold_nothing_but_finite_exact_values(
        self, calculator: Calculator[Any], examples: tuple[Any, ...]
    ) -> None:
        for inputs in examples:
            result = calculator.compute(inputs)
            assert frozen.load(Result, frozen.dump(result)) == result

    def test_every_figure_states_its_unit(self, calculator: Calculator[Any], examples: tuple[Any, ...]) -> None:
        for figure in (figure for inputs in examples for figure in calculator.compute(inputs).figures):
            assert isinstance(figure.value, Decimal), figure
            assert _is_unit(figure.unit), f"{figure.name} has the unit {figure.unit!r}"
            bounds = [bound for bound in (figure.low, figure.value, figure.high) if bound is not None]
            assert bounds == sorted(bounds), f"{figure.name} lies outside its range"

    def test_it_names_its_sources(self, calculator: Calculator[Any], examples: tuple[Any, ...]) -> None:
        for inputs in examples:
            sources = calculator.compute(inputs).sources
            assert sources
            assert all(source.strip() for source in sources)

    def test_inputs_out_of_bounds_are_refused_by_one_sentence(
        self, calculator: Calculator[Any], examples: tuple[Any, ...]
    ) -> None:
        wrong = [bad for inputs in examples for bad in _out_of_bounds(inputs)]
        for answer in _asked(calculator, tuple(wrong)):
            assert answer.failure is None, answer.failure
            assert answer.refusal, f"{answer.inputs} was not refused"
            assert is_one_sentence(answer.refusal), answer.refusal

    def test_a_sheet_with_nothing_on_it_gives_nothing(self, calculator: Calculator[Any]) -> None:
        assert calculator.gather(Sheet(dt.date(2026, 1, 31), "USD")) == ()

    def test_it_reads_only_what_it_says(self, calculator: Calculator[Any]) -> None:
        for sheet in self.sheets:
            gathered = calculator.gather(sheet)
            assert gathered == calculator.gather(only_what_it_reads(sheet, calculator.reads))
            assert all(isinstance(inputs, calculator.inputs) for inputs in gathered)

    def test_its_import_is_light(self, calculator: Calculator[Any]) -> None:
        loaded = f"import sys, {calculator.compute.__module__}; print(*sys.modules)"
        ran = subprocess.run([sys.executable, "-c", loaded], capture_output=True, text=True, check=True, timeout=60)
        heavy = {name.partition(".")[0] for name in ran.stdout.split()} & set(HEAVY)
        assert not heavy, f"import {', '.join(sorted(heavy))} inside compute"


def is_one_sentence(text: str) -> bool:
    """Whether a person can read it in one go: one line, not empty, no traceback."""
    return bool(text.strip()) and "\n" not in text and len(text) <= 400 and "Traceback" not in text


def _asked(calculator: Calculator[Any], given: tuple[Any, ...]) -> tuple[Answer, ...]:
    return ask(calculator, map(Given, given), PATIENT)


def _result(answer: Answer) -> Result:
    assert answer.result is not None, answer.refusal or answer.failure
    return answer.result


def _is_unit(unit: str) -> bool:
    if unit == PURE_NUMBER or unit in UNITS:
        return True
    try:
        return digits(unit) >= 0
    except Misuse:
        return False


def _out_of_bounds(inputs: Any) -> Iterator[Any]:
    """Inputs like these, each with one field just outside one of its limits."""
    for field in described(type(inputs)):
        if field.many:
            continue
        for limit, beyond in ((field.field.low, -1), (field.field.high, 1)):
            if limit is not None:
                yield dataclasses.replace(inputs, **{field.name: _value(field, limit + beyond)})


def _value(field: Described, number: Decimal) -> Any:
    return Quantity.of(number, field.field.unit) if field.kind is Quantity else field.kind(number)
