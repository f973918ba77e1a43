"""Reviews in words and as data with stable keys."""

from decimal import Decimal
from typing import Any

from coatbook.review.views import Figures, JobReview, MonthJob, MonthReview
from coatbook.values import Money
from coatbook.values.quantity import plain
from coatbook.values.words import count, percent, table


def _figures(found: Figures, currency: str) -> dict[str, Any]:
    def money(minor: int) -> str:
        return str(Money(minor, currency))

    return {
        "revenue": money(found.revenue),
        "materials": money(found.materials),
        "labor": money(found.labor),
        "expenses": money(found.expenses),
        "overhead": money(found.overhead),
        "profit_before_owner": money(found.profit_before_owner),
        "owner_labor": money(found.owner_labor),
        "profit": money(found.profit),
        "margin": None if found.margin is None else str(found.margin),
        "hours": plain(found.hours),
    }


def job_data(found: JobReview, currency: str) -> dict[str, Any]:
    """A job's review. `work_in_progress` is what an unrecognized job has cost so far."""
    return {
        "job": found.job,
        "mark": found.called,
        "customer": found.customer,
        "customer_name": found.customer_name,
        "currency": currency,
        "recognized": found.recognized.isoformat() if found.recognized else None,
        "called_off": found.called_off.isoformat() if found.called_off else None,
        **_figures(found.figures, currency),
        "work_in_progress": str(Money(found.in_progress.cost, currency)),
        "deposits_kept": str(Money(found.kept, currency)),
        "deposits_held": str(Money(found.held, currency)),
        "months": [
            {
                "month": str(one.month),
                "revenue": str(Money(one.figures.revenue, currency)),
                "cost": str(Money(one.figures.cost, currency)),
                "profit_before_owner": str(Money(one.figures.profit_before_owner, currency)),
                "profit": str(Money(one.figures.profit, currency)),
            }
            for one in found.months
        ],
        "variances": [],
    }


def _month_job(one: MonthJob, currency: str) -> dict[str, Any]:
    return {
        "job": one.job,
        "mark": one.called,
        "customer": one.customer,
        "customer_name": one.customer_name,
        **_figures(one.figures, currency),
        "to_date": _figures(one.to_date, currency),
    }


def month_data(found: MonthReview, currency: str) -> dict[str, Any]:
    """A month's review."""

    def money(minor: int) -> str:
        return str(Money(minor, currency))

    figures = found.figures
    return {
        "month": str(found.month),
        "as_of": found.on.isoformat(),
        "currency": currency,
        "revenue": money(figures.revenue),
        "cost": money(figures.cost),
        "profit_before_owner": money(figures.profit_before_owner),
        "owner_labor": money(figures.owner_labor),
        "overhead": money(figures.overhead),
        "profit": money(figures.profit),
        "hours": plain(figures.hours),
        "shop_costs": money(found.shop_costs),
        "journal_profit": money(found.journal_profit),
        "jobs": [_month_job(one, currency) for one in found.jobs],
        "work_in_progress": money(found.work_in_progress),
        "billed_ahead": money(0),
        "deposits_held": money(found.deposits_held),
        "owed": money(found.owed),
        "tax": [{"place": one.place, "base": money(one.base), "amount": money(one.amount)} for one in found.tax],
    }


def _percent(margin: Decimal | None) -> str:
    return "-" if margin is None else percent(margin)


def _account(figures: Figures, currency: str) -> str:
    """From what was earned down to profit, one line each."""
    rows = [
        ("earned", figures.revenue),
        ("  materials", -figures.materials),
        ("  labor", -figures.labor),
        ("  expenses and travel", -figures.expenses),
        ("profit before the owner's own hours", figures.profit_before_owner),
        ("  owner's hours", -figures.owner_labor),
        ("  overhead", -figures.overhead),
        ("profit", figures.profit),
    ]
    return table(("", currency), [(name, str(Money(minor, currency))) for name, minor in rows], right=(1,))


def job_story(found: JobReview, currency: str) -> str:
    figures = found.figures
    if found.recognized is None:
        spent = Money(found.in_progress.cost, currency)
        return (
            f"Job {found.job} on {found.called} for {found.customer_name} is not invoiced yet: it has brought in "
            f"nothing yet and has cost {spent} {currency} so far, which is work in progress and counts for no month"
            f"{_still_held(found, currency)}."
        )
    profit = Money(abs(figures.profit), currency)
    did = "earned" if figures.profit >= 0 else "lost"
    hours = f"{plain(figures.hours)} {'hour' if figures.hours == 1 else 'hours'}"
    share = (
        " and brought in nothing" if figures.margin is None else f", {percent(figures.margin)} of what it brought in"
    )
    told = (
        f"Job {found.job} on {found.called} for {found.customer_name} {did} {profit} {currency} in {hours}{share}; "
        f"{_recognized(found, currency)}{_still_held(found, currency)}."
    )
    rows = [
        (
            str(one.month),
            *(
                str(Money(minor, currency))
                for minor in (
                    one.figures.revenue,
                    one.figures.cost,
                    one.figures.profit_before_owner,
                    one.figures.profit,
                )
            ),
        )
        for one in found.months
    ]
    months = table(("month", "earned", "cost", "before owner", "profit"), rows, right=(1, 2, 3, 4))
    return "\n".join((told, "", _account(figures, currency), "", months))


def _recognized(found: JobReview, currency: str) -> str:
    """Since when a job counts, and what it earned if it was called off."""
    if found.called_off is None or found.called_off != found.recognized:
        return f"recognized on {found.recognized}"
    kept = f"{Money(found.kept, currency)} of its deposits is kept" if found.kept else "nothing of a deposit is kept"
    return f"called off on {found.called_off}, {kept}"


def _still_held(found: JobReview, currency: str) -> str:
    return f"; {Money(found.held, currency)} of its deposits is held still" if found.held else ""


def month_story(found: MonthReview, currency: str) -> str:
    figures = found.figures
    did = "earned" if figures.profit >= 0 else "lost"
    profit = Money(abs(figures.profit), currency)
    told = f"{found.month} {did} {profit} {currency} from {count(len(found.jobs), 'job')}"
    losing = [one for one in found.jobs if one.figures.profit < 0]
    if losing:
        worst = min(losing, key=lambda one: one.figures.profit)
        told += f"; job {worst.job} ({worst.called}) lost {Money(-worst.figures.profit, currency)}"
    parts = [f"{told}.", "", _account(figures, currency), ""]
    rows: list[tuple[str, ...]] = [
        (
            str(one.job),
            one.called,
            one.customer_name,
            str(Money(one.figures.revenue, currency)),
            str(Money(one.figures.profit_before_owner, currency)),
            str(Money(one.figures.profit, currency)),
            _percent(one.figures.margin),
        )
        for one in found.jobs
    ]
    if rows:
        headings = ("job", "aircraft", "customer", "earned", "before owner", "profit", "margin")
        parts += [table(headings, _fitted(rows), right=(0, 3, 4, 5, 6)), ""]
    balances = [
        ("shop's own costs", found.shop_costs),
        ("profit in the journal", found.journal_profit),
        ("work in progress", found.work_in_progress),
        *((("deposits held", found.deposits_held),) if found.deposits_held else ()),
        ("owed by customers", found.owed),
        *((f"tax of {one.place} on {Money(one.base, currency)}", one.amount) for one in found.tax),
    ]
    heading = f"on {found.on}"
    parts.append(
        table((heading, currency), [(name, str(Money(minor, currency))) for name, minor in balances], right=(1,))
    )
    parts += [
        "",
        "A job counts in the month its final invoice is dated; until then its costs are",
        "work in progress. Owner's hours and overhead are memo: not in the journal.",
    ]
    return "\n".join(parts)


def _fitted(rows: list[tuple[str, ...]], width: int = 80) -> list[tuple[str, ...]]:
    """Rows whose customer's name is cut so that a table of 80 columns holds them."""
    others = sum(max(len(row[place]) for row in rows) for place in range(7) if place != 2)
    room = max(8, width - others - 6 * 2 - 4)
    return [(*row[:2], row[2] if len(row[2]) <= room else row[2][: room - 1] + "…", *row[3:]) for row in rows]
