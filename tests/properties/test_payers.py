"""Jobs with any lines, payers, exemptions and deposits: no cent is lost or asked for twice, the journal agrees."""

from contextlib import closing
from fractions import Fraction
from pathlib import Path
from typing import Any

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from billing.agreed import change, pays
from coatbook.billing.deposits import refund_deposit, take_deposit
from coatbook.billing.views import InvoiceView, deposits, invoices
from coatbook.desk import invoicing
from coatbook.desk.opening import open_book
from coatbook.jobs import actions as jobs
from coatbook.jobs.views import Payer
from coatbook.people.actions import add_customer
from coatbook.people.papers import add_exemption
from coatbook.review.views import review_job
from coatbook.store.book import Book
from coatbook.store.check import check
from coatbook.store.clock import Clock
from coatbook.values import Money
from desk.shopfloor import TODAY, accounts, do, new_job, pay
from properties.driving import copied
from properties.model import half_up

DAY = "2026-05-04"
WASH, TAX = 150_00, Fraction(625, 10_000)  # what the furnished shop asks for a wash, and the tax on labor
CUSTOMERS = ("alder", "birch", "cedar")
CENTS = st.integers(1, 2_000_00)


@st.composite
def payers(draw: Any) -> dict[str, Payer]:
    """One takes the rest, up to two others a share or a fixed sum that the wash alone can bear."""
    codes = draw(st.permutations(CUSTOMERS))
    found = {codes[0]: Payer(0, None, None)}
    for code in codes[1 : draw(st.integers(1, 3))]:
        share = Payer(0, draw(st.integers(1, 499_999)), None)
        found[code] = draw(st.sampled_from((share, Payer(0, None, draw(st.integers(1, WASH // 4))))))
    return dict(draw(st.permutations(list(found.items()))))


def told(book: Book) -> tuple[InvoiceView, ...]:
    with book.read() as session:
        return invoices(session, TODAY)


def furnish(book: Book, job: int, who: dict[str, Payer], extras: list[int], exempt: set[str]) -> None:
    do(book, DAY, add_customer, code="cedar", name="Cedar Air", address="9 Hill Road")
    pays(book, DAY, job, **who)
    for minor in extras:
        change(book, DAY, job, "as agreed", amount=str(Money(minor, "USD")), service="coating")
    for code in sorted(exempt):
        do(book, DAY, add_exemption, customer=code, place="US-TX", reason="flying school", certificate=f"of {code}")
    do(book, DAY, jobs.agree, job=job, by="Jo Alder", findings=(), results=())
    do(book, DAY, jobs.arrive, job=job, by="Sam Reed")
    do(book, DAY, jobs.hand_over, job=job, to="Jo Alder")


@settings(max_examples=12, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    who=payers(),
    extras=st.lists(CENTS | st.integers(-20_00, -1), max_size=3),
    exempt=st.sets(st.sampled_from(CUSTOMERS)),
    paid=st.lists(st.tuples(st.sampled_from(CUSTOMERS), CENTS), max_size=4),
)
def test_no_cent_is_lost_between_those_who_pay(
    furnished_template: Path, who: dict[str, Payer], extras: list[int], exempt: set[str], paid: list[tuple[str, int]]
) -> None:
    with copied(str(furnished_template)) as where, closing(open_book(where, Clock(TODAY))) as book:
        job = new_job(book, DAY, ("wash", ()))
        furnish(book, job, who, extras, exempt)
        paid = [(code, minor) for code, minor in paid if code in who]
        for code, minor in paid:
            values = {"customer": code, "job": job, "amount": Money(minor, "USD"), "method": "check"}
            do(book, DAY, take_deposit, **values)
        do(book, DAY, invoicing.issue, job=job)
        found = told(book)
        check_lines(found, [WASH, *extras])
        for view in found:
            check_one(view, who[view.record.customer.code], paid, exempt)
        check_books(book, job, sum((WASH, *extras)), paid, found)
        settle(book, job, found)
        assert {"Owed by customers", "Deposits held"} & accounts(book).keys() == set()
        assert check(book) == []


def check_lines(found: tuple[InvoiceView, ...], whole: list[int]) -> None:
    for place, minor in enumerate(whole):
        assert sum(view.record.lines[place].net.minor for view in found) == minor


def check_one(view: InvoiceView, payer: Payer, paid: list[tuple[str, int]], exempt: set[str]) -> None:
    """One invoice by itself: its sums, its tax rounded once, its own deposits and no more of them than it asks."""
    record, code = view.record, view.record.customer.code
    assert record.net.minor == sum(line.net.minor for line in record.lines) >= 0
    assert payer.minor is None or record.net.minor == payer.minor
    assert record.tax.minor == (0 if code in exempt else half_up(record.net.minor * TAX))
    assert (record.exempted is not None) == (code in exempt)
    own = sum(minor for of, minor in paid if of == code)
    assert record.gross.minor - view.owed.minor == min(own, record.gross.minor)
    assert view.owed == record.balance


def check_books(book: Book, job: int, net: int, paid: list[tuple[str, int]], found: tuple[InvoiceView, ...]) -> None:
    """The journal, the review and the list of deposits say the same."""
    balances = accounts(book)
    with book.read() as session:
        assert review_job(session, job, TODAY).figures.revenue == net
        held = sum(one.held.minor for one in deposits(session, TODAY, "USD"))
    owed = sum(view.owed.minor for view in found)
    assert balances.get("Owed by customers", 0) == owed
    assert -balances.get("Deposits held", 0) == held
    assert balances.get("Money received, to bank", 0) == sum(minor for _, minor in paid)
    assert held == sum(minor for _, minor in paid) - sum(view.record.gross.minor for view in found) + owed
    assert -sum(minor for account, minor in balances.items() if account.startswith("Earned: ")) == net


def settle(book: Book, job: int, found: tuple[InvoiceView, ...]) -> None:
    """What is owed comes in, and what is held still goes back."""
    for view in found:
        if view.owed:
            pay(book, DAY, str(view.owed), view.record.number, customer=view.record.customer.code)
    with book.read() as session:
        left = [(one.customer, one.held) for one in deposits(session, TODAY, "USD") if one.held]
    for code, held in left:
        do(book, DAY, refund_deposit, job=job, amount=held, method="check", customer=code)
