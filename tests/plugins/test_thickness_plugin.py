"""The thickness calculator: the kit's checks, every verdict, and what a job sheet gives it."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from coatbook.calculators import (
    Aircraft,
    Calculator,
    Gauge,
    NotEnough,
    Reading,
    Result,
    Sheet,
    Step,
    Surface,
    Verdict,
)
from coatbook.calculators.testing import CalculatorChecks
from coatbook.values import Misuse, Quantity
from coatbook_plugins.thickness.calculator import CALCULATOR, gather
from coatbook_plugins.thickness.judging import judge
from coatbook_plugins.thickness.records import FilmReading, Inputs, Polish

SIXTIES = (65, 66, 63, 64, 67, 62, 66, 65)


def film(text: object) -> Quantity:
    return Quantity.parse(f"{text} µm")


def read(means: Sequence[object]) -> tuple[FilmReading, ...]:
    """Three readings a spot, around each mean."""
    return tuple(
        FilmReading(str(number), film(value))
        for number, middle in enumerate(means, 1)
        for value in (Decimal(str(middle)) - 1, middle, Decimal(str(middle)) + 1)
    )


POLISH = (Polish("2", film(3), 2), Polish("3", film(1), 2))
WING = Inputs(
    surface="wing",
    substrate="aluminum",
    readings=read(SIXTIES),
    steps=POLISH,
    layers_known=True,
    balanced="no",
)


class TestContract(CalculatorChecks):
    @pytest.fixture
    def calculator(self) -> Calculator[Any]:
        return CALCULATOR

    @pytest.fixture
    def examples(self) -> tuple[Any, ...]:
        few = replace(WING, readings=read((60, 61)))
        stated = replace(WING, accuracy=(film(1), Quantity.of(1, "%")), primer=film(18))
        return (WING, few, stated, replace(WING, readings=()))


def verdict(inputs: Inputs) -> Verdict:
    (only,) = judge(inputs).verdicts
    assert only.of == "wing"
    assert only.gates == tuple(step.step for step in inputs.steps)
    return only


def figure(result: Result, name: str) -> Decimal:
    return next(figure.value for figure in result.figures if figure.name == name)


def test_the_worked_case_of_the_readme() -> None:
    result = judge(WING)
    expected = {
        "spots": "8", "readings": "24", "lowest spot": "62.0", "mean of spots": "64.8", "standard deviation": "1.7",
        "tolerance factor": "2.582", "lower bound": "60.4", "gauge uncertainty": "6.0", "primer": "25.0",
        "film that must stay": "2.5", "margin": "26.9", "planned removal": "8.0", "residual film": "52.4",
        "passes of step 2": "2", "passes of step 3": "2",
    }  # fmt: skip
    assert {name: str(figure(result, name)) for name in expected} == expected
    assert verdict(WING).level == "go"


@pytest.mark.parametrize(
    ("means", "level"),
    [
        (SIXTIES, "go"),  # common practice, no source: the 60s may be polished
        ((38, 39, 37, 38, 39, 38, 37, 38), "care"),  # the upper 30s: a gentle step
        ((23, 22, 23, 24, 22, 23), "stop"),  # the low 20s: clean and coat only
    ],
)
def test_the_verdict_agrees_with_common_practice(means: Sequence[int], level: str) -> None:
    assert verdict(replace(WING, readings=read(means))).level == level


def test_care_says_how_many_passes_of_which_step() -> None:
    careful = replace(WING, readings=read((38, 39, 37, 38, 39, 38, 37, 38)))
    assert "enough for 1 of 4 planned passes (step 2: 1, step 3: 0)" in verdict(careful).reason


def test_a_margin_below_the_first_pass_stops() -> None:
    greedy = replace(WING, steps=(Polish("2", film(30)),))
    assert verdict(greedy).level == "stop"
    assert "less than the first planned pass takes" in verdict(greedy).reason


def test_no_margin_stops_an_abrasive_step_only() -> None:
    thin = replace(WING, readings=read((25, 26, 25, 24, 25)))
    assert verdict(thin).level == "stop"
    assert verdict(replace(thin, steps=())).level == "care"


def test_one_thin_spot_on_a_sound_surface_asks_for_care() -> None:
    # forty spots: the bound is for nine tenths of the skin, one spot may lie far below it
    spots = [*([70, 71, 69] * 13), 33]
    result = verdict(replace(WING, readings=read(spots)))
    assert result.level == "care"
    assert "spot 40 has less" in result.reason


def test_one_reading_without_color_above_the_primer_asks_for_care() -> None:
    readings = [*read(SIXTIES), *(FilmReading("edge", Quantity.of(film, "µm")) for film in (62, 61, 20))]
    result = verdict(replace(WING, readings=tuple(readings), primer=Quantity.of(18, "µm")))
    assert result.level == "care"
    assert "spot edge has less" in result.reason


@pytest.mark.parametrize(
    ("inputs", "words"),
    [
        (replace(WING, readings=()), "no film was read on wing"),
        (replace(WING, readings=read(SIXTIES[:4])), "too few spots: hand work or more readings"),
        (replace(WING, readings=read(SIXTIES)[::3]), "too few spots"),
        (replace(WING, layers_known=False), "the test spot decides"),
        (replace(WING, steps=(Polish("2", None),)), "how much a pass takes"),
        (replace(WING, substrate="composite"), "ultrasound (ASTM D6132)"),
        (replace(WING, substrate="fabric", gauge="magnetic"), "ultrasound (ASTM D6132)"),
        (replace(WING, substrate="unknown"), "the substrate of wing is not known"),
        (replace(WING, readings=read((*SIXTIES, 190))), "stop and ask"),
        (replace(WING, readings=read((*SIXTIES, 140))), "stop and ask"),
    ],
)
def test_what_is_not_known_is_unknown_and_gates_the_steps(inputs: Inputs, words: str) -> None:
    found = verdict(inputs)
    assert found.level == "unknown"
    assert words in found.reason


def test_spots_are_counted_never_readings() -> None:
    often = tuple(FilmReading("1", film(65)) for _ in range(40))
    result = judge(replace(WING, readings=often))
    assert figure(result, "spots") == 1
    assert figure(result, "readings") == 40
    assert not any(one.name == "lower bound" for one in result.figures)


def test_too_few_spots_still_tell_the_lowest() -> None:
    assert figure(judge(replace(WING, readings=read(SIXTIES[:4]))), "lowest spot") == Decimal("63.0")


def test_a_spot_of_two_readings_does_not_count_but_is_named() -> None:
    result = judge(replace(WING, readings=(*WING.readings, FilmReading("9", film(40)), FilmReading("9", film(41)))))
    assert figure(result, "spots") == 8
    assert any("spot 9 of wing has fewer than three readings" in caution for caution in result.cautions)


def test_composite_read_with_ultrasound_is_judged() -> None:
    assert verdict(replace(WING, substrate="composite", gauge="ultrasound")).level == "go"


def test_unknown_layers_give_no_pass_count() -> None:
    names = [one.name for one in judge(replace(WING, layers_known=False)).figures]
    assert "margin" in names
    assert not any(name.startswith("passes of step") for name in names)


def test_thin_film_stops_even_where_the_layers_are_unknown() -> None:
    assert verdict(replace(WING, readings=read((25, 26, 25, 24, 25)), layers_known=False)).level == "stop"


def test_the_gauge_s_stated_accuracy_wins() -> None:
    stated = judge(replace(WING, accuracy=(film(1), Quantity.of(1, "%"))))
    assert figure(stated, "gauge uncertainty") == Decimal("1.6")  # 1 µm and 1 % of 60.4 µm


def test_an_accuracy_that_is_none_is_refused() -> None:
    with pytest.raises(Misuse, match="must be a film"):
        judge(replace(WING, accuracy=(Quantity.of(1, "g"),)))


def test_a_known_primer_takes_the_place_of_the_allowance() -> None:
    known = judge(replace(WING, primer=film(18)))
    assert figure(known, "margin") == Decimal("33.9")
    assert not any("assumed" in caution for caution in known.cautions)
    assert any("25 µm of primer are assumed" in caution for caution in judge(WING).cautions)


def test_readings_of_other_surfaces_in_the_same_file_are_passed_over() -> None:
    others = tuple(replace(one, surface="tail", film=film(20)) for one in WING.readings)
    mine = tuple(replace(one, surface="wing") for one in WING.readings)
    assert judge(replace(WING, readings=(*others, *mine))) == judge(replace(WING, readings=mine))


def test_two_steps_of_one_key_are_refused() -> None:
    with pytest.raises(NotEnough, match="one key"):
        judge(replace(WING, steps=(POLISH[0], POLISH[0])))


def test_cautions_stand_beside_every_verdict() -> None:
    for inputs in (WING, replace(WING, readings=()), replace(WING, substrate="composite")):
        cautions = judge(inputs).cautions
        assert any("rivet heads, laps and edges are never cleared" in caution for caution in cautions)
        assert any("licensed mechanic" in caution for caution in cautions)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"balanced": "yes"}, "is a balanced control surface"),
        ({"balanced": "unknown"}, "answer first whether wing is a balanced control surface"),
        ({"mesh": True}, "metal mesh"),
        ({"substrate": "steel"}, "magnetic principle"),
    ],
)
def test_cautions_of_the_surface(change: dict[str, Any], words: str) -> None:
    assert any(words in caution for caution in judge(replace(WING, **change)).cautions)


@pytest.mark.parametrize("extra", [1, 2, 5])
def test_more_film_never_makes_the_margin_smaller(extra: int) -> None:
    thicker = replace(WING, readings=read([value + extra for value in SIXTIES]))
    assert figure(judge(thicker), "margin") > figure(judge(WING), "margin")


GAUGE = Gauge("eddy current", "G-1", (film(1),))
WING_SKIN = Surface("wing", None, "aluminum", "single-stage", True, "no", primer=film(18))
TAIL_SKIN = Surface("tail", None, "composite", "base/clear", False, "unknown")
SHEET = Sheet(
    as_of=dt.date(2026, 3, 2),
    currency="USD",
    aircraft=Aircraft("N123AB", "Cessna", "172S", (WING_SKIN, TAIL_SKIN)),
    steps=(
        Step(key="1", service="wash", surface="tail"),
        Step(key="2", service="polish", surface="wing", passes=2, removal=film(2), abrasive=True),
        Step(key="3", service="polish", removal=film(1), abrasive=True),
    ),
    readings=(
        Reading("wing", "1", "film", film(65), GAUGE, "before"),
        Reading("wing", "1", "film", film(55), GAUGE, "after"),
        Reading("cowl", "1", "film", film(60), GAUGE),
        Reading("wing", "1", "gloss", Quantity.of(60, "GU")),
    ),
)


def test_gathering_takes_every_surface_read_or_worked() -> None:
    wing, tail, cowl = gather(SHEET)
    assert [one.surface for one in (wing, tail, cowl)] == ["wing", "tail", "cowl"]
    assert wing.readings == (FilmReading("1", film(65), "wing"),)
    assert wing.steps == (Polish("2", film(2), 2), Polish("3", film(1), 1))
    assert (wing.primer, wing.layers_known, wing.accuracy, wing.gauge) == (film(18), True, (film(1),), "eddy current")
    assert tail.steps == (Polish("3", film(1), 1),)
    assert tail.readings == ()
    assert (cowl.substrate, cowl.layers_known, cowl.steps) == ("unknown", False, tail.steps)


def test_a_step_with_two_materials_takes_its_film_once() -> None:
    twice = (SHEET.steps[1], replace(SHEET.steps[1], material="compound"))
    wing = gather(replace(SHEET, steps=twice))[0]
    assert wing.steps == (Polish("2", film(2), 2),)


def test_an_abrasive_step_without_readings_is_unknown() -> None:
    tail = gather(SHEET)[1]
    (found,) = judge(tail).verdicts
    assert (found.level, found.gates) == ("unknown", ("3",))


def test_an_abrasive_step_on_no_recorded_surface_is_not_passed_over() -> None:
    (whole,) = gather(replace(SHEET, aircraft=None, readings=(), steps=SHEET.steps[2:]))
    assert (whole.surface, whole.steps) == ("whole aircraft", (Polish("3", film(1), 1),))


def test_readings_by_different_gauges_take_the_default_uncertainty() -> None:
    other = Reading("wing", "2", "film", film(64), Gauge("ultrasound", "U-9"))
    wing = gather(replace(SHEET, readings=(*SHEET.readings, other)))[0]
    assert (wing.gauge, wing.accuracy) == ("eddy current", ())


@pytest.mark.parametrize("gauge", [None, Gauge("")])
def test_a_gauge_that_is_not_named_reads_nothing_on_composite(gauge: Gauge | None) -> None:
    bare = tuple(Reading("tail", str(spot), "film", film(60), gauge) for spot in range(1, 8) for _ in range(3))
    tail = gather(replace(SHEET, readings=bare))[1]
    (found,) = judge(tail).verdicts
    assert "a gauge of unknown kind reads nothing to rely on" in found.reason
