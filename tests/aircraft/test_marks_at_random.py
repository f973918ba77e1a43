"""Whatever marks are written, struck and given up, in any order: nobody wears two, and no mark is worn twice.

The oracle knows no turns: it looks at every day by itself. All writings of an example are one act that is taken back.
"""

import datetime as dt
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sqlalchemy import func, select

from coatbook.aircraft.actions import add_airframe, set_mark
from coatbook.aircraft.lifetime import withdraw
from coatbook.aircraft.tables import Marking, Withdrawn
from coatbook.aircraft.views import wearer
from coatbook.desk.striking import strike
from coatbook.store.acts import Ask, OpenAct
from coatbook.store.book import Book
from coatbook.values import Refusal
from coatbook.values.marks import key_of, parse_mark

FIRST = dt.date(2026, 1, 1)
LAST = 5  # days after the first
CODES, MARKS = ("ash", "elm"), ("", "N1", "N2")
Writing = tuple[str, int, str, int]  # what, whose (of CODES) or which standing line, which mark, from which day

AIRCRAFT, DAYS = st.integers(0, len(CODES) - 1), st.integers(0, LAST)
marked = st.tuples(st.just("mark"), AIRCRAFT, st.sampled_from(MARKS), DAYS)
withdrawn = st.tuples(st.just("withdraw"), AIRCRAFT, st.just(""), DAYS)
struck = st.tuples(st.just("strike"), st.integers(0, 20), st.just(""), st.just(0))
writings = st.lists(st.one_of(marked, marked, marked, withdrawn, struck, struck), min_size=6, max_size=20)


@dataclass
class Oracle:
    """The lines that stand, by name: whose, from which day, and the mark (of a withdrawal: None)."""

    lines: dict[str, tuple[int, int, str | None]] = field(default_factory=dict)

    def mark(self, airframe: int, day: int) -> str:
        """The mark in force on a day, withdrawn or not."""
        begun = [(start, mark) for who, start, mark in self.lines.values() if who == airframe and start <= day]
        marks = [(start, mark) for start, mark in begun if mark is not None]
        return max(marks)[1] if marks else ""

    def worn(self, airframe: int, day: int) -> str:
        gone = any(who == airframe and start <= day and mark is None for who, start, mark in self.lines.values())
        return "" if gone else self.mark(airframe, day)

    def sound(self) -> bool:
        """Whether no line repeats another of its day, and no mark is worn twice on any day."""
        starts = [(who, start if mark is not None else None) for who, start, mark in self.lines.values()]
        days = [[self.worn(who, day) for who in range(len(CODES))] for day in range(LAST + 1)]
        return len(starts) == len(set(starts)) and all(not day[0] or day[0] != day[1] for day in days)


def write(act: OpenAct, oracle: Oracle, writing: Writing) -> None:
    """Do one writing, and check that it is refused exactly if it says nothing new or the oracle finds it unsound."""
    what, who, mark, start = writing
    if what == "strike":
        if oracle.lines:
            name = sorted(oracle.lines)[who % len(oracle.lines)]
            left = {line: value for line, value in oracle.lines.items() if line != name}
            if done(act, Oracle(left).sound(), strike, name=name, why="at random"):
                oracle.lines = left
        return
    row = (who, start, mark if what == "mark" else None)
    wanted = Oracle(oracle.lines | {"new": row}).sound() and (what != "mark" or oracle.mark(who, start) != mark)
    values = {"aircraft": CODES[who], "from_on": FIRST + dt.timedelta(days=start)}
    if what == "mark":
        written = done(act, wanted, set_mark, mark=parse_mark(mark) if mark else None, **values)
    else:
        written = done(act, wanted, withdraw, why="at random", **values)
    if written:
        table = Marking if what == "mark" else Withdrawn
        oracle.lines[f"{table.__tablename__}:{act.session.scalar(select(func.max(table.id)))}"] = row


def done(act: OpenAct, wanted: bool, action: Callable[..., Any], **values: Any) -> bool:
    """Whether an action was done, checked to be what is wanted."""
    try:
        action(act, **values)
    except Refusal as refusal:
        if wanted:
            raise AssertionError(f"{values} is refused") from refusal
        return False
    assert wanted, f"{values} is not refused"
    return True


@given(example=writings)
@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_no_day_has_two(book: Book, example: list[Writing]) -> None:
    def write_all(act: OpenAct) -> None:
        for code in CODES:
            add_airframe(act, code=code, maker="Larkfield", model="L2", serial=code)
        oracle = Oracle()
        for writing in example:
            write(act, oracle, writing)
        for day in range(LAST + 1):
            on = FIRST + dt.timedelta(days=day)
            for who, code in enumerate(CODES):
                worn = oracle.worn(who, day)
                row = wearer(act.session, key_of(worn), on, act.today)
                assert not worn or (row is not None and row.code == code)

    book.do(Ask("test", "tester", again=True, dry_run=True), write_all)
