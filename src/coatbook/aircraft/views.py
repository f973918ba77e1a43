"""What others read of aircraft: frozen records, and finding one by mark, code or serial."""

import datetime as dt
from dataclasses import dataclass

from sqlalchemy import select
from sqlalchemy.orm import Session

from coatbook.aircraft.tables import Airframe, Marking, Ownership, Surface
from coatbook.people.views import Person, customer_by_id
from coatbook.store.finding import got
from coatbook.store.live import in_force, live
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


@dataclass(frozen=True, slots=True)
class AirframeView:
    """An airframe with the mark and owner in force on the day asked for."""

    id: int
    code: str
    mark: str | None
    maker: str
    model: str
    serial: str
    year: int | None
    owner: Person | None
    surfaces: tuple[SurfaceView, ...]

    @property
    def called(self) -> str:
        """How the shop calls it: by its mark, else by maker, model and serial."""
        return self.mark or f"{self.maker} {self.model} sn {self.serial}"


def wearer(session: Session, mark_key: str, on: dt.date, seen: dt.date) -> Airframe | None:
    """The airframe that wears a mark on a day, as the book stood on `seen`."""
    candidates = select(Marking.airframe).where(Marking.mark_key == mark_key, live(Marking, seen)).distinct()
    for airframe in session.scalars(candidates.order_by(Marking.airframe)):
        current = in_force(session, Marking, on, seen, airframe=airframe)
        if current is not None and current.mark_key == mark_key:
            return got(session, Airframe, airframe)
    return None


def find_airframe(session: Session, named: str, on: dt.date, seen: dt.date | None = None) -> Airframe:
    """The airframe a person means: by mark worn on the day, by code, or by `sn:SERIAL`.

    Here as below, `seen` is the day whose book is looked at (else `on`): a mark written later than it was worn from
    is known to who looks later.

    Raises:
        Refusal: none, or more than one.
    """
    wanted = named.strip()
    if wanted.lower().startswith("sn:"):
        rows = session.scalars(select(Airframe).filter_by(serial=wanted[3:].strip())).all()
        if len(rows) > 1:
            raise Refusal(f"{len(rows)} aircraft have the serial number {shown(wanted[3:])}: name one by its code")
        row = rows[0] if rows else None
    else:
        coded = session.scalars(select(Airframe).filter_by(code=wanted.lower())).first()
        worn = wearer(session, key_of(wanted), on, seen or on)
        if coded and worn and coded.id != worn.id:
            raise Refusal(
                f"{shown(named)!r} is the code of one aircraft and on {on} the mark of another: name the one you mean "
                f"by its serial number, sn:{coded.serial} or sn:{worn.serial}"
            )
        row = coded or worn
    if row is None:
        raise Refusal(f"there is no aircraft {shown(named)!r} on {on}: `coatbook aircraft list` shows them")
    return row


def mark_of(session: Session, airframe: int, on: dt.date, seen: dt.date | None = None) -> str | None:
    marking = in_force(session, Marking, on, seen or on, airframe=airframe)
    return marking.mark if marking else None


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
        owner=owner_of(session, row.id, on, seen),
        surfaces=tuple(_surface(surface) for surface in surfaces),
    )


def _surface(row: Surface) -> SurfaceView:
    primer = Quantity(row.primer, row.primer_unit) if row.primer is not None and row.primer_unit else None
    return SurfaceView(row.id, row.name, row.size, row.substrate, row.paint, row.layers_known, row.balanced, primer)


def airframe_by_id(session: Session, row_id: int, on: dt.date, seen: dt.date | None = None) -> AirframeView:
    return airframe_view(session, got(session, Airframe, row_id), on, seen)


def airframes(session: Session, on: dt.date) -> tuple[AirframeView, ...]:
    rows = session.scalars(select(Airframe).order_by(Airframe.code)).all()
    return tuple(airframe_view(session, row, on) for row in rows)
