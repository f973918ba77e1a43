"""A reminder as one mail: plain text, the same as HTML, and the calendar file. The same record, the same bytes."""

import hashlib
import re
import textwrap
from email.headerregistry import Address, BaseHeader, HeaderRegistry, UnstructuredHeader
from email.message import EmailMessage
from email.policy import SMTP, Policy
from html import escape
from urllib.parse import quote

from coatbook.paper.calendar import calendar_file
from coatbook.paper.pdf import readable_ink
from coatbook.paper.reminder import ReminderRecord
from coatbook.paper.reminder_words import STOP_WORDS, Letter, Part, letter, one_line
from coatbook.paper.sheet import BLACK
from coatbook.paper.words import NO_BREAK
from coatbook.values import Refusal


class _AsItIs(UnstructuredHeader, BaseHeader):
    """A header that is one long token: kept on one line, where the library would encode it."""

    def fold(self, *, policy: Policy) -> str:
        return f"{self.name}: {self}{policy.linesep}"


_HEADERS = HeaderRegistry()
_HEADERS.map_to_type("list-unsubscribe", _AsItIs)
_POLICY = SMTP.clone(header_factory=_HEADERS)

WIDTH = 72
"""The most columns a line of the plain text takes."""

_ADDRESS = re.compile(r"[A-Za-z0-9.!#$%&'*+/=?^_`{|}~-]{1,64}@[A-Za-z0-9-]+(?:\.[A-Za-z0-9-]+)+")
_MESSAGE_ID = re.compile(r"<?([A-Za-z0-9.!#$%&'*+/=?^_`{|}~-]+@[A-Za-z0-9.-]+)>?")


def reminder_mail(record: ReminderRecord) -> bytes:
    """The reminder as an .eml file, lines ending in CRLF.

    Raises:
        Refusal: the shop has no mail address, or an address is not one plain address.
    """
    said = letter(record)
    message = EmailMessage(policy=_POLICY)
    _headers(message, record, said)
    text = _plain(said)
    message.set_content(text, charset="utf-8", cte="7bit" if text.isascii() else "quoted-printable")
    html = _html(said, record.shop.color)
    message.add_alternative(html, subtype="html", charset="utf-8", cte="quoted-printable")
    message.add_attachment(
        calendar_file(record),
        maintype="text",
        subtype="calendar",
        filename=_file_name(record),
        params={"charset": "utf-8"},
    )
    _fix_boundaries(message, record)
    return message.as_bytes()


def _headers(message: EmailMessage, record: ReminderRecord, said: Letter) -> None:
    shop = record.shop
    if shop.email is None:
        raise Refusal("the shop has no mail address to send from: give one with `coatbook business edit --email`")
    stop = quote(f"{STOP_WORDS} for {one_line(record.aircraft)[:60]}")
    message["From"] = _address(shop.name, shop.email, "shop")
    message["To"] = _address(record.customer.name, record.to_address, "customer")
    message["Subject"] = said.subject
    message["Date"] = record.instant
    message["Message-ID"] = _message_id(record.message_id)
    message["Auto-Submitted"] = "auto-generated"
    message["List-Unsubscribe"] = f"<mailto:{quote(shop.email, safe='@')}?subject={stop}>"


def _address(name: str, address: str, whose: str) -> Address:
    """A name and exactly one plain address; anything that could hide a second one is refused."""
    if not _ADDRESS.fullmatch(address):
        raise Refusal(
            f"{one_line(address)!r} is not one plain mail address: correct it with `coatbook "
            f"{'business' if whose == 'shop' else whose} edit --email`, like owner@example.com"
        )
    return Address(display_name=one_line(name), addr_spec=address)


def _message_id(given: str) -> str:
    match = _MESSAGE_ID.fullmatch(given)
    if match is None:
        raise ValueError(f"{given!r} is not a Message-ID")
    return f"<{match[1]}>"


def _file_name(record: ReminderRecord) -> str:
    slug = re.sub(r"[^A-Za-z0-9]+", "-", record.aircraft)[:60].strip("-")
    return f"{slug or 'aircraft'}-upkeep.ics"


def _fix_boundaries(message: EmailMessage, record: ReminderRecord) -> None:
    """Boundaries made from the Message-ID, where the library would draw random ones."""
    seed = hashlib.sha256(record.message_id.encode()).hexdigest()[:32]
    multiparts = [part for part in message.walk() if part.is_multipart()]
    for number, part in enumerate(multiparts):
        part.set_boundary(f"=_{number}_{seed}")


def _wrapped(text: str, indent: str = "", first: str | None = None) -> str:
    lines = textwrap.wrap(
        text,
        WIDTH,
        initial_indent=indent if first is None else first,
        subsequent_indent=indent,
        break_on_hyphens=False,
    )
    return "\n".join(lines).replace(NO_BREAK, " ")


def _plain(said: Letter) -> str:
    """The letter as plain text."""
    blocks = [
        _wrapped(said.opening),
        *(_plain_part(part) for part in said.parts),
        *(_wrapped(text) for text in said.closing),
        "\n".join(_wrapped(text) for text in said.sender),
        _wrapped(said.opt_out),
    ]
    return "\n\n".join(blocks) + "\n"


def _plain_part(part: Part) -> str:
    facts = [_wrapped(text, " " * 15, f"  {label:<13}") for label, text in part.facts]
    return "\n".join([_wrapped(part.title), *facts])


_STYLE = """
body { margin: 0; padding: 1.5rem 1.25rem; background: #fff; color: #161616;
  font: 16px/1.5 "DejaVu Sans", Verdana, Helvetica, Arial, sans-serif; }
main { max-width: 34rem; margin: 0 auto; }
p { margin: 0 0 1rem; }
.opening { font-size: 1.3rem; line-height: 1.4; margin-bottom: 1.5rem; }
h2 { font-size: 1rem; margin: 0 0 .5rem; color: HEADING; }
table { width: 100%; table-layout: fixed; border-collapse: collapse; overflow-wrap: anywhere; margin: 0 0 1.75rem; }
th, td { padding: .4rem 0; border-top: 1px solid #ccc; text-align: left; vertical-align: top;
  font-size: .95rem; }
th { width: 7rem; font-weight: normal; color: #606060; }
footer { margin-top: 1.75rem; padding-top: 1rem; border-top: 1px solid #999; font-size: .85rem; color: #606060; }
"""


def _html(said: Letter, color: str | None) -> str:
    """The letter as one self-contained page that reads on a telephone."""
    heading = "#{:02x}{:02x}{:02x}".format(*readable_ink(color, BLACK))
    parts = "\n".join(_html_part(part) for part in said.parts)
    closing = "\n".join(f"<p>{escape(text)}</p>" for text in said.closing)
    sender = "<br>\n".join(escape(text) for text in said.sender)
    return f"""<!DOCTYPE html>
<html lang="en-US">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>{escape(said.subject)}</title>
<style>{_STYLE.replace("HEADING", heading)}</style>
</head>
<body>
<main>
<p class="opening">{escape(said.opening.replace(NO_BREAK, " "))}</p>
{parts}
{closing}
<footer>
<p>{sender}</p>
<p>{escape(said.opt_out)}</p>
</footer>
</main>
</body>
</html>
"""


def _html_part(part: Part) -> str:
    rows = "\n".join(f"<tr><th>{escape(label)}</th><td>{escape(text)}</td></tr>" for label, text in part.facts)
    return f"<h2>{escape(part.title)}</h2>\n<table>\n{rows}\n</table>"
