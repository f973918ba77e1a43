"""`material trace`: every coat and use of a lot, on which aircraft, whose it was then and whose it is now."""

import json
from collections.abc import Callable

import pytest

from coatbook.aircraft import actions as aircraft
from coatbook.jobs import actions as jobs
from coatbook.jobs import diary
from coatbook.stock import actions as stock
from coatbook.store.book import Book
from desk.shopfloor import agree, do, new_job, strike, use
from stock.shelf import buy, count

Command = Callable[..., str]


@pytest.fixture
def coated(shop: Book) -> Book:
    """The elevator coated from B-204 in job 2; then the aircraft changes hands and mark."""
    job = new_job(shop, "2026-05-01", ("coating", ("elevator",)))
    agree(shop, "2026-05-02", job)
    do(shop, "2026-05-02", jobs.arrive, job=job, by="Sam Reed")
    use(shop, "2026-05-02", "6 fl oz", job)
    coat = {"material": "sealant", "surfaces": ["elevator"], "label": "b-204"}
    do(shop, "2026-05-03", diary.log_coat, job=job, **coat)
    do(shop, "2026-05-03", jobs.hand_over, job=job, to="Jo Alder")
    do(shop, "2026-06-01", aircraft.set_owner, aircraft="skylane", owner="birch")
    return shop


def test_a_recall(coated: Book, coatbook: Command) -> None:
    assert coatbook("material", "trace", "B-204") == (
        "Lot B-204 of Paint sealant went onto 1 aircraft (N123AB) in 1 job; 26 fl oz of it are left.\n"
        "\n"
        "day         line  job  aircraft  what               owner\n"
        "2026-05-02     1    2  N123AB    6 fl oz            Jo Alder, now Birch Flying Club\n"
        "2026-05-03     2    2  N123AB    layer 1, elevator  Jo Alder, now Birch Flying Club\n"
    )


def test_a_recall_as_data(coated: Book, coatbook: Command) -> None:
    found = json.loads(coatbook("material", "trace", "sealant:B-204", "--json"))
    assert {name: found[name] for name in ("material", "name", "lot", "left", "unit")} == {
        "material": "sealant",
        "name": "Paint sealant",
        "lot": "B-204",
        "left": "26",
        "unit": "fl oz",
    }
    assert found["purchases"] == [
        {
            "purchase": 1,
            "bought": "2026-03-02",
            "supplier": "Hillside Supply",
            "supplied_by": None,
            "quantity": "32",
            "left": "26",
            "expires": None,
        }
    ]
    assert found["lines"][1] == {
        "line": 2,
        "kind": "coat",
        "date": "2026-05-03",
        "job": 2,
        "airframe": "skylane",
        "mark": "N123AB",
        "mark_now": "N123AB",
        "surface": "elevator",
        "layer": 1,
        "quantity": None,
        "unit": None,
        "owner_then": "alder",
        "owner_now": "birch",
    }


def test_as_of_an_earlier_day(coated: Book, coatbook: Command) -> None:
    told = coatbook("material", "trace", "B-204", "--on", "2026-05-02")
    assert "26 fl oz of it are left" in told
    assert "layer" not in told
    assert "now" not in told
    assert coatbook("material", "trace", "B-204", "--on", "2026-05-01") == (
        "Lot B-204 of Paint sealant went nowhere yet; 32 fl oz of it are left.\n"
    )


def test_what_was_struck_is_not_traced_and_a_count_is_in_what_is_left(coated: Book, coatbook: Command) -> None:
    strike(coated, "1")
    count(coated, "2026-06-01", "20 fl oz")
    told = coatbook("material", "trace", "B-204")
    assert "20 fl oz of it are left" in told
    assert "6 fl oz" not in told


def test_a_label_that_nobody_bought_is_traced_by_its_coats(coated: Book, coatbook: Command) -> None:
    strike(coated, "1")
    strike(coated, "purchase:1")
    assert coatbook("material", "trace", "B-204").startswith(
        "Lot B-204 of Paint sealant went onto 1 aircraft (N123AB) in 1 job; no purchase has that lot number."
    )


def test_all_purchases_of_a_label_are_one_lot(coated: Book, coatbook: Command) -> None:
    buy(coated, "2026-05-04", "1 pt", "26.00", "B-204")
    use(coated, "2026-05-05", "30 fl oz", 2)
    told = coatbook("material", "trace", "B-204")
    assert "12 fl oz of it are left" in told
    assert "30 fl oz" in told
    assert len(json.loads(coatbook("material", "trace", "B-204", "--json"))["purchases"]) == 2


def test_a_label_of_two_materials_is_refused(coated: Book, coatbook: Command, refused: Command) -> None:
    do(coated, "2026-05-04", stock.add_material, code="wax", name="Paste wax", unit="g")
    buy(coated, "2026-05-04", "200 g", "12.00", "b-204", code="wax")
    assert refused("material", "trace", "B-204") == (
        "coatbook: lots and coats of 2 materials bear 'B-204': name one, sealant:B-204 or wax:B-204"
    )
    assert "Paste wax" in coatbook("material", "trace", "wax:B-204")
    assert "Paint sealant" in coatbook("material", "trace", "SEALANT:b-204")


def test_a_label_bought_of_one_material_and_read_off_another_is_refused(
    coated: Book, coatbook: Command, refused: Command
) -> None:
    strike(coated, "1")
    strike(coated, "purchase:1")
    do(coated, "2026-05-04", stock.add_material, code="wax", name="Paste wax", unit="g")
    buy(coated, "2026-05-04", "200 g", "12.00", "B-204", code="wax")
    assert refused("material", "trace", "B-204") == (
        "coatbook: lots and coats of 2 materials bear 'B-204': name one, wax:B-204 or sealant:B-204"
    )
    assert "went onto 1 aircraft" in coatbook("material", "trace", "sealant:B-204")
    assert "went nowhere yet" in coatbook("material", "trace", "wax:B-204")


def test_a_lot_that_is_not_there(furnished: object, refused: Command) -> None:
    assert refused("material", "trace", "Z-9") == (
        "coatbook: there is no lot 'Z-9' on 2026-08-20: `coatbook material show CODE` lists a material's lots"
    )
