"""Words that stand on several screens and documents: the usual cautions, what keeps a coating's terms, charges."""

import datetime as dt
from collections.abc import Sequence

from coatbook.billing.record import Line
from coatbook.stock.views import UpkeepTerm
from coatbook.upkeep.views import CoatingView
from coatbook.values.quantity import plain

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


def itself(of: str, reason: str) -> str:
    """A reason that stands beside the name it is about: "left wing has a margin" becomes "it has a margin"."""
    name = f"{of} "
    return f"it {reason[len(name) :]}" if of and reason.casefold().startswith(name.casefold()) else reason


def counted(line: Line) -> tuple[str, str]:
    """How much of what a line charges, and at what price; pieces stand as bare numbers."""
    if line.quantity.unit != "each":
        return str(line.quantity), str(line.price)
    number = plain(line.quantity.decimal())
    return number, str(line.price.money) if number == "1" else f"{line.price.money} each"


def charged(line: Line) -> str:
    """A line of a document in words: "Wash, 240.00", "Prep polish, 454 ft2 at 3.10 per ft2: 1407.40"."""
    quantity, price = counted(line)
    return f"{line.text}, {line.net}" if quantity == "1" else f"{line.text}, {quantity} at {price}: {line.net}"
