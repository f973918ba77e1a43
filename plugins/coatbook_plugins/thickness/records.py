"""What the thickness calculator is asked: one surface, its film readings, and the abrasive steps planned on it."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Annotated

from coatbook.calculators import Field
from coatbook.values import Quantity

PRACTICE = "common practice, no source"
PRIMER = Quantity.of(25, "µm")
MUST_STAY = Quantity.of("2.5", "µm")
HIGH = Quantity.of(180, "µm")
COVERAGE = Quantity.of(90, "%")
CONFIDENCE = Quantity.of(95, "%")


@dataclass(frozen=True, slots=True)
class FilmReading:
    """One reading. Rows of one file may name several surfaces; those of others are passed over."""

    spot: Annotated[str, Field("the spot it was taken at")]
    film: Annotated[Quantity, Field("the film read", unit="µm", low=Decimal(0), high=Decimal(5000))]
    surface: Annotated[str, Field("the surface, if the file holds several")] = ""


@dataclass(frozen=True, slots=True)
class Polish:
    """One abrasive step planned on the surface, in the order of the plan."""

    step: Annotated[str, Field("the step's key")]
    removal: Annotated[Quantity | None, Field("film one pass takes", unit="µm", low=Decimal(0), high=Decimal(200))] = (
        None
    )
    passes: Annotated[int, Field("passes planned", low=Decimal(0), high=Decimal(50))] = 1


@dataclass(frozen=True, slots=True)
class Inputs:
    """One surface, what was read on it, and what is to be taken off it."""

    surface: Annotated[str, Field("name of the surface")]
    substrate: Annotated[str, Field("aluminum, magnesium, steel, stainless, composite, fabric or acrylic")]
    readings: Annotated[tuple[FilmReading, ...], Field("film readings before the work")] = ()
    steps: Annotated[tuple[Polish, ...], Field("abrasive steps planned, in order")] = ()
    layers_known: Annotated[bool, Field("whether it is known what the film is made of")] = False
    gauge: Annotated[str, Field("kind of gauge: eddy current, magnetic or ultrasound")] = "eddy current"
    accuracy: Annotated[
        tuple[Quantity, ...],
        Field(
            'accuracy its maker states, part by part: "1 µm" and "1 %" add up',
            source="without it the greater of 10 % and 2.5 µm, ASTM E376",
        ),
    ] = ()
    primer: Annotated[
        Quantity | None,
        Field(
            "film of the primer below the color",
            unit="µm", low=Decimal(0), high=Decimal(500),
            source=f"without it {PRIMER}, {PRACTICE}",
        ),
    ] = None  # fmt: skip
    must_stay: Annotated[
        Quantity,
        Field("color that must stay", unit="µm", low=Decimal(0), high=Decimal(500), source=PRACTICE),
    ] = MUST_STAY
    balanced: Annotated[str, Field("whether it is a balanced control surface: yes, no or unknown")] = "unknown"
    mesh: Annotated[bool, Field("whether metal mesh lies below the paint")] = False
    coverage: Annotated[
        Quantity, Field("share of the skin the bound is for", unit="%", low=Decimal(50), high=Decimal("99.9"))
    ] = COVERAGE
    confidence: Annotated[
        Quantity, Field("confidence of the bound", unit="%", low=Decimal(50), high=Decimal("99.9"))
    ] = CONFIDENCE
    high: Annotated[
        Quantity,
        Field(
            "reading from which filler, repair or repaint is suspected",
            unit="µm", low=Decimal(0), high=Decimal(5000),
            source="a little above the thickest build of a USAF coating technical order, 0.007 in",
        ),
    ] = HIGH  # fmt: skip
