"""`coatbook book`: the book itself."""

from pathlib import Path
from typing import Annotated

import typer

from coatbook.cli.common import (
    AsJson,
    DryRun,
    Key,
    Writing,
    Yes,
    careful,
    clock,
    opened,
    plain_app,
    say,
    say_done,
    say_json,
    settings,
    tell,
    write,
)

NAME = "book"
app = plain_app("The book itself: check, close, back up, upgrade.")

MonthName = Annotated[str, typer.Argument(help="The month, YYYY-MM.")]


@app.command("info")
def info(ctx: typer.Context, json: AsJson = False) -> None:
    """Say where the book is, its currency, zone, revision, and the head of its chain.

    \b
    Example:
      coatbook book info
    """
    from coatbook.store.chain import short
    from coatbook.store.engine import hidden
    from coatbook.store.months import closed_through
    from coatbook.store.upgrade import NEWEST

    with opened(ctx) as book, book.read() as session:
        head, through = book.head(session), closed_through(session)
    data = {
        "where": hidden(book.where),
        "currency": book.currency,
        "zone": book.zone,
        "revision": NEWEST,
        "head": short(head) if head else None,
        "closed_through": through.isoformat() if through else None,
    }
    if json:
        say_json(data)
        return
    closed = f"closed through {through}" if through else "no month closed"
    say(f"The book at {data['where']} is kept in {book.currency}, in days of {book.zone}; {closed}.")
    say(f"Revision {NEWEST}; head of the chain {data['head']}.")


@app.command("check")
def check(ctx: typer.Context, json: AsJson = False) -> None:
    """Rehash every row and act, look for missing guards and at what invoices print, and name what was changed.

    \b
    Example:
      coatbook book check
    """
    from coatbook.desk.checking import check_book
    from coatbook.values.words import count

    with opened(ctx) as book:
        findings = check_book(book)
    if json:
        say_json(
            {
                "ok": not findings,
                "findings": [{"kind": one.kind, "where": one.where, "what": one.what} for one in findings],
            }
        )
    elif not findings:
        say("The book is whole: every row is as it was written, every guard stands.")
    else:
        say(f"The book is not as it was written: {count(len(findings), 'finding')}.")
        say("\n".join(f"  {one.kind:<9} {one.where}: {one.what}" for one in findings))
    if findings:
        raise typer.Exit(1)


@app.command("close")
def close(ctx: typer.Context, month: MonthName, key: Key = None, yes: Yes = False, dry_run: DryRun = False) -> None:
    """Close a month with its journal as it stands. Nothing takes a date inside it afterwards.

    Months close in order, from the first with a line in its journal.

    \b
    Example:
      coatbook book close 2026-07 --yes
    """
    from coatbook.desk.closing import close_month
    from coatbook.values.days import Month

    with opened(ctx) as book:
        reason = "in a month that is closed nothing takes a date any more"
        again = Writing(None, key, again=True)  # a month that is closed already says so itself
        careful(ctx, book, again, yes, dry_run, reason, close_month, month=Month.parse(month))


@app.command("reopen")
def reopen(
    ctx: typer.Context,
    month: MonthName,
    why: Annotated[str, typer.Option("--why", help="Why it is opened again.")],
    key: Key = None,
) -> None:
    """Reopen the latest closed month.

    \b
    Example:
      coatbook book reopen 2026-07 --why "an expense was forgotten"
    """
    from coatbook.store import closings
    from coatbook.values import text
    from coatbook.values.days import Month

    with opened(ctx) as book:
        write(
            ctx,
            book,
            Writing(None, key, again=True),
            closings.reopen,
            month=Month.parse(month),
            why=text.line(why, "reason"),
        )


@app.command("backup")
def backup(
    ctx: typer.Context,
    to: Annotated[Path | None, typer.Argument(help="File to write (else beside the book).")] = None,
) -> None:
    """Copy the book into one new file that only you can read: a whole book, checked.

    What `coatbook book check` would find in it is told, and the copy kept.

    \b
    Example:
      coatbook book backup /media/stick/book-2026-07.db
    """
    from coatbook.desk.checking import check_copy
    from coatbook.store.backup import backup as copy
    from coatbook.store.backup import backup_place
    from coatbook.store.chain import short
    from coatbook.store.upgrade import NEWEST
    from coatbook.values.words import count

    with opened(ctx) as book:
        with book.read() as session:
            head = book.head(session)
        target = to or backup_place(book.where, short(head or ""), book.clock.instant())
        copy(book.where, NEWEST, target)
        findings = check_copy(target, book.clock)
    if findings:
        first = f"{findings[0].where}: {findings[0].what}"
        tell(f"note: what is in the backup is not as it was written ({count(len(findings), 'finding')}; {first}).")
        tell("Look at the book with `coatbook book check` before you rely on either.")
    say(f"The backup is {target}; head of the chain {short(head or '')}. Keep it away from this machine.")


@app.command("upgrade")
def upgrade(ctx: typer.Context) -> None:
    """Bring an older book up to date, after a backup, and set all guards anew.

    \b
    Example:
      coatbook book upgrade
    """
    from coatbook.desk.opening import default_place, upgrade_book

    say_done(upgrade_book(settings(ctx).book or default_place(), clock()))
