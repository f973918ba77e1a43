"""Coating-maintenance reminders: who is told what and when, and sending it once.

Never twice by itself; a doubtful one is shown to a person. What is told is decided by inserting notices, which are
unique by subject, n and lead; what is sent is claimed by inserting an attempt before the first byte goes.
"""

import datetime as dt
import uuid
from collections.abc import Iterable
from dataclasses import dataclass

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from coatbook.aircraft.tables import Ownership
from coatbook.aircraft.views import airframe_by_id, owner_of, withdrawal_of
from coatbook.calculators import Due
from coatbook.calculators.host import Host
from coatbook.desk.sheets import coatings_sheet
from coatbook.desk.wording import consequence
from coatbook.jobs.tables import Party
from coatbook.jobs.views import find_job, job_view
from coatbook.paper.reminder import ReminderItem, ReminderRecord, Standing
from coatbook.people.views import Person, shop
from coatbook.store.book import Book
from coatbook.store.live import in_force
from coatbook.upkeep.actions import NewNotice
from coatbook.upkeep.views import CoatingView, coated_airframes, coatings_of, told_already
from coatbook.values import Refusal

UPKEEP_CALCULATOR = "warranty"
LEADS = (30, 7, -3)  # days before the window closes; the last is after it was missed
WORTH_TELLING = ("opening", "due", "in grace", "missed")


@dataclass(frozen=True, slots=True)
class Planned:
    """One notice to come: whom it tells of what, or why it is held."""

    customer: Person
    aircraft: str
    coating: CoatingView
    notice: NewNotice
    standing: Standing
    grace: int
    miss: str
    held_because: str | None


@dataclass(frozen=True, slots=True)
class Preview:
    """The notices to come, and a sentence for each coating whose upkeep could not be worked out.

    `withdrawn` counts the coated aircraft that nobody is told of any more.
    """

    planned: tuple[Planned, ...]
    failures: tuple[str, ...]
    withdrawn: int = 0


@dataclass(frozen=True, slots=True)
class CoatingUpkeep:
    """How the upkeep of one coating stands, with what the calculator wants said beside it."""

    coating: CoatingView
    dues: tuple[Due, ...]
    level: str
    reason: str
    failure: str | None
    cautions: tuple[str, ...]


def standings(book: Book, airframe: int, on: dt.date, host: Host) -> tuple[CoatingUpkeep, ...]:
    """How the upkeep of an aircraft's coatings stands on a day, by the warranty calculator."""
    with book.read() as session:
        views = [one for one in coatings_of(session, airframe, on) if one.terms]
        sheet = coatings_sheet(session, airframe, on, book.currency)
    book.engine.dispose()  # the calculators' child inherits no open connection
    if not views:
        return ()
    try:
        answers = host.answer(UPKEEP_CALCULATOR, [sheet])
        trouble = next((one.failure or one.refusal for one in answers if one.failure or one.refusal), None)
    except Refusal as refusal:
        answers, trouble = (), str(refusal)
    dues = [due for one in answers if one.result for due in one.result.dues]
    verdicts = {verdict.of: verdict for one in answers if one.result for verdict in one.result.verdicts}
    cautions = {verdict.of: one.result.cautions for one in answers if one.result for verdict in one.result.verdicts}
    return tuple(
        CoatingUpkeep(
            coating=view,
            dues=tuple(due for due in dues if due.coating == view.key),
            level=verdicts[view.key].level if view.key in verdicts else "unknown",
            reason=verdicts[view.key].reason if view.key in verdicts else "",
            failure=None if view.key in verdicts else trouble or f"{UPKEEP_CALCULATOR} gave no answer",
            cautions=cautions.get(view.key, ()),
        )
        for view in views
    )


def preview(book: Book, on: dt.date, host: Host) -> Preview:
    """What would be told on a day, to whom, and what is held and why."""
    with book.read() as session:
        coated = coated_airframes(session, on)
        airframes = [one for one in coated if withdrawal_of(session, one, on) is None]
    planned: list[Planned] = []
    failures: list[str] = []
    for airframe in airframes:
        for standing in standings(book, airframe, on, host):
            if standing.coating.ended is not None:
                continue
            if standing.failure is not None:
                failures.append(f"{standing.coating.key}: {standing.failure}")
                continue
            with book.read() as session:
                planned += _of_coating(session, standing, on)
    return Preview(tuple(planned), tuple(failures), len(coated) - len(airframes))


def _of_coating(session: Session, standing: CoatingUpkeep, on: dt.date) -> Iterable[Planned]:
    view = standing.coating
    airframe = airframe_by_id(session, view.airframe, on)
    hears, held = _recipient(session, view, on)
    latest: dict[str, Due] = {}
    for due in standing.dues:
        if due.state in WORTH_TELLING:
            latest[due.item] = due  # of several missed, only the last is worth a word
    for due in latest.values():
        subject = f"{view.key}/{due.item}"
        lead = lead_on(due.closes, on)
        told = told_already(session, subject, due.n)
        if lead is None or any(earlier <= lead for earlier in told):
            continue
        term = next(term for term in view.terms if term.item == due.item)
        notice = NewNotice(subject, view.airframe, view.surface, due.item, due.n, lead, due.opens, due.due, due.closes)
        stands: Standing = "missed" if due.state == "missed" else "in grace" if due.state == "in grace" else "due"
        yield Planned(hears, airframe.called, view, notice, stands, term.grace, term.miss, held)


def lead_on(closes: dt.date, on: dt.date) -> int | None:
    """The most urgent lead reached on a day, None while none is."""
    left = (closes - on).days
    reached = [lead for lead in LEADS if left <= lead]
    return min(reached, default=None)


def _recipient(session: Session, view: CoatingView, on: dt.date) -> tuple[Person, str | None]:
    job = find_job(session, view.job)
    then, now = job_view(session, job, on).hears, owner_of(session, view.airframe, on)
    sold = owner_of(session, view.airframe, view.applied, on)
    same_owner = now is not None and sold is not None and now.code == sold.code
    owner_hears = now is not None and now.code == then.code
    if not (same_owner or owner_hears or _linked_since(session, view, job.id, on)):
        named, code = (f", {now.name}", now.code) if now else ("", "CUSTOMER")
        return then, (
            f"the aircraft has another owner since{named}: ask whether they want to hear, then "
            f"`coatbook job party {view.job} hears {code}`"
        )
    if then.email is None:
        return then, f"no mail address: `coatbook customer edit {then.code} --email …`"
    return then, None


def _linked_since(session: Session, view: CoatingView, job: int, on: dt.date) -> bool:
    """Whether someone was named to hear about the job after the present owner was written."""
    bought = in_force(session, Ownership, on, on, airframe=view.airframe)
    hears = session.scalar(select(func.max(Party.act)).filter_by(job=job, role="hears", struck_on=None))
    return bought is not None and hears is not None and hears > bought.act


@dataclass(frozen=True, slots=True)
class Letter:
    """One message to one customer, with the notices it gathers."""

    customer: Person
    message_id: str
    content: bytes
    notices: tuple[NewNotice, ...]


def letters(book: Book, planned: Iterable[Planned]) -> tuple[Letter, ...]:
    """One message for each customer who is told anything, gathering all aircraft and items."""
    free = [one for one in planned if one.held_because is None]
    codes = dict.fromkeys(one.customer.code for one in free)
    return tuple(_letter(book, [one for one in free if one.customer.code == code]) for code in codes)


def _stable(book: Book, name: str) -> uuid.UUID:
    """The same identifier for the same thing of the same book, ever."""
    return uuid.uuid5(uuid.UUID(book.uuid), name)


def _letter(book: Book, planned: list[Planned]) -> Letter:
    from coatbook.paper.mail import reminder_mail

    with book.read() as session:
        own = shop(session)
    customer = planned[0].customer
    assert customer.email is not None
    notices = tuple(one.notice for one in planned)
    named = "|".join(f"{one.subject}/{one.n}/{one.lead}" for one in notices)
    domain = own.email.rpartition("@")[2] if own.email else "coatbook.invalid"
    message_id = f"<{_stable(book, named)}@{domain}>"
    groups: dict[tuple[str, str, str, NewNotice], list[Planned]] = {}
    for one in planned:
        alike = (one.aircraft, one.coating.product_name, one.notice.item, one.notice.closes)
        groups.setdefault(alike, []).append(one)  # type: ignore[arg-type]
    items = tuple(
        ReminderItem(
            uid=f"{_stable(book, f'{first.coating.key}/{first.notice.item}/{first.notice.n}')}@{domain}",
            aircraft=first.aircraft,
            surfaces=", ".join(one.coating.surface for one in group),
            product=first.coating.product_name,
            item=first.notice.item,
            opens=first.notice.opens,
            due=first.notice.due,
            closes=first.notice.closes,
            grace_days=first.grace,
            consequence=consequence(first.miss),
            standing=first.standing,
        )
        for group in groups.values()
        for first in group[:1]
    )
    record = ReminderRecord(
        shop=own,
        customer=customer,
        to_address=customer.email,
        message_id=message_id,
        date=book.clock.instant(),
        aircraft=", ".join(dict.fromkeys(one.aircraft for one in planned)),
        items=items,
    )
    return Letter(customer, message_id, reminder_mail(record), notices)
