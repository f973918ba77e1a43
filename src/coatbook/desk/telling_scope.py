"""A job's scope in words: who asks and pays, how the surfaces look, test spots, changes, who signs, film afterwards.

Each sentence ends with the name that `coatbook strike` takes.
"""

import datetime as dt

from sqlalchemy.orm import Session

from coatbook.jobs.parties import told
from coatbook.jobs.views import (
    ChangeView,
    FilmReading,
    PartyView,
    changes_of,
    conditions_of,
    consents_of,
    film_readings,
    parties_of,
    signing_of,
)
from coatbook.values import Money
from coatbook.values.words import count

Parts = list[tuple[str, list[str]]]


def roles(session: Session, job: int, currency: str) -> list[tuple[str, str]]:
    """Who pays and what, who hears, and who asks where that is another or bound to a sum: label and words."""
    parties = parties_of(session, job)
    pays = [one for one in parties if one.role == "pays"]
    (hears,) = (one for one in parties if one.role == "hears")
    asks = [one for one in parties if one.role == "asks" and (one.up_to is not None or _other(one, pays))]
    if len(pays) == 1 and not _other(hears, pays):
        return [("pays", f"{_named(hears)}, and hears of upkeep"), *(_asks(one, currency) for one in asks)]
    return [
        ("pays", "; ".join(f"{_named(one)}{_share(one, len(pays), currency)}" for one in pays)),
        ("hears", f"{_named(hears)}, of upkeep"),
        *(_asks(one, currency) for one in asks),
    ]


def _other(one: PartyView, pays: list[PartyView]) -> bool:
    return one.person.code not in {payer.person.code for payer in pays}


def _named(one: PartyView) -> str:
    return f"{one.person.name} ({one.person.code})"


def _asks(one: PartyView, currency: str) -> tuple[str, str]:
    bound = f", up to {Money(one.up_to, currency)} {currency}" if one.up_to is not None else ""
    return "asks", f"{_named(one)}{bound}"


def _share(one: PartyView, payers: int, currency: str) -> str:
    if one.minor is not None:
        return f" {Money(one.minor, currency)}"
    if one.share is not None:
        return f" {told(one.share)}"
    return " the rest" if payers > 1 else ""


def before_the_plan(session: Session, job: int, on: dt.date) -> Parts:
    """What was found and tried before anything was planned."""
    conditions = [
        f"{one.surface}: {one.state} on {one.on_day}{f', {one.note}' if one.note else ''} (condition:{one.id})"
        for one in conditions_of(session, job, on)
    ]
    spots = [
        f"{one.size} at {one.place} on {one.surface} with {one.product}: {one.who} consented {one.how} on "
        f"{one.on_day}; told of the risk: {one.risk} (consent:{one.id})"
        for one in consents_of(session, job)
    ]
    return [("Surfaces as found", conditions), ("Test spots", spots)]


def beside_the_plan(session: Session, job: int, currency: str) -> Parts:
    """What was changed after the agreement, who may do and sign the work, and the film read since."""
    signing = signing_of(session, job)
    signs = [f"{signing.sentence.rstrip('.')} (authority:{signing.id})."] if signing else []
    changes = [_change(one, currency) for one in changes_of(session, job)]
    later = [one for one in film_readings(session, job, every_stage=True) if one.stage]
    kinds = dict.fromkeys((one.surface, one.stage) for one in later)
    film = [_read(kind, [one for one in later if (one.surface, one.stage) == kind]) for kind in kinds]
    return [("Agreed changes", changes), ("Who does and signs the work", signs), ("Film since", film)]


def _change(one: ChangeView, currency: str) -> str:
    at = f" at {Money(one.minor, currency)} as {one.service}" if one.minor is not None else ""
    hours = f", {one.hours}" if one.hours else ""
    return f"{one.n}: {one.what}{at}{hours}, agreed with {one.who} {one.how} on {one.on_day} (change:{one.id})"


def _read(kind: tuple[str, str], own: list[FilmReading]) -> str:
    surface, stage = kind
    low, high = min(own, key=lambda one: one.value), max(own, key=lambda one: one.value)
    return f"{surface}, {stage}: {count(len(own), 'reading')}, {low.value} to {high.value}"
