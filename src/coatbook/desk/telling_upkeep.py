"""Upkeep and reminders in words and as data with stable keys."""

import datetime as dt
from typing import Any

from coatbook.aircraft.views import find_airframe, mark_of
from coatbook.desk.hosting import host_for
from coatbook.desk.reminding import CoatingUpkeep, Preview, standings
from coatbook.store.book import Book
from coatbook.upkeep.views import notices
from coatbook.values.words import count, table

ENDED, SHORTENED, IN_TERMS = "ended", "shortened", "in terms"


def upkeep_data(book: Book, aircraft: str, on: dt.date, no_plugins: bool) -> dict[str, Any]:
    """An aircraft's coatings with their upkeep on a day."""
    with book.read() as session:
        airframe = find_airframe(session, aircraft, on)
        mark = mark_of(session, airframe.id, on) or airframe.code
        number = airframe.id
    return {
        "mark": mark,
        "coatings": [_coating(one) for one in standings(book, number, on, host_for(no_plugins))],
    }


def _coating(one: CoatingUpkeep) -> dict[str, Any]:
    view = one.coating
    state = ENDED if view.ended else {"go": IN_TERMS, "care": SHORTENED, "stop": ENDED}.get(one.level, "unknown")
    return {
        "surface": view.surface,
        "product": view.product,
        "applied": view.applied.isoformat(),
        "state": state,
        "reason": f"replaced on {view.ended}" if view.ended else one.failure or one.reason,
        "notes": list(one.cautions),
        "upkeep": [
            {
                "item": due.item,
                "n": due.n,
                "opens": due.opens.isoformat(),
                "due": due.due.isoformat(),
                "closes": due.closes.isoformat(),
                "done": next((day.isoformat() for item, day in view.done if item == due.item), None)
                if due.state == "done"
                else None,
                "state": due.state,
            }
            for due in one.dues
        ],
    }


def upkeep_story(data: dict[str, Any]) -> str:
    """An aircraft's upkeep in words: one sentence, the coatings, then what is due; surfaces alike stand together."""
    coatings = data["coatings"]
    if not coatings:
        return f"{data['mark']} carries no coating with terms."
    due = {
        (one["item"], one["opens"], one["due"], one["closes"], one["done"] or one["state"]): None
        for coating in coatings
        for one in coating["upkeep"]
    }
    asking = [row for row in due if row[4] in ("opening", "due", "in grace")]
    missed = [row for row in due if row[4] == "missed"]
    told = f"{data['mark']} carries {count(len(coatings), 'coating')}; "
    if missed:
        told += f"{count(len(missed), 'item')} missed, the last closed on {max(row[3] for row in missed)}; "
    told += (
        f"{count(len(asking), 'item')} to do, the first by {min(row[3] for row in asking)}."
        if asking
        else "nothing is due now."
    )
    states: dict[str, list[str]] = {}
    for coating in coatings:
        states.setdefault(_state_in_words(coating), []).append(coating["surface"])
    listed = [f"{said} ({', '.join(surfaces)})." for said, surfaces in states.items()]
    rows = sorted(due, key=lambda row: row[2])
    notes = dict.fromkeys(note for coating in coatings for note in coating["notes"])
    parts = [told, "", *listed]
    if rows:
        parts += ["", table(("item", "opens", "due", "closes", "state"), rows)]
    if notes:
        parts += ["", *(f"{note[:1].upper()}{note[1:]}." for note in notes)]
    return "\n".join(parts)


def _state_in_words(coating: dict[str, Any]) -> str:
    """A coating and how its terms stand; the calculator's reason without the word it begins with."""
    named, state = f"{coating['product']} of {coating['applied']}", coating["state"]
    reason = coating["reason"].removeprefix(f"{state}: ")
    because = f": {reason}" if reason else ""
    if state == IN_TERMS:
        return f"{named} is in terms"
    if state == SHORTENED:
        return f"The terms of {named} are shortened{because}"
    if state == ENDED:
        return f"The terms of {named} have ended{because}"
    return f"How the terms of {named} stand is not known{because}"


def preview_rows(found: Preview) -> list[dict[str, Any]]:
    """The notices to come, with stable keys."""
    return [
        {
            "id": None,
            "customer": one.customer.code,
            "mark": one.aircraft,
            "kind": "upkeep",
            "item": one.notice.item,
            "surface": one.coating.surface,
            "opens": one.notice.opens.isoformat(),
            "due": one.notice.due.isoformat(),
            "closes": one.notice.closes.isoformat(),
            "state": "held" if one.held_because else "waiting",
            "message_id": None,
            "held_because": one.held_because,
        }
        for one in found.planned
    ]


def notice_rows(book: Book) -> list[dict[str, Any]]:
    """The notices decided, one row each; `id` is the number of the message that gathers them."""
    with book.read() as session:
        return [
            {
                "id": one.id,
                "customer": one.customer,
                "mark": mark_of(session, one.airframe, book.today()),
                "kind": one.kind,
                "item": one.item,
                "surface": one.surface,
                "opens": one.opens.isoformat(),
                "due": one.due.isoformat(),
                "closes": one.closes.isoformat(),
                "state": one.state,
                "message_id": one.message_id,
                "held_because": None,
            }
            for one in notices(session, book.clock.instant())
        ]


def notice_story(rows: list[dict[str, Any]], none: str, withdrawn: int = 0) -> str:
    """Notices in words; those alike but for the surface stand together. `withdrawn` aircraft are counted only."""
    gone = f" Withdrawn aircraft left out: {withdrawn}." if withdrawn else ""
    if not rows:
        return none + gone
    people = len({row["customer"] for row in rows})
    alike: dict[tuple[str, ...], int] = {}
    for row in rows:
        key = (str(row["id"] or "-"), row["customer"], row["mark"] or "", row["item"], row["closes"], row["state"])
        alike[key] = alike.get(key, 0) + 1
    table_rows = [(*key[:4], str(surfaces), *key[4:]) for key, surfaces in alike.items()]
    headings = ("message", "customer", "aircraft", "item", "surfaces", "closes", "state")
    told = [
        f"{count(len(rows), 'notice')} to {count(people, 'owner')}.{gone}",
        "",
        table(headings, table_rows, right=(4,)),
    ]
    held = sorted({f"{row['mark']}: {row['held_because']}" for row in rows if row["held_because"]})
    if held:
        told += ["", *(f"Held for {one}." for one in held)]
    unsure = sorted({row["id"] for row in rows if row["state"] == "unsure"})
    told += [
        f"\nMessage {number} is unsure: did it go? Then `coatbook remind settle {number} --sent`, else `--not-sent`."
        for number in unsure
    ]
    return "\n".join(told)
