"""Corrections in the demo's book: a wrong line leaves no trace in any figure, and a closed month stays as it is."""

from collections.abc import Callable
from pathlib import Path

import pytest

from coatbook.cli import run

Command = Callable[..., str]
ASKED = (
    ("job", "list"),
    ("invoice", "show", "2026-0001"),
    ("material", "list"),
    ("payment", "list"),
    ("review", "job", "1"),
    ("review", "month", "2026-05"),
    ("review", "month", "2026-11"),
    ("remind", "list"),
    ("upkeep", "show", "N123AB"),
)
CLOSED = (
    "but 2026-05 is closed: date it 2026-06-01 or later and name the month it belongs to, or reopen with "
    "`coatbook book reopen 2026-05 --why …`"
)


def figures(coatbook: Command) -> dict[tuple[str, ...], str]:
    told = {words: coatbook(*words, "--json") for words in ASKED}
    return told | {("journal", month): coatbook("export", "journal", month) for month in ("2026-05", "2026-11")}


def test_a_wrong_line_struck_restores_every_figure(coatbook: Command) -> None:
    before = figures(coatbook)
    for words in (
        ("log", "expense", "1", "950.00", "hangar"),
        ("log", "use", "1", "soap", "100 fl oz"),
        ("log", "travel", "1", "460 mi", "to the field", "--rate", "0.70"),
        ("upkeep", "done", "N123AB", "decontamination wash", "--by", "owner"),
    ):
        coatbook(*words)
        assert figures(coatbook) != before, words
        assert "Struck " in coatbook("strike", "last", "--why", "of another job")
        assert figures(coatbook) == before, words
    assert coatbook("book", "check")


@pytest.mark.parametrize(
    "words",
    [
        ("log", "expense", "1", "950.00", "hangar"),
        ("log", "use", "1", "soap", "1 fl oz"),
        ("log", "note", "1", "rain"),
        ("material", "buy", "soap", "1 gal", "40.00", "--supplier", "Field Supply", "--lot", "S-12"),
        ("upkeep", "done", "N123AB", "inspection", "--by", "owner"),
    ],
)
def test_no_line_is_dated_into_a_closed_month(refused: Command, words: tuple[str, ...]) -> None:
    assert refused(*words, "--on", "2026-05-31") == f"coatbook: the line is dated 2026-05-31, {CLOSED}"


@pytest.mark.parametrize(
    ("words", "what"),
    [
        (("service", "price", "wash", "250.00", "--per", "job", "--from", "2026-05-31"), "the price"),
        (("tax", "add", "US-TX", "labor", "6.5", "--name", "State sales tax", "--from", "2026-05-31"), "the tax rate"),
        (("worker", "rate", "kit", "25.00", "--from", "2026-05-31"), "the rate"),
    ],
)
def test_no_rate_begins_in_a_closed_month(refused: Command, words: tuple[str, ...], what: str) -> None:
    assert refused(*words) == f"coatbook: {what} is dated 2026-05-31, {CLOSED}"


def test_a_line_of_a_closed_month_is_struck_in_the_first_open_one(coatbook: Command) -> None:
    may = coatbook("review", "month", "2026-05", "--json"), coatbook("export", "journal", "2026-05")
    coatbook("strike", "20", "--why", "the hangar was free")  # 85.00 on 20 May
    assert (coatbook("review", "month", "2026-05", "--json"), coatbook("export", "journal", "2026-05")) == may
    june = coatbook("export", "journal", "2026-06").splitlines()
    assert [line for line in june if "line 20 struck" in line] == [
        '2026-06-01,line 20 struck,Cost of jobs: expenses,,85.00,,1,"hangar, one day more"',
        '2026-06-01,line 20 struck,"Expenses, to pay",85.00,,,1,"hangar, one day more"',
    ]
    told = coatbook("review", "job", "1")
    assert told.startswith("Job 1 on N123AB for Jo Dell earned 3992.78 USD")  # 3907.78 + 85.00


def test_only_the_latest_closed_month_reopens(coatbook: Command, refused: Command) -> None:
    assert "the latest closed month is 2026-05" in refused("book", "reopen", "2026-04", "--why", "a line was forgotten")
    coatbook("book", "reopen", "2026-05", "--why", "a line was forgotten")
    coatbook("log", "expense", "1", "12.00", "tape", "--on", "2026-05-21")
    assert '"expenses": "129.20"' in coatbook("review", "month", "2026-05", "--json")
    coatbook("book", "close", "2026-05", "--yes")
    assert "months close in order" in refused("book", "close", "2026-07", "--yes")


def test_a_file_that_cannot_be_written_is_one_sentence(refused: Command, tmp_path: Path) -> None:
    blocked = tmp_path / "file"
    blocked.write_text("no folder")
    told = refused("export", "journal", "2026-05", "--to", blocked / "journal.csv")
    assert told.startswith(f"coatbook: cannot write {blocked / 'journal.csv'}: ")
    told = refused("invoice", "print", "2026-0001", "--to", blocked / "invoice.pdf")
    assert told.startswith(f"coatbook: cannot write {blocked / 'invoice.pdf'}: ")
    assert run(["--book", str(blocked / "book.db"), "job", "list"]) == 1
