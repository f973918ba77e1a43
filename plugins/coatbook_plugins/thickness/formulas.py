"""Statistics of film readings. Lengths are micrometers; shares such as coverage lie between 0 and 1.

scipy is imported where it is used, so that naming the calculators of an installation stays quick.
"""

import math
from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction
from statistics import NormalDist

READINGS_PER_SPOT = 3
FEWEST_SPOTS = 5

# ASTM E376: the uncertainty of a film reading is the greater of 10 % of it and 2.5 µm.
LEAST_UNCERTAINTY = Fraction("2.5")
RELATIVE_UNCERTAINTY = Fraction(1, 10)


def spot_means(readings: Iterable[tuple[str, Fraction]]) -> tuple[dict[str, Fraction], dict[str, Fraction]]:
    """The mean of each spot, and apart from them those of spots with fewer than three readings."""
    by_spot: dict[str, list[Fraction]] = {}
    for spot, film in readings:
        by_spot.setdefault(spot, []).append(film)
    means = {spot: sum(films, Fraction(0)) / len(films) for spot, films in by_spot.items()}
    short = {spot for spot, films in by_spot.items() if len(films) < READINGS_PER_SPOT}
    return (
        {spot: mean for spot, mean in means.items() if spot not in short},
        {spot: mean for spot, mean in means.items() if spot in short},
    )


def mean(values: Sequence[Fraction]) -> Fraction:
    """The arithmetic mean."""
    return sum(values, Fraction(0)) / len(values)


def sample_deviation(values: Sequence[Fraction]) -> float:
    """The standard deviation of a sample: squares are divided by one less than their number."""
    middle = mean(values)
    return math.sqrt(sum(((value - middle) ** 2 for value in values), Fraction(0)) / (len(values) - 1))


def tolerance_factor(n: int, coverage: float, confidence: float) -> float:
    """The exact factor k of a one-sided normal tolerance bound from n values.

    With `confidence`, at least the share `coverage` of the population lies above mean - k s. It is the quantile
    of the non-central t distribution with n - 1 degrees of freedom and non-centrality z sqrt(n), divided by
    sqrt(n) (NIST/SEMATECH e-Handbook, 7.2.6.3).
    """
    from scipy.special import nctdtrit

    root = math.sqrt(n)
    return float(nctdtrit(n - 1, NormalDist().inv_cdf(coverage) * root, confidence)) / root


def lower_bound(values: Sequence[Fraction], coverage: float, confidence: float) -> float:
    """The lower tolerance bound of spot means."""
    factor = tolerance_factor(len(values), coverage, confidence)
    return float(mean(values)) - factor * sample_deviation(values)


def gauge_uncertainty(film: Fraction, parts: Sequence[tuple[Fraction, str]]) -> Fraction:
    """The uncertainty of a reading of `film`.

    Shapes: `parts` are what the gauge's maker states, as (number, "µm" or "%"), which add up; with none the
    default of ASTM E376 holds.
    """
    film = max(film, Fraction(0))
    if not parts:
        return max(LEAST_UNCERTAINTY, RELATIVE_UNCERTAINTY * film)
    return sum((number * film / 100 if unit == "%" else number for number, unit in parts), Fraction(0))


def passes_allowed(margin: Fraction, steps: Iterable[tuple[str, int, Fraction]]) -> dict[str, int]:
    """How many of each step's planned passes the margin covers, taken in the order of the plan.

    Shapes: `steps` are (key, passes planned, micrometers one pass removes). Once a step falls short, the later
    ones get nothing: they would come after it.
    """
    allowed: dict[str, int] = {}
    left = margin
    for key, planned, removal in steps:
        covered = planned if left > 0 and removal * planned <= left else math.floor(left / removal) if left > 0 else 0
        allowed[key] = min(planned, covered)
        left = left - planned * removal if covered >= planned else Fraction(0)
    return allowed


def suspicious(spots: Mapping[str, Fraction], high: Fraction) -> tuple[str, ...]:
    """Spots that read more than `high`, or more than twice the middle one of all spots."""
    ordered = sorted(spots.values())
    middle = ordered[len(ordered) // 2] if ordered else Fraction(0)
    return tuple(spot for spot, film in spots.items() if film > high or film > 2 * middle)
