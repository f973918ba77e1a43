"""Marks and owners over time: one at a time, in turn, however they were written."""

import pytest

from aircraft.doing import TODAY, aircraft, airframe_id, do, mark, marks, owner, owners, strike, wears
from coatbook.aircraft import views
from coatbook.aircraft.lifetime import withdraw
from coatbook.store.book import Book
from coatbook.values import Refusal


def test_each_mark_holds_to_the_day_before_the_next(shop: Book) -> None:
    assert mark(shop, "skylane", "N2", "2026-06-01") == "skylane wears N2 from 2026-06-01."
    assert marks(shop, "skylane") == [("N123AB", "2026-03-02", "2026-05-31"), ("N2", "2026-06-01", None)]
    assert (wears(shop, "N123AB", "2026-05-31"), wears(shop, "N2", "2026-06-01")) == ("skylane", "skylane")
    with pytest.raises(Refusal, match=r"there is no aircraft 'N123AB' on 2026-06-01 \(skylane wears it from"):
        wears(shop, "N123AB", "2026-06-01")


def test_a_mark_written_late_takes_its_place_between_two(shop: Book) -> None:
    mark(shop, "skylane", "N3", "2026-07-01")
    told = mark(shop, "skylane", "N2", "2026-05-01")
    assert told == "skylane wears N2 from 2026-05-01 to 2026-06-30, when the next one begins."
    assert [name for name, _, _ in marks(shop, "skylane")] == ["N123AB", "N2", "N3"]
    assert wears(shop, "N2", "2026-06-30") == wears(shop, "N3", "2026-07-01") == "skylane"


def test_a_mark_found_to_begin_earlier_is_one_turn(shop: Book) -> None:
    mark(shop, "skylane", "N2", "2026-07-01")
    mark(shop, "skylane", "N2", "2026-06-01")
    assert marks(shop, "skylane") == [("N123AB", "2026-03-02", "2026-05-31"), ("N2", "2026-06-01", None)]


def test_a_mark_may_begin_on_a_coming_day(shop: Book) -> None:
    mark(shop, "skylane", "N2", "2026-12-01")
    assert wears(shop, "N123AB", "2026-11-30") == wears(shop, "N2", "2026-12-01") == "skylane"
    with pytest.raises(Refusal, match=r"no aircraft 'N2' on 2026-08-20 \(skylane wears it from 2026-12-01\)"):
        wears(shop, "N2", str(TODAY))


def test_one_mark_and_one_owner_from_a_day(shop: Book) -> None:
    mark(shop, "skylane", "N2", "2026-06-01")
    with pytest.raises(Refusal, match=r"skylane wears N2 from 2026-06-01 already: .*strike marking:2"):
        mark(shop, "skylane", "N3", "2026-06-01")
    strike(shop, "marking:2")
    mark(shop, "skylane", "N3", "2026-06-01")
    with pytest.raises(Refusal, match=r"alder owns skylane from 2026-03-02 already: .*strike ownership:1"):
        owner(shop, "skylane", "birch", "2026-03-02")
    strike(shop, "ownership:1")
    owner(shop, "skylane", "birch", "2026-03-02")
    assert owners(shop, "skylane") == [("birch", "2026-03-02", None)]


def test_an_owner_written_late_takes_his_place(shop: Book) -> None:
    owner(shop, "skylane", "birch", "2026-07-01")
    told = owner(shop, "skylane", "birch", "2026-01-05")
    assert told == "Birch Flying Club owns skylane from 2026-01-05 to 2026-03-01, when the next one begins."
    assert owners(shop, "skylane") == [
        ("birch", "2026-01-05", "2026-03-01"),
        ("alder", "2026-03-02", "2026-06-30"),
        ("birch", "2026-07-01", None),
    ]


def test_a_mark_is_issued_again_after_its_wearer_gave_it_up(shop: Book) -> None:
    aircraft(shop, "lark", "N9", "2026-01-02")
    mark(shop, "lark", "N8", "2026-05-01")
    mark(shop, "skylane", "N9", "2026-05-01")
    assert (wears(shop, "N9", "2026-04-30"), wears(shop, "N9", "2026-05-01")) == ("lark", "skylane")


def test_a_mark_is_issued_again_after_its_wearer_wears_none(shop: Book) -> None:
    aircraft(shop, "lark", "N9", "2026-01-02")
    assert mark(shop, "lark", None, "2026-05-01") == "lark wears no mark from 2026-05-01."
    assert marks(shop, "lark") == [("N9", "2026-01-02", "2026-04-30"), (None, "2026-05-01", None)]
    mark(shop, "skylane", "N9", "2026-05-01")
    with shop.read() as session:
        assert views.mark_of(session, airframe_id(shop, "lark"), TODAY) is None
    with pytest.raises(Refusal, match="lark wears no mark on 2026-06-01 already"):
        mark(shop, "lark", None, "2026-06-01")
    with pytest.raises(Refusal, match="there is no aircraft '-' on"):
        wears(shop, "-", "2026-06-01")  # a name of no letters is nobody's mark


def test_a_mark_is_issued_again_after_its_wearer_was_withdrawn(shop: Book) -> None:
    aircraft(shop, "lark", "N9", "2026-01-02")
    with pytest.raises(Refusal, match="N9 is worn by lark on 2026-05-01"):
        mark(shop, "skylane", "N9", "2026-05-01")
    do(shop, withdraw, aircraft="lark", why="scrapped", from_on=TODAY.replace(month=5, day=1))
    assert wears(shop, "N9", "2026-06-01") == "lark"  # known by its last mark until another wears it
    mark(shop, "skylane", "N9", "2026-05-01")
    assert wears(shop, "N9", "2026-06-01") == "skylane"


@pytest.mark.parametrize("name", ["marking:3", "withdrawn:1"])
def test_what_gave_a_mark_up_is_not_struck_while_another_wears_it(shop: Book, name: str) -> None:
    aircraft(shop, "lark", "N9", "2026-01-02")
    if name == "marking:3":
        mark(shop, "lark", "N8", "2026-05-01")
    else:
        do(shop, withdraw, aircraft="lark", why="scrapped", from_on=TODAY.replace(month=5, day=1))
    mark(shop, "skylane", "N9", "2026-06-01")
    with pytest.raises(Refusal, match="without it both lark and skylane would wear N9 on 2026-06-01"):
        strike(shop, name)
    strike(shop, "marking:4" if name == "marking:3" else "marking:3")
    strike(shop, name)
    assert wears(shop, "N9", "2026-06-01") == "lark"


def test_a_mark_that_another_takes_later_ends_before_that(shop: Book) -> None:
    aircraft(shop, "lark", "N9", "2026-07-01")
    with pytest.raises(Refusal, match="N9 is worn by lark on 2026-07-01"):
        mark(shop, "skylane", "N9", "2026-05-01")
    mark(shop, "skylane", "N8", "2026-07-01")
    mark(shop, "skylane", "N9", "2026-05-01")
    assert (wears(shop, "N9", "2026-06-30"), wears(shop, "N9", "2026-07-01")) == ("skylane", "lark")


def test_an_earlier_days_book_knows_what_it_knew(shop: Book) -> None:
    mark(shop, "skylane", "N2", "2026-05-01", on="2026-08-10")
    with shop.read() as session:
        row = views.find_airframe(session, "skylane", TODAY).id
        assert views.mark_of(session, row, TODAY.replace(day=9)) == "N123AB"
        assert views.mark_of(session, row, TODAY.replace(day=9), TODAY) == "N2"
        assert len(views.marks_of(session, row, TODAY.replace(day=9))) == 1


def test_a_serial_number_is_found_however_its_letters_are_typed(shop: Book) -> None:
    aircraft(shop, "lark")
    assert wears(shop, "sn:lark", str(TODAY)) == wears(shop, "SN: LARK", str(TODAY)) == "lark"
