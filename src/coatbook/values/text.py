"""Text as people type it, made safe to keep, to print and to send."""

import re
import unicodedata

from coatbook.values.refusal import Misuse

LONGEST_LINE = 200
LONGEST_NOTE = 4000

_BIDI = {"\u061c", "\u200e", "\u200f", *map(chr, range(0x202A, 0x202F)), *map(chr, range(0x2066, 0x206A))}
_CODE = re.compile(r"[a-z0-9][a-z0-9-]{0,39}")


def _unsafe(character: str) -> bool:
    return unicodedata.category(character) in {"Cc", "Cs", "Zl", "Zp"} or character in _BIDI


def line(text: str, what: str, longest: int = LONGEST_LINE) -> str:
    """One line of text in Unicode NFC, trimmed.

    Raises:
        Misuse: empty, longer than `longest` characters, or holding control or direction-changing characters.
    """
    kept = unicodedata.normalize("NFC", text).strip()
    if not kept:
        raise Misuse(f"the {what} is empty: give at least one character")
    if len(kept) > longest:
        raise Misuse(f"the {what} has {len(kept)} characters: {longest} at most")
    for character in "" if kept.isascii() and kept.isprintable() else kept:
        if _unsafe(character):
            raise Misuse(f"the {what} holds the control character U+{ord(character):04X}: type it again without it")
    return kept


def note(text: str, what: str) -> str:
    """Text of several lines: each line as in `line`, line breaks kept."""
    lines = [part.rstrip() for part in unicodedata.normalize("NFC", text).replace("\r\n", "\n").split("\n")]
    kept = "\n".join(lines).strip()
    line(kept.replace("\n", " ").replace("\t", " "), what, LONGEST_NOTE)
    return kept.replace("\t", " ")


def code(text: str, what: str) -> str:
    """A short name for a thing in the book: lower-case letters, digits and hyphens, 40 at most."""
    kept = line(text, what).lower()
    if not _CODE.fullmatch(kept):
        raise Misuse(f"the {what} {kept!r} is not a code: use lower-case letters, digits and hyphens, 40 at most")
    return kept


def shown(text: str) -> str:
    """Text made safe for a terminal: control and direction-changing characters are left out, line breaks kept."""
    return "".join(character for character in text if character == "\n" or not _unsafe(character))


def harmless(text: str) -> str:
    """Text for a cell of a CSV file: what a spreadsheet would run as a formula gets a leading apostrophe."""
    return f"'{text}" if text.startswith(("=", "+", "-", "@", "\t", "\r", "\0")) else text


def one_of(text: str, allowed: tuple[str, ...], what: str) -> str:
    """`text` if it is among `allowed`, else a Misuse that lists them."""
    kept = text.strip().lower()
    if kept not in allowed:
        raise Misuse(f"the {what} {shown(text)!r} is not known: use one of {', '.join(allowed)}")
    return kept
