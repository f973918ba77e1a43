"""What jobs and months earned: when a line counts, and that jobs and months add up to each other."""

import datetime as dt
from decimal import Decimal
from typing import Any

import pytest

from coatbook.billing.actions import set_price
from coatbook.desk.telling_review import job_data, job_story, month_data, month_story
from coatbook.jobs import actions as jobs
from coatbook.review.views import Figures, JobReview, MonthReview, review_job, review_month
from coatbook.store.book import Book
from coatbook.values import Refusal
from coatbook.values.days import Month
from desk.shopfloor import TODAY, do, expense, hand_over, hours, issue, new_job, pay, strike, usd, use, washed

MARCH, MAY, JUNE = Month(2026, 3), Month(2026, 5), Month(2026, 6)


def of_job(book: Book, job: int, on: dt.date = TODAY) -> JobReview:
    with book.read() as session:
        return review_job(session, job, on)


def of_month(book: Book, month: Month, on: dt.date = TODAY) -> MonthReview:
    with book.read() as session:
        return review_month(session, month, on)


def worked(book: Book) -> int:
    """A wash over the end of May, invoiced in June: 2 h of kim, 1.5 h of sam, 4 fl oz and 12.00."""
    job = new_job(book, "2026-05-20", ("wash", ()))
    hours(book, "2026-05-29", "kim", "2 h", step=1, job=job)
    hours(book, "2026-05-30", "sam", "1.5 h", step=1, job=job)
    use(book, "2026-05-30", "4 fl oz", job)
    hand_over(book, "2026-06-01", job)
    expense(book, "2026-06-01", "12.00", job)
    return job


# By hand: revenue 150.00; labor 2 x 28.00; owner 1.5 x 45.00; overhead 3.5 x 18.50; material 4 / 32 of 48.00.
EARNED = Figures(
    revenue=15000, materials=600, labor=5600, expenses=1200, owner_labor=6750, overhead=6475, quanta=210 * 1000
)


def test_a_job_by_hand(shop: Book) -> None:
    job = worked(shop)
    issue(shop, "2026-06-02", job)
    review = of_job(shop, job)
    assert review.recognized == dt.date(2026, 6, 2)
    assert review.figures == EARNED
    assert (review.figures.cost, review.figures.profit_before_owner, review.figures.profit) == (7400, 7600, -5625)
    assert review.figures.margin == Decimal("-0.3750")
    assert review.figures.hours == Decimal("3.5")
    assert [(one.month, one.figures) for one in review.months] == [(JUNE, EARNED)]
    assert review.in_progress == Figures()


def test_until_it_is_invoiced_a_job_is_in_progress(shop: Book) -> None:
    job = worked(shop)
    review = of_job(shop, job)
    assert review.recognized is None
    assert review.figures == Figures()
    assert review.in_progress.cost == 7400
    assert review.months == ()
    assert "has cost 74.00 USD so far, which is work in progress" in job_story(review, "USD")
    issue(shop, "2026-06-02", job)
    assert of_job(shop, job, dt.date(2026, 6, 1)) == review  # as of the day before, nothing has changed
    assert of_month(shop, MAY).work_in_progress == 6200  # 56.00 + 6.00
    assert of_month(shop, JUNE).work_in_progress == 0


def test_later_costs_and_strikes_count_in_their_own_month(shop: Book) -> None:
    job = worked(shop)
    issue(shop, "2026-06-02", job)
    late = expense(shop, "2026-07-15", "40.00", job)
    review = of_job(shop, job)
    assert [(str(one.month), one.figures.profit_before_owner) for one in review.months] == [
        ("2026-06", 7600),
        ("2026-07", -4000),
    ]
    assert of_job(shop, job, dt.date(2026, 7, 14)).figures == EARNED
    strike(shop, late)
    assert of_job(shop, job).figures == EARNED


def test_a_month_is_the_sum_of_its_jobs(shop: Book) -> None:
    job, number = washed(shop, "2026-06-10")
    expense(shop, "2026-06-11", "30.00", job)
    other = worked(shop)
    issue(shop, "2026-06-12", other)
    review = of_month(shop, JUNE)
    assert [row.job for row in review.jobs] == [job, other]
    assert review.jobs[1].figures == review.jobs[1].to_date == EARNED
    assert review.figures == Figures(
        revenue=30000, materials=600, labor=5600, expenses=4200, owner_labor=6750, overhead=6475, quanta=210 * 1000
    )
    assert review.shop_costs == 0
    assert review.journal_profit == review.figures.profit_before_owner == 19600
    assert review.owed == 2 * 15938
    assert [(one.place, one.base, one.amount) for one in review.tax] == [("US-TX", 30000, 2 * 938)]
    pay(shop, "2026-06-30", "100.00", number)
    assert of_month(shop, JUNE).owed == 2 * 15938 - 10000
    assert of_month(shop, MAY).owed == 0


def test_to_date_is_what_a_job_came_to_by_the_end_of_the_month(shop: Book) -> None:
    job, _ = washed(shop, "2026-05-10")
    expense(shop, "2026-06-01", "30.00", job)
    expense(shop, "2026-07-01", "5.00", job)
    (row,) = of_month(shop, JUNE).jobs
    assert (row.figures.profit, row.to_date.profit) == (-3000, 12000)
    assert row.figures.margin is None  # nothing was earned in June to set it against
    assert row.to_date.margin == Decimal("0.8000")


def test_a_month_that_is_not_over_is_told_so_far(shop: Book) -> None:
    job, _ = washed(shop, "2026-06-10")
    expense(shop, "2026-06-20", "30.00", job)
    assert of_month(shop, JUNE, dt.date(2026, 6, 19)).figures.profit == 15000
    assert of_month(shop, JUNE, dt.date(2026, 6, 19)).on == dt.date(2026, 6, 19)
    assert of_month(shop, JUNE, dt.date(2026, 6, 20)).figures.profit == 12000
    assert of_month(shop, JUNE, dt.date(2026, 6, 9)).jobs == ()


def test_an_empty_month(shop: Book) -> None:
    review = of_month(shop, MARCH)
    assert (review.jobs, review.figures, review.journal_profit, review.tax) == ((), Figures(), 0, ())
    assert month_story(review, "USD").startswith("2026-03 earned 0.00 USD from 0 jobs.")
    data = month_data(review, "USD")
    assert data["revenue"] == data["profit"] == data["shop_costs"] == data["billed_ahead"] == "0.00"
    assert data["jobs"] == data["tax"] == []


def test_the_worst_job_is_named(shop: Book) -> None:
    job = worked(shop)
    issue(shop, "2026-06-02", job)
    washed(shop, "2026-06-10")
    told = month_story(of_month(shop, JUNE), "USD")
    assert told.startswith("2026-06 earned 93.75 USD from 2 jobs; job 2 (N123AB) lost 56.25.")
    assert "lost 56.25 USD in 3.5 hours, -37.5 % of what it brought in" in job_story(of_job(shop, job), "USD")


def test_a_job_without_revenue_has_no_margin(shop: Book) -> None:
    do(shop, "2026-06-01", set_price, service="wash", amount=usd("0.00"), basis="job")
    job, _ = washed(shop, "2026-06-10")
    expense(shop, "2026-06-10", "30.00", job)
    data = job_data(of_job(shop, job), "USD")
    assert (data["revenue"], data["profit"], data["margin"]) == ("0.00", "-30.00", None)


@pytest.mark.parametrize(
    ("profit", "margin"), [(1, "0.0000"), (-1, "0.0000"), (50, "0.0001"), (-50, "-0.0001"), (10**6, "1.0000")]
)
def test_a_margin_has_four_decimals_half_up_and_no_minus_zero(profit: int, margin: str) -> None:
    found = Figures(revenue=10**6, materials=10**6 - profit)
    assert str(found.margin) == margin


def test_a_rework_at_no_charge_is_a_loss_of_its_own(shop: Book) -> None:
    first = worked(shop)
    issue(shop, "2026-06-02", first)
    with pytest.raises(Refusal, match="job 2 was handed over on 2026-06-01: hours after that go on a rework"):
        hours(shop, "2026-06-05", "kim", "1 h", job=first)
    rework: dict[str, Any] = {"rework_of": first, "cause": "streaks in the sun", "asked_for": "wash again"}
    job = do(shop, "2026-06-05", jobs.open_job, aircraft="skylane", site="mesa", **rework).result
    do(shop, "2026-06-05", jobs.plan_steps, job=job, service="wash")
    do(shop, "2026-06-05", jobs.agree, job=job, by="Jo Alder", findings=(), results=())
    do(shop, "2026-06-05", jobs.arrive, job=job, by="Sam Reed")
    hours(shop, "2026-06-05", "kim", "1 h", job=job)
    do(shop, "2026-06-06", jobs.hand_over, job=job, to="Jo Alder", no_charge=True)
    review = of_month(shop, JUNE)
    assert [(row.job, row.figures.profit_before_owner) for row in review.jobs] == [(first, 7600), (job, -2800)]
    assert (review.figures.profit_before_owner, review.journal_profit, review.work_in_progress) == (4800, 4800, 0)
    assert of_job(shop, job).recognized == dt.date(2026, 6, 6)
    with pytest.raises(Refusal, match="was handed over at no charge on 2026-06-06: there is nothing to invoice"):
        issue(shop, "2026-06-06", job)
