"""Typing the commands that pages show, in this process: what a page says is printed is compared with what is."""

import contextlib
import io
import os
import re
import shlex
from collections.abc import Iterator
from pathlib import Path

import pytest

from coatbook.cli import run

ROOT = Path(__file__).parents[2]
DOCS = ROOT / "docs"
DEMO = ROOT / "demo" / "first-job"
LEFT_OUT = "…"


def blocks(page: str, kind: str) -> list[str]:
    """What stands in a page's blocks of one kind, block by block."""
    return re.findall(rf"^```{kind}\n(.*?)^```$", page, flags=re.MULTILINE | re.DOTALL)


def commands(script: str) -> list[list[str]]:
    """The commands of a shell script as lists of words; comments and blank lines are left out."""
    lines = script.replace("\\\n", " ").splitlines()
    return [shlex.split(line) for line in lines if line.strip() and not line.lstrip().startswith("#")]


def dialog(block: str) -> Iterator[tuple[list[str], list[str]]]:
    """Each command of a console block with the lines shown below it."""
    for typed in re.split(r"^\$ ", block.replace("\\\n", " "), flags=re.MULTILINE)[1:]:
        line, *answer = typed.splitlines()
        yield shlex.split(line), [shown for shown in answer if shown.strip()]


class Shell:
    """A folder to type commands in, with its own variables."""

    def __init__(self, folder: Path, **variables: str) -> None:
        self.folder = folder
        self.variables = {"HOME": str(folder), "XDG_DATA_HOME": str(folder / "data"), "COLUMNS": "80"} | variables

    def type(self, words: list[str]) -> tuple[int, str]:
        """Exit code and all that was printed, but for the note about the pretended day."""
        if words[0] == "export":
            self.variables.update(word.split("=", 1) for word in words[1:])  # type: ignore[misc]
            return 0, ""
        assert words[0] == "coatbook", f"{shlex.join(words)} is no command a page may show"
        typed, into = (words[:-2], words[-1]) if words[-2:-1] == [">"] else (words, None)
        code, out, err = self._run(typed[1:])
        if into is not None:
            (self.folder / into).write_text(out, "utf-8")
            out = ""
        told = [line for line in err.splitlines(keepends=True) if not line.startswith("note: today is taken")]
        return code, "".join(told) + out

    def _run(self, arguments: list[str]) -> tuple[int, str, str]:
        out, err = (io.TextIOWrapper(io.BytesIO(), "utf-8", write_through=True) for _ in range(2))
        mask = os.umask(0o077)
        try:
            with pytest.MonkeyPatch.context() as surroundings:
                for name, value in self.variables.items():
                    surroundings.setenv(name, value)
                surroundings.chdir(self.folder)
                with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
                    code = run(arguments)
        finally:
            os.umask(mask)
        texts = []
        for stream in (out, err):
            stream.seek(0)
            texts.append(stream.read())
        return code, texts[0], texts[1]
