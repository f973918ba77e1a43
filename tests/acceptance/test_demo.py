"""The demo, from its folder to its figures: all that it says agrees with the paper beside it, and with itself."""

import csv
import io
import json
import stat
from collections.abc import Callable
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from acceptance import paper

Command = Callable[..., str]
FILES = {
    "book.db",
    "gauge.csv",
    "invoice-2026-0001.pdf",
    "journal-2026-05.csv",
    "message-00001.eml",
    "message-00001.ics",
    "review-2026-05.json",
    "review-2026-05.txt",
    "transcript.txt",
}
STABLE = {
    ("book", "check"): "ok findings",
    ("job", "list"): "job mark customer state opened handed_over",
    ("aircraft", "list"): "airframe mark serial maker model",
    ("invoice", "list"): "number date due customer job mark currency net tax gross owed state",
    ("invoice", "show", "2026-0001"): "number date due customer job mark currency net tax gross owed state "
    "lines taxes payments",
    ("remind", "list"): "id customer mark kind item opens due closes state message_id held_because",
    ("upkeep", "show", "N123AB"): "mark coatings",
    ("review", "job", "1"): "job currency revenue materials labor expenses overhead profit_before_owner owner_labor "
    "profit margin hours months variances",
    ("review", "month", "2026-05"): "month currency revenue cost profit_before_owner owner_labor overhead profit "
    "shop_costs journal_profit jobs work_in_progress billed_ahead owed tax",
    ("calc", "thickness", "--job", "1"): "calculator version inputs figures verdicts needs dues cautions sources",
    ("calc", "coverage", "--job", "1"): "calculator version inputs figures verdicts needs dues cautions sources",
    ("calc", "warranty", "--job", "1"): "calculator version inputs figures verdicts needs dues cautions sources",
}
NESTED = {
    ("invoice", "show", "2026-0001"): {
        "lines": "text quantity unit price net tax_kind",
        "taxes": "name rate base amount",
    },
    ("upkeep", "show", "N123AB"): {"coatings": "surface product applied state upkeep"},
    ("review", "job", "1"): {"months": "month revenue cost profit_before_owner profit"},
    ("review", "month", "2026-05"): {
        "jobs": "job revenue materials labor expenses overhead profit_before_owner owner_labor profit margin hours "
        "to_date",
        "tax": "place base amount",
    },
    ("calc", "thickness", "--job", "1"): {"figures": "name of value unit low high rounding"},
}


def asked(coatbook: Command, *words: str) -> Any:
    """What a command answers with --json; keys stand once."""

    def once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
        assert len(dict(pairs)) == len(pairs)
        return dict(pairs)

    return json.loads(coatbook(*words, "--json"), object_pairs_hook=once)


def part(whole: dict[str, Any], keys: dict[str, Any]) -> dict[str, Any]:
    return {key: whole[key] for key in keys}


def total(rows: Any, key: str) -> Decimal:
    return sum((Decimal(row[key]) for row in rows), Decimal(0))


# The folder


def test_the_folder_holds_what_the_owner_needs(demo: Path) -> None:
    assert {path.name for path in demo.iterdir()} - {"book.db-journal"} == FILES
    assert stat.S_IMODE((demo / "book.db").stat().st_mode) == 0o600


def test_the_script_says_what_it_made_and_what_to_try(demo: Path, coatbook: Command) -> None:
    printed = (demo.parent / "printed.txt").read_text("utf-8")
    listed = printed.partition("Try next:")[0].splitlines()[1:]
    made = FILES - {"gauge.csv"}  # what was made: no file of the shop's own, no journal of the database, no empty one
    assert {line.strip() for line in listed if line} == made
    tries = [line.split() for line in printed.partition("Try next:")[2].splitlines() if line.strip()]
    assert len(tries) == 3
    for _program, book, path, *words in tries:
        assert (book, Path(path)) == ("--book", demo / "book.db")
        assert coatbook(*words)


def test_no_command_was_refused(demo: Path) -> None:
    lines = (demo / "transcript.txt").read_text("utf-8").splitlines()
    assert [line for line in lines if line.startswith("coatbook:") or "Traceback" in line] == []
    assert sum(line.startswith("$ coatbook ") for line in lines) > 60


# Stable keys


@pytest.mark.parametrize("words", STABLE, ids=" ".join)
def test_stable_keys(coatbook: Command, words: tuple[str, ...]) -> None:
    answer = asked(coatbook, *words)
    for row in answer if isinstance(answer, list) else [answer]:
        assert set(STABLE[words].split()) <= set(row)
        for name, keys in NESTED.get(words, {}).items():
            assert row[name]
            for inner in row[name]:
                assert set(keys.split()) <= set(inner)
    assert answer


def test_stable_keys_of_the_preview(coatbook: Command) -> None:
    rows = asked(coatbook, "remind", "preview", "--on", "2026-11-29")  # seven days before the window closes
    assert len(rows) == 4
    assert all(set(STABLE["remind", "list"].split()) <= set(row) for row in rows)


# The figures, against the paper


def test_the_invoice(coatbook: Command) -> None:
    (row,) = asked(coatbook, "invoice", "list")
    shown = asked(coatbook, "invoice", "show", "2026-0001")
    assert part(row, paper.INVOICE) == part(shown, paper.INVOICE) == paper.INVOICE
    assert row == part(shown, row)
    lines = [(line["quantity"], line["unit"], line["price"], line["net"]) for line in shown["lines"]]
    assert lines == [line[1:] for line in paper.LINES]
    assert all(line["text"].startswith(own[0]) for line, own in zip(shown["lines"], paper.LINES, strict=True))
    assert [part(tax, own) for tax, own in zip(shown["taxes"], paper.TAXES, strict=True)] == list(paper.TAXES)
    assert [(paid["date"], paid["amount"]) for paid in shown["payments"]] == [
        ("2026-06-02", "4000.00"),
        ("2026-06-02", "3312.18"),
    ]


def test_the_job(coatbook: Command) -> None:
    review = asked(coatbook, "review", "job", "1")
    assert part(review, paper.FIGURES) == paper.FIGURES
    assert [part(row, paper.MONTHS[0]) for row in review["months"]] == paper.MONTHS
    assert (review["job"], review["currency"], review["variances"]) == (1, "USD", [])
    (row,) = asked(coatbook, "job", "list")
    expected = {"job": 1, "mark": "N123AB", "customer": "dell", "state": "settled"}
    expected |= {"opened": "2026-05-11", "handed_over": "2026-05-22"}
    assert part(row, expected) == expected


def test_the_month(coatbook: Command) -> None:
    month = asked(coatbook, "review", "month", "2026-05")
    sums = ("revenue", "profit_before_owner", "owner_labor", "overhead", "profit")
    assert {name: month[name] for name in sums} == {name: paper.FIGURES[name] for name in sums}
    assert (month["cost"], month["journal_profit"]) == (paper.COST, paper.FIGURES["profit_before_owner"])
    assert (month["shop_costs"], month["work_in_progress"], month["billed_ahead"]) == ("0.00", "0.00", "0.00")
    assert (month["owed"], month["tax"]) == ("7312.18", paper.TAX_BY_PLACE)
    (job,) = month["jobs"]
    assert part(job, paper.FIGURES) == part(job["to_date"], paper.FIGURES) == paper.FIGURES


def test_the_months_around_it(coatbook: Command) -> None:
    april, june = (asked(coatbook, "review", "month", month) for month in ("2026-04", "2026-06"))
    assert (april["revenue"], april["owed"], april["jobs"]) == ("0.00", "0.00", [])
    assert (june["revenue"], june["owed"], june["jobs"]) == ("0.00", "0.00", [])
    # as of the last day before the invoice, the work is in progress: all but the owner's hours and overhead
    so_far = asked(coatbook, "review", "month", "2026-05", "--on", "2026-05-21")
    assert (so_far["work_in_progress"], so_far["revenue"], so_far["owed"]) == (paper.COST, "0.00", "0.00")


def test_the_shelf(coatbook: Command) -> None:
    shelf = {row["code"]: row for row in asked(coatbook, "material", "list")}
    assert {code: row["cost"] for code, row in shelf.items()} == paper.STOCK
    assert {code: row["on_hand"] for code, row in shelf.items()} == paper.ON_HAND
    assert total(shelf.values(), "cost") == Decimal("156.73")


def test_the_upkeep_and_the_reminder(coatbook: Command) -> None:
    upkeep = asked(coatbook, "upkeep", "show", "N123AB")
    assert upkeep["mark"] == "N123AB"
    assert tuple(one["surface"] for one in upkeep["coatings"]) == paper.SURFACES
    for coating in upkeep["coatings"]:
        assert (coating["product"], coating["applied"], coating["state"]) == ("ceramic", "2026-05-21", "in terms")
        first = {item: next(one for one in coating["upkeep"] if one["item"] == item) for item in ("inspection",)}
        wash = next(one for one in coating["upkeep"] if one["item"] == "decontamination wash")
        assert part(wash, paper.WASH) == paper.WASH
        assert (wash["state"], wash["done"]) == ("opening", None)
        assert part(first["inspection"], paper.INSPECTION) == paper.INSPECTION
    rows = asked(coatbook, "remind", "list")
    assert tuple(row["surface"] for row in rows) == paper.SURFACES
    for row in rows:
        assert part(row, paper.WASH) == paper.WASH
        assert (row["id"], row["customer"], row["mark"], row["state"]) == (1, "dell", "N123AB", "sent")
        assert (row["kind"], row["held_because"]) == ("upkeep", None)
    assert asked(coatbook, "remind", "preview") == []  # told already


def test_the_book_is_whole(coatbook: Command) -> None:
    assert asked(coatbook, "book", "check") == {"ok": True, "findings": []}


def test_what_the_calculators_say(coatbook: Command) -> None:
    coverage = asked(coatbook, "calc", "coverage", "--job", "1")
    figures = {one["name"]: (one["value"], one["unit"]) for one in coverage["figures"]}
    assert Decimal(figures["area"][0]) == 454
    # 454 ft2 x 0.09290304 = 42.178 m2; / 120 m2 a liter = 351.483 mL; / (1 - 0.15) = 413.51 mL
    assert figures["product on the skin"] == ("351.483", "mL")
    assert figures["product needed"] == ("413.510", "mL")
    thickness = asked(coatbook, "calc", "thickness", "--job", "1")
    assert [(one["of"], one["level"]) for one in thickness["verdicts"]] == [(name, "go") for name in paper.SURFACES]


# The answers, against each other


def test_lines_and_tax_sum_to_the_invoice(coatbook: Command) -> None:
    shown = asked(coatbook, "invoice", "show", "2026-0001")
    assert total(shown["lines"], "net") == Decimal(shown["net"])
    assert total(shown["taxes"], "amount") == Decimal(shown["tax"])
    assert Decimal(shown["net"]) + Decimal(shown["tax"]) == Decimal(shown["gross"])
    assert Decimal(shown["gross"]) - total(shown["payments"], "amount") == Decimal(shown["owed"])


def test_the_jobs_profit_is_the_months(coatbook: Command) -> None:
    job, month = asked(coatbook, "review", "job", "1"), asked(coatbook, "review", "month", "2026-05")
    invoice = asked(coatbook, "invoice", "show", "2026-0001")
    for name in ("revenue", "profit_before_owner", "owner_labor", "overhead", "profit"):
        assert Decimal(job[name]) == total(month["jobs"], name) == Decimal(month[name])
    assert job["revenue"] == invoice["net"]
    assert total(month["tax"], "amount") == Decimal(invoice["tax"])
    for name in ("revenue", "profit_before_owner", "profit"):
        assert total(job["months"], name) == Decimal(job[name])


def test_the_files_say_what_the_commands_say(demo: Path, coatbook: Command) -> None:
    assert (demo / "review-2026-05.txt").read_text("utf-8") == coatbook("review", "month", "2026-05")
    assert json.loads((demo / "review-2026-05.json").read_text("utf-8")) == asked(
        coatbook, "review", "month", "2026-05"
    )


# The journal


def journal(content: str) -> list[dict[str, str]]:
    rows = list(csv.DictReader(io.StringIO(content, newline="")))
    assert list(rows[0]) == ["date", "entry", "account", "debit", "credit", "document", "job", "text"]
    return rows


def amount(row: dict[str, str]) -> Decimal:
    """A line's debit, or its credit as a minus; exactly one of the two is there."""
    assert bool(row["debit"]) != bool(row["credit"])
    return Decimal(row["debit"]) if row["debit"] else -Decimal(row["credit"])


def test_the_journal_balances_and_its_income_is_the_months(demo: Path, coatbook: Command) -> None:
    content = (demo / "journal-2026-05.csv").read_bytes()
    assert coatbook("export", "journal", "2026-05").encode() == content  # a closed month's kept bytes
    entries: dict[tuple[str, str], Decimal] = {}
    accounts: dict[str, Decimal] = {}
    for row in journal(content.decode()):
        assert row["date"].startswith("2026-05-")
        key = row["date"], row["entry"]
        entries[key] = entries.get(key, Decimal(0)) + amount(row)
        accounts[row["account"]] = accounts.get(row["account"], Decimal(0)) + amount(row)
    assert set(entries.values()) == {Decimal("0.00")}
    assert {name: str(value) for name, value in accounts.items()} == paper.JOURNAL
    income = -sum(value for name, value in accounts.items() if name.startswith(("Earned: ", "Cost of ")))
    assert str(income) == asked(coatbook, "review", "month", "2026-05")["journal_profit"]


def test_the_journal_of_april_has_the_purchases_and_june_the_payments(coatbook: Command) -> None:
    april, june = (journal(coatbook("export", "journal", month)) for month in ("2026-04", "2026-06"))
    bought = [row for row in april if row["account"] == "Materials on the shelf"]
    assert sum(map(amount, bought)) == Decimal("582.40")
    paid = [row for row in june if row["account"] == "Money received, to bank"]
    assert sum(map(amount, paid)) == Decimal("7312.18")
    assert sum(map(amount, april)) == sum(map(amount, june)) == 0
