"""`coatbook import`: rows of a spreadsheet into the book, the whole file or nothing of it."""

import sys
import time
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from coatbook.cli.common import DryRun, Key, On, Writing, Yes, ask, columns, on_terminal, opened, say, settings, tell

if TYPE_CHECKING:
    from collections.abc import Callable

    from coatbook.desk.importing.columns import Progress
    from coatbook.desk.importing.tables import ImportTable
    from coatbook.store.acts import Ask, Told

OPENING = "opening"
_SECONDS = 10  # between two lines of progress, where they go into a file
_OFTEN = 200  # rows or jobs between two looks at the clock


def import_rows(
    ctx: typer.Context,
    table: Annotated[str | None, typer.Argument(help="What the rows are, such as hours; --list shows all.")] = None,
    file: Annotated[Path | None, typer.Argument(help="The CSV file, or the folder of an opening.")] = None,
    template: Annotated[
        str | None, typer.Option("--template", help="Print how a file of this table looks, and stop.")
    ] = None,
    list_tables: Annotated[bool, typer.Option("--list", help="List the tables, and stop.")] = False,
    job: Annotated[int | None, typer.Option("--job", help="A gauge's own file: the job it was read for.")] = None,
    gauge: Annotated[
        str | None, typer.Option("--gauge", help="Its kind: eddy current, magnetic or ultrasound.")
    ] = None,
    serial: Annotated[str | None, typer.Option("--serial", help="Its serial number.")] = None,
    unit: Annotated[str | None, typer.Option("--unit", help="Unit of its readings, if its file gives none.")] = None,
    per_spot: Annotated[
        int | None, typer.Option("--per-spot", help="Readings a spot, if its file names no spots (else 3).")
    ] = None,
    on: On = None,
    key: Key = None,
    again: Annotated[
        bool, typer.Option("--again", help="Mean it: bring in also rows that the book has already.")
    ] = False,
    yes: Yes = False,
    dry_run: DryRun = False,
) -> None:
    """Bring a CSV file into the book: each row as its command would write it.

    The whole file is one act: all of it is written, or nothing, and every row that is wrong is told with its line,
    its column and the reason. A file that has grown is simply imported again: only its new rows are written.

    A film gauge's own file comes in as readings if --job, --gauge and --serial say whose they are. A shop that
    begins its book in the middle of a year brings in what it has and owes by then with `import opening FOLDER`.

    \b
    Example:
      coatbook import --template hours > hours.csv
      coatbook import hours hours.csv --dry-run
      coatbook import hours hours.csv
      coatbook import readings gauge.csv --job 1 --unit µm \\
        --gauge "eddy current" --serial G-1042
      coatbook import opening start --on 2026-03-01
    """
    from coatbook.desk.importing.files import Source, import_file
    from coatbook.desk.importing.tables import table_named
    from coatbook.values import Misuse

    if template is not None:
        _show_template(template)
        return
    if list_tables or table is None:
        _list_tables()
        return
    if table == OPENING:
        _import_opening(ctx, file, Writing(on, key, again), yes, dry_run)
        return
    wanted = table_named(table)
    if file is None:
        raise Misuse(f"name the file: `coatbook import {wanted.name} FILE.csv`")
    if any(one is not None for one in (job, gauge, serial, unit, per_spot)):
        _import_gauge_file(ctx, wanted, file, (job, gauge, serial), (per_spot, unit), Writing(on, key, again), dry_run)
        return
    with opened(ctx) as book:
        source = Source(wanted, file, book.currency)

        def bring(asked: "Ask") -> "Told[int]":
            return import_file(book, asked, source, no_plugins=settings(ctx).no_plugins, progress=_progress(file.name))

        _do(ctx, Writing(on, key, again), bring, careful="" if yes else wanted.careful, dry_run=dry_run)


def _import_opening(ctx: typer.Context, folder: Path | None, writing: Writing, yes: bool, dry_run: bool) -> None:
    from coatbook.desk.importing.opening import import_opening, open_folder
    from coatbook.values import Misuse

    if folder is None:
        raise Misuse("name the folder: `coatbook import opening FOLDER --on DAY`")
    with opened(ctx) as book:
        sources = open_folder(folder, book.currency)

        def bring(asked: "Ask") -> "Told[int]":
            return import_opening(book, asked, sources, progress=_progress(folder.name))

        _do(ctx, writing, bring, careful="" if yes else "what comes in stands for good", dry_run=dry_run)


def _import_gauge_file(
    ctx: typer.Context,
    table: "ImportTable",
    file: Path,
    whose: tuple[int | None, str | None, str | None],
    form: tuple[int | None, str | None],
    writing: Writing,
    dry_run: bool,
) -> None:
    from coatbook.desk.agreeing import film_now
    from coatbook.desk.importing.gauge import import_gauge_file, read_spots
    from coatbook.values import Misuse

    job, gauge, serial = whose
    if table.name != "readings" or job is None or gauge is None or serial is None:
        raise Misuse("--job, --gauge and --serial go together, with `import readings` and the gauge's own file")
    name, spots = read_spots(file, *form)
    with opened(ctx) as book:

        def bring(asked: "Ask") -> "Told[int]":
            return import_gauge_file(book, asked, name=name, spots=spots, job=job, gauge=gauge, serial=serial)

        _do(ctx, writing, bring, careful="", dry_run=dry_run)
        if not dry_run:
            for sentence in film_now(book, job, {one.surface for one in spots}, settings(ctx).no_plugins):
                tell(sentence)


def _do(
    ctx: typer.Context, writing: Writing, bring: "Callable[[Ask], Told[int]]", *, careful: str, dry_run: bool
) -> None:
    """Do it and say what was done; where `careful` says why, show it first and ask."""
    from coatbook.values import Refusal

    if dry_run or careful:
        told = bring(ask(ctx, writing, dry_run=True))
        if told.repeated:
            say(told.text)
            return
        tell("This would happen:" if dry_run else "This will happen:")
        tell(told.text)
    if dry_run:
        tell("Nothing was written (--dry-run).")
        return
    if careful:
        if not on_terminal():
            raise Refusal(f"{careful}: give --yes to do it, or --dry-run to look only")
        typer.confirm("Do it?", abort=True, err=True)
    say(bring(ask(ctx, writing)).text)


def _list_tables() -> None:
    from coatbook.desk.importing.tables import TABLES

    rows = [(table.name, table.one_row) for table in TABLES.values()]
    say(columns(("table", "one row is"), [*rows, (OPENING, "a folder: what a shop has and owes when its book begins")]))
    tell("\n`coatbook import --template TABLE` shows the columns of one.")


def _show_template(name: str) -> None:
    """The headings and one row on stdout, fit for a file; what each column takes on stderr."""
    from coatbook.desk.importing.opening import FILES
    from coatbook.desk.importing.tables import table_named

    if name != OPENING:
        _show_table(table_named(name))
        return
    for file, table in FILES.items():
        typer.echo(f"{file}:")
        _show_table(table)


def _show_table(table: "ImportTable") -> None:
    import csv
    import io

    from coatbook.desk.importing.tables import explained, template

    out = io.StringIO()
    csv.writer(out, lineterminator="\n").writerows(template(table))
    typer.echo(out.getvalue(), nl=False)
    tell(f"\nOne row is {table.one_row}.")
    tell(columns(("column", "takes"), list(explained(table))))


def _progress(name: str) -> "Progress":
    """Say how far the file is: on one line of a terminal, else now and then."""
    terminal = sys.stderr.isatty()
    told = time.monotonic()

    def progress(count: int, what: str) -> None:
        nonlocal told
        if count % _OFTEN or time.monotonic() - told < (1 if terminal else _SECONDS):
            return
        told = time.monotonic()
        typer.echo(f"{name}: {count:,} {what}", err=True, nl=not terminal)
        if terminal:
            typer.echo("\r", err=True, nl=False)

    return progress
