"""A book with two sites and three workers, on either store."""

import datetime as dt
from collections.abc import Callable
from typing import Any

import pytest

from coatbook.people import actions
from coatbook.store.acts import Ask, Told
from coatbook.store.book import Book
from coatbook.values import Money

Do = Callable[..., Told[Any]]


def usd(text: str) -> Money:
    return Money.parse(text, "USD")


@pytest.fixture
def do(any_book: Book) -> Do:
    """Do one action in the test's own book, on a day (else today)."""

    def call(action: Callable[..., Any], /, *, day: str | None = None, **values: Any) -> Told[Any]:
        on = dt.date.fromisoformat(day) if day else None
        return any_book.do(Ask(action.__name__, "tester", on, again=True), action, **values)

    where = {"address": "4100 Runway Road", "place": "US-TX"}
    call(actions.add_site, day="2026-01-02", code="mesa", name="North field", **where)
    call(actions.add_site, day="2026-01-02", code="piedra", name="South field", **where)
    call(actions.add_worker, day="2026-01-02", code="sam", name="Sam Reed", kind="owner", rate=usd("55.00"))
    call(actions.add_worker, day="2026-01-02", code="kim", name="Kim Soto", kind="employee", rate=usd("28.00"))
    call(actions.add_worker, day="2026-01-02", code="pat", name="Pat Lund", kind="subcontractor", rate=usd("40.00"))
    call(actions.add_customer, day="2026-01-02", code="alder", name="Jo Alder", address="12 Field Lane")
    call(actions.add_customer, day="2026-01-02", code="birch", name="Birch Flying Club", address="3 Hill Road")
    return call
