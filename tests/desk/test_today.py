"""`coatbook` alone: what needs a person today; to a newcomer, the first three things to type."""

import shlex
from collections.abc import Callable
from pathlib import Path

import pytest

from coatbook.jobs import actions as jobs
from coatbook.store.book import Book
from desk.shopfloor import CLAIM, agree, do, hand_over, issue, new_job, pay

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
    assert "coatbook job agree 1\n" in told
    agree(shop, "2026-08-10", 1, CLAIM)
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
    for command in (f"invoice issue {over}", f"invoice show {number}", f"job show {floor}", "job agree 1"):
        assert f"coatbook {command}\n" in told
    assert "35 days late" in told
    pay(shop, "2026-08-20", "159.38", number)
    assert coatbook().startswith("3 things")
