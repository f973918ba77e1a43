"""The warranty calculator: the kit's checks, windows and their states, and what a miss does to the terms."""

import datetime as dt
from collections.abc import Iterable
from dataclasses import replace
from typing import Any

import pytest

from coatbook.calculators import (
    Calculator,
    Coating,
    Done,
    Due,
    Every,
    NotEnough,
    Result,
    Sheet,
    Terms,
    Upkeep,
    Verdict,
)
from coatbook.calculators.testing import CalculatorChecks
from coatbook.values import Misuse
from coatbook_plugins.warranty.calculator import CALCULATOR, Inputs, compute, gather


def day(text: str) -> dt.date:
    return dt.date.fromisoformat(text)


WASH = Upkeep("wash", (Every(6, "month"),), opens_before=14, grace=30, miss="warns")
INSPECTION = Upkeep("inspection", (Every(12, "month"),), opens_before=30, grace=30, miss="ends")
COATING = Inputs(applied=day("2025-01-31"), as_of=day("2025-01-31"), upkeep=(WASH, INSPECTION), coating="wing-sealant")


class TestContract(CalculatorChecks):
    sheets = (
        Sheet(
            day("2026-01-15"),
            "USD",
            coatings=(Coating("a", "wing", "sealant", day("2025-01-31"), Terms((WASH,))),),
        ),
    )

    @pytest.fixture
    def calculator(self) -> Calculator[Any]:
        return CALCULATOR

    @pytest.fixture
    def examples(self) -> tuple[Any, ...]:
        later = replace(COATING, as_of=day("2027-06-01"), done=(Done("wash", day("2025-08-01")),))
        return (COATING, later, replace(later, ended=day("2027-01-01")))


def rows(result: Result, item: str) -> list[Due]:
    return [due for due in result.dues if due.item == item]


def on(as_of: str, done: Iterable[Done] = (), **changes: Any) -> Result:
    return compute(replace(COATING, as_of=day(as_of), done=tuple(done), **changes))


def verdict(result: Result) -> Verdict:
    (only,) = result.verdicts
    assert only.of == "wing-sealant"
    assert only.gates == ()
    return only


@pytest.mark.parametrize(
    ("as_of", "state"),
    [
        ("2025-07-16", "not yet"),
        ("2025-07-17", "opening"),
        ("2025-07-30", "opening"),
        ("2025-07-31", "due"),
        ("2025-08-01", "in grace"),
        ("2025-08-30", "in grace"),
        ("2025-08-31", "missed"),
    ],
)
def test_a_window_opens_is_due_and_closes(as_of: str, state: str) -> None:
    first = rows(on(as_of), "wash")[0]
    assert (first.n, first.opens, first.due, first.closes) == (
        1, day("2025-07-17"), day("2025-07-31"), day("2025-08-30"),
    )  # fmt: skip
    assert first.state == state


def test_rows_run_from_the_first_not_done_to_the_first_still_to_open() -> None:
    assert [(due.n, due.state) for due in rows(on("2025-02-01"), "wash")] == [(1, "not yet")]
    assert [(due.n, due.state) for due in rows(on("2025-08-10"), "wash")] == [(1, "in grace"), (2, "not yet")]
    done = [Done("wash", day("2025-08-01"))]
    assert [(due.n, due.state) for due in rows(on("2025-08-10", done), "wash")] == [(2, "not yet")]


def test_a_missed_window_stays_and_later_ones_can_still_be_done() -> None:
    found = rows(on("2026-02-10", [Done("wash", day("2026-01-31"))]), "wash")
    assert [(due.n, due.state) for due in found] == [(1, "missed"), (2, "done"), (3, "not yet")]


def test_days_due_never_drift_from_the_anchor() -> None:
    monthly = Upkeep("wash", (Every(1, "month"),))
    found = on("2025-05-15", upkeep=(monthly,))
    expected = ["2025-02-28", "2025-03-31", "2025-04-30", "2025-05-31"]
    assert [due.due.isoformat() for due in found.dues] == expected


def test_upkeep_counts_for_one_window_only() -> None:
    often = Upkeep("wash", (Every(10, "day"),), opens_before=10, grace=10)
    found = on("2025-02-20", [Done("wash", day("2025-02-10"))], upkeep=(often,))
    assert (found.dues[0].n, found.dues[0].state) == (2, "due")


def test_upkeep_outside_every_window_counts_for_none() -> None:
    found = on("2025-08-10", [Done("wash", day("2025-05-01")), Done("polish", day("2025-08-01"))])
    assert rows(found, "wash")[0].state == "in grace"
    assert any("wash was done on 2025-05-01, outside every window" in caution for caution in found.cautions)
    assert any("polish was done on 2025-08-01, which the terms do not ask" in caution for caution in found.cautions)


def test_what_is_done_later_is_not_known_yet() -> None:
    found = on("2025-07-20", [Done("wash", day("2025-08-01"))])
    assert rows(found, "wash")[0].state == "opening"


def test_intervals_are_counted_from_after_the_cure() -> None:
    cured = replace(WASH, first_after=14)
    (due,) = on("2025-02-01", upkeep=(cured,)).dues
    assert due.due == day("2025-08-14")
    assert due.because == "1 × 6 months after 2025-02-14, 14 days after it was applied"


def test_of_several_intervals_the_first_reached_counts() -> None:
    either = Upkeep("wash", (Every(12, "month"), Every(100, "day")))
    (due,) = on("2025-02-01", upkeep=(either,)).dues
    assert due.due == day("2025-05-11")
    assert "100 days" in due.because


def test_the_day_before_and_calendar_months() -> None:
    assert rows(on("2025-02-01", applied=day("2025-01-15"), last_day="day before"), "wash")[0].due == day("2025-07-14")
    monthly = Upkeep("wash", (Every(6, "calendar month"),))
    (due,) = on("2025-02-01", applied=day("2025-01-15"), upkeep=(monthly,), last_day="day before").dues
    assert due.due == day("2025-07-31")


def test_flight_hours_are_refused() -> None:
    flown = Upkeep("recoat", (Every(36, "month"), Every(800, "flight hour")))
    with pytest.raises(NotEnough, match=r"wing-sealant, recoat: .* 800 flight hours .* hours flown are not known"):
        on("2025-02-01", upkeep=(flown,))


@pytest.mark.parametrize(
    ("miss", "level", "word"),
    [("ends", "stop", "ended"), ("shortens", "care", "shortened"), ("warns", "go", "in terms")],
)
def test_what_a_miss_does(miss: Any, level: str, word: str) -> None:
    found = on("2026-03-15", [Done("wash", day("2025-08-01")), Done("wash", day("2026-02-01"))],
               upkeep=(WASH, replace(INSPECTION, miss=miss)))  # fmt: skip
    assert rows(found, "inspection")[0].state == "missed"
    assert verdict(found).level == level
    assert verdict(found).reason.startswith(f"{word}: ")


def test_after_terms_ended_nothing_more_falls_due() -> None:
    found = on("2026-03-15")
    assert verdict(found).reason == "ended: inspection was to be done by 2026-03-02"
    assert [(due.item, due.n, due.state) for due in found.dues] == [
        ("wash", 1, "missed"), ("wash", 2, "missed"), ("inspection", 1, "missed"),
    ]  # fmt: skip


def test_in_terms_says_what_comes_next() -> None:
    assert verdict(on("2025-02-01")).reason == "in terms: wash is due on 2025-07-31"
    assert verdict(on("2025-08-10")).reason == "in terms: wash was due on 2025-07-31, its grace ends on 2025-08-30"


def test_a_coating_taken_off_has_no_dues() -> None:
    found = on("2025-08-10", ended=day("2025-08-01"))
    assert found.dues == ()
    assert verdict(found).level == "stop"
    assert on("2025-07-31", ended=day("2025-08-01")).dues


def test_anyone_may_do_it_and_nothing_says_otherwise() -> None:
    found = on("2026-03-15")
    text = " ".join([*found.cautions, *(due.consequence for due in found.dues), verdict(found).reason]).lower()
    assert "anyone may do this upkeep" in text
    assert "void" not in text
    assert "unless" not in text


@pytest.mark.parametrize(
    ("changes", "kind", "words"),
    [
        ({"upkeep": ()}, NotEnough, "ask for no upkeep"),
        ({"as_of": day("2025-01-30")}, NotEnough, "was not applied yet"),
        ({"upkeep": (Upkeep("wash", ()),)}, NotEnough, "how often"),
        ({"upkeep": (replace(WASH, grace=-1),)}, Misuse, "between 0 and 3660"),
    ],
)
def test_inputs_that_say_too_little_or_nonsense(changes: dict[str, Any], kind: type[Exception], words: str) -> None:
    with pytest.raises(kind, match=words):
        compute(replace(COATING, **changes))


def test_gathering_takes_the_terms_a_coating_was_laid_under() -> None:
    terms = Terms((WASH, INSPECTION), last_day="day before")
    bare = Coating("b", "tail", "sealant", day("2025-01-31"), Terms())
    full = Coating("a", "wing", "sealant", day("2025-01-31"), terms, done=(Done("wash", day("2025-08-01")),))
    (only,) = gather(Sheet(day("2025-09-01"), "USD", coatings=(bare, full)))
    assert (only.coating, only.upkeep, only.last_day, only.as_of) == (
        "a", (WASH, INSPECTION), "day before", day("2025-09-01"),
    )  # fmt: skip
    assert only.done == full.done
