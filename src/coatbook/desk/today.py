"""What needs a person today."""

from dataclasses import dataclass

from coatbook.billing.views import InvoiceView, final_invoices, invoices
from coatbook.calculators.host import Host
from coatbook.desk.reminding import preview
from coatbook.jobs.views import JobView, jobs, steps_of
from coatbook.people.views import shop
from coatbook.store.book import Book
from coatbook.upkeep.views import messages_that_are


@dataclass(frozen=True, slots=True)
class Today:
    """What waits for a person: jobs by the step they wait for, late invoices, reminders, and whether the book is empty.

    `unsure` are the messages of which nobody knows whether they went; `to_send` counts the owners who are to hear and
    the messages that wait to go; `held` counts notices kept back; `upkeep_unknown` coatings without an answer.
    """

    shop: str
    empty: bool
    unsure: tuple[int, ...]
    to_send: int
    held: int
    upkeep_unknown: int
    to_invoice: tuple[JobView, ...]
    late: tuple[InvoiceView, ...]
    on_floor: tuple[JobView, ...]
    to_arrive: tuple[JobView, ...]
    to_agree: tuple[JobView, ...]
    to_plan: tuple[JobView, ...]


def today(book: Book, host: Host) -> Today:
    """What the book says needs a person today; the upkeep is asked of the calculators."""
    on, now = book.today(), book.clock.instant()
    upkeep = preview(book, on, host)
    told = {one.customer.code for one in upkeep.planned if one.held_because is None}
    with book.read() as session:
        every = jobs(session, on)
        asked = [(job, steps_of(session, job.id)) for job in every if job.state in ("asked", "looked at")]
        return Today(
            shop=shop(session).name,
            empty=not every,
            unsure=messages_that_are(session, "unsure", now),
            to_send=len(told) + len(messages_that_are(session, "waiting", now)),
            held=sum(one.held_because is not None for one in upkeep.planned),
            upkeep_unknown=len(upkeep.failures),
            to_invoice=tuple(
                job
                for job in every
                if job.state == "handed over" and not job.no_charge and not final_invoices(session, job.id)
            ),
            late=tuple(one for one in invoices(session, on) if one.late),
            on_floor=tuple(job for job in every if job.state == "on the floor"),
            to_arrive=tuple(job for job in every if job.state == "agreed"),
            to_agree=tuple(job for job, plan in asked if plan),
            to_plan=tuple(job for job, plan in asked if not plan),
        )
