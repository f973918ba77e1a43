"""Plain words and aligned columns for screens of 80 columns."""

from collections.abc import Sequence


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
