"""The tutorial and the demo are the same commands in the same order, and both are commands there are."""

import re
import shlex
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
TUTORIAL = ROOT / "docs" / "tutorial.md"
DEMO = ROOT / "demo" / "first-job" / "commands.sh"


def commands(script: str) -> list[list[str]]:
    """The commands of a shell script as lists of words; comments and blank lines are left out."""
    lines = script.replace("\\\n", " ").splitlines()
    return [shlex.split(line) for line in lines if line.strip() and not line.lstrip().startswith("#")]


def shell_blocks(page: str) -> str:
    """All that stands in a page's blocks marked `sh`, one after the other."""
    return "\n".join(re.findall(r"^```sh\n(.*?)^```$", page, flags=re.MULTILINE | re.DOTALL))


def test_the_tutorial_types_exactly_what_the_demo_runs() -> None:
    told = commands(shell_blocks(TUTORIAL.read_text("utf-8")))
    assert told == commands(DEMO.read_text("utf-8"))
    assert len(told) > 60


@pytest.mark.parametrize(
    ("script", "expected"),
    [
        ("# a comment\n\ncoatbook job list\n", [["coatbook", "job", "list"]]),
        ('coatbook log note 1 \\\n  "two words"\n', [["coatbook", "log", "note", "1", "two words"]]),
        ('coatbook log note 1 "not # a comment"\n', [["coatbook", "log", "note", "1", "not # a comment"]]),
    ],
)
def test_commands_of_a_script(script: str, expected: list[list[str]]) -> None:
    assert commands(script) == expected


def test_only_blocks_marked_sh_count() -> None:
    page = "```sh\none\n```\n\n```text\ntwo\n```\n\n```sh\nthree\n```\n"
    assert shell_blocks(page).split() == ["one", "three"]
