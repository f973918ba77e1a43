"""What writes an airframe's keep-off list: the parts that have a rule of their own."""

from collections.abc import Sequence

from sqlalchemy import select

from coatbook.aircraft.keepoff_types import TYPES, UNSOURCED, is_usual, usual_items, usual_rule
from coatbook.aircraft.tables import RULES, Airframe, KeepOff
from coatbook.aircraft.views import KeepOffView, find_airframe, keep_off_view
from coatbook.store.acts import OpenAct
from coatbook.values import Misuse, Refusal, text, words
from coatbook.values.checks import whole

MOST = 1000


def set_keep_off(
    act: OpenAct,
    *,
    aircraft: str,
    item: str,
    place: str | None = None,
    count: int | None = None,
    rule: str | None = None,
) -> None:
    """Write a part that has a rule of its own, or change what is known of one that stands on the list.

    Without `place` the part that stands under that name is meant. A part that stands without a place and was never
    counted takes the first place written for it. A `count` of 0 says that it is not on this aircraft; None that it is
    not counted yet, or leaves the count as it is.
    """
    airframe = find_airframe(act.session, aircraft, act.on, act.today)
    kept = text.line(item, "item", 60).lower()
    where = text.line(place, "place", 60).lower() if place else None
    number = None if count is None else whole(count, 0, MOST, "count")
    asks = None if rule is None else text.one_of(rule, RULES, "rule")
    standing = _standing(act, airframe, kept)
    if not standing:
        _refuse_plural(act, airframe, kept)
    row = _meant(standing, airframe, kept, where)
    if row is None:
        row = act.add(
            KeepOff(airframe=airframe.id, item=kept, place=where or "", count=number, rule=asks or usual_rule(kept))
        )
    else:
        _change(act, airframe, row, where, number, asks)
    act.tell(f"{airframe.code}: {told(keep_off_view(row))}")


def _standing(act: OpenAct, airframe: Airframe, item: str) -> list[KeepOff]:
    rows = select(KeepOff).filter_by(airframe=airframe.id, item=item).order_by(KeepOff.place)
    return list(act.session.scalars(rows))


def _refuse_plural(act: OpenAct, airframe: Airframe, item: str) -> None:
    """One part, one name: masks are counted by it."""
    one = item.removesuffix("s")
    if one != item and (is_usual(one) or _standing(act, airframe, one)):
        raise Refusal(f"{item!r} goes by the name {one!r} on keep-off lists: write that, and how many with --count")


def _meant(rows: list[KeepOff], airframe: Airframe, item: str, place: str | None) -> KeepOff | None:
    """The row among those of one item that a person means; None for a new one."""
    if place is None:
        if len(rows) > 1:
            places = ", ".join(row.place or "no place" for row in rows)
            raise Refusal(f"{airframe.code} has more than one {item!r} on its list ({places}): say which with --place")
        return rows[0] if rows else None
    there = next((row for row in rows if row.place == place), None)
    return there or next((row for row in rows if not row.place and row.count is None), None)


def _change(
    act: OpenAct, airframe: Airframe, row: KeepOff, place: str | None, count: int | None, rule: str | None
) -> None:
    given = {"place": place, "count": count, "rule": rule}
    changes = {name: value for name, value in given.items() if value is not None and value != getattr(row, name)}
    if not changes:
        raise Refusal(
            f"{keep_off_view(row).called} stands on the keep-off list of {airframe.code} so already: "
            "give another --count, --place or --rule to change it"
        )
    act.edit(row, **changes)


def told(view: KeepOffView) -> str:
    """A part of the list in a sentence."""
    if view.count == 0:
        return f"{view.called} is not on this aircraft."
    return f"{view.called} ({view.rule}), {'to count' if view.count is None else f'{view.count} of them'}."


def prefill_keep_off(act: OpenAct, *, aircraft: str, kinds: Sequence[str]) -> None:
    """Write the parts that an aircraft of these kinds usually has, to be counted. What stands is left as it is."""
    if not kinds:
        raise Misuse(f"no type of aircraft is given: use one or more of {', '.join(TYPES)}")
    airframe = find_airframe(act.session, aircraft, act.on, act.today)
    usual = usual_items(tuple(text.one_of(kind, TYPES, "type of aircraft") for kind in kinds))
    standing = set(act.session.scalars(select(KeepOff.item).filter_by(airframe=airframe.id)))
    new = [one for one in usual if one.item not in standing]
    if not new:
        raise Refusal(
            f"all that a keep-off list for {', '.join(kinds)} usually holds stands on the list of {airframe.code} "
            f"already: look at it with `coatbook aircraft keepoff {airframe.code}`"
        )
    for one in new:
        act.add(KeepOff(airframe=airframe.id, item=one.item, place="", rule=one.rule))
    left = f"; {words.count(len(usual) - len(new), 'other')} stood already" if len(new) < len(usual) else ""
    act.tell(f"{airframe.code}: {words.count(len(new), 'part')} on the keep-off list, to count{left}.")
    act.tell(f"The list is {UNSOURCED}.")
    act.tell(f"Count each: `coatbook aircraft keepoff {airframe.code} ITEM --count N`, 0 if it is not on the aircraft.")
