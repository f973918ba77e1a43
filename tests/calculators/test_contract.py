"""The records of the contract: frozen, slotted, and the same after JSON."""

import dataclasses
import datetime as dt
import typing
from decimal import Decimal
from typing import Any

import pytest

from coatbook.calculators import (
    Aircraft,
    Calculator,
    Coating,
    Done,
    Due,
    Every,
    Figure,
    Gauge,
    Need,
    NotEnough,
    Past,
    Product,
    Reading,
    Result,
    Sheet,
    Step,
    Surface,
    Terms,
    Upkeep,
    Verdict,
    result,
    sheet,
)
from coatbook.values import Misuse, Money, Price, Quantity, Refusal, frozen

DAY = dt.date(2026, 1, 31)
GAUGE = Gauge("eddy current", "G-1", (Quantity.of(1, "%"),))
WASH = Upkeep("wash", (Every(6, "month"),), 14, 30, "ends", 7)
FULL_SHEET = Sheet(
    as_of=DAY,
    currency="USD",
    job="7",
    now=dt.datetime(2026, 1, 31, 12, tzinfo=dt.UTC),
    steps=(Step("1", "polish", "wing", "dull", 2, Quantity.of(3, "µm"), True, "compound", Quantity.of(2, "h"), DAY),),
    aircraft=Aircraft(
        "N123AB", "Cessna", "172S",
        (Surface("wing", Quantity.of(180, "ft2"), "aluminum", "single-stage", True, "no", None, True, 1998),),
        "C172", 1998, Quantity.of(2550, "lb"), "CAR 3", ((DAY, Decimal("4211.3")),), ("static port",),
    ),
    readings=(
        Reading("wing", "1", "film", Quantity.of(65, "µm"), GAUGE, "before"),
    ),
    stock=(
        Product(
            "compound", (("spreading", Quantity.of(500, "ft2/gal")), ("note", "shake well")), Quantity.of(1, "qt"),
            Quantity.of(3, "fl oz"), Price(Money(4500, "USD"), Quantity.of(1, "qt")), 5,
        ),
    ),
    coatings=(
        Coating(
            "c1", "wing", "sealant", DAY,
            Terms((WASH,), "day before", (("coastal", Decimal("0.5")),), True, 30),
            None, (Done("wash", DAY),), (("owner", DAY),), "coastal",
        ),
    ),
    history=(Past("3", "polish", "1", "dull", "small", Quantity.of(180, "ft2"), Quantity.of(9, "h"), DAY),),
)  # fmt: skip
FULL_RESULT = Result(
    (Figure("film", Decimal("65.0"), "µm", "wing", Decimal("60.0"), Decimal("70.0"), "half up to 0.1"),),
    (Verdict("wing", "care", "thin", ("1", "2")),),
    (Need("sealant", Quantity.of(30, "mL"), "1", Quantity.of(28, "mL"), Quantity.of(33, "mL"), 1, DAY),),
    (Due("c1", "wash", 1, DAY, DAY, DAY, "in grace", "because", "ends", (DAY, DAY)),),
    ("mind the edges",),
    ("a handbook",),
)


@pytest.mark.parametrize("record", [FULL_SHEET, FULL_RESULT, Sheet(DAY, "USD"), Result()])
def test_records_come_back_from_json(record: Any) -> None:
    assert frozen.load(type(record), frozen.dump(record)) == record


def test_every_record_is_frozen_and_slotted() -> None:
    records = [
        value
        for module in (sheet, result)
        for value in vars(module).values()
        if dataclasses.is_dataclass(value) and isinstance(value, type) and value.__module__ == module.__name__
    ]
    assert len(records) > 15
    for record in records:
        assert vars(record)["__dataclass_params__"].frozen, record
        assert "__slots__" in vars(record), record


def test_a_calculator_can_be_made_with_its_type_written_out() -> None:
    made = Calculator[Done]("x", "1", "", (), Done, lambda _: (), lambda _: Result())
    assert made.name == "x"
    assert typing.get_origin(Calculator[Done]) is Calculator


def test_a_sheet_finds_its_surfaces_and_products() -> None:
    assert FULL_SHEET.surface("wing") is not None
    assert FULL_SHEET.surface("tail") is None
    assert Sheet(DAY, "USD").surface("wing") is None
    product = FULL_SHEET.product("compound")
    assert product is not None
    assert product.fact("note") == "shake well"
    assert product.fact("loss") is None
    assert FULL_SHEET.product("wax") is None


@pytest.mark.parametrize(
    ("text", "every"),
    [
        ("6 months", Every(6, "month")),
        ("1 month", Every(1, "month")),
        ("12 Calendar  months", Every(12, "calendar month")),
        ("90 days", Every(90, "day")),
        ("2 weeks", Every(2, "week")),
        ("800 flight hours", Every(800, "flight hour")),
    ],
)
def test_intervals_are_read_as_they_are_written(text: str, every: Every) -> None:
    assert Every.parse(text) == every
    assert Every.parse(str(every)) == every


@pytest.mark.parametrize("text", ["6", "months", "0 months", "-6 months", "6 fortnights", "6.5 months", ""])
def test_other_intervals_are_refused(text: str) -> None:
    with pytest.raises(Misuse):
        Every.parse(text)


def test_too_little_known_is_a_refusal() -> None:
    assert issubclass(NotEnough, Refusal)
    assert NotEnough("x").exit_code == 1
