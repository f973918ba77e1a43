"""A shop that begins its book in the middle of a year: what it has and owes by then, from one folder, in one act."""

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from coatbook.desk.importing.opening import FILES
from coatbook.store.book import Book
from coatbook.store.check import check
from desk.shopfloor import accounts

Command = Callable[..., str]

START = {
    "stock.csv": "code,quantity,cost,label,expires\nsealant,20 fl oz,30.00,B-9,2027-01-31\nsealant,1 qt,44.00,B-10,\n",
    "coatings.csv": (
        "aircraft,site,service,material,surfaces,laid_on,label,layer\n"
        "skylane,mesa,coating,sealant,left wing,2026-03-10,B-180,1\n"
        "skylane,mesa,coating,sealant,left wing; elevator,2026-03-10,B-180,2\n"
    ),
    "open-invoices.csv": ("job,customer,number,dated,due,open amount\n1,alder,25-118,2026-03-02,2026-03-16,412.50\n"),
    "deposits.csv": "customer,job,amount,taken_on\nalder,1,200.00,2026-03-20\n",
    "work-in-progress.csv": "job,kind,amount,text\n1,labor,180.00,hours of March\n1,materials,22.50,compound\n",
}
ON = ("--on", "2026-04-01")


@pytest.fixture
def start(tmp_path: Path) -> Path:
    """A folder of the start."""
    folder = tmp_path / "start"
    folder.mkdir()
    for name, rows in START.items():
        (folder / name).write_text(rows)
    return folder


def test_the_start_comes_in_as_one_act_that_balances(
    furnished: Path, book: Book, coatbook: Command, start: Path
) -> None:
    before = accounts(book)
    told = coatbook("import", "opening", start, *ON, "--yes")
    assert [line for line in told.splitlines() if ".csv:" in line] == [
        "stock.csv: 2 rows, 2 new.",
        "coatings.csv: 2 rows, 2 new.",
        "open-invoices.csv: 1 row, 1 new.",
        "deposits.csv: 1 row, 1 new.",
        "work-in-progress.csv: 2 rows, 2 new.",
    ]
    after = accounts(book)
    changed = {name: after.get(name, 0) - before.get(name, 0) for name in after if after[name] != before.get(name)}
    assert changed == {
        "Materials on the shelf": 7400,
        "Owed by customers": 41250,
        "Deposits held": -20000,
        "Work in progress": 20250,
        "Brought in at the start": -(7400 + 41250 - 20000 + 20250),
    }
    journal = coatbook("export", "journal", "2026-04").splitlines()
    assert {line.split(",")[0] for line in journal[1:]} == {"2026-04-01"}
    assert check(book) == []


def test_coatings_brought_in_have_their_upkeep(furnished: Path, coatbook: Command, start: Path) -> None:
    coatbook("import", "opening", start, *ON, "--yes")
    shown = json.loads(coatbook("upkeep", "show", "N123AB", "--json"))
    assert [(one["surface"], one["applied"]) for one in shown["coatings"]] == [
        ("left wing", "2026-03-10"),
        ("elevator", "2026-03-10"),
    ]
    assert all(one["upkeep"][0]["due"] == "2026-09-10" for one in shown["coatings"])
    jobs = json.loads(coatbook("job", "list", "--json"))
    assert [(one["job"], one["opened"], one["state"]) for one in jobs[1:]] == [(2, "2026-03-10", "settled")]


def test_the_same_folder_again_brings_only_what_is_new(furnished: Path, coatbook: Command, start: Path) -> None:
    coatbook("import", "opening", start, *ON, "--yes")
    again = coatbook("import", "opening", start, *ON, "--yes")
    assert again.count("none new.") == 5
    with (start / "stock.csv").open("a") as file:
        file.write("sealant,8 fl oz,11.00,B-201,\n")
    told = coatbook("import", "opening", start, *ON, "--yes")
    assert "stock.csv: 3 rows, 1 new." in told
    assert told.count("none new.") == 4


def test_some_files_may_be_missing(furnished: Path, coatbook: Command, start: Path) -> None:
    for name in ("coatings.csv", "deposits.csv", "open-invoices.csv", "work-in-progress.csv"):
        (start / name).unlink()
    assert coatbook("import", "opening", start, *ON, "--yes").startswith("stock.csv: 2 rows, 2 new.\n")


def test_the_templates_of_the_start_can_be_imported(furnished: Path, coatbook: Command, start: Path) -> None:
    parts = coatbook("import", "--template", "opening").replace(":\n", "\n").splitlines()
    for place in range(0, len(parts), 3):
        (start / parts[place]).write_text("\n".join(parts[place + 1 : place + 3]))
    assert parts[::3] == list(FILES)
    assert coatbook("import", "opening", start, *ON, "--yes").count("1 row, 1 new.") == 5


# what is wrong in the folder, and words of the sentence
WRONG: dict[str, tuple[str, str, str]] = {
    "terms that begin later": (
        "coatings.csv",
        START["coatings.csv"].replace("2026-03-10", "2026-02-10", 1),
        "coatings.csv line 2, column laid_on: Paint sealant asks for no upkeep on 2026-02-10, the day it was laid",
    ),
    "a surface that is not in the book": (
        "coatings.csv",
        START["coatings.csv"].replace("; elevator", "; tail"),
        "coatings.csv line 3, column surfaces: skylane has no surface 'tail'",
    ),
    "an invoice twice": (
        "open-invoices.csv",
        START["open-invoices.csv"] + "1,alder,25-118,2026-03-02,2026-03-16,99.00\n",
        "open-invoices.csv line 3, column number: there is an invoice 25-118 already",
    ),
    "a deposit from tomorrow": (
        "deposits.csv",
        START["deposits.csv"].replace("2026-03-20", "2026-04-02"),
        "deposits.csv line 2, column taken_on: bringing it in on 2026-04-01 would come before the deposit was taken",
    ),
    "costs of no kind": (
        "work-in-progress.csv",
        START["work-in-progress.csv"].replace("labor", "work"),
        "work-in-progress.csv line 2, column kind: the kind of cost 'work' is not known",
    ),
    "a day of its own": (
        "stock.csv",
        "on,code,quantity,cost,label\n2026-03-01,sealant,1 qt,44.00,B-1\n",
        "stock.csv: 'on' is no column of stock",
    ),
    "another file": (
        "customers.csv",
        "code\nx\n",
        "customers.csv is no file of the start: the files are named stock.csv",
    ),
}


@pytest.mark.parametrize("rule", WRONG)
def test_a_start_is_refused_as_a_whole(rule: str, furnished: Path, refused: Command, start: Path) -> None:
    name, rows, says = WRONG[rule]
    (start / name).write_text(rows)
    told = refused("import", "opening", start, *ON, "--yes")
    assert told.startswith(f"coatbook: {says}")
    assert "\n" not in told


def test_an_empty_start_and_none_are_refused(furnished: Path, refused: Command, tmp_path: Path) -> None:
    (tmp_path / "empty").mkdir()
    assert "there is nothing to bring in in" in refused("import", "opening", tmp_path / "empty", *ON, "--yes")
    assert "there is no folder" in refused("import", "opening", tmp_path / "none", *ON, "--yes")
    assert "name the folder: `coatbook import opening FOLDER" in refused("import", "opening", code=2)


def test_the_start_is_shown_first(furnished: Path, refused: Command, start: Path) -> None:
    assert "what comes in stands for good: give --yes to do it, or --dry-run to look only" in refused(
        "import", "opening", start, *ON
    )
