"""The typeface of the paper: where its two weights are, how wide text is in them, and which characters they lack."""

from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from functools import cache
from importlib.resources import as_file, files
from pathlib import Path
from typing import Any

from coatbook.values import Refusal
from coatbook.values.frozen import plain

FACES = {False: "DejaVuSans.ttf", True: "DejaVuSans-Bold.ttf"}
"""The file of each weight, by whether it is bold."""

_NEVER_DRAWN = {"\n"}


@contextmanager
def face_files() -> Iterator[dict[bool, Path]]:
    """The font files, by whether they are bold, as paths that stand while the block runs."""
    folder = files("coatbook.paper") / "fonts"
    with ExitStack() as stack:
        yield {bold: stack.enter_context(as_file(folder / name)) for bold, name in FACES.items()}


@cache
def _widths(bold: bool) -> dict[str, float]:
    """The width of every character of a weight, in em."""
    from fontTools.ttLib import TTFont  # type: ignore[import-untyped]

    with face_files() as paths, TTFont(paths[bold]) as face:
        em = face["head"].unitsPerEm
        advances = face["hmtx"].metrics
        return {chr(code): advances[glyph][0] / em for code, glyph in face.getBestCmap().items()}


def text_width(text: str, size: float, bold: bool = False) -> float:
    """How wide `text` stands at `size`, in the unit of `size`."""
    widths = _widths(bold)
    return size * sum(widths.get(character, 0.6) for character in text)


def missing_glyphs(text: str) -> set[str]:
    """The characters of `text` that either weight cannot print; a line break is none."""
    return {
        character
        for character in set(text) - _NEVER_DRAWN
        if character not in _widths(False) or character not in _widths(True)
    }


def check_glyphs(record: object) -> None:
    """See that every text in a frozen record (or in a tuple of texts) can be printed.

    Raises:
        Refusal: a character is missing; the sentence names the first in reading order and the text it stands in.
    """
    for text in _texts(plain(record)):
        missing = missing_glyphs(text)
        if missing:
            first = min(missing, key=text.index)
            raise Refusal(
                f'the character "{first}" (U+{ord(first):04X}) in "{text}" cannot be printed on paper: '
                "write it in Latin, Greek or Cyrillic letters, then try again"
            )


def _texts(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for item in value.values():
            yield from _texts(item)
    elif isinstance(value, list):
        for item in value:
            yield from _texts(item)
