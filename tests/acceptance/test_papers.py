"""What left the demo's shop: the invoice as a PDF, the reminder as a mail, its calendar file."""

import datetime as dt
import email
import email.policy
import re
from collections.abc import Callable
from email.message import EmailMessage
from pathlib import Path

import icalendar
import pypdf
import pytest

from acceptance import paper

Command = Callable[..., str]


@pytest.fixture
def pages(demo: Path) -> str:
    """The text of all pages, each run of blanks as one."""
    reader = pypdf.PdfReader(demo / "invoice-2026-0001.pdf")
    return " ".join(" ".join(page.extract_text() for page in reader.pages).split())


def money(text: str) -> str:
    whole, cents = text.split(".")
    return f"${int(whole):,}.{cents}"


def test_the_invoice_holds_every_amount(pages: str) -> None:
    for _, _, _, price, net in paper.LINES:
        assert money(price) in pages
        assert money(net) in pages
    for amount in (paper.INVOICE["net"], paper.INVOICE["gross"], *(tax["amount"] for tax in paper.TAXES)):
        assert money(str(amount)) in pages
    assert "454 ft²" in pages
    assert "6.25%" in pages
    assert "2%" in pages


SAID = (
    "Larkfield Aircraft Finish",
    "4100 Runway Road",
    "Jo Dell",
    "12 Field Lane",
    "Piedra, NM 88000",
    "Invoice 2026-0001",
    "Registration (N-number) N123AB",
    "Maker Cessna",
    "Model 172N",
    "Serial number 17270001",
    "Place of work Mesa Alta Municipal, hangar 7",
    "Arrived May 18, 2026",
    "Handed over May 22, 2026",
    "Date May 22, 2026",
    "Due June 5, 2026",
    "oxidation removal and coating of N123AB",
    "State sales tax (US-TX)",
    "Local sales tax (US-TX-MESAALTA)",
    "Check to Larkfield Aircraft Finish, at the address above",
    "Bank transfer: ask for the details by phone",
)


def test_the_invoice_says_all_that_a_bookkeeper_and_an_owner_ask(pages: str) -> None:
    assert [words for words in SAID if words not in pages] == []


def test_the_invoice_says_what_keeps_the_coatings_terms(pages: str) -> None:
    told = pages.lower()
    assert "ceramic paint coating" in told
    assert re.search(r"decontamination wash every 6 months.*?14 days of grace.*?terms are shortened", told)
    assert re.search(r"inspection every 12 months.*?30 days of grace.*?terms end", told)
    assert "anyone may do" in told


CAUTIONS = (
    "licensed mechanic",
    "Before flight, see for yourself: static ports, pitot, vents, drains and fuel caps clear, every mask off.",
    "no maintenance record and no statement of airworthiness",
    "Tax treatment is the shop's to confirm locally.",
)


def test_the_invoice_holds_the_cautions(pages: str) -> None:
    assert [words for words in CAUTIONS if words not in pages] == []


def test_the_invoice_is_handed_out_again_byte_for_byte(demo: Path, tmp_path: Path, coatbook: Command) -> None:
    assert coatbook("invoice", "print", "2026-0001", "--to", tmp_path / "again").startswith("Written to ")
    again = (tmp_path / "again" / "invoice-2026-0001.pdf").read_bytes()
    assert again == (demo / "invoice-2026-0001.pdf").read_bytes()


@pytest.fixture
def message(demo: Path) -> EmailMessage:
    content = (demo / "message-00001.eml").read_bytes()
    assert b"\n" not in content.replace(b"\r\n", b"")
    parsed = email.message_from_bytes(content, policy=email.policy.default)
    assert isinstance(parsed, EmailMessage)
    assert [part.defects for part in parsed.walk() if part.defects] == []
    return parsed


def test_the_mails_headers(message: EmailMessage) -> None:
    assert (message["From"], message["To"]) == (
        "Larkfield Aircraft Finish <shop@example.com>",
        "Jo Dell <jo.dell@example.com>",
    )
    assert message["Subject"] == "N123AB: decontamination wash due by November 21, 2026"
    assert re.fullmatch(r"<[0-9a-f-]{36}@example\.com>", message["Message-ID"])
    assert message["Auto-Submitted"] == "auto-generated"
    assert message["List-Unsubscribe"].startswith("<mailto:shop@example.com?subject=")
    assert message["Date"].datetime.tzinfo is not None


@pytest.mark.parametrize("kind", ["plain", "html"])
def test_the_mails_body(message: EmailMessage, kind: str) -> None:
    body = message.get_body((kind,))
    assert body is not None
    told = " ".join(str(body.get_content()).split())
    for words in (
        "N123AB",
        "November 21, 2026",
        "October 22, 2026",
        "December 5, 2026",
        "14 days of grace",
        "555-0100",
    ):
        assert words in told
    assert all(name in told for name in paper.SURFACES)
    assert "Anyone may do this upkeep" in told


def test_the_mail_is_named_as_the_book_names_it(message: EmailMessage, coatbook: Command) -> None:
    assert message["Message-ID"] in coatbook("remind", "list", "--json")


def test_the_calendar_file(demo: Path, message: EmailMessage) -> None:
    content = (demo / "message-00001.ics").read_bytes()
    (attached,) = message.iter_attachments()
    assert attached.get_content_type() == "text/calendar"
    assert attached.get_payload(decode=True) == content
    calendar = icalendar.Calendar.from_ical(content)
    (event,) = calendar.walk("VEVENT")
    assert event.decoded("dtstart") == dt.date.fromisoformat(paper.WASH["due"])
    assert event.decoded("dtend") == dt.date.fromisoformat(paper.WASH["due"]) + dt.timedelta(days=1)
    assert str(event["summary"]) == "N123AB: decontamination wash due"
    assert "December 5, 2026" in str(event["description"])
    assert str(event["uid"]).endswith("@example.com")
    (alarm,) = event.walk("VALARM")
    assert alarm.decoded("trigger") == dt.timedelta(days=-7)
