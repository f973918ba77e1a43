"""`coatbook remind`: coating-maintenance reminders to owners."""

from pathlib import Path
from typing import Annotated

import typer

from coatbook.cli.common import (
    AsJson,
    AsOf,
    DryRun,
    Key,
    On,
    Writing,
    Yes,
    as_of,
    ask,
    on_terminal,
    opened,
    plain_app,
    say,
    say_done,
    say_json,
    settings,
    tell,
    write,
)

NAME = "remind"
app = plain_app("Reminders of coating upkeep: look, send, list.")


@app.command("preview")
def preview(ctx: typer.Context, on: AsOf = None, json: AsJson = False) -> None:
    """Show what would go to whom and why, and what is held and why. Sends nothing.

    \b
    Example:
      coatbook remind preview
    """
    from coatbook.desk.hosting import host_for
    from coatbook.desk.reminding import preview as look
    from coatbook.desk.telling_upkeep import notice_story, preview_rows

    with opened(ctx) as book:
        found = look(book, as_of(book, on), host_for(settings(ctx).no_plugins))
    rows = preview_rows(found)
    if json:
        say_json(rows)
    elif rows or not found.failures:
        say(notice_story(rows, "Nothing is to be told to anyone.", found.withdrawn))
    _fail(found.failures, 0)


@app.command("send")
def send(
    ctx: typer.Context,
    outbox: Annotated[Path | None, typer.Option("--outbox", help="Folder for messages (else beside the book).")] = None,
    on: On = None,
    yes: Yes = False,
    dry_run: DryRun = False,
) -> None:
    """Write reminders as messages with their calendar files into the outbox folder, each once.

    It shows what will go and asks first. Never twice by itself; a doubtful one is shown by `remind list`.

    \b
    Example:
      coatbook remind send --outbox outbox --yes
    """
    from coatbook.desk import outbox as sending
    from coatbook.desk.hosting import host_for
    from coatbook.desk.reminding import letters
    from coatbook.desk.reminding import preview as look
    from coatbook.desk.telling_upkeep import notice_story, preview_rows
    from coatbook.values import Refusal

    with opened(ctx) as book:
        found = look(book, as_of(book, on), host_for(settings(ctx).no_plugins))
        if (not yes or dry_run) and (found.planned or not found.failures):
            tell(notice_story(preview_rows(found), "Nothing new is to be told to anyone.", found.withdrawn))
        if not yes and not dry_run:
            if not on_terminal():
                raise Refusal("what is sent cannot be called back: give --yes to send, or --dry-run to look only")
            typer.confirm("Send it?", abort=True, err=True)
        waiting = 0
        if dry_run:
            tell("Nothing was sent (--dry-run).")
        else:
            folder = outbox or sending.beside(book)
            sent = sending.send(book, ask(ctx, Writing(on)), letters(book, found.planned), folder)
            if sent.said:
                say_done("\n".join(sent.said))
            elif not found.failures:  # what could not be worked out is not nothing
                say("Nothing to send.")
            waiting = sent.waiting
    _fail(found.failures, waiting)


@app.command("list")
def list_all(ctx: typer.Context, json: AsJson = False) -> None:
    """List the notices decided so far and how their messages stand.

    \b
    Example:
      coatbook remind list --json
    """
    from coatbook.desk.telling_upkeep import notice_rows, notice_story

    with opened(ctx) as book:
        rows = notice_rows(book)
    if json:
        say_json(rows)
    else:
        say(notice_story(rows, "No reminders yet. See `coatbook remind preview`."))


@app.command("settle")
def settle(
    ctx: typer.Context,
    message: Annotated[int, typer.Argument(help="The message's number.")],
    sent: Annotated[bool, typer.Option("--sent/--not-sent", help="Whether it did go.")],
    on: On = None,
    key: Key = None,
) -> None:
    """Write what you found out about a message that is unsure: it went, or it did not and may go again.

    \b
    Example:
      coatbook remind settle 3 --not-sent
    """
    from coatbook.upkeep import actions

    with opened(ctx) as book:
        write(ctx, book, Writing(on, key), actions.settle, message=message, sent=sent)


def _fail(failures: tuple[str, ...], waiting: int) -> None:
    """Refuse to call done what was not: coatings without an answer, messages that wait."""
    from coatbook.values import Refusal
    from coatbook.values.words import count

    told = []
    if waiting:
        told.append(
            f"{count(waiting, 'message')} could not be written: what waits goes with the next `coatbook remind send`, "
            "once the outbox folder can be written"
        )
    if failures:
        unknown = f"the upkeep of {count(len(failures), 'coating')} could not be worked out and no owner hears of it"
        told.append(f"{unknown}: {'; '.join(failures)}")
    if told:
        raise Refusal("; and ".join(told))
