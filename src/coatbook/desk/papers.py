"""Papers and exemptions from tax: how each stands on a day, and what must be renewed soon."""

import datetime as dt
from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import Any

from sqlalchemy.orm import Session

from coatbook.people.views import ExemptionView, Hand, PaperView, exemptions, lies_in, papers, site_by_id, workers
from coatbook.values import Money
from coatbook.values.words import count

WARNED_BEFORE = 30  # days; common practice, no source
ASKED_OF_SUBCONTRACTORS = ("certificate", "insurance")  # one of them; common practice, no source
ONE_DAY = dt.timedelta(days=1)


def state(one: PaperView | ExemptionView, on: dt.date) -> str:
    """How a paper or an exemption stands on a day, in one word or two: not yet, in force, expiring, expired."""
    if one.from_on > on:
        return "not yet"
    if one.expires is None:
        return "in force"
    if one.expires < on:
        return "expired"
    return "expiring" if _soon(one.expires, on) else "in force"


def state_words(one: PaperView | ExemptionView, on: dt.date) -> str:
    """How a paper or an exemption stands on a day, with its days."""
    if one.from_on > on:
        return f"begins on {one.from_on}"
    if one.expires is None:
        return "in force, no expiry written"
    return _runs_out(one.expires, on) if _soon(one.expires, on) else f"in force until {one.expires}"


def _soon(expires: dt.date, on: dt.date) -> bool:
    """Whether a last day is over or so near that people are warned."""
    return (expires - on).days <= WARNED_BEFORE


def _runs_out(expires: dt.date, on: dt.date) -> str:
    left = (expires - on).days
    if left < 0:
        return f"expired on {expires}"
    return f"expires in {count(left, 'day')}, on {expires}" if left else f"expires today, {expires}"


def paper_row(one: PaperView, on: dt.date, currency: str) -> dict[str, Any]:
    """A paper with stable keys."""
    return {
        "paper": one.id,
        "kind": one.kind,
        "of": one.of,
        "name": one.whose,
        "issuer": one.issuer,
        "number": one.number,
        "amount": None if one.minor is None else str(Money(one.minor, currency)),
        "currency": currency,
        "from": one.from_on.isoformat(),
        "expires": one.expires.isoformat() if one.expires else None,
        "state": state(one, on),
    }


def exemption_row(one: ExemptionView, on: dt.date) -> dict[str, Any]:
    """An exemption with stable keys."""
    return {
        "exemption": one.id,
        "place": one.place,
        "reason": one.reason,
        "certificate": one.certificate,
        "from": one.from_on.isoformat(),
        "expires": one.expires.isoformat() if one.expires else None,
        "state": state(one, on),
    }


def warnings(session: Session, site_id: int, on: dt.date, seen: dt.date | None = None) -> tuple[str, ...]:
    """What to renew or ask for before work at a site, one sentence each.

    Looked at are the papers of the business, of that site and of every worker: a paper that is expired or expires
    within 30 days and is not followed by a renewal on file, and a subcontractor with neither a certificate nor
    insurance on file. Both are common practice, no source. `seen` is the day whose book is looked at (else `on`).
    """
    hands = workers(session, on)
    looked_at = {"business", f"site:{site_by_id(session, site_id).code}", *(f"worker:{one.code}" for one in hands)}
    on_file = [one for one in papers(session, on, seen) if one.of in looked_at]
    return (*_to_renew(on_file, on), *_to_ask_for(hands, on_file, on))


def _to_renew(on_file: Sequence[PaperView], on: dt.date) -> Iterator[str]:
    for _, group in groupby(on_file, key=lambda one: (one.of, one.kind)):
        one = _last_without_gap(tuple(group))
        if one.expires is not None and _soon(one.expires, on):
            yield (
                f"The {one.kind} of {one.whose} ({one.issuer}, {one.number}) {_runs_out(one.expires, on)}: renew it "
                f"and write the new one with `coatbook paper add {one.kind} --of {one.of} …`."
            )


def _last_without_gap(group: Sequence[PaperView]) -> PaperView:
    """The paper in force, or the last of the renewals on file that follow it day by day."""
    last = group[0]
    for later in group[1:]:
        if last.expires is not None and later.from_on > last.expires + ONE_DAY:
            break
        last = later
    return last


def _to_ask_for(hands: Sequence[Hand], on_file: Sequence[PaperView], on: dt.date) -> Iterator[str]:
    shown = {one.of for one in on_file if one.kind in ASKED_OF_SUBCONTRACTORS and one.from_on <= on}
    for hand in hands:
        if hand.kind == "subcontractor" and f"worker:{hand.code}" not in shown:
            yield (
                f"{hand.name} is a subcontractor with no certificate and no insurance on file: ask for one and write "
                f"it with `coatbook paper add insurance --of worker:{hand.code} …`."
            )


def exemption_warnings(session: Session, on: dt.date, seen: dt.date | None = None) -> tuple[str, ...]:
    """One sentence for each exemption that expires within 30 days and is not followed by another on file."""
    every = exemptions(session, seen or on)
    return tuple(
        f"The exemption of {one.name} in {one.place} (certificate {one.certificate}) {state_words(one, on)}, and tax "
        f"is charged after that: ask for a new certificate and write it with `coatbook tax exempt {one.customer} "
        f"{one.place} …`."
        for one in every
        if state(one, on) == "expiring" and not any(_follows(other, one) for other in every)
    )


def _follows(later: ExemptionView, one: ExemptionView) -> bool:
    """Whether an exemption takes over where another ends, for the whole of its place."""
    return (
        one.expires is not None
        and later.customer == one.customer
        and lies_in(one.place, later.place)
        and later.from_on == one.expires + ONE_DAY
    )
