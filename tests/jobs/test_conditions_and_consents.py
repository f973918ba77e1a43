"""How a surface looks, and consent to a test spot."""

from collections.abc import Callable
from typing import Any

import pytest

from coatbook.desk.hosting import host_for
from coatbook.desk.today import today
from coatbook.jobs import scope
from coatbook.jobs.views import conditions_of, consents_of, find_job, job_view
from coatbook.store.book import Book
from coatbook.values import Misuse, Refusal
from desk.shopfloor import TODAY, agree, begin, day_of, do, hand_over, new_job, quantity, strike

DAY, NEXT = "2026-04-01", "2026-04-02"
SPOT: dict[str, Any] = {
    "surface": "left wing",
    "place": "under the flap",
    "size": quantity("0.05 ft2"),
    "product": "fine compound",
    "risk": "color may come through",
    "by": "Jo Alder",
    "how": "by mail",
}


def look(book: Book, day: str, surface: str, state: str, job: int = 2, note: str | None = None) -> None:
    do(book, day, scope.look_at, job=job, surface=surface, state=state, note=note)


@pytest.fixture
def asked(shop: Book) -> Book:
    """Job 2, a wash, asked for on DAY."""
    new_job(shop, DAY, ("wash", ()))
    return shop


def state(book: Book, on: str | None = None) -> str:
    with book.read() as session:
        return job_view(session, find_job(session, 2), day_of(on) or TODAY).state


def test_a_job_is_looked_at_from_its_first_condition_until_it_is_agreed(asked: Book) -> None:
    assert state(asked) == "asked"
    look(asked, NEXT, "left wing", "chalking")
    assert (state(asked, DAY), state(asked, NEXT)) == ("asked", "looked at")
    assert 2 in [job.number for job in today(asked, host_for(True)).to_agree]
    agree(asked, NEXT, 2)
    assert state(asked) == "agreed"


def test_a_struck_condition_was_no_look(asked: Book) -> None:
    look(asked, DAY, "left wing", "dull")
    strike(asked, "condition:1")
    assert state(asked) == "asked"


def test_the_latest_look_at_a_surface_counts(asked: Book) -> None:
    look(asked, NEXT, "left wing", "Failing", note="peels at the root")
    look(asked, DAY, "left wing", "dull")
    look(asked, DAY, "elevator", "sound")
    with asked.read() as session:
        job = find_job(session, 2).id
        found = conditions_of(session, job, TODAY)
        assert [(one.surface, one.state, one.note) for one in found] == [
            ("elevator", "sound", None),
            ("left wing", "failing", "peels at the root"),
        ]
        assert [one.state for one in conditions_of(session, job, day_of(DAY) or TODAY)] == ["sound", "dull"]


def test_what_is_no_condition(asked: Book) -> None:
    with pytest.raises(Misuse, match="use one of sound, dull, chalking, failing"):
        look(asked, DAY, "left wing", "shiny")
    with pytest.raises(Refusal, match="skylane has no surface 'tail'"):
        look(asked, DAY, "tail", "dull")


def test_a_consent_keeps_all_that_was_told(asked: Book) -> None:
    do(asked, DAY, scope.consent, job=2, **SPOT)
    with asked.read() as session:
        (found,) = consents_of(session, find_job(session, 2).id)
    told = (found.surface, found.place, found.size, found.product, found.risk, found.who, found.how, found.on_day)
    assert told == (*SPOT.values(), day_of(DAY))


@pytest.mark.parametrize(
    ("values", "kind", "says"),
    [
        ({"size": quantity("2 in")}, Misuse, "the size 2 in must be an area: use one of m2, ft2"),
        ({"size": quantity("85 ft2")}, Refusal, "a test spot of 85 ft2 is larger than left wing with its 84 ft2"),
        ({"size": quantity("0 ft2")}, Refusal, "must be more than zero"),
        ({"risk": " "}, Misuse, "the risk that was told is empty"),
    ],
)
def test_what_is_no_consent(asked: Book, values: dict[str, Any], kind: type[Refusal], says: str) -> None:
    with pytest.raises(kind, match=says):
        do(asked, DAY, scope.consent, job=2, **(SPOT | values))


def test_both_come_before_the_handover(asked: Book) -> None:
    begin(asked, DAY, 2)
    hand_over(asked, DAY, 2)
    for action, values in ((scope.consent, SPOT), (scope.look_at, {"surface": "elevator", "state": "dull"})):
        with pytest.raises(Refusal, match="job 2 was handed over on 2026-04-01: open a rework"):
            do(asked, NEXT, action, job=2, **values)


def test_as_typed(furnished: object, coatbook: Callable[..., str]) -> None:
    assert coatbook("job", "condition", "1", "Left wing", "dull") == "Job 1: the paint of left wing is dull.\n"
    assert '"state": "looked at"' in coatbook("job", "list", "--json")
    typed = ("--place", "under the flap", "--size", "0.05 ft2", "--product", "fine compound", "--risk", "color loss")
    told = coatbook("job", "consent", "1", "left wing", *typed, "--by", "Jo Alder", "--how", "by mail")
    assert told.startswith(
        "Job 1: Jo Alder consented by mail to a test spot of 0.05 ft2 at under the flap on left wing"
    )
