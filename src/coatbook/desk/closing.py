"""Closing a month: the desk draws the journal, the store keeps its bytes."""

from coatbook.billing import journal
from coatbook.store import closings, months
from coatbook.store.acts import OpenAct
from coatbook.store.book import Book
from coatbook.values.days import Month


def close_month(act: OpenAct, *, month: Month) -> None:
    """Close a month with its journal as it stands."""
    lines = journal.postings(act.session, month.last)
    first = Month.of(lines[0].day) if lines else None
    closings.close(act, month, _as_csv(lines, month, act.currency), first)


def journal_of(book: Book, month: Month) -> bytes:
    """A month's journal as CSV: the kept bytes of a closed month, else drawn as it stands today."""
    with book.read() as session:
        closing = months.of_month(session, month)
        return closing.journal if closing else _as_csv(journal.postings(session, month.last), month, book.currency)


def _as_csv(lines: list[journal.Posting], month: Month, currency: str) -> bytes:
    return journal.as_csv(journal.in_month(lines, month), currency)
