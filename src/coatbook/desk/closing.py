"""Closing a month: the desk draws the journal, the store keeps its bytes."""

from sqlalchemy.orm import Session

from coatbook.billing import journal
from coatbook.store import closings, months
from coatbook.store.acts import OpenAct
from coatbook.store.book import Book
from coatbook.values.days import Month


def close_month(act: OpenAct, *, month: Month) -> None:
    """Close a month with its journal as it stands."""
    closings.close(act, month, _drawn(act.session, month, act.currency))


def journal_of(book: Book, month: Month) -> bytes:
    """A month's journal as CSV: the kept bytes of a closed month, else drawn as it stands today."""
    with book.read() as session:
        closing = months.of_month(session, month)
        return closing.journal if closing else _drawn(session, month, book.currency)


def _drawn(session: Session, month: Month, currency: str) -> bytes:
    lines = journal.in_month(journal.postings(session, month.last), month)
    return journal.as_csv(lines, currency)
