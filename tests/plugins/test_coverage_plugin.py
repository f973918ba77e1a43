"""The coverage calculator: the kit's checks, what a job sheet gives it, and what it says when little is known."""

import datetime as dt
from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from coatbook.calculators import Aircraft, Calculator, NotEnough, Product, Sheet, Step, Surface
from coatbook.calculators.testing import CalculatorChecks
from coatbook.values import Money, Price, Quantity
from coatbook_plugins.coverage.calculator import CALCULATOR, Inputs, Skin, compute, gather


def quantity(text: str) -> Quantity:
    return Quantity.parse(text)


def surface(name: str, area: str | None) -> Surface:
    return Surface(name, quantity(area) if area else None, "aluminum", "single-stage", True, "no")


SEALANT = Product(
    code="sealant-30",
    facts=(("spreading", quantity("1000 ft2/gal")), ("loss", quantity("20 %")), ("coats", "2")),
    pack=quantity("30 mL"),
    on_hand=quantity("45 mL"),
    price=Price(Money(4500, "USD"), quantity("30 mL")),
)
SHEET = Sheet(
    as_of=dt.date(2026, 3, 2),
    currency="USD",
    job="12",
    steps=(
        Step(key="1", service="wash", surface="wing"),
        Step(key="2", service="coating", surface="wing", material="sealant-30", starts=dt.date(2026, 3, 9)),
        Step(key="3", service="coating", surface="tail", material="sealant-30", starts=dt.date(2026, 3, 10)),
        Step(key="4", service="polish", surface="wing", material="compound"),
        Step(key="5", service="polish", surface="wing", material="not-in-stock"),
    ),
    aircraft=Aircraft("N123AB", "Cessna", "172S", (surface("wing", "180 ft2"), surface("tail", "50 ft2"))),
    stock=(SEALANT, Product(code="compound")),
)
PLAIN = Inputs(
    spreading=quantity("10 m2/L"),
    area=quantity("20 m2"),
    loss=quantity("20 %"),
    pack=quantity("1 L"),
    on_hand=quantity("0.5 L"),
    pack_price=Money(8990, "USD"),
)


class TestContract(CalculatorChecks):
    sheets = (SHEET,)

    @pytest.fixture
    def calculator(self) -> Calculator[Any]:
        return CALCULATOR

    @pytest.fixture
    def examples(self) -> tuple[Any, ...]:
        bare = Inputs(spreading=quantity("500 ft2/gal"), skins=(Skin("wing", quantity("12 m2"), "2"),))
        return (PLAIN, bare, *gather(SHEET))


def figures(inputs: Inputs) -> dict[str, tuple[Decimal, str]]:
    return {figure.name: (figure.value, figure.unit) for figure in compute(inputs).figures}


def test_what_is_needed_bought_and_paid() -> None:
    # 20 m2 at 10 m2/L are 2 L on the skin; 20 % lost makes 2.5 L; half a liter is there, so 2 packs of 1 L
    assert figures(PLAIN) == {
        "area": (Decimal("20.000"), "m2"),
        "wet film of one coat": (Decimal("100.0"), "µm"),
        "product on the skin": (Decimal("2.000"), "L"),
        "product needed": (Decimal("2.500"), "L"),
        "packs to buy": (Decimal(2), "each"),
        "cost of the packs": (Decimal("179.80"), "USD"),
    }


def test_one_need_for_a_product_with_its_packs_and_day() -> None:
    (gathered,) = gather(SHEET)
    (need,) = compute(gathered).needs
    # 230 ft2, two coats at 1000 ft2/gal: 0.46 gal; over 0.8: 0.575 gal = 2176.612 mL; less 45: 71.05 packs
    assert (need.what, need.amount, need.packs, need.by) == (
        "sealant-30", quantity("2176.612 mL"), 72, dt.date(2026, 3, 9),
    )  # fmt: skip
    assert need.step is None
    assert gathered.pack_price == Money(4500, "USD")


def test_a_need_of_one_step_names_it() -> None:
    one = replace(SHEET, steps=SHEET.steps[1:2])
    (need,) = compute(gather(one)[0]).needs
    assert need.step == "2"


def test_a_step_without_a_surface_is_on_all_of_them() -> None:
    everywhere = replace(SHEET, steps=(Step(key="1", service="coating", material="sealant-30"),))
    (gathered,) = gather(everywhere)
    assert [skin.surface for skin in gathered.skins] == ["wing", "tail"]


def test_products_without_a_spreading_rate_are_passed_over() -> None:
    assert [inputs.product for inputs in gather(SHEET)] == ["sealant-30"]


@pytest.mark.parametrize(("coats", "expected"), [("2", 2), (Quantity.of(3, "each"), 3), (None, 1)])
def test_coats_come_from_the_label(coats: str | Quantity | None, expected: int) -> None:
    facts = SEALANT.facts[:1] + ((("coats", coats),) if coats is not None else ())
    (gathered,) = gather(replace(SHEET, stock=(replace(SEALANT, facts=facts),)))
    assert gathered.coats == expected


def test_coats_that_are_no_number_are_refused() -> None:
    odd = replace(SEALANT, facts=(*SEALANT.facts[:2], ("coats", "a few")))
    with pytest.raises(NotEnough, match="no whole number"):
        gather(replace(SHEET, stock=(odd,)))


def test_enough_on_hand_buys_nothing() -> None:
    full = replace(PLAIN, on_hand=quantity("2.5 L"))
    assert figures(full)["packs to buy"] == (Decimal(0), "each")
    assert figures(full)["cost of the packs"] == (Decimal("0.00"), "USD")


def test_what_is_not_known_is_said() -> None:
    result = compute(Inputs(spreading=quantity("10 m2/L"), area=quantity("20 m2")))
    assert [need.packs for need in result.needs] == [None]
    for word in ("no loss is counted", "nothing is counted as on hand", "the pack of product is not known"):
        assert any(word in caution for caution in result.cautions)


@pytest.mark.parametrize(
    ("inputs", "sentence"),
    [
        (Inputs(spreading=quantity("10 m2/L")), "no area is given"),
        (Inputs(spreading=quantity("10 m2/L"), skins=(Skin("wing"), Skin("tail"))), "area of wing, tail is not known"),
    ],
)
def test_an_unknown_area_is_refused(inputs: Inputs, sentence: str) -> None:
    with pytest.raises(NotEnough, match=sentence):
        compute(inputs)
