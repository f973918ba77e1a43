"""`coatbook tax`: tax rates by place and kind of charge, and who is exempt."""

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

NAME = "tax"
app = plain_app("Tax rates by place and kind of charge, and who is exempt.")


@app.command("add")
def add(
    ctx: typer.Context,
    place: Annotated[str, typer.Argument(help="Where it is due: country, state, finer as needed: US-TX-TRAVIS.")],
    kind: Annotated[str, typer.Argument(help="On what: labor, material, travel, 'rebilled expense' or other.")],
    percent: Annotated[str, typer.Argument(help="The rate in per cent, such as 6.25; 0 ends a tax.")],
    name: Annotated[str, typer.Option("--name", help="What an invoice calls it.")],
    from_on: From = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write a tax on one kind of charge at a place, from a day on.

    A place inherits the taxes of the places it lies in: US-TX-TRAVIS has those of US-TX too. Whether a tax applies
    to the shop's work is for the shop to confirm with the tax office there.

    \b
    Example:
      coatbook tax add US-TX labor 6.25 --name "State sales tax" --from 2026-01-01
    """
    from coatbook.billing import actions

    with opened(ctx) as book:
        write(
            ctx,
            book,
            Writing(on, key, again),
            actions.set_tax_rate,
            place=place,
            kind=kind,
            percent=percent,
            name=name,
            from_on=day(from_on, "day in --from"),
        )


@app.command("exempt")
def exempt(
    ctx: typer.Context,
    customer: str,
    place: Annotated[str, typer.Argument(help="Where no tax is charged, with all that lies in it: US-TX.")],
    reason: Annotated[str, typer.Option("--reason", help="Why, such as resale.")],
    certificate: Annotated[str, typer.Option("--certificate", help="Number of the exemption certificate.")],
    from_on: From = None,
    expires: Annotated[str | None, typer.Option("--expires", help="Its last day, YYYY-MM-DD.")] = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write that a customer is charged no tax at a place, and on which certificate; `customer show` lists them.

    It holds for every place that lies in that one too: an exemption in US-TX covers US-TX-TRAVIS. Whether it holds
    for the shop's work is for the shop to confirm with the tax office there.

    \b
    Example:
      coatbook tax exempt birch US-TX --reason resale --certificate 01-339 \\
        --expires 2027-06-30
    """
    from coatbook.people import papers

    with opened(ctx) as book:
        write(
            ctx,
            book,
            Writing(on, key, again),
            papers.add_exemption,
            customer=customer,
            place=place,
            reason=reason,
            certificate=certificate,
            from_on=day(from_on, "day in --from"),
            expires=day(expires, "day in --expires"),
        )


@app.command("list")
def list_all(ctx: typer.Context, on: AsOf = None, json: AsJson = False) -> None:
    """List all tax rates written, also those that are past or begin later.

    \b
    Example:
      coatbook tax list
    """
    from decimal import Decimal

    from coatbook.billing import views
    from coatbook.values.quantity import plain

    with opened(ctx) as book, book.read() as session:
        rates = views.tax_rates(session, as_of(book, on))
    if json:
        say_json(
            [
                {
                    "place": one.place,
                    "kind": one.kind,
                    "name": one.name,
                    "rate": plain(Decimal(one.millionths).scaleb(-6)),
                    "from": one.from_on.isoformat(),
                }
                for one in rates
            ]
        )
    elif not rates:
        say("No tax rates yet: invoices carry no tax. Add one with `coatbook tax add`.")
    else:
        rows = [
            (one.place, one.kind, f"{plain(Decimal(one.millionths).scaleb(-4))} %", str(one.from_on), one.name)
            for one in rates
        ]
        say(columns(("place", "on", "rate", "from", "name"), rows, right=(2,)))
