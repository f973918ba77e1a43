"""The columns of an import table: the keywords of the action it calls, each read by its type."""

import datetime as dt
import inspect
import re
import types
import typing
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from coatbook.desk.importing.csv_file import LONGEST_CELL
from coatbook.values import Misuse, Money, Quantity
from coatbook.values.days import parse_day
from coatbook.values.marks import Mark, parse_mark

ON = "on"
_WHOLE = re.compile(r"-?[0-9]{1,18}")
_YES = {"yes": True, "y": True, "true": True, "no": False, "n": False, "false": False}
Reader = Callable[[str, str, str], Any]  # the cell, what it is, the book's currency
Progress = Callable[[int, str], None]  # how many so far, and of what


@dataclass(frozen=True, slots=True)
class Column:
    """One column: its name, what it takes in words, whether every row needs it, and how a cell of it is read."""

    name: str
    takes: str
    required: bool
    read: Reader

    def value(self, cell: str, currency: str) -> Any:
        """What a cell says. Raises Misuse in one sentence."""
        if len(cell) > LONGEST_CELL:
            raise Misuse(f"the cell has {len(cell):,} characters: {LONGEST_CELL:,} at most")
        return self.read(cell, self.name.replace("_", " "), currency)


@dataclass(frozen=True, slots=True)
class Given:
    """What a row gives: the values its action takes, its own day if it names one, its hash, and its cells as typed."""

    line: int
    values: dict[str, Any]
    day: dt.date | None
    sha256: str
    cells: dict[str, str]


def columns_of(action: Callable[..., Any], more: Iterable[str] = (), *, dated: bool = True) -> dict[str, Column]:
    """The columns of an action by name: the day of a row, the keywords, and `more` that its **keywords take."""
    hints = typing.get_type_hints(action)
    day = Column(ON, "the day the row belongs to, YYYY-MM-DD (else today, or --on)", False, _day)
    found = {ON: day} if dated else {}
    for keyword in inspect.signature(action).parameters.values():
        if keyword.kind is keyword.KEYWORD_ONLY:
            takes, read = _kind(hints[keyword.name], keyword.name)
            found[keyword.name] = Column(keyword.name, takes, keyword.default is keyword.empty, read)
    for name in more:
        takes, read = _kind(str, name)
        found[name] = Column(name, takes, False, read)
    return found


def _kind(hint: Any, name: str) -> tuple[str, Reader]:
    """What a column of this type takes, and how it is read."""
    parts = typing.get_args(hint)
    if typing.get_origin(hint) in (typing.Union, types.UnionType) and type(None) in parts:
        (hint,) = (part for part in parts if part is not type(None))
        parts = typing.get_args(hint)
    if hint is str and name in _SEVERAL_LINES:
        return "text; \\n between its lines", _lines
    if typing.get_origin(hint) in (Sequence, tuple, list):
        if typing.get_origin(parts[0]) is tuple:
            return "NAME=quantity; NAME=quantity", _facts
        takes, read = _kind(parts[0], name)
        return f"{takes}, or several parted by ;", _several(read)
    return _KINDS[hint]


def _text(cell: str, what: str, currency: str) -> str:
    return cell


_SEVERAL_LINES = ("address",)


def _lines(cell: str, what: str, currency: str) -> str:
    return cell.replace("\\n", "\n")


def _whole(cell: str, what: str, currency: str) -> int:
    if not _WHOLE.fullmatch(cell):
        raise Misuse(f"the {what} {cell[:40]!r} is not a whole number: write it like 12")
    return int(cell)


def _yes(cell: str, what: str, currency: str) -> bool:
    answer = _YES.get(cell.lower())
    if answer is None:
        raise Misuse(f"the {what} {cell[:40]!r} is neither yes nor no: write yes or no")
    return answer


def _day(cell: str, what: str, currency: str) -> dt.date:
    return parse_day(cell, "day")


def _money(cell: str, what: str, currency: str) -> Money:
    return Money.parse(cell, currency, what)


@lru_cache(maxsize=1_000)
def _quantity(cell: str, what: str, currency: str) -> Quantity:
    return Quantity.parse(cell, what)


def _mark(cell: str, what: str, currency: str) -> Mark:
    return parse_mark(cell)


_KINDS: dict[Any, tuple[str, Reader]] = {
    str: ("text", _text),
    int: ("a whole number", _whole),
    bool: ("yes or no", _yes),
    dt.date: ("a day, YYYY-MM-DD", _day),
    Money: ("an amount, such as 45.00", _money),
    Quantity: ("a number with its unit, such as 2.5 h", _quantity),
    Mark: ("a registration mark", _mark),
}


def _several(read: Reader) -> Reader:
    def each(cell: str, what: str, currency: str) -> tuple[Any, ...]:
        return tuple(read(part, what, currency) for part in _parts(cell))

    return each


def _facts(cell: str, what: str, currency: str) -> tuple[tuple[str, Quantity], ...]:
    facts = []
    for part in _parts(cell):
        name, sign, value = part.partition("=")
        if not sign:
            raise Misuse(f"the {what} {part[:40]!r} has no value: write it like loss=15 %")
        facts.append((name.strip().lower(), Quantity.parse(value, name.strip(), "15 %")))
    return tuple(facts)


def _parts(cell: str) -> list[str]:
    return [part.strip() for part in cell.split(";") if part.strip()]


def column_meant(reason: str, cells: Mapping[str, str]) -> str | None:
    """The column whose cell a rule's sentence is about, as far as the sentence tells: it quotes the cell, or one of
    the several things in it, or names the column. `cells` are the filled ones; None if none fits.
    """
    said = re.sub("`[^`]*`", "", reason)  # the command that helps names much else

    def fits(name: str) -> int:
        quoted = max((_weight(part) for part in _parts(cells[name]) if _stands_in(part, said)), default=0)
        called = "--on" if name == ON else name.replace("_", " ")
        return quoted + (_stands_in(called, said) or _stands_in(called.removesuffix("s"), said))

    found = [name for name in cells if fits(name)]
    return max(found, key=lambda name: (fits(name), name != ON, len(cells[name])), default=None)


def _weight(cell: str) -> int:
    """How much a quoted cell tells: a word more than a small number, which may stand there by chance."""
    return 2 if len(cell) > 2 and not cell.isdigit() else 1


def _stands_in(word: str, sentence: str) -> bool:
    return re.search(rf"(?<![\w-]){re.escape(word)}(?![\w-])", sentence, flags=re.IGNORECASE) is not None
