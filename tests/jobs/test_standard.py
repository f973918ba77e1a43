"""Standard steps of a service, and a plan made from them by area."""

import json
from collections.abc import Callable
from typing import Any

import pytest

from coatbook.billing.actions import offer_service, set_price
from coatbook.billing.pricing import price_plan
from coatbook.jobs import actions as jobs
from coatbook.jobs import standard
from coatbook.jobs.tables import Service
from coatbook.jobs.views import StandardStep, find_job, services, standard_steps, steps_of, undecided_steps
from coatbook.store.book import Book
from coatbook.store.finding import by_code
from coatbook.values import Misuse, Quantity, Refusal
from desk.shopfloor import do, new_job, quantity, usd

DAY = "2026-04-01"
Run = Callable[..., str]
COMPOUND: dict[str, Any] = {
    "service": "polish",
    "name": "Compound",
    "hours": quantity("12 min"),
    "per_area": quantity("10 ft2"),
    "passes": 2,
    "removal": quantity("1 µm"),
    "material": "sealant",
}
FINISH: dict[str, Any] = {
    "service": "polish",
    "name": "Finish",
    "hours": quantity("0.5 h"),
    "removal": quantity("1 µm"),
}


def write(book: Book, **values: Any) -> None:
    do(book, DAY, standard.add_standard_step, **values)


@pytest.fixture
def polishing(shop: Book) -> Book:
    """Polish is a compound timed by area and a finish timed by surface; job 2 has no plan yet."""
    write(shop, **COMPOUND)
    write(shop, **FINISH)
    new_job(shop, DAY)
    return shop


def standing(book: Book, code: str = "polish") -> tuple[StandardStep, ...]:
    with book.read() as session:
        return standard_steps(session, by_code(session, Service, code, "service").id)


def plan(book: Book, *surfaces: str, service: str = "polish", **more: Any) -> list[int]:
    return list(do(book, DAY, standard.plan_standard, job=2, service=service, surfaces=surfaces, **more).result)


def test_a_plan_has_each_standard_step_on_each_surface(polishing: Book) -> None:
    assert plan(polishing, "left wing", "elevator") == [1, 2, 3, 4]
    with polishing.read() as session:
        steps = steps_of(session, find_job(session, 2).id)
    # 84 ft2 at 12 min for 10 ft2 are 100.8 min, 20 ft2 are 24 min
    assert [(step.name, step.surface, step.hours, step.passes, step.materials) for step in steps] == [
        ("Compound", "left wing", Quantity.of(105, "min").told("h"), 2, ("sealant",)),
        ("Compound", "elevator", Quantity.of(25, "min").told("h"), 2, ("sealant",)),
        ("Finish", "left wing", Quantity.of(30, "min").told("h"), 1, ()),
        ("Finish", "elevator", Quantity.of(30, "min").told("h"), 1, ()),
    ]
    assert {step.removal for step in steps} == {quantity("1 µm")}


def test_the_sum_is_told_with_its_rounding(polishing: Book) -> None:
    told = do(polishing, DAY, standard.plan_standard, job=2, service="polish", surfaces=["elevator"]).text
    assert told.splitlines() == [
        "Job 2, step 1: Prep polish, Compound on elevator.",
        "Job 2, step 2: Prep polish, Finish on elevator.",
        "Hours are area times standard, each rounded up to 5 minutes: 55 min in all.",
    ]


@pytest.mark.parametrize(
    ("area", "minutes"),
    [("84 ft2", 105), ("25 ft2", 30), ("25.001 ft2", 35), ("0.001 ft2", 5), ("4.166 ft2", 5), ("8 m2", 105)],
)
def test_hours_are_rounded_up_to_five_minutes(area: str, minutes: int) -> None:
    step = StandardStep(1, "Compound", quantity("12 min"), quantity("10 ft2"), 1, None, None)
    assert standard.standard_hours(step, quantity(area)) == Quantity.of(minutes, "min")


def test_an_area_is_charged_once_for_a_service_however_many_steps_stand_on_it(polishing: Book) -> None:
    plan(polishing, "left wing", "elevator")
    with polishing.read() as session:
        steps = steps_of(session, find_job(session, 2).id)
        day = steps and find_job(session, 2).opened
        (line,) = price_plan(session, steps, day, day, "USD").lines
    assert line.quantity == quantity("104 ft2")
    assert line.net == usd("442.00")  # 104 x 4.25
    assert line.text == "Prep polish: left wing, elevator"


def test_two_services_each_charge_the_area(polishing: Book) -> None:
    plan(polishing, "elevator")
    do(polishing, DAY, jobs.plan_steps, job=2, service="coating", surfaces=["elevator"])
    with polishing.read() as session:
        job = find_job(session, 2)
        lines = price_plan(session, steps_of(session, job.id), job.opened, job.opened, "USD").lines
    assert [line.net for line in lines] == [usd("85.00"), usd("120.00")]


def test_a_dropped_step_is_planned_no_more_and_may_come_back(polishing: Book) -> None:
    do(polishing, DAY, standard.drop_standard_step, service="polish", name="compound")
    assert [one.name for one in standing(polishing)] == ["Finish"]
    assert plan(polishing, "elevator") == [1]
    write(polishing, **(COMPOUND | {"hours": quantity("9 min")}))
    assert [(one.n, one.name) for one in standing(polishing)] == [(2, "Finish"), (3, "Compound")]
    assert standing(polishing)[1].hours == quantity("9 min")


def test_a_service_without_surfaces_has_standard_steps_by_the_job(shop: Book) -> None:
    write(shop, service="wash", name="Rinse", hours=quantity("20 min"))
    write(shop, service="wash", name="Dry")
    new_job(shop, DAY)
    plan(shop, service="wash")
    with shop.read() as session:
        found = [(step.name, step.hours) for step in steps_of(session, find_job(session, 2).id)]
    assert found == [("Rinse", Quantity.of(20, "min").told("h")), ("Dry", None)]


@pytest.mark.parametrize(
    ("values", "kind", "says"),
    [
        (COMPOUND, Refusal, "Prep polish has a standard step 'Compound' already: drop it first"),
        (COMPOUND | {"name": "Two", "removal": None}, Misuse, "Prep polish takes film off: say what one pass takes"),
        (COMPOUND | {"name": "Two", "hours": None}, Misuse, "--per-area says what the --hours are for"),
        (COMPOUND | {"name": "Two", "hours": quantity("0 h")}, Refusal, "the hours 0 h must be more than zero"),
        (COMPOUND | {"name": "Two", "per_area": quantity("1 ft")}, Misuse, "the area 1 ft must be an area"),
        (COMPOUND | {"name": "Two", "passes": 0}, Misuse, "the number of passes 0 must lie between 1 and 20"),
        (COMPOUND | {"service": "wash"}, Refusal, "Wash is written as taking no film off: give the step"),
        (COMPOUND | {"name": "Two", "material": "wax"}, Refusal, "there is no material 'wax'"),
    ],
)
def test_what_is_no_standard_step(polishing: Book, values: Any, kind: type[Refusal], says: str) -> None:
    with pytest.raises(kind, match=says):
        write(polishing, **values)


def test_what_cannot_be_planned_by_standard(polishing: Book) -> None:
    with pytest.raises(Refusal, match="Wash has no standard steps: write them with `coatbook service steps wash"):
        plan(polishing, service="wash")
    with pytest.raises(Misuse, match="Compound is timed by area: name what it is done on with --surface"):
        plan(polishing)
    with pytest.raises(Refusal, match="Prep polish has no standard step 'Wax'"):
        do(polishing, DAY, standard.drop_standard_step, service="polish", name="Wax")


def test_work_of_a_service_is_written_and_changed(shop: Book) -> None:
    do(shop, DAY, offer_service, code="leather", name="Leather", abrasive=False, tax_kind="labor", work="leather")
    do(shop, DAY, offer_service, code="sanding", name="Sanding", abrasive=False, tax_kind="labor", work="abrasive")
    do(shop, DAY, standard.edit_service, code="coating", work="coat", name="Ceramic coating")
    with shop.read() as session:
        works = {one.code: (one.work, one.abrasive) for one in services(session)}
        assert by_code(session, Service, "coating", "service").name == "Ceramic coating"
        assert [step.key for step in undecided_steps(session, find_job(session, 1).id)] == [2, 3]
    assert works == {
        "coating": ("coat", False),
        "leather": ("leather", False),
        "polish": ("abrasive", True),
        "sanding": ("abrasive", True),
        "wash": ("other", False),
    }


def test_what_a_plan_rests_on_does_not_begin_or_cease_to_take_film_off(shop: Book) -> None:
    with pytest.raises(Refusal, match="steps of Wash are planned or are its standard, and whether it takes film off"):
        do(shop, DAY, standard.edit_service, code="wash", work="abrasive")
    with pytest.raises(Refusal, match="steps of Prep polish are planned"):
        do(shop, DAY, standard.edit_service, code="polish", work="other")
    with pytest.raises(Misuse, match="nothing to change"):
        do(shop, DAY, standard.edit_service, code="polish")
    with pytest.raises(Misuse, match="what takes film off is abrasive work, not coat"):
        do(shop, DAY, jobs.add_service, code="x", name="X", abrasive=True, work="coat")
    do(shop, DAY, jobs.add_service, code="clay", name="Clay", abrasive=False)
    do(shop, DAY, standard.edit_service, code="clay", work="abrasive")
    do(shop, DAY, set_price, service="clay", amount=usd("1.00"), basis="area")


def test_as_typed(furnished: object, coatbook: Run, refused: Run) -> None:
    typed = ("--hours", "12 min", "--per-area", "10 ft2", "--passes", "2", "--removal", "1 µm", "--material", "sealant")
    told = coatbook("service", "steps", "polish", "--add", "Compound", *typed)
    assert told == "Prep polish, standard step 1: Compound, 12 min for each 10 ft2.\n"
    assert coatbook("service", "steps", "polish") == (
        "n  name       hours  per area  passes  removal  material\n"
        "1  Compound  12 min    10 ft2       2     1 µm  sealant\n"
    )
    assert json.loads(coatbook("service", "steps", "polish", "--json")) == [
        {
            "n": 1,
            "name": "Compound",
            "hours": "12",
            "hours_unit": "min",
            "per_area": "10",
            "per_area_unit": "ft2",
            "passes": 2,
            "removal": "1",
            "removal_unit": "µm",
            "material": "sealant",
        }
    ]
    told = coatbook("job", "plan", "1", "polish", "--surface", "elevator", "--standard")
    assert told.startswith("Job 1, step 4: Prep polish, Compound on elevator.\n")
    assert "leave the others out" in refused("job", "plan", "1", "polish", "--standard", "--hours", "2h", code=2)
    assert coatbook("service", "steps", "polish", "--drop", "compound").startswith("Prep polish: Compound is no")
    assert "No standard steps yet" in coatbook("service", "steps", "polish")
    assert "give --add NAME too" in refused("service", "steps", "polish", "--hours", "2h", code=2)
    assert "one thing each" in refused("service", "steps", "polish", "--add", "x", "--drop", "y", code=2)
    assert coatbook("service", "edit", "coating", "--work", "coat") == "Service coating: work changed.\n"
