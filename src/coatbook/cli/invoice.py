"""`coatbook invoice`: what the shop is owed, and for what."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

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
    careful,
    columns,
    day,
    opened,
    plain_app,
    say,
    say_done,
    say_json,
)

if TYPE_CHECKING:
    from coatbook.store.book import Book

NAME = "invoice"
app = plain_app("Invoices: issue after handover, list, show, print.")

Number = Annotated[str, typer.Argument(help="The invoice's number.")]
To = Annotated[Path | None, typer.Option("--to", help="Folder or file for the PDF (else here).")]


@app.command("issue")
def issue(
    ctx: typer.Context,
    job: Annotated[int, typer.Argument(help="The job's number.")],
    due: Annotated[str | None, typer.Option("--due", help="Day it falls due (else by the shop's terms).")] = None,
    to: To = None,
    on: On = None,
    key: Key = None,
    yes: Yes = False,
    dry_run: DryRun = False,
) -> None:
    """Issue a job's final invoice: freeze it under the next number, draw the PDF, keep it.

    Where several pay for the job, each gets an invoice. It shows them and asks first. What is issued stands for good.

    \b
    Example:
      coatbook invoice issue 1 --dry-run
      coatbook invoice issue 1 --yes --to invoices
    """
    from coatbook.billing.views import final_invoices
    from coatbook.desk import invoicing
    from coatbook.jobs.views import find_job
    from coatbook.values import Refusal

    with opened(ctx) as book:
        _refuse_one_file(book, job, to)
        told = careful(
            ctx,
            book,
            Writing(on, key),
            yes,
            dry_run,
            "an invoice that is issued stands for good",
            invoicing.issue,
            job=job,
            due=day(due, "day it falls due"),
        )
        if told is None:
            return
        with book.read() as session:
            numbers = final_invoices(session, find_job(session, job).id)
        for number in numbers:
            try:
                written = _written(*invoicing.draw(book, ask(ctx, Writing(on)), number), to)
            except Refusal as problem:
                raise Refusal(
                    f"invoice {number} is issued and stands, but its PDF is not written: {problem}, and give "
                    f"`coatbook invoice print {number} --to FOLDER`"
                ) from None
            say_done(written)


@app.command("list")
def list_all(ctx: typer.Context, on: AsOf = None, json: AsJson = False) -> None:
    """List invoices and what is owed on them.

    \b
    Example:
      coatbook invoice list
    """
    from coatbook.billing.views import invoices
    from coatbook.desk.telling import invoice_row

    with opened(ctx) as book, book.read() as session:
        rows = [invoice_row(one) for one in invoices(session, as_of(book, on))]
    if json:
        say_json(rows)
    elif not rows:
        say("No invoices yet. After handover: `coatbook invoice issue JOB`.")
    else:
        table = [
            (
                row["number"],
                row["customer"],
                row["mark"] or "",
                row["due"],
                row["gross"],
                row["owed"],
                row["state"] + (f", {row['late_days']} days late" if row["late_days"] else ""),
            )
            for row in rows
        ]
        say(columns(("invoice", "customer", "aircraft", "due", "total", "owed", "state"), table, right=(4, 5)))


@app.command("show")
def show(ctx: typer.Context, number: Number, on: AsOf = None, json: AsJson = False) -> None:
    """Show an invoice: lines, tax, payments, what is owed.

    \b
    Example:
      coatbook invoice show 2026-0001 --json
    """
    from coatbook.billing.views import invoice
    from coatbook.desk.telling import invoice_data, invoice_story

    with opened(ctx) as book, book.read() as session:
        view = invoice(session, number, as_of(book, on))
    if json:
        say_json(invoice_data(view))
    else:
        say(invoice_story(view))


@app.command("print")
def print_out(ctx: typer.Context, number: Number, to: To = None) -> None:
    """Write an invoice's PDF again, byte for byte as it was handed out. It replaces no other file.

    \b
    Example:
      coatbook invoice print 2026-0001 --to invoices
    """
    from coatbook.desk import invoicing

    with opened(ctx) as book:
        say(_written(*invoicing.draw(book, ask(ctx, Writing()), number), to))


def _refuse_one_file(book: "Book", job: int, to: Path | None) -> None:
    """Several invoices do not go into one file: see it before they are issued."""
    from coatbook.jobs.views import find_job, payers_of
    from coatbook.values import Misuse

    with book.read() as session:
        count = len(payers_of(session, find_job(session, job).id))
    if to is not None and to.suffix.lower() == ".pdf" and count > 1:
        raise Misuse(f"job {job} has {count} invoices, one for each who pays: name a folder with --to, not a file")


def _written(name: str, content: bytes, to: Path | None) -> str:
    from coatbook.store.files import write_file

    path = Path(name) if to is None else to if to.suffix.lower() == ".pdf" else to / name
    if write_file(path, content):
        return f"Written to {path}."
    return f"It is at {path} already, byte for byte."
