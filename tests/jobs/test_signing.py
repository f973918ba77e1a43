"""Who may do and sign a job's work is settled before it starts."""

from typing import Any

import pytest

from coatbook.desk.telling_gate import authority_sentences
from coatbook.jobs import actions as jobs
from coatbook.jobs import scope
from coatbook.jobs.views import find_job, signing_of, undecided_steps
from coatbook.store.book import Book
from coatbook.values import Misuse, Refusal
from desk.shopfloor import TODAY, begin, do, hand_over, new_job, strike

DAY = "2026-04-01"
SUPERVISED: dict[str, Any] = {
    "kind": "supervised",
    "by": "R. Moor",
    "certificate": "mechanic 0000001",
    "document": "work order 14",
    "why": "entered after an inspection",
}


def sign(book: Book, day: str = DAY, job: int = 1, **changes: Any) -> None:
    do(book, day, scope.settle_signing, job=job, **(SUPERVISED | changes))


def undecided(book: Book, job: int = 1) -> list[int]:
    with book.read() as session:
        return [step.key for step in undecided_steps(session, find_job(session, job).id)]


def test_abrasive_steps_wait_until_it_is_settled_who_signs(shop: Book) -> None:
    assert undecided(shop) == [2]  # the polish; the wash never waits
    sign(shop)
    assert undecided(shop) == []
    strike(shop, "authority:1")
    assert undecided(shop) == [2]


def test_the_latest_counts_and_the_earlier_stay(shop: Book) -> None:
    sign(shop)
    sign(shop, "2026-04-03", kind="no entry expected", by="Jo Alder", certificate=None, why="wash and wax only")
    sign(shop, "2026-04-02", by="L. Park")  # written later, settled earlier
    with shop.read() as session:
        found = signing_of(session, find_job(session, 1).id)
        assert found is not None
        assert (found.kind, found.name, found.certificate) == ("no entry expected", "Jo Alder", "none held")
        assert found.sentence == (
            "No entry expected: Jo Alder, none held, on work order 14 (2026-04-03); wash and wax only."
        )


def test_it_is_no_gate_that_was_passed(shop: Book) -> None:
    sign(shop)
    with shop.read() as session:
        assert authority_sentences(session, find_job(session, 1).id, TODAY) == ()


def test_a_typographic_apostrophe_is_an_apostrophe(shop: Book) -> None:
    sign(shop, kind="Owner’s mechanic decides", certificate=None)
    with shop.read() as session:
        found = signing_of(session, find_job(session, 1).id)
    assert found is not None
    assert found.kind == "owner's mechanic decides"


@pytest.mark.parametrize("kind", ["supervised", "repair station"])
@pytest.mark.parametrize("certificate", [None, "None held"])
def test_who_signs_holds_a_certificate(shop: Book, kind: str, certificate: str | None) -> None:
    with pytest.raises(Misuse, match="is signed on a certificate"):
        sign(shop, kind=kind, certificate=certificate)


def test_it_is_settled_before_the_handover_and_after_the_opening(shop: Book) -> None:
    with pytest.raises(Refusal, match="who signs on 2026-03-01 would come before job 1 was opened"):
        sign(shop, "2026-03-01")
    job = new_job(shop, DAY, ("wash", ()))
    begin(shop, DAY, job)
    sign(shop, job=job)
    hand_over(shop, DAY, job)
    with pytest.raises(Refusal, match="job 2 was handed over on 2026-04-01: open a rework"):
        sign(shop, job=job)


def test_work_of_older_services_is_abrasive_or_other(shop: Book) -> None:
    do(shop, DAY, jobs.plan_steps, job=1, service="wash")
    with shop.read() as session:
        works = [step.work for step in jobs.steps_of(session, find_job(session, 1).id)]
    assert works == ["other", "abrasive", "other", "other"]
