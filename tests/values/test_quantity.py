"""Quantities: what is typed, what is exact, and what is refused with the nearest two."""

import re
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coatbook.values import Misuse, Quantity, Refusal
from coatbook.values.quantity import BOUNDS, LARGEST, UNITS, plain, unit_named, units_of

PLAIN_UNITS = [name for name, unit in UNITS.items() if not unit.offset]
UNIT_NAMES = st.sampled_from(sorted(UNITS))


@pytest.mark.parametrize(
    ("typed", "printed"),
    [
        ("12 fl oz", "12 fl oz"),
        ("12 FL. OZ", "12 fl oz"),
        ("4.5h", "4.5 h"),
        ("4.50 hrs", "4.5 h"),
        ("62.5 µm", "62.5 µm"),  # micro sign
        ("62.5 μm", "62.5 µm"),  # Greek mu
        ("62.5 microns", "62.5 µm"),
        (".5 gal", "0.5 gal"),
        ("-3 each", "-3 each"),
        ("180  sq   ft", "180 ft2"),
        ("72 °F", "72 °F"),
        ("30%", "30 %"),
        ("400 ft²/gal", "400 ft2/gal"),
    ],
)
def test_a_quantity_is_read_as_people_type_it(typed: str, printed: str) -> None:
    assert str(Quantity.parse(typed)) == printed


@pytest.mark.parametrize("typed", ["", "12", "fl oz", "1,5 L", "twelve oz", "١٢ oz", "12 oz\nL", "1.2.3 L"])
def test_what_is_no_number_with_a_unit_is_refused(typed: str) -> None:
    with pytest.raises(Misuse, match="is not a number with its unit"):
        Quantity.parse(typed, "use")


@pytest.mark.parametrize("typed", ["1e5 m", "1/2 gal", "3 drops", "2 gal us", "5 °"])
def test_an_unknown_unit_is_refused_with_the_known_ones(typed: str) -> None:
    with pytest.raises(Misuse, match="is not a unit coatbook knows: use one of mL, L, fl oz"):
        Quantity.parse(typed)


@pytest.mark.parametrize(
    ("typed", "nearest_two"),
    [
        ("0.3333333 fl oz", "write 0.333 fl oz or 0.334 fl oz"),
        ("-0.3333333 fl oz", "write -0.334 fl oz or -0.333 fl oz"),
        ("1.000005 h", "write 1 h or 1.001 h"),
        ("72.00001 °F", "write 72 °F or 72.001 °F"),
        ("0.00000001 gal", "write 0 gal or 0.001 gal"),
    ],
)
def test_a_value_between_quanta_is_refused_with_the_nearest_two(typed: str, nearest_two: str) -> None:
    with pytest.raises(Misuse) as refusal:
        Quantity.parse(typed)
    assert str(refusal.value).endswith(nearest_two)
    for suggestion in nearest_two.removeprefix("write ").split(" or "):
        Quantity.parse(suggestion)


@given(st.integers(-(10**6), 10**6), UNIT_NAMES)
def test_three_decimals_are_exact_in_every_unit(thousandths: int, unit: str) -> None:
    value = Decimal(thousandths) / 1000
    quantity = Quantity.of(value, unit)
    assert quantity.value() == Fraction(value)
    assert str(quantity) == f"{plain(value)} {unit}"
    if quantity.dimension != "temperature" or -60 <= quantity.value("°C") <= 200:  # no other can be typed
        assert Quantity.parse(str(quantity)) == quantity


@given(st.integers(-(10**4), 10**4), UNIT_NAMES, st.data())
def test_telling_in_another_unit_changes_no_amount(thousandths: int, unit: str, data: st.DataObject) -> None:
    quantity = Quantity.of(Decimal(thousandths) / 1000, unit)
    other = data.draw(st.sampled_from(units_of(quantity.dimension)))
    assert quantity.told(other).same(quantity)
    assert quantity.told(other).told(unit) == quantity


def test_128_fluid_ounces_empty_a_gallon() -> None:
    left = Quantity.parse("1 gal")
    for _ in range(128):
        left = left - Quantity.parse("1 fl oz")
    assert left.quanta == 0
    assert Quantity.parse("1 fl oz").times(128).same(Quantity.parse("1 gal"))


def test_equality_is_of_amount_and_unit_and_order_of_amount_only() -> None:
    pint, ounces = Quantity.parse("1 pt"), Quantity.parse("16 fl oz")
    assert pint != ounces
    assert pint.same(ounces)
    assert Quantity.parse("1 mil") > Quantity.parse("25 µm")
    assert max(Quantity.parse("1 mil"), Quantity.parse("26 µm")).unit == "µm"


def test_a_sum_is_told_in_the_first_unit() -> None:
    assert Quantity.parse("1 gal") + Quantity.parse("1 qt") == Quantity.parse("1.25 gal")
    assert -Quantity.parse("1 gal") == Quantity.parse("-1 gal")


def test_two_dimensions_do_not_mix() -> None:
    ounce, fluid_ounce = Quantity.parse("1 oz"), Quantity.parse("1 fl oz")
    for operation in (lambda a, b: a + b, lambda a, b: a - b, lambda a, b: a < b, lambda a, b: a.same(b)):
        with pytest.raises(Refusal, match=r"is a (mass|volume), where a (mass|volume) is meant"):
            operation(ounce, fluid_ounce)
    with pytest.raises(Refusal, match="cannot be told in mL"):
        ounce.told("mL")


def test_a_quantity_beyond_64_bits_is_refused() -> None:
    assert Quantity(LARGEST, "mL").quanta == LARGEST
    with pytest.raises(Refusal, match="larger than a book can hold"):
        Quantity.of(10**9, "km")


@pytest.mark.parametrize("dimension", BOUNDS)
def test_more_than_anybody_can_mean_is_refused(dimension: str) -> None:
    least, most, of_bounds = BOUNDS[dimension]
    for unit in units_of(dimension):
        for bound, word, step in ((least, "smaller", -1), (most, "larger", 1)):
            at = Quantity.of(bound, of_bounds).decimal(unit)
            inside, beyond = at - step * Decimal("0.01"), at + step * Decimal("0.01")
            assert Quantity.parse(f"{inside:f} {unit}").decimal() == inside
            told = f"the use {plain(beyond)} {unit} is {word} than a book can hold: .* {bound} {of_bounds} is the "
            with pytest.raises(Refusal, match=re.escape(told).replace(re.escape(".*"), ".*")):
                Quantity.parse(f"{beyond:f} {unit}", "use")


def test_every_dimension_has_its_bounds() -> None:
    assert set(BOUNDS) == {unit.dimension for unit in UNITS.values()}


@pytest.mark.parametrize("typed", ["-76 °F", "-60 °C", "392 °F", "200 °C"])
def test_a_temperature_at_its_bound_can_be_typed(typed: str) -> None:
    assert str(Quantity.parse(typed)) == typed


def test_an_unknown_unit_cannot_slip_in() -> None:
    with pytest.raises(Misuse):
        Quantity(1, "furlong")
    with pytest.raises(Misuse):
        unit_named("furlong")


@given(st.floats(-1e5, 1e5), st.sampled_from(PLAIN_UNITS))
def test_a_computed_value_comes_back_at_three_decimals(value: float, unit: str) -> None:
    back = Quantity.nearest(value, unit)
    assert abs(back.value() - Fraction(value)) <= Fraction(1, 2000)
    assert (back.value() * 1000).denominator == 1


@pytest.mark.parametrize("value", [float("nan"), float("inf"), float("-inf"), Decimal("Infinity"), Decimal("NaN")])
def test_no_quantity_comes_from_a_value_that_is_not_finite(value: float | Decimal) -> None:
    with pytest.raises(ValueError, match=r"convert|finite"):
        Quantity.nearest(value, "mL")


def test_nearest_rounds_half_up_at_the_places_asked_for() -> None:
    assert Quantity.nearest(Decimal("2.5"), "each", 0) == Quantity.parse("3 each")
    assert Quantity.nearest(Decimal("-2.5"), "each", 0) == Quantity.parse("-3 each")
    assert Quantity.nearest(Fraction(2, 3), "L") == Quantity.parse("0.667 L")


def test_a_value_is_told_in_decimals_of_any_unit() -> None:
    gallon = Quantity.parse("1 gal")
    assert gallon.decimal("L") == Decimal("3.785")
    assert gallon.decimal("L", 6) == Decimal("3.785412")
    assert gallon.as_float("fl oz") == 128.0


@pytest.mark.parametrize(
    ("number", "printed"), [("12.500", "12.5"), ("100", "100"), ("1E+2", "100"), ("0.000", "0"), ("-0.50", "-0.5")]
)
def test_plain_drops_zeros_but_no_digits(number: str, printed: str) -> None:
    assert plain(Decimal(number)) == printed
