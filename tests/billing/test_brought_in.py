"""What a shop brings in that begins its book in the middle of a year: owed, held and in progress, never earned."""

import datetime as dt

import pytest

from coatbook.billing import journal
from coatbook.billing.actions import set_series
from coatbook.billing.brought_in import bring_in_cost, bring_in_deposit, bring_in_invoice
from coatbook.billing.views import deposits, final_invoices, invoice, invoices
from coatbook.desk import invoicing
from coatbook.desk.telling import invoice_row, invoice_story
from coatbook.jobs.views import find_job
from coatbook.review.views import review_job, review_month
from coatbook.store.book import Book
from coatbook.store.check import check
from coatbook.values import Misuse, Refusal
from coatbook.values.days import Month
from desk.shopfloor import TODAY, accounts, ask, close_through, do, expense, hand_over, issue, new_job, pay, strike, usd

START = "2026-06-01"
AT_START, OWED, HELD, WIP = "Brought in at the start", "Owed by customers", "Deposits held", "Work in progress"


def job_of(book: Book) -> int:
    return new_job(book, "2026-05-20", ("wash", ()))


def old_invoice(
    book: Book,
    job: int,
    number: str = "118",
    amount: str = "500.00",
    dated: str = "2026-03-10",
    due: str = "2026-03-24",
    on: str = START,
) -> None:
    days = {"dated": dt.date.fromisoformat(dated), "due": dt.date.fromisoformat(due)}
    do(book, on, bring_in_invoice, job=job, customer="alder", number=number, open_amount=usd(amount), **days)


def old_cost(book: Book, job: int, kind: str, amount: str) -> None:
    do(book, START, bring_in_cost, job=job, kind=kind, amount=usd(amount), text=f"{kind} of May")


def test_an_open_invoice_is_owed_and_not_earned(shop: Book) -> None:
    job = job_of(shop)
    old_invoice(shop, job)
    with shop.read() as session:
        view = invoice(session, "118", TODAY)
        assert final_invoices(session, find_job(session, job).id) == ()
        june, found = review_month(session, Month(2026, 6), TODAY), review_job(session, job, TODAY)
        before = review_month(session, Month(2026, 5), TODAY)
        assert invoices(session, dt.date(2026, 5, 31)) == ()
    assert (str(view.owed), view.state, view.late) == ("500.00", "owed", 149)  # 24 March to 20 August
    assert (june.owed, june.figures.revenue, june.tax, june.journal_profit) == (50000, 0, (), 0)
    assert (before.owed, found.recognized) == (0, None)
    assert accounts(shop, dt.date(2026, 6, 1)) == {
        **accounts(shop, dt.date(2026, 5, 31)),
        OWED: 50000,
        AT_START: -50000,
    }
    row = invoice_row(view)
    assert (row["number"], row["date"], row["gross"], row["brought_in"]) == ("118", "2026-03-10", "500.00", True)
    told = invoice_story(view)
    assert told.startswith(
        "Invoice 118 to Jo Alder for wash and coating on N123AB, brought in when the book began: 500.00 USD open then, "
        "due 2026-03-24; 500.00 still owed, 149 days late."
    )
    assert check(shop) == []


def test_it_is_paid_like_any_other_from_the_day_it_was_brought_in(shop: Book) -> None:
    old_invoice(shop, job_of(shop))
    with pytest.raises(Refusal, match="a payment on 2026-05-31 would come before invoice 118 was brought in with what"):
        pay(shop, "2026-05-31", "500.00", "118")
    pay(shop, START, "500.00", "118")
    with shop.read() as session:
        assert invoice(session, "118", TODAY).state == "settled"
    assert OWED not in accounts(shop)


def test_it_is_not_drawn_here(shop: Book) -> None:
    old_invoice(shop, job_of(shop))
    with pytest.raises(Refusal, match="invoice 118 was issued before this book began: print it where it was issued"):
        invoicing.draw(shop, ask(START), "118")


def test_the_books_own_numbers_go_on_without_a_gap(shop: Book) -> None:
    job = job_of(shop)
    for number in ("118", "2025-0007", "A-3"):
        old_invoice(shop, job, number)
    hand_over(shop, START, job)
    assert issue(shop, START, job) == "2026-0001"


def test_a_number_is_borne_once(shop: Book) -> None:
    job = job_of(shop)
    old_invoice(shop, job)
    with pytest.raises(Refusal, match="there is an invoice 118 already: check the number"):
        old_invoice(shop, job)
    says = r'number an invoice of its own 2026-0041 some day: let its own begin after it .*n:4}" --first 42`'
    with pytest.raises(Refusal, match=says):
        old_invoice(shop, job, "2026-0041")
    do(shop, START, set_series, code="invoice", pattern="{year}-{n:4}", first=42)
    old_invoice(shop, job, "2026-0041")
    with pytest.raises(Refusal, match=r"bears the number 118, which the invoice series would reach: .* --first 119"):
        do(shop, START, set_series, code="invoice", pattern="{n}", first=100)
    do(shop, START, set_series, code="invoice", pattern="{n}", first=119)


def test_what_an_open_invoice_may_not_be(shop: Book) -> None:
    job = job_of(shop)
    with pytest.raises(Refusal, match=r"the open amount 0\.00 must be more than zero"):
        old_invoice(shop, job, amount="0.00")
    with pytest.raises(Refusal, match="would come before invoice 118 was issued on 2026-06-02"):
        old_invoice(shop, job, dated="2026-06-02", due="2026-06-30")
    with pytest.raises(Refusal, match="invoice 118 would fall due on 2026-03-09, before it was issued on 2026-03-10"):
        old_invoice(shop, job, due="2026-03-09")
    close_through(shop, Month(2026, 6))
    with pytest.raises(Refusal, match="what is brought in is dated 2026-06-01, but 2026-06 is closed"):
        old_invoice(shop, job)


def test_a_deposit_held_is_drawn_and_names_the_day_it_came(shop: Book) -> None:
    job = job_of(shop)
    values = {"customer": "alder", "job": job, "amount": usd("100.00")}
    do(shop, START, bring_in_deposit, **values, taken_on=dt.date(2026, 5, 4))
    assert accounts(shop)[HELD] == -10000
    assert accounts(shop)[AT_START] == 10000
    with shop.read() as session:
        assert [one.taken for one in deposits(session, TODAY, "USD")] == [dt.date(2026, 5, 4)]
    with pytest.raises(Refusal, match="the deposit was taken on 2026-06-02: give a later --on"):
        do(shop, START, bring_in_deposit, **values, taken_on=dt.date(2026, 6, 2))
    hand_over(shop, START, job)
    issue(shop, START, job)
    with shop.read() as session:
        (received,) = invoice(session, "2026-0001", TODAY).record.received
    assert (received.day, str(received.amount)) == (dt.date(2026, 5, 4), "100.00")
    with pytest.raises(Refusal, match="job 2 is invoiced already"):
        do(shop, START, bring_in_deposit, **values, taken_on=dt.date(2026, 5, 4))


def test_costs_so_far_are_in_progress_and_count_when_the_job_does(shop: Book) -> None:
    job = job_of(shop)
    for kind, amount in (("materials", "40.00"), ("labor", "112.00"), ("expenses", "12.50")):
        old_cost(shop, job, kind, amount)
    expense(shop, "2026-06-02", "1.00", job)
    assert (accounts(shop)[WIP], accounts(shop)[AT_START]) == (16550, -16450)
    hand_over(shop, "2026-06-03", job)
    issue(shop, "2026-06-03", job)
    with shop.read() as session:
        figures = review_job(session, job, TODAY).figures
        lines = journal.postings(session, TODAY)
    assert (figures.materials, figures.labor, figures.expenses, figures.quanta) == (4000, 11200, 1350, 0)
    assert WIP not in accounts(shop)
    assert [(line.account, line.minor) for line in lines if line.entry == "line 1"] == [(WIP, 4000), (AT_START, -4000)]
    with pytest.raises(Refusal, match="job 2 is recognized since 2026-06-03: only a job in progress brings costs in"):
        old_cost(shop, job, "labor", "1.00")


def test_a_cost_is_of_a_known_kind_and_can_be_struck(shop: Book) -> None:
    job = job_of(shop)
    with pytest.raises(Misuse, match="the kind of cost 'rent' is not known: use one of materials, labor, expenses"):
        old_cost(shop, job, "rent", "1.00")
    with pytest.raises(Refusal, match=r"the amount 0\.00 must be more than zero"):
        old_cost(shop, job, "labor", "0.00")
    before = accounts(shop)
    old_cost(shop, job, "labor", "5.00")
    strike(shop, 1)
    assert accounts(shop) == before
