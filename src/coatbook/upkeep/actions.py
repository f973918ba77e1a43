"""What writes upkeep done, notices with their messages, and what became of sending them."""

import datetime as dt
import hashlib
from collections.abc import Sequence
from dataclasses import dataclass

from sqlalchemy import func, select

from coatbook.aircraft.views import find_airframe
from coatbook.people.tables import Customer
from coatbook.store.acts import OpenAct
from coatbook.store.finding import by_code
from coatbook.upkeep.tables import OUTCOMES, Attempt, Message, Notice, Outcome, UpkeepDone
from coatbook.upkeep.views import coatings_of, message_row, state_of_message
from coatbook.values import Refusal, text


@dataclass(frozen=True, slots=True)
class NewNotice:
    """One thing to tell an owner: which item of which coating, its n-th time, and how long before it closes."""

    subject: str
    airframe: int
    surface: str
    item: str
    n: int
    lead: int
    opens: dt.date
    due: dt.date
    closes: dt.date


def write_done(act: OpenAct, *, aircraft: str, item: str, by: str, evidence: str | None = None) -> None:
    """Write upkeep done on an aircraft's coatings, by anyone."""
    airframe = find_airframe(act.session, aircraft, act.on, act.today)
    kept = text.line(item, "upkeep item", 60).lower()
    known = {
        term.item for coating in coatings_of(act.session, airframe.id, act.on, act.today) for term in coating.terms
    }
    if kept not in known:
        listed = ", ".join(sorted(known)) or "none: no coating with terms stands on it"
        raise Refusal(f"the coatings of {airframe.code} ask for no {text.shown(item)!r} on {act.on} ({listed})")
    who = text.line(by, "name of who did it")
    proof = text.line(evidence, "evidence") if evidence else None
    act.add(UpkeepDone(airframe=airframe.id, item=kept, by_whom=who, evidence=proof))
    act.tell(f"{airframe.code}: {kept} done on {act.on} by {who}.")


def write_message(
    act: OpenAct,
    *,
    customer: str,
    to_address: str,
    message_id: str,
    content: bytes,
    notices: Sequence[NewNotice],
) -> int | None:
    """Keep a message, as it will leave the shop, with the notices it gathers; the message's number.

    None if another run has decided one of these notices since: then nothing is written here.
    """
    for notice in notices:
        same = {"kind": "upkeep", "subject": notice.subject, "n": notice.n, "lead": notice.lead}
        if act.session.scalar(select(Notice.id).filter_by(**same)) is not None:
            return None
    message = act.add(
        Message(
            customer=by_code(act.session, Customer, customer, "customer").id,
            to_address=to_address,
            message_id=message_id,
            sha256=hashlib.sha256(content).hexdigest(),
            bytes=content,
        )
    )
    for notice in notices:
        act.add(
            Notice(
                kind="upkeep",
                subject=notice.subject,
                n=notice.n,
                lead=notice.lead,
                message=message.id,
                airframe=notice.airframe,
                surface=notice.surface,
                item=notice.item,
                opens=notice.opens,
                due=notice.due,
                closes=notice.closes,
            )
        )
    act.tell(f"Message {message.id} to {customer} is decided: {', '.join(notice.item for notice in notices)}.")
    return message.id


def claim(act: OpenAct, *, message: int, carrier: str) -> int | None:
    """Claim a waiting message for one try; the attempt's number, or None if it is not waiting any more."""
    row = message_row(act.session, message)
    now = act.clock.instant()
    if state_of_message(act.session, row.id, now) != "waiting":
        return None
    tried = act.session.scalar(select(func.max(Attempt.n)).filter_by(message=row.id)) or 0
    attempt = act.add(Attempt(message=row.id, n=tried + 1, carrier=carrier, began=now))
    act.tell(f"Message {row.id} goes by {carrier}.")
    return attempt.id


def record_outcome(act: OpenAct, *, attempt: int, verdict: str, what: str) -> None:
    """Write how an attempt ended: sent, refused, later or unsure.

    `what` are the carrier's own words: cut to what the book keeps, never a reason to refuse the outcome itself.
    """
    kept = text.one_of(verdict, OUTCOMES, "outcome")
    said = " ".join(text.shown(what).split())[: text.LONGEST_LINE]
    row = act.session.get_one(Attempt, attempt)
    act.add(Outcome(attempt=row.id, verdict=kept, what=said))
    act.tell(f"Message {row.message}: {kept} ({said}).")


def settle(act: OpenAct, *, message: int, sent: bool) -> None:
    """Write what a person found out about a message that may or may not have gone."""
    row = message_row(act.session, message)
    state = state_of_message(act.session, row.id, act.clock.instant())
    if state != "unsure":
        raise Refusal(f"message {message} is {state}, not unsure: nothing to settle")
    attempt = act.session.scalars(select(Attempt).filter_by(message=row.id).order_by(Attempt.n.desc()).limit(1)).one()
    record_outcome(act, attempt=attempt.id, verdict="sent" if sent else "later", what=f"settled by {act.ask.actor}")
