"""`coatbook export`: what is handed to whoever keeps the tax books, and the whole book as CSV."""

from pathlib import Path
from typing import Annotated

import typer

from coatbook.cli.common import as_of, opened, plain_app, put_out, say, tell

NAME = "export"
app = plain_app("Hand the journal to whoever keeps the tax books; or all tables as CSV.")


@app.command("journal")
def journal(
    ctx: typer.Context,
    month: Annotated[str | None, typer.Argument(help="The month, YYYY-MM (else this one).")] = None,
    to: Annotated[Path | None, typer.Option("--to", help="File to write (else stdout).")] = None,
) -> None:
    """Print a month's journal as CSV: the kept bytes of a closed month, else as it stands.

    \b
    Example:
      coatbook export journal 2026-07 --to journal-2026-07.csv
    """
    from coatbook.desk.closing import journal_of
    from coatbook.store.files import write_file
    from coatbook.values.days import Month

    with opened(ctx) as book:
        wanted = Month.parse(month) if month else Month.of(as_of(book, None))
        content = journal_of(book, wanted)
    if to is None:
        put_out(content, newline=False)
    else:
        already = "" if write_file(to, content) else " already, byte for byte"
        accounts = "Account names are the shop's; the tax books are kept elsewhere."
        tell(f"The journal of {wanted} is in {to}{already}. {accounts}")


@app.command("tables")
def tables(
    ctx: typer.Context,
    folder: Annotated[Path, typer.Argument(help="A new folder.")],
    without_acts: Annotated[
        bool, typer.Option("--without-acts", help="Leave out who wrote what by which command, and kept revisions.")
    ] = False,
    comparable: Annotated[
        bool, typer.Option("--comparable", help="Leave out all that differs between two books that say the same.")
    ] = False,
) -> None:
    """Write every table of the book into a folder, as a CSV file each.

    Money stands in minor units (cents) and a quantity in quanta, as the book keeps them.

    With --comparable, two books that say the same give equal files, in whatever order they were written: ids, acts,
    instants, hashes and drawn bytes are left out, and a reference is the code or number of what it refers to.

    \b
    Example:
      coatbook export tables book-2026-07
    """
    from coatbook.desk.exporting import export_tables

    with opened(ctx) as book:
        count = export_tables(book, folder, without_acts=without_acts, comparable=comparable)
    say(f"{count} tables are in {folder}.")
