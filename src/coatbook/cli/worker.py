"""`coatbook worker`: whose hours go into the book, and what an hour costs."""

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

NAME = "worker"
app = plain_app("Whose hours go into the book, and what an hour costs.")


@app.command("add")
def add(
    ctx: typer.Context,
    code: Annotated[str, typer.Argument(help="Your short name for them: letters, digits, hyphens.")],
    name: Annotated[str, typer.Option("--name", help="Full name.")],
    kind: Annotated[str, typer.Option("--kind", help="owner, employee or subcontractor.")],
    rate: Annotated[str | None, typer.Option("--rate", help="What an hour costs the shop from today on.")] = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write a new worker. The owner's hours are told apart from hours that are paid.

    \b
    Example:
      coatbook worker add sam --name "Sam Reed" --kind owner --rate 55.00
    """
    from coatbook.people import actions
    from coatbook.values import Money

    with opened(ctx) as book:
        hourly = Money.parse(rate, book.currency, "rate") if rate is not None else None
        write(ctx, book, Writing(on, key, again), actions.add_worker, code=code, name=name, kind=kind, rate=hourly)


@app.command("rate")
def rate(
    ctx: typer.Context,
    code: str,
    amount: Annotated[str, typer.Argument(help="What an hour costs the shop, such as 28.00.")],
    from_on: From = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write what an hour of a worker costs the shop from a day on; hours written before keep their rate.

    \b
    Example:
      coatbook worker rate sam 45.00 --from 2026-01-01
    """
    from coatbook.people import actions
    from coatbook.values import Money

    with opened(ctx) as book:
        write(
            ctx,
            book,
            Writing(on, key, again),
            actions.set_worker_rate,
            code=code,
            rate=Money.parse(amount, book.currency, "rate"),
            from_on=day(from_on, "day in --from"),
        )


@app.command("list")
def list_all(ctx: typer.Context, on: AsOf = None, json: AsJson = False) -> None:
    """List all workers and what an hour of each costs on a day.

    \b
    Example:
      coatbook worker list
    """
    from coatbook.people import views
    from coatbook.values import Money

    with opened(ctx) as book, book.read() as session:
        hands = views.workers(session, as_of(book, on))
    cost = {one.code: None if one.rate is None else str(Money(one.rate, book.currency)) for one in hands}
    if json:
        say_json(
            [
                {
                    "code": one.code,
                    "name": one.name,
                    "kind": one.kind,
                    "rate": cost[one.code],
                    "currency": book.currency,
                }
                for one in hands
            ]
        )
    elif not hands:
        say("No workers yet. Add yourself with `coatbook worker add`.")
    else:
        rows = [(one.code, one.name, one.kind, cost[one.code] or "not known") for one in hands]
        say(columns(("code", "name", "kind", f"{book.currency} an hour"), rows, right=(3,)))
