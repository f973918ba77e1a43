"""`coatbook job show` and `coatbook invoice show`: every fact in words, on a screen of 80 columns."""

import re
from collections.abc import Callable

import pytest

from coatbook.aircraft.actions import add_surface
from coatbook.billing.actions import set_price
from coatbook.desk.wording import charged, counted, itself
from coatbook.jobs import actions as jobs
from coatbook.jobs import diary
from coatbook.store.book import Book
from desk.shopfloor import CLAIM, THIN, agree, do, hand_over, hours, issue, new_job, quantity, read_film, strike, usd
from paper.conftest import line

Command = Callable[..., str]


def alike(text: str) -> str:
    """Text with each run of blanks and line ends as one blank."""
    return " ".join(text.split())


def test_it_shows_who_passed_which_gate_on_what_finding(shop: Book, coatbook: Command) -> None:
    read_film(shop, "2026-08-10", THIN)
    agree(shop, "2026-08-11", 1, CLAIM)
    told = alike(coatbook("job", "show", 1))
    assert "On authority Film gate of left wing (stop: it has no film to spare, its margin is " in told
    passed = "passed on 2026-08-11 by R. Moor, mechanic 0000001, on maintenance manual 51-10: the paint comes off"
    assert f"clean and coat only) {passed} next month (authority:1)." in told
    strike(shop, "authority:1")
    assert "On authority" not in coatbook("job", "show", 1)


def test_a_gate_whose_finding_is_not_kept_is_named_in_words(shop: Book, coatbook: Command) -> None:
    skin = {"area": quantity("7 ft2"), "substrate": "aluminum", "paint": "base/clear"}
    do(shop, "2026-08-01", add_surface, aircraft="skylane", name="left aileron", **skin)
    job = new_job(shop, "2026-08-01", ("coating", ("left aileron",)))
    agree(shop, "2026-08-11", job, CLAIM)
    assert "Balance gate of left aileron passed on 2026-08-11 by R. Moor" in alike(coatbook("job", "show", job))


def test_it_shows_the_last_verdict_of_each_surface_with_word_and_reason(shop: Book, coatbook: Command) -> None:
    read_film(shop, "2026-08-10")
    agree(shop, "2026-08-11")
    told = coatbook("job", "show", 1)
    assert re.search(r"^  left wing: 6 spots, 18 readings, 118 µm to 122 µm$", told, flags=re.MULTILINE)
    assert re.search(r"^    go on 2026-08-11: it has a margin of .* planned$", told, flags=re.MULTILINE)
    assert "left wing: left wing" not in told
    assert "read again since" not in told
    read_film(shop, "2026-08-12", THIN)
    assert "planned; read again since" in alike(coatbook("job", "show", 1))
    assert "go on 2026-08-11" not in coatbook("job", "show", 1, "--on", "2026-08-10")


def test_an_event_is_struck_by_the_number_it_shows(shop: Book, coatbook: Command) -> None:
    agree(shop, "2026-08-11", 1, CLAIM)
    do(shop, "2026-08-12", jobs.arrive, job=1, by="Sam Reed")
    told = alike(coatbook("job", "show", 1))
    assert "days opened 2026-03-02; agreed 2026-08-11 with Jo Alder (job_event:1); arrived 2026-08-12" in told
    (name,) = re.findall(r"arrived 2026-08-12, received by Sam Reed \((job_event:\d+)\)", told)
    coatbook("strike", name, "--why", "it came on the 13th")
    assert "arrived" not in coatbook("job", "show", 1)
    assert f"({name}, STRUCK: it came on the 13th)" in alike(coatbook("job", "show", 1, "--struck"))


def test_masks_are_told_as_on_and_off(shop: Book, coatbook: Command) -> None:
    agree(shop, "2026-08-11", 1, CLAIM)
    do(shop, "2026-08-12", jobs.arrive, job=1, by="Sam Reed")
    do(shop, "2026-08-12", diary.log_mask, job=1, way="on", item="static port", count=3)
    do(shop, "2026-08-12", diary.log_mask, job=1, way="off", item="static port", count=2)
    told = coatbook("job", "show", 1)
    assert re.findall(r"^ +\d+  2026-08-12 mask +(.*)$", told, flags=re.MULTILINE) == [
        "3 on static port",
        "2 off static port",
    ]
    assert "Masks still on\n  static port 1\n" in told


def test_every_line_fits_a_screen(shop: Book, coatbook: Command) -> None:
    surface = "left hand lower inboard wing skin aft of the main spar"
    skin = {"area": quantity("12 ft2"), "substrate": "aluminum", "paint": "base/clear", "balanced": "no"}
    do(shop, "2026-08-01", add_surface, aircraft="skylane", name=surface, **skin)
    job = new_job(shop, "2026-08-01", ("coating", (surface, "left wing")))
    agree(shop, "2026-08-11", job, CLAIM)
    do(shop, "2026-08-12", jobs.arrive, job=job, by="Sam Reed")
    do(shop, "2026-08-12", diary.log_coat, job=job, material="sealant", surfaces=[surface], label="LOT-2026-0000-B-204")
    do(shop, "2026-08-12", diary.log_note, job=job, note="a seam\nat the fuel cap " * 10)
    hours(shop, "2026-08-12", "kim", "2 h", step=1, job=job)
    told = coatbook("job", "show", job)
    sentence, rest = told.split("\n\n", 1)
    assert sentence.startswith(f"Job {job} is on the floor: ")
    assert max(map(len, rest.splitlines())) <= 80
    assert "sealant" not in sentence
    assert "layer 1, lot LOT-2026-0000-B-204" in alike(rest)


def test_pieces_of_an_invoice_are_not_told_twice(shop: Book, coatbook: Command) -> None:
    do(shop, "2026-06-01", set_price, service="coating", amount=usd("42.50"), basis="each")
    long = "left hand lower inboard wing skin aft of the main spar"
    skin = {"area": quantity("12 ft2"), "substrate": "aluminum", "paint": "base/clear", "balanced": "no"}
    do(shop, "2026-06-01", add_surface, aircraft="skylane", name=long, **skin)
    job = new_job(shop, "2026-07-01", ("wash", ()), ("coating", (long, "left wing")))
    hand_over(shop, "2026-07-02", job)
    told = coatbook("invoice", "show", issue(shop, "2026-07-02", job))
    assert re.search(r"^Wash +1 +150.00 +150.00$", told, flags=re.MULTILINE)
    assert re.search(r"^Protective coating: .* 2 +42.50 each +85.00$", told, flags=re.MULTILINE)
    assert "per each" not in told
    table = told.split("\n\n", 1)[1].splitlines()
    assert max(map(len, table)) <= 80
    assert f"Protective coating: {long}, left wing" in alike(re.sub(r" +2 +42.50 each +85.00", "", told))


@pytest.mark.parametrize(
    ("quantity", "price", "per", "cells", "told"),
    [
        ("1 each", "240.00", "1 each", ("1", "240.00"), "Wash, 240.00"),
        ("3 each", "42.50", "1 each", ("3", "42.50 each"), "Wash, 3 at 42.50 each: 127.50"),
        ("454 ft2", "6.40", "1 ft2", ("454 ft2", "6.40 per ft2"), "Wash, 454 ft2 at 6.40 per ft2: 2905.60"),
    ],
)
def test_a_charge_in_words(quantity: str, price: str, per: str, cells: tuple[str, str], told: str) -> None:
    charge = line("Wash", quantity, price, per)
    assert (counted(charge), charged(charge)) == (cells, told)


@pytest.mark.parametrize(
    ("of", "reason", "told"),
    [
        ("left wing", "left wing has a margin of 3 µm", "it has a margin of 3 µm"),
        ("left wing", "Left wing reads high", "it reads high"),
        ("left wing", "no film was read on left wing", "no film was read on left wing"),
        ("", "nothing is known", "nothing is known"),
    ],
)
def test_a_reason_beside_its_name(of: str, reason: str, told: str) -> None:
    assert itself(of, reason) == told
