"""Sentences that stand on several documents: the usual cautions, and what keeps a coating's terms."""

from collections.abc import Sequence

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


def keeping_sentences(coatings: Sequence[CoatingView]) -> tuple[str, ...]:
    """What keeps the terms of some coatings: one sentence for each item of each product, surfaces together."""
    sentences: dict[str, list[str]] = {}
    for coating in coatings:
        for term in coating.terms:
            often = f"every {term.per}" if term.every == 1 else f"every {term.every} {term.per}s"
            grace = f", with {term.grace} days of grace" if term.grace else ""
            said = f"{term.item} {often} from {coating.applied}{grace}; if it is missed, {_MISS[term.miss]}"
            sentences.setdefault(f"{coating.product_name} asks for {said}", []).append(coating.surface)
    told = [f"{said} ({', '.join(surfaces)})." for said, surfaces in sentences.items()]
    if told:
        told.append("Anyone may do this upkeep; keep a note of the day and of who did it.")
    return tuple(told)


def consequence(miss: str) -> str:
    """What a missed item does, as a clause."""
    return _MISS[miss]
