"""The invoice: frozen under its number, drawn from the frozen record, kept as it was handed out."""

import datetime as dt
import hashlib

import pytest
from sqlalchemy import select

from coatbook.aircraft.actions import set_mark
from coatbook.billing.actions import set_price, set_series
from coatbook.billing.record import InvoiceRecord
from coatbook.billing.tables import Document, DocumentFile, DocumentLine, DocumentTax
from coatbook.billing.views import invoice, kept_file
from coatbook.desk import invoicing
from coatbook.desk.invoicing import PDF, draw, file_name
from coatbook.jobs import actions as jobs
from coatbook.paper.invoice import draw_invoice
from coatbook.people.actions import add_site, edit_business, edit_customer
from coatbook.store.book import Book
from coatbook.store.chain import short
from coatbook.values import Refusal
from coatbook.values.marks import parse_mark
from desk.shopfloor import CLAIM, TODAY, agree, ask, begin, do, hand_over, issue, lay, new_job, read_film, usd, washed

DAY, NEXT = "2026-04-01", "2026-04-02"


def record(book: Book, number: str = "2026-0001") -> InvoiceRecord:
    with book.read() as session:
        return invoice(session, number, TODAY).record


def rows(book: Book) -> int:
    """How many rows there are of documents and their parts."""
    with book.read() as session:
        return sum(
            len(session.scalars(select(table.id)).all())
            for table in (Document, DocumentLine, DocumentTax, DocumentFile)
        )


def handed_over(book: Book) -> int:
    job = new_job(book, DAY, ("wash", ()), ("coating", ("left wing", "elevator")))
    begin(book, DAY, job)
    lay(book, DAY, job, "left wing", "elevator")
    hand_over(book, NEXT, job)
    return job


def test_the_record_by_hand(shop: Book) -> None:
    job = handed_over(shop)
    with shop.read() as session:
        head = shop.head(session)
    assert head is not None
    assert issue(shop, "2026-04-03", job) == "2026-0001"
    found = record(shop)
    # 150.00 + (84 + 20) x 6.00 = 774.00; 6.25 % = 48.375; due in the shop's 14 days
    assert [(line.text, str(line.net)) for line in found.lines] == [
        ("Wash", "150.00"),
        ("Protective coating: left wing, elevator", "624.00"),
    ]
    assert (str(found.net), str(found.tax), str(found.gross)) == ("774.00", "48.38", "822.38")
    assert (found.date, found.due) == (dt.date(2026, 4, 3), dt.date(2026, 4, 17))
    assert (found.arrived, found.handed_over) == (dt.date(2026, 4, 1), dt.date(2026, 4, 2))
    assert (found.aircraft.mark, found.aircraft.maker, found.aircraft.serial) == ("N123AB", "Cessna", "18299901")
    assert found.place_of_work[0] == "North field, hangar 7"
    assert found.head == short(head)
    assert any("wash" in sentence.lower() and "6 months" in sentence for sentence in found.upkeep)
    assert len(found.cautions) == 4
    assert found.authorities == ()


def test_lines_and_taxes_in_their_tables_are_those_of_the_record(shop: Book) -> None:
    issue(shop, NEXT, handed_over(shop))
    with shop.read() as session:
        document = session.scalars(select(Document)).one()
        lines = session.scalars(select(DocumentLine).order_by(DocumentLine.n)).all()
        taxes = session.scalars(select(DocumentTax).order_by(DocumentTax.n)).all()
    assert sum(line.net for line in lines) == document.net == 77400
    assert sum(tax.amount for tax in taxes) == document.tax == 4838
    assert document.net + document.tax == document.gross
    assert [(tax.millionths, tax.base) for tax in taxes] == [(62500, 77400)]


def test_not_before_the_handover(shop: Book) -> None:
    job = new_job(shop, DAY, ("wash", ()))
    for move in (
        lambda: agree(shop, DAY, job),
        lambda: do(shop, DAY, jobs.arrive, job=job, by="Sam Reed"),
        lambda: do(shop, NEXT, jobs.hand_over, job=job, to="Jo Alder"),
    ):
        with pytest.raises(Refusal, match="job 2 is not handed over yet: `coatbook job handover 2` comes before"):
            issue(shop, NEXT, job)
        move()
    with pytest.raises(Refusal, match="the invoice on 2026-04-01 would come before the handover on 2026-04-02"):
        issue(shop, DAY, job)
    assert rows(shop) == 0
    assert issue(shop, NEXT, job) == "2026-0001"


def test_not_twice(shop: Book) -> None:
    job, _ = washed(shop, DAY)
    with pytest.raises(Refusal, match="job 2 is invoiced already, as 2026-0001: `coatbook invoice show 2026-0001`"):
        issue(shop, NEXT, job)
    assert rows(shop) == 3  # a document, its line and its tax


def test_not_with_a_name_that_cannot_be_printed(shop: Book) -> None:
    job = handed_over(shop)
    do(shop, NEXT, edit_customer, code="alder", name="山田 Air")
    before = rows(shop)
    with pytest.raises(Refusal, match=r'the character "山" \(U\+5C71\) in "山田 Air" cannot be printed on paper'):
        issue(shop, NEXT, job)
    assert rows(shop) == before == 0
    do(shop, NEXT, edit_customer, code="alder", name="Ελένη Šťastná Ёлкина")
    assert issue(shop, NEXT, job) == "2026-0001"


def test_not_for_nothing(shop: Book) -> None:
    do(shop, DAY, set_price, service="wash", amount=usd("80.00"), basis="hour")
    job = new_job(shop, DAY, ("wash", ()))
    hand_over(shop, DAY, job)
    with pytest.raises(Refusal, match="nothing on job 2 comes to a charge: plan a step with a price first"):
        issue(shop, DAY, job)


def test_the_due_day(shop: Book) -> None:
    job = handed_over(shop)
    with pytest.raises(Refusal, match="the due day on 2026-04-01 would come before the invoice's own date"):
        issue(shop, NEXT, job, due=DAY)
    issue(shop, NEXT, job, due=NEXT)
    assert record(shop).due == dt.date(2026, 4, 2)


def test_whoever_pays_is_billed(shop: Book) -> None:
    job = handed_over(shop)
    do(shop, NEXT, jobs.set_party, job=job, role="pays", customer="birch")
    issue(shop, NEXT, job)
    assert record(shop).customer.name == "Birch Flying Club"


def test_the_aircraft_is_called_as_when_it_arrived(shop: Book) -> None:
    job = handed_over(shop)  # arrived on NEXT
    new = {"aircraft": "skylane", "mark": parse_mark("N77Z")}
    do(shop, "2026-04-03", set_mark, **new)
    issue(shop, "2026-04-05", job)
    assert record(shop).aircraft.mark == "N123AB"


def test_who_passed_a_gate_stands_on_it(shop: Book) -> None:
    read_film(shop, DAY, ("30", "31", "29", "30", "32", "31"))
    agree(shop, DAY, 1, CLAIM)
    do(shop, DAY, jobs.arrive, job=1, by="Sam Reed")
    do(shop, NEXT, jobs.hand_over, job=1, to="Jo Alder")
    issue(shop, NEXT, 1)
    (sentence,) = record(shop).authorities
    assert sentence.startswith("Film gate of left wing (stop: it has no film to spare, its margin is ")
    assert ") passed on 2026-04-01 by R. Moor, mechanic 0000001" in sentence


def test_a_place_without_a_rate_is_told(shop: Book) -> None:
    do(shop, DAY, add_site, code="rio", name="Rio Alto", address="1 Field Road", place="US-NM")
    job = do(shop, DAY, jobs.open_job, aircraft="skylane", site="rio", asked_for="Wash").result
    do(shop, DAY, jobs.plan_steps, job=job, service="wash")
    hand_over(shop, DAY, job)
    told = do(shop, DAY, invoicing.issue, job=job).text
    assert "No tax: no rate is written for US-NM; whether that is right is to confirm locally." in told
    assert (record(shop).taxes, record(shop).gross) == ((), record(shop).net)


def test_trying_it_writes_nothing(shop: Book) -> None:
    job = handed_over(shop)
    told = shop.do(ask(NEXT, dry_run=True), invoicing.issue, job=job)
    assert told.text.startswith("Invoice 2026-0001 to Jo Alder: 822.38 USD for job 2 on N123AB, due 2026-04-16.")
    assert rows(shop) == 0


def test_what_was_issued_stays_as_it_was(shop: Book) -> None:
    _, number = washed(shop, DAY)
    before = record(shop)
    drawn = draw(shop, ask(DAY), number)
    do(shop, NEXT, edit_customer, code="alder", name="Jo Beech", address="9 New Road")
    do(shop, NEXT, edit_business, name="Another Name", pay_how="in shells", color="#336699")
    do(shop, NEXT, set_mark, aircraft="skylane", mark=parse_mark("N77Z"))
    assert record(shop) == before
    assert draw(shop, ask(NEXT), number) == drawn


def test_it_is_drawn_once_and_kept_byte_for_byte(shop: Book) -> None:
    _, number = washed(shop, DAY)
    name, content = draw(shop, ask(DAY), number)
    assert name == "invoice-2026-0001.pdf"
    assert content.startswith(b"%PDF-")
    with shop.read() as session:
        kept = kept_file(session, number, PDF)
    assert kept is not None
    assert (kept.bytes, kept.sha256) == (content, hashlib.sha256(content).hexdigest())
    acts = rows(shop)
    assert draw(shop, ask(NEXT), number) == (name, content)
    assert rows(shop) == acts


def test_one_cut_short_before_it_was_drawn_is_drawn_later_the_same(shop: Book) -> None:
    _, number = washed(shop, DAY)  # numbered, and then the power went
    expected = draw_invoice(record(shop))
    do(shop, NEXT, edit_business, name="Another Name")
    assert draw(shop, ask("2026-08-01"), number)[1] == expected


@pytest.mark.parametrize(
    ("pattern", "name"), [("INV/{year}/{n:3}", "invoice-INV-2026-001.pdf"), ("{n}", "invoice-1.pdf")]
)
def test_its_file_has_a_harmless_name(shop: Book, pattern: str, name: str) -> None:
    do(shop, DAY, set_series, code="invoice", pattern=pattern)
    _, number = washed(shop, DAY)
    assert file_name(record(shop, number)) == name
