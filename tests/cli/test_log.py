"""`log`, as a user types it in the hangar."""

import io
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

Command = Callable[..., str]

GAUGE = ("--gauge", "eddy current", "--serial", "G-1042")
NINE = "batch,value\nleft wing,110\nleft wing,111\nleft wing,112\nleft wing,113\nleft wing,114\nleft wing,115\n"


@pytest.fixture
def gauge_file(tmp_path: Path) -> Callable[[str | bytes], str]:
    """Write what a gauge exported, and tell where."""

    def write(content: str | bytes) -> str:
        path = tmp_path / "gauge.csv"
        path.write_bytes(content if isinstance(content, bytes) else content.encode())
        return str(path)

    return write


@pytest.mark.parametrize(
    ("typed", "told"), [("2.5h", "2.5 h"), ("2.5 h", "2.5 h"), ("45 min", "45 min"), ("1.25 hours", "1.25 h")]
)
def test_hours_as_people_type_them(typed: str, told: str, furnished: object, coatbook: Command) -> None:
    assert f"{told} of Sam Reed on step 1" in coatbook("log", "hours", "1", "sam", typed, "--step", "1")


def on_the_floor(coatbook: Command) -> None:
    """Job 2: a wash, and a coating of two surfaces, agreed and arrived."""
    coatbook("job", "open", "skylane", "mesa", "Wash and coating")
    coatbook("job", "plan", "2", "wash")
    coatbook("job", "plan", "2", "coating", "--surface", "left wing", "--surface", "elevator")
    coatbook("job", "agree", "2", "--by", "Jo Alder")
    coatbook("job", "arrive", "2", "--by", "Sam Reed")


def test_hours_cost_what_an_hour_costs_on_that_day(furnished: object, coatbook: Command) -> None:
    coatbook("worker", "rate", "kim", "30", "--from", "2026-08-01")
    told = coatbook("log", "hours", "1", "kim", "1.5h", "--step", "1", "--on", "2026-07-31")
    assert told == "Line 1, job 1: 1.5 h of Kim Soto on step 1, 42.00.\n"
    told = coatbook("log", "hours", "1", "kim", "1.5h", "--step", "1", "--on", "2026-08-01", "--note", "Wings.")
    assert told == "Line 2, job 1: 1.5 h of Kim Soto on step 1, 45.00.\n"


def settle_who_signs(coatbook: Command) -> None:
    document = ("--document", "maintenance manual 51-10", "--why", "cosmetic work")
    coatbook("job", "signing", "1", "no entry expected", "--by", "R. Moor", *document)


def test_first_hours_of_an_abrasive_step_wait_at_the_gate(
    furnished: object, coatbook: Command, refused: Command
) -> None:
    assert "who may do and sign the work of job 1" in refused("log", "hours", "1", "sam", "2h", "--step", "2")
    settle_who_signs(coatbook)
    assert "the safety gate stops job 1 (left wing:" in refused("log", "hours", "1", "sam", "2h", "--step", "2")
    # hours that name no step may begin any
    assert "the safety gate stops job 1" in refused("log", "hours", "1", "sam", "2h")
    coatbook(
        *("job", "authority", "1", "--on-authority", "Lee Park", "--certificate", "A&P 0000001"),
        *("--document", "Owner's letter", "--why", "Paint is stripped next month."),
    )
    coatbook("log", "hours", "1", "sam", "2h", "--step", "2")
    # once begun, no gate; and the same day's hours of another are no repeat
    coatbook("log", "hours", "1", "kim", "2h", "--step", "2")


def test_first_hours_of_two_steps_on_one_day_are_no_repeat(
    furnished: object, coatbook: Command, refused: Command, gauge_file: Callable[[str], str]
) -> None:
    readings = "batch,spot,value\n" + "".join(f"left wing,{spot},{120 + n}\n" for spot in range(9) for n in range(3))
    coatbook("log", "reading", "1", "--file", gauge_file(readings), "--unit", "µm", *GAUGE)
    coatbook("job", "plan", "1", "polish", "--surface", "left wing", "--removal", "1 µm")
    settle_who_signs(coatbook)
    coatbook("log", "hours", "1", "sam", "2h", "--step", "2")
    coatbook("log", "hours", "1", "sam", "3h", "--step", "4")
    assert "give --again" in refused("log", "hours", "1", "sam", "3h", "--step", "4")
    assert "Line" in coatbook("log", "hours", "1", "sam", "3h", "--step", "4", "--again")


def test_a_key_makes_a_retry_safe(furnished: object, coatbook: Command) -> None:
    typed = ("log", "hours", "1", "sam", "2h", "--step", "1", "--key", "evening")
    assert coatbook(*typed) == coatbook(*typed)
    assert coatbook("job", "show", "1").count("Sam Reed") == 1


def test_use_costs_its_share_of_the_oldest_lot(furnished: object, coatbook: Command) -> None:
    told = coatbook("log", "use", "1", "sealant", "5 fl oz", "--step", "3")
    assert told == "Line 1, job 1: 5 fl oz of Paint sealant used, 7.50.\n"


def test_expense_travel_conditions_and_note(furnished: object, coatbook: Command) -> None:
    assert coatbook("log", "expense", "1", "35", "Hangar day fee") == "Line 1, job 1: 35.00 USD for Hangar day fee.\n"
    told = coatbook("log", "travel", "1", "64.5 mi", "There and back", "--rate", "0.67")
    assert told == "Line 2, job 1: 64.5 mi at 0.67 per mi, 43.22.\n"  # 43.215
    told = coatbook("log", "conditions", "1", "--air", "75 °F", "--skin", "26 °C", "--humidity", "45%")
    assert told == "Line 3, job 1: air 75 °F, skin 26 °C, humidity 45 %.\n"
    assert coatbook("log", "note", "1", "Seam at the fuel cap.") == "Line 4, job 1: noted.\n"


def test_a_coat_on_a_surface_written_in_two_ways_is_one_coat(furnished: object, coatbook: Command) -> None:
    on_the_floor(coatbook)
    told = coatbook("log", "coat", "2", "sealant", "Left Wing", "left wing", "elevator", "--lot", "B-204")
    assert told == (
        "Line 1, job 2: Paint sealant on left wing, layer 1, lot B-204.\n"
        "Line 2, job 2: Paint sealant on elevator, layer 1, lot B-204.\n"
    )


def test_masks_come_off_as_they_went_on(furnished: object, coatbook: Command, refused: Command) -> None:
    on_the_floor(coatbook)
    coatbook("log", "mask", "2", "on", "Static port", "2")
    assert "fewer than 3 masks" in refused("log", "mask", "2", "off", "static port", "3")
    assert coatbook("log", "mask", "2", "off", "static port", "2") == "Line 2, job 2: 2 x static port masked off.\n"
    assert "nobody has looked at the aircraft" in refused("job", "handover", "2", "--to", "Jo Alder")
    assert coatbook("log", "mask", "2", "look", "--by", "Kim Soto").startswith("Job 2: Kim Soto looked at the aircraft")
    coatbook("job", "handover", "2", "--to", "Jo Alder")
    assert "job 2 was handed over on" in refused("log", "mask", "2", "on", "static port", "2")


def test_readings_by_hand(furnished: object, coatbook: Command) -> None:
    told = coatbook(
        "log", "reading", "1", "Left wing", "--spot", "root", "--film", "112µm", "--film", "4.4 mil", *GAUGE
    )
    assert told == "Line 1, job 1: left wing, 1 spot of film, 2 readings.\n"


@pytest.mark.parametrize(
    "content",
    [
        NINE,
        "\ufeff" + NINE,
        NINE.replace("\n", "\r\n"),
        NINE.replace("\n", "\r"),
        NINE.replace("batch,value", "Batch, Value, Unit").replace("11", "0.11").replace("\n", ",µm\n")[:-4],
        "value,location,surface\n" + "110,a,left wing\n" * 2 + "112,a,Left wing\n" + "113,b,left wing\n" * 3,
    ],
)
def test_readings_of_a_file(
    content: str, furnished: object, coatbook: Command, gauge_file: Callable[[str], str]
) -> None:
    told = coatbook("log", "reading", "1", "--file", gauge_file(content), "--unit", "um", *GAUGE)
    assert told == "Line 1, job 1: left wing, 2 spots of film, 6 readings.\n"


def test_readings_of_stdin_with_two_a_spot(
    furnished: object, coatbook: Command, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(NINE.encode())))
    told = coatbook("log", "reading", "1", "--file", "-", "--per-spot", "2", "--unit", "µm", *GAUGE)
    assert told == "Line 1, job 1: left wing, 3 spots of film, 6 readings.\n"


BAD_FILES: list[tuple[int, str, str | bytes, tuple[str, ...]]] = [
    (1, "is not UTF-8 text", "batch,value\nflügel,1\n".encode("latin-1"), ()),
    (1, "the file gives no unit: add --unit", NINE, ()),
    (2, "'parsec' is not a unit", NINE, ("--unit", "parsec")),
    (1, "has no column batch or surface", "part,value\na,1\n", ("--unit", "µm")),
    (1, "has no column batch or surface and value", "", ("--unit", "µm")),
    (1, "no multiple of 4 a spot", NINE, ("--unit", "µm", "--per-spot", "4")),
    (2, "must lie between 1 and 100", NINE, ("--unit", "µm", "--per-spot", "0")),
    (1, "gauge.csv line 3: the film reading 'smooth µm'", NINE.replace("111", "smooth"), ("--unit", "µm")),
    (1, "gauge.csv line 2: the batch is empty", "batch,value\n,110\n", ("--unit", "µm")),
    (1, "line 2 is not CSV", "batch,value\n" + "x" * 200_000 + ",1\n", ("--unit", "µm")),
    (2, "is no paint: check the unit", NINE, ("--unit", "in")),
    (2, "must be a length", NINE, ("--unit", "fl oz")),
    (1, "has no surface 'right wing' (elevator, left wing)", NINE.replace("left", "right"), ("--unit", "µm")),
    (1, "is larger than 5 MB", "x" * 5_000_001, ("--unit", "µm")),
    (2, "no readings were given", "batch,value\n", ("--unit", "µm")),
]


@pytest.mark.parametrize(("code", "says", "content", "options"), BAD_FILES)
def test_nothing_of_a_bad_file_is_written(
    code: int,
    says: str,
    content: str | bytes,
    options: tuple[str, ...],
    furnished: object,
    refused: Command,
    gauge_file: Callable[[str | bytes], str],
) -> None:
    sentence = refused("log", "reading", "1", "--file", gauge_file(content), *options, *GAUGE, code=code)
    assert sentence.startswith("coatbook: ")
    assert says in sentence


def test_a_long_list_of_bad_rows_is_cut(furnished: object, refused: Command, gauge_file: Callable[[str], str]) -> None:
    sentence = refused(
        "log", "reading", "1", "--file", gauge_file("batch,value\n" + "left wing,x\n" * 500), "--unit", "µm", *GAUGE
    )
    assert len(sentence.splitlines()) == 21
    assert sentence.endswith("and 480 more")


REFUSALS: list[tuple[int, str, tuple[str, ...]]] = [
    (2, "write it like 2.5 h", ("hours", "1", "sam", "2.5")),
    (2, "must be a time: use one of min, h", ("hours", "1", "sam", "2 gal", "--step", "1")),
    (2, "is more than a day has", ("hours", "1", "sam", "24.5 h", "--step", "1")),
    (1, "must be more than zero", ("hours", "1", "sam", "0 h", "--step", "1")),
    (2, "is finer than the book keeps", ("hours", "1", "sam", "0.0000001 h", "--step", "1")),
    (1, "there is no job 7", ("hours", "7", "sam", "1h")),
    (1, "there is no job 99999999999999999999", ("note", "99999999999999999999", "x")),
    (1, "has no step 9", ("hours", "1", "sam", "1h", "--step", "9")),
    (1, "has no step 99999999999999999999", ("hours", "1", "sam", "1h", "--step", "99999999999999999999")),
    (1, "there is no worker 'pat'", ("hours", "1", "pat", "1h", "--step", "1")),
    (1, "is after today", ("hours", "1", "sam", "1h", "--step", "1", "--on", "2026-08-21")),
    (
        1,
        "would come before job 1 was opened on 2026-03-02",
        ("hours", "1", "sam", "1h", "--step", "1", "--on", "2026-03-01"),
    ),
    (2, "'one' is neither a job's number nor the word shop", ("hours", "one", "sam", "1h")),
    (1, "material buy sealant", ("use", "1", "sealant", "33 fl oz")),
    (2, "is kept in fl oz", ("use", "1", "sealant", "3 g")),
    (1, "there is no material 'wax'", ("use", "1", "wax", "3 g")),
    (2, "has more than 2 decimals", ("expense", "1", "3.555", "Tape")),
    (1, "must be more than zero", ("expense", "1", "0", "Tape")),
    (2, "the expense is empty", ("expense", "1", "3", " ")),
    (2, "must be a length", ("travel", "1", "3 h", "Home", "--rate", "1")),
    (2, "Missing option '--rate'", ("travel", "1", "3 mi", "Home")),
    (1, "larger than a book can hold", ("travel", "1", "999999 mi", "Home", "--rate", "999999999999999")),
    (2, "must be a temperature", ("conditions", "1", "--air", "20 %", "--skin", "20 °C", "--humidity", "20 %")),
    (2, "does not exist", ("conditions", "1", "--air", "20 °C", "--skin", "20 °C", "--humidity", "101 %")),
    (1, "job 1 is not on the floor yet", ("coat", "1", "sealant", "elevator", "--lot", "B")),
    (2, "must lie between 1 and 20", ("coat", "1", "sealant", "elevator", "--lot", "B", "--layer", "0")),
    (2, "use one of on, off", ("mask", "1", "under", "static port", "1")),
    (2, "must lie between 1 and 1000", ("mask", "1", "on", "static port", "0")),
    (1, "`coatbook job arrive 1` comes before a mask", ("mask", "1", "off", "static port", "1")),
    (2, "the note is empty", ("note", "1", "")),
    (2, "has 4001 characters", ("note", "1", "x" * 4001)),
    (2, "give either SURFACE with --spot and --film, or --file", ("reading", "1", *GAUGE)),
    (2, "give either SURFACE", ("reading", "1", "elevator", "--spot", "1", *GAUGE)),
    (2, "give either SURFACE", ("reading", "1", "elevator", "--file", "a.csv", *GAUGE)),
    (2, "go with --file", ("reading", "1", "elevator", "--spot", "1", "--film", "1 µm", "--unit", "µm", *GAUGE)),
    (2, "write it like 112 µm", ("reading", "1", "elevator", "--spot", "1", "--film", "112", *GAUGE)),
    (
        2,
        "use one of eddy current",
        ("reading", "1", "elevator", "--spot", "1", "--film", "1 µm", "--gauge", "eye", "--serial", "1"),
    ),
    (1, "cannot read 'nowhere.csv': No such file", ("reading", "1", "--file", "nowhere.csv", *GAUGE)),
    (1, "cannot read '/': Is a directory", ("reading", "1", "--file", "/", *GAUGE)),
]


@pytest.mark.parametrize(("code", "says", "arguments"), REFUSALS)
def test_refusals(code: int, says: str, arguments: tuple[str, ...], furnished: object, refused: Command) -> None:
    sentence = refused("log", *arguments, code=code)
    assert says in sentence
    if "Usage" not in sentence:
        assert sentence.startswith("coatbook: ")
        assert "\n" not in sentence
