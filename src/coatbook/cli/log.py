"""`coatbook log`: the diary of a job, line by line as things happen."""

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from coatbook.cli.common import (
    Again,
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
    opened,
    plain_app,
    say,
    say_json,
    settings,
    tell,
    write,
    write_by,
)

if TYPE_CHECKING:
    from coatbook.jobs.gauge_file import Spot
    from coatbook.store.acts import OpenAct

NAME = "log"
app = plain_app("The diary of a job: hours, materials, readings and all else, as it happens.")

LARGEST_FILE = 5_000_000
PER_SPOT = 3

Job = Annotated[int, typer.Argument(help="The job's number.")]
JobOrShop = Annotated[str, typer.Argument(metavar="JOB|shop", help="The job's number, or the word shop.")]
Step = Annotated[int | None, typer.Option("--step", help="The planned step it belongs to.")]
Note = Annotated[str | None, typer.Option("--note", help="Anything worth remembering.")]


@app.command("hours")
def hours(
    ctx: typer.Context,
    job: JobOrShop,
    worker: Annotated[str, typer.Argument(help="Code of who worked.")],
    spent: Annotated[str, typer.Argument(metavar="HOURS", help="How long, such as 2.5h or '45 min'.")],
    step: Step = None,
    note: Note = None,
    test_spot: Annotated[bool, typer.Option("--test-spot", help="On a test spot of the step, consented to.")] = False,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write hours of work. The safety gate is looked at again before the first hours of any step.

    Hours of the shop are of no job: they are a cost of the month, and bear no overhead.

    \b
    Example:
      coatbook log hours 1 sam 2.5h --step 1 --note "Left wing done"
      coatbook log hours shop sam 2h --note "Cleaned the shop"
    """
    from coatbook.desk.agreeing import log_hours
    from coatbook.jobs import shop
    from coatbook.values import Misuse, Quantity

    number = _job_or_shop(job)
    time = Quantity.parse(spent, "time of work", "2.5 h")
    if number is None and (step is not None or test_spot):
        raise Misuse("the shop's own hours are on no step: leave out --step and --test-spot, or name the job")
    without_plugins, writing = settings(ctx).no_plugins, Writing(on, key, again)
    with opened(ctx) as book:
        if number is None:
            write(ctx, book, writing, shop.log_shop_hours, worker=worker, hours=time, note=note)
            return
        write_by(
            ctx,
            writing,
            lambda ask: log_hours(
                book,
                ask,
                without_plugins,
                job=number,
                worker=worker,
                hours=time,
                step=step,
                note=note,
                test_spot=test_spot,
            ),
        )


def _job_or_shop(typed: str) -> int | None:
    """A job's number; None for the shop itself."""
    from coatbook.values import Misuse
    from coatbook.values.text import shown

    if typed.strip().lower() == "shop":
        return None
    try:
        return int(typed)
    except ValueError:
        raise Misuse(f"{shown(typed)!r} is neither a job's number nor the word shop") from None


@app.command("use")
def use(
    ctx: typer.Context,
    job: Job,
    material: Annotated[str, typer.Argument(help="Code of the material.")],
    quantity: Annotated[str, typer.Argument(help="How much, such as '6 fl oz'.")],
    lot: Annotated[str | None, typer.Option("--lot", help="Draw on the lot of this number, else the oldest.")] = None,
    step: Step = None,
    note: Note = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write a material used: it comes out of the oldest lots and costs what they cost.

    Lots that expired and what customers supplied are left alone unless --lot names one.

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
            lot=lot,
        )


@app.command("expense")
def expense(
    ctx: typer.Context,
    job: JobOrShop,
    amount: Annotated[str, typer.Argument(help="What was spent, such as 35.00.")],
    what: Annotated[str, typer.Argument(help="On what.")],
    category: Annotated[
        str | None, typer.Option("--category", help="Of the shop's spending: rent, insurance, van, tools.")
    ] = None,
    payee: Annotated[str | None, typer.Option("--payee", help="To whom.")] = None,
    paid_from: Annotated[str | None, typer.Option("--paid-from", help="From which till, card or account.")] = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write money spent for a job, or for the shop itself under a category.

    \b
    Example:
      coatbook log expense 1 35.00 "Hangar day fee"
      coatbook log expense shop 620.00 "August" --category rent \\
        --payee "North Field Hangars" --paid-from checking
    """
    from coatbook.jobs import diary, shop
    from coatbook.values import Misuse, Money

    number, writing = _job_or_shop(job), Writing(on, key, again)
    with opened(ctx) as book:
        spent = Money.parse(amount, book.currency)
        if number is not None:
            if category is not None:
                raise Misuse("only the shop's own spending has a category: leave out --category, or write shop for JOB")
            write(
                ctx,
                book,
                writing,
                diary.log_expense,
                job=number,
                amount=spent,
                what=what,
                payee=payee,
                paid_from=paid_from,
            )
            return
        if category is None:
            raise Misuse("the shop's spending has a category: give one, such as --category rent")
        write(
            ctx,
            book,
            writing,
            shop.log_shop_expense,
            amount=spent,
            what=what,
            category=category,
            payee=payee,
            paid_from=paid_from,
        )


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
    stage: Annotated[
        str | None, typer.Option("--stage", help="before the work (as without it), 'test spot', or after.")
    ] = None,
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
        write(
            ctx,
            book,
            Writing(on, key, again),
            diary.log_film,
            job=job,
            spots=spots,
            gauge=gauge,
            serial=serial,
            stage=stage,
        )
        if stage is not None and stage.strip().lower() != "before":
            return
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

    content = _bytes_of(file, LARGEST_FILE)
    if len(content) > LARGEST_FILE:
        raise Refusal(
            f"{file} is larger than {LARGEST_FILE // 1_000_000} MB: no gauge's file is, split it if it is one"
        )
    try:
        return content.decode("utf-8")
    except UnicodeDecodeError:
        raise Refusal(f"{file} is not UTF-8 text: export it again as plain CSV") from None


def _bytes_of(file: str, largest: int) -> bytes:
    """What a file or stdin holds, one byte more than the largest where it is larger."""
    from coatbook.values import Refusal

    try:
        if file == "-":
            return sys.stdin.buffer.read(largest + 1)
        with Path(file).open("rb") as opened_file:
            return opened_file.read(largest + 1)
    except (OSError, ValueError) as problem:
        raise Refusal(f"cannot read {file!r}: {getattr(problem, 'strerror', None) or problem}") from None


@app.command("gauge")
def gauge_check(
    ctx: typer.Context,
    job: Job,
    gauge: Annotated[str, typer.Option("--gauge", help="Kind of gauge: eddy current, magnetic or ultrasound.")],
    serial: Annotated[str, typer.Option("--serial", help="The gauge's serial number.")],
    stage: Annotated[str, typer.Option("--stage", help="before or after the readings.")],
    zero: Annotated[str, typer.Option("--zero", help="What it reads on bare metal, such as '1 µm'.")],
    shim: Annotated[str, typer.Option("--shim", help="How thick the shim is, such as '50 µm'.")],
    shim_read: Annotated[str, typer.Option("--shim-read", help="What it reads on the shim.")],
    allowed: Annotated[
        str | None, typer.Option("--allowed", help="What it may be off by, from its sheet (else 3 µm, from memory).")
    ] = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
    yes: Yes = False,
    dry_run: DryRun = False,
) -> None:
    """Write a gauge's check, before or after its readings.

    A failed check after readings strikes what the gauge read in the job since its last good check: that is shown, and
    done only if it is meant. After a failed check the gauge reads nothing more that day until a good one.

    \b
    Example:
      coatbook log gauge 1 --gauge "eddy current" --serial G-1042 \\
        --stage before --zero "0 µm" --shim "50 µm" --shim-read "51 µm" \\
        --allowed "2 µm"
    """
    from coatbook.jobs.gauges import check_gauge
    from coatbook.values import Quantity

    def check(act: "OpenAct", /, **values: Any) -> int:
        return check_gauge(act, **values)

    values = {
        "job": job,
        "gauge": gauge,
        "serial": serial,
        "stage": stage,
        "zero": Quantity.parse(zero, "reading of bare metal", "1 µm"),
        "shim": Quantity.parse(shim, "shim", "50 µm"),
        "shim_read": Quantity.parse(shim_read, "reading of the shim", "51 µm"),
        "allowed": Quantity.parse(allowed, "allowed error", "3 µm") if allowed is not None else None,
    }
    writing = Writing(on, key, again)
    with opened(ctx) as book:
        looked = book.do(ask(ctx, Writing(on, key, again=True), dry_run=True), check, **values)
        if looked.result or dry_run:
            careful(ctx, book, writing, yes, dry_run, "a failed check strikes readings", check, **values)
        else:
            write(ctx, book, writing, check, **values)


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
    stage: Annotated[str | None, typer.Option("--stage", help="The start or the end of a coat.")] = None,
    time: Annotated[str | None, typer.Option("--time", help="The hour, HH:MM.")] = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write the conditions a coat was laid under.

    \b
    Example:
      coatbook log conditions 1 --air "75 °F" --skin "79 °F" --humidity "45 %" \\
        --stage start --time 09:30
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
            stage=stage,
            time=time,
        )


@app.command("stop")
def stop(
    ctx: typer.Context,
    job: Job,
    kind: Annotated[str, typer.Argument(help="cold, humid, access, customer or product.")],
    what: Annotated[str, typer.Argument(help="What it was, in a few words.")],
    hours: Annotated[str | None, typer.Option("--hours", help="Hours lost by it, such as 3h.")] = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write that the work stood still, and why. Hours lost are told, not charged.

    \b
    Example:
      coatbook log stop 1 humid "84 % in the hangar until noon" --hours 3h
    """
    from coatbook.jobs import diary
    from coatbook.values import Quantity

    lost = Quantity.parse(hours, "hours lost", "3h") if hours is not None else None
    with opened(ctx) as book:
        write(ctx, book, Writing(on, key, again), diary.log_stop, job=job, kind=kind, what=what, hours=lost)


@app.command("photo")
def photo(
    ctx: typer.Context,
    job: Job,
    file: Annotated[str, typer.Argument(help="The picture (PNG, JPEG) or paper (PDF), 10 MB at most.")],
    caption: Annotated[str, typer.Option("--caption", help="What it shows.")],
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Keep a photo or a paper with a job, byte for byte: `job photos JOB --to FOLDER` hands them out again.

    \b
    Example:
      coatbook log photo 1 left-wing.jpg --caption "Left wing before the wash"
    """
    from coatbook.jobs import photos

    content = _bytes_of(file, photos.LARGEST)
    with opened(ctx) as book:
        write(
            ctx,
            book,
            Writing(on, key, again),
            photos.log_photo,
            job=job,
            name=Path(file).name,
            content=content,
            caption=caption,
        )


@app.command("mask")
def mask(
    ctx: typer.Context,
    job: Job,
    way: Annotated[str, typer.Argument(metavar="on|off|look", help="Put on, taken off, or looked at.")],
    item: Annotated[str | None, typer.Argument(help="What is masked, such as 'static port'.")] = None,
    count: Annotated[int | None, typer.Argument(help="How many.")] = None,
    by: Annotated[str | None, typer.Option("--by", help="Who looked, once all are off.")] = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write masks put on or taken off, and the look at the aircraft once all are off.

    The handover waits until as many came off as went on, and another than who hands over has looked.

    \b
    Example:
      coatbook log mask 1 on "static port" 2
      coatbook log mask 1 off "static port" 2
      coatbook log mask 1 look --by "Kim Soto"
    """
    from coatbook.jobs import diary, looks
    from coatbook.values import Misuse

    writing = Writing(on, key, again)
    with opened(ctx) as book:
        if way.strip().lower() == "look":
            if by is None or item is not None or count is not None:
                raise Misuse("a look is at all masks at once, by someone: write look --by NAME, no item and no count")
            write(ctx, book, writing, looks.look_at_masks, job=job, by=by)
            return
        if item is None or count is None or by is not None:
            raise Misuse('masks are written by item and count: write on "static port" 2, or look --by NAME for a look')
        write(ctx, book, writing, diary.log_mask, job=job, way=way, item=item, count=count)


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


@app.command("list")
def list_lines(
    ctx: typer.Context,
    job: JobOrShop,
    struck: Annotated[bool, typer.Option("--struck", help="Show struck lines too.")] = False,
    on: AsOf = None,
    json: AsJson = False,
) -> None:
    """List the lines of a job's diary, or the shop's own.

    \b
    Example:
      coatbook log list shop
    """
    from coatbook.desk.telling_diary import line_rows

    number = _job_or_shop(job)
    with opened(ctx) as book:
        rows = line_rows(book, number, as_of(book, on), struck)
        currency = book.currency
    if json:
        say_json(rows)
    elif not rows:
        say("No lines yet. Write one with `coatbook log hours JOB|shop WORKER HOURS`.")
    else:
        cells = [
            (
                str(row["line"]),
                row["date"],
                row["kind"],
                f"{row['quantity']} {row['unit']}" if row["unit"] else "",
                row["cost"] or "",
                f"{row['what']}{' STRUCK: ' + row['struck'] if row['struck'] else ''}",
            )
            for row in rows
        ]
        say(columns(("line", "day", "kind", "quantity", currency, ""), cells, right=(0, 3, 4)))
