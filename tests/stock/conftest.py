"""A furnished shop's book, opened."""

from pathlib import Path

import pytest

from coatbook.store.book import Book


@pytest.fixture
def shop(furnished: Path, book: Book) -> Book:
    """The furnished book (see `furniture`), opened; today is 2026-08-20."""
    return book
