"""A job that is called off: nothing more is done on it; and what a rework must be a rework of."""

from collections.abc import Callable
from typing import Any

import pytest

from coatbook.aircraft.actions import add_airframe
from coatbook.jobs import actions as jobs
from coatbook.jobs import diary, scope
from coatbook.jobs.gauge_file import Spot
from coatbook.jobs.views import find_job, job_view
from coatbook.store.book import Book
from coatbook.values import Misuse, Refusal
from desk.shopfloor import (
    TODAY,
    agree,
    begin,
    day_of,
    do,
    expense,
    hand_over,
    hours,
    issue,
    lay,
    new_job,
    quantity,
    read_film,
    strike,
    usd,
    use,
)

DAY, NEXT, LATER = "2026-04-01", "2026-04-02", "2026-04-03"
OFF: dict[str, Any] = {"by": "Jo Alder", "why": "the aircraft is sold"}


def call_off(book: Book, job: int, day: str = NEXT) -> None:
    do(book, day, scope.call_off, job=job, **OFF)


@pytest.fixture
def floor(shop: Book) -> tuple[Book, int]:
    """A wash and a coating on the floor since DAY."""
    job = new_job(shop, DAY, ("wash", ()), ("coating", ("left wing",)))
    begin(shop, DAY, job)
    return shop, job


def state(book: Book, job: int, on: str | None = None) -> str:
    with book.read() as session:
        return job_view(session, find_job(session, job), day_of(on) or TODAY).state


def test_it_is_told_by_its_state_from_that_day_on(floor: tuple[Book, int]) -> None:
    shop, job = floor
    call_off(shop, job)
    assert state(shop, job, DAY) == "on the floor"
    assert state(shop, job) == "called off"
    with shop.read() as session:
        assert job_view(session, find_job(session, job), TODAY).called_off_why == "the aircraft is sold"


def test_it_may_be_called_off_before_anything_is_agreed(shop: Book) -> None:
    call_off(shop, 1)
    assert state(shop, 1) == "called off"


READ = {"spots": [Spot("left wing", "1", (quantity("60 µm"),))], "gauge": "magnetic", "serial": "1"}
AIR = {"air": quantity("20 °C"), "skin": quantity("20 °C"), "humidity": quantity("40 %")}
NO_MORE: dict[str, Callable[[Book, int], object]] = {
    "hours": lambda book, job: hours(book, LATER, "sam", "1h", 1, job),
    "uses": lambda book, job: use(book, LATER, "1 fl oz", job),
    "readings": lambda book, job: do(book, LATER, diary.log_film, job=job, **READ),
    "conditions": lambda book, job: do(book, LATER, diary.log_conditions, job=job, **AIR),
    "coats": lambda book, job: lay(book, LATER, job, "left wing"),
    "masks": lambda book, job: do(book, LATER, diary.log_mask, job=job, way="on", item="pitot", count=1),
    "masks of the days before": lambda book, job: do(
        book, DAY, diary.log_mask, job=job, way="on", item="pitot", count=1
    ),
    "steps": lambda book, job: do(book, LATER, jobs.plan_steps, job=job, service="wash"),
    "agreement": lambda book, job: agree(book, LATER, job),
    "arrival": lambda book, job: do(book, LATER, jobs.arrive, job=job, by="Sam Reed"),
    "handover": lambda book, job: do(book, LATER, jobs.hand_over, job=job, to="Jo Alder"),
    "signing": lambda book, job: do(
        book, LATER, scope.settle_signing, job=job, kind="no entry expected", by="Jo", document="letter", why="wash"
    ),
    "a second time": lambda book, job: call_off(book, job, LATER),
}


@pytest.mark.parametrize("what", NO_MORE)
def test_nothing_more_is_done_on_it(floor: tuple[Book, int], what: str) -> None:
    shop, job = floor
    call_off(shop, job)
    says = r"job 2 was called off on 2026-04-02 \(the aircraft is sold\): if it goes on after all, write that first"
    with pytest.raises(Refusal, match=says):
        NO_MORE[what](shop, job)


def test_a_bill_a_trip_a_note_and_hours_of_the_days_before_may_still_come(floor: tuple[Book, int]) -> None:
    shop, job = floor
    call_off(shop, job)
    expense(shop, LATER, "35.00", job)
    do(shop, LATER, diary.log_travel, job=job, distance=quantity("10 mi"), rate=usd("0.67"), where="to fetch the tools")
    do(shop, LATER, diary.log_note, job=job, note="Deposit goes back.")
    hours(shop, NEXT, "sam", "1h", 1, job)


def test_a_called_off_job_that_was_struck_goes_on(floor: tuple[Book, int]) -> None:
    shop, job = floor
    call_off(shop, job)
    with shop.read() as session:
        event = jobs.event_day(session, find_job(session, job).id, "called off")
    assert event == day_of(NEXT)
    strike(shop, "last", LATER)
    hand_over(shop, LATER, job)
    assert state(shop, job) == "handed over"


def test_it_is_not_called_off_before_its_last_work(floor: tuple[Book, int]) -> None:
    shop, job = floor
    hours(shop, NEXT, "sam", "1h", 1, job)
    with pytest.raises(Refusal, match="would come before its last work on 2026-04-02"):
        call_off(shop, job, DAY)
    with pytest.raises(Refusal, match="would come before job 2 was opened"):
        call_off(shop, job, "2026-03-31")


def test_nor_with_a_mask_on_nor_after_the_handover(floor: tuple[Book, int]) -> None:
    shop, job = floor
    do(shop, DAY, diary.log_mask, job=job, way="on", item="pitot", count=1)
    with pytest.raises(Refusal, match=r"masks are still on the aircraft \(pitot: 1\): take them off first"):
        call_off(shop, job)
    do(shop, DAY, diary.log_mask, job=job, way="off", item="pitot", count=1)
    washed = new_job(shop, DAY, ("wash", ()))
    hand_over(shop, DAY, washed)
    with pytest.raises(Refusal, match="job 3 was handed over on"):
        call_off(shop, washed)
    issue(shop, DAY, washed)
    with pytest.raises(Refusal, match="job 3 was handed over on"):
        call_off(shop, washed)


def rework(book: Book, of: int, day: str = LATER, aircraft: str = "skylane", cause: str | None = "streaks") -> None:
    values = {"aircraft": aircraft, "site": "mesa", "asked_for": "again", "rework_of": of, "cause": cause}
    do(book, day, jobs.open_job, **values)


def test_a_rework_mends_a_job_of_the_same_aircraft_that_was_handed_over(floor: tuple[Book, int]) -> None:
    shop, job = floor
    with pytest.raises(Refusal, match="job 2 is not handed over yet, so there is nothing to rework"):
        rework(shop, job)
    hand_over(shop, NEXT, job)
    with pytest.raises(Refusal, match="the rework on 2026-04-01 would come before the handover of job 2"):
        rework(shop, job, DAY)
    do(shop, DAY, add_airframe, code="archer", maker="Piper", model="PA-28", serial="1", owner="birch")
    with pytest.raises(Refusal, match="job 2 was on another aircraft"):
        rework(shop, job, aircraft="archer")
    with pytest.raises(Misuse, match="give --rework-of and --cause together"):
        rework(shop, job, cause=None)
    rework(shop, job)


def test_a_called_off_job_is_not_reworked(shop: Book) -> None:
    read_film(shop, DAY)
    call_off(shop, 1)
    with pytest.raises(Refusal, match="job 1 is not handed over yet"):
        rework(shop, 1)


def test_as_typed(furnished: object, coatbook: Callable[..., str]) -> None:
    told = coatbook("job", "cancel", "1", "--by", "Jo Alder", "--why", "the aircraft is sold")
    assert told == (
        "Job 1 is called off by Jo Alder: the aircraft is sold. What it cost so far counts from 2026-08-20.\n"
    )
    assert '"state": "called off"' in coatbook("job", "list", "--json")
