"""A gauge is checked before and after it reads, and what a failed one read is struck."""

from collections.abc import Callable
from typing import Any

import pytest

from coatbook.desk.closing import close_month
from coatbook.desk.sheets import job_sheet
from coatbook.jobs import diary as lines
from coatbook.jobs import gauges, scope
from coatbook.jobs.gauge_file import Spot
from coatbook.jobs.tables import Entry, GaugeCheck
from coatbook.jobs.views import diary, film_readings, find_job
from coatbook.store.book import Book
from coatbook.values import Misuse, Refusal
from coatbook.values.days import Month
from desk.shopfloor import TODAY, begin, do, new_job, quantity, strike

DAY, NEXT = "2026-04-01", "2026-04-02"
GOOD: dict[str, Any] = {
    "gauge": "eddy current",
    "serial": "G-1042",
    "zero": quantity("1 µm"),
    "shim": quantity("50 µm"),
    "shim_read": quantity("52 µm"),
}
FAILED = GOOD | {"shim_read": quantity("46.9 µm")}


def check(book: Book, stage: str, day: str = DAY, job: int = 1, **values: Any) -> int:
    return int(do(book, day, gauges.check_gauge, job=job, stage=stage, **(GOOD | values)).result)


def read(
    book: Book,
    spot: str,
    day: str = DAY,
    job: int = 1,
    serial: str = "G-1042",
    stage: str | None = None,
    gauge: str = "eddy current",
    film: str = "60 µm",
) -> int:
    spots = [Spot("left wing", spot, (quantity(film),))]
    (line,) = do(book, day, lines.log_film, job=job, spots=spots, gauge=gauge, serial=serial, stage=stage).result
    return int(line)


def struck(book: Book) -> list[int]:
    with book.read() as session:
        return [row.id for row in session.query(Entry).order_by(Entry.id) if row.struck_on]


@pytest.mark.parametrize(
    ("zero", "shim_read", "allowed", "good"),
    [
        ("3 µm", "50 µm", None, True),
        ("-3 µm", "53 µm", None, True),
        ("3.001 µm", "50 µm", None, False),
        ("-3.001 µm", "50 µm", None, False),
        ("0 µm", "46.999 µm", None, False),
        ("0 µm", "53.001 µm", None, False),
        ("0 mil", "2 mil", "0.8 µm", True),  # 50.8 µm
        ("0 µm", "48 µm", "1 µm", False),
    ],
)
def test_it_is_good_within_what_is_allowed(
    shop: Book, zero: str, shim_read: str, allowed: str | None, good: bool
) -> None:
    more = {"allowed": quantity(allowed)} if allowed else {}
    check(shop, "before", zero=quantity(zero), shim_read=quantity(shim_read), **more)
    with shop.read() as session:
        assert session.query(GaugeCheck).one().good is good


def test_three_micrometers_are_said_to_be_from_memory(shop: Book) -> None:
    told = do(shop, DAY, gauges.check_gauge, job=1, stage="before", **GOOD).text
    assert told.splitlines() == [
        (
            "Line 1, job 1: eddy current gauge G-1042 reads 1 µm on bare metal and 52 µm on a shim of 50 µm, "
            "3 µm allowed: good."
        ),
        "3 µm is a value from memory: what the gauge's own sheet allows counts, write it with --allowed.",
    ]
    told = do(shop, DAY, gauges.check_gauge, job=1, stage="before", allowed=quantity("3 µm"), **GOOD).text
    assert "memory" not in told
    with shop.read() as session:
        assert [one.what for one in diary(session, find_job(session, 1).id, TODAY)] == [
            "eddy current gauge G-1042, before readings: good"
        ] * 2


def test_a_failed_check_strikes_what_was_read_since_the_last_good_one(shop: Book) -> None:
    other = new_job(shop, DAY)
    read(shop, "1")  # line 1: before the good check of its day
    check(shop, "before")
    kept = {1, read(shop, "2", serial="G-7"), read(shop, "3", job=other), read(shop, "4", gauge="magnetic")}
    doubtful = [read(shop, "5"), read(shop, "6", NEXT, serial="g-1042")]
    assert check(shop, "after", NEXT, **FAILED) == 2
    assert struck(shop) == doubtful
    with shop.read() as session:
        assert {session.get_one(Entry, line).struck_why for line in doubtful} == {
            "gauge G-1042 failed its check on 2026-04-02"
        }
        assert {row.spot for row in film_readings(session, find_job(session, 1).id)} == {"1", "2", "4"}
    assert not kept & set(struck(shop))


def test_without_a_good_check_all_it_read_in_the_job_is_struck(shop: Book) -> None:
    first = read(shop, "1")
    strike(shop, first)
    lines = [read(shop, "2"), read(shop, "3", NEXT)]
    check(shop, "before", "2026-03-31", job=new_job(shop, "2026-03-31"))  # good, and of another job
    later = read(shop, "4", "2026-04-03")
    assert check(shop, "after", NEXT, **FAILED) == 2
    assert struck(shop) == [first, *lines]
    assert later not in struck(shop)


def test_a_good_check_after_readings_keeps_them_for_good(shop: Book) -> None:
    read(shop, "1")
    assert check(shop, "after") == 0
    assert check(shop, "after", **FAILED) == 0
    assert struck(shop) == []


def test_a_struck_check_does_not_count(shop: Book) -> None:
    check(shop, "before")
    read(shop, "1")
    check(shop, "after")
    strike(shop, "3")
    assert check(shop, "after", **FAILED) == 1


def test_readings_of_a_closed_month_are_struck_in_the_next(shop: Book) -> None:
    line = read(shop, "1", "2026-03-05")
    do(shop, None, close_month, month=Month(2026, 3))
    assert check(shop, "after", **FAILED) == 1
    with shop.read() as session:
        assert str(session.get_one(Entry, line).struck_on) == "2026-04-01"


@pytest.mark.parametrize("stage", ["before", "after"])
def test_a_gauge_that_failed_reads_nothing_more_that_day_until_a_good_check(shop: Book, stage: str) -> None:
    check(shop, stage, **FAILED)
    for job in (1, new_job(shop, DAY)):
        with pytest.raises(Refusal, match="gauge G-1042 failed its check on 2026-04-01: set it anew"):
            read(shop, "1", job=job)
    read(shop, "1", serial="G-7")
    read(shop, "1", NEXT)
    check(shop, "before")
    read(shop, "1")


@pytest.mark.parametrize(
    ("values", "kind", "says"),
    [
        ({"gauge": "eye"}, Misuse, "use one of eddy current, magnetic, ultrasound"),
        ({"stage": "during"}, Misuse, "use one of before, after"),
        ({"zero": quantity("1 h")}, Misuse, "the reading of bare metal 1 h must be a length"),
        ({"shim": quantity("0 µm")}, Refusal, "the shim 0 µm must be more than zero"),
        ({"shim_read": quantity("-1 µm")}, Refusal, "the reading of the shim -1 µm must not be below zero"),
        ({"allowed": quantity("0 µm")}, Refusal, "the allowed error 0 µm must be more than zero"),
    ],
)
def test_what_is_no_check(shop: Book, values: dict[str, Any], kind: type[Refusal], says: str) -> None:
    with pytest.raises(kind, match=says):
        do(shop, DAY, gauges.check_gauge, job=1, **(GOOD | {"stage": "before"} | values))


def test_readings_after_the_work_are_kept_apart(shop: Book) -> None:
    job = new_job(shop, DAY, ("wash", ()))
    with pytest.raises(Refusal, match="job 2 is not on the floor yet, so nothing was read after the work"):
        read(shop, "root", job=job, stage="after")
    read(shop, "root", job=job, stage="before")
    begin(shop, DAY, job)
    read(shop, "Root", NEXT, job=job, stage="After", film="55 µm")
    with shop.read() as session:
        row = find_job(session, job)
        assert [one.value for one in film_readings(session, row.id)] == [quantity("60 µm")]
        every = film_readings(session, row.id, every_stage=True)
        assert [(one.value, one.stage) for one in every] == [(quantity("60 µm"), ""), (quantity("55 µm"), "after")]
        assert [one.stage for one in job_sheet(session, row, TODAY, "USD").readings] == ["", "after"]


def test_a_test_spot_is_read_with_consent(shop: Book) -> None:
    with pytest.raises(Refusal, match="no consent to a test spot on left wing stands in job 1"):
        read(shop, "flap", stage="test spot")
    spot = {"surface": "left wing", "place": "flap", "size": quantity("0.05 ft2"), "product": "compound"}
    do(shop, DAY, scope.consent, job=1, risk="color loss", by="Jo Alder", how="by mail", **spot)
    read(shop, "flap", stage="test spot")
    with shop.read() as session:
        assert film_readings(session, find_job(session, 1).id) == ()
    with pytest.raises(Misuse, match="use one of before, test spot, after"):
        read(shop, "flap", stage="later")


TYPED = ("log", "gauge", "1", "--gauge", "eddy current", "--serial", "G-1", "--zero", "0 µm", "--shim", "50 µm")


def test_as_typed(furnished: object, coatbook: Callable[..., str], refused: Callable[..., str]) -> None:
    by = ("--gauge", "eddy current", "--serial", "G-1")
    assert "allowed: good." in coatbook(*TYPED, "--shim-read", "51 µm", "--stage", "before")
    coatbook("log", "reading", "1", "left wing", "--spot", "root", "--film", "60 µm", *by, "--stage", "before")
    failed = (*TYPED, "--shim-read", "59 µm", "--stage", "after")
    told = refused(*failed)
    assert "Struck line 2 of 2026-08-20: left wing, 1 reading." in told
    assert told.endswith("coatbook: a failed check strikes readings: give --yes to do it, or --dry-run to look only")
    assert coatbook(*failed, "--dry-run") == ""
    assert "Struck line 2" in coatbook(*failed, "--yes")
    assert coatbook(*failed[:-1], "before").startswith("Line 4, job 1")  # nothing to strike, nothing to ask
