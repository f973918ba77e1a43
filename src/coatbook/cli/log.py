"""`coatbook log`: the diary of a job, line by line as things happen."""

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from coatbook.cli.common import Again, Key, On, Writing, opened, plain_app, settings, tell, write, write_by

if TYPE_CHECKING:
    from coatbook.jobs.gauge_file import Spot

NAME = "log"
app = plain_app("The diary of a job: hours, materials, readings and all else, as it happens.")

LARGEST_FILE = 5_000_000
PER_SPOT = 3

Job = Annotated[int, typer.Argument(help="The job's number.")]
Step = Annotated[int | None, typer.Option("--step", help="The planned step it belongs to.")]
Note = Annotated[str | None, typer.Option("--note", help="Anything worth remembering.")]


@app.command("hours")
def hours(
    ctx: typer.Context,
    job: Job,
    worker: Annotated[str, typer.Argument(help="Code of who worked.")],
    spent: Annotated[str, typer.Argument(metavar="HOURS", help="How long, such as 2.5h or '45 min'.")],
    step: Step = None,
    note: Note = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write hours of work. The safety gate is looked at again before the first hours of any step.

    \b
    Example:
      coatbook log hours 1 sam 2.5h --step 1 --note "Left wing done"
    """
    from coatbook.desk.agreeing import log_hours
    from coatbook.values import Quantity

    time = Quantity.parse(spent, "time of work", "2.5 h")
    without_plugins = settings(ctx).no_plugins
    with opened(ctx) as book:
        write_by(
            ctx,
            Writing(on, key, again),
            lambda ask: log_hours(book, ask, without_plugins, job=job, worker=worker, hours=time, step=step, note=note),
        )


@app.command("use")
def use(
    ctx: typer.Context,
    job: Job,
    material: Annotated[str, typer.Argument(help="Code of the material.")],
    quantity: Annotated[str, typer.Argument(help="How much, such as '6 fl oz'.")],
    step: Step = None,
    note: Note = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write a material used: it comes out of the oldest lots and costs what they cost.

    \b
    Example:
      coatbook log use 1 sealant "6 fl oz" --step 3
    """
    from coatbook.jobs import diary
    from coatbook.values import Quantity

    amount = Quantity.parse(quantity, "quantity", "6 fl oz")
    with opened(ctx) as book:
        write(
            ctx,
            book,
            Writing(on, key, again),
            diary.log_use,
            job=job,
            material=material,
            quantity=amount,
            step=step,
            note=note,
        )


@app.command("expense")
def expense(
    ctx: typer.Context,
    job: Job,
    amount: Annotated[str, typer.Argument(help="What was spent, such as 35.00.")],
    what: Annotated[str, typer.Argument(help="On what.")],
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write money spent for a job.

    \b
    Example:
      coatbook log expense 1 35.00 "Hangar day fee"
    """
    from coatbook.jobs import diary
    from coatbook.values import Money

    with opened(ctx) as book:
        spent = Money.parse(amount, book.currency)
        write(ctx, book, Writing(on, key, again), diary.log_expense, job=job, amount=spent, what=what)


@app.command("travel")
def travel(
    ctx: typer.Context,
    job: Job,
    distance: Annotated[str, typer.Argument(help="How far there and back, such as '64 mi'.")],
    where: Annotated[str, typer.Argument(help="From where to where.")],
    rate: Annotated[str, typer.Option("--rate", help="What one unit of the distance costs, such as 0.67.")],
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write a trip for a job.

    \b
    Example:
      coatbook log travel 1 "64 mi" "Shop to Mesa Alta and back" --rate 0.67
    """
    from coatbook.jobs import diary
    from coatbook.values import Money, Quantity

    way = Quantity.parse(distance, "distance", "64 mi")
    with opened(ctx) as book:
        each = Money.parse(rate, book.currency, "rate")
        write(ctx, book, Writing(on, key, again), diary.log_travel, job=job, distance=way, rate=each, where=where)


@app.command("reading")
def reading(
    ctx: typer.Context,
    job: Job,
    gauge: Annotated[str, typer.Option("--gauge", help="Kind of gauge: eddy current, magnetic or ultrasound.")],
    serial: Annotated[str, typer.Option("--serial", help="The gauge's serial number.")],
    surface: Annotated[str | None, typer.Argument(help="The surface that was read, unless a file names it.")] = None,
    spot: Annotated[str | None, typer.Option("--spot", help="The place on the surface.")] = None,
    film: Annotated[list[str] | None, typer.Option("--film", help="One reading there; repeat it for each.")] = None,
    file: Annotated[str | None, typer.Option("--file", help="The gauge's CSV file (- for stdin).")] = None,
    per_spot: Annotated[
        int | None, typer.Option("--per-spot", help="Readings a spot, where the file names no spots (else 3).")
    ] = None,
    unit: Annotated[str | None, typer.Option("--unit", help="Unit of the file, where it gives none.")] = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write film readings: one spot by hand, or all that a gauge exported.

    A gauge's file has a heading row with the columns batch (the surface) and value, and if it gives them unit and
    spot. Nothing of a file is written unless all of it can be.

    \b
    Example:
      coatbook log reading 1 "left wing" --spot root --film "112 µm" \\
        --film "115 µm" --gauge "eddy current" --serial G-1042
      coatbook log reading 1 --file gauge.csv --unit µm \\
        --gauge "eddy current" --serial G-1042
    """
    from coatbook.desk.agreeing import film_now
    from coatbook.jobs import diary

    spots = _spots_by_hand(surface, spot, film) if file is None else ()
    if file is None and (per_spot is not None or unit is not None):
        _refuse_mixture("--per-spot and --unit go with --file")
    if file is not None:
        if surface is not None or spot is not None or film:
            _refuse_mixture("the file names its surfaces and spots")
        spots = _spots_of_file(file, PER_SPOT if per_spot is None else per_spot, unit)
    with opened(ctx) as book:
        write(ctx, book, Writing(on, key, again), diary.log_film, job=job, spots=spots, gauge=gauge, serial=serial)
        for sentence in film_now(book, job, {one.surface for one in spots}, settings(ctx).no_plugins):
            tell(sentence)


def _refuse_mixture(why: str) -> None:
    from coatbook.values import Misuse

    raise Misuse(f"{why}: give either SURFACE with --spot and --film, or --file")


def _spots_by_hand(surface: str | None, spot: str | None, film: list[str] | None) -> "tuple[Spot, ...]":
    from coatbook.jobs.gauge_file import Spot
    from coatbook.values import Quantity

    if surface is None or spot is None or not film:
        _refuse_mixture("no readings were given")
        return ()
    return (Spot(surface.strip().lower(), spot, tuple(Quantity.parse(one, "film", "112 µm") for one in film)),)


def _spots_of_file(file: str, per_spot: int, unit: str | None) -> "tuple[Spot, ...]":
    from coatbook.jobs.gauge_file import read_gauge_file

    name = "stdin" if file == "-" else Path(file).name
    return read_gauge_file(name, _text_of(file), per_spot, unit)


def _text_of(file: str) -> str:
    """The text of a file or of stdin. Raises Refusal where there is none, or none that can be read."""
    from coatbook.values import Refusal

    try:
        if file == "-":
            content = sys.stdin.buffer.read(LARGEST_FILE + 1)
        else:
            with Path(file).open("rb") as opened_file:
                content = opened_file.read(LARGEST_FILE + 1)
    except (OSError, ValueError) as problem:
        raise Refusal(f"cannot read {file!r}: {getattr(problem, 'strerror', None) or problem}") from None
    if len(content) > LARGEST_FILE:
        raise Refusal(
            f"{file} is larger than {LARGEST_FILE // 1_000_000} MB: no gauge's file is, split it if it is one"
        )
    try:
        return content.decode("utf-8")
    except UnicodeDecodeError:
        raise Refusal(f"{file} is not UTF-8 text: export it again as plain CSV") from None


@app.command("coat")
def coat(
    ctx: typer.Context,
    job: Job,
    material: Annotated[str, typer.Argument(help="Code of the coating product.")],
    surface: Annotated[list[str], typer.Argument(help="The surfaces it was laid on.")],
    lot: Annotated[str, typer.Option("--lot", help="Lot number, read off the label.")],
    layer: Annotated[int, typer.Option("--layer", help="Which layer it is.")] = 1,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write one coat laid on each surface: its upkeep counts from the day of the last coat.

    The safety gate of the steps that lay it is looked at again.
    What was used up is a line of its own: `coatbook log use`.

    \b
    Example:
      coatbook log coat 1 sealant "left wing" elevator --lot B-204
    """
    from coatbook.desk.agreeing import log_coat

    without_plugins, laid = settings(ctx).no_plugins, tuple(surface)
    with opened(ctx) as book:
        write_by(
            ctx,
            Writing(on, key, again),
            lambda ask: log_coat(
                book, ask, without_plugins, job=job, material=material, surfaces=laid, label=lot, layer=layer
            ),
        )


@app.command("conditions")
def conditions(
    ctx: typer.Context,
    job: Job,
    air: Annotated[str, typer.Option("--air", help="Temperature of the air, such as '24 °C'.")],
    skin: Annotated[str, typer.Option("--skin", help="Temperature of the skin of the aircraft.")],
    humidity: Annotated[str, typer.Option("--humidity", help="Relative humidity, such as '45 %'.")],
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write the conditions a coat was laid under.

    \b
    Example:
      coatbook log conditions 1 --air "75 °F" --skin "79 °F" --humidity "45 %"
    """
    from coatbook.jobs import diary
    from coatbook.values import Quantity

    with opened(ctx) as book:
        write(
            ctx,
            book,
            Writing(on, key, again),
            diary.log_conditions,
            job=job,
            air=Quantity.parse(air, "temperature of the air", "24 °C"),
            skin=Quantity.parse(skin, "temperature of the skin", "24 °C"),
            humidity=Quantity.parse(humidity, "humidity", "45 %"),
        )


@app.command("mask")
def mask(
    ctx: typer.Context,
    job: Job,
    way: Annotated[str, typer.Argument(metavar="on|off", help="Put on, or taken off.")],
    item: Annotated[str, typer.Argument(help="What is masked, such as 'static port'.")],
    count: Annotated[int, typer.Argument(help="How many.")],
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write masks put on or taken off: the handover waits until as many came off as went on.

    \b
    Example:
      coatbook log mask 1 on "static port" 2
    """
    from coatbook.jobs import diary

    with opened(ctx) as book:
        write(ctx, book, Writing(on, key, again), diary.log_mask, job=job, way=way, item=item, count=count)


@app.command("note")
def note(
    ctx: typer.Context,
    job: Job,
    text: Annotated[str, typer.Argument(help="The note.")],
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write a note into the diary of a job.

    \b
    Example:
      coatbook log note 1 "Old sealant seam at the fuel cap, owner told."
    """
    from coatbook.jobs import diary

    with opened(ctx) as book:
        write(ctx, book, Writing(on, key, again), diary.log_note, job=job, note=text)
