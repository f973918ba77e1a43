"""The plain CSV a film gauge exports: values in one column, batches by name, as spots of surfaces.

A heading row names the columns, in any order: `batch` (the surface), `value` (or `film`, `thickness`), and, where
the gauge gives them, `unit` and `spot`. Without a spot column, each `per_spot` readings of a batch in a row are one.
"""

import csv
import io
import itertools
from dataclasses import dataclass

from coatbook.values import Misuse, Quantity, Refusal
from coatbook.values.checks import whole
from coatbook.values.quantity import unit_named

_NAMES = {
    "surface": ("batch", "surface"),
    "value": ("value", "film", "thickness", "reading value"),
    "unit": ("unit", "units"),
    "spot": ("spot", "location"),
}
MOST_ROWS = 20_000
MOST_TOLD = 20


@dataclass(frozen=True, slots=True)
class Spot:
    """One place on a surface, read several times."""

    surface: str
    name: str
    values: tuple[Quantity, ...]


def read_gauge_file(name: str, text: str, per_spot: int, unit: str | None) -> tuple[Spot, ...]:
    """The spots in a gauge's file.

    Raises:
        Refusal: with every bad row, its line and reason; nothing is read in part.
    """
    whole(per_spot, 1, 100, "number of readings a spot")
    unit = None if unit is None else unit_named(unit).name
    rows = csv.DictReader(io.StringIO(text.removeprefix("\ufeff"), newline=""), skipinitialspace=True)
    try:
        return _read(name, rows, per_spot, unit)
    except csv.Error as problem:
        where = f"{name} line {rows.reader.line_num}"
        raise Refusal(f"{where} is not CSV ({problem}): export it again as plain CSV") from None


def _read(name: str, rows: "csv.DictReader[str]", per_spot: int, unit: str | None) -> tuple[Spot, ...]:
    columns = _columns(name, rows.fieldnames)
    problems: list[str] = []
    readings = []
    for row in itertools.islice(rows, MOST_ROWS):
        try:
            readings.append(_reading(row, columns, unit))
        except (Refusal, ValueError) as problem:
            problems.append(f"{name} line {rows.line_num}: {problem}")
    if next(rows, None) is not None:
        problems.append(f"{name} has more than {MOST_ROWS} rows: split it")
    if problems:
        more = [f"and {len(problems) - MOST_TOLD} more"] if len(problems) > MOST_TOLD else []
        raise Refusal("\n".join(problems[:MOST_TOLD] + more))
    return _spots(name, readings, "spot" in columns, per_spot)


def _columns(name: str, headings: object) -> dict[str, str]:
    given = {str(heading).strip().lower(): str(heading) for heading in headings or () if heading}  # type: ignore[attr-defined]
    found = {
        wanted: given[spelling]
        for wanted, spellings in _NAMES.items()
        for spelling in reversed(spellings)
        if spelling in given
    }
    missing = [wanted for wanted in ("surface", "value") if wanted not in found]
    if missing:
        spelled = " and ".join(" or ".join(_NAMES[wanted]) for wanted in missing)
        raise Refusal(f"{name} has no column {spelled} in its first row: name the columns there")
    return found


def _reading(row: dict[str, str | None], columns: dict[str, str], unit: str | None) -> tuple[str, str, Quantity]:
    cell = {wanted: (row.get(heading) or "").strip() for wanted, heading in columns.items()}
    if not cell["surface"]:
        raise Misuse("the batch is empty: it names the surface")
    own_unit = cell.get("unit") or unit
    if not own_unit and cell["value"].replace(".", "", 1).isdigit():
        raise Misuse("the file gives no unit: add --unit, such as --unit µm")
    value = Quantity.parse(f"{cell['value']} {own_unit}" if own_unit else cell["value"], "film reading", "112 µm")
    return cell["surface"].lower(), cell.get("spot", ""), value


def _spots(name: str, readings: list[tuple[str, str, Quantity]], named: bool, per_spot: int) -> tuple[Spot, ...]:
    spots = []
    for surface in dict.fromkeys(surface for surface, _, _ in readings):
        own = [(spot, value) for of, spot, value in readings if of == surface]
        if named:
            for spot in dict.fromkeys(spot for spot, _ in own):
                spots.append(Spot(surface, spot, tuple(value for at, value in own if at == spot)))
            continue
        if len(own) % per_spot:
            raise Refusal(
                f"{name}: {surface} has {len(own)} readings, which is no multiple of {per_spot} a spot: "
                "give --per-spot, or a spot column"
            )
        for number, start in enumerate(range(0, len(own), per_spot), start=1):
            values = tuple(value for _, value in own[start : start + per_spot])
            spots.append(Spot(surface, str(number), values))
    return tuple(spots)
