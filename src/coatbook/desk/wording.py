"""Sentences that stand on several documents: the usual cautions, and what keeps a coating's terms."""

import datetime as dt
from collections.abc import Sequence

from coatbook.stock.views import UpkeepTerm
from coatbook.upkeep.views import CoatingView

CAUTIONS = (
    "Makers' data sheets, local codes and licensed mechanics take precedence over anything said here.",
    "Before flight, see for yourself: static ports, pitot, vents, drains and fuel caps clear, every mask off.",
    "Paint, polish or coating on a balanced control surface is a question for a licensed mechanic.",
    "This invoice is no maintenance record and no statement of airworthiness.",
)

_MISS = {
    "ends": "the coating's terms end",
    "shortens": "the coating's terms are shortened",
    "warns": "the coating may wear sooner",
}


def keeping_sentences(coatings: Sequence[CoatingView], locale: str) -> tuple[str, ...]:
    """What keeps the terms of some coatings: a sentence for each product laid on a day, then one for each item."""
    from coatbook.paper.words import long_date  # Babel is slow to import

    alike: dict[tuple[str, dt.date, tuple[UpkeepTerm, ...]], list[str]] = {}
    for coating in coatings:
        if coating.terms:
            alike.setdefault((coating.product_name, coating.applied, coating.terms), []).append(coating.surface)
    told = []
    for (product, applied, terms), surfaces in alike.items():
        laid = f"laid on {long_date(applied, locale)} on {', '.join(surfaces)}"
        told.append(f"{product}, {laid}, asks for this upkeep, counted from that day:")
        told += [_item(term) for term in terms]
    if told:
        told.append("Anyone may do it; keep a note of the day and of who did it.")
    return tuple(told)


def _item(term: UpkeepTerm) -> str:
    often = f"every {term.per}" if term.every == 1 else f"every {term.every} {term.per}s"
    grace = f", with {term.grace} days of grace" if term.grace else ""
    return f"{term.item.capitalize()} {often}{grace}; if it is missed, {_MISS[term.miss]}."


def consequence(miss: str) -> str:
    """What a missed item does, as a clause."""
    return _MISS[miss]
