"""Several who pay for one job: an invoice for each in one act, each with its own tax, deposits and exemption."""

import datetime as dt
from decimal import Decimal

import pytest

from billing.agreed import REST, change, fixed, pays, per_cent
from coatbook.billing.deposits import take_deposit
from coatbook.billing.record import Exempted, InvoiceRecord, Received, Shared
from coatbook.billing.tables import Document
from coatbook.billing.views import final_invoices, invoice
from coatbook.desk import invoicing
from coatbook.desk.telling import invoice_data, invoice_story, job_rows
from coatbook.jobs.views import find_job
from coatbook.paper.invoice import draw_invoice
from coatbook.people.actions import add_customer
from coatbook.people.papers import add_exemption
from coatbook.review.views import review_job, review_month
from coatbook.store.book import Book
from coatbook.values import Refusal
from coatbook.values.days import Month
from desk.shopfloor import TODAY, accounts, ask, begin, do, hand_over, lay, new_job, pay, usd

DAY = "2026-04-01"
FIRST, SECOND = "2026-0001", "2026-0002"


def record(book: Book, number: str) -> InvoiceRecord:
    with book.read() as session:
        return invoice(session, number, TODAY).record


def over(book: Book) -> int:
    """A job of 774.00, handed over: 150.00 of wash, and 104 square feet coated at 6.00."""
    job = new_job(book, DAY, ("wash", ()), ("coating", ("left wing", "elevator")))
    begin(book, DAY, job)
    lay(book, DAY, job, "left wing", "elevator")
    hand_over(book, DAY, job)
    return job


def issue_all(book: Book, job: int) -> str:
    return str(do(book, DAY, invoicing.issue, job=job).text)


def test_each_gets_an_invoice_in_one_act(shop: Book) -> None:
    job = over(shop)
    pays(shop, DAY, job, birch=per_cent("60"), alder=REST)
    told = issue_all(shop, job)
    # 774.00 x 60 % = 464.40, 6.25 % of it 29.025; 309.60, of it 19.35
    assert "Invoice 2026-0001 to Birch Flying Club: 493.43 USD for job 2 on N123AB, due 2026-04-15." in told
    assert "Invoice 2026-0002 to Jo Alder: 328.95 USD for job 2 on N123AB, due 2026-04-15." in told
    assert "  Wash, 90.00, part of 150.00" in told
    assert "left wing, elevator, 104 ft2 at 6.00 per ft2: 374.40, part of 624.00" in told
    first, second = record(shop, FIRST), record(shop, SECOND)
    assert [(line.net, line.whole) for line in first.lines] == [
        (usd("90.00"), usd("150.00")),
        (usd("374.40"), usd("624.00")),
    ]
    assert [str(amount) for amount in (second.net, second.tax, second.gross)] == ["309.60", "19.35", "328.95"]
    assert first.shared == Shared(Decimal("0.6"), usd("0.00"), usd("774.00"), ("Jo Alder",))
    assert second.shared == Shared(Decimal("0.4"), usd("0.00"), usd("774.00"), ("Birch Flying Club",))
    with shop.read() as session:
        assert final_invoices(session, find_job(session, job).id) == (FIRST, SECOND)
        assert len({row.act for row in session.query(Document)}) == 1
    assert draw_invoice(first) != draw_invoice(second)


def test_a_fixed_sum_is_before_tax(shop: Book) -> None:
    job = over(shop)
    pays(shop, DAY, job, birch=fixed("500.00"), alder=REST)
    issue_all(shop, job)
    first, second = record(shop, FIRST), record(shop, SECOND)
    assert [str(amount) for amount in (first.net, first.tax)] == ["500.00", "31.25"]
    assert (first.shared, second.shared) == (
        Shared(None, usd("500.00"), usd("774.00"), ("Jo Alder",)),
        Shared(Decimal(1), usd("500.00"), usd("774.00"), ("Birch Flying Club",)),
    )
    assert first.net + second.net == usd("774.00")


def test_who_has_no_part_gets_no_invoice(shop: Book) -> None:
    job = over(shop)
    pays(shop, DAY, job, birch=fixed("774.00"), alder=REST)
    told = issue_all(shop, job)
    assert "Nothing of job 2 is left for Jo Alder: no invoice." in told
    only = record(shop, FIRST)
    assert (only.shared, [line.is_part for line in only.lines]) == (None, [False, False])
    with shop.read() as session:
        assert final_invoices(session, find_job(session, job).id) == (FIRST,)


def test_shares_that_are_not_the_whole_leave_no_number_used(shop: Book) -> None:
    job = over(shop)
    pays(shop, DAY, job, birch=per_cent("60"), alder=per_cent("30"))
    with pytest.raises(Refusal, match="the shares of job 2 come to 90 %"):
        issue_all(shop, job)
    pays(shop, DAY, job, birch=per_cent("60"), alder=per_cent("40"))
    assert "Invoice 2026-0001 to Birch" in issue_all(shop, job)


def test_a_name_that_cannot_be_printed_stops_all_of_them(shop: Book) -> None:
    job = over(shop)
    do(shop, DAY, add_customer, code="yamada", name="山田 Air", address="1 Road")
    pays(shop, DAY, job, birch=per_cent("60"), yamada=REST)
    with pytest.raises(Refusal, match="cannot be printed"):
        issue_all(shop, job)
    with shop.read() as session:
        assert session.query(Document).count() == 0


def test_not_twice(shop: Book) -> None:
    job = over(shop)
    pays(shop, DAY, job, birch=per_cent("60"), alder=REST)
    issue_all(shop, job)
    with pytest.raises(Refusal, match="job 2 is invoiced already, as 2026-0001 and 2026-0002: `coatbook invoice show"):
        issue_all(shop, job)


def test_trying_it_writes_nothing(shop: Book) -> None:
    job = over(shop)
    pays(shop, DAY, job, birch=per_cent("60"), alder=REST)
    told = shop.do(ask(DAY, dry_run=True), invoicing.issue, job=job)
    assert told.text.count("Invoice 2026-000") == 2
    with shop.read() as session:
        assert session.query(Document).count() == 0


def test_it_is_settled_once_nothing_is_owed_on_any(shop: Book) -> None:
    job = over(shop)
    pays(shop, DAY, job, birch=per_cent("60"), alder=REST)
    issue_all(shop, job)

    def state() -> str:
        return str(next(row["state"] for row in job_rows(shop, TODAY) if row["job"] == job))

    pay(shop, DAY, "493.43", FIRST, customer="birch")
    assert state() == "handed over"
    pay(shop, DAY, "328.95", SECOND)
    assert state() == "settled"


def test_a_review_of_the_job_sums_them_all(shop: Book) -> None:
    job = over(shop)
    pays(shop, DAY, job, birch=per_cent("60"), alder=REST)
    issue_all(shop, job)
    with shop.read() as session:
        found, month = review_job(session, job, TODAY), review_month(session, Month(2026, 4), TODAY)
    assert (found.figures.revenue, found.recognized) == (77400, dt.date(2026, 4, 1))
    assert found.customer_name == month.jobs[0].customer_name == "Birch Flying Club, Jo Alder"
    assert found.customer == "birch, alder"
    assert (month.owed, [(one.base, one.amount) for one in month.tax]) == (49343 + 32895, [(77400, 2903 + 1935)])
    assert month.journal_profit == month.figures.profit_before_owner
    assert accounts(shop)["Owed by customers"] == 49343 + 32895


def exempt(book: Book, place: str, since: str = DAY, expires: str | None = None) -> None:
    values = {"customer": "birch", "place": place, "reason": "flying school", "certificate": "01-339"}
    until = dt.date.fromisoformat(expires) if expires else None
    do(book, since, add_exemption, **values, expires=until)


def test_an_exemption_is_the_payers_own(shop: Book) -> None:
    job = over(shop)
    exempt(shop, "US-TX")
    pays(shop, DAY, job, birch=per_cent("60"), alder=REST)
    told = issue_all(shop, job)
    assert "  No tax of US-TX: flying school, certificate 01-339." in told
    first, second = record(shop, FIRST), record(shop, SECOND)
    assert (first.taxes, first.gross) == ((), usd("464.40"))
    assert first.exempted == Exempted("US-TX", "flying school", "01-339")
    assert (second.exempted, str(second.tax)) == (None, "19.35")


@pytest.mark.parametrize(
    ("place", "expires", "tax"),
    [("US-NM", None, "29.03"), ("US-TX", "2026-03-31", "29.03"), ("US-TX", DAY, "0.00"), ("US", None, "0.00")],
)
def test_an_exemption_holds_at_its_place_and_until_it_expires(
    shop: Book, place: str, expires: str | None, tax: str
) -> None:
    exempt(shop, place, "2026-03-02", expires)
    job = over(shop)
    pays(shop, DAY, job, birch=per_cent("60"), alder=REST)
    issue_all(shop, job)
    assert str(record(shop, FIRST).tax) == tax


def test_it_is_told_in_words_and_as_data(shop: Book) -> None:
    job = over(shop)
    exempt(shop, "US-TX")
    pays(shop, DAY, job, birch=fixed("500.00"), alder=REST)
    do(shop, DAY, take_deposit, customer="birch", job=job, amount=usd("200.00"), method="check")
    issue_all(shop, job)
    with shop.read() as session:
        first, second = (invoice(session, number, TODAY) for number in (FIRST, SECOND))
    story = invoice_story(first)
    said = "A fixed sum of the job's lines: 500.00 of 774.00 before tax; the rest is invoiced to Jo Alder."
    assert said in story
    assert "No tax of US-TX: flying school, certificate 01-339." in story
    assert "Deposit 2026-04-01" in story
    said = "100 % of the job's lines after fixed sums of 500.00: 274.00 of 774.00 before tax"
    assert said in invoice_story(second)
    data = invoice_data(first)
    assert data["shared"] == {"fraction": None, "whole": "774.00", "others": ["Jo Alder"]}
    assert data["exempted"] == {"place": "US-TX", "reason": "flying school", "certificate": "01-339"}
    assert [(one["kind"], one["amount"]) for one in data["payments"]] == [("deposit", "200.00")]
    assert [line["whole"] for line in data["lines"]] == ["150.00", "624.00"]
    assert first.record.received == (Received(dt.date(2026, 4, 1), usd("200.00")),)
    assert (first.owed, first.record.balance) == (usd("300.00"), usd("300.00"))


def test_what_was_changed_is_shared_too(shop: Book) -> None:
    job = over(shop)
    change(shop, DAY, job, "no coat on the elevator after all", amount="-100.00", service="coating")
    pays(shop, DAY, job, birch=per_cent("50"), alder=per_cent("50"))
    issue_all(shop, job)
    first, second = record(shop, FIRST), record(shop, SECOND)
    assert first.net == second.net == usd("337.00")
    assert [str(line.net) for line in first.lines] == ["75.00", "312.00", "-50.00"]
