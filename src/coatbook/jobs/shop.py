"""The shop's own hours and spending: lines of the diary without a job.

They carry no overhead: they are what the overhead of the jobs' hours pays for.
"""

from coatbook.jobs.diary import expense_line, hours_line, to_and_from
from coatbook.people.tables import Worker
from coatbook.store.acts import OpenAct
from coatbook.store.finding import by_code
from coatbook.values import Money, Quantity, text


def log_shop_hours(act: OpenAct, *, worker: str, hours: Quantity, note: str | None = None) -> int:
    """Write hours of work for no job: cleaning, buying, the office."""
    who = by_code(act.session, Worker, worker, "worker")
    entry = act.add(hours_line(act, who, hours, note))
    act.tell(f"Line {entry.id}, the shop: {hours} of {who.name}, {Money(entry.minor or 0, act.currency)}.")
    return entry.id


def log_shop_expense(
    act: OpenAct,
    *,
    amount: Money,
    what: str,
    category: str,
    payee: str | None = None,
    paid_from: str | None = None,
) -> int:
    """Write money spent for no job, under a category of the shop's own: rent, insurance, van, tools."""
    entry = expense_line(act, amount, what, payee, paid_from)
    entry.category = text.line(category, "category", 40).lower()
    act.add(entry)
    spent = f"{amount} {act.currency} for {entry.text} ({entry.category}){to_and_from(entry)}"
    act.tell(f"Line {entry.id}, the shop: {spent}.")
    return entry.id
