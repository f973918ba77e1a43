"""Changes of a job's scope that were agreed after its plan was."""

from collections.abc import Callable
from typing import Any

import pytest

from coatbook.jobs import actions as jobs
from coatbook.jobs import scope
from coatbook.jobs.tables import Change
from coatbook.jobs.views import changes_of, find_job, steps_of
from coatbook.store.book import Book
from coatbook.values import Misuse, Refusal
from desk.shopfloor import agree, do, hand_over, new_job, quantity, strike, usd

DAY, NEXT = "2026-04-01", "2026-04-02"
PHONED: dict[str, Any] = {"job": 2, "what": "wash the elevator too", "by": "Jo Alder", "how": "by phone"}


@pytest.fixture
def washed(shop: Book) -> Book:
    """Job 2, a wash, agreed on NEXT."""
    new_job(shop, DAY, ("wash", ()))
    agree(shop, NEXT, 2)
    return shop


def change(book: Book, day: str = NEXT, **values: Any) -> int:
    return int(do(book, day, scope.change_scope, **(PHONED | values)).result)


def test_changes_are_numbered_within_the_job_and_no_number_comes_again(washed: Book) -> None:
    assert [change(washed), change(washed, price=usd("180.00"), service="polish", hours=quantity("90 min"))] == [1, 2]
    strike(washed, "change:2")
    assert change(washed, price=usd("-20.00"), service="wash", hours=quantity("-1 h")) == 3
    with washed.read() as session:
        first, third = changes_of(session, find_job(session, 2).id)
        assert session.get_one(Change, 2).hours == quantity("1.5 h").quanta
    assert (first.n, first.minor, first.service, first.hours) == (1, None, None, None)
    assert (third.n, third.minor, third.service, third.hours) == (3, -2000, "wash", quantity("-1 h"))
    assert (third.who, third.how) == ("Jo Alder", "by phone")


def test_steps_are_planned_for_a_change_and_keep_it(washed: Book) -> None:
    change(washed)
    do(washed, NEXT, jobs.plan_steps, job=2, service="wash", surfaces=["elevator"], change=1)
    with washed.read() as session:
        assert [step.change for step in steps_of(session, find_job(session, 2).id)] == [None, 1]
    with pytest.raises(Refusal, match="change 1 cannot be struck: step 5 stands on it"):
        strike(washed, "change:1")


def test_a_step_names_a_change_that_stands(washed: Book) -> None:
    with pytest.raises(Refusal, match="job 2 has no change 1: write what was agreed with `coatbook job change 2"):
        do(washed, NEXT, jobs.plan_steps, job=2, service="wash", change=1)
    change(washed)
    strike(washed, "change:1")
    with pytest.raises(Refusal, match="job 2 has no change 1"):
        do(washed, NEXT, jobs.plan_steps, job=2, service="wash", change=1)


def test_it_comes_after_the_agreement_and_before_the_handover(washed: Book) -> None:
    with pytest.raises(Refusal, match="job 1 is not agreed yet, so its plan may still change"):
        change(washed, job=1)
    with pytest.raises(Refusal, match="the change on 2026-04-01 would come before job 2 was agreed on 2026-04-02"):
        change(washed, DAY)
    hand_over(washed, NEXT, 2)
    with pytest.raises(Refusal, match="job 2 was handed over on"):
        change(washed)


@pytest.mark.parametrize(
    ("values", "says"),
    [
        ({"price": usd("180.00")}, "give --price and --as together"),
        ({"service": "polish"}, "give --price and --as together"),
        ({"hours": quantity("0 h")}, "a change of 0 hours is none"),
        ({"hours": quantity("1 ft")}, "must be a time"),
    ],
)
def test_what_is_no_change(washed: Book, values: dict[str, Any], says: str) -> None:
    with pytest.raises(Misuse, match=says):
        change(washed, **values)


def test_as_typed(furnished: object, coatbook: Callable[..., str]) -> None:
    coatbook("job", "open", "skylane", "mesa", "wash")
    coatbook("job", "plan", "2", "wash")
    coatbook("job", "agree", "2", "--by", "Jo Alder")
    told = coatbook(
        "job", "change", "2", "also the elevator", "--by", "Jo Alder", "--how", "by phone", "--hours", "-1h"
    )
    assert told.splitlines() == [
        "Job 2, change 1: also the elevator, -1 h, agreed with Jo Alder by phone.",
        "Plan its steps with `coatbook job plan 2 SERVICE … --change 1`.",
    ]
    assert "Wash on elevator" in coatbook("job", "plan", "2", "wash", "--surface", "elevator", "--change", "1")
