"""What a service is made of, as data."""

from typing import Any

from coatbook.jobs.tables import Service
from coatbook.jobs.views import standard_steps
from coatbook.store.book import Book
from coatbook.store.finding import by_code
from coatbook.values import Quantity
from coatbook.values.quantity import plain


def standard_rows(book: Book, code: str) -> list[dict[str, Any]]:
    """The standard steps of a service with stable keys."""
    with book.read() as session:
        found = standard_steps(session, by_code(session, Service, code, "service").id)
    return [
        {
            "n": one.n,
            "name": one.name,
            **_measure("hours", one.hours),
            **_measure("per_area", one.per_area),
            "passes": one.passes,
            **_measure("removal", one.removal),
            "material": one.material,
        }
        for one in found
    ]


def _measure(name: str, value: Quantity | None) -> dict[str, str | None]:
    """A quantity and its unit beside it."""
    return {name: plain(value.decimal()) if value else None, f"{name}_unit": value.unit if value else None}
