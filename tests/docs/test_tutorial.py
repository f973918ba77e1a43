"""The tutorial types exactly what the demo runs, in the same order."""

import pytest

from docs.shell import DEMO, DOCS, blocks, commands, dialog


def test_the_tutorial_types_exactly_what_the_demo_runs() -> None:
    page = (DOCS / "tutorial.md").read_text("utf-8")
    told = [words for block in blocks(page, "sh") for words in commands(block)]
    assert told == commands((DEMO / "commands.sh").read_text("utf-8"))
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


def test_only_blocks_of_one_kind_count() -> None:
    page = "```sh\none\n```\n\n```text\ntwo\n```\n\n```sh\nthree\n```\n"
    assert "".join(blocks(page, "sh")).split() == ["one", "three"]


def test_a_dialog_is_commands_with_what_they_answer() -> None:
    block = "$ coatbook a \\\n    b\none\n\ntwo\n$ coatbook c\n"
    assert list(dialog(block)) == [(["coatbook", "a", "b"], ["one", "two"]), (["coatbook", "c"], [])]
