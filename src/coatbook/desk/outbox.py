"""Sending what is decided: claim, commit, carry, record. The carrier of this slice is a folder."""

import email
import email.policy
from dataclasses import dataclass
from pathlib import Path

from coatbook.desk.reminding import Letter
from coatbook.store.acts import Ask
from coatbook.store.book import Book
from coatbook.store.engine import is_url
from coatbook.store.files import write_file
from coatbook.upkeep.actions import claim, record_outcome, write_message
from coatbook.upkeep.views import message_bytes, waiting_messages
from coatbook.values import Refusal

FOLDER = "folder"


@dataclass(frozen=True, slots=True)
class Carried:
    """What was done with each message, as sentences, and how many could not be carried and wait."""

    said: tuple[str, ...]
    waiting: int


def send(book: Book, ask: Ask, letters: tuple[Letter, ...], folder: Path) -> Carried:
    """Keep the letters as messages, then carry every waiting message into the folder."""
    said: list[str] = []
    left = 0
    for letter in letters:
        assert letter.customer.email is not None
        book.do(
            ask,
            write_message,
            customer=letter.customer.code,
            to_address=letter.customer.email,
            message_id=letter.message_id,
            content=letter.content,
            notices=letter.notices,
        )
    with book.read() as session:
        waiting = waiting_messages(session, book.clock.instant())
    for number in waiting:
        attempt = book.do(ask, claim, message=number, carrier=FOLDER).result
        if attempt is None:
            continue  # another run has it
        with book.read() as session:
            address, content = message_bytes(session, number)
        verdict, what = _into_folder(folder, number, content)
        book.do(ask, record_outcome, attempt=attempt, verdict=verdict, what=what)
        said.append(f"Message {number} to {address}: {verdict} ({what}).")
        left += verdict == "later"
    return Carried(tuple(said), left)


def _into_folder(folder: Path, number: int, content: bytes) -> tuple[str, str]:
    """Write the message and its calendar file; the verdict and what happened."""
    try:
        path = folder / f"message-{number:05}.eml"
        write_file(path, content)
        message = email.message_from_bytes(content, policy=email.policy.default)
        for part in message.walk():
            if part.get_content_type() == "text/calendar":
                calendar = part.get_payload(decode=True)
                assert isinstance(calendar, bytes)
                write_file(path.with_suffix(".ics"), calendar)
    except (OSError, Refusal) as problem:
        return "later", f"the folder {folder} cannot be written: {problem}"
    return "sent", f"written to {path}"


def beside(book: Book) -> Path:
    """The outbox folder when nobody names one: beside the book's file, or here for a book on a server."""
    return Path("outbox") if is_url(book.where) else Path(book.where).parent / "outbox"
