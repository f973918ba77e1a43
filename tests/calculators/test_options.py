"""Inputs read from options, CSV and TOML files, a job and defaults, and refused in one sentence where wrong."""

import datetime as dt
from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from typing import Annotated, Any, Literal

import pytest

from coatbook.calculators import Calculator, Every, Field, Result
from coatbook.calculators.fields import check, described
from coatbook.calculators.options import options, read, read_toml
from coatbook.values import Misuse, Money, Quantity

MUST_STAY = Quantity.of("2.5", "µm")


@dataclass(frozen=True, slots=True)
class Spot:
    spot: str
    film: Annotated[Quantity, Field("film read", unit="µm", low=Decimal(0))]
    surface: str = ""
    every: tuple[Every, ...] = ()


@dataclass(frozen=True, slots=True)
class Inputs:
    area: Annotated[Quantity, Field("area to coat", unit="m2", low=Decimal(0))]
    kind: Annotated[Literal["wash", "wax"], Field("what is done")]
    must_stay: Annotated[Quantity, Field("film that stays", unit="µm", source="common practice, no source")] = MUST_STAY
    coats: Annotated[int, Field("coats", low=Decimal(1), high=Decimal(9))] = 1
    factor: Annotated[Decimal, Field("a factor")] = Decimal("1.5")
    known: Annotated[bool, Field("whether layers are known")] = False
    applied: Annotated[dt.date | None, Field("day it was applied")] = None
    price: Annotated[Money | None, Field("price")] = None
    readings: Annotated[tuple[Spot, ...], Field("readings")] = ()
    accuracy: Annotated[tuple[Quantity, ...], Field("accuracy")] = ()


TRY = Calculator("try", "1", "tries options", (), Inputs, lambda _: (), lambda _: Result())
LEAST = {"area": ["12 m2"], "kind": ["wash"]}


def given(**more: list[str]) -> Inputs:
    return read(TRY, {**LEAST, **more})


def test_options_are_described_neutrally() -> None:
    by_name = {option.name: option for option in options(TRY)}
    assert list(by_name) == [field.name for field in described(Inputs)]
    assert by_name["area"].required
    assert not by_name["area"].repeatable
    assert by_name["kind"].choices == ("wash", "wax")
    assert by_name["must_stay"].flag == "--must-stay"
    assert by_name["must_stay"].default == "2.5 µm"
    assert "default 2.5 µm; common practice, no source" in by_name["must_stay"].help
    assert by_name["readings"].repeatable
    assert by_name["readings"].columns == ("spot", "film", "surface", "every")
    assert by_name["known"].default == "no"


def test_every_kind_of_value_is_read() -> None:
    inputs = given(
        must_stay=["0.5 mil"], coats=["3"], factor=["0.75"], known=["yes"], applied=["2026-01-31"],
        price=["45.00 usd"], accuracy=["1 µm", "1 %"],
    )  # fmt: skip
    assert inputs == Inputs(
        Quantity.of(12, "m2"), "wash", Quantity.of("0.5", "mil"), 3, Decimal("0.75"), True, dt.date(2026, 1, 31),
        Money(4500, "USD"), (), (Quantity.of(1, "µm"), Quantity.of(1, "%")),
    )  # fmt: skip


def test_rows_are_written_out_one_by_one() -> None:
    found = given(
        readings=["spot=1,film=112 µm", 'surface=wing, spot = 2 , film="4 mil",every=6 months|800 flight hours']
    )
    assert found.readings == (
        Spot("1", Quantity.of(112, "µm")),
        Spot("2", Quantity.of(4, "mil"), "wing", (Every(6, "month"), Every(800, "flight hour"))),
    )


@pytest.mark.parametrize(
    "text",
    [
        "spot,film\n1,112 µm\n2,4 mil\n",
        "Spot,Film (µm),operator\n1,112,AB\n\n2,101.6,AB\n",
        "\ufeffspot;film [um]\n1;112\n2;101.6 µm\n",
        "spot\tfilm\n1\t112 µm\n2\t4 mil",
    ],
)
def test_rows_come_from_the_plain_csv_a_gauge_exports(tmp_path: Path, text: str) -> None:
    file = tmp_path / "gauge.csv"
    file.write_text(text, encoding="utf-8")
    first, second = given(readings=[str(file)]).readings
    assert (first.spot, first.film) == ("1", Quantity.of(112, "µm"))
    assert second.film.same(Quantity.of(4, "mil"))


def test_rows_of_several_uses_follow_each_other(tmp_path: Path) -> None:
    file = tmp_path / "gauge.csv"
    file.write_text("spot,film\n1,112 µm\n", encoding="utf-8")
    assert [row.spot for row in given(readings=[str(file), "spot=2,film=99 µm"]).readings] == ["1", "2"]


TOML = """
area = "20 m2"
must-stay = "3 µm"
coats = 2
factor = 1.25
known = true
applied = 2026-01-31
accuracy = ["1 µm", "1 %"]

[[readings]]
spot = "1"
film = "112 µm"
every = ["6 months"]
"""


def toml(tmp_path: Path, text: str = TOML) -> dict[str, Any]:
    file = tmp_path / "inputs.toml"
    file.write_text(text, encoding="utf-8")
    return read_toml(file)


def test_a_toml_file_holds_values_and_tables(tmp_path: Path) -> None:
    inputs = read(TRY, {"kind": ["wax"]}, toml(tmp_path))
    assert inputs == Inputs(
        Quantity.of(20, "m2"), "wax", Quantity.of(3, "µm"), 2, Decimal("1.25"), True, dt.date(2026, 1, 31), None,
        (Spot("1", Quantity.of(112, "µm"), every=(Every(6, "month"),)),), (Quantity.of(1, "µm"), Quantity.of(1, "%")),
    )  # fmt: skip


def test_an_option_comes_before_the_file_the_file_before_the_job_the_job_before_the_default(tmp_path: Path) -> None:
    job = Inputs(Quantity.of(1, "m2"), "wax", coats=5, factor=Decimal(9))
    inputs = read(TRY, {"area": ["30 m2"]}, toml(tmp_path, 'area = "20 m2"\ncoats = 2'), job)
    assert (inputs.area, inputs.coats, inputs.factor, inputs.kind) == (Quantity.of(30, "m2"), 2, Decimal(9), "wax")
    assert not inputs.known


def test_all_that_is_missing_is_named_in_one_sentence() -> None:
    with pytest.raises(Misuse, match=r"^try still needs --area and --kind: give it as an option, in a TOML file"):
        read(TRY, {})


@pytest.mark.parametrize(
    ("more", "sentence"),
    [
        ({"area": ["12"]}, "the area '12' is not a number with its unit"),
        ({"area": ["12 m"]}, "the area 12 m is no area: use one of m2, ft2"),
        ({"area": ["-1 m2"]}, "the area -1 m2 is below 0 m2: give 0 m2 or more"),
        ({"area": ["1 m2", "2 m2"]}, "--area is given 2 times: give it once"),
        ({"kind": ["polish"]}, "use one of wash, wax"),
        ({"coats": ["two"]}, "the coats 'two' is not a whole number"),
        ({"coats": ["10"]}, "the coats 10 is above 9: give 9 or less"),
        ({"coats": ["٣"]}, "not a whole number"),
        ({"factor": ["1e3"]}, "not a plain number"),
        ({"factor": ["NaN"]}, "not a plain number"),
        ({"known": ["perhaps"]}, "use one of yes, no"),
        ({"applied": ["2026-02-30"]}, "the applied 2026-02-30"),
        ({"price": ["45.00"]}, "not an amount with its currency"),
        ({"price": ["45.00 QQQ"]}, "not an ISO 4217 currency code"),
        ({"readings": ["spot=1"]}, "the readings 'spot=1' has no film: add it"),
        ({"readings": ["spot=1,film=2 µm,color=red"]}, "has color, which is not asked"),
        ({"readings": ["spot=1,film=wet"]}, "the readings 'spot=1,film=wet': the film 'wet' is not a number"),
        ({"readings": ["spot=1,,film=2 µm"]}, "cannot be read from"),
        ({"readings": ["spot=1,film=-2 µm"]}, "the film -2 µm is below 0 µm"),
        ({"readings": ["none.csv"]}, "neither name=value,name=value nor a file that can be read"),
        ({"wings": ["2"]}, "try has no input wings: it has area, kind"),
    ],
)
def test_what_cannot_be_read_is_refused_in_one_sentence(more: dict[str, list[str]], sentence: str) -> None:
    with pytest.raises(Misuse) as refused:
        given(**more)
    assert sentence in str(refused.value)
    assert "\n" not in str(refused.value)


@pytest.mark.parametrize(
    ("content", "sentence"),
    [
        (b"", "has no heading line"),
        (b"spot,thickness\n1,112\n", "has no column film: add it"),
        (b"spot,film\n1,112 \xb5m\n", "is not a text file in UTF-8"),
        (b"spot,film\n1,112 um\n2,abc\n", "gauge.csv line 3: the film 'abc'"),
        (b"spot,film\n1,\n", "gauge.csv line 2 has no film: add it"),
        (b"spot,film\n" + b"1,2 um\n" * 20_001, "more than 20000 lines"),
        (b"spot,film\n" + b"1" * 5_000_001, "larger than 5000000 bytes"),
    ],
)
def test_a_file_that_cannot_be_read_is_refused_by_line(tmp_path: Path, content: bytes, sentence: str) -> None:
    file = tmp_path / "gauge.csv"
    file.write_bytes(content)
    with pytest.raises(Misuse) as refused:
        given(readings=[str(file)])
    assert sentence in str(refused.value)


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("area = 12", 'the area 12 has no unit: write it in quotes with its unit, such as "12 µm"'),
        ("area = [1]", "the area [1] has no unit"),
        ("coats = 2.5", "the coats"),
        ("coats = true", "the coats True"),
        ("readings = 5", "are not tables: write each under [[readings]]"),
        ('[[readings]]\nspot = "1"', "the readings, table 1 has no film: add it"),
        ('[[readings]]\nspot = "1"\nfilm = 12', "the readings, table 1: the film 12 has no unit"),
        ("color = 5", "try has no input color"),
    ],
)
def test_a_toml_file_with_wrong_values_is_refused(tmp_path: Path, text: str, sentence: str) -> None:
    with pytest.raises(Misuse) as refused:
        read(TRY, {"kind": ["wax"]}, toml(tmp_path, text))
    assert sentence in str(refused.value)


@pytest.mark.parametrize("content", [b"area = ", b"\xff"])
def test_what_is_no_toml_file_is_refused(tmp_path: Path, content: bytes) -> None:
    file = tmp_path / "inputs.toml"
    file.write_bytes(content)
    with pytest.raises(Misuse, match="is not a TOML file"):
        read_toml(file)
    with pytest.raises(Misuse, match="cannot be read"):
        read_toml(tmp_path / "none.toml")


def test_limits_hold_for_rows_too() -> None:
    wrong = Inputs(Quantity.of(1, "m2"), "wash", readings=(Spot("1", Quantity.of(-1, "µm")),))
    with pytest.raises(Misuse, match="the film -1 µm is below 0 µm"):
        check(wrong)


@dataclass(frozen=True, slots=True)
class FixedTuple:
    pair: tuple[int, int] = (1, 2)


@dataclass(frozen=True, slots=True)
class Either:
    value: int | str = 1


@dataclass(frozen=True, slots=True)
class Nested:
    inner: FixedTuple = FixedTuple()


@pytest.mark.parametrize("record", [FixedTuple, Either])
def test_inputs_no_option_can_be_made_of_are_the_author_s_fault(record: type) -> None:
    with pytest.raises(TypeError):
        described(record)


def test_a_record_inside_a_record_cannot_be_written() -> None:
    nested: Callable[[Any], Any] = lambda calculator: read(calculator, {"inner": ["1"]})  # noqa: E731
    with pytest.raises(TypeError, match="cannot be written"):
        nested(Calculator("nested", "1", "", (), Nested, lambda _: (), lambda _: Result()))
