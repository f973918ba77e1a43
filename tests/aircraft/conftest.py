"""A furnished shop's book, opened; today is 2026-08-20 in it."""

from pathlib import Path

import pytest

from coatbook.store.book import Book


@pytest.fixture
def shop(furnished: Path, book: Book) -> Book:
    """The furnished book (see `furniture`), opened: `skylane` wears N123AB and is alder's from 2026-03-02 on."""
    return book
