"""Several payers, a change, deposits and a job called off, as typed."""

import json
from collections.abc import Callable
from pathlib import Path

import pytest

Run = Callable[..., str]


@pytest.fixture(autouse=True)
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)


def open_job(coatbook: Run) -> None:
    """Job 2: a wash, paid for by Birch with 60 % and by Alder."""
    coatbook("job", "open", "skylane", "mesa", "Wash", "--on", "2026-05-01")
    coatbook("job", "plan", "2", "wash", "--on", "2026-05-01")
    coatbook("job", "party", "2", "pays", "alder", "--on", "2026-05-01")
    coatbook("job", "party", "2", "pays", "birch", "--share", "60 %", "--on", "2026-05-01")


def hand_over(coatbook: Run) -> None:
    coatbook("job", "agree", "2", "--by", "Jo Alder", "--on", "2026-05-01")
    coatbook("job", "arrive", "2", "--by", "Sam Reed", "--on", "2026-05-02")
    agreed = ("--by", "Jo Alder", "--how", "by phone", "--price", "50.00", "--as", "coating")
    coatbook("job", "change", "2", "coat the tail cone", *agreed, "--on", "2026-05-03")
    coatbook("job", "handover", "2", "--to", "Jo Alder", "--on", "2026-05-04")


def test_from_the_deposit_to_two_invoices(furnished: Path, coatbook: Run, refused: Run, tmp_path: Path) -> None:
    open_job(coatbook)
    told = coatbook("deposit", "take", "birch", "50.00", "--job", "2", "--on", "2026-05-01", "--yes")
    assert told == ("Deposit 1: 50.00 USD from Birch Flying Club by check for job 2; it is drawn on the invoice.\n")
    hand_over(coatbook)
    one_file = refused("invoice", "issue", "2", "--to", "invoice.pdf", "--on", "2026-05-04", "--yes", code=2)
    assert "job 2 has 2 invoices, one for each who pays: name a folder with --to, not a file" in one_file
    told = coatbook("invoice", "issue", "2", "--to", "papers", "--on", "2026-05-04", "--yes")
    assert "Agreed change 1: coat the tail cone, 20.00, part of 50.00" in told
    assert {path.name for path in (tmp_path / "papers").iterdir()} == {
        "invoice-2026-0001.pdf",
        "invoice-2026-0002.pdf",
    }
    rows = json.loads(coatbook("invoice", "list", "--json"))
    # 200.00 by 40 and 60 %, each with its own 6.25 %; 50.00 of Birch's came before
    assert [(row["customer"], row["gross"], row["owed"]) for row in rows] == [
        ("alder", "85.00", "85.00"),
        ("birch", "127.50", "77.50"),
    ]
    again = (tmp_path / "papers" / "invoice-2026-0002.pdf").read_bytes()
    coatbook("invoice", "print", "2026-0002", "--to", "again.pdf")
    assert (tmp_path / "again.pdf").read_bytes() == again
    assert "60 % of the job's lines: 120.00 of 200.00 before tax" in coatbook("invoice", "show", "2026-0002")
    assert "invoice 2026-0001, 85.00 USD owed; invoice 2026-0002, 77.50 USD owed" in coatbook(
        "job", "show", "2"
    ).replace("\n", " ")
    (deposit,) = json.loads(coatbook("deposit", "list", "--json"))
    assert (deposit["customer"], deposit["drawn"], deposit["held"]) == ("birch", "50.00", "0.00")


def test_a_job_called_off(furnished: Path, coatbook: Run) -> None:
    open_job(coatbook)
    coatbook("deposit", "take", "birch", "50.00", "--job", "2", "--on", "2026-05-01", "--yes")
    coatbook("log", "expense", "2", "12.00", "sheeting", "--on", "2026-05-02")
    coatbook("job", "cancel", "2", "--by", "Jo Alder", "--why", "sold", "--on", "2026-05-03")
    before = coatbook("deposit", "list")
    told = coatbook("deposit", "keep", "2", "30.00", "--why", "late", "--on", "2026-05-03", "--dry-run")
    assert (told, coatbook("deposit", "list")) == ("", before)
    coatbook("deposit", "keep", "2", "30.00", "--why", "late", "--on", "2026-05-03", "--yes")
    coatbook("deposit", "refund", "2", "20.00", "--method", "wire", "--on", "2026-05-04", "--yes")
    assert coatbook("deposit", "list").splitlines() == [
        "deposit  day         customer  job  amount  drawn   kept   back  held",
        "      1  2026-05-01  birch       2   50.00   0.00  30.00  20.00  0.00",
    ]
    kinds = [line.split()[3] for line in coatbook("payment", "list").splitlines()[1:]]
    assert kinds == ["deposit,", "kept,", "refund,"]
    review = json.loads(coatbook("review", "job", "2", "--json"))
    assert (review["recognized"], review["revenue"], review["profit_before_owner"]) == ("2026-05-03", "30.00", "18.00")
    assert "called off on 2026-05-03, 30.00 of its deposits is kept." in coatbook("review", "job", "2").replace(
        "\n", " "
    )
    assert "called off 2026-05-03 by Jo Alder" in coatbook("job", "show", "2").replace("\n", " ")
    coatbook("book", "check")
