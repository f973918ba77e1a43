"""What a named person looks at: the keep-off list on arrival, the masks before the handover."""

from collections.abc import Callable

import pytest

from coatbook.aircraft.tables import KeepOff
from coatbook.jobs import actions as jobs
from coatbook.jobs import diary, looks
from coatbook.jobs.tables import JobEvent
from coatbook.store.acts import Ask, OpenAct
from coatbook.store.book import Book
from coatbook.values import Refusal
from desk.shopfloor import agree, ask, day_of, do, hand_over, new_job, strike

DAY, NEXT = "2026-04-01", "2026-04-02"
Run = Callable[..., str]


def list_part(act: OpenAct, *, item: str, count: int) -> None:
    act.add(KeepOff(airframe=1, item=item, place="left side", count=count, rule="mask"))


@pytest.fixture
def floor(shop: Book) -> Book:
    """Job 2, a wash on the floor since DAY."""
    job = new_job(shop, DAY, ("wash", ()))
    agree(shop, DAY, job)
    do(shop, DAY, jobs.arrive, job=job, by="Sam Reed")
    return shop


def mask(book: Book, way: str, count: int = 2, day: str = DAY) -> int:
    return int(do(book, day, diary.log_mask, job=2, way=way, item="static port", count=count).result)


def look(book: Book, by: str = "Kim Soto", day: str = DAY) -> None:
    do(book, day, looks.look_at_masks, job=2, by=by)


def over(book: Book, day: str = NEXT, actor: str = "tester") -> None:
    book.do(Ask("job handover", actor, day_of(day), again=True), jobs.hand_over, job=2, to="Jo Alder")


def events(book: Book) -> list[tuple[str, str]]:
    with book.read() as session:
        return [(row.kind, row.who) for row in session.query(JobEvent).order_by(JobEvent.id)]


def test_an_aircraft_never_masked_needs_no_look(floor: Book) -> None:
    over(floor)


def test_one_that_was_masked_needs_a_look_after_the_last_mask(floor: Book) -> None:
    mask(floor, "on")
    mask(floor, "off")
    with pytest.raises(Refusal, match="nobody has looked at the aircraft of job 2 since its last mask"):
        over(floor)
    look(floor)
    mask(floor, "on", 1)
    mask(floor, "off", 1)
    with pytest.raises(Refusal, match="nobody has looked"):
        over(floor)
    look(floor, day=NEXT)
    with pytest.raises(Refusal, match="the handover on 2026-04-01 would come before the look at the masks"):
        over(floor, DAY)
    over(floor)
    assert events(floor)[-1] == ("handed over", "Jo Alder")
    assert ("masks looked at", "Kim Soto") in events(floor)


def test_a_struck_look_does_not_count(floor: Book) -> None:
    mask(floor, "on")
    mask(floor, "off")
    look(floor)
    strike(floor, "job_event:3")
    with pytest.raises(Refusal, match="nobody has looked"):
        over(floor)


@pytest.mark.parametrize(("by", "actor"), [("Sam Reed", "sam"), ("SAM", "Sam Reed"), ("pat", "Pat")])
def test_another_than_who_hands_over_looks(floor: Book, by: str, actor: str) -> None:
    mask(floor, "on")
    mask(floor, "off")
    look(floor, by)
    with pytest.raises(Refusal, match="another pair of eyes looks first"):
        over(floor, actor=actor)
    over(floor, actor="kim")


def test_who_works_alone_looks_alone(floor: Book, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(looks, "_workers", lambda act: 1)
    mask(floor, "on")
    mask(floor, "off")
    look(floor, "Sam Reed")
    over(floor, actor="sam")


def test_there_is_nothing_to_look_at_while_masks_are_on_or_never_were(floor: Book) -> None:
    with pytest.raises(Refusal, match="no mask went on in job 2"):
        look(floor)
    mask(floor, "on")
    with pytest.raises(Refusal, match=r"masks are still on in job 2 \(static port: 2\): take them off"):
        look(floor)
    mask(floor, "off", day=NEXT)
    with pytest.raises(Refusal, match="the look at the masks on 2026-04-01 would come before the last mask came off"):
        look(floor)
    with pytest.raises(Refusal, match="job 1 is not on the floor yet"):
        do(floor, NEXT, looks.look_at_masks, job=1, by="Kim Soto")


def test_an_aircraft_with_a_keep_off_list_arrives_looked_at(shop: Book) -> None:
    do(shop, DAY, list_part, item="static port", count=2)
    do(shop, DAY, list_part, item="de-ice boot", count=0)  # not on this one after all
    job = new_job(shop, DAY, ("wash", ()))
    agree(shop, DAY, job)
    with pytest.raises(Refusal, match=r"N123AB has 1 part on its keep-off list: hold the list .*keepoff N123AB`"):
        do(shop, DAY, jobs.arrive, job=job, by="Sam Reed")
    told = do(shop, DAY, jobs.arrive, job=job, by="Sam Reed", keepoff_seen_by="Kim Soto").text
    assert "Keep-off list of 1 part seen by Kim Soto." in told
    assert events(shop)[1:] == [("arrived", "Sam Reed"), ("keep-off list confirmed", "Kim Soto")]
    with pytest.raises(Refusal, match="job 2 is arrived already: strike that first"):
        strike(shop, "job_event:3")
    strike(shop, "last")
    assert shop.do(ask(DAY), jobs.arrive, job=job, by="Sam Reed", keepoff_seen_by="Kim Soto")


def test_a_list_without_parts_is_seen_by_whoever_wants(shop: Book) -> None:
    job = new_job(shop, DAY, ("wash", ()))
    agree(shop, DAY, job)
    do(shop, DAY, jobs.arrive, job=job, by="Sam Reed", keepoff_seen_by="Kim Soto")
    hand_over(shop, DAY, job)


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        (("look", "static port", "2", "--by", "Kim"), "a look is at all masks at once"),
        (("look",), "a look is at all masks at once, by someone"),
        (("on", "static port"), "masks are written by item and count"),
        (("off", "static port", "2", "--by", "Kim"), "masks are written by item and count"),
    ],
)
def test_misuse(typed: tuple[str, ...], says: str, furnished: object, refused: Run) -> None:
    assert says in refused("log", "mask", "1", *typed, code=2)


def test_a_look_that_an_event_rests_on_is_struck_after_it(floor: Book) -> None:
    mask(floor, "on")
    mask(floor, "off")
    look(floor)
    over(floor)
    with pytest.raises(Refusal, match="job 2 is handed over already: strike that first"):
        strike(floor, "job_event:3")
    strike(floor, "job_event:4")
    strike(floor, "job_event:3")
