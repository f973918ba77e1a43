"""Roles in a job: who asks and up to what sum, and one or more who pay, to the whole exactly."""

from typing import Any

import pytest

from coatbook.jobs import actions as jobs
from coatbook.jobs.tables import Party
from coatbook.jobs.views import asks_up_to, find_job, job_view, parties_of, payers_of
from coatbook.people.actions import add_customer
from coatbook.store.book import Book
from coatbook.values import Misuse, Refusal
from desk.shopfloor import TODAY, agree, do, new_job, quantity, usd

DAY = "2026-04-01"


@pytest.fixture
def three(shop: Book) -> Book:
    """A third customer, and job 2: a wash, nothing else."""
    do(shop, DAY, add_customer, code="clay", name="Clay Moor", address="5 Low Road")
    new_job(shop, DAY, ("wash", ()))
    return shop


def pay(book: Book, customer: str, share: str | None = None, amount: str | None = None) -> str:
    values: dict[str, Any] = {
        "share": quantity(share) if share else None,
        "amount": usd(amount) if amount else None,
    }
    return do(book, DAY, jobs.set_party, job=2, role="pays", customer=customer, **values).text


def payers(book: Book) -> dict[str, tuple[int | None, int | None]]:
    with book.read() as session:
        job = find_job(session, 2).id
        found = {one.person.code: (one.share, one.minor) for one in parties_of(session, job) if one.role == "pays"}
        assert len(found) == len(payers_of(session, job))
        return found


def test_one_payer_takes_the_place_of_another(three: Book) -> None:
    pay(three, "birch")
    assert payers(three) == {"birch": (None, None)}
    with three.read() as session:
        assert job_view(session, find_job(session, 2), TODAY).payer.code == "birch"


def test_a_share_leaves_the_rest_to_who_paid_before(three: Book) -> None:
    assert "Jo Alder pays the rest." in pay(three, "birch", "40 %")
    assert payers(three) == {"alder": (None, None), "birch": (400_000, None)}
    agree(three, DAY, 2)


def test_shares_that_come_to_the_whole_leave_no_rest(three: Book) -> None:
    pay(three, "birch", "33.333 %")
    assert "Jo Alder had the rest, which is nothing now" in pay(three, "clay", "66.667 %")
    assert payers(three) == {"birch": (333_330, None), "clay": (666_670, None)}


def test_a_new_share_of_the_same_customer_takes_the_place_of_the_old(three: Book) -> None:
    pay(three, "birch", "40 %")
    pay(three, "birch", "55 %")
    pay(three, "alder", "45 %")
    assert payers(three) == {"birch": (550_000, None), "alder": (450_000, None)}


def test_a_fixed_sum_leaves_the_rest_too(three: Book) -> None:
    pay(three, "birch", amount="100.00")
    assert payers(three) == {"alder": (None, None), "birch": (None, 10_000)}
    agree(three, DAY, 2)


def test_one_without_a_share_takes_it_all_again(three: Book) -> None:
    pay(three, "birch", "40 %")
    pay(three, "clay", amount="10.00")
    pay(three, "alder")
    assert payers(three) == {"alder": (None, None)}


def test_shares_never_come_to_more_than_the_whole(three: Book) -> None:
    pay(three, "birch", "60 %")
    with pytest.raises(Refusal, match=r"would come to 110 %: give clay 40 % or less"):
        pay(three, "clay", "50 %")
    with pytest.raises(Misuse, match="more than the whole"):
        pay(three, "clay", "100.001 %")


@pytest.mark.parametrize(
    ("share", "amount", "sentence"),
    [("60 %", None, "40 % is still to be shared out"), (None, "100.00", "write who takes what the sums leave")],
)
def test_nothing_is_agreed_while_nobody_pays_the_rest(
    three: Book, share: str | None, amount: str | None, sentence: str
) -> None:
    assert "Nobody has the rest yet" in pay(three, "alder", share, amount)
    with pytest.raises(Refusal, match=f"nobody pays the rest of job 2: {sentence}"):
        agree(three, DAY, 2)
    pay(three, "alder")
    agree(three, DAY, 2)


def test_who_asks_may_be_bound_to_a_sum(three: Book) -> None:
    with three.read() as session:
        assert asks_up_to(session, find_job(session, 2).id) is None
    do(three, DAY, jobs.set_party, job=2, role="asks", customer="birch", up_to=usd("500.00"))
    with three.read() as session:
        job = find_job(session, 2).id
        assert asks_up_to(session, job) == 50_000
        assert [one.role for one in parties_of(session, job)] == ["owner", "asks", "pays", "hears"]
        assert len(session.query(Party).filter_by(job=job, role="asks").all()) == 2  # the earlier is struck, not gone


@pytest.mark.parametrize(
    ("role", "more"),
    [("pays", {"up_to": usd("1.00")}), ("hears", {"share": quantity("5 %")}), ("owner", {"amount": usd("1.00")})],
)
def test_a_sum_binds_who_asks_and_a_share_who_pays(three: Book, role: str, more: dict[str, Any]) -> None:
    with pytest.raises(Misuse, match="leave out"):
        do(three, DAY, jobs.set_party, job=2, role=role, customer="clay", **more)


def test_as_typed(furnished: object, coatbook: Any, refused: Any) -> None:
    assert "Birch Flying Club pays 40 %." in coatbook("job", "party", "1", "pays", "birch", "--share", "40 %")
    assert "pays 120.00." in coatbook("job", "party", "1", "pays", "birch", "--share", "120")
    assert "(asks, up to 900.00 USD)" in coatbook("job", "party", "1", "asks", "birch", "--up-to", "900")
    assert "must be more than zero" in refused("job", "party", "1", "pays", "birch", "--share", "0 %")
