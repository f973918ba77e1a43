"""kill -9 of coatbook itself: what was acknowledged stands, what was not is whole or absent."""

import datetime as dt
import random
import sqlite3
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from coatbook.billing.tables import Document
from coatbook.desk.opening import open_book
from coatbook.jobs import actions as jobs
from coatbook.store import engine
from coatbook.store.acts import Ask, OpenAct
from coatbook.store.check import check
from coatbook.store.clock import Clock
from faults.warm_child import Child, kills
from furniture import FURNISHED_ON

INSIDE_WANTED = 25
JOBS = 120


def act_count(path: Path) -> int:
    with sqlite3.connect(path) as connection:
        (count,) = connection.execute("SELECT count(*) FROM act").fetchone()
    connection.close()
    return int(count)


def expenses(path: Path) -> list[str]:
    with sqlite3.connect(path) as connection:
        texts = [text for (text,) in connection.execute("SELECT text FROM entry WHERE kind = 'expense' ORDER BY id")]
    connection.close()
    return texts


def findings(path: Path) -> list[str]:
    book = open_book(str(path), Clock())
    try:
        return [f"{one.kind} {one.where}: {one.what}" for one in check(book)]
    finally:
        book.close()


@pytest.fixture
def environment(furnished: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("COATBOOK_BOOK", str(furnished))
    monkeypatch.setenv("COATBOOK_TODAY", FURNISHED_ON)
    monkeypatch.setenv("COATBOOK_ACTOR", "tester")
    return furnished


def test_acknowledged_lines_stand_and_no_others(environment: Path) -> None:
    chance, written = random.Random(9), expenses(environment)
    number = 0

    def commands() -> list[list[str]]:
        return [["log", "expense", "1", "1.00", f"expense {number + one}"] for one in range(40)]

    for killed in kills(commands, chance, INSIDE_WANTED, most=300, most_begun=30):
        found = expenses(environment)
        acknowledged = [f"expense {number + one}" for one in range(killed.acknowledged)]
        unheard = [f"expense {number + killed.acknowledged}"]  # committed, but killed before it could say so
        assert found in (written + acknowledged, written + acknowledged + unheard)
        assert findings(environment) == []
        written = found
        number += 1000


@pytest.fixture
def jobs_to_invoice(environment: Path) -> Path:
    """Many jobs handed over and not yet invoiced, written by the rooms' own actions in one act."""
    book = open_book(str(environment), Clock(dt.date.fromisoformat(FURNISHED_ON)))
    book.do(Ask("many jobs", "tester"), _hand_over_many)
    book.close()
    return environment


def _hand_over_many(act: OpenAct) -> None:
    for _ in range(JOBS):
        number = jobs.open_job(act, aircraft="skylane", site="mesa", asked_for="wash")
        jobs.plan_steps(act, job=number, service="wash")
        jobs.agree(act, job=number, by="Jo Alder", findings=(), results=())
        jobs.arrive(act, job=number, by="Sam Reed")
        jobs.hand_over(act, job=number, to="Jo Alder")


def numbers(path: Path) -> list[int]:
    with sqlite3.connect(path) as connection:
        found = [n for (n,) in connection.execute("SELECT n FROM document ORDER BY n")]
        lines = {
            n for (n,) in connection.execute("SELECT d.n FROM document d JOIN document_line l ON l.document = d.id")
        }
    connection.close()
    assert set(found) == lines, "an invoice has no lines"
    return found


def test_invoices_are_whole_and_their_numbers_have_no_gap(jobs_to_invoice: Path, tmp_path: Path) -> None:
    chance, issued = random.Random(4), 0

    def commands() -> list[list[str]]:
        out = str(tmp_path / "out")
        return [["invoice", "issue", str(2 + issued + one), "--yes", "--to", out] for one in range(6)]

    for killed in kills(commands, chance, wanted_inside=8, most=JOBS, most_begun=12):
        found = numbers(jobs_to_invoice)
        assert found == list(range(1, len(found) + 1))
        assert killed.acknowledged <= len(found) - issued <= killed.acknowledged + 1
        assert findings(jobs_to_invoice) == []
        issued = len(found)
        if issued > JOBS - 10:
            break


def commit_between_document_and_lines() -> None:
    """Plant the bug: what stands after the document's row is committed before its lines are written."""
    honest = OpenAct.add

    def hasty(act: OpenAct, row: Any) -> Any:
        written = honest(act, row)
        if isinstance(row, Document):
            act.session.commit()
        return written

    OpenAct.add = hasty  # type: ignore[method-assign]


def commit_with_references_unchecked() -> None:
    """The same bug where the database does not hold the act's row to be there at COMMIT."""

    engine._PRAGMAS = tuple(one.replace("foreign_keys = ON", "foreign_keys = OFF") for one in engine._PRAGMAS)
    commit_between_document_and_lines()


def test_a_planted_commit_is_refused_by_the_database(
    jobs_to_invoice: Path, monkeypatch: pytest.MonkeyPatch, refused: Callable[..., str]
) -> None:
    monkeypatch.setattr(OpenAct, "add", OpenAct.add)  # put back afterwards
    monkeypatch.setenv("COATBOOK_TODAY", FURNISHED_ON)
    commit_between_document_and_lines()
    refused("invoice", "issue", "2", "--yes")
    assert numbers(jobs_to_invoice) == []
    assert findings(jobs_to_invoice) == []


def test_a_planted_commit_is_caught_by_the_same_kills(jobs_to_invoice: Path, tmp_path: Path) -> None:
    chance, out = random.Random(2), str(tmp_path / "out")
    for attempt in range(80):
        command = ["invoice", "issue", str(2 + attempt), "--yes", "--to", out]
        child = Child([command], commit_with_references_unchecked)
        child.kill(begun=1 + attempt % 8, moment=chance.uniform(0, 0.006))
        if findings(jobs_to_invoice):
            return
    raise AssertionError("a commit between document and lines was not caught by any of 80 kills")
