"""What writes an airframe's clock times: airframe hours, Hobbs meter, tachometer."""

import datetime as dt

from sqlalchemy import select

from coatbook.aircraft.tables import CLOCKS, Airframe, Times
from coatbook.aircraft.views import find_airframe
from coatbook.store.acts import OpenAct
from coatbook.store.live import live
from coatbook.values import Quantity, Refusal, text, words
from coatbook.values.checks import not_negative, of_dimension

A_DAY = Quantity.of(24, "h")
MOST = Quantity.of(500_000, "h")  # more than any airframe has flown (from memory)
Stood = tuple[dt.date, Quantity]


def write_times(act: OpenAct, *, aircraft: str, clock: str, hours: Quantity) -> int:
    """Write what a clock stood at on the act's day; the line's number.

    A clock never runs backwards, nor more than 24 hours a day. One that was replaced goes on from where the old one
    ended: add the old one's hours.
    """
    airframe = find_airframe(act.session, aircraft, act.on, act.today)
    kept = text.one_of(clock, CLOCKS, "clock")
    not_negative(of_dimension(hours, "time", "clock time"), "clock time")
    if hours > MOST:
        raise Refusal(f"no clock of an aircraft has run {hours}, {MOST} at most: check the figure")
    read, new = _read(act, airframe, kept), (act.on, hours)
    for before in [one for one in read if one[0] < act.on][-1:]:
        _refuse_wrong_pair(airframe, kept, before, new, stands=before[0])
    for after in [one for one in read if one[0] > act.on][:1]:
        _refuse_wrong_pair(airframe, kept, new, after, stands=after[0])
    row = act.add(Times(airframe=airframe.id, clock=kept, quanta=hours.quanta, unit=hours.unit))
    act.tell(f"{airframe.code}: the {kept} clock stood at {hours} on {act.on} (times:{row.id}).")
    return row.id


def _read(act: OpenAct, airframe: Airframe, clock: str) -> list[Stood]:
    """The clock's standing readings by day. Refuses a second one of the act's day."""
    rows = select(Times).where(live(Times, act.today)).filter_by(airframe=airframe.id, clock=clock)
    found = []
    for row in act.session.scalars(rows.order_by(Times.on_day)):
        found.append((row.on_day, Quantity(row.quanta, row.unit)))
        if row.on_day == act.on:
            raise Refusal(
                f"the {clock} clock of {airframe.code} was read on {act.on} already, {found[-1][1]}: if that is wrong, "
                f"strike it first with `coatbook strike times:{row.id} --why …`"
            )
    return found


def _refuse_wrong_pair(airframe: Airframe, clock: str, before: Stood, after: Stood, stands: dt.date) -> None:
    """Refuse two readings of which one must be wrong; `stands` is the day of the one in the book."""
    (first, low), (last, high) = before, after
    pair = f"the {clock} clock of {airframe.code} at {low} on {first} and {high} on {last}"
    remedy = f"check both; if the one of {stands} is wrong, strike it first (`coatbook aircraft show {airframe.code}`)"
    if high < low:
        raise Refusal(f"{pair} would run backwards (a new clock goes on from the old one's hours): {remedy}")
    days = (last - first).days
    if A_DAY.times(days) < high - low:
        raise Refusal(f"{pair} would run more than 24 h a day ({high - low} in {words.count(days, 'day')}): {remedy}")
