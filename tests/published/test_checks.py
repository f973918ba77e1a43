"""The form of published checks itself: a wrong figure fails, and an id is used once."""

from decimal import Decimal

import pytest

from published.checks import Check, table

FIGURE = Check("figure", inputs=None, expected="1604.17", source="a source", tolerance="0.005")


@pytest.mark.parametrize("found", [Decimal("1604.17"), 1604.1667, Decimal("1604.175")])
def test_a_figure_within_its_tolerance_agrees(found: float | Decimal) -> None:
    FIGURE.agrees(found)


@pytest.mark.parametrize("found", [Decimal("1604.1751"), 1604, "1604.17", None])
def test_a_figure_outside_its_tolerance_fails_and_names_the_source(found: object) -> None:
    with pytest.raises(pytest.fail.Exception, match=r"figure: found .*, but a source gives"):
        Check("figure", None, Decimal("1604.17"), "a source", "0.005").agrees(found)


def test_what_is_no_number_must_be_equal() -> None:
    Check("day", None, "2026-07-31", "a source").agrees("2026-07-31")
    with pytest.raises(pytest.fail.Exception):
        Check("day", None, "2026-07-31", "a source").agrees("2026-07-30")
    with pytest.raises(pytest.fail.Exception):
        Check("valid", None, 1, "a source").agrees(False)


def test_two_checks_may_not_share_an_id() -> None:
    table([FIGURE, FIGURE])
    with pytest.raises(ValueError, match="two published checks are named 'figure'"):
        table([Check("figure", inputs=None, expected="1604", source="another source")])
