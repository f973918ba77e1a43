"""The worked cases on the page of formulas are what the calculators answer."""

import re

import pytest

from coatbook.values import Quantity
from coatbook_plugins.thickness.judging import judge
from coatbook_plugins.thickness.records import FilmReading, Inputs, Polish
from docs.shell import DOCS

PAGE = (DOCS / "explanation" / "formulas.md").read_text("utf-8")
CASES = re.findall(
    r"^\| ([0-9., ]+)(?: \(four only\))? \| very thin \| (\w+)[^|]* \| ([^|]+) \|$", PAGE, flags=re.MULTILINE
)


@pytest.mark.parametrize(("spots", "level", "why"), CASES)
def test_film_beside_the_classes_of_cars(spots: str, level: str, why: str) -> None:
    films = [Quantity.of(film.strip(), "µm") for film in spots.split(",")]
    readings = tuple(FilmReading(str(spot), film) for spot, film in enumerate(films) for _ in range(3))
    steps = (Polish("1", Quantity.of(2, "µm"), 1),)
    result = judge(Inputs("wing", "aluminum", readings, steps, layers_known=True, balanced="no"))
    assert result.verdicts[0].level == level
    margin = re.search(r"margin (−?[0-9.]+)", why)
    found = [figure.value for figure in result.figures if figure.name == "margin"]
    assert [str(value) for value in found] == ([margin[1].replace("−", "-")] if margin else [])
    assert all(film < Quantity.of(80, "µm") for film in films)


def test_all_cases_were_read() -> None:
    assert [level for _, level, _ in CASES] == ["go", "go", "stop", "unknown"]
