"""The demo's book on the day its script ends, as the test's own copy: `coatbook` and `refused` work on that."""

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from acceptance.demo_folder import demo as demo

DAY = "2026-11-10"


@pytest.fixture
def book_path(tmp_path: Path, demo: Path) -> Path:
    return Path(shutil.copy(demo / "book.db", tmp_path / "book.db"))


@pytest.fixture(autouse=True)
def november(command: Callable[..., tuple[int, str, str]], monkeypatch: pytest.MonkeyPatch) -> None:
    """The day the demo ends on; `command` comes first, with a day of its own."""
    monkeypatch.setenv("COATBOOK_TODAY", DAY)
