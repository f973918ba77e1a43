"""Frozen records as canonical JSON and back: one form for what is hashed, stored, and sent to a calculator.

Canonical: keys sorted, no spaces, integers only; a binary float is refused. Dates are ISO, decimals are strings.
"""

import dataclasses
import datetime as dt
import json
import re
import types
import typing
from decimal import Decimal
from enum import Enum
from functools import cache
from typing import Any, TypeVar

T = TypeVar("T")

_PLAIN = frozenset({str, int, bool, type(None)})
_DECIMAL = re.compile(r"-?[0-9]+(\.[0-9]+)?")


def plain(value: Any) -> Any:
    """`value` as JSON types. Raises TypeError for a float or any type a frozen record may not hold."""
    if type(value) in _PLAIN:  # nearly all of them, so asked first
        return value
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return {field.name: plain(getattr(value, field.name)) for field in dataclasses.fields(value)}
    if isinstance(value, Enum):
        return value.value
    if value is None or isinstance(value, bool | int | str):
        return value
    if isinstance(value, Decimal):
        if not value.is_finite():
            raise TypeError(f"{value} is not a finite number")
        return f"{value:f}"
    if isinstance(value, dt.datetime):
        if value.tzinfo is None:
            raise TypeError(f"a frozen record cannot hold {value.isoformat()}: an instant needs its zone")
        return value.astimezone(dt.UTC).isoformat()
    if isinstance(value, dt.date):
        return value.isoformat()
    if isinstance(value, tuple | list):
        return [plain(item) for item in value]
    if isinstance(value, dict):
        return {str(key): plain(item) for key, item in value.items()}
    if isinstance(value, bytes):
        return value.hex()
    raise TypeError(f"a frozen record cannot hold a {type(value).__name__}: {value!r}")


def dump(value: Any) -> str:
    """`value` as one line of canonical JSON."""
    return json.dumps(plain(value), sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False)


def load(kind: type[T], text: str) -> T:
    """The record of type `kind` that `dump` wrote. Raises TypeError or ValueError where the text does not fit."""
    return typing.cast(T, _read(kind, json.loads(text)))


def from_plain(kind: type[T], data: Any) -> T:
    """The record of type `kind` that `plain` took apart."""
    return typing.cast(T, _read(kind, data))


@cache
def _hints(kind: type) -> dict[str, Any]:
    return typing.get_type_hints(kind)


def _read(kind: Any, data: Any) -> Any:
    origin = typing.get_origin(kind)
    if origin is typing.Annotated:
        return _read(typing.get_args(kind)[0], data)
    if origin in (typing.Union, types.UnionType):
        return _read_union(typing.get_args(kind), data)
    if origin is typing.Literal:
        if data not in typing.get_args(kind):
            raise ValueError(f"{data!r} is not one of {typing.get_args(kind)}")
        return data
    if origin is tuple:
        return _read_tuple(typing.get_args(kind), data)
    if kind is Any:
        return data
    if dataclasses.is_dataclass(kind):
        return _read_record(typing.cast(type, kind), data)
    if kind is Decimal:
        return _read_decimal(data)
    if kind is dt.datetime:
        return dt.datetime.fromisoformat(data)
    if kind is dt.date:
        return dt.date.fromisoformat(data)
    if kind is bytes:
        return bytes.fromhex(data)
    if isinstance(kind, type) and issubclass(kind, Enum):
        return kind(data)
    if kind in (str, int, bool) and type(data) is kind:
        return data
    raise TypeError(f"{data!r} is not a {getattr(kind, '__name__', kind)}")


def _read_decimal(data: Any) -> Decimal:
    # only the plain form that `plain` writes: no NaN, no infinity, no JSON number
    if not isinstance(data, str) or not _DECIMAL.fullmatch(data):
        raise TypeError(f"{data!r} is not a decimal number written as text")
    return Decimal(data)


def _read_union(kinds: tuple[Any, ...], data: Any) -> Any:
    if data is None and type(None) in kinds:
        return None
    problems = []
    for kind in kinds:
        if kind is not type(None):
            try:
                return _read(kind, data)
            except (TypeError, ValueError, KeyError) as problem:
                problems.append(str(problem))
    raise TypeError("; ".join(problems))


def _read_tuple(kinds: tuple[Any, ...], data: Any) -> tuple[Any, ...]:
    if not isinstance(data, list):
        raise TypeError(f"{data!r} is not a list")
    if len(kinds) == 2 and kinds[1] is Ellipsis:
        return tuple(_read(kinds[0], item) for item in data)
    return tuple(_read(kind, item) for kind, item in zip(kinds, data, strict=True))


def _read_record(kind: type, data: Any) -> Any:
    if not isinstance(data, dict):
        raise TypeError(f"{data!r} is not a {kind.__name__}")
    hints = _hints(kind)
    unknown = set(data) - {field.name for field in dataclasses.fields(kind)}
    if unknown:
        raise TypeError(f"{kind.__name__} has no {', '.join(sorted(unknown))}")
    return kind(**{name: _read(hints[name], item) for name, item in data.items()})
