"""What tests of desk, billing and review do in a furnished book (see `furniture`), by the rooms' own actions.

The furnished shop: N123AB (`skylane`) of `alder` has a left wing of 84 ft2 and an elevator of 20 ft2; job 1 plans wash
(step 1, 150.00), prep polish (step 2, abrasive, 4.25 a square foot) and coating (step 3, 6.00 a square foot) of the
left wing; labor bears 6.25 % in Texas; an hour of `sam`, the owner, costs 45.00, of `kim` 28.00, overhead 18.50; a
quart of `sealant` cost 48.00.
"""

import datetime as dt
from collections.abc import Callable, Sequence
from typing import Any

from coatbook.billing import journal
from coatbook.billing.actions import take_payment
from coatbook.billing.views import invoices, payments, prices, tax_rates
from coatbook.desk import agreeing, invoicing, striking, telling_review
from coatbook.desk.closing import close_month
from coatbook.jobs import actions as jobs
from coatbook.jobs import diary
from coatbook.jobs.gauge_file import Spot
from coatbook.jobs.scope import settle_signing
from coatbook.jobs.views import find_job, job_view
from coatbook.jobs.views import jobs as every_job
from coatbook.review.views import review_job, review_month
from coatbook.stock.views import materials
from coatbook.store.acts import Ask, Told
from coatbook.store.book import Book
from coatbook.upkeep.views import coatings_of
from coatbook.values import Money, Quantity
from coatbook.values.days import Month

TODAY = dt.date(2026, 8, 20)
CLAIM = agreeing.Claim("R. Moor", "mechanic 0000001", "maintenance manual 51-10", "the paint comes off next month")
CLEAR = ("118", "121", "119", "122", "120", "121")  # µm, spot by spot: plenty of film
THIN = ("30", "31", "29", "30", "32", "31")  # µm: nothing to spare above the primer


def usd(text: str) -> Money:
    return Money.parse(text, "USD")


def quantity(text: str) -> Quantity:
    return Quantity.parse(text)


def day_of(day: str | dt.date | None) -> dt.date | None:
    return dt.date.fromisoformat(day) if isinstance(day, str) else day


def ask(day: str | dt.date | None = None, command: str = "test", *, dry_run: bool = False) -> Ask:
    return Ask(command, "tester", day_of(day), again=True, dry_run=dry_run)


def do(book: Book, day: str | dt.date | None, action: Callable[..., Any], /, **values: Any) -> Told[Any]:
    """One act on a day, named after its action."""
    return book.do(ask(day, action.__name__.replace("_", " ")), action, **values)


def strike(book: Book, name: object, day: str | None = None) -> None:
    do(book, day, striking.strike, name=str(name), why="written in error")


def read_film(book: Book, day: str, film: Sequence[str] = CLEAR, surface: str = "left wing", job: int = 1) -> int:
    """Three readings at each spot; the line's number."""
    spots = [Spot(surface, str(place), (Quantity.of(value, "µm"),) * 3) for place, value in enumerate(film, start=1)]
    values = {"job": job, "spots": spots, "gauge": "eddy current", "serial": "G-1042"}
    (line,) = do(book, day, diary.log_film, **values).result
    return int(line)


def agree(book: Book, day: str, job: int = 1, claim: agreeing.Claim | None = None) -> Told[None]:
    """Agreed, and settled that nobody has to sign the work."""
    told = agreeing.agree_job(book, ask(day, "job agree"), job=job, by="Jo Alder", claim=claim)
    do(book, day, settle_signing, job=job, kind="no entry expected", by="R. Moor", document="51-10", why="cosmetic")
    return told


def hours(book: Book, day: str, worker: str, typed: str, step: int | None = None, job: int = 1) -> int:
    """Hours past the gate; the line's number."""
    told = agreeing.log_hours(
        book, ask(day, "log hours"), False, job=job, worker=worker, hours=quantity(typed), step=step
    )
    assert told.result is not None
    return told.result


def use(book: Book, day: str, typed: str, job: int = 1, material: str = "sealant") -> int:
    return int(do(book, day, diary.log_use, job=job, material=material, quantity=quantity(typed)).result)


def expense(book: Book, day: str, typed: str, job: int = 1) -> int:
    return int(do(book, day, diary.log_expense, job=job, amount=usd(typed), what="hangar fee").result)


def new_job(book: Book, day: str, *services: tuple[str, Sequence[str]], aircraft: str = "skylane") -> int:
    """A job with a step for each surface of each service, none of them abrasive; its number."""
    job = do(book, day, jobs.open_job, aircraft=aircraft, site="mesa", asked_for="wash and coating").result
    for service, surfaces in services:
        do(book, day, jobs.plan_steps, job=job, service=service, surfaces=surfaces)
    return int(job)


def begin(book: Book, day: str, job: int) -> None:
    """Agreed and on the floor, on one day."""
    agree(book, day, job)
    do(book, day, jobs.arrive, job=job, by="Sam Reed")


def lay(book: Book, day: str, job: int, *surfaces: str) -> None:
    """A coat on some surfaces of a job that stands on the floor."""
    do(book, day, diary.log_coat, job=job, material="sealant", surfaces=surfaces, label="B-204")


def hand_over(book: Book, day: str, job: int, agreed: str | None = None) -> None:
    """To the handover, from the agreement or from wherever the job is by now; on one day unless told otherwise."""
    with book.read() as session:
        state = job_view(session, find_job(session, job), TODAY).state
    if state == "asked":
        agree(book, agreed or day, job)
    if state != "on the floor":
        do(book, day, jobs.arrive, job=job, by="Sam Reed")
    do(book, day, jobs.hand_over, job=job, to="Jo Alder")


def issue(book: Book, day: str, job: int, due: str | None = None) -> str:
    """The number of the job's invoice, or of the first if several pay."""
    return str(do(book, day, invoicing.issue, job=job, due=day_of(due)).result[0])


def washed(book: Book, day: str) -> tuple[int, str]:
    """A job of one wash (150.00 and 9.38 tax), handed over and invoiced on one day: its number, and the invoice's."""
    job = new_job(book, day, ("wash", ()))
    hand_over(book, day, job)
    return job, issue(book, day, job)


def pay(book: Book, day: str, amount: str, *numbers: str, customer: str = "alder") -> Told[Any]:
    return do(book, day, take_payment, customer=customer, amount=usd(amount), method="check", invoices=numbers)


def close_through(book: Book, last: Month) -> None:
    """Close every month from March, when the furnished book bought its first lot, to the last."""
    month = Month(2026, 3)
    while month <= last:
        do(book, None, close_month, month=month)
        month = month.next()


def accounts(book: Book, on: dt.date = TODAY) -> dict[str, int]:
    """The balance of each account of the journal, in minor units, those at zero left out."""
    with book.read() as session:
        lines = journal.postings(session, on)
    balances: dict[str, int] = {}
    for line in lines:
        balances[line.account] = balances.get(line.account, 0) + line.minor
    return {account: minor for account, minor in balances.items() if minor}


def derived(book: Book, on: dt.date = TODAY) -> dict[str, Any]:
    """Every figure that is worked out from the lines of the book, as of a day; months from May 2026 on."""
    months = [Month(2026, number) for number in range(5, on.month + 1)]
    with book.read() as session:
        rows = every_job(session, on)
        return {
            "reviews": [telling_review.job_data(review_job(session, row.number, on), "USD") for row in rows],
            "jobs": rows,
            "months": [telling_review.month_data(review_month(session, month, on), "USD") for month in months],
            "journal": [line for line in journal.postings(session, on) if line.minor],
            "invoices": invoices(session, on),
            "payments": payments(session, on, "USD"),
            "stock": materials(session, on),
            "prices": prices(session, on, "USD"),
            "tax": tax_rates(session, on),
            "coatings": coatings_of(session, 1, on),
        }
