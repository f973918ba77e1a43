"""`coatbook paper`: insurance, permits and certificates of the shop, its sites and its workers."""

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

NAME = "paper"
app = plain_app("Insurance, permits and certificates of the shop, its sites and its workers.")


@app.command("add")
def add(
    ctx: typer.Context,
    kind: Annotated[str, typer.Argument(help="insurance, permit or certificate.")],
    of: Annotated[str, typer.Option("--of", help="Whose it is: business, site:CODE or worker:CODE.")],
    issuer: Annotated[str, typer.Option("--issuer", help="Who issued it.")],
    number: Annotated[str, typer.Option("--number", help="Number of the policy, permit or certificate.")],
    amount: Annotated[str | None, typer.Option("--amount", help="Sum insured, such as 1000000.00.")] = None,
    from_on: From = None,
    expires: Annotated[str | None, typer.Option("--expires", help="Its last day, YYYY-MM-DD.")] = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write a paper and its last day. A later one of the same kind takes its place from its own first day on.

    Agreeing a job warns of papers that are expired or soon will be, and of subcontractors without any.

    \b
    Example:
      coatbook paper add insurance --of business --issuer "Example Mutual" \\
        --number GL-100 --amount 1000000.00 --from 2026-01-01 --expires 2026-12-31
    """
    from coatbook.people import papers
    from coatbook.values import Money

    with opened(ctx) as book:
        write(
            ctx,
            book,
            Writing(on, key, again),
            papers.add_paper,
            kind=kind,
            of=of,
            issuer=issuer,
            number=number,
            amount=Money.parse(amount, book.currency, "sum insured") if amount is not None else None,
            from_on=day(from_on, "day in --from"),
            expires=day(expires, "day in --expires"),
        )


@app.command("list")
def list_all(ctx: typer.Context, on: AsOf = None, json: AsJson = False) -> None:
    """List the papers: the latest of each kind for the business, each site and each worker, and those to come.

    \b
    Example:
      coatbook paper list
    """
    from coatbook.desk.papers import paper_row, state_words
    from coatbook.people import views
    from coatbook.values import Money

    with opened(ctx) as book, book.read() as session:
        asked = as_of(book, on)
        found = views.papers(session, asked)
    if json:
        say_json([paper_row(one, asked, book.currency) for one in found])
    elif not found:
        say("No papers yet. Add one with `coatbook paper add`.")
    else:
        rows = [
            (
                str(one.id),
                one.of,
                one.kind,
                one.issuer,
                one.number,
                "" if one.minor is None else str(Money(one.minor, book.currency)),
                state_words(one, asked),
            )
            for one in found
        ]
        say(columns(("paper", "of", "kind", "issuer", "number", "insured", "state"), rows, right=(0, 5)))
