"""The one-sided tolerance factor and bound of the thickness calculator, and its gauge uncertainty."""

from fractions import Fraction

import pytest

from coatbook_plugins.thickness.formulas import (
    gauge_uncertainty,
    lower_bound,
    passes_allowed,
    sample_deviation,
    tolerance_factor,
)
from published.checks import Check, table

TEXTBOOK = "Montgomery & Runger, Applied Statistics and Probability for Engineers, 7th ed., Table XII"
NIST = "NIST/SEMATECH e-Handbook of Statistical Methods, 7.2.6.3"
EN_689 = "EN 689, factor U_T of workplace exposure, which is k at coverage 0.95 and confidence 0.70"
CMH_17 = "CMH-17 vol. 1, one-sided tolerance factors k_B (coverage 0.90) and k_A (0.99), confidence 0.95"
E376 = "ASTM E376, uncertainty note: the greater of 10 % and 2.5 µm"

# n, coverage, confidence, k as printed
TEXTBOOK_ROWS = (
    (3, 0.90, 0.90, "4.258"),
    (3, 0.99, 0.95, "10.553"),
    (4, 0.90, 0.90, "3.188"),
    (4, 0.90, 0.95, "4.162"),
    (4, 0.95, 0.95, "5.144"),
    (4, 0.99, 0.95, "7.042"),
    (5, 0.99, 0.95, "5.741"),
    (6, 0.90, 0.90, "2.494"),
    (6, 0.90, 0.95, "3.006"),
    (6, 0.95, 0.95, "3.708"),
    (6, 0.99, 0.95, "5.062"),
    (8, 0.90, 0.90, "2.219"),
    (8, 0.90, 0.95, "2.582"),
    (8, 0.95, 0.95, "3.187"),
    (8, 0.99, 0.95, "4.354"),
    (9, 0.90, 0.90, "2.133"),
    (9, 0.90, 0.95, "2.454"),
    (9, 0.95, 0.95, "3.031"),
    (10, 0.90, 0.90, "2.066"),
    (10, 0.90, 0.95, "2.355"),
    (10, 0.95, 0.95, "2.911"),
    (15, 0.90, 0.95, "2.068"),
    (20, 0.90, 0.90, "1.765"),
    (20, 0.95, 0.95, "2.396"),
    (20, 0.99, 0.95, "3.295"),
    (30, 0.90, 0.90, "1.657"),
    (30, 0.95, 0.95, "2.220"),
    (50, 0.90, 0.95, "1.646"),
    (50, 0.99, 0.95, "2.862"),
)
EN_689_ROWS = ((6, "2.187"), (7, "2.120"), (8, "2.072"), (9, "2.035"), (10, "2.005"), (15, "1.917"), (20, "1.870"),
               (30, "1.820"))  # fmt: skip
# n, k_B, k_A; the handbook's k_B is up to 0.002 high
CMH_17_ROWS = ((2, "20.581", "37.094"), (3, "6.157", "10.553"), (5, "3.408", "5.741"), (10, "2.355", "3.981"),
               (30, "1.778", "3.064"))  # fmt: skip


def _row(name: str, n: int, coverage: float, confidence: float, k: str, source: str, tolerance: str) -> Check:
    return Check(f"tolerance-{name}-n{n}-{coverage}-{confidence}", (n, coverage, confidence), k, source, tolerance)


FACTORS = (
    *(_row("textbook", *row, TEXTBOOK, "0.0006") for row in TEXTBOOK_ROWS),
    *(_row("en689", n, 0.95, 0.70, k, EN_689, "0.0006") for n, k in EN_689_ROWS),
    *(_row("cmh17", n, 0.90, 0.95, k, CMH_17, "0.002") for n, k, _ in CMH_17_ROWS),
    *(_row("cmh17", n, 0.99, 0.95, k, CMH_17, "0.002") for n, _, k in CMH_17_ROWS),
    _row("nist", 43, 0.90, 0.99, "1.8740", NIST, "0.00005"),
    _row("nist", 6, 0.90, 0.99, "4.4111", NIST, "0.00005"),
)


@table(FACTORS)
def test_the_factor_is_the_published_one(check: Check) -> None:
    check.agrees(tolerance_factor(*check.inputs))


@pytest.mark.published(source=f"{NIST}: Natrella's approximation, 1.8752 at n = 43 and 5.2808 at n = 6")
def test_the_factor_is_not_the_well_known_approximation() -> None:
    assert 1.8752 - tolerance_factor(43, 0.90, 0.99) > 0.001
    assert 5.2808 / tolerance_factor(6, 0.90, 0.99) > 1.19


BOUNDS = (
    Check(
        "tolerance-bound-nist",
        inputs=(43, "97.07", "0.0268", 0.90, 0.99),
        expected="97.019745",  # with the approximate factor, 1.8752: the exact one gives 0.00003 more
        tolerance="0.00005",
        source=f"{NIST}, worked example",
    ),
)


@table(BOUNDS)
def test_the_bound_lies_k_deviations_below_the_mean(check: Check) -> None:
    n, mean, deviation, coverage, confidence = check.inputs
    middle, step = Fraction(mean), Fraction(deviation)
    half = (n - 1) // 2  # half above, half below, one between: the deviation of n values is the step itself
    values = (middle, *[middle + step] * half, *[middle - step] * half)
    assert sample_deviation(values) == pytest.approx(float(step))
    check.agrees(lower_bound(values, coverage, confidence))


UNCERTAINTIES = tuple(
    Check(f"gauge-uncertainty-{film}", inputs=film, expected=expected, source=E376)
    for film, expected in ((20, "2.5"), (25, "2.5"), (60, "6.0"), (100, "10.0"))
)


@table(UNCERTAINTIES)
def test_the_gauge_is_as_uncertain_as_the_standard_says(check: Check) -> None:
    check.agrees(gauge_uncertainty(Fraction(check.inputs), ()))


REMOVALS = (
    Check(
        "passes-medium",
        inputs=("12.5", 6, "2.5"),
        expected=5,
        source="a quarter of 50 µm, taken by medium passes of 2.5 µm: common practice, no source",
        status="common practice",
    ),
)


@table(REMOVALS)
def test_passes_are_the_whole_ones_that_fit(check: Check) -> None:
    margin, planned, removal = check.inputs
    check.agrees(passes_allowed(Fraction(margin), [("1", planned, Fraction(removal))])["1"])
