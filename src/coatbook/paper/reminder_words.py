"""What a reminder says, once for plain text, HTML and calendar: the sentence, the items, what to do, how to stop it."""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass

from coatbook.paper import words
from coatbook.paper.reminder import ReminderItem, ReminderRecord
from coatbook.people.views import Shop
from coatbook.values.text import shown

STOP_WORDS = "No more reminders"


@dataclass(frozen=True, slots=True)
class Part:
    """One upkeep item told: a title and labelled facts."""

    title: str
    facts: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Letter:
    """A reminder as text, in reading order. Unbreakable blanks hold its dates together."""

    subject: str
    opening: str
    parts: tuple[Part, ...]
    closing: tuple[str, ...]
    sender: tuple[str, ...]
    opt_out: str


def one_line(text: str) -> str:
    """`text` without control characters and line breaks, fit for a header or a calendar's line."""
    return " ".join(shown(text).split())


def letter(record: ReminderRecord) -> Letter:
    """All a reminder says."""
    shop = record.shop
    return Letter(
        subject=_subject(record),
        opening=_opening(record),
        parts=tuple(_part(item, shop.locale) for item in record.items),
        closing=(_what_to_do(record), anyone_may(record.items), _attached(record)),
        sender=tuple(one_line(text) for text in (shop.name, *shop.address, shop.phone, shop.email) if text),
        opt_out="You get this message because we keep the upkeep dates of this coating for you. If you want no more of "
        f'these, reply with the words "{STOP_WORDS}".',
    )


def _day(item: ReminderItem, locale: str) -> str:
    return words.long_date(item.due, locale)


def _different(texts: Iterable[str]) -> list[str]:
    """Texts without repeats, in order."""
    return list(dict.fromkeys(one_line(text) for text in texts))


def _by_urgency(record: ReminderRecord) -> list[list[ReminderItem]]:
    """The items by how they stand, the most urgent first, each group soonest due first."""
    items = sorted(record.items, key=lambda item: item.due)
    groups = [[item for item in items if item.standing == standing] for standing in ("missed", "in grace", "due")]
    return [group for group in groups if group]


def _names(items: list[ReminderItem]) -> str:
    return words.listed(_different(words.within_sentence(item.item) for item in items))


def _subject(record: ReminderRecord) -> str:
    """What the message is about, by its most urgent items."""
    first, locale = _by_urgency(record)[0], record.shop.locale
    due, closes = _day(first[0], locale), words.long_date(first[0].closes, locale)
    told = {
        "due": f"due by {due}",
        "in grace": f"was due by {due}, still counts until {closes}",
        "missed": f"was due by {due}, closed on {closes}",
    }
    return f"{one_line(record.aircraft)}: {_names(first)} {told[first[0].standing]}"


def _opening(record: ReminderRecord) -> str:
    """The sentence that says it all: what is due on which aircraft, by when; one more for what is less urgent."""
    return " ".join(_sentence(group, record.shop.locale) for group in _by_urgency(record))


def _sentence(items: list[ReminderItem], locale: str) -> str:
    """What is (or was) due, of items that stand alike."""
    standing, one = items[0].standing, len({(item.aircraft, item.surfaces, item.product) for item in items}) == 1
    due, closes = _day(items[0], locale), words.long_date(items[0].closes, locale)
    is_or_was = {(True, True): "is", (True, False): "are", (False, True): "was", (False, False): "were"}
    aircraft = words.listed(_different(item.aircraft for item in items))
    first = "" if len({item.due for item in items}) == 1 else ", the first"
    counts = "it still counts" if len({item.item for item in items}) == 1 else "they still count"
    after = {
        "due": ".",
        "in grace": f"; {'that one still counts' if first else counts} if done by {closes}.",
        "missed": f", and nothing was reported to us by {closes}.",
    }
    text = (
        f"The {'coating' if one else 'coatings'} on {aircraft} {is_or_was[standing == 'due', one]} due for "
        f"{'its' if one else 'their'} {_names(items)}{first} by {due}{after[standing]}"
    )
    return words.kept_together(text, due, closes)


def _part(item: ReminderItem, locale: str) -> Part:
    closed = item.standing == "missed"
    facts = (
        ("Was due by" if item.standing != "due" else "Due by", _day(item, locale)),
        ("Closed on", f"{_closed(item, locale)}; done later, it no longer counts")
        if closed
        else ("Can be done", window(item, locale)),
        ("This means", _unless_done(item)) if closed else ("If missed", words.whole_sentence(item.consequence)),
        ("On", f"{item.aircraft}, {item.surfaces}" if item.surfaces else item.aircraft),
        ("Coating", item.product),
    )
    title = one_line(item.item)
    return Part(title[:1].upper() + title[1:], tuple((label, one_line(text)) for label, text in facts if text))


def window(item: ReminderItem, locale: str) -> str:
    """From when until when the upkeep counts, and how much of that is grace; once it is due, until when only."""
    opens, closes = words.long_date(item.opens, locale), words.long_date(item.closes, locale)
    since = f"from {opens} " if item.standing == "due" else ""
    return f"{since}until {closes}" + (f", with {_grace(item)}" if item.grace_days else "")


def _unless_done(item: ReminderItem) -> str:
    """What a closed window means: the shop knows only what was reported to it."""
    return words.whole_sentence(f"unless it was done by then, {words.within_sentence(item.consequence)}")


def _closed(item: ReminderItem, locale: str) -> str:
    """When it no longer counted, and that grace is over."""
    return words.long_date(item.closes, locale) + (f", after {_grace(item)}" if item.grace_days else "")


def _grace(item: ReminderItem) -> str:
    return f"{item.grace_days} {'day' if item.grace_days == 1 else 'days'} of grace"


def when(item: ReminderItem, locale: str) -> str:
    """When it can be done, or when that ended, as a sentence."""
    if item.standing == "missed":
        return f"It closed on {_closed(item, locale)}: done later, it no longer counts."
    return f"Can be done {window(item, locale)}."


def missed(item: ReminderItem, locale: str) -> str:
    """What a miss does under the terms, as a sentence: if it is not done, or now that nothing was reported."""
    closes, clause = words.long_date(item.closes, locale), words.within_sentence(item.consequence)
    if item.standing == "missed":
        return words.whole_sentence(f"Unless it was done by {closes}, {clause}")
    return words.whole_sentence(f"If it is not done by {closes}, {clause}")


def anyone_may(items: tuple[ReminderItem, ...]) -> str:
    """That the terms never ask for this shop."""
    what = "this upkeep" if len(items) == 1 else "any of it"
    return f"Anyone may do {what}: you, your mechanic or another shop. The terms never ask that it be ours."


def reach(shop: Shop) -> str:
    """How to answer: by mail, and by telephone where there is one."""
    return f"reply to this message or call {one_line(shop.phone)}" if shop.phone else "reply to this message"


def _what_to_do(record: ReminderRecord) -> str:
    if all(item.standing == "missed" for item in record.items):
        return (
            "Done in time, by you or anyone else? Tell us the day and who did it, and we will note it. To ask what can "
            f"be done now, {reach(record.shop)}."
        )
    return (
        f"To book it with us, {reach(record.shop)}. Done already, or done elsewhere? Tell us the day and who did it, "
        "and we will note it."
    )


def _attached(record: ReminderRecord) -> str:
    """What the calendar file does: each event stands on the day that matters now."""
    if all(item.standing == "missed" for item in record.items):
        return "The calendar file with this message marks in your calendar what has closed."
    asked = [item for item in record.items if item.standing != "missed"]
    day = "day" if len({event_day(item) for item in asked}) == 1 else "days"
    which = f"due {day}" if all(item.standing == "due" for item in asked) else f"last {day} that still counts"
    return f"The calendar file with this message puts the {which} in your calendar."


def event_day(item: ReminderItem) -> dt.date:
    """The day an item stands on in a calendar: the due day; once that is over, the last day that counts."""
    return item.due if item.standing == "due" else item.closes
