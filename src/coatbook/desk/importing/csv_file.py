"""A CSV file as spreadsheets write it, read row by row: UTF-8, its columns parted by comma, semicolon or tab.

The file is never held whole. What no row can be blamed for (another encoding, a quotation mark that is never closed)
is refused at once; what is wrong with one row comes with the row.
"""

import csv
import hashlib
import stat
from collections.abc import Callable, Collection, Iterator
from dataclasses import dataclass
from io import BufferedReader
from pathlib import Path

from coatbook.values import Refusal
from coatbook.values.text import shown
from coatbook.values.words import count

SEPARATORS = (",", ";", "\t")
LONGEST_LINE = 1_000_000  # bytes
LONGEST_CELL = 5_000  # characters: more than the longest note
_UTF16 = (b"\xff\xfe", b"\xfe\xff")
_BOM = b"\xef\xbb\xbf"
_AGAIN = "save it again as CSV UTF-8"


@dataclass(frozen=True, slots=True)
class Row:
    """One row: the line it begins on, its cells trimmed, and what is wrong with it as a whole."""

    line: int
    cells: tuple[str, ...]
    problem: str | None = None


@dataclass(frozen=True, slots=True)
class CsvFile:
    """A file whose heading row is read: `headings` are as typed, `name` is how reasons call it."""

    path: Path
    name: str
    separator: str
    headings: tuple[str, ...]

    def rows(self) -> Iterator[Row]:
        """Every row below the headings, blank ones left out.

        Raises:
            Refusal: the file cannot be read on from here.
        """
        with open_file(self.path)[0] as file:
            lines = _Lines(file, self.name)
            reader = csv.reader(lines, delimiter=self.separator, strict=True)
            self._next(reader, lines)
            while True:
                first = reader.line_num + 1
                cells = self._next(reader, lines)
                if cells is None:
                    return
                trimmed = tuple(cell.strip() for cell in cells)
                if any(trimmed):
                    yield Row(first, trimmed, self._problem(trimmed))

    def _next(self, reader: "Iterator[list[str]]", lines: "_Lines") -> list[str] | None:
        first = lines.number + 1
        try:
            return next(reader, None)
        except csv.Error as problem:
            opened = "a quotation mark is opened and not closed" if lines.number > first else str(problem)
            raise Refusal(f"{self.name} line {first} is not CSV ({opened}): mend the line, or {_AGAIN}") from None

    def _problem(self, cells: tuple[str, ...]) -> str | None:
        if len(cells) != len(self.headings):
            return (
                f"the row has {count(len(cells), 'cell')}, where the heading row has {len(self.headings)}: "
                "put a cell that holds a separator between quotation marks"
            )
        return None

    def sha256(self) -> str:
        """The hash over the file's bytes."""
        with open_file(self.path)[0] as file:
            return hashlib.file_digest(file, "sha256").hexdigest()


def open_csv(path: Path, known: Callable[[str], bool], template: str) -> CsvFile:
    """The file with its heading row read; the separator is the one that makes most headings `known`.

    `template` is the command that shows how the file should look.

    Raises:
        Refusal: there is no such file, or it is empty, or no text in UTF-8.
    """
    file, name = open_file(path)
    with file:
        lines = _Lines(file, name)
        heading = next(lines, "")
        if not heading.strip():
            what = "begins with an empty line" if heading else "is empty"
            raise Refusal(f"{name} {what}: its first line names the columns, as `{template}` shows")
        found = {one: _split(heading, one) for one in SEPARATORS}
        if not any(found.values()):
            raise Refusal(f"{name} line 1 is not CSV (its quotation marks do not match): mend the line, or {_AGAIN}")
        separator = max(SEPARATORS, key=lambda one: (sum(map(known, found[one])), len(found[one])))
        file_read = CsvFile(path, name, separator, found[separator])
    if next(file_read.rows(), None) is None:
        raise Refusal(f"{name} has a heading row and nothing below it: there is nothing to import")
    return file_read


def _split(heading: str, separator: str) -> tuple[str, ...]:
    """The headings, or none where this separator cannot be meant."""
    try:
        return tuple(cell.strip() for cell in next(csv.reader([heading], delimiter=separator, strict=True), []))
    except csv.Error:
        return ()


def open_file(path: Path) -> tuple[BufferedReader, str]:
    """A file opened for reading, and how reasons call it.

    Raises:
        Refusal: there is none, it cannot be read, or it is no ordinary file.
    """
    name = " ".join(shown(path.name).split()) or str(path)
    try:
        kind = path.stat().st_mode
        if stat.S_ISDIR(kind):
            raise Refusal(f"{name} is a folder: name a CSV file in it")
        if not stat.S_ISREG(kind):
            raise Refusal(f"{name} is no ordinary file: save the rows as a CSV file and name that")
        return path.open("rb"), name
    except FileNotFoundError:
        raise Refusal(f"there is no file {shown(str(path))}: check the name and the folder") from None
    except (OSError, ValueError) as problem:
        why = getattr(problem, "strerror", None) or problem
        raise Refusal(f"cannot read {shown(str(path))}: {why}") from None


class _Lines:
    """The lines of a file as text, one by one, each no longer than a line may be."""

    def __init__(self, file: BufferedReader, name: str) -> None:
        self._file = file
        self._name = name
        self.number = 0

    def __iter__(self) -> "_Lines":
        return self

    def __next__(self) -> str:
        line = self._file.readline(LONGEST_LINE)
        if not line:
            raise StopIteration
        self.number += 1
        if self.number == 1:
            if line.startswith(_UTF16):
                raise Refusal(f"{self._name} is UTF-16 text: {_AGAIN}")
            line = line.removeprefix(_BOM)
        where = f"{self._name} line {self.number}"
        if len(line) == LONGEST_LINE:
            raise Refusal(f"{where} is longer than {LONGEST_LINE:,} bytes: that is no line of a table, {_AGAIN}")
        if b"\0" in line:
            raise Refusal(f"{where} holds a NUL character: that is no text, {_AGAIN}")
        if b"\r" in line.removesuffix(b"\r\n"):
            raise Refusal(f"{where} holds a carriage return of its own, as old line ends have it: {_AGAIN}")
        try:
            return line.decode()
        except UnicodeDecodeError:
            raise Refusal(f"{where} is not UTF-8 text: {_AGAIN}") from None


def spelled(heading: str) -> str:
    """A heading as columns are named: small letters, words joined by _ ("Opens-before" is opens_before)."""
    return "_".join(heading.lower().replace("-", " ").replace("_", " ").split())


def listed(names: Collection[str]) -> str:
    return ", ".join(names) or "none"
