"""The journal, line by line and by hand, for every event of the book."""

import csv
import datetime as dt
import hashlib
import io

import pytest

from coatbook.billing import journal
from coatbook.billing.journal import HEADINGS, Posting, as_csv
from coatbook.desk.closing import close_month, journal_of
from coatbook.desk.telling_review import month_data
from coatbook.jobs import actions as jobs
from coatbook.jobs import diary
from coatbook.review.views import review_month
from coatbook.stock.actions import buy
from coatbook.store import closings
from coatbook.store.book import Book
from coatbook.store.months import of_month
from coatbook.values.days import Month
from desk.shopfloor import (
    TODAY,
    accounts,
    begin,
    close_through,
    do,
    expense,
    hand_over,
    hours,
    issue,
    lay,
    new_job,
    pay,
    quantity,
    strike,
    usd,
    use,
    washed,
)

MAY, JUNE, JULY = Month(2026, 5), Month(2026, 6), Month(2026, 7)
SHELF, TO_PAY, WIP = "Materials on the shelf", "Purchases, to pay", "Work in progress"
WAGES, EXPENSES = "Wages, to pay", "Expenses, to pay"
OWED, BANK, TAX = "Owed by customers", "Money received, to bank", "Tax collected, to remit"
STOCKED = [("2026-03-02", "purchase 1", SHELF, 4800), ("2026-03-02", "purchase 1", TO_PAY, -4800)]


def lines(book: Book, since: str = "2026-03-03", on: dt.date = TODAY) -> list[tuple[str, str, str, int]]:
    """(day, entry, account, debit or minus credit) of each line since a day."""
    with book.read() as session:
        found = journal.postings(session, on)
    return [(str(line.day), line.entry, line.account, line.minor) for line in found if str(line.day) >= since]


def both(day: str, entry: str, debit: str, credit: str, minor: int) -> list[tuple[str, str, str, int]]:
    return [(day, entry, debit, minor), (day, entry, credit, -minor)]


def test_a_purchase(shop: Book) -> None:
    assert lines(shop, "2026-01-01") == STOCKED
    lot = {"quantity": quantity("1 gal"), "cost": usd("180.00"), "supplier": "Low Road", "label": "C-1"}
    do(shop, "2026-05-04", buy, code="sealant", **lot)
    assert lines(shop) == both("2026-05-04", "purchase 2", SHELF, TO_PAY, 18000)


def test_a_struck_purchase(shop: Book) -> None:
    strike(shop, "purchase:1")  # on its own day
    assert lines(shop, "2026-01-01") == []


def test_a_purchase_struck_after_its_month_closed(shop: Book) -> None:
    do(shop, None, close_month, month=Month(2026, 3))
    strike(shop, "purchase:1")
    assert lines(shop, "2026-01-01") == [
        *STOCKED,
        ("2026-04-01", "purchase 1 struck", SHELF, -4800),
        ("2026-04-01", "purchase 1 struck", TO_PAY, 4800),
    ]


def test_costs_of_a_job_are_work_in_progress(shop: Book) -> None:
    hours(shop, "2026-05-01", "kim", "2.5 h", step=1)  # 2.5 x 28.00
    use(shop, "2026-05-02", "5 fl oz")  # 5 / 32 of 48.00
    expense(shop, "2026-05-03", "35.00")
    do(shop, "2026-05-04", diary.log_travel, job=1, distance=quantity("64 mi"), rate=usd("0.67"), where="to the field")
    assert lines(shop) == [
        *both("2026-05-01", "line 1", WIP, WAGES, 7000),
        *both("2026-05-02", "line 2", WIP, SHELF, 750),
        *both("2026-05-03", "line 3", WIP, EXPENSES, 3500),
        *both("2026-05-04", "line 4", WIP, EXPENSES, 4288),
    ]


def test_the_owners_hours_and_overhead_are_memo_only(shop: Book) -> None:
    hours(shop, "2026-05-01", "sam", "8 h", step=1)
    assert lines(shop) == []


def test_what_costs_nothing_has_no_line(shop: Book) -> None:
    job = new_job(shop, "2026-05-01", ("coating", ("left wing",)))
    begin(shop, "2026-05-01", job)
    do(shop, "2026-05-01", diary.log_mask, job=job, way="on", item="static port", count=2)
    do(shop, "2026-05-01", diary.log_note, job=job, note="Left wing looks good.")
    lay(shop, "2026-05-01", job, "left wing")
    assert lines(shop) == []


def test_an_invoice_takes_over_the_work_in_progress(shop: Book) -> None:
    job = new_job(shop, "2026-05-01", ("wash", ()), ("coating", ("elevator",)))
    hours(shop, "2026-05-01", "kim", "2 h", step=1, job=job)
    use(shop, "2026-05-02", "4 fl oz", job)
    expense(shop, "2026-05-03", "35.00", job)
    hand_over(shop, "2026-05-04", job)
    issue(shop, "2026-05-05", job)
    # 150.00 + 20 x 6.00 = 270.00; 6.25 % = 16.875
    assert lines(shop, "2026-05-05") == [
        ("2026-05-05", "invoice 2026-0001", OWED, 28688),
        ("2026-05-05", "invoice 2026-0001", "Earned: wash", -15000),
        ("2026-05-05", "invoice 2026-0001", "Earned: coating", -12000),
        ("2026-05-05", "invoice 2026-0001", TAX, -1688),
        *both("2026-05-05", "job 2 recognized", "Cost of jobs: labor", WIP, 5600),
        *both("2026-05-05", "job 2 recognized", "Cost of jobs: materials", WIP, 600),
        *both("2026-05-05", "job 2 recognized", "Cost of jobs: expenses", WIP, 3500),
    ]


def test_later_costs_fall_on_their_own_day(shop: Book) -> None:
    job, _ = washed(shop, "2026-05-05")
    expense(shop, "2026-06-02", "20.00", job)
    assert lines(shop, "2026-06-01") == both("2026-06-02", "line 1", "Cost of jobs: expenses", EXPENSES, 2000)
    # one written late for a day before the invoice is taken over with the rest
    expense(shop, "2026-05-05", "12.00", job)
    assert lines(shop, "2026-05-05")[:2] == [
        ("2026-05-05", "invoice 2026-0001", OWED, 15938),
        ("2026-05-05", "invoice 2026-0001", "Earned: wash", -15000),
    ]
    assert accounts(shop)["Cost of jobs: expenses"] == 3200
    assert WIP not in accounts(shop)


def test_a_line_struck_while_its_month_is_open_never_was(shop: Book) -> None:
    strike(shop, hours(shop, "2026-05-01", "kim", "2 h", step=1))
    assert lines(shop) == []


@pytest.mark.parametrize("recognized", [False, True])
def test_a_line_of_a_closed_month_is_struck_in_the_first_open_one(shop: Book, recognized: bool) -> None:
    job = new_job(shop, "2026-05-01", ("wash", ()))
    wrong = hours(shop, "2026-05-01", "kim", "2 h", step=1, job=job)
    hand_over(shop, "2026-05-04", job)
    if recognized:
        issue(shop, "2026-05-05", job)
    close_through(shop, MAY)
    before = journal_of(shop, MAY)
    strike(shop, wrong)
    account = "Cost of jobs: labor" if recognized else WIP
    assert lines(shop, "2026-06-01") == [
        ("2026-06-01", "line 1 struck", account, -5600),
        ("2026-06-01", "line 1 struck", WAGES, 5600),
    ]
    assert journal_of(shop, MAY) == before


def test_a_payment(shop: Book) -> None:
    first, second = washed(shop, "2026-05-05")[1], washed(shop, "2026-05-05")[1]
    pay(shop, "2026-05-20", "200.00", first, second)
    assert lines(shop, "2026-05-06") == [
        *both("2026-05-20", "payment 1", BANK, OWED, 15938),
        *both("2026-05-20", "payment 1", BANK, OWED, 4062),
    ]
    strike(shop, "payment:1")
    assert lines(shop, "2026-05-06") == []


def test_a_handover_at_no_charge_recognizes_the_costs(shop: Book) -> None:
    job = new_job(shop, "2026-05-01", ("wash", ()))
    hours(shop, "2026-05-02", "kim", "2 h", step=1, job=job)
    do(shop, "2026-05-02", jobs.agree, job=job, by="Jo Alder", findings=(), results=())
    do(shop, "2026-05-02", jobs.arrive, job=job, by="Sam Reed")
    do(shop, "2026-05-04", jobs.hand_over, job=job, to="Jo Alder", no_charge=True)
    assert lines(shop, "2026-05-03") == both("2026-05-04", "job 2 recognized", "Cost of jobs: labor", WIP, 5600)


def test_every_entry_balances_and_the_income_accounts_are_the_journals_profit(shop: Book) -> None:
    job, number = washed(shop, "2026-05-05")
    hours(shop, "2026-05-05", "kim", "2 h", job=job)
    use(shop, "2026-05-05", "7 fl oz", job)
    use(shop, "2026-06-05", "3 fl oz", job)
    pay(shop, "2026-06-20", "100.00", number)
    entries: dict[tuple[str, str], int] = {}
    for day, entry, _, minor in lines(shop, "2026-01-01"):
        entries[day, entry] = entries.get((day, entry), 0) + minor
    assert set(entries.values()) == {0}
    with shop.read() as session:
        may, june = (month_data(review_month(session, month, TODAY), "USD") for month in (MAY, JUNE))
    # 150.00 - 2 x 28.00 - 7 / 32 of 48.00; then 3 / 32 of 48.00 in June
    assert may["journal_profit"] == may["profit_before_owner"] == "83.50"
    assert june["journal_profit"] == june["profit_before_owner"] == "-4.50"


def test_as_csv_a_spreadsheet_reads_text_as_text() -> None:
    day = dt.date(2026, 5, 1)
    texts = ("=1+1", "+1", "-1", "@x", "plain, with a comma", 'quoted "so"', "two\nlines")
    content = as_csv([Posting(day, "line 1", SHELF, (-1) ** n * 1234, text) for n, text in enumerate(texts)], "USD")
    rows = list(csv.reader(io.StringIO(content.decode(), newline="")))
    assert tuple(rows[0]) == HEADINGS
    assert [row[7] for row in rows[1:]] == ["'=1+1", "'+1", "'-1", "'@x", texts[4], texts[5], "two lines"]
    assert [(row[3], row[4]) for row in rows[1:3]] == [("12.34", ""), ("", "12.34")]
    assert content.count(b"\r\n") == len(rows)


def test_a_closed_month_keeps_its_journals_bytes(shop: Book) -> None:
    job, _ = washed(shop, "2026-05-05")
    expense(shop, "2026-05-06", "12.00", job)
    drawn = journal_of(shop, MAY)
    close_through(shop, MAY)
    with shop.read() as session:
        closing = of_month(session, MAY)
        assert closing is not None
        assert (closing.journal, closing.sha256) == (drawn, hashlib.sha256(drawn).hexdigest())
    assert journal_of(shop, MAY) == drawn
    # reopened, it is drawn as it stands, and closed anew
    do(shop, None, closings.reopen, month=MAY, why="an expense was forgotten")
    expense(shop, "2026-05-07", "3.00", job)
    assert len(journal_of(shop, MAY).splitlines()) == len(drawn.splitlines()) + 2
    do(shop, None, close_month, month=MAY)
    assert journal_of(shop, MAY) != drawn


def test_an_empty_month_has_its_headings(shop: Book) -> None:
    assert journal_of(shop, JULY) == (",".join(HEADINGS) + "\r\n").encode()
