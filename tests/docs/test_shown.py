"""What pages show below a command is what the command prints, on the book that the tutorial makes."""

import json
import re
import shutil
from pathlib import Path
from typing import Any

import pytest

from docs.shell import DEMO, DOCS, LEFT_OUT, Shell, blocks, commands, dialog

TUTORIAL = (DOCS / "tutorial.md").read_text("utf-8")
JSON_PAGE = (DOCS / "reference" / "json.md").read_text("utf-8")
COMMANDS_PAGE = (DOCS / "reference" / "commands.md").read_text("utf-8")
DIALOGS = [
    path
    for path in sorted(DOCS.rglob("*.md"))
    if path.name != "tutorial.md" and "```console" in path.read_text("utf-8")
]


@pytest.fixture(scope="module")
def season(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, list[str]]:
    """The folder in which all of the tutorial was typed, and every line that was printed."""
    folder = tmp_path_factory.mktemp("season")
    shutil.copy(DEMO / "gauge.csv", folder)
    shell, printed = Shell(folder, COATBOOK_BOOK="book.db", COATBOOK_ACTOR="sam"), []
    for words in (words for block in blocks(TUTORIAL, "sh") for words in commands(block)):
        code, told = shell.type(words)
        assert code == 0, told
        printed += told.splitlines()
    return folder, printed


@pytest.fixture
def shell(season: tuple[Path, list[str]], tmp_path: Path) -> Shell:
    """A copy of the season's folder, on the day the tutorial ends."""
    folder = shutil.copytree(season[0], tmp_path / "shop")
    return Shell(folder, COATBOOK_BOOK="book.db", COATBOOK_ACTOR="sam", COATBOOK_TODAY="2026-11-10")


def test_the_tutorial(season: tuple[Path, list[str]]) -> None:
    folder, printed = season
    for line in "".join(blocks(TUTORIAL, "text")).splitlines():
        assert line in printed, line
    assert any("413.51 mL" in line for line in printed)
    for file in ("invoice-2026-0001.pdf", "journal-2026-05.csv", "message-00001.eml", "message-00001.ics"):
        assert (folder / file).exists(), file


@pytest.mark.parametrize("path", DIALOGS, ids=lambda path: path.stem)
def test_a_page_with_dialogs(path: Path, shell: Shell) -> None:
    for block in blocks(path.read_text("utf-8"), "console"):
        for words, answer in dialog(block):
            _, told = shell.type(words)
            lines = [line.rstrip() for line in told.splitlines() if line.strip()]
            assert matches(answer, lines), f"{words}: {answer} is shown, {lines} is printed"


def matches(shown: list[str], printed: list[str]) -> bool:
    """Whether the printed lines are those shown; … stands for any lines, and within a line for any text."""
    pattern = "".join(
        r"(?:[^\n]*\n)*?" if line == LEFT_OUT else ".*".join(map(re.escape, line.rstrip().split(LEFT_OUT))) + "\n"
        for line in shown
    )
    return not shown or re.fullmatch(pattern, "".join(f"{line}\n" for line in printed)) is not None


@pytest.mark.parametrize(
    ("shown", "printed", "agree"),
    [
        (["a", "b"], ["a", "b"], True),
        (["a"], ["a", "b"], False),
        (["a", LEFT_OUT], ["a", "b", "c"], True),
        ([LEFT_OUT, "c"], ["a", "b", "c"], True),
        (["head …, done"], ["head 0f3, done"], True),
        (["head …, done"], ["head 0f3"], False),
        ([], ["anything"], True),
    ],
)
def test_matching(shown: list[str], printed: list[str], agree: bool) -> None:
    assert matches(shown, printed) is agree


DATA = re.findall(
    r"^## `coatbook ([^`]+)`\n(?:(?!^## ).)*?^```json\n(.*?)^```$", JSON_PAGE, flags=re.MULTILINE | re.DOTALL
)


@pytest.mark.parametrize(("typed", "shown"), DATA, ids=[typed for typed, _ in DATA])
def test_a_page_of_data(typed: str, shown: str, shell: Shell) -> None:
    code, told = shell.type(commands(f"coatbook {typed}")[0])
    assert code == 0, told
    assert shape(json.loads(told)) == shape(json.loads(shown))


def test_every_command_that_prints_data_has_its_page() -> None:
    told = {" ".join(typed.split()[:2]) for typed, _ in DATA}
    sections = COMMANDS_PAGE.split("\n### `")[1:]
    printing = {" ".join(one.partition("`")[0].split()[:2]) for one in sections if "`--json`" in one}
    assert {name for name in printing if not name.startswith("calc ")} <= told


def shape(data: Any) -> Any:
    """The keys of some data, all the way down, and the types of its values; a list by its first item."""
    if isinstance(data, dict):
        return {key: shape(value) for key, value in data.items() if key != "inputs"}
    if isinstance(data, list):
        return [shape(data[0])] if data else []
    return type(data).__name__
