"""Random seasons of a shop: services and prices, tax, materials, jobs with their lines, payments and closed months.

Only plain data: days, whole cents, whole minutes, thousandths of a square foot and of a fluid ounce.
"""

import datetime as dt
from dataclasses import dataclass
from typing import Any, Literal

from hypothesis import strategies as st

FIRST = dt.date(2026, 2, 1)
LONGEST = 100  # days from FIRST to the last handover; what comes later still falls before August
BASES = ("job", "each", "area", "hour")
KINDS = ("labor", "material", "travel", "other")
PLACES = ("US", "US-TX", "US-TX-MESA", "US-TX-RIO")
SITES = {"north": "US-TX", "mesa": "US-TX-MESA", "rio": "US-TX-RIO"}
WORKERS = {"sam": "owner", "kim": "employee", "lee": "subcontractor"}
CUSTOMERS = ("alder", "birch")
SURFACES = ("left wing", "right wing", "fuselage", "tail")
MATERIALS = ("soap", "polish")


@dataclass(frozen=True)
class Priced:
    """From a day on: cents for so many thousandths of what is counted (square feet, hours)."""

    since: dt.date
    cents: int
    per: int


@dataclass(frozen=True)
class Service:
    code: str
    kind: str
    prices: tuple[Priced, ...]
    bases: tuple[str, ...]  # of each price


@dataclass(frozen=True)
class Rate:
    place: str
    kind: str
    name: str
    since: dt.date
    millionths: int


@dataclass(frozen=True)
class Bought:
    material: str
    day: dt.date
    late: int
    thousandths: int
    cents: int
    struck_after: int | None


@dataclass(frozen=True)
class Line:
    """A line of the diary: `amount` is minutes, thousandths of a fluid ounce, cents, or thousandths of a mile."""

    kind: Literal["hours", "use", "expense", "travel"]
    day: dt.date
    late: int
    amount: int
    who: str
    step: int | None
    rate: int
    struck_after: int | None


@dataclass(frozen=True)
class Paid:
    after: int  # days after the invoice
    per_cent: int  # of what is owed then
    struck_after: int | None


@dataclass(frozen=True)
class Job:
    payer: str
    site: str
    opened: dt.date
    agreed: dt.date
    arrived: dt.date
    over: dt.date
    invoiced: dt.date | None
    steps: tuple[tuple[str, tuple[str, ...]], ...]
    lines: tuple[Line, ...]
    paid: tuple[Paid, ...]


@dataclass(frozen=True)
class Season:
    areas: dict[str, int]  # thousandths of a square foot
    wages: dict[str, tuple[tuple[dt.date, int], ...]]
    overhead: tuple[tuple[dt.date, int], ...]
    services: tuple[Service, ...]
    rates: tuple[Rate, ...]
    bought: tuple[Bought, ...]
    jobs: tuple[Job, ...]
    closings: tuple[int, ...]  # months of 2026, one after the other


def day(offset: int) -> dt.date:
    return FIRST + dt.timedelta(days=offset)


BEGIN = dt.date(2026, 1, 2)
LATER = st.integers(0, LONGEST).map(day)
STRUCK = st.integers(-45, 45).map(lambda after: after if after >= 0 else None)  # half of them stand
LATE = st.sampled_from((0, 0, 0, 1, 10, 40))  # days between the day a line belongs to and the day it is written
CENTS = st.integers(0, 200_00)


def dated(values: st.SearchStrategy[int]) -> st.SearchStrategy[tuple[tuple[dt.date, int], ...]]:
    """A value from the very beginning, and up to two later ones."""
    changes = st.lists(st.tuples(LATER, values), max_size=2)
    return st.builds(lambda first, rest: ((BEGIN, first), *rest), values, changes)


@st.composite
def services(draw: Any) -> tuple[Service, ...]:
    found = []
    for number in range(draw(st.integers(1, 3))):
        days = [BEGIN, *draw(st.lists(LATER, max_size=2))]
        bases = tuple(draw(st.sampled_from(BASES)) for _ in days)
        prices = tuple(
            Priced(
                since, draw(CENTS), draw(st.sampled_from((1000, 10_000, 2_500))) if basis in ("area", "hour") else 1000
            )
            for since, basis in zip(days, bases, strict=True)
        )
        found.append(Service(f"service-{number}", draw(st.sampled_from(KINDS)), prices, bases))
    return tuple(found)


RATES = st.lists(
    st.builds(
        Rate,
        place=st.sampled_from(PLACES),
        kind=st.sampled_from(KINDS),
        name=st.sampled_from(("State tax", "Local tax", "A levy")),
        since=st.just(BEGIN) | LATER,
        millionths=st.integers(0, 100_000),
    ),
    max_size=5,
).map(tuple)

BOUGHT = st.builds(
    Bought,
    material=st.sampled_from(MATERIALS),
    day=st.integers(0, 40).map(day),
    late=LATE,
    thousandths=st.integers(1, 300_000),
    cents=CENTS,
    struck_after=STRUCK,
)


@st.composite
def lines(draw: Any, opened: dt.date, arrived: dt.date, over: dt.date, steps: int) -> Line:
    kind = draw(st.sampled_from(("hours", "hours", "use", "use", "expense", "travel")))
    first, last = (arrived, over) if kind == "hours" else (opened, over + dt.timedelta(days=30))
    return Line(
        kind=kind,
        day=draw(st.dates(first, last)),
        late=draw(LATE),
        amount=draw(st.integers(1, {"hours": 720, "use": 40_000, "expense": 500_00, "travel": 90_000}[kind])),
        who=draw(st.sampled_from(MATERIALS if kind == "use" else tuple(WORKERS))),
        step=draw(st.none() | st.integers(1, steps)),
        rate=draw(st.integers(0, 99)),
        struck_after=draw(STRUCK),
    )


@st.composite
def job(draw: Any, codes: tuple[str, ...]) -> Job:
    opened, agreed, arrived, over = (day(offset) for offset in sorted(draw(st.tuples(*[st.integers(0, LONGEST)] * 4))))
    some = st.lists(st.sampled_from(SURFACES), min_size=1, max_size=3, unique=True).map(tuple)
    steps = tuple(draw(st.lists(st.tuples(st.sampled_from(codes), some), min_size=1, max_size=3)))
    count = sum(len(surfaces) for _, surfaces in steps)
    paid = st.builds(Paid, after=st.integers(0, 40), per_cent=st.integers(1, 100), struck_after=STRUCK)
    return Job(
        payer=draw(st.sampled_from(CUSTOMERS)),
        site=draw(st.sampled_from(tuple(SITES))),
        opened=opened,
        agreed=agreed,
        arrived=arrived,
        over=over,
        invoiced=draw(st.integers(-3, 20).map(lambda after: over + dt.timedelta(days=after) if after >= 0 else None)),
        steps=steps,
        lines=tuple(draw(st.lists(lines(opened, arrived, over, count), min_size=4, max_size=10))),
        paid=tuple(draw(st.lists(paid, max_size=3))),
    )


@st.composite
def seasons(draw: Any) -> Season:
    """A season of one or two jobs from February on."""
    offered = draw(services())
    codes = tuple(service.code for service in offered)
    first, count = draw(st.integers(2, 4)), draw(st.integers(0, 4))
    return Season(
        areas={name: draw(st.integers(1_000, 200_000)) for name in SURFACES},
        wages={code: draw(dated(CENTS)) for code in WORKERS},
        overhead=draw(dated(CENTS)),
        services=offered,
        rates=draw(RATES),
        bought=tuple(draw(st.lists(BOUGHT, min_size=2, max_size=6))),
        jobs=tuple(draw(st.lists(job(codes), min_size=1, max_size=2))),
        closings=tuple(range(first, first + count)),
    )
