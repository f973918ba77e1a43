"""What a calculator answers: figures, verdicts that gate steps, needs to buy, dues to remind of."""

import datetime as dt
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from coatbook.values import Quantity, Refusal

Level = Literal["go", "care", "stop", "unknown"]
State = Literal["not yet", "opening", "due", "in grace", "done", "missed"]


class NotEnough(Refusal):
    """The honest refusal: too little is known for an answer. One sentence, and no failure."""


@dataclass(frozen=True, slots=True)
class Figure:
    """One computed value.

    Shapes: `unit` is a unit's name, a currency code, or "1" for a pure number; `of` is the surface, spot,
    product or stage; `low` and `high` are its range where there is one; `rounding` says how it left binary
    arithmetic ("half up to 0.1").
    """

    name: str
    value: Decimal
    unit: str
    of: str = ""
    low: Decimal | None = None
    high: Decimal | None = None
    rounding: str = ""


@dataclass(frozen=True, slots=True)
class Verdict:
    """A judgment of a surface or coating, and the keys of the steps it stands before."""

    of: str
    level: Level
    reason: str
    gates: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Need:
    """What has to be at hand: `amount` of the product `what`, `packs` to buy, `by` a day."""

    what: str
    amount: Quantity
    step: str | None = None
    low: Quantity | None = None
    high: Quantity | None = None
    packs: int | None = None
    by: dt.date | None = None


@dataclass(frozen=True, slots=True)
class Due:
    """The n-th time one item of a coating's upkeep falls due, and how it stands.

    `because` says how the day came about, `consequence` what a miss does; `due_range` is set for projected
    days.
    """

    coating: str
    item: str
    n: int
    opens: dt.date
    due: dt.date
    closes: dt.date
    state: State
    because: str
    consequence: str
    due_range: tuple[dt.date, dt.date] | None = None


@dataclass(frozen=True, slots=True)
class Result:
    """One answer. `cautions` always stand beside it; `sources` name where its formulas come from."""

    figures: tuple[Figure, ...] = ()
    verdicts: tuple[Verdict, ...] = ()
    needs: tuple[Need, ...] = ()
    dues: tuple[Due, ...] = ()
    cautions: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()
