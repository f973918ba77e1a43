"""Writing upkeep done, and saying what it means for the terms of the coatings: in time, too early, or too late."""

import datetime as dt

from coatbook.aircraft.views import find_airframe
from coatbook.calculators.host import Host
from coatbook.desk.reminding import CoatingUpkeep, standings
from coatbook.desk.wording import consequence
from coatbook.store.acts import Ask, OpenAct, Told
from coatbook.store.book import Book
from coatbook.upkeep import actions
from coatbook.values import Refusal


def write_done(
    book: Book, ask: Ask, host: Host, *, aircraft: str, item: str, by: str, evidence: str | None = None
) -> Told[None]:
    """Write upkeep done on an aircraft's coatings, by anyone, with a sentence on what it means for their terms."""
    meaning = _meaning(book, aircraft, item.strip().lower(), ask.on or book.today(), host)

    def act_and_tell(act: OpenAct, /, *, aircraft: str, item: str, by: str, evidence: str | None = None) -> None:
        actions.write_done(act, aircraft=aircraft, item=item, by=by, evidence=evidence)
        for sentence in meaning:
            act.tell(sentence)

    return book.do(ask, act_and_tell, aircraft=aircraft, item=item, by=by, evidence=evidence)


def _meaning(book: Book, aircraft: str, item: str, on: dt.date, host: Host) -> tuple[str, ...]:
    """What an item done on a day means for each coating, those alike told together; the action refuses for itself."""
    try:
        with book.read() as session:
            airframe = find_airframe(session, aircraft, on, book.today()).id
        found = standings(book, airframe, on, host)
    except Refusal:
        return ()
    alike: dict[str, list[str]] = {}
    for standing in found:
        if standing.coating.ended is None and any(term.item == item for term in standing.coating.terms):
            alike.setdefault(_of_coating(standing, item, on), []).append(standing.coating.surface)
    return tuple(f"On {', '.join(surfaces)}: {said}." for said, surfaces in alike.items())


def _of_coating(standing: CoatingUpkeep, item: str, on: dt.date) -> str:
    if standing.failure is not None:
        return f"what it means for the terms could not be worked out ({standing.failure})"
    dues = [due for due in standing.dues if due.item == item]
    missed = [due for due in dues if due.state == "missed"]
    inside = next((due for due in dues if due.opens <= on <= due.closes and due.state != "done"), None)
    following = next((due for due in dues if due.opens > on), None)
    if inside is not None:
        told = f"it is in time and counts as the one due on {inside.due}"
        return f"{told}; {_missed(standing, item, missed[-1].closes)}" if missed else told
    told = "it is outside every window, or a second time in one, and counts for none"
    if missed:
        told = f"it is too late to count; {_missed(standing, item, missed[-1].closes)}"
    if following is None:
        return f"{told}; the terms ask for nothing more"
    return f"{told}; the next can be done from {following.opens} until {following.closes}"


def _missed(standing: CoatingUpkeep, item: str, closed: dt.date) -> str:
    """What a window that closed without the item does under the coating's terms."""
    miss = next(term.miss for term in standing.coating.terms if term.item == item)
    return f"the window that closed on {closed} was missed, so {consequence(miss)}"
