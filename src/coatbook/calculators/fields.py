"""What is known of one input field, and the check of inputs against it."""

import dataclasses
import types
import typing
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from functools import cache
from typing import Any

from coatbook.values import Misuse, Quantity
from coatbook.values.quantity import UNITS, units_of


@dataclass(frozen=True, slots=True)
class Field:
    """What a person needs to know of one input: `Annotated[Quantity, Field("area to coat", unit="m2")]`.

    Shapes: `unit` sets the dimension and is the unit of `low` and `high`, which are inclusive; `source` names
    where a default comes from.
    """

    help: str
    unit: str = ""
    low: Decimal | None = None
    high: Decimal | None = None
    source: str = ""


@dataclass(frozen=True, slots=True)
class Described:
    """One field of an inputs record, taken apart.

    Shapes: `kind` is the type of one value, or of one item where `many`; `rows` says that an item is a
    record of its own; `optional` that None is allowed; `required` that the field has no default.
    """

    name: str
    kind: Any
    field: Field
    many: bool
    rows: bool
    optional: bool
    required: bool
    default: Any


def described(record: type) -> tuple[Described, ...]:
    """The fields of a dataclass of inputs, in order. Raises TypeError for a type no option can be made of."""
    return _described(record)


@cache
def _described(record: type) -> tuple[Described, ...]:
    hints = typing.get_type_hints(record, include_extras=True)
    return tuple(_describe(field, hints[field.name]) for field in dataclasses.fields(record))


def _describe(field: "dataclasses.Field[Any]", hint: Any) -> Described:
    about = Field("")
    if typing.get_origin(hint) is typing.Annotated:
        hint, *extras = typing.get_args(hint)
        about = next((extra for extra in extras if isinstance(extra, Field)), about)
    kind, optional = _without_none(hint)
    many = typing.get_origin(kind) is tuple
    if many:
        kind, ellipsis = typing.get_args(kind)
        if ellipsis is not Ellipsis:
            raise TypeError(f"the input {field.name} is a tuple of fixed length: make it a record")
    default = field.default
    if field.default_factory is not dataclasses.MISSING:
        default = field.default_factory()
    required = default is dataclasses.MISSING
    rows = many and dataclasses.is_dataclass(kind) and not hasattr(kind, "parse")
    return Described(field.name, kind, about, many, rows, optional, required, None if required else default)


def _without_none(hint: Any) -> tuple[Any, bool]:
    if typing.get_origin(hint) not in (typing.Union, types.UnionType):
        return hint, False
    kinds = [kind for kind in typing.get_args(hint) if kind is not type(None)]
    if len(kinds) != 1:
        raise TypeError(f"{hint} leaves open what is meant: an input has one type, or that type and None")
    return kinds[0], True


def check(inputs: Any) -> None:
    """Refuse inputs of another dimension than their field's unit, or outside its limits, rows included.

    Raises:
        Misuse: one sentence naming the first such field.
    """
    for field in described(type(inputs)):
        value = getattr(inputs, field.name)
        for item in value if field.many else (value,):
            if field.rows:
                check(item)
            elif item is not None:
                check_value(item, field)


def check_value(value: Any, field: Described) -> None:
    """Refuse one value that does not fit its field."""
    about, name = field.field, field.name.replace("_", " ")
    if isinstance(value, Quantity):
        if about.unit and value.dimension != UNITS[about.unit].dimension:
            dimension = UNITS[about.unit].dimension
            known = ", ".join(units_of(dimension))
            raise Misuse(f"the {name} {value} is no {dimension}: use one of {known}")
        number = value.value(about.unit or None)
    elif isinstance(value, Decimal | int) and not isinstance(value, bool):
        number = Fraction(value)
    else:
        return
    unit = f" {about.unit}" if about.unit else ""
    if about.low is not None and number < Fraction(about.low):
        raise Misuse(f"the {name} {value} is below {about.low}{unit}: give {about.low}{unit} or more")
    if about.high is not None and number > Fraction(about.high):
        raise Misuse(f"the {name} {value} is above {about.high}{unit}: give {about.high}{unit} or less")
