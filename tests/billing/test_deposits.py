"""Deposits: taken, drawn on the invoice, kept of a job called off, given back; never more than is held."""

import datetime as dt
from typing import Any

import pytest

from billing.agreed import REST, call_off, pays, per_cent
from coatbook.billing import journal
from coatbook.billing.deposits import keep_deposit, refund_deposit, take_deposit
from coatbook.billing.views import deposits, invoice, payments
from coatbook.desk import invoicing
from coatbook.desk.telling_review import job_data, job_story, month_data
from coatbook.jobs import actions as jobs
from coatbook.review.views import review_job, review_month
from coatbook.store import closings
from coatbook.store.book import Book
from coatbook.values import Misuse, Refusal
from coatbook.values.days import Month
from desk.shopfloor import (
    TODAY,
    accounts,
    close_through,
    derived,
    do,
    expense,
    hand_over,
    issue,
    new_job,
    pay,
    strike,
    usd,
    washed,
)

OPENED, TAKEN, DONE = "2026-05-01", "2026-05-04", "2026-05-20"
HELD, OWED, BANK = "Deposits held", "Owed by customers", "Money received, to bank"


def opened(book: Book) -> int:
    return new_job(book, OPENED, ("wash", ()))


def take(book: Book, job: int, amount: str, day: str = TAKEN, customer: str = "alder") -> int:
    values = {"customer": customer, "job": job, "amount": usd(amount), "method": "check"}
    return int(do(book, day, take_deposit, **values).result)


def keep(book: Book, job: int, amount: str, day: str = DONE) -> Any:
    return do(book, day, keep_deposit, job=job, amount=usd(amount), why="called off the day before")


def refund(book: Book, job: int, amount: str, day: str = DONE, customer: str | None = None) -> Any:
    values = {"job": job, "amount": usd(amount), "method": "check", "customer": customer}
    return do(book, day, refund_deposit, **values)


def stands(book: Book, on: dt.date = TODAY) -> list[tuple[str, ...]]:
    """Amount, drawn, kept, given back and held of each deposit."""
    with book.read() as session:
        found = deposits(session, on, "USD")
    return [tuple(str(part) for part in (one.amount, one.drawn, one.kept, one.refunded, one.held)) for one in found]


def lines(book: Book, since: str) -> list[tuple[str, str, str, int]]:
    with book.read() as session:
        found = journal.postings(session, TODAY)
    return [(str(line.day), line.entry, line.account, line.minor) for line in found if str(line.day) >= since]


def test_a_deposit_is_held_and_not_earned(shop: Book) -> None:
    job = opened(shop)
    assert take(shop, job, "100.00") == 1
    assert stands(shop) == [("100.00", "0.00", "0.00", "0.00", "100.00")]
    assert lines(shop, TAKEN) == [(TAKEN, "deposit 1", BANK, 10000), (TAKEN, "deposit 1", HELD, -10000)]
    with shop.read() as session:
        month, found = review_month(session, Month(2026, 5), TODAY), review_job(session, job, TODAY)
    assert (month.figures.revenue, month.deposits_held, month.owed) == (0, 10000, 0)
    assert job_story(found, "USD").endswith("counts for no month; 100.00 of its deposits is held still.")
    assert stands(shop, dt.date(2026, 5, 3)) == []


def test_an_invoice_draws_it(shop: Book) -> None:
    job = opened(shop)
    take(shop, job, "40.00")
    take(shop, job, "60.00", "2026-05-06")
    hand_over(shop, DONE, job)
    told = do(shop, DONE, invoicing.issue, job=job).text
    assert "  Deposit 1 of 2026-05-04: 40.00 drawn.\n  Deposit 2 of 2026-05-06: 60.00 drawn." in told
    assert "  59.38 USD is asked for." in told
    with shop.read() as session:
        view = invoice(session, "2026-0001", TODAY)
    assert (str(view.owed), view.state, str(view.record.balance)) == ("59.38", "part paid", "59.38")
    assert [(one.kind, str(one.on_day), str(one.amount)) for one in view.payments] == [
        ("deposit", "2026-05-04", "40.00"),
        ("deposit", "2026-05-06", "60.00"),
    ]
    assert [row for row in lines(shop, DONE) if "deposit" in row[1]] == [
        (DONE, "deposit 1 drawn", HELD, 4000),
        (DONE, "deposit 1 drawn", OWED, -4000),
        (DONE, "deposit 2 drawn", HELD, 6000),
        (DONE, "deposit 2 drawn", OWED, -6000),
    ]
    pay(shop, DONE, "59.38", "2026-0001")
    assert {HELD, OWED} & accounts(shop).keys() == set()


def test_one_that_is_more_than_the_invoice_is_held_still(shop: Book) -> None:
    job = opened(shop)
    take(shop, job, "200.00")
    hand_over(shop, DONE, job)
    told = do(shop, DONE, invoicing.issue, job=job).text
    assert told.endswith(
        "40.62 USD of deposit 1 of Jo Alder is held still: give it back with `coatbook deposit refund 2 40.62 "
        "--customer alder`."
    )
    with shop.read() as session:
        assert invoice(session, "2026-0001", TODAY).state == "settled"
    refund(shop, job, "40.62")
    assert stands(shop) == [("200.00", "159.38", "0.00", "40.62", "0.00")]
    assert HELD not in accounts(shop)


def test_each_who_pays_has_its_own_drawn(shop: Book) -> None:
    job = opened(shop)
    pays(shop, OPENED, job, alder=per_cent("50"), birch=REST)
    take(shop, job, "10.00", customer="birch")
    take(shop, job, "20.00", customer="alder")
    hand_over(shop, DONE, job)
    issue(shop, DONE, job)
    with shop.read() as session:
        balances = [str(invoice(session, number, TODAY).owed) for number in ("2026-0001", "2026-0002")]
    # half of 150.00 with 6.25 %: 79.69 each, for each rounds its own tax of 4.6875
    assert balances == ["59.69", "69.69"]


def test_one_that_came_after_the_invoices_day_stops_it(shop: Book) -> None:
    job = opened(shop)
    hand_over(shop, "2026-05-02", job)
    take(shop, job, "10.00")
    with pytest.raises(
        Refusal, match="the invoice on 2026-05-03 would come before deposit 1, which it draws, was taken"
    ):
        issue(shop, "2026-05-03", job)
    issue(shop, TAKEN, job)


def test_what_no_invoice_will_draw_is_not_taken(shop: Book) -> None:
    job = opened(shop)
    with pytest.raises(Refusal, match="Birch Flying Club does not pay for job 2, Jo Alder does: name who pays"):
        take(shop, job, "10.00", customer="birch")
    with pytest.raises(Refusal, match="a deposit on 2026-04-30 would come before job 2 was opened on 2026-05-01"):
        take(shop, job, "10.00", "2026-04-30")
    with pytest.raises(Refusal, match=r"amount 0\.00 must be more than zero"):
        take(shop, job, "0.00")
    done, _ = washed(shop, DONE)
    with pytest.raises(Refusal, match="job 3 is invoiced already, as 2026-0001: write the money as a payment with"):
        take(shop, done, "10.00", DONE)
    call_off(shop, DONE, job)
    with pytest.raises(Refusal, match="job 2 was called off on 2026-05-20: there is nothing to take a deposit for"):
        take(shop, job, "10.00", DONE)
    free = opened(shop)
    do(shop, OPENED, jobs.agree, job=free, by="Jo Alder", findings=(), results=())
    do(shop, OPENED, jobs.arrive, job=free, by="Sam Reed")
    do(shop, OPENED, jobs.hand_over, job=free, to="Jo Alder", no_charge=True)
    with pytest.raises(Refusal, match="job 4 was handed over at no charge on 2026-05-01: there is nothing to pay"):
        take(shop, free, "10.00")
    assert stands(shop) == []


def test_of_a_job_called_off_some_is_kept_and_the_rest_goes_back(shop: Book) -> None:
    job = opened(shop)
    take(shop, job, "100.00")
    take(shop, job, "50.00", "2026-05-06")
    expense(shop, "2026-05-07", "12.00", job)
    call_off(shop, "2026-05-10", job)
    told = keep(shop, job, "120.00", "2026-06-02").text
    assert told.endswith("Whether tax is due on a deposit kept is the shop's to confirm locally.")
    refund(shop, job, "30.00", "2026-06-03")
    assert stands(shop) == [("100.00", "0.00", "100.00", "0.00", "0.00"), ("50.00", "0.00", "20.00", "30.00", "0.00")]
    assert lines(shop, "2026-05-10") == [
        ("2026-05-10", "job 2 recognized", "Cost of jobs: expenses", 1200),
        ("2026-05-10", "job 2 recognized", "Work in progress", -1200),
        ("2026-06-02", "payment 3", HELD, 10000),
        ("2026-06-02", "payment 3", "Earned: deposits kept", -10000),
        ("2026-06-02", "payment 4", HELD, 2000),
        ("2026-06-02", "payment 4", "Earned: deposits kept", -2000),
        ("2026-06-03", "payment 5", HELD, 3000),
        ("2026-06-03", "payment 5", BANK, -3000),
    ]
    with shop.read() as session:
        found = review_job(session, job, TODAY)
        may, june = (month_data(review_month(session, Month(2026, n), TODAY), "USD") for n in (5, 6))
    assert (found.recognized, found.called_off) == (dt.date(2026, 5, 10), dt.date(2026, 5, 10))
    assert [(str(one.month), one.figures.revenue, one.figures.cost) for one in found.months] == [
        ("2026-05", 0, 1200),
        ("2026-06", 12000, 0),
    ]
    assert "called off on 2026-05-10, 120.00 of its deposits is kept." in job_story(found, "USD")
    data = job_data(found, "USD")
    assert (data["called_off"], data["deposits_kept"], data["deposits_held"]) == ("2026-05-10", "120.00", "0.00")
    assert may["journal_profit"] == may["profit_before_owner"] == "-12.00"
    assert june["journal_profit"] == june["profit_before_owner"] == "120.00"
    assert (may["deposits_held"], june["deposits_held"]) == ("150.00", "0.00")


def test_only_a_job_called_off_keeps_a_deposit(shop: Book) -> None:
    job = opened(shop)
    take(shop, job, "100.00")
    with pytest.raises(
        Refusal, match="job 2 is not called off: a deposit of it is drawn on its invoice, or given back"
    ):
        keep(shop, job, "10.00")
    call_off(shop, "2026-05-10", job)
    with pytest.raises(Refusal, match="keeping a deposit on 2026-05-09 would come before job 2 was called off"):
        keep(shop, job, "10.00", "2026-05-09")
    with pytest.raises(Refusal, match="job 2 was called off on 2026-05-10 and has no invoice: write what is"):
        issue(shop, DONE, job)


def test_no_more_is_used_than_is_held(shop: Book) -> None:
    job = opened(shop)
    take(shop, job, "100.00")
    with pytest.raises(Refusal, match=r"100\.00 of the deposits for job 2 is held from 2026-05-20 on, not 100\.01"):
        refund(shop, job, "100.01")
    with pytest.raises(Refusal, match=r"0\.00 of the deposits for job 2 is held from 2026-05-03 on, not 1\.00"):
        refund(shop, job, "1.00", "2026-05-03")
    refund(shop, job, "60.00")
    with pytest.raises(Refusal, match=r"40\.00 of the deposits for job 2 is held from 2026-05-05 on, not 50\.00"):
        refund(shop, job, "50.00", "2026-05-05")  # an earlier day does not make it more
    refund(shop, job, "40.00", "2026-05-05")
    assert stands(shop)[0][-1] == "0.00"


def test_whose_goes_back_is_named_where_several_paid(shop: Book) -> None:
    job = opened(shop)
    pays(shop, OPENED, job, alder=per_cent("50"), birch=REST)
    take(shop, job, "10.00")
    take(shop, job, "20.00", customer="birch")
    with pytest.raises(Misuse, match=r"deposits of several are held for job 2 \(alder, birch\): say whose goes back"):
        refund(shop, job, "10.00")
    with pytest.raises(Refusal, match=r"20\.00 of the deposits of Birch Flying Club for job 2 is held"):
        refund(shop, job, "30.00", customer="birch")
    told = refund(shop, job, "20.00", customer="birch").text
    assert told == "20.00 USD of the deposits for job 2 goes back to Birch Flying Club by check."
    refund(shop, job, "10.00")  # only one is left
    assert [row[-1] for row in stands(shop)] == ["0.00", "0.00"]


def test_a_deposit_in_use_is_not_struck(shop: Book) -> None:
    job = opened(shop)
    before = derived(shop)
    take(shop, job, "100.00")
    strike(shop, "payment:1")  # typed wrong
    assert derived(shop) == before
    take(shop, job, "100.00")
    refund(shop, job, "10.00")
    with pytest.raises(Refusal, match="payment 2 cannot be struck: payment 3 stands on it; strike that first"):
        strike(shop, "payment:2")
    strike(shop, "payment:3")
    hand_over(shop, DONE, job)
    issue(shop, DONE, job)
    with pytest.raises(Refusal, match="deposit 2 is drawn on invoice 2026-0001, which stands for good"):
        strike(shop, "payment:2")


def test_a_job_stays_called_off_while_a_deposit_is_kept(shop: Book) -> None:
    job = opened(shop)
    take(shop, job, "100.00")
    call_off(shop, "2026-05-10", job)
    keep(shop, job, "100.00")
    with pytest.raises(Refusal, match="payment 2 keeps a deposit of job 2, as it was called off: strike that first"):
        strike(shop, "job_event:1")
    strike(shop, "payment:2")
    strike(shop, "job_event:1")
    assert stands(shop)[0][-1] == "100.00"


def test_struck_after_its_month_closed_it_is_undone_in_the_next(shop: Book) -> None:
    job = opened(shop)
    take(shop, job, "100.00")
    call_off(shop, "2026-05-10", job)
    keep(shop, job, "100.00")
    close_through(shop, Month(2026, 5))
    strike(shop, "payment:2")
    assert stands(shop, dt.date(2026, 5, 31))[0][-1] == "0.00"
    assert stands(shop)[0][-1] == "100.00"
    assert lines(shop, "2026-06-01") == [
        ("2026-06-01", "payment 2 struck", HELD, -10000),
        ("2026-06-01", "payment 2 struck", "Earned: deposits kept", 10000),
    ]
    with pytest.raises(Refusal, match="job 2 was called off in a closed month: reopen the month first"):
        strike(shop, "job_event:1")
    # reopened, May has it kept still: what is given back must be held on that day too
    do(shop, None, closings.reopen, month=Month(2026, 5), why="to see")
    with pytest.raises(Refusal, match=r"0\.00 of the deposits for job 2 is held from 2026-05-25 on"):
        refund(shop, job, "100.00", "2026-05-25")
    refund(shop, job, "100.00", "2026-06-01")


def test_payments_name_what_they_are(shop: Book) -> None:
    job = opened(shop)
    take(shop, job, "100.00")
    call_off(shop, "2026-05-10", job)
    keep(shop, job, "60.00")
    refund(shop, job, "40.00")
    with shop.read() as session:
        found = [(code, one.kind, one.job, str(one.amount)) for code, one in payments(session, TODAY, "USD")]
    assert found == [
        ("alder", "deposit", 2, "100.00"),
        ("alder", "kept", 2, "60.00"),
        ("alder", "refund", 2, "40.00"),
    ]
