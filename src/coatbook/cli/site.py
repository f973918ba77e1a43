"""`coatbook site`: where the shop works."""

from typing import Annotated

import typer

from coatbook.cli.common import (
    Again,
    AsJson,
    Key,
    On,
    Writing,
    columns,
    opened,
    plain_app,
    say,
    say_json,
    write,
)

NAME = "site"
app = plain_app("Where the shop works, and the tax place it lies in.")


@app.command("add")
def add(
    ctx: typer.Context,
    code: Annotated[str, typer.Argument(help="Your short name for it: letters, digits, hyphens.")],
    name: Annotated[str, typer.Option("--name", help="Name of the place, such as a hangar.")],
    address: Annotated[str, typer.Option("--address", help="Address, as on an invoice; \\n between lines.")],
    place: Annotated[str, typer.Option("--place", help="Tax place: country, state, finer as needed: US-TX-TRAVIS.")],
    airport: Annotated[str | None, typer.Option("--airport", help="Airport, by name or letters.")] = None,
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
