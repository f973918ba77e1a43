"""What a plan comes to: each way of counting, and the price in force on the day of the agreement."""

import datetime as dt

import pytest

from billing.agreed import change
from coatbook.billing.actions import set_price
from coatbook.billing.pricing import Priced, price_plan
from coatbook.desk.closing import close_month
from coatbook.jobs.actions import add_service
from coatbook.jobs.views import changes_of, find_job, steps_of
from coatbook.store.book import Book
from coatbook.values import Misuse, Refusal
from coatbook.values.days import Month
from desk.shopfloor import TODAY, do, hours, new_job, quantity, strike, usd

APRIL = "2026-04-01"
BOTH = ("left wing", "elevator")


def priced(book: Book, job: int, agreed: str = APRIL) -> Priced:
    with book.read() as session:
        row = find_job(session, job).id
        changes = changes_of(session, row)
        return price_plan(session, steps_of(session, row), dt.date.fromisoformat(agreed), TODAY, "USD", changes)


def lines(book: Book, job: int, agreed: str = APRIL) -> list[tuple[str, str, str, str]]:
    """(text, quantity, price, net) of each line."""
    found = priced(book, job, agreed).lines
    return [(line.text, str(line.quantity), str(line.price), str(line.net)) for line in found]


def price(book: Book, service: str, amount: str, basis: str, per: str | None = None, since: str = APRIL) -> None:
    values = {"amount": usd(amount), "basis": basis, "per": quantity(per) if per else None}
    do(book, since, set_price, service=service, **values)


def test_by_job_counts_once_however_many_steps(shop: Book) -> None:
    job = new_job(shop, APRIL, ("wash", BOTH), ("wash", ()))
    assert lines(shop, job) == [("Wash: left wing, elevator", "1 each", "150.00 per each", "150.00")]


def test_by_each_counts_the_steps(shop: Book) -> None:
    price(shop, "wash", "42.50", "each")
    job = new_job(shop, APRIL, ("wash", BOTH), ("wash", ("left wing",)))
    assert lines(shop, job) == [("Wash: left wing, elevator", "3 each", "42.50 per each", "127.50")]


def test_by_area_counts_a_surface_once_however_many_steps_stand_on_it(shop: Book) -> None:
    job = new_job(shop, APRIL, ("coating", BOTH), ("coating", ("elevator",)))
    # (84 + 20) x 6.00
    assert lines(shop, job) == [("Protective coating: left wing, elevator", "104 ft2", "6.00 per ft2", "624.00")]


def test_by_area_for_ten_square_feet(shop: Book) -> None:
    price(shop, "coating", "58.75", "area", "10 ft2")
    job = new_job(shop, APRIL, ("coating", ("left wing",)))
    # 84 / 10 x 58.75 = 493.50
    assert lines(shop, job)[0][1:] == ("84 ft2", "58.75 per 10 ft2", "493.50")


def test_by_area_in_another_unit_than_the_surface_was_measured_in(shop: Book) -> None:
    price(shop, "coating", "45.00", "area", "1 m2")
    job = new_job(shop, APRIL, ("coating", ("left wing",)))
    # 84 ft2 x 0.09290304 = 7.80385536 m2; x 45.00 = 351.1735
    assert lines(shop, job)[0][1:] == ("7.804 m2", "45.00 per m2", "351.17")


def test_by_hour_counts_the_hours_that_stand_on_the_steps(shop: Book) -> None:
    price(shop, "wash", "80.00", "hour")
    job = new_job(shop, APRIL, ("wash", BOTH))
    hours(shop, "2026-04-02", "sam", "1.5 h", step=1, job=job)
    hours(shop, "2026-04-02", "kim", "45 min", step=2, job=job)
    hours(shop, "2026-04-02", "kim", "2 h", job=job)  # on no step
    strike(shop, hours(shop, "2026-04-02", "kim", "8 h", step=2, job=job))
    assert lines(shop, job)[0][1:] == ("2.25 h", "80.00 per h", "180.00")


def test_by_half_hour_rounds_once(shop: Book) -> None:
    price(shop, "wash", "33.33", "hour", "30 min")
    job = new_job(shop, APRIL, ("wash", ()))
    hours(shop, "2026-04-02", "sam", "50 min", step=1, job=job)
    hours(shop, "2026-04-02", "sam", "20 min", step=1, job=job)
    # 70 / 30 x 33.33 = 77.77
    assert lines(shop, job)[0][3] == "77.77"


def test_by_hour_without_hours_is_left_out_with_a_sentence(shop: Book) -> None:
    price(shop, "wash", "80.00", "hour")
    found = priced(shop, new_job(shop, APRIL, ("wash", ()), ("coating", ("elevator",))))
    assert [line.service for line in found.lines] == ["coating"]
    assert found.left_out == ("Wash is priced by the hour and has no hours: it is not on the invoice.",)


def test_one_line_for_each_service_in_the_order_of_the_plan(shop: Book) -> None:
    job = new_job(shop, APRIL, ("coating", ("elevator",)), ("wash", ()), ("coating", ("left wing",)))
    assert [text for text, *_ in lines(shop, job)] == ["Protective coating: elevator, left wing", "Wash"]


@pytest.mark.parametrize(("agreed", "net"), [("2026-04-30", "150.00"), ("2026-05-01", "170.00"), (APRIL, "150.00")])
def test_the_price_in_force_on_the_day_of_the_agreement(shop: Book, agreed: str, net: str) -> None:
    do(shop, APRIL, set_price, service="wash", amount=usd("170.00"), basis="job", from_on=dt.date(2026, 5, 1))
    assert lines(shop, new_job(shop, APRIL, ("wash", ())), agreed)[0][3] == net


def test_of_two_prices_from_one_day_the_later_written_counts(shop: Book) -> None:
    price(shop, "wash", "160.00", "job")
    price(shop, "wash", "155.00", "job")
    job = new_job(shop, APRIL, ("wash", ()))
    assert lines(shop, job)[0][3] == "155.00"
    strike(shop, "price:5")  # the fifth ever written
    assert lines(shop, job)[0][3] == "160.00"
    strike(shop, "price:4")
    assert lines(shop, job)[0][3] == "150.00"


def test_a_service_without_a_price_is_refused_with_the_command_that_helps(shop: Book) -> None:
    do(shop, APRIL, add_service, code="leather", name="Leather care", abrasive=False)
    price(shop, "leather", "200.00", "job", since="2026-05-01")
    job = new_job(shop, APRIL, ("leather", ()))
    with pytest.raises(Refusal, match="Leather care has no price on 2026-04-01, when the job was agreed") as refusal:
        priced(shop, job)
    assert "`coatbook service price leather AMOUNT --per … --from 2026-04-01`" in str(refusal.value)


def test_a_price_by_area_needs_a_surface(shop: Book) -> None:
    job = new_job(shop, APRIL, ("coating", ("elevator",)), ("coating", ()))
    with pytest.raises(Refusal, match=r"step 2 \(Protective coating\) is priced by area and names no surface"):
        priced(shop, job)


@pytest.mark.parametrize(
    ("basis", "amount", "per", "told"),
    [
        ("job", "10.00", "1 each", "a price per job is for one"),
        ("each", "10.00", "2 each", "a price per each is for one"),
        ("area", "10.00", "1 h", "the quantity the price is for 1 h must be an? area"),
        ("hour", "10.00", "1 ft2", "the quantity the price is for 1 ft2 must be a time"),
        ("area", "10.00", "0 ft2", "must be more than zero"),
        ("week", "10.00", None, "basis"),
        ("job", "-1.00", None, "the price -1.00 must not be below zero"),
    ],
)
def test_prices_that_say_nothing_are_refused(shop: Book, basis: str, amount: str, per: str | None, told: str) -> None:
    with pytest.raises((Refusal, Misuse), match=told):
        price(shop, "wash", amount, basis, per)


def test_a_price_may_begin_on_a_coming_day_but_not_in_a_closed_month(shop: Book) -> None:
    do(shop, None, set_price, service="wash", amount=usd("190.00"), basis="job", from_on=dt.date(2027, 1, 1))
    do(shop, None, close_month, month=Month(2026, 3))
    with pytest.raises(Refusal, match="the price is dated 2026-03-31, but 2026-03 is closed"):
        do(shop, None, set_price, service="wash", amount=usd("1.00"), basis="job", from_on=dt.date(2026, 3, 31))


MAY = "2026-05-04"


def test_a_change_with_a_price_of_its_own_is_one_line_and_its_steps_are_not_priced(shop: Book) -> None:
    job = new_job(shop, APRIL, ("wash", ()))
    steps = (("coating", "elevator"), ("polish", "left wing"))
    change(shop, MAY, job, "polish and coat the tail too", amount="410.00", service="coating", steps=steps)
    change(shop, MAY, job, "no second wash", amount="-40.00", service="wash")
    assert lines(shop, job) == [
        ("Wash", "1 each", "150.00 per each", "150.00"),
        ("Agreed change 1: polish and coat the tail too", "1 each", "410.00 per each", "410.00"),
        ("Agreed change 2: no second wash", "1 each", "-40.00 per each", "-40.00"),
    ]
    assert [line.service for line in priced(shop, job).lines] == ["wash", "coating", "wash"]


def test_a_change_without_one_is_priced_as_on_the_day_it_was_agreed(shop: Book) -> None:
    job = new_job(shop, APRIL, ("coating", ("left wing",)))
    price(shop, "coating", "7.00", "area", since="2026-05-01")
    change(shop, MAY, job, "the elevator too", steps=(("coating", "elevator"),))
    change(shop, "2026-04-30", job, "and wash it", steps=(("wash", None),))
    assert lines(shop, job) == [
        ("Protective coating: left wing", "84 ft2", "6.00 per ft2", "504.00"),
        ("Protective coating: elevator (agreed change 1)", "20 ft2", "7.00 per ft2", "140.00"),
        ("Wash (agreed change 2)", "1 each", "150.00 per each", "150.00"),
    ]


def test_a_price_for_the_job_is_charged_once_however_much_changes(shop: Book) -> None:
    job = new_job(shop, APRIL, ("wash", ("left wing",)))
    change(shop, MAY, job, "the elevator too", steps=(("wash", "elevator"),))
    found = priced(shop, job)
    assert [line.text for line in found.lines] == ["Wash: left wing"]
    assert found.left_out == ("Wash is priced by the job and charged once: change 1 adds nothing for it.",)


def test_a_struck_change_never_was(shop: Book) -> None:
    job = new_job(shop, APRIL, ("wash", ()))
    change(shop, MAY, job, "wax it too", amount="90.00", service="wash")
    strike(shop, "change:1")
    assert [text for text, *_ in lines(shop, job)] == ["Wash"]


def test_a_change_that_cannot_be_charged_is_refused(shop: Book) -> None:
    job = new_job(shop, APRIL, ("wash", ()))
    change(shop, MAY, job, "wax it too", amount="90.00")
    with pytest.raises(Refusal, match=r"change 1 \(wax it too\) has a price and no service it is charged as"):
        priced(shop, job)
    strike(shop, "change:1")
    do(shop, APRIL, add_service, code="leather", name="Leather care", abrasive=False)
    change(shop, MAY, job, "the seats too", steps=(("leather", None),))
    with pytest.raises(Refusal, match="Leather care has no price on 2026-05-04, when change 2 was agreed"):
        priced(shop, job)
