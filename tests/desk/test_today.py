"""`coatbook` alone: what needs a person today; to a newcomer, the first three things to type."""

import datetime as dt
import re
import shlex
from collections.abc import Callable
from pathlib import Path

import pytest

from coatbook.aircraft.actions import set_owner
from coatbook.desk.hosting import host_for
from coatbook.desk.reminding import letters, preview
from coatbook.jobs import actions as jobs
from coatbook.jobs import diary
from coatbook.stock.actions import add_terms
from coatbook.store.book import Book
from coatbook.upkeep import actions as upkeep
from desk.shopfloor import CLAIM, TODAY, agree, do, hand_over, issue, new_job, pay

Command = Callable[..., str]


def test_a_newcomer_is_told_three_commands_that_work(
    coatbook: Command, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COATBOOK_BOOK", str(tmp_path / "new" / "book.db"))
    told = coatbook()
    assert told.startswith("There is no book yet. The first three things to type:")
    typed = [shlex.split(line) for line in told.replace("\\\n", " ").splitlines() if line.startswith("  coatbook ")]
    assert [words[1:3] for words in typed] == [["init", "--name"], ["customer", "add"], ["aircraft", "add"]]
    for words in typed:
        assert coatbook(*words[1:])
    assert "has no job yet. Open one with `coatbook job open" in coatbook()


def test_where_one_thing_waits_and_where_nothing_does(shop: Book, coatbook: Command) -> None:
    told = coatbook()
    assert told.startswith("1 thing in the book of Larkfield Aircraft Finish waits for a person today.")
    assert "coatbook job agree 1 --by NAME\n" in told
    agree(shop, "2026-08-10", 1, CLAIM)
    told = coatbook()
    assert told.startswith("1 thing in the book of Larkfield Aircraft Finish waits for a person today.")
    assert "coatbook job arrive 1 --by NAME\n" in told
    do(shop, "2026-08-11", jobs.arrive, job=1, by="Sam Reed")
    do(shop, "2026-08-11", jobs.hand_over, job=1, to="Jo Alder", no_charge=True)
    assert coatbook().startswith("Nothing in the book of Larkfield Aircraft Finish waits for a person today.")


def test_what_waits_is_named_with_the_command_that_does_it(shop: Book, coatbook: Command) -> None:
    late, over, floor = (new_job(shop, "2026-07-01", ("wash", ())) for _ in range(3))
    hand_over(shop, "2026-07-02", late)
    number = issue(shop, "2026-07-02", late)  # due on the 16th
    hand_over(shop, "2026-08-02", over)
    agree(shop, "2026-08-02", floor)
    do(shop, "2026-08-02", jobs.arrive, job=floor, by="Sam Reed")
    told = coatbook()
    assert told.startswith("4 things in the book of Larkfield Aircraft Finish wait for a person today.")
    for command in (f"invoice issue {over}", f"invoice show {number}", f"job show {floor}", "job agree 1 --by NAME"):
        assert f"coatbook {command}\n" in told
    assert "35 days late" in told
    pay(shop, "2026-08-20", "159.38", number)
    assert coatbook().startswith("3 things")


def coat(book: Book) -> None:
    """A job that coats the left wing in March, under terms that ask for an inspection in August."""
    terms = {"item": "inspection", "every": 5, "per": "month", "grace": 30}
    do(book, "2026-03-03", add_terms, code="sealant", **terms)
    job = new_job(book, "2026-03-10", ("coating", ("left wing",)))
    agree(book, "2026-03-10", job)
    do(book, "2026-03-10", jobs.arrive, job=job, by="Sam Reed")
    do(book, "2026-03-10", diary.log_coat, job=job, material="sealant", surfaces=["left wing"], label="B-204")


def test_a_reminder_that_is_due_to_be_sent_is_counted(shop: Book, coatbook: Command) -> None:
    coat(shop)
    told = coatbook()
    assert re.search(r"^remind +1 reminder +to be sent +coatbook remind send$", told, flags=re.MULTILINE)
    do(shop, "2026-07-01", set_owner, aircraft="skylane", owner="birch")
    told = coatbook()
    assert re.search(r"^ask +1 notice +held +coatbook remind preview$", told, flags=re.MULTILINE)
    assert "to be sent" not in told


def test_a_message_that_may_have_gone_is_named(shop: Book, coatbook: Command, monkeypatch: pytest.MonkeyPatch) -> None:
    coat(shop)
    (letter,) = letters(shop, preview(shop, TODAY, host_for(False)).planned)
    values = {"customer": "alder", "to_address": "jo@example.com", "message_id": letter.message_id}
    do(shop, None, upkeep.write_message, content=letter.content, notices=letter.notices, **values)
    assert "1 reminder" in coatbook()  # it waits to go
    do(shop, None, upkeep.claim, message=1, carrier="folder")
    told = coatbook()
    assert "1 reminder" not in told
    assert "unsure" not in told  # it may be going right now
    monkeypatch.setattr("coatbook.upkeep.views.LEASE", dt.timedelta(0))
    told = coatbook()
    assert re.search(r"^find out +message 1 +unsure +coatbook remind list$", told, flags=re.MULTILINE)
    assert (
        "Message 1 may have gone or not: find out, then `coatbook remind settle 1 --sent`, else `--not-sent`." in told
    )


def test_a_job_without_a_plan_is_planned_before_it_is_agreed(shop: Book, coatbook: Command) -> None:
    job = new_job(shop, "2026-08-01")
    assert f"coatbook job plan {job} SERVICE\n" in coatbook()


def test_it_fits_a_screen_whatever_an_aircraft_is_called(shop: Book, coatbook: Command) -> None:
    words = ("--maker", "Larkfield Aeroplanes", "--model", "L2 Seaplane", "--serial", "0000000000012")
    coatbook("aircraft", "add", "lark", *words, "--owner", "birch", "--on", "2026-03-02")
    agree(shop, "2026-08-10", new_job(shop, "2026-08-01", ("wash", ()), aircraft="lark"))
    assert max(map(len, coatbook().splitlines())) <= 80
