"""What writes marks, owners and the withdrawal of an airframe over its life.

One airframe wears one mark and has one owner at a time, and no mark is worn by two at once. A mark that its wearer
gave up, for another one or because it was withdrawn, may be issued again.
"""

import datetime as dt
from collections.abc import Sequence

from sqlalchemy import select

from coatbook.aircraft.tables import Airframe, Marking, Ownership, Withdrawn
from coatbook.aircraft.turns import Turn, turns
from coatbook.aircraft.views import find_airframe
from coatbook.people.tables import Customer
from coatbook.store.acts import OpenAct
from coatbook.store.finding import by_code, got
from coatbook.store.live import in_force, live
from coatbook.store.tables import WrittenOnce
from coatbook.values import Refusal, text
from coatbook.values.marks import Mark

NO_MARK = "no mark"


def write_mark(act: OpenAct, airframe: Airframe, mark: Mark | None, start: dt.date) -> None:
    """Write the mark an airframe wears from a day on, until its next one; None: it wears none."""
    named, key = (mark.text, mark.key) if mark else (NO_MARK, "")
    standing = _markings(act, airframe.id)
    current = in_force(act.session, Marking, start, act.today, airframe=airframe.id)
    if (current.mark_key if current else "") == key:
        raise Refusal(f"{airframe.code} wears {named} on {start} already: nothing to write")
    for row in standing:
        if row.from_on == start:
            _refuse_two_from(f"{airframe.code} wears {row.mark or NO_MARK}", row, start)
    new = Marking(airframe=airframe.id, mark=mark.text if mark else "", mark_key=key, from_on=start)
    meeting = _worn_twice(act, airframe, [*standing, new], _gone_on(act, airframe.id))
    if meeting is not None:
        mark_text, other, day = meeting
        raise Refusal(
            f"{mark_text} is worn by {other} on {day}: write {other}'s new mark (or none) first, or check the day and "
            "the spelling"
        )
    act.add(new)
    act.tell(f"{airframe.code} wears {named} {_span(turns([*standing, new], _key), start)}.")
    if mark is not None and mark.warning:
        act.tell(f"Note: {mark.warning}")


def write_owner(act: OpenAct, airframe: Airframe, owner: str, start: dt.date) -> None:
    """Write who owns an airframe from a day on, until its next owner."""
    customer = by_code(act.session, Customer, owner, "customer")
    current = in_force(act.session, Ownership, start, act.today, airframe=airframe.id)
    if current is not None and current.customer == customer.id:
        raise Refusal(f"{customer.code} owns {airframe.code} on {start} already: nothing to write")
    owned = select(Ownership).where(live(Ownership, act.today)).filter_by(airframe=airframe.id)
    standing = list(act.session.scalars(owned))
    for row in standing:
        if row.from_on == start:
            _refuse_two_from(f"{got(act.session, Customer, row.customer).code} owns {airframe.code}", row, start)
    new = act.add(Ownership(airframe=airframe.id, customer=customer.id, from_on=start))
    act.tell(f"{customer.name} owns {airframe.code} {_span(turns([*standing, new], lambda row: row.customer), start)}.")


def _refuse_two_from(what: str, row: Marking | Ownership, start: dt.date) -> None:
    """One mark and one owner at a time: a second one from the same day is a correction, and the first is struck."""
    raise Refusal(
        f"{what} from {start} already: if that is wrong, strike it first with "
        f"`coatbook strike {row.__tablename__}:{row.id} --why …`, else give another --from"
    )


def _span(told: Sequence[Turn[Marking]] | Sequence[Turn[Ownership]], start: dt.date) -> str:
    """From when to when the turn that begins on a day holds."""
    last = next(one.last for one in told if one.from_on == start)
    return f"from {start} to {last}, when the next one begins" if last else f"from {start}"


def withdraw(act: OpenAct, *, aircraft: str, why: str, from_on: dt.date | None = None) -> int:
    """Write that an airframe flies no more for anyone the shop knows; the line's number.

    From that day on nobody is reminded of it, no job is opened for it, and its mark may be worn by another.
    """
    airframe = find_airframe(act.session, aircraft, act.on, act.today)
    reason, start = text.line(why, "reason"), from_on or act.on
    standing = act.session.scalars(
        select(Withdrawn).where(live(Withdrawn, act.today)).filter_by(airframe=airframe.id)
    ).first()
    if standing is not None:
        raise Refusal(
            f"{airframe.code} is withdrawn from {standing.from_on} already ({standing.why}): if that is wrong, strike "
            f"it first with `coatbook strike withdrawn:{standing.id} --why …`"
        )
    row = act.add(Withdrawn(airframe=airframe.id, why=reason, from_on=start))
    act.tell(f"{airframe.code} is withdrawn from {start}: {reason}. Nobody is reminded of it from then on.")
    act.tell(f"If it flies again: `coatbook strike withdrawn:{row.id} --why …`.")
    return row.id


def refuse_worn_twice_without(act: OpenAct, row: WrittenOnce) -> None:
    """Refuse to strike a mark or a withdrawal if two airframes would then wear one mark on a day."""
    if not isinstance(row, Marking | Withdrawn):
        return
    airframe = got(act.session, Airframe, row.airframe)
    left = [one for one in _markings(act, airframe.id) if one is not row]
    gone = None if isinstance(row, Withdrawn) else _gone_on(act, airframe.id)
    meeting = _worn_twice(act, airframe, left, gone)
    if meeting is not None:
        mark, other, day = meeting
        raise Refusal(
            f"{row.__tablename__} {row.id} stands: without it both {airframe.code} and {other} would wear {mark} on "
            f"{day}; write the right mark of one of them first"
        )


def _key(row: Marking) -> str:
    return row.mark_key


def _markings(act: OpenAct, airframe: int) -> list[Marking]:
    return list(act.session.scalars(select(Marking).where(live(Marking, act.today)).filter_by(airframe=airframe)))


def _gone_on(act: OpenAct, airframe: int) -> dt.date | None:
    """The day from which an airframe is withdrawn."""
    return act.session.scalar(select(Withdrawn.from_on).where(live(Withdrawn, act.today)).filter_by(airframe=airframe))


def _worn(rows: Sequence[Marking], gone: dt.date | None) -> list[Turn[Marking]]:
    """The marks worn in turn, up to the day an airframe is withdrawn."""
    worn = []
    for turn in turns(rows, _key):
        if gone is not None and (turn.last is None or turn.last >= gone):
            turn = Turn(turn.what, turn.from_on, gone - dt.timedelta(days=1))
        if turn.what.mark_key and (turn.last is None or turn.from_on <= turn.last):
            worn.append(turn)
    return worn


def _worn_twice(
    act: OpenAct, airframe: Airframe, rows: Sequence[Marking], gone: dt.date | None
) -> tuple[str, str, dt.date] | None:
    """The first mark among an airframe's `rows` that another wears at the same time, that one's code and the day."""
    for turn in _worn(rows, gone):
        alike = select(Marking.airframe).where(live(Marking, act.today)).filter_by(mark_key=turn.what.mark_key)
        for other in act.session.scalars(alike.where(Marking.airframe != airframe.id).distinct()):
            for theirs in _worn(_markings(act, other), _gone_on(act, other)):
                if theirs.what.mark_key == turn.what.mark_key and turn.meets(theirs):
                    code = got(act.session, Airframe, other).code
                    return turn.what.mark, code, max(turn.from_on, theirs.from_on)
    return None
