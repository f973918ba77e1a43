"""Where stdout takes nothing: one sentence on stderr, exit 1, and what was written in the book stands."""

import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

Command = Callable[..., str]
MAIN = "import sys; from coatbook.cli import main; sys.argv[0] = 'coatbook'; main()"
FULL = Path("/dev/full")
WRITTEN = "coatbook: what was asked is written in the book and stands, but the output cannot be written ({}): "
LISTED = ("customer", "list")
ADDED = ("customer", "add", "hill", "--name", "Hill Flyers", "--address", "2 Low Road")
HELP = ("--help",)

pytestmark = pytest.mark.skipif(not FULL.exists(), reason="no /dev/full on this system")


@pytest.fixture(params=["", "1"], ids=["buffered", "unbuffered"])
def start(book_path: Path, request: pytest.FixtureRequest) -> Callable[..., "subprocess.Popen[bytes]"]:
    """Start a command on the test's own book, in a process of its own, by a shell that sets its streams up."""
    variables = {"COATBOOK_BOOK": str(book_path), "COATBOOK_ACTOR": "tester", "PYTHONUNBUFFERED": request.param}

    def call(words: tuple[str, ...], redirected: str = "", stdout: int | None = None) -> "subprocess.Popen[bytes]":
        line = [sys.executable, "-c", MAIN, *words]
        return subprocess.Popen(
            ["sh", "-c", f'exec "$@" {redirected}', "sh", *line],
            env={name: value for name, value in os.environ.items() if name != "COATBOOK_TODAY"} | variables,
            stdin=subprocess.DEVNULL,
            stdout=stdout,
            stderr=subprocess.PIPE,
        )

    return call


Start = Callable[..., "subprocess.Popen[bytes]"]


def ended(process: "subprocess.Popen[bytes]") -> tuple[int, str]:
    _, err = process.communicate(timeout=60)
    return process.returncode, err.decode()


@pytest.mark.parametrize(
    ("redirected", "cause"), [(">/dev/full", "No space left on device"), (">&-", "Bad file descriptor")]
)
@pytest.mark.parametrize("words", [LISTED, (*LISTED, "--json"), ("export", "journal", "2026-03")])
def test_a_stdout_that_takes_nothing(words: tuple[str, ...], redirected: str, cause: str, start: Start) -> None:
    told = f"coatbook: the output cannot be written ({cause}): look at where stdout goes\n"
    assert ended(start(words, redirected)) == (1, told)


@pytest.mark.parametrize(
    ("redirected", "cause"), [(">/dev/full", "No space left on device"), (">&-", "Bad file descriptor")]
)
def test_what_was_written_stands(redirected: str, cause: str, start: Start, coatbook: Command) -> None:
    code, err = ended(start(ADDED, redirected))
    assert (code, err) == (1, f"{WRITTEN.format(cause)}look at where stdout goes\n")
    assert "hill  Hill Flyers" in coatbook("customer", "list")


def test_help_into_a_full_stdout(start: Start) -> None:
    assert ended(start(HELP, ">/dev/full"))[0] == 1
    assert "Traceback" not in ended(start(HELP, ">/dev/full"))[1]
    assert ended(start(("--version",), ">/dev/full"))[1].startswith("coatbook: the output cannot be written")


def closed_pipe() -> int:
    """The writing end of a pipe that nobody reads."""
    reading, writing = os.pipe()
    os.close(reading)
    return writing


@pytest.mark.parametrize("words", [LISTED, HELP])
def test_a_closed_pipe_ends_quietly(words: tuple[str, ...], start: Start) -> None:
    pipe = closed_pipe()
    process = start(words, stdout=pipe)
    os.close(pipe)
    assert ended(process) == (1, "")


def test_a_closed_pipe_hides_nothing_that_was_written(start: Start, coatbook: Command) -> None:
    pipe = closed_pipe()
    process = start(ADDED, stdout=pipe)
    os.close(pipe)
    assert ended(process) == (1, f"{WRITTEN.format('Broken pipe')}look at where stdout goes\n")
    assert "hill  Hill Flyers" in coatbook("customer", "list")


def test_a_full_stderr_stops_nothing(start: Start, book_path: Path) -> None:
    process = start(LISTED, "2>/dev/full", stdout=subprocess.PIPE)
    out, _ = process.communicate(timeout=60)
    assert (process.returncode, out) == (0, b"No customers yet. Add one with `coatbook customer add`.\n")
    refused = start(("customer", "show", "nobody"), "2>/dev/full", stdout=subprocess.PIPE)
    assert refused.communicate(timeout=60)[0] == b""
    assert refused.returncode == 1


def test_a_closed_stdin_asks_nobody(start: Start) -> None:
    code, err = ended(start(("book", "close", "2026-03"), "<&-", stdout=subprocess.DEVNULL))
    assert (code, "Traceback" in err) == (1, False)
    assert "give --yes to do it, or --dry-run to look only" in err
