"""`coatbook worker`: whose hours go into the book, and what an hour costs."""

from typing import TYPE_CHECKING, Annotated

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

if TYPE_CHECKING:
    from coatbook.people.views import Hand
    from coatbook.values import Quantity

NAME = "worker"
app = plain_app("Whose hours go into the book, and what an hour costs.")

OnCost = Annotated[
    str | None,
    typer.Option("--on-cost", help='What comes on top of the rate, such as "22 %": insurance, employer\'s taxes.'),
]


@app.command("add")
def add(
    ctx: typer.Context,
    code: Annotated[str, typer.Argument(help="Your short name for them: letters, digits, hyphens.")],
    name: Annotated[str, typer.Option("--name", help="Full name.")],
    kind: Annotated[str, typer.Option("--kind", help="owner, employee or subcontractor.")],
    rate: Annotated[str | None, typer.Option("--rate", help="What an hour costs the shop from today on.")] = None,
    on_cost: OnCost = None,
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
        write(
            ctx,
            book,
            Writing(on, key, again),
            actions.add_worker,
            code=code,
            name=name,
            kind=kind,
            rate=Money.parse(rate, book.currency, "rate") if rate is not None else None,
            on_cost=_on_cost(on_cost),
        )


def _on_cost(typed: str | None) -> "Quantity | None":
    from coatbook.values import Quantity

    return Quantity.parse(typed, "on-cost", "22 %") if typed is not None else None


@app.command("edit")
def edit(
    ctx: typer.Context,
    code: str,
    name: Annotated[str | None, typer.Option("--name", help="Full name.")] = None,
    kind: Annotated[str | None, typer.Option("--kind", help="owner, employee or subcontractor.")] = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Change a worker's name or kind from now on. Hours written before keep the kind they were written with.

    \b
    Example:
      coatbook worker edit sam --name "Samuel Reed"
    """
    from coatbook.people import actions

    with opened(ctx) as book:
        write(ctx, book, Writing(on, key, again), actions.edit_worker, code=code, name=name, kind=kind)


@app.command("rate")
def rate(
    ctx: typer.Context,
    code: str,
    amount: Annotated[str, typer.Argument(help="What an hour costs the shop, such as 28.00.")],
    on_cost: OnCost = None,
    from_on: From = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write what an hour of a worker costs the shop from a day on; hours written before keep their rate.

    With an on-cost an hour costs the rate and that much more, rounded half up once.

    \b
    Example:
      coatbook worker rate sam 45.00 --from 2026-01-01
      coatbook worker rate sam 45.00 --on-cost "15.3 %" --from 2026-07-01
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
            on_cost=_on_cost(on_cost),
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

    with opened(ctx) as book, book.read() as session:
        hands = views.workers(session, as_of(book, on))
    told = [_told(one, book.currency) for one in hands]
    if json:
        say_json(told)
    elif not hands:
        say("No workers yet. Add yourself with `coatbook worker add`.")
    else:
        rows = [
            (one.code, one.name, one.kind, row["rate"] or "not known", _percent(one.on_cost), row["cost"] or "")
            for one, row in zip(hands, told, strict=True)
        ]
        say(columns(("code", "name", "kind", "rate", "on-cost", f"{book.currency} an hour"), rows, right=(3, 4, 5)))


def _told(one: "Hand", currency: str) -> dict[str, str | None]:
    """A worker with stable keys."""
    from decimal import Decimal

    from coatbook.values import Money
    from coatbook.values.quantity import plain

    return {
        "code": one.code,
        "name": one.name,
        "kind": one.kind,
        "rate": None if one.rate is None else str(Money(one.rate, currency)),
        "on_cost": None if one.on_cost is None else plain(Decimal(one.on_cost).scaleb(-6)),
        "cost": None if one.cost is None else str(Money(one.cost, currency)),
        "currency": currency,
    }


def _percent(on_cost: int | None) -> str:
    from decimal import Decimal

    from coatbook.values.words import percent

    return "" if on_cost is None else percent(Decimal(on_cost).scaleb(-6))
