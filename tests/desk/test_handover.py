"""From the floor back to the owner: the order of events, and every mask accounted for."""

import pytest

from coatbook.desk.closing import close_month
from coatbook.jobs import actions as jobs
from coatbook.jobs import diary
from coatbook.jobs.looks import look_at_masks
from coatbook.jobs.views import find_job, job_view, masks_left_on
from coatbook.store.book import Book
from coatbook.values import Misuse, Refusal
from coatbook.values.days import Month
from desk.shopfloor import TODAY, agree, begin, do, hand_over, issue, new_job, strike

DAY, NEXT = "2026-04-01", "2026-04-02"


@pytest.fixture
def floor(shop: Book) -> tuple[Book, int]:
    """A wash that stands on the floor since DAY."""
    job = new_job(shop, DAY, ("wash", ()))
    agree(shop, DAY, job)
    do(shop, DAY, jobs.arrive, job=job, by="Sam Reed")
    return shop, job


def mask(book: Book, job: int, way: str, item: str, count: int, day: str = DAY) -> int:
    return int(do(book, day, diary.log_mask, job=job, way=way, item=item, count=count).result)


def over(book: Book, job: int, day: str = NEXT) -> None:
    do(book, day, jobs.hand_over, job=job, to="Jo Alder")


def state(book: Book, job: int) -> str:
    with book.read() as session:
        return job_view(session, find_job(session, job), TODAY).state


def test_a_job_moves_on_event_by_event(shop: Book) -> None:
    job = new_job(shop, DAY, ("wash", ()))
    states = [state(shop, job)]
    for move in (
        lambda: agree(shop, DAY, job),
        lambda: do(shop, DAY, jobs.arrive, job=job, by="Sam Reed"),
        lambda: over(shop, job),
    ):
        move()
        states.append(state(shop, job))
    assert states == ["asked", "agreed", "on the floor", "handed over"]


def test_no_event_comes_before_the_one_it_follows(shop: Book) -> None:
    job = new_job(shop, DAY)
    with pytest.raises(Refusal, match="job 2 has no plan to agree to"):
        agree(shop, DAY, job)
    do(shop, DAY, jobs.plan_steps, job=job, service="wash")
    with pytest.raises(Refusal, match="the agreement on 2026-03-31 would come before the job was opened"):
        agree(shop, "2026-03-31", job)
    with pytest.raises(Refusal, match="job 2 is not agreed yet: `coatbook job agree 2` comes first"):
        do(shop, DAY, jobs.arrive, job=job, by="Sam Reed")
    agree(shop, NEXT, job)
    with pytest.raises(Refusal, match="the arrival on 2026-04-01 would come before agreed on 2026-04-02"):
        do(shop, DAY, jobs.arrive, job=job, by="Sam Reed")
    with pytest.raises(Refusal, match="job 2 is not arrived yet: `coatbook job arrive 2` comes first"):
        over(shop, job)
    do(shop, NEXT, jobs.arrive, job=job, by="Sam Reed")
    with pytest.raises(Refusal, match="the handover on 2026-04-01 would come before arrived"):
        over(shop, job, DAY)
    over(shop, job)


def test_no_event_comes_twice(floor: tuple[Book, int]) -> None:
    shop, job = floor
    with pytest.raises(Refusal, match="job 2 is agreed since 2026-04-01: nothing to write"):
        agree(shop, NEXT, job)
    over(shop, job)
    with pytest.raises(Refusal, match="job 2 is handed over since 2026-04-02"):
        over(shop, job)
    with pytest.raises(Refusal, match="job 2 was handed over on 2026-04-02: open a rework"):
        do(shop, NEXT, jobs.plan_steps, job=job, service="wash")


def test_a_mask_left_on_stops_the_handover(floor: tuple[Book, int]) -> None:
    shop, job = floor
    mask(shop, job, "on", "Static port", 2)
    mask(shop, job, "on", "pitot tube", 1)
    mask(shop, job, "off", "static port", 1)
    with pytest.raises(
        Refusal, match=r"not all accounted for \(pitot tube: 1 on more than off, static port: 1 on more than off\)"
    ):
        over(shop, job)
    mask(shop, job, "off", "pitot tube", 1)
    mask(shop, job, "off", "static port", 1)
    do(shop, DAY, look_at_masks, job=job, by="Kim Soto")
    over(shop, job)


def test_no_more_masks_come_off_than_went_on(floor: tuple[Book, int]) -> None:
    shop, job = floor
    with pytest.raises(Refusal, match="fewer than 1 masks of 'static port' are on"):
        mask(shop, job, "off", "static port", 1)
    mask(shop, job, "on", "static port", 2)
    with pytest.raises(Refusal, match="fewer than 3 masks"):
        mask(shop, job, "off", "static port", 3)
    with pytest.raises(Misuse, match="way"):
        mask(shop, job, "away", "static port", 1)
    with pytest.raises(Misuse, match="count"):
        mask(shop, job, "on", "static port", 0)


@pytest.mark.parametrize(("way", "left"), [("on", -2), ("off", 2)])
def test_a_struck_mask_upsets_the_count_either_way(floor: tuple[Book, int], way: str, left: int) -> None:
    shop, job = floor
    lines = {"on": mask(shop, job, "on", "static port", 2), "off": mask(shop, job, "off", "static port", 2)}
    strike(shop, lines[way])
    with shop.read() as session:
        assert masks_left_on(session, find_job(session, job).id) == (("static port", left),)
    with pytest.raises(Refusal, match=f"static port: {left} on more than off"):
        over(shop, job)


def test_masks_of_another_job_are_its_own(floor: tuple[Book, int]) -> None:
    shop, job = floor
    other = new_job(shop, DAY, ("wash", ()))
    begin(shop, DAY, other)
    mask(shop, other, "on", "static port", 2)
    over(shop, job)


def test_an_event_stays_while_a_later_one_stands_on_it(floor: tuple[Book, int]) -> None:
    shop, job = floor
    with pytest.raises(Refusal, match="job 2 is arrived already: strike that first"):
        strike(shop, "job_event:1")
    over(shop, job)
    with pytest.raises(Refusal, match="job 2 is handed over already: strike that first"):
        strike(shop, "job_event:2")
    strike(shop, "job_event:3")
    assert state(shop, job) == "on the floor"
    strike(shop, "job_event:2")
    strike(shop, "job_event:1")
    assert state(shop, job) == "asked"


def test_what_led_to_an_invoice_stands(floor: tuple[Book, int]) -> None:
    shop, job = floor
    over(shop, job)
    issue(shop, NEXT, job)
    with pytest.raises(Refusal, match="job 2 is invoiced as 2026-0001: what led to the invoice stands"):
        strike(shop, "job_event:3")


def test_a_handover_at_no_charge_is_over_at_once(floor: tuple[Book, int]) -> None:
    shop, job = floor
    do(shop, NEXT, jobs.hand_over, job=job, to="Jo Alder", no_charge=True)
    with pytest.raises(Refusal, match="was handed over at no charge on 2026-04-02: there is nothing to invoice"):
        issue(shop, NEXT, job)
    for month in (Month(2026, 3), Month(2026, 4)):
        do(shop, None, close_month, month=month)
    with pytest.raises(Refusal, match="recognized at no charge in a closed month: reopen the month first"):
        strike(shop, "job_event:3")


def test_an_agreed_job_may_be_handed_over_on_one_day(shop: Book) -> None:
    job = new_job(shop, DAY, ("wash", ()))
    hand_over(shop, DAY, job)
    assert state(shop, job) == "handed over"
