"""`coatbook site`: where the shop works."""

from typing import Annotated

import typer

from coatbook.cli.common import (
    Again,
    AsJson,
    AsOf,
    Key,
    On,
    Writing,
    as_of,
    columns,
    opened,
    pairs,
    plain_app,
    say,
    say_json,
    write,
)

NAME = "site"
app = plain_app("Where the shop works: the tax place it lies in, and the rules there.")

Airport = Annotated[str | None, typer.Option("--airport", help="Airport, by name or letters.")]
Landlord = Annotated[str | None, typer.Option("--landlord", help="Whose hangar it is, and how to reach them.")]
Access = Annotated[str | None, typer.Option("--access", help="How to get in, and when: gate, badge, hours.")]
Power = Annotated[str | None, typer.Option("--power", help="Where power comes from, and how much.")]
Water = Annotated[str | None, typer.Option("--water", help="Where water comes from, and where it may run.")]


@app.command("add")
def add(
    ctx: typer.Context,
    code: Annotated[str, typer.Argument(help="Your short name for it: letters, digits, hyphens.")],
    name: Annotated[str, typer.Option("--name", help="Name of the place, such as a hangar.")],
    address: Annotated[str, typer.Option("--address", help="Address, as on an invoice; \\n between lines.")],
    place: Annotated[str, typer.Option("--place", help="Tax place: country, state, finer as needed: US-TX-TRAVIS.")],
    airport: Airport = None,
    landlord: Landlord = None,
    access: Access = None,
    power: Power = None,
    water: Water = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write a new site. The tax place decides which tax rates stand on invoices for work done there.

    \b
    Example:
      coatbook site add mesa --name "North field, hangar 7" \\
        --address "4100 Runway Road\\nMesa Alta, TX 78000" --place US-TX
    """
    from coatbook.people import actions

    with opened(ctx) as book:
        write(
            ctx,
            book,
            Writing(on, key, again),
            actions.add_site,
            code=code,
            name=name,
            address=address.replace("\\n", "\n"),
            place=place,
            airport=airport,
            landlord=landlord,
            access=access,
            power=power,
            water=water,
        )


@app.command("edit")
def edit(
    ctx: typer.Context,
    code: str,
    name: Annotated[str | None, typer.Option("--name", help="Name of the place, such as a hangar.")] = None,
    address: Annotated[str | None, typer.Option("--address", help="Address; \\n between lines.")] = None,
    place: Annotated[str | None, typer.Option("--place", help="Tax place, such as US-TX-TRAVIS.")] = None,
    airport: Airport = None,
    landlord: Landlord = None,
    access: Access = None,
    power: Power = None,
    water: Water = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Change what is known of a site from now on; issued documents keep what they said.

    \b
    Example:
      coatbook site edit mesa --landlord "Field office, 555-0160" \\
        --access "gate 2, badge, 7 to 19 h" --power "two 20 A outlets" \\
        --water "hose bib; wash only on the pad with the separator"
    """
    from coatbook.people import actions

    with opened(ctx) as book:
        write(
            ctx,
            book,
            Writing(on, key, again),
            actions.edit_site,
            code=code,
            name=name,
            address=address.replace("\\n", "\n") if address is not None else None,
            place=place,
            airport=airport,
            landlord=landlord,
            access=access,
            power=power,
            water=water,
        )


@app.command("list")
def list_all(ctx: typer.Context, json: AsJson = False) -> None:
    """List all sites.

    \b
    Example:
      coatbook site list
    """
    from coatbook.people import views
    from coatbook.values import frozen

    with opened(ctx) as book, book.read() as session:
        sites = views.sites(session)
    if json:
        say_json(frozen.plain(sites))
    elif not sites:
        say("No sites yet. Add one with `coatbook site add`.")
    else:
        rows = [(one.code, one.name, one.airport or "", one.place) for one in sites]
        say(columns(("code", "name", "airport", "tax place"), rows))


@app.command("show")
def show(ctx: typer.Context, code: str, on: AsOf = None, json: AsJson = False) -> None:
    """Show one site with its rules, and its papers as they stand on a day.

    \b
    Example:
      coatbook site show mesa
    """
    from coatbook.desk.papers import paper_row, state_words
    from coatbook.people import views
    from coatbook.values import frozen

    with opened(ctx) as book, book.read() as session:
        asked = as_of(book, on)
        one = views.site(session, code)
        papers = [paper for paper in views.papers(session, asked) if paper.of == f"site:{one.code}"]
    if json:
        say_json(frozen.plain(one) | {"papers": [paper_row(paper, asked, book.currency) for paper in papers]})
        return
    say(f"{one.name} ({one.code}) is taxed as {one.place}.")
    rows = [
        ("airport", one.airport or "not written: --airport"),
        ("address", "\n".join(one.address)),
        ("landlord", one.landlord or "not written: --landlord"),
        ("access", one.access or "not written: --access"),
        ("power", one.power or "not written: --power"),
        ("water", one.water or "not written: --water"),
        *((paper.kind, f"{paper.issuer}, {paper.number}: {state_words(paper, asked)}") for paper in papers),
    ]
    say(pairs(rows))
