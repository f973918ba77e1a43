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
    import datetime as dt

    from coatbook.stock.views import MaterialView, UpkeepTerm
    from coatbook.values import Quantity

NAME = "material"
app = plain_app("What the shop buys and uses, lot by lot, and the upkeep its coatings ask for.")

_INTERVAL = re.compile(r"([0-9]{1,4}) ?(day|week|month|calendar month)s?")

Fact = Annotated[
    list[str] | None,
    typer.Option("--fact", help="From its label: spreading, loss, coats, pack; or low, such as low='8 fl oz'."),
]
Evidence = Annotated[
    str | None, typer.Option("--evidence", help="Where the facts were read: a label, a data sheet and its date.")
]
Sds = Annotated[str | None, typer.Option("--sds", help="Where its safety data sheet is, and of what day.")]
Hazard = Annotated[
    list[str] | None,
    typer.Option("--hazard", help="isocyanates, chromates, solvents, strong acid, strong alkali, none; repeat it."),
]
Burn = Annotated[
    str | None, typer.Option("--burn-evidence", help="What shows that it meets an interior burn requirement.")
]
Lot = Annotated[str, typer.Argument(help="Number on the label; CODE:LABEL or purchase:NUMBER tell two apart.")]
Why = Annotated[str | None, typer.Option("--why", help="Anything that explains it.")]


@app.command("add")
def add(
    ctx: typer.Context,
    code: Annotated[str, typer.Argument(help="Your short name for it: letters, digits, hyphens.")],
    name: Annotated[str, typer.Option("--name", help="What it is, as on a list.")],
    unit: Annotated[str, typer.Option("--unit", help="The unit it is kept in, such as 'fl oz', g or each.")],
    fact: Fact = None,
    evidence: Evidence = None,
    sds: Sds = None,
    hazard: Hazard = None,
    burn_evidence: Burn = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write a new material.

    \b
    Example:
      coatbook material add sealant --name "Paint sealant" --unit "fl oz" \\
        --fact spreading="500 ft2/gal" --fact loss="10 %" \\
        --evidence "Label, 2026" --sds "Binder 2, 2025-11-03" --hazard solvents
    """
    from coatbook.stock import actions

    with opened(ctx) as book:
        write(
            ctx,
            book,
            Writing(on, key, again),
            actions.add_material,
            code=code,
            name=name,
            unit=unit,
            facts=[_fact(one) for one in fact or ()],
            evidence=evidence,
            sds=sds,
            hazards=hazard or (),
            burn_evidence=burn_evidence,
        )


@app.command("edit")
def edit(
    ctx: typer.Context,
    code: str,
    name: Annotated[str | None, typer.Option("--name", help="What it is, as on a list.")] = None,
    fact: Fact = None,
    drop: Annotated[list[str] | None, typer.Option("--drop-fact", help="A fact to take out, by its name.")] = None,
    evidence: Evidence = None,
    sds: Sds = None,
    hazard: Hazard = None,
    burn_evidence: Burn = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Change what is said of a material; every version is kept.

    A fact replaces that of its name, hazards replace all.

    \b
    Example:
      coatbook material edit sealant --fact low="8 fl oz" \\
        --sds "Binder 2, sheet of 2026-02-01"
    """
    from coatbook.stock import actions

    with opened(ctx) as book:
        write(
            ctx,
            book,
            Writing(on, key, again),
            actions.edit_material,
            code=code,
            name=name,
            facts=[_fact(one) for one in fact or ()],
            drop=drop or (),
            evidence=evidence,
            sds=sds,
            hazards=hazard or (),
            burn_evidence=burn_evidence,
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
    lot: Annotated[str, typer.Option("--lot", help="Lot number on the label.")],
    cost: Annotated[
        str | None, typer.Argument(help="What all of it cost, such as 180.00; nothing with --supplied-by.")
    ] = None,
    supplier: Annotated[str | None, typer.Option("--supplier", help="Who sold it.")] = None,
    expires: Annotated[str | None, typer.Option("--expires", help="Last day of use on the label, YYYY-MM-DD.")] = None,
    reference: Annotated[str | None, typer.Option("--reference", help="Number on the supplier's invoice.")] = None,
    estimated: Annotated[
        bool, typer.Option("--estimated", help="The price is not known yet: `material reprice` corrects it.")
    ] = False,
    tax_paid: Annotated[
        bool | None, typer.Option("--tax-paid/--no-tax-paid", help="Whether the supplier charged tax on it.")
    ] = None,
    supplied_by: Annotated[
        str | None, typer.Option("--supplied-by", help="The customer whose own product it is, by code.")
    ] = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write a purchase: it goes on the shelf as one lot. Uses draw on the oldest lot first.

    What a customer supplies costs nothing, and a coating laid from it has no terms of the shop's.

    \b
    Example:
      coatbook material buy sealant "1 gal" 180.00 --supplier "Hillside Supply" \\
        --lot B-204 --expires 2027-12-31 --estimated --tax-paid
      coatbook material buy sealant "1 qt" --supplied-by alder --lot A-7
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
            cost=Money.parse(cost, book.currency, "cost") if cost is not None else None,
            supplier=supplier,
            label=lot,
            expires=day(expires, "day in --expires"),
            reference=reference,
            estimated=estimated,
            tax_paid=tax_paid,
            supplied_by=supplied_by,
        )


@app.command("reprice")
def reprice(
    ctx: typer.Context,
    lot: Lot,
    price: Annotated[str, typer.Argument(help="What all of it cost after all, such as 192.50.")],
    why: Why = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Correct the price of a lot that was estimated, or wrong.

    What is left changes in value; uses keep their cost, and what is gone already is a difference: a cost of the shop,
    or less of one, in the month of the correction.

    \b
    Example:
      coatbook material reprice B-204 192.50 --why "invoice HS-1187 came"
    """
    from coatbook.stock import changes
    from coatbook.values import Money

    with opened(ctx) as book:
        paid = Money.parse(price, book.currency, "price")
        write(ctx, book, Writing(on, key, again), changes.reprice, lot=lot, price=paid, why=why)


@app.command("count")
def count(
    ctx: typer.Context,
    code: str,
    quantity: Annotated[str, typer.Argument(help="What is on the shelf, such as '20 fl oz'.")],
    why: Annotated[str, typer.Option("--why", help="Why it was counted, or why it differs.")],
    lot: Annotated[str | None, typer.Option("--lot", help="Only the lot of this number.")] = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write what was found on the shelf: what is missing is a cost of the shop, what was found besides lessens it.

    Without --lot all lots that are the shop's own are counted together; the oldest lose first.

    \b
    Example:
      coatbook material count sealant "90 fl oz" --why "end of the quarter"
    """
    from coatbook.stock import changes
    from coatbook.values import Quantity

    found = Quantity.parse(quantity, "quantity", "20 fl oz")
    with opened(ctx) as book:
        write(ctx, book, Writing(on, key, again), changes.count, code=code, quantity=found, why=why, lot=lot)


@app.command("expire")
def expire(
    ctx: typer.Context,
    lot: Lot,
    why: Annotated[str | None, typer.Option("--why", help="What makes it unfit before its last day.")] = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write off what is left of a lot that is too old, or unfit: a cost of the shop.

    \b
    Example:
      coatbook material expire B-204 --why "froze in the van"
    """
    from coatbook.stock import changes

    with opened(ctx) as book:
        write(ctx, book, Writing(on, key, again), changes.expire, lot=lot, why=why)


@app.command("return")
def give_back(
    ctx: typer.Context,
    lot: Lot,
    quantity: Annotated[str, typer.Argument(help="How much goes back, such as '1 qt'.")],
    credit: Annotated[str, typer.Argument(help="What the supplier credits for it, such as 40.00.")],
    why: Why = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write what went back to whoever supplied it. What the credit falls short of its cost is a cost of the shop.

    \b
    Example:
      coatbook material return B-204 "1 qt" 40.00 --why "credit note HS-77"
    """
    from coatbook.stock import changes
    from coatbook.values import Money, Quantity

    amount = Quantity.parse(quantity, "quantity", "1 qt")
    with opened(ctx) as book:
        back = Money.parse(credit, book.currency, "credit")
        write(ctx, book, Writing(on, key, again), changes.give_back, lot=lot, quantity=amount, credit=back, why=why)


@app.command("trace")
def trace(ctx: typer.Context, lot: Lot, on: AsOf = None, json: AsJson = False) -> None:
    """Show where a lot went: every coat and use, on which aircraft, whose it was and whose it is now.

    \b
    Example:
      coatbook material trace B-204
    """
    from coatbook.desk import tracing

    with opened(ctx) as book, book.read() as session:
        found = tracing.trace(session, lot, as_of(book, on))
    if json:
        say_json(tracing.data(found))
    else:
        say(tracing.story(found))


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
    """List all materials with what is on hand on a day, and what is low, too old, or too old within 60 days.

    \b
    Example:
      coatbook material list
    """
    from coatbook.stock import views
    from coatbook.values import Money

    with opened(ctx) as book, book.read() as session:
        when = as_of(book, on)
        shelf = views.materials(session, when)
    if json:
        say_json([_plain(one, book.currency, when) for one in shelf])
        return
    if not shelf:
        say("No materials yet. Add one with `coatbook material add`.")
        return
    rows = [(one.code, one.name, str(one.on_hand), str(Money(one.value, book.currency))) for one in shelf]
    total = Money(sum(one.value for one in shelf), book.currency)
    looks = [f"{one.code}: {'; '.join(told)}." for one in shelf if (told := views.worth_knowing(one, when))]
    asks = f" Look at {len(looks)} of {len(shelf)} materials:" if looks else ""
    say(f"What is on the shelf cost {total} {book.currency}.{asks}")
    for look in looks:
        say(look)
    say(columns(("code", "name", "on hand", "cost"), rows, right=(2, 3)))


@app.command("show")
def show(ctx: typer.Context, code: str, on: AsOf = None, json: AsJson = False) -> None:
    """Show all of one material: its facts, safety sheet and hazards, its lots and what is left, its upkeep.

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
        say_json(_plain(one, book.currency, when) | {"upkeep": frozen.plain(upkeep)})
        return
    worth = Money(one.value, book.currency)
    say(f"{one.on_hand} of {one.name} ({one.code}) are on hand; they cost {worth} {book.currency}.{_look(one, when)}")
    facts = _said(one)
    if facts:
        say(pairs(facts))
    if one.lots:
        say("\n" + _lot_table(one, book.currency))
    if upkeep:
        say("\n" + _upkeep_table(upkeep))


def _look(one: "MaterialView", on: "dt.date") -> str:
    from coatbook.stock.views import worth_knowing

    told = "; ".join(worth_knowing(one, on))
    return f" Look: {told}." if told else ""


def _said(one: "MaterialView") -> list[tuple[str, str]]:
    """What is said of a material, beside its label."""
    said = [(name, str(value)) for name, value in one.facts]
    more = (
        ("evidence", one.evidence),
        ("safety sheet", one.sds),
        ("hazards", ", ".join(one.hazards)),
        ("burn evidence", one.burn_evidence),
    )
    return said + [(label, value) for label, value in more if value]


def _lot_table(one: "MaterialView", currency: str) -> str:
    from coatbook.values import Money, Quantity

    rows = [
        (
            lot.label,
            str(lot.purchase),
            str(Quantity(lot.quanta, one.unit)),
            str(Quantity(lot.whole_quanta, one.unit)),
            f"{Money(lot.minor, currency)}{' est.' if lot.estimated else ''}",
            str(lot.expires or ""),
            lot.supplier if lot.customer is None else f"{lot.supplier} (own)",
        )
        for lot in one.lots
    ]
    heads = ("lot", "purchase", "left", "bought", f"{currency} left", "expires", "supplied by")
    return columns(heads, rows, right=(1, 2, 3, 4))


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


def _plain(one: "MaterialView", currency: str, on: "dt.date") -> dict[str, object]:
    """A material as stable JSON keys."""
    from coatbook.stock.views import worth_knowing
    from coatbook.values import Money, Quantity
    from coatbook.values.quantity import plain

    def amount(quanta: int) -> str:
        return plain(Quantity(quanta, one.unit).decimal())

    return {
        "code": one.code,
        "name": one.name,
        "on_hand": plain(one.on_hand.decimal()),
        "usable": plain(one.usable.decimal()),
        "unit": one.unit,
        "cost": str(Money(one.value, currency)),
        "currency": currency,
        "look": list(worth_knowing(one, on)),
        "facts": [{"name": name, "value": plain(value.decimal()), "unit": value.unit} for name, value in one.facts],
        "evidence": one.evidence,
        "sds": one.sds,
        "hazards": list(one.hazards),
        "burn_evidence": one.burn_evidence,
        "lots": [
            {
                "lot": lot.label,
                "purchase": lot.purchase,
                "bought_on": lot.bought.isoformat(),
                "supplier": lot.supplier,
                "supplied_by": lot.supplied_by,
                "left": amount(lot.quanta),
                "bought": amount(lot.whole_quanta),
                "cost": str(Money(lot.minor, currency)),
                "price": str(Money(lot.whole_minor, currency)),
                "estimated": lot.estimated,
                "tax_paid": lot.tax_paid,
                "expires": lot.expires.isoformat() if lot.expires else None,
            }
            for lot in one.lots
        ],
    }
