"""The command line: one module per noun; each reads arguments, calls one desk or action function, and prints.

Command modules import typer and the standard library only; the body imports what it needs, so that `--help` and a
line of the diary stay quick.
"""

import gc
import os
import sys
from functools import cache
from typing import Annotated, Any, TextIO

import typer

from coatbook.cli import (
    aircraft,
    book,
    business,
    calc,
    customer,
    deposit,
    export,
    invoice,
    job,
    log,
    material,
    paper,
    payment,
    plugin,
    remind,
    review,
    service,
    site,
    tax,
    upkeep,
    worker,
)
from coatbook.cli.common import Settings, plain_app, say
from coatbook.cli.importing import import_rows
from coatbook.cli.init import init
from coatbook.cli.strike import strike

app = plain_app("The book of a surface-finish shop for aircraft: jobs, invoices, upkeep, profit.")

_NOUNS = (
    business, customer, site, worker, paper, aircraft, service, material, job, log, invoice, deposit, payment, tax,
    upkeep, remind, review, calc, export, book, plugin,
)  # fmt: skip

for _noun in _NOUNS:
    app.add_typer(_noun.app, name=_noun.NAME)
app.command("init")(init)
app.command("strike")(strike)
app.command("import")(import_rows)


@app.callback(invoke_without_command=True)
def coatbook(
    ctx: typer.Context,
    where: Annotated[
        str | None,
        typer.Option(
            "--book", envvar="COATBOOK_BOOK", help="The book: a file path, or a postgresql:// URL.", show_envvar=True
        ),
    ] = None,
    actor: Annotated[
        str | None, typer.Option("--actor", envvar="COATBOOK_ACTOR", help="Who writes (else the system's user name).")
    ] = None,
    no_plugins: Annotated[
        bool, typer.Option("--no-plugins", help="Use only the calculators that came with coatbook.")
    ] = False,
    version: Annotated[bool, typer.Option("--version", help="Print the version and stop.")] = False,
) -> None:
    """The book of a surface-finish shop for aircraft: jobs, invoices, upkeep, profit.

    Alone, it says what needs a person today.

    \b
    Example:
      coatbook --book shop.db job list
    """
    ctx.obj = Settings(where, actor, no_plugins)
    if version:
        from coatbook import __version__

        say(f"coatbook {__version__}")
        raise typer.Exit
    if ctx.invoked_subcommand is None:
        from coatbook.cli.today import show_today

        show_today(ctx)


def run(arguments: list[str] | None = None) -> int:
    """Run one command; its exit code. A refusal is one sentence on stderr, never a traceback."""
    from coatbook.cli.common import output_sentence, tell
    from coatbook.values.refusal import Refusal

    os.umask(0o077)  # what coatbook writes is the shop's own business
    try:
        _refuse_unreadable(sys.argv[1:] if arguments is None else arguments)
        _program()(arguments, prog_name="coatbook", standalone_mode=True)
    except SystemExit as end:
        return end.code if isinstance(end.code, int) else 1
    except Refusal as refusal:
        tell(f"coatbook: {refusal}")
        return refusal.exit_code
    except OSError as error:
        sentence = output_sentence(error)
        if sentence is None:
            raise
        tell(f"coatbook: {sentence}")
        return 1
    except Exception as error:
        from coatbook.store.trouble import sentence_for

        sentence = sentence_for(error)
        if sentence is None:
            raise
        tell(f"coatbook: {sentence}")
        return 1
    return 0


@cache
def _program() -> Any:
    """The commands made of all functions; once only, where one process runs several."""
    return typer.main.get_command(app)


def _refuse_unreadable(arguments: list[str]) -> None:
    """Refuse bytes that are no text in the terminal's encoding: they could be kept and shown by nobody."""
    from coatbook.values.refusal import Misuse

    for place, argument in enumerate(arguments, start=1):
        if any("\ud800" <= character <= "\udfff" for character in argument):
            raise Misuse(f"word {place} of the command, {argument!r}, is not readable text: type it again in UTF-8")


def main() -> None:
    gc.set_threshold(50_000)  # a command lives for a moment: fewer collections while it loads
    code = run()
    _flushed(sys.stderr, 2)
    sys.exit(code if _flushed(sys.stdout, 1) else code or 1)


def _flushed(stream: TextIO | None, number: int) -> bool:
    """Whether a stream took all that was said. What it did not take is dropped, lest Python fail over it at its end."""
    try:
        if stream is not None:
            stream.flush()
    except OSError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), number)
        return False
    return True
