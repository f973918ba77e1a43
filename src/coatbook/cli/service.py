"""`coatbook service`: what the shop does and sells, and its prices."""

from typing import TYPE_CHECKING, Annotated, Any

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
    from coatbook.store.book import Book

NAME = "service"
app = plain_app("What the shop does and sells, and its prices.")

WORK = "Its kind of work: wash, abrasive, coat, leather or other."


@app.command("add")
def add(
    ctx: typer.Context,
    code: Annotated[str, typer.Argument(help="Your short name for it: letters, digits, hyphens.")],
    name: Annotated[str, typer.Option("--name", help="Name, as on an invoice.")],
    abrasive: Annotated[bool, typer.Option("--abrasive", help="It takes paint off, so it stands at the gate.")] = False,
    work: Annotated[str | None, typer.Option("--work", help=WORK)] = None,
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

    An abrasive one (--abrasive, or --work abrasive) is not agreed to, nor begun, on paint whose film readings say
    stop or say nothing. For abrasive, coat and leather work it must be settled who may do and sign it.

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
            work=work,
        )


@app.command("edit")
def edit(
    ctx: typer.Context,
    code: str,
    name: Annotated[str | None, typer.Option("--name", help="Name, as on an invoice.")] = None,
    work: Annotated[str | None, typer.Option("--work", help=WORK)] = None,
    tax_kind: Annotated[
        str | None, typer.Option("--tax-kind", help="Taxed as labor, material, travel, 'rebilled expense' or other.")
    ] = None,
    key: Key = None,
) -> None:
    """Change what is written of a service from now on.

    \b
    Example:
      coatbook service edit coating --work coat
    """
    from coatbook.jobs import standard

    with opened(ctx) as book:
        write(
            ctx,
            book,
            Writing(key=key, again=True),
            standard.edit_service,
            code=code,
            name=name,
            tax_kind=tax_kind,
            work=work,
        )


@app.command("steps")
def steps(
    ctx: typer.Context,
    code: str,
    add_one: Annotated[str | None, typer.Option("--add", help="Name of a standard step to write.")] = None,
    hours: Annotated[
        str | None, typer.Option("--hours", help="How long it takes for each --per-area, such as '12 min'.")
    ] = None,
    per_area: Annotated[
        str | None, typer.Option("--per-area", help="Such as '10 ft2' (else --hours are for each surface).")
    ] = None,
    passes: Annotated[int, typer.Option("--passes", help="How many passes.")] = 1,
    removal: Annotated[str | None, typer.Option("--removal", help="Film one pass takes, such as '2 µm'.")] = None,
    material: Annotated[str | None, typer.Option("--material", help="Code of the material it takes.")] = None,
    drop: Annotated[str | None, typer.Option("--drop", help="Name of a standard step that is done no more.")] = None,
    key: Key = None,
    json: AsJson = False,
) -> None:
    """List the standard steps of a service, or write one: `job plan … --standard` plans them by area.

    \b
    Example:
      coatbook service steps polish --add "finish" --hours "12 min" \\
        --per-area "10 ft2" --removal "1 µm"
      coatbook service steps polish
    """
    from coatbook.jobs import standard
    from coatbook.values import Misuse, Quantity

    writing = Writing(key=key, again=True)
    if add_one is not None and drop is not None:
        raise Misuse("--add and --drop are one thing each: write them one after the other")
    if add_one is None and (hours or per_area or removal or material or passes != 1):
        raise Misuse("what a standard step takes is written with its name: give --add NAME too")
    with opened(ctx) as book:
        if drop is not None:
            write(ctx, book, writing, standard.drop_standard_step, service=code, name=drop)
        elif add_one is not None:
            write(
                ctx,
                book,
                writing,
                standard.add_standard_step,
                service=code,
                name=add_one,
                hours=Quantity.parse(hours, "hours", "12 min") if hours is not None else None,
                per_area=Quantity.parse(per_area, "area", "10 ft2") if per_area is not None else None,
                passes=passes,
                removal=Quantity.parse(removal, "removal", "2 µm") if removal is not None else None,
                material=material,
            )
        else:
            _list_steps(book, code, json)


def _list_steps(book: "Book", code: str, json: bool) -> None:
    from coatbook.desk.telling_services import standard_rows

    rows = standard_rows(book, code)
    if json:
        say_json(rows)
    elif not rows:
        say(f"No standard steps yet. Write one with `coatbook service steps {code} --add NAME`.")
    else:
        headings = ("n", "name", "hours", "per area", "passes", "removal", "material")
        say(columns(headings, [_cells(row) for row in rows], right=(0, 2, 3, 4, 5)))


def _cells(row: "dict[str, Any]") -> tuple[str, ...]:
    measured = (f"{row[name]} {row[f'{name}_unit']}" if row[name] else "" for name in ("hours", "per_area", "removal"))
    hours, area, removal = measured
    return (str(row["n"]), row["name"], hours, area, str(row["passes"]), removal, row["material"] or "")


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
                    "work": one.work,
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
                one.work,
            )
            for one, price in services
        ]
        say(columns(("code", "name", book.currency, "per", "taxed as", "work"), rows, right=(2,)))
