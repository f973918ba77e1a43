"""Any history of a shelf, written into a book and into plain lists beside it: they agree to the cent.

The lists are kept by someone who has never seen coatbook's code: thousandths of a fluid ounce, whole cents, fractions,
a tie rounded away from zero.
"""

import datetime as dt
import shutil
import tempfile
from collections.abc import Callable
from contextlib import closing
from dataclasses import dataclass, field
from fractions import Fraction
from pathlib import Path
from typing import Any

from hypothesis import HealthCheck, event, given, settings
from hypothesis import strategies as st

from coatbook.billing import journal
from coatbook.desk import striking
from coatbook.desk.opening import open_book
from coatbook.desk.telling_review import month_data
from coatbook.jobs import diary
from coatbook.review.views import review_month
from coatbook.stock import actions, changes
from coatbook.stock.views import material
from coatbook.store.acts import Ask
from coatbook.store.book import Book
from coatbook.store.check import check
from coatbook.store.clock import Clock
from coatbook.values import Money, Quantity, Refusal
from coatbook.values.days import Month

TODAY = dt.date(2026, 8, 20)
FIRST = dt.date(2026, 5, 20)
BALANCES = ("Materials on the shelf", "Purchases, to pay", "Work in progress", "Cost of shop: materials")


def half_up(exact: Fraction) -> int:
    size = int(abs(exact) + Fraction(1, 2))
    return size if exact >= 0 else -size


@dataclass
class Lot:
    bought: int
    price: int
    amount: int
    worth: int
    gone: bool = False  # its purchase was struck

    def cost_of(self, amount: int) -> int:
        if amount == self.amount:
            return self.worth
        return min(half_up(Fraction(self.price * amount, self.bought)), self.worth)


@dataclass
class Written:
    """What an event did: to lots by place (amount, worth, price), to the shop, to what is owed, to jobs."""

    name: str
    parts: list[tuple[int, int, int, int]]
    shop: int = 0
    owed: int = 0
    jobs: int = 0
    struck: bool = False


@dataclass
class Shelf:
    """The plain lists. An event answers None if it may not be written."""

    lots: list[Lot] = field(default_factory=list)
    written: list[Written] = field(default_factory=list)

    def note(self, done: Written) -> Written:
        for place, amount, worth, price in done.parts:
            lot = self.lots[place]
            lot.amount, lot.worth, lot.price = lot.amount + amount, lot.worth + worth, lot.price + price
        self.written.append(done)
        return done

    def buy(self, amount: int, cents: int) -> Written:
        self.lots.append(Lot(amount, cents, 0, 0))
        return self.note(Written("buy", [(len(self.lots) - 1, amount, cents, 0)], owed=cents))

    def use(self, amount: int) -> Written | None:
        parts = self._off_the_oldest(amount)
        if parts is None:
            return None
        return self.note(Written("use", parts, jobs=-sum(worth for _, _, worth, _ in parts)))

    def _off_the_oldest(self, amount: int) -> list[tuple[int, int, int, int]] | None:
        parts = []
        for place, lot in enumerate(self.lots):
            taken = min(lot.amount, amount)
            if taken:
                parts.append((place, -taken, -lot.cost_of(taken), 0))
            amount -= taken
        return None if amount else parts

    def reprice(self, place: int, more: int) -> Written:
        lot = self.lots[place]
        worth = half_up(Fraction((lot.price + more) * lot.amount, lot.bought))
        grown = worth - lot.worth
        return self.note(Written("change", [(place, 0, grown, more)], shop=more - grown, owed=more))

    def count(self, amount: int) -> Written | None:
        had = sum(lot.amount for lot in self.lots)
        if amount <= had:
            parts = self._off_the_oldest(had - amount)
        else:
            parts = self._back_into_lots(amount - had)
        if parts is None:
            return None
        return self.note(Written("change", parts, shop=-sum(worth for _, _, worth, _ in parts)))

    def _back_into_lots(self, amount: int) -> list[tuple[int, int, int, int]] | None:
        begun = [place for place, lot in enumerate(self.lots) if lot.amount]
        empty = [place for place, lot in enumerate(self.lots) if not lot.amount and not lot.gone]
        parts = []
        for place in begun + empty[::-1]:
            lot = self.lots[place]
            put = min(lot.bought - lot.amount, amount)
            if put:
                parts.append((place, put, half_up(Fraction(lot.price * put, lot.bought)), 0))
            amount -= put
        return None if amount else parts

    def expire(self, place: int) -> Written | None:
        lot = self.lots[place]
        if not lot.amount:
            return None
        return self.note(Written("change", [(place, -lot.amount, -lot.worth, 0)], shop=lot.worth))

    def give_back(self, place: int, amount: int, credit: int) -> Written | None:
        lot = self.lots[place]
        if amount > lot.amount:
            return None
        cost = lot.cost_of(amount)
        return self.note(Written("change", [(place, -amount, -cost, 0)], shop=cost - credit, owed=-credit))

    def strike(self, which: int) -> Written | None:
        """Take an event back: a use always; a change or a purchase only while nothing stands on it."""
        done = self.written[which]
        touched = {place for place, *_ in done.parts}
        later = [
            one for one in self.written[which + 1 :] if not one.struck and touched & {part[0] for part in one.parts}
        ]
        if done.struck or (done.name != "use" and later):
            return None
        done.struck = True
        for place, amount, worth, price in done.parts:
            lot = self.lots[place]
            lot.amount, lot.worth, lot.price = lot.amount - amount, lot.worth - worth, lot.price - price
            lot.gone = done.name == "buy"
        return done

    def balances(self) -> dict[str, int]:
        stand = [one for one in self.written if not one.struck]
        sums = {
            BALANCES[0]: sum(lot.worth for lot in self.lots),
            BALANCES[1]: -sum(one.owed for one in stand),
            BALANCES[2]: sum(one.jobs for one in stand),
            BALANCES[3]: sum(one.shop for one in stand),
        }
        return {account: cents for account, cents in sums.items() if cents}


AMOUNT, CENTS, PLACE = st.integers(1, 40_000), st.integers(0, 9_999), st.integers(0, 9)
STEPS = st.lists(
    st.one_of(
        st.tuples(st.just("buy"), AMOUNT, CENTS),
        st.tuples(st.just("use"), AMOUNT),
        st.tuples(st.just("use"), AMOUNT),
        st.tuples(st.just("reprice"), PLACE, st.integers(0, 9_999)),
        st.tuples(st.just("count"), st.integers(0, 60_000)),
        st.tuples(st.just("expire"), PLACE),
        st.tuples(st.just("give_back"), PLACE, AMOUNT, CENTS),
        st.tuples(st.just("strike"), st.integers(0, 30)),
    ),
    min_size=3,
    max_size=14,
)


def ounces(amount: int) -> Quantity:
    return Quantity.of(Fraction(amount, 1000), "fl oz")


class Both:
    """The book and the lists. The furnished lot is the first of both."""

    def __init__(self, book: Book) -> None:
        self.book, self.shelf, self.on = book, Shelf(), FIRST
        self.names: list[list[str]] = [["purchase:1"]]
        self.changes = self.entries = 0
        self.shelf.buy(32_000, 4800)

    def write(self, step: tuple[Any, ...]) -> None:
        kind, *given = step
        if kind in ("reprice", "expire", "give_back"):
            given[0] %= len(self.shelf.lots)
            if self.shelf.lots[given[0]].gone:
                return
        if kind == "reprice" and given[1] == self.shelf.lots[given[0]].price:
            return
        getattr(self, kind)(*given)

    def do(
        self, done: Written | None, names: Callable[[], list[str]], action: Callable[..., Any], **values: Any
    ) -> None:
        """Let the book do what the lists did, or refuse what they refused."""
        refused = self._refused(Ask(action.__name__, "tester", self.on, again=True), action, **values)
        assert refused == (done is None), (action.__name__, values)
        event(f"{'refused' if refused else 'written'}: {action.__name__}")
        if not refused:
            self.names.append(names())

    def _refused(self, ask: Ask, action: Callable[..., Any], **values: Any) -> bool:
        try:
            self.book.do(ask, action, **values)
        except Refusal:
            return True
        return False

    def buy(self, amount: int, cents: int) -> None:
        done = self.shelf.buy(amount, cents)
        place = len(self.shelf.lots)
        values = {"code": "sealant", "supplier": "Low Road", "label": f"L-{place}", "cost": Money(cents, "USD")}
        self.do(done, lambda: [f"purchase:{place}"], actions.buy, quantity=ounces(amount), **values)

    def use(self, amount: int) -> None:
        done = self.shelf.use(amount)
        self.entries += done is not None
        values = {"job": 1, "material": "sealant", "quantity": ounces(amount)}
        self.do(done, lambda: [str(self.entries)], diary.log_use, **values)

    def _change(self, done: Written | None, action: Callable[..., Any], **values: Any) -> None:
        first = self.changes + 1
        self.changes += len(done.parts) if done else 0
        self.do(done, lambda: [f"lot_change:{n}" for n in range(first, self.changes + 1)], action, **values)

    def reprice(self, place: int, price: int) -> None:
        done = self.shelf.reprice(place, price - self.shelf.lots[place].price)
        self._change(done, changes.reprice, lot=f"purchase:{place + 1}", price=Money(price, "USD"))

    def count(self, amount: int) -> None:
        if all(lot.gone for lot in self.shelf.lots):
            return
        self._change(
            self.shelf.count(amount), changes.count, code="sealant", quantity=ounces(amount), why="quarter's end"
        )

    def expire(self, place: int) -> None:
        self._change(self.shelf.expire(place), changes.expire, lot=f"purchase:{place + 1}", why="froze")

    def give_back(self, place: int, amount: int, credit: int) -> None:
        done = self.shelf.give_back(place, amount, credit)
        values = {"quantity": ounces(amount), "credit": Money(credit, "USD")}
        self._change(done, changes.give_back, lot=f"purchase:{place + 1}", **values)

    def strike(self, which: int) -> None:
        which %= len(self.shelf.written)
        done = self.shelf.strike(which)
        ask = Ask("strike", "tester", None, again=True, dry_run=done is None)
        refused = [self._refused(ask, striking.strike, name=name, why="wrong") for name in self.names[which]]
        assert any(refused) == (done is None), self.names[which]
        event(f"{'refused' if done is None else 'written'}: strike")

    def compare(self) -> None:
        with self.book.read() as session:
            found = {lot.purchase: lot for lot in material(session, "sealant", TODAY).lots}
        for place, lot in enumerate(self.shelf.lots):
            if lot.gone:
                assert place + 1 not in found
                continue
            view = found[place + 1]
            assert (view.quanta, view.minor) == (ounces(lot.amount).quanta, lot.worth)
            assert (view.whole_quanta, view.whole_minor) == (ounces(lot.bought).quanta, lot.price)
            assert view.quanta >= 0

    def compare_accounts(self) -> None:
        balances: dict[str, int] = {}
        with self.book.read() as session:
            for line in journal.postings(session, TODAY):
                balances[line.account] = balances.get(line.account, 0) + line.minor
            for month in range(3, 9):
                data = month_data(review_month(session, Month(2026, month), TODAY), "USD")
                profit, shop = Fraction(data["profit_before_owner"]), Fraction(data["shop_costs"])
                assert Fraction(data["journal_profit"]) == profit - shop
            for day in (FIRST + dt.timedelta(days=offset) for offset in range(0, 90, 7)):
                worth = sum(line.minor for line in journal.postings(session, day) if line.account == journal.STOCK)
                assert material(session, "sealant", day).value == worth
        assert {account: cents for account, cents in balances.items() if cents} == self.shelf.balances()


@settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])
@given(steps=STEPS, days=st.lists(st.integers(0, 9), min_size=14, max_size=14))
def test_any_history_of_a_shelf(furnished_template: Path, steps: list[tuple[Any, ...]], days: list[int]) -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = str(shutil.copy(furnished_template, Path(folder) / "book.db"))
        with closing(open_book(path, Clock(TODAY))) as book:
            both = Both(book)
            for step, later in zip(steps, days, strict=False):
                both.on += dt.timedelta(days=later)
                both.on = min(both.on, TODAY)
                both.write(step)
                both.compare()
            both.compare_accounts()
            assert check(book) == []
