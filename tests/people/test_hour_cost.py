"""What an hour costs: the rate and its on-cost, rounded half up once, and kept with the line of the diary."""

import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coatbook.people.tables import WorkerRate

Command = Callable[..., str]


def cost(minor: int, on_cost: int | None) -> int:
    return WorkerRate(worker=1, from_on=None, minor=minor, on_cost=on_cost).cost  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("minor", "on_cost", "hour"),
    [
        (2800, None, 2800),
        (2800, 0, 2800),
        (2800, 220_000, 3416),
        (2835, 225_000, 3473),  # 34.72875
        (1000, 500, 1001),  # 10.005: half up
        (1000, 499, 1000),
        (1, 3_000_000, 4),
    ],
)
def test_the_rate_and_what_comes_on_top_of_it(minor: int, on_cost: int | None, hour: int) -> None:
    assert cost(minor, on_cost) == hour


@given(st.integers(0, 10**7), st.integers(0, 3_000_000))
def test_it_is_off_by_half_a_cent_at_most(minor: int, on_cost: int) -> None:
    exact = minor * (1_000_000 + on_cost)
    assert -500_000 < exact - 1_000_000 * cost(minor, on_cost) + 1 <= 500_001


def test_a_line_of_the_diary_keeps_the_whole_cost_and_the_kind(
    furnished: Path, coatbook: Command, monkeypatch: pytest.MonkeyPatch
) -> None:
    coatbook("worker", "rate", "kim", "28.00", "--on-cost", "22 %", "--from", "2026-08-01")
    coatbook("log", "hours", "1", "kim", "2.5h", "--step", "1", "--on", "2026-07-31")
    coatbook("log", "hours", "1", "kim", "2.5h", "--step", "1", "--on", "2026-08-01")
    coatbook("worker", "edit", "kim", "--kind", "subcontractor")
    coatbook("log", "hours", "1", "kim", "2.5h", "--step", "1", "--on", "2026-08-02")
    with closing(sqlite3.connect(furnished)) as connection:
        lines = connection.execute("SELECT rate, minor, worker_kind FROM entry ORDER BY id").fetchall()
    assert lines == [(2800, 7000, "employee"), (3416, 8540, "employee"), (3416, 8540, "subcontractor")]
