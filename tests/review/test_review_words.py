"""What a review says of a job that brought in nothing, and whom it names how."""

import json
from collections.abc import Callable

from coatbook.jobs import actions as jobs
from coatbook.store.book import Book
from desk.shopfloor import do, expense, hours, new_job, washed

Command = Callable[..., str]


def test_a_job_at_no_charge_brought_in_nothing(shop: Book, coatbook: Command) -> None:
    job = new_job(shop, "2026-06-05", ("wash", ()))
    do(shop, "2026-06-05", jobs.agree, job=job, by="Jo Alder", findings=(), results=())
    do(shop, "2026-06-05", jobs.arrive, job=job, by="Sam Reed")
    hours(shop, "2026-06-05", "kim", "1 h", step=1, job=job)
    do(shop, "2026-06-06", jobs.hand_over, job=job, to="Jo Alder", no_charge=True)
    told = coatbook("review", "job", job)
    assert told.startswith(
        f"Job {job} on N123AB for Jo Alder lost 46.50 USD in 1 hour and brought in nothing; recognized on 2026-06-06.\n"
    )


def test_a_job_in_progress_has_brought_in_nothing_yet(shop: Book, coatbook: Command) -> None:
    job = new_job(shop, "2026-06-05", ("wash", ()))
    expense(shop, "2026-06-05", "30.00", job)
    told = coatbook("review", "job", job)
    assert told == (
        f"Job {job} on N123AB for Jo Alder is not invoiced yet: it has brought in nothing yet and has cost 30.00 USD "
        "so far, which is work in progress and counts for no month.\n"
    )


def test_data_names_customers_by_code_as_lists_do(shop: Book, coatbook: Command) -> None:
    job, _ = washed(shop, "2026-06-10")
    (listed,) = [row for row in json.loads(coatbook("job", "list", "--json")) if row["job"] == job]
    review = json.loads(coatbook("review", "job", job, "--json"))
    (row,) = json.loads(coatbook("review", "month", "2026-06", "--json"))["jobs"]
    assert listed["customer"] == review["customer"] == row["customer"] == "alder"
    assert review["customer_name"] == row["customer_name"] == "Jo Alder"
    assert "Jo Alder" in coatbook("review", "month", "2026-06")
