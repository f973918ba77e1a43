"""The coverage calculator against worked examples and the definitions of the units."""

from fractions import Fraction

from coatbook.values import Quantity
from coatbook_plugins.coverage.formulas import (
    packs_to_buy,
    practical_spreading,
    volume_on_skin,
    wet_film,
    with_loss,
)
from published.checks import Check, table

SUPPLIER = "coating supplier's worked example: 7.57 m2/L less 30 % loss"
GUIDE = "published coating estimating guide"
UNITS = "computed from the definitions: 1 US gal = 231 in3, 1 in = 25.4 mm (NIST Handbook 44, Appendix C)"

LOSSES = (
    Check("coverage-loss-metric", ("7.57", 30), "5.299", SUPPLIER, "0.0005"),
    Check("coverage-loss-us", ("100", 30), "70", "trade web page on practical coverage: 30 % lost of 100 ft2/gal"),
)


@table(LOSSES)
def test_practical_spreading(check: Check) -> None:
    spreading, loss = check.inputs
    check.agrees(practical_spreading(Fraction(spreading), Fraction(loss, 100)))


VOLUMES = (
    Check("coverage-loss-volume", ("9.310489", 30), "13.3007", "trade web page on theoretical coverage: 13.3 L",
          "0.001"),
)  # fmt: skip


@table(VOLUMES)
def test_loss_divides(check: Check) -> None:
    volume, loss = check.inputs
    found = with_loss(Fraction(volume), Fraction(loss, 100))
    check.agrees(found)
    assert found > Fraction(volume) * (1 + Fraction(loss, 100))  # multiplying would buy too little


FILMS = (
    Check("coverage-wet-10-mil", "160.417 ft2/gal", "10", "trade web page: 10 mil wet cover 160.417 ft2/gal", "0.001"),
    Check("coverage-wet-constant", "1604.167 ft2/gal", "1", "trade web pages: 1604.17 ft2·mil per US gal", "0.00001"),
    Check("coverage-wet-100-ft2", "100 ft2/gal", "16.04", "trade web page: one gallon on 100 ft2 is 16 mil wet",
          "0.005"),
    Check("coverage-wet-quart", "400 ft2/gal", "4.01", UNITS, "0.005", "memory"),
)  # fmt: skip


@table(FILMS)
def test_wet_film_in_mil(check: Check) -> None:
    film = wet_film(Quantity.parse(check.inputs))
    check.agrees(film / Fraction("25.4"))


METRIC_FILMS = (
    Check("coverage-wet-1-mL-m2", "1000 m2/L", "1", "1 mL on 1 m2 is 1 µm, by definition"),
    Check("coverage-wet-quart-µm", "400 ft2/gal", "101.86", UNITS, "0.005", "memory"),
    Check("coverage-wet-65-125", "5.2 m2/L", "192.308", f"{GUIDE}: 5.2 m2/L of 65 % solids dry to 125 µm", "0.001"),
)


@table(METRIC_FILMS)
def test_wet_film_in_micrometers(check: Check) -> None:
    check.agrees(wet_film(Quantity.parse(check.inputs)))


RATES = (
    Check("coverage-volume-quart", ("100 ft2", "9.817 m2/L", 1), "0.9463", UNITS, "0.0001", "memory"),
    Check("coverage-volume-two-coats", ("200 ft2", "400 ft2/gal", 2), "3.785411784", UNITS),
)


@table(RATES)
def test_volume_on_the_skin_in_liters(check: Check) -> None:
    area, spreading, coats = check.inputs
    check.agrees(volume_on_skin(Quantity.parse(area), Quantity.parse(spreading), coats))


PACKS = (
    Check("coverage-packs", ("13.3007", "0", "5"), 3, "packs are bought whole: common practice, no source",
          status="common practice"),
    Check("coverage-packs-shelf", ("13.3007", "3.3007", "5"), 2, "packs are bought whole: common practice, no source",
          status="common practice"),
)  # fmt: skip


@table(PACKS)
def test_packs_are_whole_and_what_is_on_hand_counts(check: Check) -> None:
    check.agrees(packs_to_buy(*(Fraction(part) for part in check.inputs)))
