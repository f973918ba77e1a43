"""`coatbook aircraft`: airframes, their marks, owners and clock times over time, surfaces and keep-off lists."""

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
    day,
    opened,
    plain_app,
    say,
    say_json,
    write,
)

NAME = "aircraft"
app = plain_app("Airframes: marks, owners and clock times over time, surfaces, keep-off lists.")

Mark = Annotated[str, typer.Argument(help="Its mark, your code for it, or sn:SERIAL.")]


Year = Annotated[int | None, typer.Option("--year", help="Year of manufacture.")]
Designator = Annotated[str | None, typer.Option("--designator", help="ICAO type designator, such as C182.")]
Certification = Annotated[
    str | None,
    typer.Option("--certification", help="type certificate, light sport, experimental or other."),
]
BurnBasis = Annotated[
    str | None,
    typer.Option("--burn-basis", help="What interior materials must be shown to meet, such as '14 CFR 23.853'."),
]
Operated = Annotated[
    str | None, typer.Option("--operated", help="The rule it is operated under, such as '14 CFR part 91'.")
]


@app.command("add")
def add(
    ctx: typer.Context,
    code: Annotated[str, typer.Argument(help="Your short name for it, for life: letters, digits, hyphens.")],
    maker: Annotated[str, typer.Option("--maker", help="Who made it.")],
    model: Annotated[str, typer.Option("--model", help="Model, as on its data plate.")],
    serial: Annotated[str, typer.Option("--serial", help="Serial number, as on its data plate.")],
    year: Year = None,
    mark: Annotated[str | None, typer.Option("--mark", help="Registration mark it wears.")] = None,
    owner: Annotated[str | None, typer.Option("--owner", help="Code of the customer who owns it.")] = None,
    designator: Designator = None,
    certification: Certification = None,
    burn_basis: BurnBasis = None,
    operated: Operated = None,
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
        --owner alder --from 2024-05-01 --designator C182 \\
        --certification "type certificate" --burn-basis "14 CFR 23.853"
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
            designator=designator,
            certification=certification,
            burn_basis=burn_basis,
            operated=operated,
        )


@app.command("edit")
def edit(
    ctx: typer.Context,
    mark: Mark,
    maker: Annotated[str | None, typer.Option("--maker", help="Who made it.")] = None,
    model: Annotated[str | None, typer.Option("--model", help="Model, as on its data plate.")] = None,
    serial: Annotated[str | None, typer.Option("--serial", help="Serial number, as on its data plate.")] = None,
    year: Year = None,
    designator: Designator = None,
    certification: Certification = None,
    burn_basis: BurnBasis = None,
    operated: Operated = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Correct what is known of an aircraft. An empty text, or the year 0, says that it is not known.

    \b
    Example:
      coatbook aircraft edit skylane --designator C182 --burn-basis "CAR 3.388" \\
        --operated "14 CFR part 91"
    """
    from coatbook.aircraft import actions

    with opened(ctx) as book:
        write(
            ctx,
            book,
            Writing(on, key, again),
            actions.edit_airframe,
            aircraft=mark,
            maker=maker,
            model=model,
            serial=serial,
            year=year,
            designator=designator,
            certification=certification,
            burn_basis=burn_basis,
            operated=operated,
        )


@app.command("list")
def list_all(ctx: typer.Context, on: AsOf = None, json: AsJson = False) -> None:
    """List all aircraft with marks, owners and states on a day.

    \b
    Example:
      coatbook aircraft list
    """
    from coatbook.desk.telling_aircraft import fleet, fleet_rows, fleet_story

    with opened(ctx) as book:
        every = fleet(book, as_of(book, on))
    if json:
        say_json(fleet_rows(every))
    else:
        say(fleet_story(every))


@app.command("show")
def show(ctx: typer.Context, mark: Mark, on: AsOf = None, json: AsJson = False) -> None:
    """Show all that is known of one aircraft on a day: surfaces, marks and owners over time, clock times, keep-off
    list, coatings.

    \b
    Example:
      coatbook aircraft show N123AB
    """
    from coatbook.desk.telling_aircraft import aircraft_data, aircraft_story, known

    with opened(ctx) as book:
        one = known(book, mark, as_of(book, on))
    if json:
        say_json(aircraft_data(one))
    else:
        say(aircraft_story(one))


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
    painted: Annotated[int | None, typer.Option("--painted", help="Year it was painted (0: not known).")] = None,
    mesh: Annotated[
        bool | None,
        typer.Option("--mesh/--no-mesh", help="Whether metal mesh lies under the paint of a composite skin."),
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
        --substrate aluminum --paint base/clear --layers-known --primer "25 µm" \\
        --painted 2019
    """
    from coatbook.aircraft import actions, views
    from coatbook.values import Misuse, Quantity

    size = Quantity.parse(area, "area", "84 ft2") if area is not None else None
    film = Quantity.parse(primer, "primer", "25 µm") if primer is not None else None
    with opened(ctx) as book:
        with book.read() as session:
            when = day(on) or book.today()
            one = views.airframe_view(session, views.find_airframe(session, mark, when, book.today()), when)
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
                painted=painted,
                mesh=mesh,
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
            painted=painted,
            mesh=mesh,
        )


@app.command("mark")
def mark_anew(
    ctx: typer.Context,
    mark: Mark,
    new: Annotated[
        str, typer.Argument(metavar="NEWMARK", help="The registration mark it wears from then on, or none.")
    ],
    from_on: From = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write a new mark; invoices issued before keep the old one. None: it gives its mark up and is known by its
    serial number.

    It holds until the mark that follows it, if one from a later day stands already.

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
            mark=None if new.strip().lower() == "none" else parse_mark(new),
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

    It holds until the owner who follows, if one from a later day stands already.

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


@app.command("times")
def times(
    ctx: typer.Context,
    mark: Mark,
    clock: Annotated[str, typer.Argument(help="Which clock: airframe, hobbs or tach.")],
    hours: Annotated[str, typer.Argument(help="What it stands at, in hours, such as 4512.3.")],
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write what a clock stood at on a day. A clock never runs backwards, nor more than 24 hours a day.

    One that was replaced goes on from where the old one ended: add the old one's hours.

    \b
    Example:
      coatbook aircraft times N123AB tach 1684.2
    """
    from coatbook.aircraft.clocks import write_times
    from coatbook.values import Quantity

    typed = hours if any(letter.isalpha() for letter in hours) else f"{hours} h"
    with opened(ctx) as book:
        write(
            ctx,
            book,
            Writing(on, key, again),
            write_times,
            aircraft=mark,
            clock=clock,
            hours=Quantity.parse(typed, "clock time", "4512.3"),
        )


@app.command("keepoff")
def keepoff(
    ctx: typer.Context,
    mark: Mark,
    item: Annotated[str | None, typer.Argument(help="The part, such as 'static port'.")] = None,
    place: Annotated[str | None, typer.Option("--place", help="Where it is, such as 'left side'.")] = None,
    count: Annotated[int | None, typer.Option("--count", help="How many there are; 0: none on this aircraft.")] = None,
    rule: Annotated[
        str | None,
        typer.Option(
            "--rule",
            help="mask, no touch, no polish, no coating, no polish or coating, named products only or keep readable.",
        ),
    ] = None,
    prefill: Annotated[
        list[str] | None,
        typer.Option(
            "--prefill",
            help="Write what is usual on a high wing, low wing, twin, turboprop, composite, fabric or tailwheel "
            "aircraft; may be repeated.",
        ),
    ] = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
    json: AsJson = False,
) -> None:
    """Show the parts to keep off, each with a rule of its own; write or change one by ITEM; or begin with the usual
    ones by --prefill.

    What --prefill writes is common practice, to be counted and confirmed against the aircraft and its maker's
    manual. It changes nothing that stands on the list.

    \b
    Example:
      coatbook aircraft keepoff N123AB --prefill "high wing"
      coatbook aircraft keepoff N123AB "static port" --place left --count 1
      coatbook aircraft keepoff N123AB "de-ice boot" --count 0
      coatbook aircraft keepoff N123AB
    """
    from coatbook.aircraft.keepoff import prefill_keep_off, set_keep_off
    from coatbook.desk.telling_aircraft import keep_off_rows, keep_off_story, known
    from coatbook.values import Misuse

    detail = any(given is not None for given in (place, count, rule))
    if (item is None and detail) or (prefill and (item is not None or detail)):
        raise Misuse("--place, --count and --rule are of one ITEM, and --prefill stands alone: give one or the other")
    if json and (item is not None or prefill):
        raise Misuse("--json shows the list: give it without ITEM and without --prefill")
    with opened(ctx) as book:
        writing = Writing(on, key, again)
        if prefill:
            write(ctx, book, writing, prefill_keep_off, aircraft=mark, kinds=prefill)
            return
        if item is not None:
            write(ctx, book, writing, set_keep_off, aircraft=mark, item=item, place=place, count=count, rule=rule)
            return
        one = known(book, mark, as_of(book, on))
    if json:
        say_json(keep_off_rows(one))
    else:
        say(keep_off_story(one))


@app.command("withdraw")
def withdraw(
    ctx: typer.Context,
    mark: Mark,
    why: Annotated[str, typer.Option("--why", help="Why: scrapped, lost, exported.")],
    from_on: From = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write that an aircraft flies no more: nobody is reminded of it, no job is opened, its mark may be issued anew.

    \b
    Example:
      coatbook aircraft withdraw N123AB --why "exported" --from 2026-08-01
    """
    from coatbook.aircraft import lifetime

    with opened(ctx) as book:
        write(
            ctx,
            book,
            Writing(on, key, again),
            lifetime.withdraw,
            aircraft=mark,
            why=why,
            from_on=day(from_on, "day in --from"),
        )
