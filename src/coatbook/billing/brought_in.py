"""What a shop that begins its book in the middle of a year brings in: open invoices, deposits held, costs of jobs.

What is brought in counts in the book from the day of its act, against one account of its own. It is neither earned
nor taxed here: that was done in the books before this one.
"""

import datetime as dt

from sqlalchemy import func, select

from coatbook.aircraft.views import airframe_by_id
from coatbook.billing import moves
from coatbook.billing.actions import next_number, reaches
from coatbook.billing.deposits import refuse_deposit
from coatbook.billing.record import InvoiceRecord, WorkedAircraft
from coatbook.billing.tables import BROUGHT_IN, DEPOSIT, Document, Payment, Series
from coatbook.billing.views import work_place
from coatbook.jobs.tables import Entry, Job
from coatbook.jobs.views import find_job
from coatbook.people.tables import Customer
from coatbook.people.views import customer_by_id, shop, site_by_id
from coatbook.store.acts import OpenAct
from coatbook.store.chain import short
from coatbook.store.finding import by_code
from coatbook.values import Money, Refusal, frozen
from coatbook.values import text as texts
from coatbook.values.checks import more_than_nothing, not_before


def bring_in_invoice(
    act: OpenAct, *, job: int, customer: str, number: str, dated: dt.date, due: dt.date, open_amount: Money
) -> None:
    """Write an invoice that was issued before the book began, with what is open on it.

    Raises:
        Refusal: there is one of that number, or the book would give the number itself some day.
    """
    found, who = find_job(act.session, job), by_code(act.session, Customer, customer, "customer")
    kept = texts.line(number, "invoice's number", 40)
    more_than_nothing(open_amount, "open amount")
    act.check_open(act.on, "what is brought in")
    not_before(act.on, dated, "bringing it in", f"invoice {kept} was issued")
    if due < dated:
        raise Refusal(f"invoice {kept} would fall due on {due}, before it was issued on {dated}: check the days")
    _refuse_number(act, kept)
    series = _own_series(act)
    last = act.session.scalar(select(func.max(Document.n)).filter_by(series=series.id))
    record = _record(act, found, who, kept, (dated, due), open_amount)
    act.add(
        Document(
            kind=BROUGHT_IN,
            series=series.id,
            n=(last or 0) + 1,
            number=kept,
            customer=who.id,
            job=found.id,
            dated=dated,
            due=due,
            net=open_amount.minor,
            tax=0,
            gross=open_amount.minor,
            record=frozen.dump(record),
        )
    )
    act.tell(f"Invoice {kept} of {dated} to {who.name} is brought in: {open_amount} {act.currency} open, due {due}.")


def _refuse_number(act: OpenAct, number: str) -> None:
    if act.session.scalars(select(Document.id).filter_by(number=number)).first() is not None:
        raise Refusal(f"there is an invoice {number} already: check the number")
    for series in act.session.scalars(select(Series).where(Series.code != BROUGHT_IN)):
        n = reaches(series.pattern, number, act.on.year)
        if n is not None and n >= next_number(act.session, series):
            raise Refusal(
                f"this book would number an invoice of its own {number} some day: let its own begin after it with "
                f'`coatbook business series {series.code} --pattern "{series.pattern}" --first {n + 1}`'
            )


def _own_series(act: OpenAct) -> Series:
    """The series of what is brought in: its numbers are those of the books before this one."""
    row = act.session.scalars(select(Series).filter_by(code=BROUGHT_IN)).first()
    return row or act.add(Series(code=BROUGHT_IN, pattern="{n}", first=1))


def _record(
    act: OpenAct, job: Job, customer: Customer, number: str, days: tuple[dt.date, dt.date], amount: Money
) -> InvoiceRecord:
    """What stands for the frozen record of an invoice that is never drawn here."""
    dated, due = days
    airframe = airframe_by_id(act.session, job.airframe, dated, act.today)
    nothing = Money.zero(act.currency)
    return InvoiceRecord(
        number=number,
        date=dated,
        due=due,
        currency=act.currency,
        shop=shop(act.session),
        customer=customer_by_id(act.session, customer.id),
        job=job.number,
        asked_for=job.asked_for,
        aircraft=WorkedAircraft(airframe.mark, airframe.maker, airframe.model, airframe.serial, airframe.year),
        place_of_work=work_place(site_by_id(act.session, job.site)),
        arrived=dated,
        handed_over=dated,
        lines=(),
        net=amount,
        taxes=(),
        tax=nothing,
        gross=amount,
        upkeep=(),
        cautions=(),
        authorities=(),
        head=short(act.head_before),
        brought_in=True,
    )


def bring_in_deposit(act: OpenAct, *, customer: str, job: int, amount: Money, taken_on: dt.date) -> None:
    """Write a deposit for a job that was held when the book began."""
    found, who = find_job(act.session, job), by_code(act.session, Customer, customer, "customer")
    more_than_nothing(amount, "amount")
    refuse_deposit(act, found, who)
    not_before(act.on, taken_on, "bringing it in", "the deposit was taken")
    deposit = act.add(
        Payment(
            customer=who.id,
            minor=amount.minor,
            method=BROUGHT_IN,
            kind=DEPOSIT,
            job=found.id,
            brought_in=True,
            taken_on=taken_on,
        )
    )
    act.tell(
        f"Deposit {deposit.id} of {taken_on} is brought in: {amount} {act.currency} of {who.name}, held for job {job}."
    )


def bring_in_cost(act: OpenAct, *, job: int, kind: str, amount: Money, text: str) -> None:
    """Write what a job had cost when the book began: materials, labor or expenses. It is work in progress."""
    found, what = find_job(act.session, job), texts.one_of(kind, moves.JOURNAL_COSTS, "kind of cost")
    more_than_nothing(amount, "amount")
    day = moves.recognized_days(act.session, act.today).get(found.id)
    if day is not None:
        raise Refusal(f"job {job} is recognized since {day}: only a job in progress brings costs in")
    entry = act.add(
        Entry(job=found.id, kind=BROUGHT_IN, category=what, minor=amount.minor, text=texts.line(text, "cost"))
    )
    act.tell(f"Line {entry.id}, job {job}: {amount} {act.currency} of {what} brought in, {entry.text}.")
