"""What all command modules share: options, opening the book, writing, asking and printing."""

import contextlib
import errno
import json
import os
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from typing import TYPE_CHECKING, Annotated, Any, Concatenate, ParamSpec, TypeVar

import typer

if TYPE_CHECKING:
    import datetime as dt

    from coatbook.store.acts import Ask, OpenAct, Told
    from coatbook.store.book import Book

# What a stdout that is full, closed or broken answers; a closed pipe (EPIPE) ends quietly in typer.
_TAKES_NOTHING = {errno.ENOSPC, errno.EDQUOT, errno.EFBIG, errno.EIO, errno.EBADF}

P = ParamSpec("P")
R = TypeVar("R")

On = Annotated[str | None, typer.Option("--on", help="The day it belongs to, YYYY-MM-DD (else today).")]
AsOf = Annotated[str | None, typer.Option("--on", help="As of this day, YYYY-MM-DD (else today).")]
Key = Annotated[str | None, typer.Option("--key", help="A key of your own that makes a retry safe.")]
From = Annotated[str | None, typer.Option("--from", help="The day it begins, YYYY-MM-DD (else the day it is written).")]
Again = Annotated[bool, typer.Option("--again", help="Mean it: the same line stands already.")]
Yes = Annotated[bool, typer.Option("--yes", help="Do it without asking (never passes a safety gate).")]
DryRun = Annotated[bool, typer.Option("--dry-run", help="Show what would happen, and do nothing.")]
AsJson = Annotated[bool, typer.Option("--json", help="Print data as JSON with stable keys.")]


def plain_app(help_text: str) -> typer.Typer:
    return typer.Typer(help=help_text, add_completion=False, rich_markup_mode=None, pretty_exceptions_enable=False)


@dataclass(frozen=True)
class Settings:
    """What stands before the noun on the command line."""

    book: str | None
    actor: str | None
    no_plugins: bool


@dataclass(frozen=True)
class Writing:
    """The options every writing command takes."""

    on: str | None = None
    key: str | None = None
    again: bool = False


def settings(ctx: typer.Context) -> Settings:
    found = ctx.find_object(Settings)
    assert found is not None
    return found


@contextmanager
def opened(ctx: typer.Context) -> Iterator["Book"]:
    """The book the user means, opened and known to be current."""
    from coatbook.desk.opening import default_place, open_book

    book = open_book(settings(ctx).book or default_place(), clock())
    try:
        yield book
    finally:
        book.close()


def clock() -> Any:
    """The clock, with today pretended and announced where COATBOOK_TODAY says so."""
    from coatbook.store.clock import Clock
    from coatbook.values.days import parse_day

    pretended = os.environ.get("COATBOOK_TODAY")
    if not pretended:
        return Clock()
    tell(f"note: today is taken to be {pretended} (COATBOOK_TODAY)")
    return Clock(parse_day(pretended, "day in COATBOOK_TODAY"))


def day(text: str | None, what: str = "day") -> "dt.date | None":
    from coatbook.values.days import parse_day

    return None if text is None else parse_day(text, what)


def as_of(book: "Book", text: str | None) -> "dt.date":
    """The as-of day of a reading command."""
    return day(text) or book.today()


def actor(ctx: typer.Context) -> str:
    import getpass

    from coatbook.values.text import line

    named = settings(ctx).actor
    if named is None:
        try:
            named = getpass.getuser()
        except (KeyError, OSError):
            named = "unknown"
    return line(named, "name of the actor", 80)


def write(
    ctx: typer.Context,
    book: "Book",
    writing: Writing,
    action: Callable[Concatenate["OpenAct", P], R],
    *args: P.args,
    **kwargs: P.kwargs,
) -> "Told[R]":
    """Do one action as one act and print what it told. A repeat is asked about on a terminal."""
    return write_by(ctx, writing, lambda asked: book.do(asked, action, *args, **kwargs))


def write_by(ctx: typer.Context, writing: Writing, do: "Callable[[Ask], Told[R]]") -> "Told[R]":
    """As `write`, for what a function of the desk does by itself: `do` takes who asks and answers what was told."""
    from coatbook.store.acts import Repeat

    try:
        told = do(ask(ctx, writing))
    except Repeat as repeat:
        if not (on_terminal() and typer.confirm(f"{repeat}\nWrite it again?", err=True)):
            raise
        told = do(ask(ctx, Writing(writing.on, writing.key, again=True)))
    say_done(told.text)
    return told


def careful(
    ctx: typer.Context,
    book: "Book",
    writing: Writing,
    yes: bool,
    dry_run: bool,
    reason: str,
    action: Callable[Concatenate["OpenAct", P], R],
    *args: P.args,
    **kwargs: P.kwargs,
) -> "Told[R] | None":
    """As `write`, for what is asked about first: show what will happen, and do it only if that is meant.

    `reason` says why it is asked about, where nobody can be asked.
    """
    from coatbook.values import Refusal

    if dry_run or not yes:
        told = book.do(ask(ctx, writing, dry_run=True), action, *args, **kwargs)
        if told.repeated:
            say(told.text)
            return told
        tell("This would happen:" if dry_run else "This will happen:")
        tell(told.text)
    if dry_run:
        tell("Nothing was written (--dry-run).")
        return None
    if not yes:
        if not on_terminal():
            raise Refusal(f"{reason}: give --yes to do it, or --dry-run to look only")
        typer.confirm("Do it?", abort=True, err=True)
    return write(ctx, book, writing, action, *args, **kwargs)


def ask(ctx: typer.Context, writing: Writing, dry_run: bool = False) -> "Ask":
    from coatbook.store.acts import Ask
    from coatbook.values.text import line

    key = line(writing.key, "key", 100) if writing.key is not None else None
    command = ctx.command_path.removeprefix("coatbook ")
    return Ask(command, actor(ctx), day(writing.on), key, writing.again, dry_run)


def on_terminal() -> bool:
    """Whether there is somebody to ask."""
    return sys.stdin is not None and sys.stdin.isatty()


def say(text: str) -> None:
    """Print data or an answer to stdout, made safe for a terminal. Raises OSError where stdout takes nothing."""
    put_out(_fit(text, sys.stdout))


def say_done(text: str) -> None:
    """As `say`, of what was written in the book: that stands, whether stdout takes the answer or not."""
    from coatbook.values import Refusal

    try:
        say(text)
    except OSError as problem:
        raise Refusal(f"what was asked is written in the book and stands, but {_unshown(problem)}") from None


def tell(text: str) -> None:
    """Talk to the user on stderr; where that takes nothing either, there is nobody to talk to."""
    with contextlib.suppress(OSError):
        typer.echo(_fit(text, sys.stderr), err=True)


def say_json(data: Any) -> None:
    put_out(json.dumps(data, indent=2, ensure_ascii=False, allow_nan=False))


def put_out(data: str | bytes, *, newline: bool = True) -> None:
    """Data to stdout as it is. Raises OSError where stdout takes nothing."""
    if sys.stdout is None:  # it was closed before the program began
        raise OSError(errno.EBADF, os.strerror(errno.EBADF))
    typer.echo(data, nl=newline)


def output_sentence(error: OSError) -> str | None:
    """One sentence for an error of stdout, typer's help pages included; None if it is something else's, and a bug.

    A file that cannot be written says so itself, as a Refusal, so that it never comes here.
    """
    return _unshown(error) if error.errno in _TAKES_NOTHING and error.filename is None else None


def _unshown(problem: OSError) -> str:
    return f"the output cannot be written ({problem.strerror}): look at where stdout goes"


def _fit(text: str, stream: Any) -> str:
    """Text made safe for a terminal, and broken at its width on one."""
    import shutil

    from coatbook.values.text import shown
    from coatbook.values.words import wrapped

    safe = shown(text)
    if stream is not None and stream.isatty():
        safe = wrapped(safe, shutil.get_terminal_size().columns)
    return safe


def columns(headings: Sequence[str], rows: Sequence[Sequence[str]], right: Sequence[int] = ()) -> str:
    """Aligned columns under headings (see `values.words.table`)."""
    from coatbook.values.words import table

    return table(headings, rows, right)


def pairs(rows: Sequence[tuple[str, str]]) -> str:
    """Labels with their values beside them; the further lines of a value stand under its first."""
    width = max(len(label) for label, _ in rows)
    lines = []
    for label, value in rows:
        for place, line in enumerate(value.splitlines() or [""]):
            lines.append(f"{'' if place else label:{width}}  {line}".rstrip())
    return "\n".join(lines)
