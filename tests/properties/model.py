"""A shop's books kept in plain lists and fractions, by someone who has never seen coatbook's code.

It says of each event whether it may be written, and from its own lists works out stock, invoices, profit and the
balance of every account. Money is whole cents; all else exact fractions; a tie is rounded away from zero.
"""

import datetime as dt
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any

from properties.seasons import SITES, WORKERS, Bought, Job, Line, Season

Ledger = list[tuple[dt.date, str, int]]
MONTH_ENDS = tuple(dt.date(2026, number + 1, 1) - dt.timedelta(days=1) for number in range(1, 9))


def half_up(exact: Fraction) -> int:
    size = int(abs(exact) + Fraction(1, 2))
    return size if exact >= 0 else -size


def in_force(rows: Any, day: dt.date) -> Any:
    """Of (day it begins, value) in the order written: the value of the latest to begin by `day`, the last written."""
    found = None
    for since, value in rows:
        if since <= day and (found is None or since >= found[0]):
            found = (since, value)
    return found[1] if found else None


@dataclass
class Kept:
    """A written line: the day it counts from, the day it stops counting (None: it stands)."""

    day: dt.date
    struck: dt.date | None = None

    def counts(self, on: dt.date) -> bool:
        return self.day <= on and (self.struck is None or self.struck > on)


@dataclass
class Lot(Kept):
    bought: Bought | None = None
    draws: list["Used"] = field(default_factory=list)

    def left(self) -> tuple[int, int]:
        """Thousandths and cents that no standing use has taken."""
        assert self.bought is not None
        taken = [
            (amount, cents)
            for use in self.draws
            if use.struck is None
            for lot, amount, cents in use.parts
            if lot is self
        ]
        return self.bought.thousandths - sum(a for a, _ in taken), self.bought.cents - sum(c for _, c in taken)


@dataclass
class Used(Kept):
    parts: list[tuple[Lot, int, int]] = field(default_factory=list)


@dataclass
class Cost(Kept):
    """A cost of a job, by what it is; `minutes` of work."""

    job: int = 0
    amounts: dict[str, int] = field(default_factory=dict)
    minutes: int = 0
    step: int | None = None
    use: Used | None = None


@dataclass
class Bill:
    day: dt.date
    job: int
    lines: list[tuple[str, int]]
    taxes: list[tuple[str, int, int]]  # place, base, amount

    @property
    def net(self) -> int:
        return sum(net for _, net in self.lines)

    @property
    def gross(self) -> int:
        return self.net + sum(amount for _, _, amount in self.taxes)


@dataclass
class Received(Kept):
    job: int = 0
    cents: int = 0


class Shop:
    """The model. Methods named after events answer whether the event may be written, and write it if so."""

    def __init__(self, season: Season) -> None:
        self.season = season
        self.closed = dt.date(2026, 1, 1)  # nothing is closed from here on
        self.lots: list[Lot] = []
        self.costs: list[Cost] = []
        self.bills: dict[int, Bill] = {}
        self.received: list[Received] = []

    def close(self, last: dt.date) -> None:
        self.closed = last

    def is_open(self, day: dt.date) -> bool:
        return day > self.closed

    def strike(self, line: Kept) -> None:
        line.struck = line.day if self.is_open(line.day) else self.closed + dt.timedelta(days=1)

    # stock

    def buy(self, bought: Bought) -> Lot | None:
        if not self.is_open(bought.day):
            return None
        lot = Lot(bought.day, bought=bought)
        self.lots.append(lot)
        return lot

    def may_strike_purchase(self, lot: Lot) -> bool:
        return all(use.struck is not None for use in lot.draws)

    def _draw(self, material: str, day: dt.date, amount: int) -> list[tuple[Lot, int, int]] | None:
        """First bought, first used; None if there is not enough."""
        parts = []
        shelf = [
            lot
            for lot in self.lots
            if lot.bought and lot.bought.material == material and lot.struck is None and lot.day <= day
        ]
        for lot in sorted(shelf, key=lambda one: one.day):
            assert lot.bought is not None
            left, worth = lot.left()
            taken = min(left, amount)
            if taken:
                share = half_up(Fraction(lot.bought.cents * taken, lot.bought.thousandths))
                parts.append((lot, taken, worth if taken == left else min(share, worth)))
                amount -= taken
        return None if amount else parts

    # the diary

    def write(self, job: int, line: Line) -> Cost | None:
        if not self.is_open(line.day):
            return None
        cost = Cost(line.day, job=job, step=line.step if line.kind in ("hours", "use") else None)
        if line.kind == "hours":
            hours = Fraction(line.amount, 60)
            labor = "owner_labor" if WORKERS[line.who] == "owner" else "labor"
            cost.amounts[labor] = half_up(in_force(self.season.wages[line.who], line.day) * hours)
            cost.amounts["overhead"] = half_up(in_force(self.season.overhead, line.day) * hours)
            cost.minutes = line.amount
        elif line.kind == "use":
            parts = self._draw(line.who, line.day, line.amount)
            if parts is None:
                return None
            cost.use = Used(line.day, parts=parts)
            for lot, _, _ in parts:
                lot.draws.append(cost.use)
            cost.amounts["materials"] = sum(cents for _, _, cents in parts)
        elif line.kind == "expense":
            cost.amounts["expenses"] = line.amount
        else:
            cost.amounts["expenses"] = half_up(Fraction(line.rate * line.amount, 1000))
        self.costs.append(cost)
        return cost

    def strike_cost(self, cost: Cost) -> None:
        self.strike(cost)
        if cost.use is not None:
            cost.use.struck = cost.struck

    # the invoice

    def invoice(self, number: int, job: Job, on: dt.date) -> Bill | None:
        lines = self._lines(number, job)
        if not lines:
            return None
        self.bills[number] = Bill(on, number, [(code, net) for code, _, net in lines], self._taxes(job, lines, on))
        return self.bills[number]

    def _lines(self, number: int, job: Job) -> list[tuple[str, str, int]]:
        """(service, kind of charge, net) in the order of the plan."""
        planned = [(code, surface) for code, surfaces in job.steps for surface in surfaces]
        found = []
        for code in dict.fromkeys(code for code, _ in planned):
            service = next(one for one in self.season.services if one.code == code)
            rows = [(price.since, (price, basis)) for price, basis in zip(service.prices, service.bases, strict=True)]
            price, basis = in_force(rows, job.agreed)
            own = [place for place, (of, _) in enumerate(planned, start=1) if of == code]
            if basis == "job":
                amount = Fraction(1)
            elif basis == "each":
                amount = Fraction(len(own))
            elif basis == "area":
                surfaces = {planned[place - 1][1] for place in own}  # each once, however many steps stand on it
                amount = Fraction(sum(self.season.areas[name] for name in surfaces), 1000)
            else:
                stand = [one for one in self.costs if one.job == number and one.struck is None and one.step in own]
                amount = Fraction(sum(one.minutes for one in stand), 60)
            if amount:
                found.append((code, service.kind, half_up(price.cents * amount * 1000 / price.per)))
        return found

    def _taxes(self, job: Job, lines: list[tuple[str, str, int]], on: dt.date) -> list[tuple[str, int, int]]:
        parts = SITES[job.site].split("-")
        places = ["-".join(parts[: count + 1]) for count in range(len(parts))]
        bases: dict[tuple[str, str, int], int] = {}
        for _, kind, net in lines:
            for place in places:
                own = [rate for rate in self.season.rates if (rate.place, rate.kind) == (place, kind)]
                for name in sorted({rate.name for rate in own}):
                    rate = in_force([(one.since, one.millionths) for one in own if one.name == name], on)
                    if rate:
                        bases[place, name, rate] = bases.get((place, name, rate), 0) + net
        exact = [Fraction(base * rate, 1_000_000) for (_, _, rate), base in bases.items()]
        tax, shares, given, running = half_up(sum(exact, Fraction(0))), [], 0, Fraction(0)
        for part in exact:
            running += part
            reached = half_up(tax * running / sum(exact)) if sum(exact) else 0
            shares.append(reached - given)
            given = reached
        return [(place, base, share) for ((place, _, _), base), share in zip(bases.items(), shares, strict=True)]

    def owed(self, job: int, on: dt.date | None = None) -> int:
        """What is owed on a job's invoice: now, or as of a day."""
        bill = self.bills.get(job)
        if bill is None or (on is not None and bill.day > on):
            return 0
        own = [one for one in self.received if one.job == job]
        return bill.gross - sum(one.cents for one in own if (one.counts(on) if on else one.struck is None))

    def pay(self, job: int, on: dt.date, per_cent: int) -> Received | None:
        cents = -(-self.owed(job) * per_cent // 100)
        if not cents:
            return None
        self.received.append(Received(on, job=job, cents=cents))
        return self.received[-1]

    # what follows from it

    def moves(self) -> list[tuple[dt.date, Cost, int]]:
        """(day, cost, sign): a cost on its day, and back when it is struck; nothing if that is one day."""
        found = []
        for cost in self.costs:
            if cost.struck != cost.day:
                found.append((cost.day, cost, 1))
                if cost.struck is not None:
                    found.append((cost.struck, cost, -1))
        return found

    def figures(self, job: int | None, first: dt.date, last: dt.date) -> dict[str, int]:
        """What recognized work came to between two days, as the book stood on the second."""
        names = ("revenue", "materials", "labor", "expenses", "owner_labor", "overhead")
        sums = dict.fromkeys((*names, "minutes"), 0)
        bills = {number: bill for number, bill in self.bills.items() if bill.day <= last and job in (None, number)}
        for bill in bills.values():
            if bill.day >= first:
                sums["revenue"] += bill.net
        for day, cost, sign in self.moves():
            bill_of = bills.get(cost.job)
            if day <= last and bill_of is not None and max(day, bill_of.day) >= first:
                for name, cents in cost.amounts.items():
                    sums[name] += sign * cents
                sums["minutes"] += sign * cost.minutes
        return sums

    def touched(self, job: int, first: dt.date, last: dt.date) -> bool:
        """Whether a job has a recognized line between two days."""
        bill = self.bills.get(job)
        if bill is None or bill.day > last:
            return False
        days = [bill.day, *(max(day, bill.day) for day, cost, _ in self.moves() if cost.job == job and day <= last)]
        return any(first <= day for day in days)

    def ledger(self) -> Ledger:
        """(day, account, debit or minus credit) of all there is."""
        found: Ledger = []

        def post(day: dt.date, debit: str, credit: str, cents: int) -> None:
            found.extend([(day, debit, cents), (day, credit, -cents)])

        for lot in self.lots:
            assert lot.bought is not None
            if lot.struck != lot.day:
                post(lot.day, "Materials on the shelf", "Purchases, to pay", lot.bought.cents)
                if lot.struck is not None:
                    post(lot.struck, "Purchases, to pay", "Materials on the shelf", lot.bought.cents)
        sources = {"materials": "Materials on the shelf", "labor": "Wages, to pay", "expenses": "Expenses, to pay"}
        for day, cost, sign in self.moves():
            bill = self.bills.get(cost.job)
            for name in sources.keys() & cost.amounts.keys():
                cents = sign * cost.amounts[name]
                if bill is not None and day > bill.day:
                    post(day, f"Cost of jobs: {name}", sources[name], cents)
                    continue
                post(day, "Work in progress", sources[name], cents)
                if bill is not None:
                    post(bill.day, f"Cost of jobs: {name}", "Work in progress", cents)
        for bill in self.bills.values():
            found.append((bill.day, "Owed by customers", bill.gross))
            found += [(bill.day, f"Earned: {code}", -net) for code, net in bill.lines]
            found += [(bill.day, "Tax collected, to remit", -amount) for _, _, amount in bill.taxes]
        for money in self.received:
            if money.struck != money.day:
                post(money.day, "Money received, to bank", "Owed by customers", money.cents)
                if money.struck is not None:
                    post(money.struck, "Owed by customers", "Money received, to bank", money.cents)
        return found

    def balances(self, on: dt.date) -> dict[str, int]:
        sums: dict[str, int] = {}
        for day, account, cents in self.ledger():
            if day <= on:
                sums[account] = sums.get(account, 0) + cents
        return {account: cents for account, cents in sums.items() if cents}

    def on_hand(self, material: str, on: dt.date) -> tuple[int, int]:
        """Thousandths and cents on the shelf at the end of a day: what was bought less what was used."""
        lots = [lot for lot in self.lots if lot.bought and lot.bought.material == material and lot.counts(on)]
        amount = sum(lot.bought.thousandths for lot in lots if lot.bought)
        cents = sum(lot.bought.cents for lot in lots if lot.bought)
        for lot in lots:
            for use in lot.draws:
                if use.counts(on):
                    amount -= sum(taken for of, taken, _ in use.parts if of is lot)
                    cents -= sum(worth for of, _, worth in use.parts if of is lot)
        return amount, cents
