"""Files to import, and the command that brings them in."""

from collections.abc import Callable
from pathlib import Path

import pytest

Command = Callable[..., str]


@pytest.fixture
def file(tmp_path: Path) -> Callable[..., Path]:
    """Write a file of rows (or of bytes, as they stand), and tell where."""

    def write(content: str | bytes, name: str = "rows.csv") -> Path:
        path = tmp_path / name
        path.write_bytes(content if isinstance(content, bytes) else content.encode())
        return path

    return write


@pytest.fixture
def bring(coatbook: Command, file: Callable[..., Path]) -> Callable[..., str]:
    """Import rows into a table by the command line; what it said."""

    def call(table: str, content: str | bytes, *options: str) -> str:
        return coatbook("import", table, file(content), *options)

    return call
