"""Frozen records as canonical JSON and back."""

import datetime as dt
from dataclasses import dataclass
from decimal import Decimal
from enum import Enum
from typing import Annotated, Any, Literal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coatbook.values import Money, Price, Quantity
from coatbook.values.days import Month
from coatbook.values.frozen import dump, from_plain, load, plain
from coatbook.values.marks import parse_mark


class Verdict(Enum):
    GO = "go"
    STOP = "stop"


@dataclass(frozen=True, slots=True)
class Spot:
    name: str
    film: Annotated[Quantity, "in µm"]


@dataclass(frozen=True, slots=True)
class Sheet:
    on: dt.date
    at: dt.datetime
    rate: Decimal
    price: Price
    month: Month
    verdict: Verdict
    level: Literal["low", "high"]
    spots: tuple[Spot, ...]
    pair: tuple[int, str]
    seal: bytes
    note: str | None = None
    done: bool = False


SHEET = Sheet(
    on=dt.date(2026, 7, 31),
    at=dt.datetime(2026, 7, 31, 17, 5, tzinfo=dt.UTC),
    rate=Decimal("0.0825"),
    price=Price(Money.parse("45.00", "USD"), Quantity.parse("128 fl oz")),
    month=Month(2026, 7),
    verdict=Verdict.STOP,
    level="low",
    spots=(Spot("1", Quantity.parse("62.5 µm")), Spot("2", Quantity.parse("3 mil"))),
    pair=(1, "ä"),
    seal=b"\x00\xff",
)


def test_a_record_comes_back_as_it_went() -> None:
    assert load(Sheet, dump(SHEET)) == SHEET
    assert from_plain(Sheet, plain(SHEET)) == SHEET


def test_the_form_is_canonical() -> None:
    text = dump(Spot("ä", Quantity.parse("1 µm")))
    assert text == '{"film":{"quanta":5000,"unit":"µm"},"name":"ä"}'
    assert dump({"b": 1, "a": (True, None)}) == '{"a":[true,null],"b":1}'
    assert dump(Decimal("1E+2")) == '"100"'


def test_an_instant_is_kept_in_utc() -> None:
    local = dt.datetime(2026, 7, 31, 12, 5, tzinfo=dt.timezone(dt.timedelta(hours=-5)))
    assert dump(local) == dump(dt.datetime(2026, 7, 31, 17, 5, tzinfo=dt.UTC)) == '"2026-07-31T17:05:00+00:00"'


@pytest.mark.parametrize(
    "value",
    [1.5, (1, 2.0), {"a": 0.1}, Money(1.0, "USD"), {1, 2}, object(), Decimal("NaN"), dt.datetime(2026, 7, 31)],  # noqa: DTZ001
)
def test_what_has_no_exact_form_is_refused(value: Any) -> None:
    with pytest.raises(TypeError):
        dump(value)


@pytest.mark.parametrize(
    ("kind", "text"),
    [
        (int, "1.0"),
        (int, "true"),
        (bool, "1"),
        (str, "1"),
        (Decimal, "1.5"),
        (Decimal, '"NaN"'),
        (Decimal, '"1e3"'),
        (Decimal, '"ten"'),
        (dt.date, '"2026-02-30"'),
        (bytes, '"zz"'),
        (Verdict, '"maybe"'),
        (Literal["low", "high"], '"middle"'),
        (tuple[int, ...], '"1"'),
        (tuple[int, str], "[1]"),
        (int | None, '"x"'),
        (Spot, '{"name":"1"}'),
        (Spot, "[]"),
        (Month, '{"year":2026,"number":13}'),
        (Month, '{"year":2026,"number":7,"day":1}'),
    ],
)
def test_text_that_does_not_fit_is_refused(kind: Any, text: str) -> None:
    with pytest.raises((TypeError, ValueError)):
        load(kind, text)


def test_a_union_takes_the_first_kind_that_fits() -> None:
    kind: Any = Spot | Month | None
    assert load(kind, dump(Month(2026, 7))) == Month(2026, 7)
    assert load(kind, "null") is None


def test_a_mark_is_a_frozen_record_too() -> None:
    mark = parse_mark("n 123ab")
    assert load(type(mark), dump(mark)) == mark


@given(st.decimals(allow_nan=False, allow_infinity=False, places=6))
def test_a_decimal_keeps_its_value(number: Decimal) -> None:
    assert load(Decimal, dump(number)) == number


@given(st.dates(), st.text(max_size=20), st.integers())
def test_dates_text_and_integers_come_back(day: dt.date, text: str, number: int) -> None:
    assert load(dt.date, dump(day)) == day
    assert load(tuple[str, int], dump((text, number))) == (text, number)
