"""What writes deposits: taken before the work, drawn on the invoice, kept of a job called off, or given back."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from sqlalchemy import select

from coatbook.billing.tables import DEPOSIT, KEPT, REFUND, Document, Payment, Settles
from coatbook.billing.views import deposits_of, final_invoices, held_from
from coatbook.jobs.tables import NO_CHARGE, Job, JobEvent
from coatbook.jobs.views import event_day, find_job, payers_of
from coatbook.people.tables import Customer
from coatbook.store.acts import OpenAct
from coatbook.store.finding import by_code, got
from coatbook.values import Misuse, Money, Refusal, text
from coatbook.values.checks import more_than_nothing, not_before


@dataclass(frozen=True, slots=True)
class Drawing:
    """What is to be drawn of a deposit."""

    deposit: Payment
    amount: Money


def take_deposit(
    act: OpenAct, *, customer: str, job: int, amount: Money, method: str, reference: str | None = None
) -> int:
    """Write money that came in for a job before its invoice; the deposit's number.

    Raises:
        Refusal: the customer does not pay for the job, or the job is invoiced, at no charge or called off.
    """
    payer, found = by_code(act.session, Customer, customer, "customer"), find_job(act.session, job)
    more_than_nothing(amount, "amount")
    not_before(act.on, found.opened, "a deposit", f"job {job} was opened")
    refuse_deposit(act, found, payer)
    deposit = act.add(
        Payment(
            customer=payer.id,
            minor=amount.minor,
            method=text.line(method, "method", 40),
            reference=text.line(reference, "reference") if reference else None,
            kind=DEPOSIT,
            job=found.id,
        )
    )
    act.tell(
        f"Deposit {deposit.id}: {amount} {act.currency} from {payer.name} by {deposit.method} for job {job}; it is "
        "drawn on the invoice."
    )
    return deposit.id


def refuse_deposit(act: OpenAct, job: Job, customer: Customer) -> None:
    """Refuse a deposit that no invoice could draw."""
    _refuse_over(act, job)
    _refuse_stranger(act, job, customer)


def _refuse_over(act: OpenAct, job: Job) -> None:
    issued = final_invoices(act.session, job.id)
    if issued:
        raise Refusal(
            f"job {job.number} is invoiced already, as {', '.join(issued)}: write the money as a payment with "
            f"`coatbook payment take CUSTOMER AMOUNT --invoice {issued[0]}`"
        )
    called_off = event_day(act.session, job.id, "called off")
    if called_off is not None:
        raise Refusal(f"job {job.number} was called off on {called_off}: there is nothing to take a deposit for")
    free = select(JobEvent.on_day).filter_by(job=job.id, text=NO_CHARGE, kind="handed over", struck_on=None)
    if (day := act.session.scalar(free)) is not None:
        raise Refusal(f"job {job.number} was handed over at no charge on {day}: there is nothing to pay")


def _refuse_stranger(act: OpenAct, job: Job, customer: Customer) -> None:
    payers = [got(act.session, Customer, payer.customer) for payer in payers_of(act.session, job.id)]
    if customer not in payers:
        named = f"{' and '.join(one.name for one in payers)} {'does' if len(payers) == 1 else 'do'}"
        raise Refusal(
            f"{customer.name} does not pay for job {job.number}, {named}: name who pays, or write it first with "
            f"`coatbook job party {job.number} pays {customer.code}`"
        )


def plan_drawings(act: OpenAct, job: Job, customer: int, gross: Money) -> tuple[Drawing, ...]:
    """What an invoice of a job draws of a customer's deposits, the earliest first.

    Raises:
        Refusal: one came in after the invoice's day.
    """
    left, found = gross, []
    for deposit in deposits_of(act.session, job.id, customer):
        not_before(act.on, deposit.on_day, "the invoice", f"deposit {deposit.id}, which it draws, was taken")
        amount = Money(min(left.minor, held_from(act.session, deposit, act.on)), act.currency)
        if amount.minor > 0:
            found.append(Drawing(deposit, amount))
            left -= amount
    return tuple(found)


def draw(act: OpenAct, document: Document, drawings: Sequence[Drawing]) -> None:
    """Settle an invoice with deposits, as it is issued."""
    for one in drawings:
        act.add(Settles(payment=one.deposit.id, document=document.id, minor=one.amount.minor))
        act.tell(f"  Deposit {one.deposit.id} of {day_taken(one.deposit)}: {one.amount} drawn.")


def day_taken(deposit: Payment) -> dt.date:
    """The day the money came, which may lie before the book began."""
    return deposit.taken_on or deposit.on_day


def tell_held(act: OpenAct, job: Job) -> None:
    """Say which deposits of a job are held still after its invoices."""
    for deposit in deposits_of(act.session, job.id):
        left = Money(held_from(act.session, deposit, act.on), act.currency)
        if left:
            who = got(act.session, Customer, deposit.customer)
            act.tell(
                f"{left} {act.currency} of deposit {deposit.id} of {who.name} is held still: give it back with "
                f"`coatbook deposit refund {job.number} {left} --customer {who.code}`."
            )


def keep_deposit(act: OpenAct, *, job: int, amount: Money, why: str) -> None:
    """Keep deposits of a job that was called off, the earliest first: they are earned from that day on.

    Raises:
        Refusal: the job is not called off, or less is held.
    """
    found, reason = find_job(act.session, job), text.line(why, "reason")
    called_off = event_day(act.session, found.id, "called off")
    if called_off is None:
        raise Refusal(
            f"job {job} is not called off: a deposit of it is drawn on its invoice, or given back with "
            f"`coatbook deposit refund {job} AMOUNT`"
        )
    not_before(act.on, called_off, "keeping a deposit", f"job {job} was called off")
    for one in _held(act, found, amount):
        _use(act, found, one, KEPT, one.deposit.method, reason=reason)
    act.tell(
        f"{amount} {act.currency} of the deposits for job {job} is kept and counts as earned on {act.on}: {reason}. "
        "Whether tax is due on a deposit kept is the shop's to confirm locally."
    )


def refund_deposit(act: OpenAct, *, job: int, amount: Money, method: str, customer: str | None = None) -> None:
    """Give deposits of a job back, the earliest first.

    Raises:
        Refusal: less is held, or several customers' is and none is named.
    """
    found, how = find_job(act.session, job), text.line(method, "method", 40)
    payer = by_code(act.session, Customer, customer, "customer") if customer is not None else None
    drawings = _held(act, found, amount, payer)
    owners = {one.deposit.customer for one in _all_held(act, found, payer)}
    if len(owners) > 1:
        codes = ", ".join(sorted(got(act.session, Customer, one).code for one in owners))
        raise Misuse(f"deposits of several are held for job {job} ({codes}): say whose goes back with --customer")
    for one in drawings:
        _use(act, found, one, REFUND, how)
    who = got(act.session, Customer, owners.pop())
    act.tell(f"{amount} {act.currency} of the deposits for job {job} goes back to {who.name} by {how}.")


def _use(act: OpenAct, job: Job, one: Drawing, kind: str, method: str, reason: str | None = None) -> None:
    act.add(
        Payment(
            customer=one.deposit.customer,
            minor=one.amount.minor,
            method=method,
            kind=kind,
            job=job.id,
            of=one.deposit.id,
            text=reason,
        )
    )


def _all_held(act: OpenAct, job: Job, customer: Customer | None = None) -> list[Drawing]:
    """All of a job's deposits that can be used from the act's day on."""
    found = deposits_of(act.session, job.id, customer.id if customer else None)
    held = [Drawing(one, Money(held_from(act.session, one, act.on), act.currency)) for one in found]
    return [one for one in held if one.amount]


def _held(act: OpenAct, job: Job, amount: Money, customer: Customer | None = None) -> list[Drawing]:
    """An amount, taken from a job's deposits."""
    more_than_nothing(amount, "amount")
    held, left, taken = _all_held(act, job, customer), amount.minor, []
    whole = Money(sum(one.amount.minor for one in held), act.currency)
    if whole < amount:
        whose = f" of {customer.name}" if customer else ""
        raise Refusal(
            f"{whole} of the deposits{whose} for job {job.number} is held from {act.on} on, not {amount}: "
            "`coatbook deposit list` shows them"
        )
    for one in held:
        part = min(left, one.amount.minor)
        if part:
            taken.append(Drawing(one.deposit, Money(part, act.currency)))
            left -= part
    return taken
