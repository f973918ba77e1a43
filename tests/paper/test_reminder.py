"""The reminder: its mail, the same in text and HTML, and its calendar file."""

import datetime as dt
import email
import email.policy
import os
import re
import subprocess
import sys
from dataclasses import replace
from email.message import EmailMessage
from html import unescape

import pytest
from icalendar import Calendar

from coatbook.paper.calendar import calendar_file
from coatbook.paper.mail import WIDTH, reminder_mail
from coatbook.paper.reminder import ReminderRecord
from coatbook.paper.reminder_words import letter
from coatbook.values import Refusal
from coatbook.values.frozen import dump


def parsed(record: ReminderRecord) -> EmailMessage:
    """The mail as a strict reader sees it."""
    policy = email.policy.SMTP.clone(raise_on_defect=True)
    message = email.message_from_bytes(reminder_mail(record), policy=policy)
    assert isinstance(message, EmailMessage)
    return message


def body(message: EmailMessage, kind: str) -> str:
    part = message.get_body((kind,))
    assert part is not None
    return str(part.get_content())


def two_items(record: ReminderRecord) -> ReminderRecord:
    later = replace(
        record.items[0],
        uid="coating-1-inspection-1@clearline.example.com",
        item="Inspection",
        opens=dt.date(2027, 6, 14),
        due=dt.date(2027, 7, 14),
        closes=dt.date(2027, 7, 14),
        grace_days=0,
    )
    return replace(record, items=(later, record.items[0]))


def test_it_opens_with_what_is_due_by_when(reminder: ReminderRecord) -> None:
    said = "The coating on N123AB is due for its decontamination wash by January 14, 2027."
    text = body(parsed(reminder), "plain")
    assert " ".join(text.split()).startswith(said)
    assert parsed(reminder)["Subject"] == "N123AB: decontamination wash due by January 14, 2027"


def test_the_sentence_for_more_than_one_item(reminder: ReminderRecord) -> None:
    two = two_items(reminder)
    said = "The coating on N123AB is due for its decontamination wash and inspection, the first by January 14, 2027."
    assert letter(two).opening.replace("\u00a0", " ") == said
    other = replace(reminder.items[0], surfaces="tail")
    both = replace(reminder, items=(*reminder.items, other))
    assert letter(both).opening.startswith("The coatings on N123AB are due for their decontamination wash by")


def test_the_sentence_after_the_due_day(reminder: ReminderRecord) -> None:
    late = replace(reminder, items=(replace(reminder.items[0], standing="in grace"),))
    assert letter(late).opening.replace("\u00a0", " ") == (
        "The coating on N123AB was due for its decontamination wash by January 14, 2027; "
        "it still counts if done by February 13, 2027."
    )
    assert parsed(late)["Subject"] == (
        "N123AB: decontamination wash was due by January 14, 2027, still counts until February 13, 2027"
    )
    missed = replace(reminder, items=(replace(reminder.items[0], standing="missed"),))
    assert letter(missed).opening.replace("\u00a0", " ") == (
        "The coating on N123AB was due for its decontamination wash by January 14, 2027, "
        "and nothing was reported to us by February 13, 2027."
    )
    both = replace(two_items(reminder), items=(*missed.items, two_items(reminder).items[0]))
    assert (
        letter(both)
        .opening.replace("\u00a0", " ")
        .endswith("by February 13, 2027. The coating on N123AB is due for its inspection by July 14, 2027.")
    )


def closed(record: ReminderRecord) -> ReminderRecord:
    """The reminder that goes after the window closed."""
    return replace(record, items=tuple(replace(item, standing="missed") for item in record.items))


@pytest.mark.parametrize("kind", ["plain", "html"])
def test_after_the_window_closed_it_says_so_and_what_that_means(reminder: ReminderRecord, kind: str) -> None:
    told = body(parsed(closed(reminder)), kind).split("</head>")[-1]
    text = " ".join(unescape(re.sub(r"<[^>]+>", " ", told)).split())
    for said in (
        "Was due by January 14, 2027",
        "Closed on February 13, 2027, after 30 days of grace; done later, it no longer counts",
        "This means Unless it was done by then, the coating's term is shortened to the day of the miss.",
        "Done in time, by you or anyone else? Tell us the day and who did it, and we will note it.",
        "To ask what can be done now, reply to this message or call 512-555-0142.",
        "marks in your calendar what has closed",
    ):
        assert said in text
    for odd in ("Can be done", "If missed", "To book it"):
        assert odd not in text
    subject = "N123AB: decontamination wash was due by January 14, 2027, closed on February 13, 2027"
    assert parsed(closed(reminder))["Subject"] == subject


def test_the_calendar_of_a_closed_window_says_so_and_rings_no_more(reminder: ReminderRecord) -> None:
    (event,) = Calendar.from_ical(calendar_file(closed(reminder))).walk("VEVENT")
    assert event["SUMMARY"] == "N123AB: decontamination wash, window closed"
    told = str(event["DESCRIPTION"])
    assert "It closed on February 13, 2027, after 30 days of grace: done later, it no longer counts." in told
    assert "Unless it was done by February 13, 2027, the coating's term is shortened" in told
    assert "Can be done" not in told
    assert (event["DTSTART"].dt, event.walk("VALARM"), event["SEQUENCE"]) == (dt.date(2027, 2, 13), [], 2)


def test_in_grace_the_last_day_stands_in_the_calendar(reminder: ReminderRecord) -> None:
    late = replace(reminder, items=(replace(reminder.items[0], standing="in grace"),))
    (event,) = Calendar.from_ical(calendar_file(late)).walk("VEVENT")
    assert event["SUMMARY"] == "N123AB: decontamination wash, last day to do it"
    assert (event["DTSTART"].dt, len(event.walk("VALARM")), event["SEQUENCE"]) == (dt.date(2027, 2, 13), 1, 1)
    text = " ".join(body(parsed(late), "plain").split())
    assert "Was due by January 14, 2027 Can be done until February 13, 2027, with 30 days of grace" in text
    assert "puts the last day that still counts in your calendar" in text


def test_it_says_what_a_miss_does_who_may_do_it_and_how_to_answer(reminder: ReminderRecord) -> None:
    text = " ".join(body(parsed(reminder), "plain").split())
    for said in (
        "from December 15, 2026 until February 13, 2027, with 30 days of grace",
        "If missed The coating's term is shortened to the day of the miss.",
        "Anyone may do this upkeep: you, your mechanic or another shop. The terms never ask that it be ours.",
        "reply to this message or call 512-555-0142",
        "Clearline Aircraft Finish Hangar 14, 220 Airport Road Millbrook, TX 78600",
        'reply with the words "No more reminders"',
    ):
        assert said in text


def test_every_header_is_there(reminder: ReminderRecord) -> None:
    message = parsed(reminder)
    assert message["From"].addresses[0].addr_spec == "desk@clearline.example.com"
    assert [address.addr_spec for address in message["To"].addresses] == ["treasurer@prairiewing.example.com"]
    assert message["Date"].datetime == dt.datetime(2026, 12, 15, 15, 30, tzinfo=dt.UTC)
    assert message["Message-ID"] == "<reminder-1-1@clearline.example.com>"
    assert message["Auto-Submitted"] == "auto-generated"
    stop = "<mailto:desk@clearline.example.com?subject=No%20more%20reminders%20for%20N123AB>"
    assert message["List-Unsubscribe"] == stop
    assert message.get_content_type() == "multipart/mixed"
    assert all(not part.defects for part in message.walk())


def test_the_unsubscribe_address_is_never_encoded(reminder: ReminderRecord) -> None:
    address = f"{'desk' * 12}@clearline-aircraft-finish.example.com"
    raw = reminder_mail(replace(reminder, shop=replace(reminder.shop, email=address)))
    assert f"List-Unsubscribe: <mailto:{address}?subject=".encode() in raw


def test_lines_keep_to_their_columns(reminder: ReminderRecord) -> None:
    wordy = replace(reminder.items[0], product="a long product name " * 12, surfaces="W" * 150)
    record = replace(two_items(reminder), items=(wordy, *two_items(reminder).items))
    assert max(len(text) for text in body(parsed(record), "plain").splitlines()) <= WIDTH
    raw = reminder_mail(record)
    assert b"\n" not in raw.replace(b"\r\n", b"")
    assert max(len(row) for row in raw.split(b"\r\n")) <= 998


def test_html_says_the_same_as_the_text(reminder: ReminderRecord) -> None:
    message = parsed(two_items(reminder))
    page = body(message, "html").split("</head>")[1]
    html = "".join(unescape(re.sub(r"<[^>]+>", " ", page)).split())
    text = "".join(body(message, "plain").split())
    assert html == text


def test_html_is_escaped_and_self_contained(reminder: ReminderRecord) -> None:
    nasty = '<script>alert("1")</script> & co'
    page = body(parsed(replace(reminder, items=(replace(reminder.items[0], product=nasty),))), "html")
    assert "<script" not in page
    assert "&lt;script&gt;" in page
    assert not re.search(r"(src|href)=|url\(|@import|https?:", page)


@pytest.mark.parametrize(
    "name",
    ['Müller, "Söhne" & Co', "a, evil@example.com", "Łukasz\r\nBcc: evil@example.com", "=?utf-8?q?x?=", "Ж" * 90],
)
def test_names_stay_names(reminder: ReminderRecord, name: str) -> None:
    record = replace(
        reminder,
        customer=replace(reminder.customer, name=name),
        shop=replace(reminder.shop, name=name),
        aircraft=name,
        items=(replace(reminder.items[0], item=name, aircraft=name, uid=name),),
    )
    message = email.message_from_bytes(reminder_mail(record), policy=email.policy.SMTP)
    assert "Bcc" not in message
    assert [address.addr_spec for address in message["To"].addresses] == ["treasurer@prairiewing.example.com"]
    assert [address.addr_spec for address in message["From"].addresses] == ["desk@clearline.example.com"]
    assert Calendar.from_ical(calendar_file(record)).walk("VEVENT")[0]["UID"] == " ".join(name.split())


@pytest.mark.parametrize(
    "address",
    [
        "a@example.com, b@example.com",
        "a@example.com\r\nBcc: b@example.com",
        "Owner <a@example.com>",
        "owner",
        "ö@example.com",
    ],
)
def test_only_one_plain_address_is_written_to(reminder: ReminderRecord, address: str) -> None:
    with pytest.raises(Refusal, match="not one plain mail address"):
        reminder_mail(replace(reminder, to_address=address))


def test_a_shop_without_an_address_is_told_how_to_give_one(reminder: ReminderRecord) -> None:
    with pytest.raises(Refusal, match="coatbook business edit --email"):
        reminder_mail(replace(reminder, shop=replace(reminder.shop, email=None)))


def test_a_message_id_cannot_carry_a_header(reminder: ReminderRecord) -> None:
    with pytest.raises(ValueError, match="Message-ID"):
        reminder_mail(replace(reminder, message_id="<a@example.com>\r\nBcc: b@example.com"))
    with_none = replace(reminder, message_id="reminder-1-1@clearline.example.com")
    assert parsed(with_none)["Message-ID"] == "<reminder-1-1@clearline.example.com>"


def test_the_instant_needs_a_zone_and_an_item(reminder: ReminderRecord) -> None:
    with pytest.raises(ValueError, match="time zone"):
        replace(reminder, date=dt.datetime(2026, 12, 15))  # noqa: DTZ001
    with pytest.raises(ValueError, match="at least one item"):
        replace(reminder, items=())


def test_the_calendar_file_is_attached_byte_for_byte(reminder: ReminderRecord) -> None:
    (attached,) = parsed(reminder).iter_attachments()
    assert isinstance(attached, EmailMessage)
    assert attached.get_content_type() == "text/calendar"
    assert attached.get_filename() == "N123AB-upkeep.ics"
    assert attached.get_payload(decode=True) == calendar_file(reminder)


def test_the_calendar_has_one_event_for_every_item(reminder: ReminderRecord) -> None:
    record = two_items(reminder)
    raw = calendar_file(record)
    calendar = Calendar.from_ical(raw)
    assert calendar["VERSION"] == "2.0"
    assert "coatbook" in calendar["PRODID"]
    events = calendar.walk("VEVENT")
    assert [event["UID"] for event in events] == [item.uid for item in record.items]
    for event, item in zip(events, record.items, strict=True):
        assert event["DTSTAMP"].dt == record.date
        assert event["SEQUENCE"] == 0
        assert event["DTSTART"].dt == item.due
        assert event["DTEND"].dt == item.due + dt.timedelta(days=1)
        assert f"DTSTART;VALUE=DATE:{item.due:%Y%m%d}".encode() in raw
        assert "Anyone may do this upkeep" in event["DESCRIPTION"]
        assert "is shortened" in event["DESCRIPTION"]
        (alarm,) = event.walk("VALARM")
        assert alarm["ACTION"] == "DISPLAY"
        assert alarm["TRIGGER"].dt == dt.timedelta(days=-7)
    assert b"\n" not in raw.replace(b"\r\n", b"")
    assert max(len(row) for row in raw.split(b"\r\n")) <= 75  # RFC 5545, section 3.1


def test_a_later_file_replaces_the_same_event(reminder: ReminderRecord) -> None:
    later = replace(reminder, date=reminder.date + dt.timedelta(days=20))
    uids = [Calendar.from_ical(calendar_file(record)).walk("VEVENT")[0]["UID"] for record in (reminder, later)]
    assert uids[0] == uids[1]


SCRIPT = """
import sys
from coatbook.paper.mail import reminder_mail
from coatbook.paper.reminder import ReminderRecord
from coatbook.values.frozen import load
sys.stdout.buffer.write(reminder_mail(load(ReminderRecord, sys.stdin.buffer.read().decode())))
"""


def test_the_same_record_gives_the_same_bytes(reminder: ReminderRecord) -> None:
    record = replace(reminder, customer=replace(reminder.customer, name="Łukasz Žižka"))
    ran = subprocess.run(
        [sys.executable, "-c", SCRIPT],
        input=dump(record).encode(),
        capture_output=True,
        env=os.environ | {"TZ": "Pacific/Kiritimati", "PYTHONHASHSEED": "7"},
        check=True,
    )
    assert ran.stdout == reminder_mail(record) == reminder_mail(record)
