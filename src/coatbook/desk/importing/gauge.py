"""A film gauge's own file as readings: its spots come in as rows of the table of readings would."""

import dataclasses
from pathlib import Path

from coatbook.desk.importing.csv_file import open_file
from coatbook.jobs import diary
from coatbook.jobs.gauge_file import Spot, read_gauge_file
from coatbook.store.acts import Ask, OpenAct, Told
from coatbook.store.book import Book
from coatbook.store.imports import Importing, NothingNew, Reasons, row_hash
from coatbook.values import Refusal

LARGEST = 5_000_000
PER_SPOT = 3


def read_spots(path: Path, per_spot: int | None, unit: str | None) -> tuple[str, tuple[Spot, ...]]:
    """The file's name and its spots.

    Raises:
        Refusal: with every bad row, its line and reason.
    """
    file, name = open_file(path)
    with file:
        content = file.read(LARGEST + 1)
    if len(content) > LARGEST:
        raise Refusal(f"{name} is larger than {LARGEST // 1_000_000} MB: no gauge's file is, split it if it is one")
    if b"\0" in content:
        raise Refusal(f"{name} holds NUL characters: export it again as plain CSV in UTF-8")
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise Refusal(f"{name} is not UTF-8 text: export it again as plain CSV in UTF-8") from None
    return name, read_gauge_file(name, text, PER_SPOT if per_spot is None else per_spot, unit)


def import_gauge_file(
    book: Book, ask: Ask, *, name: str, spots: tuple[Spot, ...], job: int, gauge: str, serial: str
) -> Told[int]:
    """Bring a gauge's spots into a job; how many were new."""

    def bring_in(act: OpenAct, /, *, file: str, spots: tuple[Spot, ...], job: int, gauge: str, serial: str) -> int:
        reasons = Reasons()
        bringing = Importing(act, "readings", file, reasons, again=again)
        new = [spot for spot in spots if bringing.take(_spot_hash(spot, job, gauge, serial))]
        if not new:
            raise NothingNew(bringing.tell()[0])
        diary.log_film(act, job=job, spots=new, gauge=gauge, serial=serial)
        act.sentences[:0] = bringing.tell()
        return len(new)

    again, ask = ask.again, dataclasses.replace(ask, command="import readings", again=True)
    try:
        return book.do(ask, bring_in, file=name, spots=spots, job=job, gauge=gauge, serial=serial)
    except NothingNew as nothing:
        return Told(nothing.told, 0)


def _spot_hash(spot: Spot, job: int, gauge: str, serial: str) -> str:
    """As a row of readings has it that says the same."""
    values = {"job": job, "surface": spot.surface, "spot": spot.name, "film": spot.values}
    return row_hash(values | {"gauge": gauge, "serial": serial})
