"""Plain words and aligned columns for screens of 80 columns."""

import textwrap
from collections.abc import Sequence
from decimal import Decimal


def a(noun: str) -> str:
    """ "a mass", "an area"."""
    return f"{'an' if noun[:1].lower() in 'aeiou' else 'a'} {noun}"


def count(number: int, noun: str) -> str:
    """ "1 coating", "2 coatings"."""
    return f"{number} {noun}{'' if number == 1 else 's'}"


def percent(fraction: Decimal) -> str:
    """A fraction in per cent with as many decimals as it has: 0.0825 is 8.25 %."""
    text = f"{fraction * 100:f}"
    return f"{text.rstrip('0').rstrip('.') if '.' in text else text} %"


def wrapped(text: str, width: int) -> str:
    """Sentences broken at `width` columns; lines set in columns (two spaces in a row) stay as they are."""
    lines = (
        textwrap.fill(line, width, break_long_words=False, break_on_hyphens=False) if "  " not in line else line
        for line in text.split("\n")
    )
    return "\n".join(lines)


def table(headings: Sequence[str], rows: Sequence[Sequence[str]], right: Sequence[int] = ()) -> str:
    """Aligned columns under headings, two spaces apart; `right` names the columns of figures."""
    whole = [list(headings), *[list(row) for row in rows]]
    widths = [max(len(row[place]) for row in whole) for place in range(len(headings))]
    lines = []
    for row in whole:
        cells = [
            cell.rjust(width) if place in right else cell.ljust(width)
            for place, (cell, width) in enumerate(zip(row, widths, strict=True))
        ]
        lines.append("  ".join(cells).rstrip())
    return "\n".join(lines)
