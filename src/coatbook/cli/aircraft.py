"""`coatbook aircraft`: airframes, their marks and owners over time, and their surfaces."""

from typing import Annotated

import typer

from coatbook.cli.common import (
    Again,
    AsJson,
    AsOf,
    From,
    Key,
    On,
    Writing,
    as_of,
    columns,
    day,
    opened,
    plain_app,
    say,
    say_json,
    write,
)

NAME = "aircraft"
app = plain_app("Airframes, their marks and owners over time, and their surfaces.")

Mark = Annotated[str, typer.Argument(help="Its mark, your code for it, or sn:SERIAL.")]


@app.command("add")
def add(
    ctx: typer.Context,
    code: Annotated[str, typer.Argument(help="Your short name for it, for life: letters, digits, hyphens.")],
    maker: Annotated[str, typer.Option("--maker", help="Who made it.")],
    model: Annotated[str, typer.Option("--model", help="Model, as on its data plate.")],
    serial: Annotated[str, typer.Option("--serial", help="Serial number, as on its data plate.")],
    year: Annotated[int | None, typer.Option("--year", help="Year of manufacture.")] = None,
    mark: Annotated[str | None, typer.Option("--mark", help="Registration mark it wears.")] = None,
    owner: Annotated[str | None, typer.Option("--owner", help="Code of the customer who owns it.")] = None,
    from_on: From = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write a new aircraft; with --from, it wears its mark and has its owner since that day.

    \b
    Example:
      coatbook aircraft add skylane --maker Cessna --model 182T \\
        --serial 18299901 --year 2005 --mark N123AB \\
        --owner alder --from 2024-05-01
    """
    from coatbook.aircraft import actions
    from coatbook.values.marks import parse_mark

    with opened(ctx) as book:
        write(
            ctx,
            book,
            Writing(on, key, again),
            actions.add_airframe,
            code=code,
            maker=maker,
            model=model,
            serial=serial,
            year=year,
            mark=parse_mark(mark) if mark is not None else None,
            owner=owner,
            from_on=day(from_on, "day in --from"),
        )


@app.command("list")
def list_all(ctx: typer.Context, on: AsOf = None, json: AsJson = False) -> None:
    """List all aircraft with the marks they wear on a day.

    \b
    Example:
      coatbook aircraft list
    """
    from coatbook.aircraft import views

    with opened(ctx) as book, book.read() as session:
        fleet = views.airframes(session, as_of(book, on))
    if json:
        say_json(
            [
                {
                    "airframe": one.code,
                    "mark": one.mark,
                    "serial": one.serial,
                    "maker": one.maker,
                    "model": one.model,
                }
                for one in fleet
            ]
        )
    elif not fleet:
        say("No aircraft yet. Add one with `coatbook aircraft add`.")
    else:
        rows = [
            (
                one.mark or "no mark",
                one.code,
                f"{one.maker} {one.model}",
                one.serial,
                one.owner.name if one.owner else "",
            )
            for one in fleet
        ]
        say(columns(("mark", "code", "type", "serial", "owner"), rows))


@app.command("show")
def show(ctx: typer.Context, mark: Mark, on: AsOf = None, json: AsJson = False) -> None:
    """Show one aircraft with its surfaces, as it stood on a day.

    \b
    Example:
      coatbook aircraft show N123AB
    """
    from coatbook.aircraft import views
    from coatbook.values.quantity import plain
    from coatbook.values.words import a

    with opened(ctx) as book, book.read() as session:
        when = as_of(book, on)
        one = views.airframe_view(session, views.find_airframe(session, mark, when), when)
    if json:
        say_json(
            {
                "airframe": one.code,
                "mark": one.mark,
                "serial": one.serial,
                "maker": one.maker,
                "model": one.model,
                "year": one.year,
                "owner": one.owner.code if one.owner else None,
                "surfaces": [
                    {
                        "surface": part.name,
                        "area": plain(part.area.decimal()),
                        "area_unit": part.area.unit,
                        "substrate": part.substrate,
                        "paint": part.paint,
                        "layers_known": part.layers_known,
                        "balanced": part.balanced,
                        "primer": plain(part.primer.decimal()) if part.primer else None,
                        "primer_unit": part.primer.unit if part.primer else None,
                    }
                    for part in one.surfaces
                ],
            }
        )
        return
    built = f" of {one.year}" if one.year else ""
    owned = f"owned by {one.owner.name} ({one.owner.code})" if one.owner else "its owner not known"
    say(f"{one.mark or one.code} is {a(one.maker)} {one.model}{built}, serial {one.serial}, {owned}.")
    if not one.surfaces:
        say(f"No surfaces yet. Add one with `coatbook aircraft surface {one.code} NAME`.")
        return
    rows = [
        (
            part.name,
            str(part.area),
            f"{part.paint} on {part.substrate}",
            "known" if part.layers_known else "not known",
            part.balanced,
            str(part.primer) if part.primer else "",
        )
        for part in one.surfaces
    ]
    say(columns(("surface", "area", "paint", "layers", "balanced", "primer"), rows, right=(1, 5)))


@app.command("surface")
def surface(
    ctx: typer.Context,
    mark: Mark,
    name: Annotated[str, typer.Argument(help="The surface, such as 'left wing'.")],
    area: Annotated[str | None, typer.Option("--area", help="Its area, such as '84 ft2'.")] = None,
    substrate: Annotated[
        str | None,
        typer.Option("--substrate", help="aluminum, magnesium, steel, stainless, composite, fabric or acrylic."),
    ] = None,
    paint: Annotated[
        str | None, typer.Option("--paint", help="single-stage, base/clear, gelcoat, dope or bare.")
    ] = None,
    layers_known: Annotated[
        bool | None,
        typer.Option("--layers-known/--layers-unknown", help="Whether you know which layers the film is made of."),
    ] = None,
    balanced: Annotated[
        str | None, typer.Option("--balanced", help="A control surface that must be balanced: yes, no or unknown.")
    ] = None,
    primer: Annotated[
        str | None, typer.Option("--primer", help="Film below the color, never to be polished into, such as '25 µm'.")
    ] = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write a surface, or correct what is known of one that is there.

    A new one needs --area, --substrate and --paint.

    --balanced yes is a control surface that must be balanced: the gate asks for an authority before any step that
    adds or takes film on it. Unknown counts as yes. Left out, a new surface is unknown if its name says aileron,
    elevator, rudder, flap, stabilator, ruddervator, elevon, flaperon, trim tab or tab, else no; the answer says
    which was taken.

    \b
    Example:
      coatbook aircraft surface N123AB "left wing" --area "84 ft2" \\
        --substrate aluminum --paint base/clear --layers-known --primer "25 µm"
    """
    from coatbook.aircraft import actions, views
    from coatbook.values import Misuse, Quantity

    size = Quantity.parse(area, "area", "84 ft2") if area is not None else None
    film = Quantity.parse(primer, "primer", "25 µm") if primer is not None else None
    with opened(ctx) as book:
        with book.read() as session:
            when = day(on) or book.today()
            one = views.airframe_view(session, views.find_airframe(session, mark, when), when)
        if name.strip().lower() in {part.name for part in one.surfaces}:
            write(
                ctx,
                book,
                Writing(on, key, again),
                actions.edit_surface,
                aircraft=mark,
                name=name,
                area=size,
                substrate=substrate,
                paint=paint,
                layers_known=layers_known,
                balanced=balanced,
                primer=film,
            )
            return
        if size is None or substrate is None or paint is None:
            known = ", ".join(part.name for part in one.surfaces) or "none yet"
            raise Misuse(
                f"{one.code} has no surface {name!r} ({known}): to add it give --area, --substrate and --paint"
            )
        write(
            ctx,
            book,
            Writing(on, key, again),
            actions.add_surface,
            aircraft=mark,
            name=name,
            area=size,
            substrate=substrate,
            paint=paint,
            layers_known=bool(layers_known),
            balanced=balanced,
            primer=film,
        )


@app.command("mark")
def mark_anew(
    ctx: typer.Context,
    mark: Mark,
    new: Annotated[str, typer.Argument(metavar="NEWMARK", help="The registration mark it wears from then on.")],
    from_on: From = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write a new mark; invoices issued before keep the old one.

    \b
    Example:
      coatbook aircraft mark skylane N77AB --from 2026-08-01
    """
    from coatbook.aircraft import actions
    from coatbook.values.marks import parse_mark

    with opened(ctx) as book:
        write(
            ctx,
            book,
            Writing(on, key, again),
            actions.set_mark,
            aircraft=mark,
            mark=parse_mark(new),
            from_on=day(from_on, "day in --from"),
        )


@app.command("owner")
def owner(
    ctx: typer.Context,
    mark: Mark,
    customer: Annotated[str, typer.Argument(help="Code of the customer who owns it from then on.")],
    from_on: From = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write a new owner. Jobs opened before keep who asked and who pays.

    \b
    Example:
      coatbook aircraft owner N123AB birch --from 2026-08-01
    """
    from coatbook.aircraft import actions

    with opened(ctx) as book:
        write(
            ctx,
            book,
            Writing(on, key, again),
            actions.set_owner,
            aircraft=mark,
            owner=customer,
            from_on=day(from_on, "day in --from"),
        )
