"""What others read of aircraft: frozen records, and finding one by mark, code or serial."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from sqlalchemy import func, or_, select
from sqlalchemy.orm import Session

from coatbook.aircraft.keepoff_types import RULE_SENTENCES
from coatbook.aircraft.tables import CLOCKS, Airframe, KeepOff, Marking, Ownership, Surface, Times, Withdrawn
from coatbook.aircraft.turns import turns
from coatbook.people.views import Person, customer_by_id
from coatbook.store.finding import got
from coatbook.store.live import in_force, live
from coatbook.store.remembering import recalled
from coatbook.values import Quantity, Refusal
from coatbook.values.marks import key_of
from coatbook.values.text import shown


@dataclass(frozen=True, slots=True)
class SurfaceView:
    """A surface as worked and read."""

    id: int
    name: str
    area: Quantity
    substrate: str
    paint: str
    layers_known: bool
    balanced: str
    primer: Quantity | None
    painted: int | None
    mesh: bool | None


@dataclass(frozen=True, slots=True)
class AirframeView:
    """An airframe with the mark and owner in force on the day asked for. What is None is not known."""

    id: int
    code: str
    mark: str | None
    maker: str
    model: str
    serial: str
    year: int | None
    designator: str | None
    certification: str | None
    burn_basis: str | None
    operated: str | None
    owner: Person | None
    surfaces: tuple[SurfaceView, ...]

    @property
    def called(self) -> str:
        """How the shop calls it: by its mark, else by maker, model and serial."""
        return self.mark or f"{self.maker} {self.model} sn {self.serial}"


@dataclass(frozen=True, slots=True)
class MarkTurn:
    """A mark (None: no mark) worn from a day to a last day, None while no later mark is written. `id` is the line's."""

    id: int
    mark: str | None
    from_on: dt.date
    last: dt.date | None


@dataclass(frozen=True, slots=True)
class OwnerTurn:
    """Who owned the airframe from a day to a last day, None while no later owner is written. `id` is the line's."""

    id: int
    owner: Person
    from_on: dt.date
    last: dt.date | None


@dataclass(frozen=True, slots=True)
class ClockView:
    """What a clock stood at on a day; `id` is the line's number."""

    id: int
    clock: str
    on_day: dt.date
    hours: Quantity


@dataclass(frozen=True, slots=True)
class KeepOffView:
    """A part with a rule of its own. `count` None: not counted yet; 0: not on this aircraft. `place` may be empty."""

    id: int
    item: str
    place: str
    count: int | None
    rule: str

    @property
    def called(self) -> str:
        """The part with its place."""
        return f"{self.item}, {self.place}" if self.place else self.item

    @property
    def asks(self) -> str:
        """What its rule asks for, as a sentence for paper."""
        return RULE_SENTENCES[self.rule]


@dataclass(frozen=True, slots=True)
class WithdrawalView:
    """Since when, and why, an airframe flies no more; `id` is the line's number."""

    id: int
    from_on: dt.date
    why: str


def wearer(session: Session, mark_key: str, on: dt.date, seen: dt.date) -> Airframe | None:
    """The airframe that wears a mark on a day, as the book stood on `seen`.

    A withdrawn one is known by its last mark until another wears it; of several, as an earlier day's book may have
    it, whoever took the mark last.
    """

    def candidates() -> Sequence[int]:
        worn = select(Marking.airframe).where(Marking.mark_key == mark_key, live(Marking, seen)).distinct()
        return session.scalars(worn).all()

    found: list[tuple[bool, dt.date, int]] = []
    for airframe in recalled(session, Marking, (mark_key, seen), candidates) if mark_key else ():
        current = in_force(session, Marking, on, seen, airframe=airframe)
        if current is not None and current.mark_key == mark_key:
            flies = withdrawal_of(session, airframe, on, seen) is None
            found.append((flies, current.from_on, airframe))
    return got(session, Airframe, max(found)[2]) if found else None


def find_airframe(session: Session, named: str, on: dt.date, seen: dt.date | None = None) -> Airframe:
    """The airframe a person means: by mark worn on the day, by code, or by `sn:SERIAL`.

    Here as below, `seen` is the day whose book is looked at (else `on`): a mark written later than it was worn from
    is known to who looks later.

    Raises:
        Refusal: none, or more than one.
    """
    wanted = named.strip()
    if wanted.lower().startswith("sn:"):
        serial = wanted[3:].strip()
        same = or_(Airframe.serial == serial, func.lower(Airframe.serial) == serial.lower())
        rows = session.scalars(select(Airframe).where(same)).all()
        if len(rows) > 1:
            raise Refusal(f"{len(rows)} aircraft have the serial number {shown(wanted[3:])}: name one by its code")
        row = rows[0] if rows else None
    else:
        by_code = select(Airframe).filter_by(code=wanted.lower())
        coded = recalled(session, Airframe, wanted.lower(), lambda: session.scalars(by_code).first())
        worn = wearer(session, key_of(wanted), on, seen or on)
        if coded and worn and coded.id != worn.id:
            raise Refusal(
                f"{shown(named)!r} is the code of one aircraft and on {on} the mark of another: name the one you mean "
                f"by its serial number, sn:{coded.serial} or sn:{worn.serial}"
            )
        row = coded or worn
    if row is None:
        worn_when = _when_worn(session, key_of(wanted), seen or on)
        raise Refusal(f"there is no aircraft {shown(named)!r} on {on}{worn_when}: `coatbook aircraft list` shows them")
    return row


def _when_worn(session: Session, mark_key: str, seen: dt.date) -> str:
    """Who wore or will wear a mark that nobody wears on the day asked for: a clause, empty if nobody ever does."""
    rows = select(Marking).where(live(Marking, seen), Marking.mark_key == mark_key).order_by(Marking.from_on.desc())
    last = session.scalars(rows).first() if mark_key else None
    if last is None:
        return ""
    until = [one.last for one in marks_of(session, last.airframe, seen) if one.mark == last.mark][-1:]
    to = f" to {until[0]}" if until and until[0] else ""
    return f" ({got(session, Airframe, last.airframe).code} wears it from {last.from_on}{to})"


def mark_of(session: Session, airframe: int, on: dt.date, seen: dt.date | None = None) -> str | None:
    marking = in_force(session, Marking, on, seen or on, airframe=airframe)
    return (marking.mark or None) if marking else None


def owner_of(session: Session, airframe: int, on: dt.date, seen: dt.date | None = None) -> Person | None:
    customer = owner_id(session, airframe, on, seen)
    return customer_by_id(session, customer) if customer else None


def owner_id(session: Session, airframe: int, on: dt.date, seen: dt.date | None = None) -> int | None:
    ownership = in_force(session, Ownership, on, seen or on, airframe=airframe)
    return ownership.customer if ownership else None


def airframe_view(session: Session, row: Airframe, on: dt.date, seen: dt.date | None = None) -> AirframeView:
    surfaces = session.scalars(select(Surface).filter_by(airframe=row.id).order_by(Surface.id))
    return AirframeView(
        id=row.id,
        code=row.code,
        mark=mark_of(session, row.id, on, seen),
        maker=row.maker,
        model=row.model,
        serial=row.serial,
        year=row.year,
        designator=row.designator,
        certification=row.certification,
        burn_basis=row.burn_basis,
        operated=row.operated,
        owner=owner_of(session, row.id, on, seen),
        surfaces=tuple(_surface(surface) for surface in surfaces),
    )


def _surface(row: Surface) -> SurfaceView:
    primer = Quantity(row.primer, row.primer_unit) if row.primer is not None and row.primer_unit else None
    return SurfaceView(
        id=row.id,
        name=row.name,
        area=row.size,
        substrate=row.substrate,
        paint=row.paint,
        layers_known=row.layers_known,
        balanced=row.balanced,
        primer=primer,
        painted=row.painted,
        mesh=row.mesh,
    )


def airframe_by_id(session: Session, row_id: int, on: dt.date, seen: dt.date | None = None) -> AirframeView:
    return airframe_view(session, got(session, Airframe, row_id), on, seen)


def airframes(session: Session, on: dt.date) -> tuple[AirframeView, ...]:
    rows = session.scalars(select(Airframe).order_by(Airframe.code)).all()
    return tuple(airframe_view(session, row, on) for row in rows)


def marks_of(session: Session, airframe: int, seen: dt.date) -> tuple[MarkTurn, ...]:
    """The marks of an airframe in turn, as the book stood on `seen`; those still to come too."""
    rows = session.scalars(select(Marking).where(live(Marking, seen)).filter_by(airframe=airframe)).all()
    return tuple(
        MarkTurn(one.what.id, one.what.mark or None, one.from_on, one.last)
        for one in turns(rows, lambda row: row.mark_key)
    )


def owners_of(session: Session, airframe: int, seen: dt.date) -> tuple[OwnerTurn, ...]:
    """The owners of an airframe in turn, as the book stood on `seen`; those still to come too."""
    rows = session.scalars(select(Ownership).where(live(Ownership, seen)).filter_by(airframe=airframe)).all()
    return tuple(
        OwnerTurn(one.what.id, customer_by_id(session, one.what.customer), one.from_on, one.last)
        for one in turns(rows, lambda row: row.customer)
    )


def withdrawal_of(session: Session, airframe: int, on: dt.date, seen: dt.date | None = None) -> WithdrawalView | None:
    """The withdrawal of an airframe that is in force on a day."""
    row = in_force(session, Withdrawn, on, seen or on, airframe=airframe)
    return WithdrawalView(row.id, row.from_on, row.why) if row else None


def refuse_withdrawn(session: Session, airframe: Airframe, on: dt.date, seen: dt.date, what: str) -> None:
    """Refuse `what` (such as "no job is opened for it") for an airframe that is withdrawn on a day."""
    gone = withdrawal_of(session, airframe.id, on, seen)
    if gone is not None:
        raise Refusal(
            f"{airframe.code} is withdrawn since {gone.from_on} ({gone.why}), {what}: if it flies again, strike that "
            f"first with `coatbook strike withdrawn:{gone.id} --why …`"
        )


def times_of(session: Session, airframe: int, on: dt.date) -> tuple[ClockView, ...]:
    """What an airframe's clocks stood at by a day: clock by clock, oldest first."""
    rows = session.scalars(
        select(Times).where(live(Times, on)).filter_by(airframe=airframe).order_by(Times.on_day, Times.id)
    )
    found = [ClockView(row.id, row.clock, row.on_day, Quantity(row.quanta, row.unit)) for row in rows]
    return tuple(sorted(found, key=lambda one: CLOCKS.index(one.clock)))


def hours_flown(session: Session, airframe: int, on: dt.date) -> tuple[ClockView, ...]:
    """The readings by a day of the one clock that tells best what was flown: that read most often, else the first
    of CLOCKS. Two clocks are never mixed: they do not count alike.
    """
    read = times_of(session, airframe, on)
    by_clock = [tuple(one for one in read if one.clock == clock) for clock in CLOCKS]
    return max(by_clock, key=len)


def keep_off_of(session: Session, airframe: int, *, absent: bool = False) -> tuple[KeepOffView, ...]:
    """The keep-off list of an airframe by item and place; with `absent` the parts too that are not on it (count 0)."""
    rows = session.scalars(select(KeepOff).filter_by(airframe=airframe).order_by(KeepOff.item, KeepOff.place))
    views = tuple(keep_off_view(row) for row in rows)
    return views if absent else tuple(view for view in views if view.count != 0)


def keep_off_view(row: KeepOff) -> KeepOffView:
    return KeepOffView(row.id, row.item, row.place, row.count, row.rule)
