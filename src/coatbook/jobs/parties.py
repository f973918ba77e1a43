"""Who pays for a job and how much of it: one customer for all, or several by shares that come to the whole.

Fixed sums come first; what they leave is shared by per cent, and one payer without a share takes the rest.
"""

from decimal import Decimal

from sqlalchemy import select

from coatbook.jobs.tables import Job, Party
from coatbook.jobs.views import payers_of
from coatbook.people.tables import Customer
from coatbook.store.acts import OpenAct
from coatbook.store.finding import got
from coatbook.values import Misuse, Money, Quantity, Refusal
from coatbook.values.checks import more_than_nothing, of_dimension
from coatbook.values.words import percent

WHOLE = 1_000_000  # millionths
_PER_QUANTUM = WHOLE // Quantity.of(100, "%").quanta


def add_payer(act: OpenAct, job: Job, customer: Customer, share: Quantity | None, amount: Money | None) -> None:
    """Write what one of several payers pays; what the same customer paid before is struck.

    Raises:
        Refusal: the shares come to more than 100 %.
    """
    part = Party(job=job.id, customer=customer.id, role="pays", share=_millionths(share), minor=_minor(amount))
    for row in _rows(act, job):
        if row.customer == customer.id:
            act.strike(row, f"{customer.code} now pays another share")
    given = sum(payer.share or 0 for payer in payers_of(act.session, job.id)) + (part.share or 0)
    if given > WHOLE:
        raise Refusal(
            f"the shares of job {job.number} would come to {told(given)}: give {customer.code} "
            f"{told(WHOLE - given + (part.share or 0))} or less, or begin anew with "
            f"`coatbook job party {job.number} pays CUSTOMER`"
        )
    act.add(part)
    act.tell(f"Job {job.number}: {customer.name} pays {told(part.share) if part.share else f'{amount}'}.")
    _look_at_rest(act, job, given)


def _look_at_rest(act: OpenAct, job: Job, given: int) -> None:
    """Where the shares come to the whole, whoever had the rest pays nothing; where nobody has it, say so."""
    rest = [row for row in _rows(act, job) if row.share is None and row.minor is None]
    for row in rest:
        who = got(act.session, Customer, row.customer)
        if given == WHOLE:
            act.strike(row, "nothing is left to pay")
            act.tell(f"{who.name} had the rest, which is nothing now, and pays no more.")
        else:
            act.tell(f"{who.name} pays the rest.")
    if not rest and given < WHOLE:
        act.tell(f"Nobody has the rest yet: {_missing(job, given)}.")


def refuse_open_shares(act: OpenAct, job: Job) -> None:
    """Refuse while the payers' shares do not come to the whole: someone must be asked for the rest."""
    payers = payers_of(act.session, job.id)
    given = sum(payer.share or 0 for payer in payers)
    rest = [payer for payer in payers if payer.share is None and payer.minor is None]
    if len(rest) != 1 and given < WHOLE:
        raise Refusal(f"nobody pays the rest of job {job.number}: {_missing(job, given)}")


def _missing(job: Job, given: int) -> str:
    name = f"`coatbook job party {job.number} pays CUSTOMER"
    if given:
        return f'{told(WHOLE - given)} is still to be shared out, with {name} --share "{told(WHOLE - given)}"`'
    return f"write who takes what the sums leave with {name}`, then the sums again with --share"


def told(millionths: int) -> str:
    """A share in per cent."""
    return percent(Decimal(millionths) / WHOLE)


def _millionths(share: Quantity | None) -> int | None:
    if share is None:
        return None
    more_than_nothing(of_dimension(share, "ratio", "share"), "share")
    if share > Quantity.of(100, "%"):
        raise Misuse(f"a share of {share} is more than the whole: 100 % at most")
    return share.quanta * _PER_QUANTUM


def _minor(amount: Money | None) -> int | None:
    return None if amount is None else more_than_nothing(amount, "share").minor


def _rows(act: OpenAct, job: Job) -> list[Party]:
    rows = select(Party).filter_by(job=job.id, role="pays", struck_on=None).order_by(Party.id)
    return list(act.session.scalars(rows).all())
