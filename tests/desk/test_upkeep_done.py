"""Upkeep done in time, too early or too late: what it means for the terms is said at once, and by `upkeep show`.

The left wing is coated on 2026-03-10 under terms that ask for a rinse every three months with 14 days of grace: due on
2026-06-10 and 2026-09-10, its windows open 30 days before and close on 2026-06-24 and 2026-09-24.
"""

import json
from collections.abc import Callable

import pytest

from coatbook.calculators.discovery import Plugins
from coatbook.desk import hosting
from coatbook.jobs import actions as jobs
from coatbook.jobs import diary
from coatbook.stock.actions import add_terms
from coatbook.store.book import Book
from desk.shopfloor import CLAIM, agree, do, new_job

Command = Callable[..., str]
CLOSED = "the window that closed on 2026-06-24 was missed, so the coating"
NEXT = "the next can be done from 2026-08-11 until 2026-09-24"


@pytest.fixture
def coated(shop: Book) -> Callable[[str], None]:
    """Coats the left wing under terms with a consequence: ends, shortens or warns."""

    def coat(miss: str) -> None:
        rinse = {"item": "rinse", "every": 3, "per": "month", "grace": 14, "miss": miss}
        do(shop, "2026-03-03", add_terms, code="sealant", **rinse)
        job = new_job(shop, "2026-03-10", ("coating", ("left wing",)))
        agree(shop, "2026-03-10", job, CLAIM)
        do(shop, "2026-03-10", jobs.arrive, job=job, by="Sam Reed")
        do(shop, "2026-03-10", diary.log_coat, job=job, material="sealant", surfaces=["left wing"], label="B-204")

    return coat


def done(coatbook: Command, day: str, item: str = "rinse") -> str:
    """What is said on the second line, after what was written."""
    first, *rest = coatbook("upkeep", "done", "N123AB", item, "--by", "owner", "--on", day).splitlines()
    assert first == f"skylane: {item.lower()} done on {day} by owner."
    return " ".join(rest)


def test_in_time(coated: Callable[[str], None], coatbook: Command) -> None:
    coated("shortens")
    assert (
        done(coatbook, "2026-06-24", "Rinse") == "On left wing: it is in time and counts as the one due on 2026-06-10."
    )


@pytest.mark.parametrize(("miss", "so"), [("shortens", "'s terms are shortened"), ("warns", " may wear sooner")])
def test_too_late(coated: Callable[[str], None], coatbook: Command, miss: str, so: str) -> None:
    coated(miss)
    assert done(coatbook, "2026-06-25") == f"On left wing: it is too late to count; {CLOSED}{so}; {NEXT}."


def test_too_late_where_a_miss_ends_the_terms(coated: Callable[[str], None], coatbook: Command) -> None:
    coated("ends")
    ended = f"it is too late to count; {CLOSED}'s terms end; the terms ask for nothing more"
    assert done(coatbook, "2026-06-25") == f"On left wing: {ended}."


def test_in_time_after_an_earlier_one_was_missed(coated: Callable[[str], None], coatbook: Command) -> None:
    coated("shortens")
    told = done(coatbook, "2026-08-20")
    assert (
        told == f"On left wing: it is in time and counts as the one due on 2026-09-10; {CLOSED}'s terms are shortened."
    )


@pytest.mark.parametrize("before", [(), ("2026-06-11",)])
def test_too_early_or_twice(coated: Callable[[str], None], coatbook: Command, before: tuple[str, ...]) -> None:
    coated("shortens")
    for day in before:
        done(coatbook, day)
    opens, closes = ("2026-08-11", "2026-09-24") if before else ("2026-05-11", "2026-06-24")
    assert done(coatbook, "2026-06-12" if before else "2026-05-01") == (
        "On left wing: it is outside every window, or a second time in one, and counts for none; "
        f"the next can be done from {opens} until {closes}."
    )


def test_it_is_written_even_if_nobody_can_say_what_it_means(
    coated: Callable[[str], None], coatbook: Command, monkeypatch: pytest.MonkeyPatch
) -> None:
    coated("shortens")
    monkeypatch.setattr(hosting, "Plugins", lambda enabled, no_plugins: Plugins(entries=()))
    assert done(coatbook, "2026-06-25").startswith(
        "On left wing: what it means for the terms could not be worked out (no plug-in brings a calculator 'warranty'"
    )


def test_a_retry_with_its_key_tells_the_same(coated: Callable[[str], None], coatbook: Command) -> None:
    coated("shortens")
    words = ("upkeep", "done", "N123AB", "rinse", "--by", "owner", "--on", "2026-06-25", "--key", "k1")
    first = coatbook(*words)
    assert "too late" in first
    assert coatbook(*words) == first


def test_what_cannot_be_written_is_refused_as_before(coated: Callable[[str], None], refused: Command) -> None:
    coated("shortens")
    told = refused("upkeep", "done", "N123AB", "waxing", "--by", "owner")
    assert "the coatings of skylane ask for no 'waxing' on 2026-08-20 (rinse)" in told
    assert "there is no aircraft 'N9ZZ'" in refused("upkeep", "done", "N9ZZ", "rinse", "--by", "owner")


def test_show_says_a_state_once_and_what_was_done_too_late(coated: Callable[[str], None], coatbook: Command) -> None:
    coated("shortens")
    done(coatbook, "2026-06-25")
    told = coatbook("upkeep", "show", "N123AB")
    assert told.startswith("N123AB carries 1 coating; 1 item missed, the last closed on 2026-06-24; 1 item to do, ")
    state = "The terms of sealant of 2026-03-10 are shortened: rinse was to be done by 2026-06-24 (left wing)."
    assert f"\n{state}\n" in told
    assert "\nRinse was done on 2026-06-25, outside every window or a second time in one.\n" in told
    assert "shortened: shortened" not in told
    (coating,) = json.loads(coatbook("upkeep", "show", "N123AB", "--json"))["coatings"]
    assert coating["state"] == "shortened"
    assert any("2026-06-25" in note for note in coating["notes"])


def test_show_says_that_terms_have_ended(coated: Callable[[str], None], coatbook: Command) -> None:
    coated("ends")
    told = coatbook("upkeep", "show", "N123AB")
    assert "The terms of sealant of 2026-03-10 have ended: rinse was to be done by 2026-06-24 (left wing)." in told
