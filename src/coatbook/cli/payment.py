"""`coatbook payment`: money that came in."""

from typing import Annotated

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
    careful,
    columns,
    opened,
    plain_app,
    say,
    say_json,
)

NAME = "payment"
app = plain_app("Money that came in.")


@app.command("take")
def take(
    ctx: typer.Context,
    customer: Annotated[str, typer.Argument(help="The customer's code.")],
    amount: Annotated[str, typer.Argument(help="What came in, such as 1250.00.")],
    invoice: Annotated[list[str], typer.Option("--invoice", help="What it pays; repeatable, in order.")],
    method: Annotated[str, typer.Option("--method", help="How it came: check, wire, card.")] = "check",
    reference: Annotated[str | None, typer.Option("--reference", help="Check number or the like.")] = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
    yes: Yes = False,
    dry_run: DryRun = False,
) -> None:
    """Write money that came in and settle invoices with it. It shows what will happen and asks first.

    \b
    Example:
      coatbook payment take alder 1250.00 --invoice 2026-0001 --method wire --yes
    """
    from coatbook.billing import actions
    from coatbook.values import Money

    with opened(ctx) as book:
        careful(
            ctx,
            book,
            Writing(on, key, again),
            yes,
            dry_run,
            "money that comes in is asked about first",
            actions.take_payment,
            customer=customer,
            amount=Money.parse(amount, book.currency),
            method=method,
            invoices=tuple(invoice),
            reference=reference,
        )


@app.command("list")
def list_all(ctx: typer.Context, on: AsOf = None, json: AsJson = False) -> None:
    """List payments: money paid on invoices, deposits, and what was kept of those or given back.

    \b
    Example:
      coatbook payment list
    """
    from coatbook.billing.views import payments

    with opened(ctx) as book, book.read() as session:
        found = payments(session, as_of(book, on), book.currency)
    if json:
        say_json(
            [
                {
                    "payment": one.id,
                    "date": one.on_day.isoformat(),
                    "customer": code,
                    "method": one.method,
                    "reference": one.reference,
                    "amount": str(one.amount),
                    "kind": one.kind,
                    "job": one.job,
                }
                for code, one in found
            ]
        )
    elif not found:
        say("No payments yet.")
    else:
        rows = [
            (
                str(one.id),
                str(one.on_day),
                code,
                one.kind if one.job is None else f"{one.kind}, job {one.job}",
                one.method,
                str(one.amount),
            )
            for code, one in found
        ]
        say(columns(("payment", "day", "customer", "kind", "method", "amount"), rows, right=(0, 5)))
