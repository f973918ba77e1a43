"""Whether a book is as it was written: what the store finds, and what issued documents say of the chain."""

from collections.abc import Iterator
from pathlib import Path

from sqlalchemy.orm import Session

from coatbook.billing.views import printed_heads
from coatbook.desk.opening import open_book
from coatbook.store.book import Book
from coatbook.store.chain import short
from coatbook.store.check import Finding, check
from coatbook.store.clock import Clock


def check_book(book: Book) -> list[Finding]:
    """All that is wrong with a book; an empty list if it is whole."""
    found = check(book)
    if any(one.kind == "table" for one in found):
        return found  # what is gone cannot be read
    with book.read() as session:
        return [*found, *_other_heads(session)]


def check_copy(path: Path, clock: Clock) -> list[Finding]:
    """All that is wrong with the book in a file, such as a backup."""
    book = open_book(str(path), clock)
    try:
        return check_book(book)
    finally:
        book.close()


def _other_heads(session: Session) -> Iterator[Finding]:
    """Documents that print another head of the chain than stands before the act that issued them.

    Whoever rewrites the past, chain and all, leaves what was printed behind: the paper says so, and so does its record.
    """
    for one in printed_heads(session):
        before = short(one.before) if one.before else "none"
        if one.printed != before:
            what = f"invoice {one.number} prints the head {one.printed}, and the chain has {before} before its act"
            yield Finding("document", f"document {one.document}", f"{what} {one.act}")
