"""Rows of an input: each as `spot=1,film=112 µm`, or many from a CSV file, or tables of a TOML file."""

import csv
import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from coatbook.calculators.fields import Described, described
from coatbook.calculators.typed import cell_of, native_of
from coatbook.values import Misuse

LARGEST_FILE = 5_000_000
MOST_ROWS = 20_000

_PAIR = re.compile(r'\s*([A-Za-z][\w -]*?)\s*=\s*("[^"]*"|[^,]*)\s*(?:,|$)')
_WITH_UNIT = re.compile(r"(.+?)\s*[(\[]\s*([^)\]]+?)\s*[)\]]")
_BARE_NUMBER = re.compile(r"-?[0-9]*\.?[0-9]+")


def rows_of(record: type, text: str, what: str) -> tuple[Any, ...]:
    """The rows that one use of an option gives: one row written out, or all of a file.

    Raises:
        Misuse: it is neither, or a column is missing, unknown or cannot be read.
    """
    if "=" in text:
        return (_row(record, _pairs(text, what), f"the {what} {text!r}"),)
    return read_csv(record, Path(text), what)


def tables_of(record: type, tables: Any, what: str) -> tuple[Any, ...]:
    """The rows of an array of tables in a TOML file."""
    if not isinstance(tables, list) or not all(isinstance(table, dict) for table in tables):
        raise Misuse(f"the {what} of the file are not tables: write each under [[{what}]]")
    return tuple(_table(record, table, f"the {what}, table {number}") for number, table in enumerate(tables, 1))


def read_csv(record: type, path: Path, what: str) -> tuple[Any, ...]:
    """The rows of a CSV file with a heading line. A heading may carry the unit of its column: film (µm).

    Columns that `record` does not have are passed over: a gauge exports more than is asked.
    """
    lines = _lines(path, what)
    delimiter = max(",;\t", key=lines[0].count)
    headings = [_heading(text) for text in next(csv.reader(lines[:1], delimiter=delimiter))]
    missing = [
        field.name for field in described(record) if field.required and field.name not in [name for name, _ in headings]
    ]
    if missing:
        raise Misuse(f"{path} has no column {' and no column '.join(missing)}: add it to the heading line")
    rows = []
    for number, cells in enumerate(csv.reader(lines[1:], delimiter=delimiter), 2):
        if any(cell.strip() for cell in cells):
            named = {name: _with_unit(cell, unit) for (name, unit), cell in zip(headings, cells, strict=False)}
            known = {field.name for field in described(record)}
            rows.append(_row(record, {n: c for n, c in named.items() if n in known}, f"{path} line {number}"))
    return tuple(rows)


def _lines(path: Path, what: str) -> list[str]:
    try:
        if path.stat().st_size > LARGEST_FILE:
            raise Misuse(f"{path} is larger than {LARGEST_FILE} bytes: split it")
        lines = path.read_text(encoding="utf-8-sig").splitlines()
    except UnicodeDecodeError:
        raise Misuse(f"{path} is not a text file in UTF-8: save it as CSV UTF-8") from None
    except OSError as error:
        raise Misuse(
            f"the {what} {str(path)!r} is neither name=value,name=value nor a file that can be read ({error.strerror})"
        ) from None
    if not lines or not lines[0].strip():
        raise Misuse(f"{path} has no heading line: write the names of its columns in line 1")
    if len(lines) > MOST_ROWS:
        raise Misuse(f"{path} has more than {MOST_ROWS} lines: split it")
    return lines


def _heading(text: str) -> tuple[str, str]:
    typed = _WITH_UNIT.fullmatch(text.strip())
    name, unit = (typed[1], typed[2]) if typed else (text, "")
    return _name(name), unit


def _name(text: str) -> str:
    return text.strip().lower().replace(" ", "_").replace("-", "_")


def _with_unit(cell: str, unit: str) -> str:
    return f"{cell.strip()} {unit}" if unit and _BARE_NUMBER.fullmatch(cell.strip()) else cell


def _pairs(text: str, what: str) -> dict[str, str]:
    pairs: dict[str, str] = {}
    at = 0
    while at < len(text):
        pair = _PAIR.match(text, at)
        if pair is None:
            raise Misuse(f"the {what} {text!r} cannot be read from {text[at:]!r} on: write name=value,name=value")
        pairs[_name(pair[1])] = pair[2].strip().strip('"')
        at = pair.end()
    return pairs


def _fields(record: type, given: Mapping[str, Any], where: str) -> dict[str, Described]:
    """The fields of a row by name, once all that is given is known and all that is required is given."""
    fields = {field.name: field for field in described(record)}
    unknown = [name for name in given if name not in fields]
    if unknown:
        raise Misuse(f"{where} has {' and '.join(unknown)}, which is not asked: it may have {', '.join(fields)}")
    lacking = [name for name, field in fields.items() if field.required and given.get(name) in (None, "")]
    if lacking:
        raise Misuse(f"{where} has no {' and no '.join(lacking)}: add it")
    return fields


def _row(record: type, given: Mapping[str, str], where: str) -> Any:
    fields = _fields(record, given, where)
    values = {name: _cell(fields[name], text, where) for name, text in given.items() if text.strip()}
    return record(**values)


def _cell(field: Described, text: str, where: str) -> Any:
    try:
        return cell_of(field, text, field.name.replace("_", " "))
    except Misuse as misuse:
        raise Misuse(f"{where}: {misuse}") from None


def _table(record: type, table: Mapping[str, Any], where: str) -> Any:
    given = {_name(name): value for name, value in table.items()}
    fields = _fields(record, given, where)
    try:
        return record(**{name: _native(fields[name], value) for name, value in given.items()})
    except Misuse as misuse:
        raise Misuse(f"{where}: {misuse}") from None


def _native(field: Described, value: Any) -> Any:
    what = field.name.replace("_", " ")
    if field.many and isinstance(value, list):
        return tuple(native_of(field.kind, item, what) for item in value)
    if field.many:
        return cell_of(field, str(value), what)
    return native_of(field.kind, value, what)
