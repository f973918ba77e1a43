"""A notice about an aircraft that was sold is held until someone says who is to hear, and it names the command."""

import re
import shlex
from collections.abc import Callable

import pytest

from coatbook.aircraft.actions import set_owner
from coatbook.desk.hosting import host_for
from coatbook.desk.reminding import preview
from coatbook.jobs import actions as jobs
from coatbook.jobs import diary
from coatbook.people.actions import edit_customer
from coatbook.stock.actions import add_terms
from coatbook.store.book import Book
from desk.shopfloor import TODAY, agree, do, new_job

Command = Callable[..., str]


@pytest.fixture
def coated(shop: Book) -> Book:
    """Job 2 coats the left wing; an inspection is due. Both customers have a mail address."""
    do(shop, "2026-03-03", add_terms, code="sealant", item="inspection", every=5, per="month", grace=30)
    do(shop, "2026-03-10", edit_customer, code="birch", email="desk@birch.example.com")
    job = new_job(shop, "2026-03-10", ("coating", ("left wing",)))
    agree(shop, "2026-03-10", job)
    do(shop, "2026-03-10", jobs.arrive, job=job, by="Sam Reed")
    do(shop, "2026-03-10", diary.log_coat, job=job, material="sealant", surfaces=["left wing"], label="B-204")
    return shop


def hears(book: Book) -> list[tuple[str, bool]]:
    """Who hears, and whether that is held."""
    planned = preview(book, TODAY, host_for(False)).planned
    return [(one.customer.code, one.held_because is not None) for one in planned]


def test_the_command_it_names_lets_the_new_owner_hear(coated: Book, coatbook: Command) -> None:
    assert hears(coated) == [("alder", False)]
    do(coated, "2026-07-01", set_owner, aircraft="skylane", owner="birch")
    assert hears(coated) == [("alder", True)]
    told = coatbook("remind", "preview")
    assert "N123AB: the aircraft has another owner since, Birch Flying Club: ask whether they want to hear" in told
    (named,) = re.findall(r"`coatbook (job party [^`]+)`", told)
    assert named == "job party 2 hears birch"
    coatbook(*shlex.split(named))
    assert hears(coated) == [("birch", False)]


def test_someone_named_after_the_sale_hears_in_the_owners_place(coated: Book) -> None:
    do(coated, "2026-07-01", set_owner, aircraft="skylane", owner="birch")
    do(coated, "2026-07-02", jobs.set_party, job=2, role="hears", customer="alder")  # who still looks after it
    assert hears(coated) == [("alder", False)]


def test_someone_named_before_the_sale_does_not(coated: Book) -> None:
    do(coated, "2026-03-11", jobs.set_party, job=2, role="hears", customer="birch")
    assert hears(coated) == [("birch", False)]
    do(coated, "2026-07-01", set_owner, aircraft="skylane", owner="birch")
    assert hears(coated) == [("birch", False)]  # the new owner hears already
    do(coated, "2026-07-15", set_owner, aircraft="skylane", owner="alder")
    do(coated, "2026-07-16", set_owner, aircraft="skylane", owner="birch")
    do(coated, "2026-07-20", jobs.set_party, job=2, role="hears", customer="alder")
    do(coated, "2026-07-21", set_owner, aircraft="skylane", owner="alder")
    assert hears(coated) == [("alder", False)]
