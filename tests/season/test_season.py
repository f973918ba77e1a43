"""Five months of an invented shop: brought in from files, or typed row by row, they make the same book."""

import csv
import json
import shutil
from collections.abc import Callable, Iterator
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from docs.shell import ROOT, Shell, commands
from season.typed import commands_of

SEASON = ROOT / "demo" / "season"
MONTHS = ("2026-05", "2026-06", "2026-07", "2026-08", "2026-09")
Asked = Callable[..., Any]


def shell_in(folder: Path) -> Shell:
    shutil.copytree(SEASON, folder)
    return Shell(folder, COATBOOK_BOOK="book.db", COATBOOK_ACTOR="sam", NO_COLOR="1")


def run_all(shell: Shell, lines: Iterator[list[str]]) -> Shell:
    for words in lines:
        code, told = shell.type(words)
        assert code == 0, f"{' '.join(words)}\n{told}"
    return shell


def script() -> list[list[str]]:
    return commands((SEASON / "commands.sh").read_text("utf-8"))


@pytest.fixture(scope="session")
def imported(tmp_path_factory: pytest.TempPathFactory) -> Shell:
    """The season as its script brings it in."""
    return run_all(shell_in(tmp_path_factory.mktemp("imported") / "season"), iter(script()))


@pytest.fixture(scope="session")
def asked(imported: Shell) -> Asked:
    """What a command answers with --json."""

    def ask(*words: str) -> Any:
        code, told = imported.type(["coatbook", *words, "--json"])
        assert code == 0, told
        return json.loads(told)

    return ask


def test_the_book_is_whole_and_all_papers_are_there(imported: Shell, asked: Asked) -> None:
    assert asked("book", "check") == {"ok": True, "findings": []}
    made = {path.name for path in imported.folder.iterdir()}
    assert {f"review-{month}.txt" for month in MONTHS} <= made
    assert {f"invoice-2026-{number:04}.pdf" for number in range(1, 11)} <= made
    assert {"message-00001.eml", "message-00001.ics", "journal-2026-06.csv"} <= made


def test_twelve_jobs_stand_as_the_season_tells_them(asked: Asked) -> None:
    assert [(row["job"], row["state"]) for row in asked("job", "list")] == [
        (1, "settled"),
        (2, "settled"),
        (3, "settled"),
        (4, "settled"),
        (5, "settled"),
        (6, "handed over"),
        (7, "settled"),
        (8, "settled"),
        (9, "called off"),
        (10, "settled"),
        (11, "handed over"),
        (12, "on the floor"),
    ]


def test_the_wash_of_the_club_is_paid_by_two(asked: Asked) -> None:
    # By hand: 240.00 is 144.00 and 96.00; 6.25 % and 2 % of each, rounded half up once: 11.88 and 7.92.
    first, second = asked("invoice", "show", "2026-0001"), asked("invoice", "show", "2026-0002")
    assert [(one["customer"], one["net"], one["tax"], one["gross"]) for one in (first, second)] == [
        ("club", "144.00", "11.88", "155.88"),
        ("rowe", "96.00", "7.92", "103.92"),
    ]


def test_a_job_that_lost_money_is_named(imported: Shell, asked: Asked) -> None:
    assert Decimal(asked("review", "job", "5")["profit"]) < 0
    assert "job 5 (N22KR) lost" in (imported.folder / "review-2026-06.txt").read_text("utf-8")


def test_what_is_kept_of_a_deposit_is_earned(asked: Asked) -> None:
    kept = asked("review", "job", "9")
    assert (kept["revenue"], kept["called_off"], kept["deposits_held"]) == ("200.00", "2026-08-12", "0.00")


@pytest.mark.parametrize("month", MONTHS)
def test_a_month_is_the_sum_of_its_jobs_and_its_journal(imported: Shell, asked: Asked, month: str) -> None:
    found = asked("review", "month", month)
    for key in ("revenue", "profit_before_owner", "owner_labor", "overhead", "profit"):
        assert sum(Decimal(job[key]) for job in found["jobs"]) == Decimal(found[key]), key
    code, told = imported.type(["coatbook", "export", "journal", month])
    assert code == 0
    lines = list(csv.DictReader(told.splitlines()))
    debit, credit = (sum(Decimal(line[side] or 0) for line in lines) for side in ("debit", "credit"))
    assert debit == credit
    income = [line for line in lines if line["account"].startswith(("Earned", "Cost of"))]
    assert sum(Decimal(line["credit"] or 0) - Decimal(line["debit"] or 0) for line in income) == Decimal(
        found["journal_profit"]
    )


def test_thin_paint_changed_the_plan(imported: Shell) -> None:
    _, told = imported.type(["coatbook", "job", "show", "6"])
    assert "Protective coating on cowling" in told
    assert "Oxidation removal on left wing" in told
    assert "Oxidation removal on cowling" not in told


def test_a_changed_mark_and_a_sold_aircraft(imported: Shell, asked: Asked) -> None:
    _, trace = imported.type(["coatbook", "material", "trace", "K-40"])
    assert "N4512P, now N45PF" in trace
    assert "Hale Aircraft Sales, now Ash Rowe" in trace
    assert {row["mark"] for row in asked("aircraft", "list")} >= {"N45PF", "N71988"}


def test_brought_in_again_nothing_is_new(imported: Shell) -> None:
    for name in ("customers", "purchases", "steps", "notes"):
        code, told = imported.type(["coatbook", "import", name, f"{name}.csv"])
        assert code == 0
        assert "none new" in told


def test_typed_row_by_row_it_is_the_same_book(imported: Shell, tmp_path: Path) -> None:
    typed = run_all(shell_in(tmp_path / "typed"), commands_of(script(), SEASON))
    for shell in (imported, typed):
        code, told = shell.type(["coatbook", "export", "tables", "tables", "--comparable"])
        assert code == 0, told
    files = {path.name for path in (imported.folder / "tables").iterdir()}
    assert files == {path.name for path in (typed.folder / "tables").iterdir()}
    for name in sorted(files - {"import_row.csv"}):
        both = [sorted((shell.folder / "tables" / name).read_text("utf-8").splitlines()) for shell in (imported, typed)]
        assert both[0] == both[1], name
