"""`coatbook export`: what is handed to whoever keeps the tax books."""

from pathlib import Path
from typing import Annotated

import typer

from coatbook.cli.common import as_of, opened, plain_app, put_out, tell

NAME = "export"
app = plain_app("Hand the journal to whoever keeps the tax books.")


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
