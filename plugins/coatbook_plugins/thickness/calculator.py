"""The thickness calculator, and how its inputs are gathered from a job sheet, one for each surface."""

from coatbook.calculators import Calculator, Gauge, Reading, Sheet, Step
from coatbook.values import Quantity
from coatbook_plugins.thickness.judging import judge
from coatbook_plugins.thickness.records import FilmReading, Inputs, Polish

BEFORE_WORK = ("", "before")
WHOLE_AIRCRAFT = "whole aircraft"


def gather(sheet: Sheet) -> tuple[Inputs, ...]:
    """One input for each surface that was read or is to be worked with an abrasive.

    An abrasive step without a surface is on all surfaces. A surface without readings gives an input as well: its
    verdict is unknown.
    """
    recorded = [surface.name for surface in sheet.aircraft.surfaces] if sheet.aircraft else []
    readings = [one for one in sheet.readings if one.kind == "film" and one.stage in BEFORE_WORK]
    abrasive = _abrasive(sheet)
    read = [one.surface for one in readings]
    everywhere = [*recorded, *read] or [WHOLE_AIRCRAFT]
    worked = [name for step in abrasive for name in ([step.surface] if step.surface else everywhere)]
    order = dict.fromkeys([*recorded, *worked, *read])
    return tuple(_inputs(sheet, name, readings, abrasive) for name in order if name in {*worked, *read})


def _abrasive(sheet: Sheet) -> list[Step]:
    """The abrasive steps, each once: a step with several materials stands on the sheet several times."""
    steps: dict[str, Step] = {}
    for step in sheet.steps:
        if step.abrasive:
            steps.setdefault(step.key, step)
    return list(steps.values())


def _inputs(sheet: Sheet, name: str, readings: list[Reading], abrasive: list[Step]) -> Inputs:
    surface = sheet.surface(name)
    here = [one for one in readings if one.surface == name]
    gauges = list(dict.fromkeys(one.gauge for one in here))
    return Inputs(
        surface=name,
        substrate=surface.substrate if surface else "unknown",
        readings=tuple(FilmReading(one.spot, one.value, name) for one in here),
        steps=tuple(Polish(step.key, step.removal, step.passes) for step in abrasive if step.surface in (None, name)),
        layers_known=surface.layers_known if surface else False,
        gauge=_kind(gauges),
        accuracy=_accuracy(gauges),
        primer=surface.primer if surface else None,
        balanced=surface.balanced if surface else "unknown",
        mesh=surface.mesh if surface else False,
    )


def _kind(gauges: list[Gauge | None]) -> str:
    """The gauges' kind; of several kinds one that is not ultrasound, which asks most of the substrate."""
    kinds = [gauge.kind if gauge and gauge.kind else "a gauge of unknown kind" for gauge in gauges]
    others = [kind for kind in kinds if not kind.casefold().startswith("ultras")]
    return (others or kinds or ["no gauge"])[0]


def _accuracy(gauges: list[Gauge | None]) -> tuple[Quantity, ...]:
    """What the gauge's maker states, if one gauge read it all; otherwise nothing, and the default holds."""
    only = gauges[0] if len(gauges) == 1 else None
    return only.accuracy if only else ()


CALCULATOR = Calculator(
    name="thickness",
    version="2",
    summary="whether a surface has film enough for the polishing planned on it",
    reads=("steps", "aircraft", "readings"),
    inputs=Inputs,
    gather=gather,
    compute=judge,
)
