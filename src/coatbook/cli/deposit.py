"""`coatbook deposit`: money for a job before its invoice."""

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

NAME = "deposit"
app = plain_app("Money for a job before its invoice.")

Job = Annotated[int, typer.Argument(help="The job's number.")]


@app.command("take")
def take(
    ctx: typer.Context,
    customer: Annotated[str, typer.Argument(help="The code of the customer it is from, who pays for the job.")],
    amount: Annotated[str, typer.Argument(help="What came in, such as 500.00.")],
    job: Annotated[int, typer.Option("--job", help="The job it is for.")],
    method: Annotated[str, typer.Option("--method", help="How it came: check, wire, card.")] = "check",
    reference: Annotated[str | None, typer.Option("--reference", help="Check number or the like.")] = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
    yes: Yes = False,
    dry_run: DryRun = False,
) -> None:
    """Write a deposit that came in for a job. It shows what will happen and asks first.

    It is held, not earned, until the job's invoice draws it.

    \b
    Example:
      coatbook deposit take alder 500.00 --job 1 --method wire --yes
    """
    from coatbook.billing import deposits
    from coatbook.values import Money

    with opened(ctx) as book:
        careful(
            ctx,
            book,
            Writing(on, key, again),
            yes,
            dry_run,
            "money that comes in is asked about first",
            deposits.take_deposit,
            customer=customer,
            job=job,
            amount=Money.parse(amount, book.currency),
            method=method,
            reference=reference,
        )


@app.command("keep")
def keep(
    ctx: typer.Context,
    job: Job,
    amount: Annotated[str, typer.Argument(help="How much of its deposits is kept, such as 150.00.")],
    why: Annotated[str, typer.Option("--why", help="Why: what was agreed, what was done.")],
    on: On = None,
    key: Key = None,
    again: Again = False,
    yes: Yes = False,
    dry_run: DryRun = False,
) -> None:
    """Keep deposits of a job that was called off. It shows what will happen and asks first.

    What is kept counts as earned by the job. Whether tax is due on it is for the shop to confirm locally.

    \b
    Example:
      coatbook deposit keep 1 150.00 --why "canceled the day before" --yes
    """
    from coatbook.billing import deposits
    from coatbook.values import Money

    with opened(ctx) as book:
        careful(
            ctx,
            book,
            Writing(on, key, again),
            yes,
            dry_run,
            "what is kept of a deposit is asked about first",
            deposits.keep_deposit,
            job=job,
            amount=Money.parse(amount, book.currency),
            why=why,
        )


@app.command("refund")
def refund(
    ctx: typer.Context,
    job: Job,
    amount: Annotated[str, typer.Argument(help="How much of its deposits goes back, such as 350.00.")],
    method: Annotated[str, typer.Option("--method", help="How it goes back: check, wire, card.")] = "check",
    customer: Annotated[
        str | None, typer.Option("--customer", help="Whose goes back, where several paid deposits.")
    ] = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
    yes: Yes = False,
    dry_run: DryRun = False,
) -> None:
    """Give deposits of a job back. It shows what will happen and asks first.

    \b
    Example:
      coatbook deposit refund 1 350.00 --method wire --yes
    """
    from coatbook.billing import deposits
    from coatbook.values import Money

    with opened(ctx) as book:
        careful(
            ctx,
            book,
            Writing(on, key, again),
            yes,
            dry_run,
            "money that goes out is asked about first",
            deposits.refund_deposit,
            job=job,
            amount=Money.parse(amount, book.currency),
            method=method,
            customer=customer,
        )


@app.command("list")
def list_all(ctx: typer.Context, on: AsOf = None, json: AsJson = False) -> None:
    """List deposits: what was drawn on invoices, kept and given back, and what is held.

    \b
    Example:
      coatbook deposit list
    """
    from coatbook.billing.views import deposits

    with opened(ctx) as book, book.read() as session:
        found, currency = deposits(session, as_of(book, on), book.currency), book.currency
    if json:
        say_json(
            [
                {
                    "deposit": one.id,
                    "date": one.taken.isoformat(),
                    "customer": one.customer,
                    "job": one.job,
                    "method": one.method,
                    "currency": currency,
                    "amount": str(one.amount),
                    "drawn": str(one.drawn),
                    "kept": str(one.kept),
                    "refunded": str(one.refunded),
                    "held": str(one.held),
                }
                for one in found
            ]
        )
    elif not found:
        say("No deposits yet. Write one with `coatbook deposit take CUSTOMER AMOUNT --job JOB`.")
    else:
        rows = [
            (
                str(one.id),
                str(one.taken),
                one.customer,
                str(one.job),
                *(str(part) for part in (one.amount, one.drawn, one.kept, one.refunded, one.held)),
            )
            for one in found
        ]
        headings = ("deposit", "day", "customer", "job", "amount", "drawn", "kept", "back", "held")
        say(columns(headings, rows, right=(0, 3, 4, 5, 6, 7, 8)))
