"""What others read of coatings, notices and messages: frozen records, derived as of a day."""

import datetime as dt
from dataclasses import dataclass

from sqlalchemy import select
from sqlalchemy.orm import Session

from coatbook.aircraft.tables import Surface
from coatbook.jobs.tables import Coat, Entry, Job
from coatbook.people.tables import Customer
from coatbook.stock.tables import Material
from coatbook.stock.views import UpkeepTerm, supplied_labels, terms_on
from coatbook.store.live import live
from coatbook.upkeep.tables import Attempt, Message, Notice, Outcome, UpkeepDone
from coatbook.values import Refusal

LEASE = dt.timedelta(minutes=15)


@dataclass(frozen=True, slots=True)
class CoatingView:
    """One product on one surface, laid in one job: applied on the day of its last coat, under that day's terms.

    `ended` is the day a later coating replaced it. With a coat out of a lot that a customer supplied (`supplied`) it
    has no terms of the shop's.
    """

    airframe: int
    surface: str
    product: str
    product_name: str
    job: int
    applied: dt.date
    ended: dt.date | None
    terms: tuple[UpkeepTerm, ...]
    done: tuple[tuple[str, dt.date], ...]
    supplied: bool = False

    @property
    def key(self) -> str:
        """What names the coating for good: it survives recoating and the striking of that."""
        return f"job {self.job}/{self.surface}/{self.product}"


@dataclass(frozen=True, slots=True)
class NoticeView:
    """A notice, with the message that gathers it and how that stands."""

    id: int
    customer: str
    airframe: int
    kind: str
    item: str
    surface: str
    opens: dt.date
    due: dt.date
    closes: dt.date
    state: str
    message_id: str
    what: str | None


def coatings_of(session: Session, airframe: int, on: dt.date, seen: dt.date | None = None) -> tuple[CoatingView, ...]:
    """The coatings that coats laid by a day make on an airframe, oldest first, those replaced too.

    `seen` is the day whose book is looked at (else `on`).
    """
    as_of = seen or on
    rows = session.execute(
        select(Surface.name, Coat.label, Material, Job.number, Entry.on_day)
        .join(Coat, Coat.entry == Entry.id)
        .join(Surface, Surface.id == Entry.surface)
        .join(Material, Material.id == Entry.material)
        .join(Job, Job.id == Entry.job)
        .where(Job.airframe == airframe, Entry.kind == "coat", Entry.on_day <= on, live(Entry, as_of))
        .order_by(Entry.on_day, Entry.id)
    )
    laid: dict[tuple[str, int, int], tuple[Material, dt.date]] = {}
    labels: dict[tuple[str, int, int], set[str]] = {}
    for surface, label, material, job, day in rows:
        laid[surface, material.id, job] = (material, day)
        labels.setdefault((surface, material.id, job), set()).add(label.lower())
    theirs = supplied_labels(session, {material for _, material, _ in laid}, as_of)
    done = tuple(
        (row.item, row.on_day)
        for row in session.scalars(
            select(UpkeepDone).where(UpkeepDone.airframe == airframe, live(UpkeepDone, on)).order_by(UpkeepDone.on_day)
        )
    )
    coatings = []
    for (surface, _product, job), (material, applied) in laid.items():
        supplied = any((material.id, label) in theirs for label in labels[surface, material.id, job])
        terms = () if supplied else terms_on(session, material.id, applied, as_of)
        later = [
            day for (name, _, other), (_, day) in laid.items() if name == surface and other != job and day > applied
        ]
        since = tuple((item, day) for item, day in done if day >= applied)
        coatings.append(
            CoatingView(
                airframe=airframe,
                surface=surface,
                product=material.code,
                product_name=material.name,
                job=job,
                applied=applied,
                ended=min(later, default=None),
                terms=terms,
                done=since,
                supplied=supplied,
            )
        )
    return tuple(coatings)


def coated_airframes(session: Session, on: dt.date) -> tuple[int, ...]:
    """The airframes that carry a coat laid by a day."""
    rows = (
        select(Job.airframe)
        .join(Entry, Entry.job == Job.id)
        .where(Entry.kind == "coat", live(Entry, on))
        .distinct()
        .order_by(Job.airframe)
    )
    return tuple(session.scalars(rows))


def told_already(session: Session, subject: str, n: int) -> tuple[int, ...]:
    """The leads of the notices already decided about the n-th time of a subject."""
    return tuple(session.scalars(select(Notice.lead).filter_by(kind="upkeep", subject=subject, n=n)))


def message_row(session: Session, number: int) -> Message:
    row = session.get(Message, number)
    if row is None:
        raise Refusal(f"there is no message {number}: `coatbook remind list` shows them")
    return row


def state_of_message(session: Session, message: int, now: dt.datetime) -> str:
    """waiting, going, sent, refused or unsure: what follows from its attempts and their outcomes."""
    last = session.execute(
        select(Attempt, Outcome)
        .outerjoin(Outcome, Outcome.attempt == Attempt.id)
        .where(Attempt.message == message)
        .order_by(Attempt.n.desc())
        .limit(1)
    ).first()
    if last is None:
        return "waiting"
    attempt, outcome = last
    if outcome is None:
        return "going" if now - attempt.began < LEASE else "unsure"
    return {"later": "waiting"}.get(outcome.verdict, outcome.verdict)


def messages_that_are(session: Session, state: str, now: dt.datetime) -> tuple[int, ...]:
    """The messages in a state: waiting, going, sent, refused or unsure."""
    numbers = session.scalars(select(Message.id).order_by(Message.id)).all()
    return tuple(number for number in numbers if state_of_message(session, number, now) == state)


def waiting_messages(session: Session, now: dt.datetime) -> tuple[int, ...]:
    """The messages that may go now."""
    return messages_that_are(session, "waiting", now)


def message_bytes(session: Session, number: int) -> tuple[str, bytes]:
    """The address and the bytes of a message."""
    row = message_row(session, number)
    return row.to_address, row.bytes


def notices(session: Session, now: dt.datetime) -> tuple[NoticeView, ...]:
    """All notices, newest message first."""
    rows = session.execute(
        select(Notice, Message, Customer.code)
        .join(Message, Message.id == Notice.message)
        .join(Customer, Customer.id == Message.customer)
        .order_by(Message.id.desc(), Notice.id)
    )
    return tuple(
        NoticeView(
            id=message.id,
            customer=code,
            airframe=notice.airframe,
            kind=notice.kind,
            item=notice.item,
            surface=notice.surface,
            opens=notice.opens,
            due=notice.due,
            closes=notice.closes,
            state=state_of_message(session, message.id, now),
            message_id=message.message_id,
            what=_last_word(session, message.id),
        )
        for notice, message, code in rows
    )


def _last_word(session: Session, message: int) -> str | None:
    return session.scalar(
        select(Outcome.what)
        .join(Attempt, Attempt.id == Outcome.attempt)
        .where(Attempt.message == message)
        .order_by(Attempt.n.desc())
        .limit(1)
    )
