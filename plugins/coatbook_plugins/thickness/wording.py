"""The cautions that stand beside every film verdict, and the sources of its formulas."""

from collections.abc import Mapping, Sequence
from fractions import Fraction

from coatbook_plugins.thickness.records import PRACTICE, PRIMER, Inputs

SOURCES = (
    "one-sided tolerance bound, exact factor: NIST/SEMATECH e-Handbook of Statistical Methods, 7.2.6.3",
    "spots of at least three readings: SSPC-PA 2",
    "gauge uncertainty, the greater of 10 % and 2.5 µm: ASTM E376",
    "eddy current and magnetic gauges on metal: ASTM D7091; ultrasound on other substrates: ASTM D6132",
    f"primer allowance and color that must stay, where none is given: {PRACTICE}",
)

ALWAYS = (
    "rivet heads, laps and edges are never cleared: tape them, work them by hand only",
    "the paint maker's sheet and a licensed mechanic come before this answer",
)


def cautions(inputs: Inputs, short: Mapping[str, Fraction], high: Sequence[str]) -> tuple[str, ...]:
    """What has to be kept in mind on this surface."""
    name = inputs.surface
    found = list(ALWAYS)
    if inputs.balanced == "yes":
        found.append(f"{name} is a balanced control surface: a licensed mechanic checks its balance after work")
    elif inputs.balanced != "no":
        found.append(f"answer first whether {name} is a balanced control surface: its balance may change")
    if high:
        found.append(f"filler, repair or repaint suspected at spot {', '.join(high)} of {name}: stop and ask")
    if short:
        found.append(f"spot {', '.join(short)} of {name} has fewer than three readings and does not count as a spot")
    if inputs.primer is None:
        found.append(f"{PRIMER} of primer are assumed on {name}: {PRACTICE}")
    if inputs.mesh:
        found.append(f"metal mesh below the paint of {name} can fool an eddy-current gauge")
    if inputs.substrate.casefold() == "steel":
        found.append(f"{name} is steel: the gauge must read by the magnetic principle (ASTM D7091)")
    return tuple(found)
