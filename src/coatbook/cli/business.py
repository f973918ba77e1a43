"""`coatbook business`: the shop itself, what an hour of it costs, and how its documents are numbered."""

from typing import Annotated

import typer

from coatbook.cli.common import (
    Again,
    AsJson,
    From,
    Key,
    On,
    Writing,
    columns,
    day,
    opened,
    pairs,
    plain_app,
    say,
    say_json,
    write,
)

NAME = "business"
app = plain_app("The shop itself: what its documents say of it, its overhead, its document numbers.")


@app.command("show")
def show(ctx: typer.Context, json: AsJson = False) -> None:
    """Show what documents say of the shop.

    \b
    Example:
      coatbook business show
    """
    from coatbook.people import views
    from coatbook.values import frozen

    with opened(ctx) as book, book.read() as session:
        shop = views.shop(session)
    if json:
        say_json(frozen.plain(shop) | {"currency": book.currency, "zone": book.zone})
        return
    when = "at once" if shop.net_days == 0 else f"within {shop.net_days} days"
    say(f"{shop.name} writes on {shop.paper} paper in {shop.locale} and asks to be paid {when}.")
    rows = [
        ("address", "\n".join(shop.address)),
        ("mail", shop.email or "none yet: --email"),
        ("phone", shop.phone or "none yet: --phone"),
        ("tax number", shop.tax_number or "none"),
        ("color", shop.color or "none, black only"),
        ("how to pay", "\n".join(shop.pay_how) or "none yet: --pay-how"),
        ("money, days", f"{book.currency}, {book.zone}"),
    ]
    say(pairs(rows))


@app.command("edit")
def edit(
    ctx: typer.Context,
    name: Annotated[str | None, typer.Option("--name", help="Name of the shop, as on an invoice.")] = None,
    address: Annotated[str | None, typer.Option("--address", help="Postal address; \\n between lines.")] = None,
    email: Annotated[str | None, typer.Option("--email", help="The shop's one mail address.")] = None,
    phone: Annotated[str | None, typer.Option("--phone", help="Phone number.")] = None,
    tax_number: Annotated[str | None, typer.Option("--tax-number", help="Number of the tax permit.")] = None,
    locale: Annotated[str | None, typer.Option("--locale", help="Language and country, such as en_US.")] = None,
    paper: Annotated[str | None, typer.Option("--paper", help="Letter or A4.")] = None,
    color: Annotated[str | None, typer.Option("--color", help="Color of headings, such as #31556b.")] = None,
    pay_how: Annotated[str | None, typer.Option("--pay-how", help="How to pay; \\n between lines.")] = None,
    net_days: Annotated[int | None, typer.Option("--net-days", help="Days until an invoice is due.")] = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Change what documents say of the shop from now on; issued ones keep what they said.

    \b
    Example:
      coatbook business edit --phone 555-0101 --pay-how "By check, please."
    """
    from coatbook.people import actions

    with opened(ctx) as book:
        write(
            ctx,
            book,
            Writing(on, key, again),
            actions.edit_business,
            name=name,
            address=address.replace("\\n", "\n") if address else address,
            email=email,
            phone=phone,
            tax_number=tax_number,
            locale=locale,
            paper=paper,
            color=color,
            pay_how=pay_how.replace("\\n", "\n") if pay_how else pay_how,
            net_days=net_days,
        )


@app.command("overhead")
def overhead(
    ctx: typer.Context,
    amount: Annotated[str, typer.Argument(help="What the shop costs beside each hour of work, such as 18.50.")],
    from_on: From = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write the shop's overhead for each hour of work: rent, insurance, the van.

    \b
    Example:
      coatbook business overhead 18.50 --from 2026-01-01
    """
    from coatbook.people import actions
    from coatbook.values import Money

    with opened(ctx) as book:
        write(
            ctx,
            book,
            Writing(on, key, again),
            actions.set_overhead_rate,
            rate=Money.parse(amount, book.currency, "overhead"),
            from_on=day(from_on, "day in --from"),
        )


@app.command("series")
def series(
    ctx: typer.Context,
    code: Annotated[str | None, typer.Argument(help="Which series, such as invoice.")] = None,
    pattern: Annotated[
        str | None, typer.Option("--pattern", help="How numbers look: {n} or {n:4}, after {year} if wanted.")
    ] = None,
    first: Annotated[int | None, typer.Option("--first", help="The first number (else 1).")] = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
    json: AsJson = False,
) -> None:
    """Write how documents are numbered; without --pattern, list the series.

    \b
    Example:
      coatbook business series invoice --pattern "{year}-{n:4}" --first 27
    """
    from coatbook.billing import actions, views
    from coatbook.values import Misuse, Refusal

    if pattern is None:
        if first is not None:
            raise Misuse("--first goes with --pattern: give both")
        with opened(ctx) as book, book.read() as session:
            rows = [row for row in views.series(session) if code is None or row[0] == code.strip().lower()]
        if not rows:
            raise Refusal(f"there is no series {code!r}: `coatbook business series` lists them")
        if json:
            say_json([{"series": one, "pattern": pattern, "first": first} for one, pattern, first in rows])
        else:
            table = [(one, pattern, str(first)) for one, pattern, first in rows]
            say(columns(("series", "pattern", "first"), table, right=(2,)))
        return
    if code is None:
        raise Misuse('name the series the pattern is for, such as `coatbook business series invoice --pattern "{n:4}"`')
    with opened(ctx) as book:
        write(
            ctx,
            book,
            Writing(on, key, again),
            actions.set_series,
            code=code,
            pattern=pattern,
            first=1 if first is None else first,
        )
