"""What tests of aircraft do, by the room's own actions, and what they look up."""

import datetime as dt
from collections.abc import Callable
from typing import Any

from coatbook.aircraft import actions, views
from coatbook.desk import striking
from coatbook.store.acts import Ask
from coatbook.store.book import Book
from coatbook.values import Quantity
from coatbook.values.marks import parse_mark

TODAY = dt.date(2026, 8, 20)


def day(text: str) -> dt.date:
    return dt.date.fromisoformat(text)


def do(book: Book, action: Callable[..., Any], /, *, on: str | None = None, **values: Any) -> str:
    """One act, named after its action; what it told."""
    ask = Ask(action.__name__, "tester", day(on) if on else None, again=True)
    return book.do(ask, action, **values).text


def aircraft(book: Book, code: str, mark: str | None = None, start: str = "2026-01-02", **more: Any) -> str:
    """A new aircraft whose serial number is its code in capitals."""
    worn = parse_mark(mark) if mark else None
    plate = {"maker": "Larkfield", "model": "L2", "serial": code.upper()}
    return do(book, actions.add_airframe, code=code, mark=worn, from_on=day(start), **plate, **more)


def mark(book: Book, code: str, text: str | None, start: str, on: str | None = None) -> str:
    worn = parse_mark(text) if text else None
    return do(book, actions.set_mark, on=on, aircraft=code, mark=worn, from_on=day(start))


def owner(book: Book, code: str, customer: str, start: str) -> str:
    return do(book, actions.set_owner, aircraft=code, owner=customer, from_on=day(start))


def strike(book: Book, name: str) -> str:
    return do(book, striking.strike, name=name, why="written in error")


def airframe_id(book: Book, code: str) -> int:
    with book.read() as session:
        return views.find_airframe(session, code, TODAY).id


def marks(book: Book, code: str) -> list[tuple[str | None, str, str | None]]:
    """The marks in turn: mark, first day, last day."""
    with book.read() as session:
        found = views.marks_of(session, views.find_airframe(session, code, TODAY).id, TODAY)
    return [(one.mark, str(one.from_on), str(one.last) if one.last else None) for one in found]


def owners(book: Book, code: str) -> list[tuple[str, str, str | None]]:
    """The owners in turn: customer, first day, last day."""
    with book.read() as session:
        found = views.owners_of(session, views.find_airframe(session, code, TODAY).id, TODAY)
    return [(one.owner.code, str(one.from_on), str(one.last) if one.last else None) for one in found]


def wears(book: Book, named: str, on: str) -> str:
    """The code of the aircraft that wears a mark on a day, as known today."""
    with book.read() as session:
        return views.find_airframe(session, named, day(on), TODAY).code


def quantity(text: str) -> Quantity:
    return Quantity.parse(text)
