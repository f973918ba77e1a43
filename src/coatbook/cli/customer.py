"""`coatbook customer`: the people the shop works for."""

from typing import Annotated

import typer

from coatbook.cli.common import (
    Again,
    AsJson,
    AsOf,
    Key,
    On,
    Writing,
    as_of,
    columns,
    opened,
    pairs,
    plain_app,
    say,
    say_json,
    write,
)

NAME = "customer"
app = plain_app("The people the shop works for.")

Name = Annotated[str | None, typer.Option("--name", help="Full name, as on an invoice.")]
Address = Annotated[str | None, typer.Option("--address", help="Postal address; \\n between lines.")]
Email = Annotated[str | None, typer.Option("--email", help="One mail address, for invoices and reminders.")]
Phone = Annotated[str | None, typer.Option("--phone", help="Phone number.")]
Locale = Annotated[str | None, typer.Option("--locale", help="Language and country, such as en_US.")]


@app.command("add")
def add(
    ctx: typer.Context,
    code: Annotated[str, typer.Argument(help="Your short name for them: letters, digits, hyphens.")],
    name: Annotated[str, typer.Option("--name", help="Full name, as on an invoice.")],
    address: Annotated[str, typer.Option("--address", help="Postal address; \\n between lines.")],
    email: Email = None,
    phone: Phone = None,
    locale: Locale = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write a new customer.

    \b
    Example:
      coatbook customer add alder --name "Jo Alder" \\
        --address "12 Field Lane\\nMesa Alta, TX 78000" --email jo@example.com
    """
    from coatbook.people import actions

    with opened(ctx) as book:
        write(
            ctx,
            book,
            Writing(on, key, again),
            actions.add_customer,
            code=code,
            name=name,
            address=address.replace("\\n", "\n"),
            email=email,
            phone=phone,
            locale=locale,
        )


@app.command("edit")
def edit(
    ctx: typer.Context,
    code: str,
    name: Name = None,
    address: Address = None,
    email: Email = None,
    phone: Phone = None,
    locale: Locale = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Change a customer's contact data from now on; issued documents keep what they said.

    \b
    Example:
      coatbook customer edit alder --phone "555-0142"
    """
    from coatbook.people import actions

    with opened(ctx) as book:
        write(
            ctx,
            book,
            Writing(on, key, again),
            actions.edit_customer,
            code=code,
            name=name,
            address=address.replace("\\n", "\n") if address is not None else None,
            email=email,
            phone=phone,
            locale=locale,
        )


@app.command("list")
def list_all(ctx: typer.Context, json: AsJson = False) -> None:
    """List all customers.

    \b
    Example:
      coatbook customer list
    """
    from coatbook.people import views
    from coatbook.values import frozen

    with opened(ctx) as book, book.read() as session:
        people = views.customers(session)
    if json:
        say_json(frozen.plain(people))
    elif not people:
        say("No customers yet. Add one with `coatbook customer add`.")
    else:
        rows = [(one.code, one.name, one.email or "no mail", one.phone or "") for one in people]
        say(columns(("code", "name", "mail", "phone"), rows))


@app.command("show")
def show(ctx: typer.Context, code: str, on: AsOf = None, json: AsJson = False) -> None:
    """Show one customer, with the aircraft they own and their exemptions from tax on a day.

    \b
    Example:
      coatbook customer show alder
    """
    from coatbook.aircraft.views import airframes
    from coatbook.desk.papers import exemption_row, state_words
    from coatbook.people import views
    from coatbook.values import frozen

    with opened(ctx) as book, book.read() as session:
        asked = as_of(book, on)
        one = views.customer(session, code)
        owned = [craft for craft in airframes(session, asked) if craft.owner and craft.owner.code == one.code]
        exempt = views.exemptions(session, asked, one.code)
    if json:
        fleet = [{"airframe": craft.code, "mark": craft.mark} for craft in owned]
        exemptions = [exemption_row(row, asked) for row in exempt]
        say_json(frozen.plain(one) | {"aircraft": fleet, "exemptions": exemptions})
        return
    say(f"{one.name} ({one.code}) is written to in {one.locale}.")
    say("\n".join((*one.address, one.email or "no mail address", one.phone or "no phone number")))
    more = [(craft.called, f"{craft.maker} {craft.model}, sn {craft.serial}") for craft in owned]
    more += [(row.place, f"exempt, {row.certificate} ({row.reason}): {state_words(row, asked)}") for row in exempt]
    if more:
        say(pairs(more))
