"""The options of a calculator's command, made from its inputs, and inputs read back from what was given.

What is described here is neutral: the command line builds its own options from it.
"""

import tomllib
import typing
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from typing import Any, TypeVar

from coatbook.calculators.contract import Calculator
from coatbook.calculators.fields import Described, check, described
from coatbook.calculators.rows import rows_of, tables_of
from coatbook.calculators.typed import native_of, value_of, written
from coatbook.values import Misuse

Inputs = TypeVar("Inputs")


@dataclass(frozen=True, slots=True)
class Option:
    """One option of a calculator.

    Shapes: `name` is the input's field and the key in `read`'s `given`; `flag` is how it is typed; `columns` name
    what a row is made of, and are empty for a plain value; `choices` are empty where anything may be written.
    """

    name: str
    flag: str
    help: str
    repeatable: bool
    required: bool
    columns: tuple[str, ...] = ()
    choices: tuple[str, ...] = ()
    default: str = ""


def options(calculator: Calculator[Any]) -> tuple[Option, ...]:
    """The options of a calculator, in the order of its inputs."""
    return tuple(_option(field) for field in described(calculator.inputs))


def read(
    calculator: Calculator[Inputs],
    given: Mapping[str, Sequence[str]],
    toml: Mapping[str, Any] | None = None,
    job_inputs: Inputs | None = None,
) -> Inputs:
    """Inputs from what was given: an option comes first, then the file, then the job, then the default.

    Shapes: `given` maps an input's name to the texts of its option, in order; `toml` is a file's content.

    Raises:
        Misuse: a value cannot be read or lies outside its limits, or something is missing; the sentence says all
            that is missing.
    """
    fields = {field.name: field for field in described(calculator.inputs)}
    file = {name.replace("-", "_"): value for name, value in (toml or {}).items()}
    for name in (*given, *file):
        if name not in fields:
            raise Misuse(f"{calculator.name} has no input {name}: it has {', '.join(fields)}")
    values: dict[str, Any] = {}
    for name, field in fields.items():
        if given.get(name):
            values[name] = _from_option(field, given[name])
        elif name in file:
            values[name] = _from_file(field, file[name])
        elif job_inputs is not None:
            values[name] = getattr(job_inputs, name)
    _refuse_missing(calculator.name, [field for field in fields.values() if field.name not in values])
    inputs = calculator.inputs(**values)
    check(inputs)
    return inputs


def read_toml(path: Path) -> dict[str, Any]:
    """The content of a TOML file of inputs. Raises Misuse in one sentence where it cannot be read."""
    try:
        with path.open("rb") as file:
            return tomllib.load(file, parse_float=Decimal)
    except OSError as error:
        raise Misuse(f"{path} cannot be read ({error.strerror}): check its name") from None
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise Misuse(f"{path} is not a TOML file: {' '.join(str(error).split())}") from None


def flag(name: str) -> str:
    """How an input is typed as an option: must_stay becomes --must-stay."""
    return f"--{name.replace('_', '-')}"


def _option(field: Described) -> Option:
    columns = tuple(column.name for column in described(field.kind)) if field.rows else ()
    choices = typing.get_args(field.kind) if typing.get_origin(field.kind) is typing.Literal else ()
    return Option(
        name=field.name,
        flag=flag(field.name),
        help=_help(field, columns),
        repeatable=field.many,
        required=field.required,
        columns=columns,
        choices=choices,
        default="" if field.required else written(field.default),
    )


def _help(field: Described, columns: tuple[str, ...]) -> str:
    about = field.field
    default = "" if field.required else written(field.default)
    notes = [
        f"with its unit, such as {about.unit}" if about.unit else "",
        f"default {default}" if default else "",
        about.source,
    ]
    if columns:
        notes.append(f"a CSV file with the columns {', '.join(columns)}, or each as {columns[0]}=..,..")
    noted = "; ".join(note for note in notes if note)
    return f"{about.help or field.name.replace('_', ' ')}{f' ({noted})' if noted else ''}"


def _from_option(field: Described, texts: Sequence[str]) -> Any:
    what = field.name.replace("_", " ")
    if field.rows:
        return tuple(row for text in texts for row in rows_of(field.kind, text, what))
    if field.many:
        return tuple(value_of(field.kind, text, what) for text in texts)
    if len(texts) > 1:
        raise Misuse(f"{flag(field.name)} is given {len(texts)} times: give it once")
    return value_of(field.kind, texts[0], what)


def _from_file(field: Described, value: Any) -> Any:
    what = field.name.replace("_", " ")
    if field.rows:
        return tables_of(field.kind, value, field.name)
    if field.many:
        items = value if isinstance(value, list) else [value]
        return tuple(native_of(field.kind, item, what) for item in items)
    return native_of(field.kind, value, what)


def _refuse_missing(name: str, absent: Sequence[Described]) -> None:
    missing = [flag(field.name) for field in absent if field.required]
    if missing:
        raise Misuse(
            f"{name} still needs {' and '.join(missing)}: give it as an option, in a TOML file with --file, "
            "or from a job with --job"
        )
