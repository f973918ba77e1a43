"""Exact quantities: a whole number of quanta of their dimension, and the unit they were written in.

A dimension's quantum is so small that every unit of it is a whole number of thousands of quanta, so any value
with at most three decimals in any unit is exact: 128 US fl oz empty a one-gallon lot to nothing.
The table below is the whole definition; docs/reference/units.md shows it. Sources: the international yard and
pound (1959; 1 in = 25.4 mm, 1 lb = 453.59237 g), the US gallon of 231 cubic inches (NIST Handbook 44, App. C).
"""

import re
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Self

from coatbook.values.refusal import Misuse, Refusal
from coatbook.values.rounding import round_half_up
from coatbook.values.words import a

LARGEST = 2**63 - 1


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit: its dimension, its size in quanta, and what is subtracted first (degrees Fahrenheit only)."""

    name: str
    dimension: str
    quanta: int
    offset: int = 0
    spellings: tuple[str, ...] = ()


_UNITS = (
    # volume: quantum 6.25e-11 mL; 1 US gal = 3785.411784 mL
    Unit("mL", "volume", 16_000_000_000, spellings=("ml", "milliliter", "milliliters")),
    Unit("L", "volume", 16_000_000_000_000, spellings=("l", "liter", "liters", "litre", "litres")),
    Unit("fl oz", "volume", 473_176_473_000, spellings=("floz", "fl. oz", "fl.oz.", "us fl oz", "fl oz us")),
    Unit("pt", "volume", 16 * 473_176_473_000, spellings=("pint", "pints")),
    Unit("qt", "volume", 32 * 473_176_473_000, spellings=("quart", "quarts")),
    Unit("gal", "volume", 128 * 473_176_473_000, spellings=("gallon", "gallons", "us gal")),
    # mass: quantum 6.25e-10 g; 1 lb = 453.59237 g
    Unit("g", "mass", 1_600_000_000, spellings=("gram", "grams")),
    Unit("kg", "mass", 1_600_000_000_000, spellings=("kilogram", "kilograms")),
    Unit("oz", "mass", 45_359_237_000, spellings=("ounce", "ounces")),
    Unit("lb", "mass", 16 * 45_359_237_000, spellings=("lbs", "pound", "pounds")),
    # length: quantum 0.2 nm; 1 mil = 25.4 µm
    Unit("µm", "length", 5_000, spellings=("um", "μm", "micron", "microns")),
    Unit("mil", "length", 127_000, spellings=("mils",)),
    Unit("in", "length", 127_000_000, spellings=("inch", "inches")),
    Unit("ft", "length", 12 * 127_000_000, spellings=("foot", "feet")),
    Unit("m", "length", 5_000_000_000, spellings=("meter", "meters", "metre", "metres")),
    Unit("km", "length", 5_000_000_000_000, spellings=("kilometer", "kilometers")),
    Unit("mi", "length", 63_360 * 127_000_000, spellings=("mile", "miles")),
    # area: quantum 6.4e-10 m2; 1 ft2 = 0.09290304 m2
    Unit("m2", "area", 1_562_500_000, spellings=("m²", "sqm", "sq m")),
    Unit("ft2", "area", 145_161_000, spellings=("ft²", "sqft", "sq ft")),
    # time of work: quantum 0.001 min
    Unit("min", "time", 1_000, spellings=("minute", "minutes")),
    Unit("h", "time", 60_000, spellings=("hr", "hrs", "hour", "hours")),
    Unit("each", "count", 1_000, spellings=("ea", "pc", "pcs", "piece", "pieces")),
    # calculators only
    Unit("%", "ratio", 1_000, spellings=("percent", "per cent")),
    Unit("GU", "gloss", 1_000, spellings=("gu",)),
    Unit("°C", "temperature", 9_000, spellings=("c", "degc", "deg c")),
    Unit("°F", "temperature", 5_000, offset=32, spellings=("f", "degf", "deg f")),
    Unit("m2/L", "spreading", 9_779_000, spellings=("m²/l", "m2/l", "sqm/l")),
    Unit("ft2/gal", "spreading", 240_000, spellings=("ft²/gal", "sqft/gal", "sq ft/gal")),
)

UNITS = {unit.name: unit for unit in _UNITS}

# The least and the most of each dimension that can be typed, each in the unit named: far beyond anything in a hangar,
# and so far inside 64 bits that the sums of many lines stay there too. Common practice, no source.
BOUNDS = {
    "volume": (-10_000, 10_000, "L"),
    "mass": (-10_000, 10_000, "kg"),
    "length": (-10_000, 10_000, "km"),
    "area": (-100_000, 100_000, "m2"),
    "time": (-1_000_000, 1_000_000, "h"),  # an airframe's own clock stands at tens of thousands
    "count": (-1_000_000, 1_000_000, "each"),
    "ratio": (-1_000, 1_000, "%"),
    "gloss": (-2_000, 2_000, "GU"),
    "temperature": (-60, 200, "°C"),
    "spreading": (-100_000, 100_000, "m2/L"),
}
_SPELLED = {spelling.casefold(): unit.name for unit in _UNITS for spelling in (unit.name, *unit.spellings)}
_TYPED = re.compile(r"(-?[0-9]{1,15}(?:\.[0-9]{1,12})?|-?\.[0-9]{1,12})\s*([^\s0-9.,+-].*)")


def unit_named(text: str) -> Unit:
    """The unit a person means by `text` ("fl oz", "sq ft", "micron").

    Raises:
        Misuse: no such unit; the sentence lists those there are.
    """
    name = _SPELLED.get(" ".join(text.split()).casefold())
    if name is None:
        raise Misuse(f"{text.strip()!r} is not a unit coatbook knows: use one of {', '.join(UNITS)}")
    return UNITS[name]


def units_of(dimension: str) -> tuple[str, ...]:
    """The names of the units of a dimension, smallest table order first."""
    return tuple(unit.name for unit in _UNITS if unit.dimension == dimension)


@dataclass(frozen=True, slots=True)
class Quantity:
    """A whole number of quanta, shown in `unit`. Equal only to the same amount in the same unit; `<` and `same`
    compare amounts across units of one dimension."""

    quanta: int
    unit: str

    def __post_init__(self) -> None:
        if self.unit not in UNITS:
            raise Misuse(f"{self.unit!r} is not a unit coatbook knows: use one of {', '.join(UNITS)}")
        if abs(self.quanta) > LARGEST:
            raise Refusal(f"the quantity is larger than a book can hold in {self.unit}")

    @classmethod
    def of(cls, value: Decimal | Fraction | int | str, unit: str) -> Self:
        """An exact quantity from a number and a unit.

        Raises:
            Misuse: the value lies between two quanta; the sentence names the nearest two with three decimals.
        """
        known = unit_named(unit)
        exact = (Fraction(value) - known.offset) * known.quanta
        if exact.denominator != 1:
            below = Fraction(value) * 1000 // 1
            lower, upper = (f"{Decimal(int(count)) / 1000} {known.name}" for count in (below, below + 1))
            raise Misuse(f"{value} {known.name} is finer than the book keeps: write {lower} or {upper}")
        return cls(int(exact), known.name)

    @classmethod
    def nearest(cls, value: Decimal | Fraction | float, unit: str, places: int = 3) -> Self:
        """A computed value brought back to the exact world: rounded half up at `places` decimals of the unit.

        This is the one way out of a calculator's floats. Raises ValueError for NaN and infinities.
        """
        try:
            exact = Fraction(value) * 10**places
        except OverflowError:
            raise ValueError(f"{value} is not a finite number") from None
        return cls.of(Fraction(round_half_up(exact.numerator, exact.denominator), 10**places), unit)

    @classmethod
    def parse(cls, text: str, what: str = "quantity", like: str = "12.5 fl oz") -> Self:
        """Read "12 fl oz", "4.5h", "62.5 µm"; `like` is the example a refusal shows.

        Raises:
            Misuse: no number, no unit, an unknown unit, or a value between quanta.
            Refusal: beyond the bounds of its dimension, which nobody can mean.
        """
        typed = _TYPED.fullmatch(text.strip())
        if typed is None:
            raise Misuse(f"the {what} {text!r} is not a number with its unit: write it like {like}")
        number, unit = Decimal(typed[1]), unit_named(typed[2])
        _refuse_beyond(number, unit, what)
        return cls.of(number, unit.name)

    @property
    def dimension(self) -> str:
        return UNITS[self.unit].dimension

    def _check(self, other: "Quantity") -> None:
        if other.dimension != self.dimension:
            raise Refusal(
                f"{other} is {a(other.dimension)}, where {a(self.dimension)} is meant "
                f"({', '.join(units_of(self.dimension))})"
            )

    def in_same(self, other: "Quantity") -> int:
        """This quantity's quanta, once `other` is known to be of the same dimension."""
        other._check(self)
        return self.quanta

    def value(self, unit: str | None = None) -> Fraction:
        """The exact number of `unit` (its own if none is given) in this quantity."""
        wanted = UNITS[unit or self.unit]
        if wanted.dimension != self.dimension:
            raise Refusal(f"{self} cannot be told in {wanted.name}: that is {a(wanted.dimension)}")
        return Fraction(self.quanta, wanted.quanta) + wanted.offset

    def decimal(self, unit: str | None = None, places: int = 3) -> Decimal:
        """`value`, rounded half up at `places` decimals."""
        exact = self.value(unit) * 10**places
        return Decimal(round_half_up(exact.numerator, exact.denominator)).scaleb(-places)

    def as_float(self, unit: str) -> float:
        """The number of `unit` as a binary float, for use inside a calculator only."""
        return float(self.value(unit))

    def told(self, unit: str) -> "Quantity":
        """The same amount, shown in another unit of its dimension."""
        self.value(unit)
        return Quantity(self.quanta, unit)

    def same(self, other: "Quantity") -> bool:
        """Whether both are the same amount, whatever units they are shown in."""
        return self.in_same(other) == other.quanta

    def __str__(self) -> str:
        return f"{plain(self.decimal())} {self.unit}"

    def __add__(self, other: "Quantity") -> "Quantity":
        self._check(other)
        return Quantity(self.quanta + other.quanta, self.unit)

    def __sub__(self, other: "Quantity") -> "Quantity":
        self._check(other)
        return Quantity(self.quanta - other.quanta, self.unit)

    def __neg__(self) -> "Quantity":
        return Quantity(-self.quanta, self.unit)

    def __lt__(self, other: "Quantity") -> bool:
        self._check(other)
        return self.quanta < other.quanta

    def times(self, factor: int) -> "Quantity":
        return Quantity(self.quanta * factor, self.unit)


def _refuse_beyond(number: Decimal, unit: Unit, what: str) -> None:
    """Refuse a typed value beyond the bounds of its dimension."""
    least, most, of_bounds = BOUNDS[unit.dimension]
    quanta = (Fraction(number) - unit.offset) * unit.quanta
    told = f"the {what} {plain(number)} {unit.name} is"
    if quanta > Quantity.of(most, of_bounds).quanta:
        raise Refusal(f"{told} larger than a book can hold: check number and unit, {most} {of_bounds} is the most")
    if quanta < Quantity.of(least, of_bounds).quanta:
        raise Refusal(f"{told} smaller than a book can hold: check number and unit, {least} {of_bounds} is the least")


def plain(number: Decimal) -> str:
    """A decimal without trailing zeros or exponent: 12.500 -> 12.5, 100 -> 100."""
    text = f"{number:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
