"""What tests of the shelf do in a furnished book: buy, change, look.

The furnished shop bought one quart (32 fl oz) of `sealant` on 2026-03-02 for 48.00, lot B-204: 1.50 a fluid ounce.
"""

import datetime as dt
from typing import Any

from coatbook.stock import actions, changes
from coatbook.stock.views import LotLeft, MaterialView, material
from coatbook.store.book import Book
from coatbook.values import Quantity
from desk.shopfloor import TODAY, do, quantity, usd

BOUGHT = "2026-03-02"


def buy(book: Book, day: str, amount: str, cost: str | None, label: str, code: str = "sealant", **more: Any) -> None:
    values: dict[str, Any] = {"code": code, "quantity": quantity(amount), "label": label, **more}
    if cost is not None:
        values |= {"cost": usd(cost), "supplier": "Hillside Supply"}
    do(book, day, actions.buy, **values)


def reprice(book: Book, day: str, lot: str, price: str) -> str:
    return do(book, day, changes.reprice, lot=lot, price=usd(price)).text


def count(book: Book, day: str, amount: str, lot: str | None = None, code: str = "sealant") -> str:
    return do(book, day, changes.count, code=code, quantity=quantity(amount), why="quarter's end", lot=lot).text


def expire(book: Book, day: str, lot: str, why: str | None = None) -> str:
    return do(book, day, changes.expire, lot=lot, why=why).text


def give_back(book: Book, day: str, lot: str, amount: str, credit: str) -> str:
    return do(book, day, changes.give_back, lot=lot, quantity=quantity(amount), credit=usd(credit)).text


def shelf(book: Book, on: dt.date = TODAY, code: str = "sealant") -> MaterialView:
    with book.read() as session:
        return material(session, code, on)


def lot(book: Book, label: str, on: dt.date = TODAY) -> LotLeft:
    """The only lot of the sealant with that label."""
    (found,) = [one for one in shelf(book, on).lots if one.label == label]
    return found


def left(book: Book, on: dt.date = TODAY) -> dict[str, tuple[str, int]]:
    """What is left of each lot of the sealant: fluid ounces, and minor units."""
    return {one.label: (str(Quantity(one.quanta, "fl oz")), one.minor) for one in shelf(book, on).lots}
