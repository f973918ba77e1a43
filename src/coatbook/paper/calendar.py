"""The calendar file of a reminder (RFC 5545): one all-day event for every item due, with an alarm a week before."""

import datetime as dt

from icalendar import Alarm, Calendar, Event

from coatbook.paper import words
from coatbook.paper.reminder import ReminderItem, ReminderRecord
from coatbook.paper.reminder_words import anyone_may, missed, one_line, window

ALARM_BEFORE = dt.timedelta(days=7)


def calendar_file(record: ReminderRecord) -> bytes:
    """The events of a reminder. The same item keeps its UID, so a later file replaces it and adds none."""
    calendar = Calendar()
    calendar.add("prodid", "-//coatbook//upkeep//EN")
    calendar.add("version", "2.0")
    for item in record.items:
        calendar.add_component(_event(record, item))
    return bytes(calendar.to_ical())


def _event(record: ReminderRecord, item: ReminderItem) -> Event:
    summary = f"{one_line(item.aircraft)}: {words.within_sentence(one_line(item.item))} due"
    event = Event()
    event.add("uid", one_line(item.uid))
    event.add("dtstamp", record.instant)
    event.add("sequence", 0)
    event.add("dtstart", item.due)
    event.add("dtend", item.due + dt.timedelta(days=1))
    event.add("summary", summary)
    event.add("description", _description(record, item))
    event.add("transp", "TRANSPARENT")  # the day is not taken
    event.add_component(_alarm(summary))
    return event


def _description(record: ReminderRecord, item: ReminderItem) -> str:
    shop, locale = record.shop, record.shop.locale
    contact = ", ".join(one_line(text) for text in (shop.name, shop.phone, shop.email) if text)
    lines = (
        f"Coating: {one_line(item.product)}" + (f", {one_line(item.surfaces)}." if item.surfaces else "."),
        f"Can be done {window(item, locale)}.",
        one_line(missed(item, locale)),
        anyone_may((item,)),
        f"To book it or to tell us that it is done: {contact}.",
    )
    return "\n".join(lines)


def _alarm(summary: str) -> Alarm:
    alarm = Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("trigger", -ALARM_BEFORE)
    alarm.add("description", summary)
    return alarm
