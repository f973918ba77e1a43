"""`coatbook material`: what the shop buys and uses, lot by lot, and the upkeep its coatings ask for."""

import re
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
    pairs,
    plain_app,
    say,
    say_json,
    write,
)

if TYPE_CHECKING:
    from coatbook.stock.views import MaterialView, UpkeepTerm
    from coatbook.values import Quantity

NAME = "material"
app = plain_app("What the shop buys and uses, lot by lot, and the upkeep its coatings ask for.")

_INTERVAL = re.compile(r"([0-9]{1,4}) ?(day|week|month|calendar month)s?")


@app.command("add")
def add(
    ctx: typer.Context,
    code: Annotated[str, typer.Argument(help="Your short name for it: letters, digits, hyphens.")],
    name: Annotated[str, typer.Option("--name", help="What it is, as on a list.")],
    unit: Annotated[str, typer.Option("--unit", help="The unit it is kept in, such as 'fl oz', g or each.")],
    fact: Annotated[
        list[str] | None,
        typer.Option("--fact", help="From its label: spreading, loss, coats or pack, such as pack='1 gal'."),
    ] = None,
    evidence: Annotated[
        str | None, typer.Option("--evidence", help="Where the facts were read: a label, a data sheet and its date.")
    ] = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write a new material.

    \b
    Example:
      coatbook material add sealant --name "Paint sealant" --unit "fl oz" \\
        --fact spreading="500 ft2/gal" --fact loss="10 %" --evidence "Label, 2026"
    """
    from coatbook.stock import actions

    facts = [_fact(one) for one in fact or ()]
    with opened(ctx) as book:
        write(
            ctx,
            book,
            Writing(on, key, again),
            actions.add_material,
            code=code,
            name=name,
            unit=unit,
            facts=facts,
            evidence=evidence,
        )


def _fact(typed: str) -> "tuple[str, Quantity]":
    """Read spreading=500 ft2/gal."""
    from coatbook.values import Misuse, Quantity

    name, equals, value = typed.partition("=")
    if not equals:
        raise Misuse(f"the fact {typed!r} has no value: write it like spreading='500 ft2/gal'")
    return name.strip().lower(), Quantity.parse(value, f"fact {name.strip()}", "500 ft2/gal")


@app.command("buy")
def buy(
    ctx: typer.Context,
    code: str,
    quantity: Annotated[str, typer.Argument(help="How much, such as '1 gal'.")],
    cost: Annotated[str, typer.Argument(help="What all of it cost, such as 180.00.")],
    supplier: Annotated[str, typer.Option("--supplier", help="Who sold it.")],
    lot: Annotated[str, typer.Option("--lot", help="Lot number on the label.")],
    expires: Annotated[str | None, typer.Option("--expires", help="Last day of use on the label, YYYY-MM-DD.")] = None,
    reference: Annotated[str | None, typer.Option("--reference", help="Number on the supplier's invoice.")] = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write a purchase: it goes on the shelf as one lot. Uses draw on the oldest lot first.

    \b
    Example:
      coatbook material buy sealant "1 gal" 180.00 --supplier "Hillside Supply" \\
        --lot B-204 --expires 2027-12-31
    """
    from coatbook.stock import actions
    from coatbook.values import Money, Quantity

    with opened(ctx) as book:
        write(
            ctx,
            book,
            Writing(on, key, again),
            actions.buy,
            code=code,
            quantity=Quantity.parse(quantity, "quantity", "1 gal"),
            cost=Money.parse(cost, book.currency, "cost"),
            supplier=supplier,
            label=lot,
            expires=day(expires, "day in --expires"),
            reference=reference,
        )


@app.command("terms")
def terms(
    ctx: typer.Context,
    code: str,
    item: Annotated[str, typer.Argument(help="What has to be done, such as wash or inspection.")],
    every: Annotated[str, typer.Option("--every", help="How often: '6 months', '90 days', '12 calendar months'.")],
    opens_before: Annotated[
        int, typer.Option("--opens-before", help="Days before it is due that it may be done.")
    ] = 30,
    grace: Annotated[int, typer.Option("--grace", help="Days after it is due that still count.")] = 0,
    miss: Annotated[
        str, typer.Option("--miss", help="What a miss does to the terms: warns, shortens or ends.")
    ] = "warns",
    first_after: Annotated[int, typer.Option("--first-after", help="Days after the coat before the count begins.")] = 0,
    from_on: From = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write one item of the upkeep a coating asks for. Coatings keep the terms they were laid under.

    A new set of terms begins with its --from day: write all items of a set for the same day.

    \b
    Example:
      coatbook material terms sealant wash --every "6 months" --grace 30
    """
    from coatbook.stock import actions

    number, per = _interval(every)
    with opened(ctx) as book:
        write(
            ctx,
            book,
            Writing(on, key, again),
            actions.add_terms,
            code=code,
            item=item,
            every=number,
            per=per,
            opens_before=opens_before,
            grace=grace,
            miss=miss,
            first_after=first_after,
            from_on=day(from_on, "day in --from"),
        )


def _interval(typed: str) -> tuple[int, str]:
    """Read "6 months" as a number and one of day, week, month, calendar month."""
    from coatbook.values import Misuse

    found = _INTERVAL.fullmatch(" ".join(typed.lower().split()))
    if found is None:
        raise Misuse(
            f"the interval {typed!r} in --every cannot be read: "
            "write a number of days, weeks, months or calendar months, such as '6 months'"
        )
    return int(found[1]), found[2]


@app.command("list")
def list_all(ctx: typer.Context, on: AsOf = None, json: AsJson = False) -> None:
    """List all materials with what is on hand on a day.

    \b
    Example:
      coatbook material list
    """
    from coatbook.stock import views
    from coatbook.values import Money

    with opened(ctx) as book, book.read() as session:
        shelf = views.materials(session, as_of(book, on))
    if json:
        say_json([_plain(one, book.currency) for one in shelf])
    elif not shelf:
        say("No materials yet. Add one with `coatbook material add`.")
    else:
        rows = [(one.code, one.name, str(one.on_hand), str(Money(one.value, book.currency))) for one in shelf]
        total = Money(sum(one.value for one in shelf), book.currency)
        say(f"What is on the shelf cost {total} {book.currency}.")
        say(columns(("code", "name", "on hand", "cost"), rows, right=(2, 3)))


@app.command("show")
def show(ctx: typer.Context, code: str, on: AsOf = None, json: AsJson = False) -> None:
    """Show one material: its facts, its lots and what is left of them, and the upkeep it asks for.

    \b
    Example:
      coatbook material show sealant
    """
    from coatbook.stock import views
    from coatbook.values import Money, frozen

    with opened(ctx) as book, book.read() as session:
        when = as_of(book, on)
        one = views.material(session, code, when)
        upkeep = views.upkeep_asked(session, code, when)
    if json:
        say_json(_plain(one, book.currency) | {"upkeep": frozen.plain(upkeep)})
        return
    worth = Money(one.value, book.currency)
    say(f"{one.on_hand} of {one.name} ({one.code}) are on hand; they cost {worth} {book.currency}.")
    facts = [(name, str(value)) for name, value in one.facts]
    if one.evidence:
        facts.append(("evidence", one.evidence))
    if facts:
        say(pairs(facts))
    if one.lots:
        say("\n" + _lot_table(one, book.currency))
    if upkeep:
        say("\n" + _upkeep_table(upkeep))


def _lot_table(one: "MaterialView", currency: str) -> str:
    from coatbook.values import Money, Quantity

    rows = [
        (
            lot.label,
            str(Quantity(lot.quanta, one.unit)),
            str(Quantity(lot.whole_quanta, one.unit)),
            str(Money(lot.minor, currency)),
            str(lot.expires or ""),
        )
        for lot in one.lots
    ]
    return columns(("lot", "left", "bought", f"{currency} left", "expires"), rows, right=(1, 2, 3))


def _upkeep_table(upkeep: "tuple[UpkeepTerm, ...]") -> str:
    rows = [
        (
            term.item,
            term.per if term.every == 1 else f"{term.every} {term.per}s",
            f"{term.opens_before} days before",
            f"{term.grace} days",
            f"{term.miss} the terms" if term.miss != "warns" else "warns",
            f"after {term.first_after} days" if term.first_after else "at once",
        )
        for term in upkeep
    ]
    return columns(("upkeep", "every", "opens", "grace", "a miss", "counts"), rows)


def _plain(one: "MaterialView", currency: str) -> dict[str, object]:
    """A material as stable JSON keys."""
    from coatbook.values import Money, Quantity
    from coatbook.values.quantity import plain

    def amount(quanta: int) -> str:
        return plain(Quantity(quanta, one.unit).decimal())

    return {
        "code": one.code,
        "name": one.name,
        "on_hand": plain(one.on_hand.decimal()),
        "unit": one.unit,
        "cost": str(Money(one.value, currency)),
        "currency": currency,
        "facts": [{"name": name, "value": plain(value.decimal()), "unit": value.unit} for name, value in one.facts],
        "evidence": one.evidence,
        "lots": [
            {
                "lot": lot.label,
                "left": amount(lot.quanta),
                "bought": amount(lot.whole_quanta),
                "cost": str(Money(lot.minor, currency)),
                "expires": lot.expires.isoformat() if lot.expires else None,
            }
            for lot in one.lots
        ],
    }
