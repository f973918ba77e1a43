"""`coatbook service`: what the shop does and sells, and its prices."""

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

NAME = "service"
app = plain_app("What the shop does and sells, and its prices.")


@app.command("add")
def add(
    ctx: typer.Context,
    code: Annotated[str, typer.Argument(help="Your short name for it: letters, digits, hyphens.")],
    name: Annotated[str, typer.Option("--name", help="Name, as on an invoice.")],
    abrasive: Annotated[bool, typer.Option("--abrasive", help="It takes paint off, so it stands at the gate.")] = False,
    tax_kind: Annotated[
        str, typer.Option("--tax-kind", help="Taxed as labor, material, travel, 'rebilled expense' or other.")
    ] = "labor",
    price: Annotated[str | None, typer.Option("--price", help="What it costs from today on, such as 4.25.")] = None,
    per: Annotated[
        str | None, typer.Option("--per", help="What the price counts: job, area, hour, or each step (else job).")
    ] = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write a new service.

    An --abrasive one is not agreed to, nor begun, on paint whose film readings say stop or say nothing.

    \b
    Example:
      coatbook service add polish --name "Prep polish" --abrasive \\
        --price 4.25 --per area
    """
    from coatbook.billing import actions
    from coatbook.values import Money

    with opened(ctx) as book:
        write(
            ctx,
            book,
            Writing(on, key, again),
            actions.offer_service,
            code=code,
            name=name,
            abrasive=abrasive,
            tax_kind=tax_kind,
            price=Money.parse(price, book.currency, "price") if price is not None else None,
            basis=per,
        )


@app.command("price")
def price(
    ctx: typer.Context,
    code: str,
    amount: Annotated[str, typer.Argument(help="The price, such as 4.25.")],
    per: Annotated[str, typer.Option("--per", help="What is counted: job, area, hour, or each planned step.")],
    quantity: Annotated[
        str | None, typer.Option("--quantity", help="What the amount buys (else 1 ft2, 1 h, 1 each).")
    ] = None,
    from_on: From = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write what a service costs from a day on. A job is invoiced at the prices of the day it was agreed.

    \b
    Example:
      coatbook service price polish 4.50 --per area --from 2026-09-01
    """
    from coatbook.billing import actions
    from coatbook.values import Money, Quantity

    with opened(ctx) as book:
        write(
            ctx,
            book,
            Writing(on, key, again),
            actions.set_price,
            service=code,
            amount=Money.parse(amount, book.currency, "price"),
            basis=per,
            per=Quantity.parse(quantity, "quantity in --quantity", "1 ft2") if quantity is not None else None,
            from_on=day(from_on, "day in --from"),
        )


@app.command("list")
def list_all(ctx: typer.Context, on: AsOf = None, json: AsJson = False) -> None:
    """List all services with the prices in force on a day.

    \b
    Example:
      coatbook service list
    """
    from coatbook.billing.views import price_in_force
    from coatbook.jobs import views
    from coatbook.values.quantity import plain

    with opened(ctx) as book, book.read() as session:
        when = as_of(book, on)
        services = [(one, price_in_force(session, one.code, when, book.currency)) for one in views.services(session)]
    if json:
        say_json(
            [
                {
                    "code": one.code,
                    "name": one.name,
                    "abrasive": one.abrasive,
                    "tax_kind": one.tax_kind,
                    "price": str(price.price.money) if price else None,
                    "currency": book.currency,
                    "basis": price.basis if price else None,
                    "per": plain(price.price.per.decimal()) if price else None,
                    "unit": price.price.per.unit if price else None,
                    "from": price.from_on.isoformat() if price else None,
                }
                for one, price in services
            ]
        )
    elif not services:
        say("No services yet. Add one with `coatbook service add`.")
    else:
        rows = [
            (
                one.code,
                one.name,
                str(price.price.money) if price else "no price",
                price.counted if price else "",
                one.tax_kind,
                "yes" if one.abrasive else "no",
            )
            for one, price in services
        ]
        say(columns(("code", "name", book.currency, "per", "taxed as", "abrasive"), rows, right=(2,)))
