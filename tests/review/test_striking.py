"""A wrong line struck restores every derived figure exactly, whatever kind of line it was."""

import datetime as dt
from collections.abc import Callable

import pytest

from coatbook.billing.actions import set_price, set_tax_rate
from coatbook.desk.closing import close_month
from coatbook.jobs import actions as jobs
from coatbook.jobs import diary
from coatbook.people.actions import set_worker_rate
from coatbook.stock.actions import add_terms, buy
from coatbook.store.book import Book
from coatbook.store.check import check
from coatbook.upkeep.actions import write_done
from coatbook.values import Refusal
from coatbook.values.days import Month
from desk.shopfloor import (
    begin,
    derived,
    do,
    expense,
    hand_over,
    hours,
    issue,
    lay,
    new_job,
    pay,
    quantity,
    read_film,
    strike,
    usd,
    use,
)

DAY, NUMBER = "2026-06-20", "2026-0001"
MONTHS = (Month(2026, 3), Month(2026, 4), Month(2026, 5), Month(2026, 6))


def _buy(book: Book) -> None:
    lot = {"quantity": quantity("1 pt"), "cost": usd("31.00"), "supplier": "Low Road", "label": "D-9"}
    do(book, DAY, buy, code="sealant", **lot)


WRONG: dict[str, tuple[Callable[[Book], object], str]] = {
    "hours": (lambda book: hours(book, DAY, "kim", "14 h", job=3), "last"),
    "hours of the owner": (lambda book: hours(book, DAY, "sam", "9 h", job=3), "last"),
    "use": (lambda book: use(book, DAY, "11 fl oz", 3), "last"),
    "use of all that is left": (lambda book: use(book, DAY, "27 fl oz", 3), "last"),
    "expense": (lambda book: expense(book, DAY, "999.99", 2), "last"),
    "travel": (
        lambda book: do(
            book, DAY, diary.log_travel, job=2, distance=quantity("12.5 km"), rate=usd("0.44"), where="field"
        ),
        "last",
    ),
    "coat": (
        lambda book: lay(book, DAY, 3, "left wing"),
        "last",
    ),
    "payment": (lambda book: pay(book, DAY, "27.00", NUMBER), "payment:2"),
    "purchase": (_buy, "purchase:2"),
    "price": (lambda book: do(book, DAY, set_price, service="wash", amount=usd("9.00"), basis="job"), "price:4"),
    "tax rate": (
        lambda book: do(book, DAY, set_tax_rate, place="US", kind="labor", percent="3", name="Federal tax"),
        "tax_rate:2",
    ),
    "worker's rate": (lambda book: do(book, DAY, set_worker_rate, code="kim", rate=usd("99.00")), "worker_rate:3"),
    "terms": (lambda book: do(book, "2026-05-03", add_terms, code="sealant", item="x", every=9, per="week"), "terms:2"),
    "upkeep done": (lambda book: do(book, DAY, write_done, aircraft="skylane", item="wash", by="owner"), "last"),
    "readings": (lambda book: read_film(book, DAY, job=3), "last"),
    "mask": (lambda book: do(book, DAY, diary.log_mask, job=3, way="on", item="static port", count=1), "last"),
}

SHOWS_LATER = ("hours of the owner", "worker's rate", "readings", "mask")  # in what is written or invoiced after them


@pytest.fixture
def working(shop: Book) -> Book:
    """Job 2 is coated, invoiced and part paid; job 3 stands on the floor."""
    job = new_job(shop, "2026-05-01", ("wash", ()), ("coating", ("elevator",)))
    hours(shop, "2026-05-02", "kim", "3 h", step=1, job=job)
    use(shop, "2026-05-03", "5 fl oz", job)
    begin(shop, "2026-05-03", job)
    lay(shop, "2026-05-03", job, "elevator")
    hand_over(shop, "2026-05-04", job)
    assert issue(shop, "2026-05-04", job) == NUMBER
    pay(shop, "2026-05-20", "100.00", NUMBER)
    floor = new_job(shop, "2026-06-01", ("wash", ()), ("coating", ("left wing",)))
    do(shop, "2026-06-01", jobs.agree, job=floor, by="Jo Alder", findings=(), results=())
    do(shop, "2026-06-01", jobs.arrive, job=floor, by="Sam Reed")
    return shop


def test_struck_in_its_open_month_a_line_never_was(working: Book) -> None:
    before = derived(working)
    for kind, (write, name) in WRONG.items():
        write(working)
        if kind not in SHOWS_LATER:
            assert derived(working) != before, kind
        strike(working, name)
        assert derived(working) == before, kind
    assert check(working) == []


def test_struck_after_its_month_closed_a_line_is_undone_in_the_next(working: Book) -> None:
    before = derived(working)
    kinds = ("hours", "use", "expense", "payment", "purchase")
    for kind in kinds:
        WRONG[kind][0](working)
    june = derived(working, dt.date(2026, 6, 30))
    for month in MONTHS:
        do(working, None, close_month, month=month)
    for name in ("4", "5", "6", "payment:2", "purchase:2"):
        strike(working, name)
    assert derived(working, dt.date(2026, 6, 30)) == june
    after = derived(working)
    for part in ("invoices", "payments", "stock", "prices", "coatings"):
        assert after[part] == before[part]
    # the jobs come to the same: June has the lines and July has them back
    for then, now in zip(before["reviews"], after["reviews"], strict=True):
        assert {**then, "months": ()} == {**now, "months": ()}
    for figure in ("owed", "work_in_progress"):
        assert after["months"][-1][figure] == before["months"][-1][figure]
    assert check(working) == []


def test_no_line_takes_a_day_in_a_closed_month(working: Book) -> None:
    for month in MONTHS:
        do(working, None, close_month, month=month)
    before = derived(working)
    for kind in ("hours", "use", "expense", "coat", "payment", "purchase", "upkeep done", "readings"):
        with pytest.raises(
            Refusal,
            match="the line is dated 2026-06-20, but 2026-06 is closed: date it 2026-07-01 or later and name the month "
            "it belongs to, or reopen with `coatbook book reopen 2026-06",
        ):
            WRONG[kind][0](working)
    assert derived(working) == before
