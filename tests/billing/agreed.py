"""What is agreed before a job is billed, written row by row: who pays, what was changed, that it was called off."""

from collections.abc import Sequence
from dataclasses import replace

from sqlalchemy import func, select

from coatbook.aircraft.tables import Surface
from coatbook.jobs.tables import Change, JobEvent, Party, Service, Step
from coatbook.jobs.views import Payer, find_job, next_step_key
from coatbook.people.tables import Customer
from coatbook.store.acts import OpenAct
from coatbook.store.book import Book
from coatbook.store.finding import by_code
from desk.shopfloor import do, usd

REST = Payer(0, None, None)


def per_cent(share: str) -> Payer:
    return replace(REST, share=usd(share).minor * 100)


def fixed(amount: str) -> Payer:
    return replace(REST, minor=usd(amount).minor)


def set_payers(act: OpenAct, *, job: int, payers: dict[str, Payer]) -> None:
    row = find_job(act.session, job)
    for party in act.session.scalars(select(Party).filter_by(job=row.id, role="pays", struck_on=None)):
        act.strike(party, "others pay now")
    for code, payer in payers.items():
        who = by_code(act.session, Customer, code, "customer")
        act.add(Party(job=row.id, customer=who.id, role="pays", share=payer.share, minor=payer.minor))


def pays(book: Book, day: str, job: int, **payers: Payer) -> None:
    """Let customers pay for a job: `alder=per_cent("60"), birch=REST`."""
    do(book, day, set_payers, job=job, payers=payers)


def set_change(
    act: OpenAct,
    *,
    job: int,
    what: str,
    amount: str | None = None,
    service: str | None = None,
    steps: Sequence[tuple[str, str | None]] = (),
) -> None:
    row = find_job(act.session, job)
    last = act.session.scalar(select(func.max(Change.n)).filter_by(job=row.id))
    of = by_code(act.session, Service, service, "service").id if service else None
    minor = usd(amount).minor if amount else None
    agreed = {"what": what, "who": "Jo Alder", "how": "by phone", "minor": minor, "service": of}
    change = act.add(Change(job=row.id, n=(last or 0) + 1, **agreed))
    for code, name in steps:
        surface = act.session.scalars(select(Surface).filter_by(name=name, airframe=row.airframe)).first()
        planned = by_code(act.session, Service, code, "service").id
        key = next_step_key(act.session, row.id)
        on = surface.id if surface else None
        act.add(Step(job=row.id, key=key, service=planned, surface=on, passes=1, change=change.id))


def change(book: Book, day: str, job: int, what: str, **values: object) -> None:
    """A change agreed: at an `amount` as a `service`, or by the price list with `steps` of (service, surface)."""
    do(book, day, set_change, job=job, what=what, **values)


def set_called_off(act: OpenAct, *, job: int) -> None:
    act.add(JobEvent(job=find_job(act.session, job).id, kind="called off", who="Jo Alder", text="sold the aircraft"))


def call_off(book: Book, day: str, job: int) -> None:
    do(book, day, set_called_off, job=job)
