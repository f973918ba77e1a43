"""What is known of an airframe, its clocks, surfaces and keep-off list: written, edited, and handed to calculators."""

import datetime as dt
from decimal import Decimal
from typing import Any

import pytest
from sqlalchemy import select

from aircraft.doing import TODAY, aircraft, airframe_id, do, mark, quantity, strike
from coatbook.aircraft import actions, keepoff_types, views
from coatbook.aircraft.clocks import write_times
from coatbook.aircraft.keepoff import prefill_keep_off, set_keep_off
from coatbook.aircraft.tables import RULES
from coatbook.desk.sheets import coatings_sheet, job_sheet
from coatbook.jobs.views import find_job
from coatbook.store.book import Book
from coatbook.store.tables import Revision
from coatbook.values import Refusal


def known(book: Book, code: str = "skylane") -> views.AirframeView:
    with book.read() as session:
        return views.airframe_view(session, views.find_airframe(session, code, TODAY), TODAY)


def test_what_is_known_is_edited_and_emptied_and_every_version_kept(shop: Book) -> None:
    told = do(shop, actions.edit_airframe, aircraft="skylane", designator=" c182 ", burn_basis="CAR 3.388")
    assert told == "skylane: designator, burn basis changed."
    do(shop, actions.edit_airframe, aircraft="skylane", certification="Type certificate", operated="14 CFR part 91")
    one = known(shop)
    assert (one.designator, one.certification, one.burn_basis) == ("C182", "type certificate", "CAR 3.388")
    do(shop, actions.edit_airframe, aircraft="skylane", burn_basis=" ", designator="", year=0, operated="")
    one = known(shop)
    assert (one.designator, one.burn_basis, one.year, one.operated) == (None, None, None, None)
    with shop.read() as session:
        kept = session.scalars(select(Revision.n).filter_by(of_table="airframe", of_id=one.id).order_by(Revision.n))
        assert list(kept) == [1, 2, 3, 4]


def test_a_serial_number_is_corrected_but_never_to_anothers(shop: Book) -> None:
    aircraft(shop, "lark")
    do(shop, actions.edit_airframe, aircraft="lark", serial="8", maker="Cessna", model="182T")
    with pytest.raises(Refusal, match="'Cessna, 182T, 18299901' already"):
        do(shop, actions.edit_airframe, aircraft="lark", serial="18299901")
    do(shop, actions.edit_airframe, aircraft="lark", model="182S", serial="18299901")


def times(book: Book, *readings: tuple[str, str], clock: str = "tach") -> None:
    for on, hours in readings:
        do(book, write_times, on=on, aircraft="skylane", clock=clock, hours=quantity(f"{hours} h"))


def read(book: Book, on: dt.date = TODAY) -> list[tuple[str, str, str]]:
    with book.read() as session:
        found = views.times_of(session, airframe_id(book, "skylane"), on)
    return [(one.clock, str(one.on_day), str(one.hours)) for one in found]


def test_clock_times_stand_by_clock_and_day_however_they_were_written(shop: Book) -> None:
    times(shop, ("2026-06-01", "1690"), ("2026-04-01", "1684.2"), ("2026-05-01", "1684.2"))
    times(shop, ("2026-05-02", "4512.3"), clock="airframe")
    assert read(shop) == [
        ("airframe", "2026-05-02", "4512.3 h"),
        ("tach", "2026-04-01", "1684.2 h"),
        ("tach", "2026-05-01", "1684.2 h"),
        ("tach", "2026-06-01", "1690 h"),
    ]
    assert [day for _, day, _ in read(shop, dt.date(2026, 5, 1))] == ["2026-04-01", "2026-05-01"]


def test_an_old_airframe_has_flown_much(shop: Book) -> None:
    times(shop, ("2026-05-01", "48211.4"), clock="airframe")
    assert read(shop) == [("airframe", "2026-05-01", "48211.4 h")]


@pytest.mark.parametrize(
    ("on", "hours", "says"),
    [
        ("2026-05-02", "99.9", r"at 100 h on 2026-05-01 and 99.9 h on 2026-05-02 would run backwards"),
        ("2026-05-30", "200.1", r"at 200.1 h on 2026-05-30 and 200 h on 2026-06-01 would run backwards"),
        ("2026-05-02", "124.1", r"more than 24 h a day \(24.1 h in 1 day\).*the one of 2026-05-01"),
        ("2026-05-31", "100", r"more than 24 h a day \(100 h in 1 day\).*the one of 2026-06-01"),
        ("2026-06-01", "200", r"read on 2026-06-01 already, 200 h.*strike times:2"),
    ],
)
def test_a_clock_never_runs_backwards_nor_faster_than_time(shop: Book, on: str, hours: str, says: str) -> None:
    times(shop, ("2026-05-01", "100"), ("2026-06-01", "200"))
    with pytest.raises(Refusal, match=says):
        times(shop, (on, hours))
    times(shop, (on, hours), clock="hobbs")  # another clock counts for itself


def test_a_day_of_flying_is_24_hours_and_a_wrong_reading_is_struck(shop: Book) -> None:
    times(shop, ("2026-05-01", "100"), ("2026-05-02", "124"))
    strike(shop, "times:2")
    times(shop, ("2026-05-02", "101.5"))
    assert [hours for _, _, hours in read(shop)] == ["100 h", "101.5 h"]


SURFACE: dict[str, Any] = {"name": "cowl", "area": quantity("20 ft2"), "substrate": "composite", "paint": "gelcoat"}


@pytest.mark.parametrize(
    ("more", "says"),
    [
        ({"substrate": "acrylic", "paint": "single-stage"}, "windows are never painted"),
        ({"substrate": "acrylic", "paint": "gelcoat"}, "windows are never painted"),
        *(
            ({"substrate": substrate}, f"cannot be gelcoat on {substrate}")
            for substrate in ("fabric", "aluminum", "magnesium", "steel", "stainless")
        ),
        ({"substrate": "aluminum", "paint": "base/clear", "mesh": True}, "mesh lies in composite skins"),
        ({"paint": "bare", "primer": quantity("25 µm")}, "cannot be bare and have primer"),
        ({"paint": "bare", "painted": 2019}, "cannot be bare and painted in 2019"),
    ],
)
def test_what_no_aircraft_has_is_refused_new_or_edited(shop: Book, more: dict[str, Any], says: str) -> None:
    with pytest.raises(Refusal, match=says):
        do(shop, actions.add_surface, aircraft="skylane", **(SURFACE | more))
    do(shop, actions.add_surface, aircraft="skylane", **SURFACE)
    with pytest.raises(Refusal, match=says):
        do(shop, actions.edit_surface, aircraft="skylane", name="cowl", **more)


@pytest.mark.parametrize(
    ("substrate", "paint"), [("acrylic", "bare"), ("fabric", "base/clear"), ("fabric", "dope"), ("aluminum", "dope")]
)
def test_what_is_odd_but_seen_is_kept(shop: Book, substrate: str, paint: str) -> None:
    do(shop, actions.add_surface, aircraft="skylane", **(SURFACE | {"substrate": substrate, "paint": paint}))


def test_a_stripped_surface_loses_primer_and_year_but_keeps_its_mesh(shop: Book) -> None:
    more = {"painted": 2019, "mesh": True, "primer": quantity("25 µm")}
    do(shop, actions.add_surface, aircraft="skylane", **SURFACE, **more)
    told = do(shop, actions.edit_surface, aircraft="skylane", name="cowl", paint="bare")
    assert told == "skylane, cowl: paint, primer, painted changed."
    cowl = known(shop).surfaces[-1]
    assert (cowl.paint, cowl.primer, cowl.painted, cowl.mesh) == ("bare", None, None, True)
    do(shop, actions.edit_surface, aircraft="skylane", name="cowl", paint="base/clear", painted=2026, mesh=False)
    do(shop, actions.edit_surface, aircraft="skylane", name="cowl", painted=0)
    cowl = known(shop).surfaces[-1]
    assert (cowl.painted, cowl.mesh) == (None, False)


def keep(book: Book, item: str, **values: Any) -> str:
    return do(book, set_keep_off, aircraft="skylane", item=item, **values)


def listed(book: Book, *, absent: bool = False) -> list[tuple[str, int | None, str]]:
    with book.read() as session:
        found = views.keep_off_of(session, airframe_id(book, "skylane"), absent=absent)
    return [(one.called, one.count, one.rule) for one in found]


def test_a_part_is_written_with_its_usual_rule_and_changed(shop: Book) -> None:
    assert keep(shop, "Static Port", place="Left side", count=1) == "skylane: static port, left side (mask), 1 of them."
    assert keep(shop, "antenna") == "skylane: antenna (no polish or coating), to count."
    keep(shop, "camera pod", count=1, rule="no touch")
    keep(shop, "antenna", count=3)
    assert listed(shop) == [
        ("antenna", 3, "no polish or coating"),
        ("camera pod", 1, "no touch"),
        ("static port, left side", 1, "mask"),
    ]


def test_to_count_and_none_are_two_answers(shop: Book) -> None:
    keep(shop, "vortex generator")
    keep(shop, "de-ice boot", count=0)
    assert listed(shop) == [("vortex generator", None, "no touch")]
    assert listed(shop, absent=True) == [
        ("de-ice boot", 0, "named products only"),
        ("vortex generator", None, "no touch"),
    ]
    assert keep(shop, "de-ice boot", count=2) == "skylane: de-ice boot (named products only), 2 of them."


def test_a_part_to_count_takes_the_first_place_written_for_it(shop: Book) -> None:
    keep(shop, "static port")
    keep(shop, "static port", place="left side", count=1)
    keep(shop, "static port", place="right side", count=1)
    assert [name for name, _, _ in listed(shop)] == ["static port, left side", "static port, right side"]
    with pytest.raises(Refusal, match=r"more than one 'static port' on its list \(left side, right side\)"):
        keep(shop, "static port", count=2)
    keep(shop, "static port", place="right side", count=2)
    assert listed(shop)[1] == ("static port, right side", 2, "mask")


def test_prefill_writes_the_usual_and_never_overwrites(shop: Book) -> None:
    keep(shop, "static port", place="left side", count=1, rule="no touch")
    keep(shop, "wing walkway", count=0)
    told = do(shop, prefill_keep_off, aircraft="skylane", kinds=["low wing", "Twin"])
    assert "2 others stood already" in told
    assert "common practice, no source; confirm against the aircraft and its maker's manual" in told
    before = listed(shop, absent=True)
    assert ("static port, left side", 1, "no touch") in before
    assert ("static port", None, "mask") not in before
    assert ("wing walkway", 0, "no polish or coating") in before
    assert ("fluid-exuding leading edge", None, "no polish or coating") in before
    do(shop, prefill_keep_off, aircraft="skylane", kinds=["turboprop"])
    assert set(before) < set(listed(shop, absent=True))
    with pytest.raises(Refusal, match="stands on the list of skylane already"):
        do(shop, prefill_keep_off, aircraft="skylane", kinds=["turboprop", "twin"])


@pytest.mark.parametrize("kind", keepoff_types.TYPES)
def test_every_type_lists_what_any_airplane_has_and_each_part_once(kind: str) -> None:
    usual = keepoff_types.usual_items((kind,))
    names = [one.item for one in usual]
    assert {"static port", "pitot tube", "stall sensor", "fuel cap", "static wick", "placard"} <= set(names)
    assert len(names) == len(set(names))
    assert all(one.rule == keepoff_types.usual_rule(one.item) for one in usual)


def test_every_rule_has_its_sentence_and_is_used() -> None:
    assert tuple(keepoff_types.RULE_SENTENCES) == RULES
    used = {one.rule for one in keepoff_types.usual_items(keepoff_types.TYPES)}
    assert used | {"no coating"} == set(RULES)


def test_calculators_are_told(shop: Book) -> None:
    do(shop, actions.edit_airframe, aircraft="skylane", designator="C182", burn_basis="14 CFR 23.853")
    do(shop, actions.edit_surface, aircraft="skylane", name="left wing", painted=2019)
    do(shop, actions.add_surface, aircraft="skylane", **SURFACE, mesh=True)
    times(shop, ("2026-05-01", "1684.25"), ("2026-06-01", "1690"), ("2026-08-20", "1700"))
    times(shop, ("2026-05-01", "4512.3"), clock="airframe")
    keep(shop, "static port", place="left side", count=1)
    keep(shop, "radome", count=0)
    with shop.read() as session:
        sheet = job_sheet(session, find_job(session, 1), dt.date(2026, 8, 19), "USD")
        same = coatings_sheet(session, airframe_id(shop, "skylane"), dt.date(2026, 8, 19), "USD")
    told = sheet.aircraft
    assert told is not None
    assert told == same.aircraft
    assert (told.designator, told.burn_basis) == ("C182", "14 CFR 23.853")
    assert told.times == ((dt.date(2026, 5, 1), Decimal("1684.25")), (dt.date(2026, 6, 1), Decimal(1690)))
    assert told.keep_off == ("static port, left side: mask",)
    assert [(one.name, one.painted, one.mesh) for one in told.surfaces] == [
        ("left wing", 2019, False),
        ("elevator", None, False),
        ("cowl", None, True),
    ]


def test_what_is_not_known_is_said_so_to_calculators(shop: Book) -> None:
    with shop.read() as session:
        told = job_sheet(session, find_job(session, 1), TODAY, "USD").aircraft
    assert told is not None
    assert (told.designator, told.burn_basis, told.times, told.keep_off) == ("", "unknown", (), ())


def test_of_two_clocks_read_equally_often_the_airframes_counts(shop: Book) -> None:
    times(shop, ("2026-05-01", "100"), clock="hobbs")
    times(shop, ("2026-05-01", "4512.3"), clock="airframe")
    with shop.read() as session:
        (one,) = views.hours_flown(session, airframe_id(shop, "skylane"), TODAY)
    assert one.clock == "airframe"


def test_all_of_it_on_either_store(any_book: Book) -> None:
    aircraft(any_book, "lark", "N9", designator="LK2", burn_basis="CAR 3.388")
    do(any_book, actions.add_surface, aircraft="lark", **SURFACE, mesh=True, painted=2019)
    do(any_book, write_times, on="2026-05-01", aircraft="sn:lark", clock="tach", hours=quantity("10.5 h"))
    do(any_book, set_keep_off, aircraft="lark", item="antenna", count=0)
    do(any_book, prefill_keep_off, aircraft="lark", kinds=["composite"])
    mark(any_book, "lark", None, "2026-06-01")
    with any_book.read() as session:
        row = views.find_airframe(session, "sn:LARK", TODAY)
        assert views.airframe_view(session, row, TODAY).surfaces[0].mesh is True
        assert [one.mark for one in views.marks_of(session, row.id, TODAY)] == ["N9", None]
        assert len(views.keep_off_of(session, row.id, absent=True)) == len(views.keep_off_of(session, row.id)) + 1
        assert views.hours_flown(session, row.id, TODAY)[0].hours == quantity("10.5 h")
