"""Every command of the program explains itself, and does so without loading what only the work needs."""

import json
import subprocess
import sys
from collections.abc import Callable, Iterator
from typing import Any

import pytest
import typer

from coatbook.cli import app

HEAVY = ("sqlalchemy", "alembic", "psycopg", "fpdf", "babel", "scipy", "icalendar", "fontTools", "PIL")


def _paths(command: Any, path: tuple[str, ...] = ()) -> Iterator[tuple[str, ...]]:
    """The words of every group and command."""
    yield path
    if hasattr(command, "list_commands"):
        context = command.context_class(command)
        for name in command.list_commands(context):
            yield from _paths(command.get_command(context, name), (*path, name))


PATHS = tuple(_paths(typer.main.get_command(app)))
COMMANDS = tuple(path for path in PATHS if not any(other[: len(path)] == path and other != path for other in PATHS))


def test_all_commands_were_found() -> None:
    nouns = {path[0] for path in COMMANDS}
    assert nouns >= {"init", "customer", "aircraft", "job", "log", "invoice", "remind", "review", "calc", "book"}
    assert len(COMMANDS) >= 60


@pytest.mark.parametrize("path", COMMANDS, ids=" ".join)
def test_every_command_has_help_with_an_example_of_itself(
    path: tuple[str, ...], command: Callable[..., tuple[int, str, str]]
) -> None:
    code, out, err = command(*path, "--help")
    assert (code, err) == (0, "")
    _, heading, example = out.partition("  Example:\n")
    assert heading, out
    assert f"    coatbook {' '.join(path)}" in example or f" {path[0]} " in example.splitlines()[0]
    assert max(len(line) for line in out.splitlines()) <= 80, out


def test_help_of_every_command_loads_nothing_heavy() -> None:
    script = """
import contextlib, io, json, sys
from coatbook.cli import run
for path in json.loads(sys.argv[1]):
    with contextlib.redirect_stdout(io.StringIO()) as out:
        assert run([*path, "--help"]) == 0, path
    assert "Usage: coatbook" in out.getvalue(), path
print(*sorted({name.partition(".")[0] for name in sys.modules}))
"""
    done = subprocess.run(
        [sys.executable, "-W", "error", "-c", script, json.dumps(PATHS)], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    assert set(done.stdout.split()) & set(HEAVY) == set()
