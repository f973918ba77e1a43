"""What writes changes of lots besides uses: a corrected price, a count, what expired, what went back.

The value of what is left and the cost of the shop are worked out when a change is written, and kept. Of every change
`minor` is what it adds to the value on the shelf and `shop` what of it is a cost of the shop.
"""

from collections.abc import Iterable, Sequence

from sqlalchemy import func, select

from coatbook.stock.actions import same_kind, share
from coatbook.stock.tables import COUNT, EXPIRED, PRICE, RETURN, Drawn, Lot, LotChange, Material
from coatbook.stock.views import LotLeft, found_later, lots_left, lots_named, lots_on
from coatbook.store.acts import OpenAct
from coatbook.store.finding import by_code, got
from coatbook.store.tables import WrittenOnce
from coatbook.values import Money, Quantity, Refusal, round_half_up, text
from coatbook.values.checks import more_than_nothing, not_before, not_negative
from coatbook.values.days import Month


def _standing(act: OpenAct, name: str) -> tuple[Material, list[LotLeft]]:
    """The lots a person means, with what is left of them now. A change may not come before the purchase."""
    material, found = lots_named(act.session, name, act.today)
    wanted = {lot.id for lot in found}
    lots = [lot for lot in lots_left(act.session, material.id, act.today) if lot.id in wanted]
    by_then = [lot for lot in lots if lot.bought <= act.on]
    if not by_then:
        not_before(act.on, lots[0].bought, "a change", f"lot {lots[0].label} was bought")
    return material, by_then


def _refuse_found_later(act: OpenAct, material: Material, lots: Sequence[LotLeft]) -> None:
    """What a count found only later cannot leave the shelf before."""
    later = found_later(act.session, material.id, act.on)
    for lot in lots:
        if lot.id in later:
            raise Refusal(
                f"a count found {_amount(material, later[lot.id])} in lot {lot.label} of {material.name} after "
                f"{act.on}: give a later --on"
            )


def _change(act: OpenAct, lot: LotLeft, kind: str, quanta: int, minor: int, shop: int, said: str) -> None:
    row = LotChange(lot=lot.id, kind=kind, quanta=quanta, minor=minor, shop=shop, text=said)
    act.add(row)


def _amount(material: Material, quanta: int) -> Quantity:
    return Quantity(quanta, material.unit)


def _named_again(lots: Sequence[LotLeft]) -> str:
    return " or ".join(f"purchase:{lot.purchase}" for lot in lots)


# the price


def reprice(act: OpenAct, *, lot: str, price: Money, why: str | None = None) -> None:
    """Write what all of a lot cost after all: its price was estimated, or wrong.

    What is left of it changes in value. Uses keep the cost they were written with: what was used already is a
    difference, a cost of the shop on the day of the correction.
    """
    material, lots = _standing(act, lot)
    found = _one_to_reprice(material, lots)
    not_negative(price, "price")
    if found.customer is not None:
        raise Refusal(
            f"lot {found.label} of {material.name} is {found.supplier}'s own and has no price: nothing to write"
        )
    worth = round_half_up(price.minor * found.quanta, found.whole_quanta)
    difference, left = price.minor - found.whole_minor, worth - found.minor
    if not difference and not found.estimated and abs(left) <= _roundings(act, found):
        raise Refusal(f"lot {found.label} of {material.name} has cost {price} all along: nothing to correct")
    said = text.line(why, "reason") if why else f"price {price}"
    _change(act, found, PRICE, 0, left, difference - left, said)
    before, now = Money(found.whole_minor, act.currency), Money(left, act.currency)
    was = f"{price}, not {before}" if difference else f"{price} as written"
    act.tell(
        f"Lot {found.label} of {material.name} cost {was}: the {_amount(material, found.quanta)} left are worth "
        f"{_more(now)}, and what is gone already cost {_more(Money(difference - left, act.currency))}, which is a "
        f"cost of the shop in {Month.of(act.on)}."
    )


def _more(difference: Money) -> str:
    """A difference as words: 7.50 more, 7.50 less, 0.00 more."""
    return f"{-difference} less" if difference.minor < 0 else f"{difference} more"


def _one_to_reprice(material: Material, lots: Sequence[LotLeft]) -> LotLeft:
    """A price is one purchase's; of several with the same label the estimated one is meant."""
    estimated = [lot for lot in lots if lot.estimated]
    meant = estimated if len(estimated) == 1 else lots
    if len(meant) > 1:
        raise Refusal(
            f"lot {lots[0].label} of {material.name} was bought {len(lots)} times, each at its own price: name "
            f"{_named_again(meant)} in its place"
        )
    return meant[0]


def _roundings(act: OpenAct, lot: LotLeft) -> int:
    """How many times something of a lot was rounded: what is left may be as many minor units from its even share."""
    return sum(
        act.session.scalar(select(func.count()).select_from(table).where(table.lot == lot.id)) or 0
        for table in (Drawn, LotChange)
    )


# the count


def count(act: OpenAct, *, code: str, quantity: Quantity, why: str, lot: str | None = None) -> None:
    """Write what was found on the shelf on a day: of one lot, or of all that is the shop's own.

    What is missing comes off the oldest lot first and is a cost of the shop. What was found besides goes back to lots
    it may have come from, at their price, never more than was bought; it lessens the shop's costs.
    """
    material, said = by_code(act.session, Material, code, "material"), text.line(why, "reason")
    same_kind(material, quantity)
    not_negative(quantity, "quantity")
    lots = _counted(act, material, lot)
    ids = {one.id for one in lots}
    booked = sum(one.quanta for one in lots_on(act.session, material.id, act.on) if one.id in ids)
    of = f"{material.name}{f', lot {lots[0].label}' if lot else ''}"
    found, had = quantity.told(material.unit), _amount(material, booked)
    if quantity.quanta == booked:
        act.tell(f"Counted {found} of {of}: as the book says.")
    elif quantity.quanta < booked:
        cost = _lose(act, material, lots, booked - quantity.quanta, said)
        missing = _amount(material, booked - quantity.quanta)
        act.tell(f"Counted {found} of {of}, the book had {had}: {missing} are missing, {cost}, a cost of the shop.")
    else:
        gain = _find(act, material, lots, quantity.quanta - booked, said)
        more = _amount(material, quantity.quanta - booked)
        act.tell(f"Counted {found} of {of}, the book had {had}: {more} more, {gain} off the costs of the shop.")


def _counted(act: OpenAct, material: Material, label: str | None) -> list[LotLeft]:
    shelf = lots_left(act.session, material.id, act.on)
    if label is None:
        lots = [lot for lot in shelf if lot.customer is None]
    else:
        lots = [lot for lot in shelf if lot.label.lower() == label.strip().lower()]
    if not lots:
        what = f"no lot {text.shown(label)!r} of {material.name}" if label is not None else f"no {material.name}"
        raise Refusal(
            f"{what} was bought by {act.on}, so there is none to count: write it first with `coatbook material buy "
            f"{material.code} QUANTITY COST --supplier …`"
        )
    return lots


def _lose(act: OpenAct, material: Material, lots: Iterable[LotLeft], missing: int, said: str) -> Money:
    """Take what is missing off the oldest lots; what it cost."""
    lost, later = 0, found_later(act.session, material.id, act.on)
    for lot in lots:
        taken = min(missing, max(lot.quanta - later.get(lot.id, 0), 0))
        if taken:
            minor = share(lot, taken)
            _change(act, lot, COUNT, -taken, -minor, minor, said)
            lost += minor
        missing -= taken
    if missing:
        raise Refusal(
            f"{_amount(material, missing)} of {material.name} that would be missing on {act.on} stand as used after "
            "it: count what is there today instead"
        )
    return Money(lost, act.currency)


def _find(act: OpenAct, material: Material, lots: Sequence[LotLeft], surplus: int, said: str) -> Money:
    """Put what was found back into lots, none fuller than it was bought; what it is worth.

    First those that are being drawn from, the oldest first; then those that were used up last.
    """
    begun, empty = [lot for lot in lots if lot.quanta], [lot for lot in lots if not lot.quanta]
    gained = 0
    for lot in (*begun, *reversed(empty)):
        put = min(surplus, max(lot.whole_quanta - lot.quanta, 0))
        if put:
            minor = round_half_up(lot.whole_minor * put, lot.whole_quanta)
            _change(act, lot, COUNT, put, minor, -minor, said)
            gained += minor
        surplus -= put
    if surplus:
        raise Refusal(
            f"{_amount(material, surplus)} of {material.name} more than was ever bought would be on the shelf: write "
            f"the purchase first with `coatbook material buy {material.code} QUANTITY COST --estimated`"
        )
    return Money(gained, act.currency)


# what is too old, and what goes back


def expire(act: OpenAct, *, lot: str, why: str | None = None) -> None:
    """Write off what is left of a lot that is too old, or unfit before its day for a reason."""
    material, lots = _standing(act, lot)
    _refuse_found_later(act, material, lots)
    left = [one for one in lots if one.quanta]
    if not left:
        raise Refusal(f"nothing is left of lot {lots[0].label} of {material.name}: nothing to write off")
    for one in left:
        if why is None and not one.expired(act.on):
            day = f"may be used until {one.expires}" if one.expires else "has no last day on its label"
            raise Refusal(f"lot {one.label} of {material.name} {day}: say what makes it unfit with --why")
        said = text.line(why, "reason") if why else f"expired on {one.expires}"
        _change(act, one, EXPIRED, -one.quanta, -one.minor, one.minor, said)
        cost = Money(one.minor, act.currency)
        act.tell(
            f"Lot {one.label} of {material.name}: {_amount(material, one.quanta)} written off, {cost}, a cost of the "
            "shop."
        )


def give_back(act: OpenAct, *, lot: str, quantity: Quantity, credit: Money, why: str | None = None) -> None:
    """Write what went back to whoever supplied it, and what they credited for it.

    What the credit differs from the cost is a cost of the shop, or less of one.
    """
    material, lots = _standing(act, lot)
    same_kind(material, quantity)
    more_than_nothing(quantity, "quantity")
    not_negative(credit, "credit")
    _refuse_found_later(act, material, lots)
    found = next((one for one in lots if one.quanta >= quantity.quanta), None)
    if found is None:
        left = " and ".join(str(_amount(material, one.quanta)) for one in lots)
        again = f" (name {_named_again(lots)} to return some of each)" if len(lots) > 1 else ""
        raise Refusal(
            f"{left} are left of lot {lots[0].label} of {material.name}, {quantity} cannot go back{again}: count it "
            f"with `coatbook material count {material.code} QUANTITY --lot {lots[0].label} --why …`"
        )
    if found.customer is not None and credit.minor:
        raise Refusal(
            f"lot {found.label} of {material.name} is {found.supplier}'s own and cost nothing: nobody credits it, "
            "write 0.00"
        )
    cost = share(found, quantity.quanta)
    said = text.line(why, "reason") if why else f"back to {found.supplier}"
    _change(act, found, RETURN, -quantity.quanta, -cost, cost - credit.minor, said)
    difference = Money(cost - credit.minor, act.currency)
    told = "" if not difference else f"; the shop's costs are {_more(difference)}"
    act.tell(
        f"Back to {found.supplier}: {quantity} of {material.name}, lot {found.label}, which cost "
        f"{Money(cost, act.currency)}; credited {credit} {act.currency}{told}."
    )


# striking


def refuse_what_stands_on(act: OpenAct, change: LotChange) -> None:
    """A change is struck only while nothing was drawn from its lot and nothing changed in it since.

    What came later was worked out on it. Whatever is wrong can be set right by a new change.
    """
    draws = select(Drawn.entry).where(Drawn.lot == change.lot, Drawn.act > change.act, Drawn.struck_on.is_(None))
    drawn = act.session.scalar(draws.order_by(Drawn.id).limit(1))
    changes = select(LotChange.id).where(
        LotChange.lot == change.lot, LotChange.id > change.id, LotChange.struck_on.is_(None)
    )
    changed = act.session.scalar(changes.order_by(LotChange.id).limit(1))
    if drawn is None and changed is None:
        return
    lot = got(act.session, Lot, change.lot)
    code = got(act.session, Material, lot.material).code
    later = f"line {drawn}" if drawn is not None else f"lot_change {changed}"
    anew = f"reprice purchase:{lot.purchase} PRICE" if change.kind == PRICE else f"count {code} QUANTITY --why …"
    raise Refusal(
        f"lot_change {change.id} cannot be struck: {later} came after it in lot {lot.label}; strike that first, or set "
        f"right what is wrong with `coatbook material {anew}`"
    )


def repriced_since(act: OpenAct, row: WrittenOnce) -> tuple[str, ...]:
    """What to do after a use was struck whose lot got another price since: its quantity came back at the old one."""
    if row.__tablename__ != "entry":
        return ()
    rows = act.session.scalars(
        select(Lot)
        .join(Drawn, Drawn.lot == Lot.id)
        .join(LotChange, LotChange.lot == Lot.id)
        .where(Drawn.entry == row.id, LotChange.kind == PRICE, LotChange.struck_on.is_(None))
        .where(LotChange.act > Drawn.act)
        .distinct()
        .order_by(Lot.id)
    )
    told = []
    for lot in rows:
        material = got(act.session, Material, lot.material)
        (now,) = [one for one in lots_left(act.session, material.id, act.today) if one.id == lot.id]
        price = Money(now.whole_minor, act.currency)
        told.append(
            f"Note: lot {lot.label} got another price since; `coatbook material reprice purchase:{lot.purchase} "
            f"{price}` values what came back at it."
        )
    return tuple(told)
