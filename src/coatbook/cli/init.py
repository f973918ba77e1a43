"""`coatbook init`: make a book."""

from typing import Annotated

import typer

from coatbook.cli.common import Key, On, Writing, ask, clock, opened, say, say_done, settings


def init(
    ctx: typer.Context,
    name: Annotated[str, typer.Option("--name", help="The shop's name, as on an invoice.")],
    address: Annotated[str, typer.Option("--address", help="Postal address; \\n between lines.")],
    currency: Annotated[str, typer.Option("--currency", help="ISO 4217 code; a book has one.")] = "USD",
    zone: Annotated[str, typer.Option("--zone", help="The shop's time zone.")] = "America/Chicago",
    locale: Annotated[str, typer.Option("--locale", help="Language and country; sets paper and formats.")] = "en_US",
    paper: Annotated[str | None, typer.Option("--paper", help="Letter or A4 (else by the locale's country).")] = None,
    email: Annotated[str | None, typer.Option("--email", help="The shop's mail address.")] = None,
    phone: Annotated[str | None, typer.Option("--phone", help="The shop's phone number.")] = None,
    tax_number: Annotated[str | None, typer.Option("--tax-number", help="Tax registration, if shown.")] = None,
    color: Annotated[str | None, typer.Option("--color", help="One color for headings, such as #31556b.")] = None,
    pay_how: Annotated[str | None, typer.Option("--pay-how", help="How to pay; \\n between lines.")] = None,
    net_days: Annotated[int, typer.Option("--net-days", help="Days to pay.")] = 30,
    on: On = None,
    key: Key = None,
) -> None:
    """Make a new book with the shop's own data.

    \b
    Example:
      coatbook --book shop.db init --name "Mesa Alta Finish" \\
        --address "Hangar 7\\nMesa Alta, TX 78000" --zone America/Chicago
    """
    from coatbook.desk.opening import default_place, make_book
    from coatbook.store.engine import hidden

    where = settings(ctx).book or default_place()
    told = make_book(
        where,
        clock(),
        ask(ctx, Writing(on, key)),
        currency=currency.upper(),
        zone=zone,
        name=name,
        address=address.replace("\\n", "\n"),
        locale=locale,
        paper=paper,
        email=email,
        phone=phone,
        tax_number=tax_number,
        color=color,
        pay_how=pay_how.replace("\\n", "\n") if pay_how else None,
        net_days=net_days,
    )
    say_done(told.text)
    with opened(ctx) as book:
        say(f"It is kept at {hidden(book.where)}.")
        say("Next: `coatbook customer add`, `coatbook site add`, `coatbook aircraft add`.")
