"""Conversions against the federal conversion table, the NIST handbooks and the definitions behind them."""

from decimal import Decimal
from fractions import Fraction

from coatbook.values import Quantity
from published.checks import Check, Status, table

CFR = "16 CFR 500.19(a), conversion factors (six significant digits; * exact)"
HANDBOOK_44 = "NIST Handbook 44, Appendix C"
SP_811 = "NIST SP 811, Appendix B.8 and B.9"
DEFINED = "231 in3 to the US gallon (NIST Handbook 44, App. C) and 1 in = 2.54 cm exactly"
YARD_AND_POUND = "international yard and pound, 1959"
FIXED_POINTS = "fixed points of the two temperature scales (published comparison of temperature scales)"


def _exact(check_id: str, typed: str, unit: str, expected: str, source: str, status: Status = "seen") -> Check:
    return Check(check_id, (typed, unit), expected, source, status=status)


def _six_digits(check_id: str, typed: str, unit: str, expected: str) -> Check:
    """A figure printed to six significant digits: half a unit of its last digit is allowed."""
    last = Decimal(expected).as_tuple().exponent
    return Check(check_id, (typed, unit), expected, CFR, tolerance=str(Decimal(5).scaleb(int(last) - 1)))


CONVERSIONS = (
    _exact("mil-um", "1 mil", "µm", "25.4", CFR),
    _exact("inch-m", "1 in", "m", "0.0254", CFR),
    _exact("foot-m", "1 ft", "m", "0.3048", CFR),
    _exact("foot2-m2", "1 ft2", "m2", "0.09290304", CFR),
    _six_digits("um-mil", "1 µm", "mil", "0.039370"),
    _six_digits("m-ft", "1 m", "ft", "3.28084"),
    _six_digits("m2-ft2", "1 m2", "ft2", "10.7639"),
    _six_digits("floz-ml", "1 fl oz", "mL", "29.5735"),
    _six_digits("ml-floz", "1 mL", "fl oz", "0.0338140"),
    # the table prints 473.177: exact is 473.176473, so its last digit is one too high
    Check("pint-ml", ("1 pt", "mL"), "473.177", CFR, tolerance="0.001"),
    Check("pint-l", ("1 pt", "L"), "0.473177", CFR, tolerance="0.000001"),
    _six_digits("quart-ml", "1 qt", "mL", "946.353"),
    _six_digits("liter-quart", "1 L", "qt", "1.05669"),
    _six_digits("gallon-l", "1 gal", "L", "3.78541"),
    _six_digits("liter-gallon", "1 L", "gal", "0.264172"),
    _six_digits("ounce-g", "1 oz", "g", "28.3495"),
    _six_digits("pound-g", "1 lb", "g", "453.592"),
    _six_digits("pound-kg", "1 lb", "kg", "0.453592"),
    _six_digits("kg-pound", "1 kg", "lb", "2.20462"),
    _exact("gallon-exact", "1 gal", "L", "3.785411784", DEFINED),
    _exact("pound-exact", "1 lb", "g", "453.59237", YARD_AND_POUND),
    _exact("gallon-floz", "1 gal", "fl oz", "128", HANDBOOK_44, "memory"),
    _exact("gallon-qt", "1 gal", "qt", "4", HANDBOOK_44, "memory"),
    _exact("quart-pt", "1 qt", "pt", "2", HANDBOOK_44, "memory"),
    _exact("pint-floz", "1 pt", "fl oz", "16", HANDBOOK_44, "memory"),
    _exact("floz-exact", "1 fl oz", "mL", "29.5735295625", HANDBOOK_44, "memory"),
    _exact("ounce-exact", "1 oz", "g", "28.349523125", HANDBOOK_44, "memory"),
    _exact("pound-oz", "1 lb", "oz", "16", HANDBOOK_44, "memory"),
    _exact("mile-ft", "1 mi", "ft", "5280", HANDBOOK_44, "memory"),
    _exact("mile-km", "1 mi", "km", "1.609344", SP_811, "memory"),
    _exact("micron-um", "1 micron", "m", "0.000001", SP_811, "memory"),
    _exact("hour-min", "1 h", "min", "60", SP_811, "memory"),
)


@table(CONVERSIONS)
def test_conversions(check: Check) -> None:
    typed, unit = check.inputs
    check.agrees(Quantity.parse(typed).value(unit))


TEMPERATURES = (
    _exact("ice-f", "0 °C", "°F", "32", FIXED_POINTS),
    _exact("ice-c", "32 °F", "°C", "0", FIXED_POINTS),
    _exact("steam-f", "100 °C", "°F", "212", FIXED_POINTS),
    _exact("steam-c", "212 °F", "°C", "100", FIXED_POINTS),
    _exact("body-f", "37 °C", "°F", "98.6", FIXED_POINTS),
    _exact("zero-f", "-273.15 °C", "°F", "-459.67", FIXED_POINTS),
    _exact("meeting-point", "-40 °C", "°F", "-40", "published temperature table: -40 C is -40 F exactly"),
    _exact("room-f", "20 °C", "°F", "68", SP_811, "memory"),
    Check("zero-fahrenheit", ("0 °F", "°C"), "-17.78", FIXED_POINTS, tolerance="0.005"),
)


@table(TEMPERATURES)
def test_temperatures(check: Check) -> None:
    typed, unit = check.inputs
    value, _, of = typed.partition(" ")  # absolute zero is colder than what can be typed
    check.agrees(Quantity.of(value, of).value(unit))


SQUARE_FOOT_MILS = (
    Check("ft2-mil-per-gallon", 1, "1604.17", "trade web pages on theoretical coverage", tolerance="0.005"),
    Check("ft2-mil-exact", 1, Fraction(231 * 1000, 144), DEFINED),
    Check("cubic-feet", 1, "1604.16", "trade handbook sheet H1002: 0.13368 ft3 x 12,000", tolerance="0.01"),
)


@table(SQUARE_FOOT_MILS)
def test_a_gallon_of_solids_covers_1604_square_feet_at_one_mil(check: Check) -> None:
    """Volume / thickness, in exact meters: nothing but the table of units is used."""
    cubic_meters = Quantity.parse("1 gal").value("L") / 1000
    square_meters = cubic_meters / Quantity.parse("1 mil").value("m")
    check.agrees(square_meters / Quantity.parse("1 ft2").value("m2"))


def test_the_metric_twin_is_a_thousand() -> None:
    square_meters = Quantity.parse("1 L").value("L") / 1000 / Quantity.parse("1 µm").value("m")
    assert square_meters == 1000


SPREADING = (
    Check(
        "one-ft2-per-gallon", "1 ft2/gal", Fraction("0.09290304") / Fraction("3.785411784"), DEFINED, status="memory"
    ),
    Check("400-ft2-per-gallon", "400 ft2/gal", "9.8170", SP_811, tolerance="0.00005", status="memory"),
    Check(
        "six-digits",
        "1 ft2/gal",
        Fraction("0.0929030") / Fraction("3.78541"),
        CFR,
        tolerance="0.0000001",
        status="memory",
    ),
)


@table(SPREADING)
def test_spreading_rates(check: Check) -> None:
    check.agrees(Quantity.parse(check.inputs).value("m2/L"))


def test_spreading_rates_go_back() -> None:
    assert Quantity.parse("10 m2/L").decimal("ft2/gal") == Decimal("407.458")
