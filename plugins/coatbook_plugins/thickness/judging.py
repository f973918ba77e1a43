"""From film readings to figures and one verdict: go, care, stop or unknown."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from coatbook.calculators import Figure, Level, NotEnough, Result, Verdict
from coatbook.values import Misuse, Quantity, words
from coatbook.values.quantity import plain
from coatbook_plugins.thickness.formulas import (
    FEWEST_SPOTS,
    READINGS_PER_SPOT,
    gauge_uncertainty,
    lower_bound,
    mean,
    passes_allowed,
    sample_deviation,
    spot_means,
    suspicious,
    tolerance_factor,
)
from coatbook_plugins.thickness.records import PRIMER, FilmReading, Inputs
from coatbook_plugins.thickness.wording import SOURCES, cautions

METALS = ("aluminum", "magnesium", "steel", "stainless")
TENTH = "half up to 0.1"


@dataclass(frozen=True, slots=True)
class Film:
    """What the readings say. Lengths are exact micrometers; `bound` and what follows from it need five spots.

    `spots` and `short_spots` are means, `lowest` is the lowest single reading of each.
    """

    spots: dict[str, Fraction]
    short_spots: dict[str, Fraction]
    lowest: dict[str, Fraction]
    readings: int
    bound: Fraction | None
    uncertainty: Fraction | None
    margin: Fraction | None

    @property
    def all_spots(self) -> dict[str, Fraction]:
        return {**self.spots, **self.short_spots}


@dataclass(frozen=True, slots=True)
class Plan:
    """What is to be taken off. `removal` is None where a step's is not known."""

    removal: Fraction | None
    allowed: dict[str, int]
    planned: dict[str, int]


def judge(inputs: Inputs) -> Result:
    """Figures, verdict and cautions for one surface."""
    readings = [one for one in inputs.readings if one.surface in ("", inputs.surface)]
    refused = _cannot_be_read(inputs) if readings else ""
    film = _film(inputs, readings) if readings and not refused else None
    plan = _plan(inputs, film)
    level, reason = _verdict(inputs, refused, film, plan)
    gates = tuple(step.step for step in inputs.steps)
    return Result(
        figures=_figures(inputs, film, plan) if film else (),
        verdicts=(Verdict(inputs.surface, level, reason, gates),),
        cautions=cautions(inputs, film.short_spots if film else {}, _high(inputs, film)),
        sources=SOURCES,
    )


def _cannot_be_read(inputs: Inputs) -> str:
    """Why a gauge of this kind says nothing about this substrate, or nothing."""
    name, substrate = inputs.surface, inputs.substrate.casefold()
    if substrate in METALS or inputs.gauge.casefold().startswith("ultras"):
        return ""
    if substrate in ("", "unknown"):
        return f"the substrate of {name} is not known: find out what gauge reads on it"
    return (
        f"{name} is {substrate}, on which {inputs.gauge} reads nothing to rely on: read it with ultrasound (ASTM D6132)"
    )


def _film(inputs: Inputs, readings: Sequence[FilmReading]) -> Film:
    read = [(one.spot, one.film.value("µm")) for one in readings]
    spots, short = spot_means(read)
    lowest = {spot: min(film for other, film in read if other == spot) for spot, _ in read}
    if len(spots) < FEWEST_SPOTS:
        return Film(spots, short, lowest, len(readings), None, None, None)
    bound = _tenth(lower_bound(tuple(spots.values()), _share(inputs.coverage), _share(inputs.confidence)))
    uncertainty = gauge_uncertainty(bound, _parts(inputs))
    margin = bound - uncertainty - _reserved(inputs)
    return Film(spots, short, lowest, len(readings), bound, uncertainty, margin)


def _reserved(inputs: Inputs) -> Fraction:
    """What is not there to be polished: primer, and the color that must stay."""
    return (inputs.primer or PRIMER).value("µm") + inputs.must_stay.value("µm")


def _parts(inputs: Inputs) -> list[tuple[Fraction, str]]:
    parts = []
    for part in inputs.accuracy:
        if part.dimension not in ("length", "ratio"):
            raise Misuse(f"the accuracy {part} must be a film in µm or a share in %: correct it")
        unit = "%" if part.dimension == "ratio" else "µm"
        parts.append((part.value(unit), unit))
    return parts


def _plan(inputs: Inputs, film: Film | None) -> Plan:
    planned = {step.step: step.passes for step in inputs.steps}
    if len(planned) < len(inputs.steps):
        raise NotEnough(f"two abrasive steps on {inputs.surface} have one key: give each its own")
    if any(step.removal is None and step.passes for step in inputs.steps):
        return Plan(None, {}, planned)
    steps = [
        (step.step, step.passes, step.removal.value("µm") if step.removal else Fraction(0)) for step in inputs.steps
    ]
    removal = sum((passes * each for _, passes, each in steps), Fraction(0))
    if film is None or film.margin is None or not inputs.layers_known:
        return Plan(removal, {}, planned)
    return Plan(removal, passes_allowed(film.margin, steps), planned)


def _verdict(inputs: Inputs, refused: str, film: Film | None, plan: Plan) -> tuple[Level, str]:
    """The first of these that holds, the gravest first."""
    name = inputs.surface
    if refused:
        return "unknown", refused
    if film is None:
        return "unknown", f"no film was read on {name}: read five spots or more, three readings each"
    if film.margin is None:
        return "unknown", _too_few(name, film)
    if _high(inputs, film):
        return "unknown", f"{name} reads high: filler, repair or repaint suspected: stop and ask"
    if film.margin <= 0:
        return ("stop" if inputs.steps else "care"), (
            f"{name} has no film to spare, its margin is {_told(film.margin)}: clean and coat only"
        )
    if not inputs.layers_known:
        return "unknown", f"it is not known what the film of {name} is made of: the test spot decides"
    if plan.removal is None:
        return "unknown", f"it is not known how much a pass takes off {name}: plan its removal"
    return _with_margin(inputs, film, plan, film.margin, plan.removal)


def _with_margin(inputs: Inputs, film: Film, plan: Plan, margin: Fraction, removal: Fraction) -> tuple[Level, str]:
    name, has = inputs.surface, f"a margin of {_told(margin)}"
    allowed, planned = sum(plan.allowed.values()), sum(plan.planned.values())
    if not planned:
        return "go", f"{name} has {has}, and nothing abrasive is planned on it"
    if allowed == 0:
        return "stop", f"{name} has {has}, less than the first planned pass takes: clean and coat only"
    if allowed < planned:
        each = ", ".join(f"step {key}: {count}" for key, count in plan.allowed.items())
        return "care", f"{name} has {has}, enough for {allowed} of {planned} planned passes ({each})"
    thin = _thin_spots(inputs, film, removal)
    if thin:
        return "care", (
            f"{name} has {has} for the {_told(removal)} planned, but spot {', '.join(thin)} has less: "
            "leave it to hand work"
        )
    return "go", f"{name} has {has} for the {_told(removal)} planned"


def _thin_spots(inputs: Inputs, film: Film, removal: Fraction) -> list[str]:
    """Spots that have no room for the planned removal of their own: the bound is for most of the skin, not all.

    A spot is thin by its mean, or by one single reading that has nothing above what is reserved.
    """
    parts, reserved = _parts(inputs), _reserved(inputs)
    return [
        spot
        for spot, read in film.all_spots.items()
        if read - gauge_uncertainty(read, parts) - reserved < removal or film.lowest[spot] <= reserved
    ]


def _too_few(name: str, film: Film) -> str:
    lowest = _told(min(film.all_spots.values()))
    return (
        f"{name} has {words.count(len(film.spots), 'spot')} of {READINGS_PER_SPOT} readings or more, the lowest spot "
        f"at {lowest}: too few spots: hand work or more readings"
    )


def _high(inputs: Inputs, film: Film | None) -> tuple[str, ...]:
    return suspicious(film.all_spots, inputs.high.value("µm")) if film else ()


def _figures(inputs: Inputs, film: Film, plan: Plan) -> tuple[Figure, ...]:
    of, figures = inputs.surface, []

    def length(name: str, value: Fraction) -> None:
        figures.append(Figure(name, _decimal(value), "µm", of, rounding=TENTH))

    def count(name: str, value: int) -> None:
        figures.append(Figure(name, Decimal(value), "each", of))

    count("spots", len(film.spots))
    count("readings", film.readings)
    for spot, read in film.all_spots.items():
        length(f"spot {spot}", read)
    length("lowest spot", min(film.all_spots.values()))
    if film.bound is None or film.uncertainty is None or film.margin is None:
        return tuple(figures)
    values = tuple(film.spots.values())
    length("mean of spots", mean(values))
    length("standard deviation", _tenth(sample_deviation(values)))
    factor = tolerance_factor(len(values), _share(inputs.coverage), _share(inputs.confidence))
    figures.append(
        Figure("tolerance factor", Quantity.nearest(factor, "each").decimal(), "1", of, rounding="half up to 0.001")
    )
    length("lower bound", film.bound)
    length("gauge uncertainty", film.uncertainty)
    length("primer", (inputs.primer or PRIMER).value("µm"))
    length("film that must stay", inputs.must_stay.value("µm"))
    length("margin", film.margin)
    if plan.removal is not None:
        length("planned removal", plan.removal)
        length("residual film", film.bound - plan.removal)
    for key, passes in plan.allowed.items():
        count(f"passes of step {key}", passes)
    return tuple(figures)


def _share(percent: Quantity) -> float:
    return percent.as_float("%") / 100


def _tenth(value: float) -> Fraction:
    """A computed length brought back from binary arithmetic: half up to a tenth of a micrometer."""
    return Quantity.nearest(value, "µm", 1).value()


def _decimal(value: Fraction) -> Decimal:
    return Quantity.nearest(value, "µm", 1).decimal(places=1)


def _told(value: Fraction) -> str:
    return f"{plain(_decimal(value))} µm"
