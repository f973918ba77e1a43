"""What needs a person today."""

from dataclasses import dataclass

from coatbook.billing.views import InvoiceView, final_invoice, invoices
from coatbook.jobs.views import JobView, jobs
from coatbook.people.views import shop
from coatbook.store.book import Book


@dataclass(frozen=True, slots=True)
class Today:
    """The jobs on the floor and to be invoiced, the invoices that are late, and whether the book is still empty."""

    shop: str
    empty: bool
    on_floor: tuple[JobView, ...]
    to_agree: tuple[JobView, ...]
    to_invoice: tuple[JobView, ...]
    late: tuple[InvoiceView, ...]


def today(book: Book) -> Today:
    on = book.today()
    with book.read() as session:
        every = jobs(session, on)
        return Today(
            shop=shop(session).name,
            empty=not every,
            on_floor=tuple(job for job in every if job.state == "on the floor"),
            to_agree=tuple(job for job in every if job.state == "asked"),
            to_invoice=tuple(
                job
                for job in every
                if job.state == "handed over" and not job.no_charge and final_invoice(session, job.id) is None
            ),
            late=tuple(one for one in invoices(session, on) if one.late),
        )
