"""The calendar file of a reminder (RFC 5545): one all-day event for every item.

It stands on the day that matters now, with an alarm a week before; an item whose window has closed rings no more.
"""

import datetime as dt

from icalendar import Alarm, Calendar, Event

from coatbook.paper import words
from coatbook.paper.reminder import ReminderItem, ReminderRecord
from coatbook.paper.reminder_words import anyone_may, event_day, missed, one_line, when

ALARM_BEFORE = dt.timedelta(days=7)
ONE_DAY = dt.timedelta(days=1)

_SAID = {"due": " due", "in grace": ", last day to do it", "missed": ", window closed"}
_ASK = {
    "due": "To book it or to tell us that it is done",
    "in grace": "To book it or to tell us that it is done",
    "missed": "To tell us that it was done, or to ask what can be done now",
}
_REVISION = {"due": 0, "in grace": 1, "missed": 2}  # a calendar takes the later revision of one event


def calendar_file(record: ReminderRecord) -> bytes:
    """The events of a reminder. The same item keeps its UID, so a later file replaces its event and adds none."""
    calendar = Calendar()
    calendar.add("prodid", "-//coatbook//upkeep//EN")
    calendar.add("version", "2.0")
    for item in record.items:
        calendar.add_component(_event(record, item))
    return bytes(calendar.to_ical())


def _event(record: ReminderRecord, item: ReminderItem) -> Event:
    named = f"{one_line(item.aircraft)}: {words.within_sentence(one_line(item.item))}"
    summary, day = f"{named}{_SAID[item.standing]}", event_day(item)
    event = Event()
    event.add("uid", one_line(item.uid))
    event.add("dtstamp", record.instant)
    event.add("sequence", _REVISION[item.standing])
    event.add("dtstart", day)
    event.add("dtend", day + ONE_DAY)
    event.add("summary", summary)
    event.add("description", _description(record, item))
    event.add("transp", "TRANSPARENT")  # the day is not taken
    if item.standing != "missed":
        event.add_component(_alarm(summary))
    return event


def _description(record: ReminderRecord, item: ReminderItem) -> str:
    shop, locale = record.shop, record.shop.locale
    contact = ", ".join(one_line(text) for text in (shop.name, shop.phone, shop.email) if text)
    lines = (
        f"Coating: {one_line(item.product)}" + (f", {one_line(item.surfaces)}." if item.surfaces else "."),
        when(item, locale),
        one_line(missed(item, locale)),
        anyone_may((item,)),
        f"{_ASK[item.standing]}: {contact}.",
    )
    return "\n".join(lines)


def _alarm(summary: str) -> Alarm:
    alarm = Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("trigger", -ALARM_BEFORE)
    alarm.add("description", summary)
    return alarm
