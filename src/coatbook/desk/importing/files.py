"""One CSV file into the book: one act, the whole file or nothing of it."""

import datetime as dt
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

from coatbook.desk.importing.columns import ON, Given, Progress, column_meant
from coatbook.desk.importing.csv_file import CsvFile, Row, listed, open_csv, spelled
from coatbook.desk.importing.gated import GATED, Gate, look_before, unless_moved
from coatbook.desk.importing.tables import ImportTable
from coatbook.store.acts import Ask, OpenAct, Told
from coatbook.store.book import Book
from coatbook.store.imports import Importing, NothingNew, Reasons, row_hash
from coatbook.values import Refusal
from coatbook.values.text import shown


class Source:
    """A file and the import table it is read as."""

    def __init__(self, table: ImportTable, path: Path, currency: str) -> None:
        self.table = table
        self._currency = currency
        template = f"coatbook import --template {table.name}"
        self.file = open_csv(path, lambda heading: spelled(heading) in table.columns, template)
        self._names = _columns(self.file, table, template)

    def rows(self) -> Iterator[Given | tuple[str, ...]]:
        """Every row as what it gives, or as the reasons why it cannot be read."""
        for row in self.file.rows():
            yield self._read(row)

    def _read(self, row: Row) -> Given | tuple[str, ...]:
        if row.problem is not None:
            return (self._at(row.line, None, row.problem),)
        cells = {name: cell for name, cell in zip(self._names, row.cells, strict=True) if cell}
        values, reasons = {}, []
        for name, column in self.table.columns.items():
            cell = cells.get(name)
            if cell is None:
                if column.required:
                    reasons.append(self._at(row.line, name, "the cell is empty, and every row needs it"))
                continue
            try:
                values[name] = column.value(cell, self._currency)
            except Refusal as refusal:
                reasons.append(self._at(row.line, name, str(refusal)))
        if reasons:
            return tuple(reasons)
        sha256 = row_hash(values)
        return Given(row.line, values, values.pop(ON, None), sha256, cells)

    def why(self, row: Given, refusal: Refusal) -> str:
        """A rule's sentence, with the line and, as far as the sentence tells, the column it is about."""
        return self._at(row.line, column_meant(str(refusal), row.cells), str(refusal))

    def _at(self, line: int, column: str | None, reason: str) -> str:
        where = f", column {column}" if column else ""
        return f"{self.file.name} line {line}{where}: {reason}"


def _columns(file: CsvFile, table: ImportTable, template: str) -> tuple[str, ...]:
    """The column each heading names. Refuses headings that name none, one twice, or not all that every row needs."""
    names = tuple(spelled(heading) for heading in file.headings)
    for place, name in enumerate(names, start=1):
        if not name:
            raise Refusal(f"{file.name}: column {place} has no heading: name it, or take the column out")
        if name not in table.columns:
            raise Refusal(
                f"{file.name}: {shown(file.headings[place - 1][:60])!r} is no column of {table.name}: they are "
                f"{listed(table.columns)}"
            )
        if name in names[: place - 1]:
            raise Refusal(f"{file.name}: the column {name} stands there twice: take one out")
    missing = [name for name, column in table.columns.items() if column.required and name not in names]
    if missing:
        raise Refusal(f"{file.name} lacks {_the_columns(missing)}: `{template}` shows them all")
    return names


def _the_columns(names: list[str]) -> str:
    return f"the column{'s' if len(names) > 1 else ''} {listed(names)}"


def import_file(
    book: Book, ask: Ask, source: Source, *, no_plugins: bool = False, progress: Progress = lambda count, what: None
) -> Told[int]:
    """Bring a file in; how many rows were new.

    Raises:
        Refusal: with every bad row's line, column and reason; nothing is written then.
    """
    again, ask = ask.again, replace(ask, command=f"import {source.table.name}", again=True)
    whole = source.file.sha256()

    def attempt() -> Told[int]:
        gate = _gate(book, replace(ask, again=again), source, no_plugins, progress)

        def bring_in(act: OpenAct, /, *, table: str, file: str, sha256: str) -> int:
            action = gate.entering(act) if gate else source.table.action
            reasons = Reasons()
            bringing = bring_rows(act, source, action, reasons, progress, again=again)
            reasons.refuse()
            if source.file.sha256() != sha256:
                raise Refusal(f"{file} was changed while it was read: import it again")
            if not bringing.new:
                raise NothingNew("\n".join(act.sentences))
            return bringing.new

        return book.do(ask, bring_in, table=source.table.name, file=source.file.name, sha256=whole)

    try:
        return unless_moved(attempt)
    except NothingNew as nothing:
        return Told(nothing.told, 0)


def _gate(book: Book, ask: Ask, source: Source, no_plugins: bool, progress: Progress) -> Gate | None:
    """What stands before the rows of a file, looked at while no transaction is open."""
    if source.table.name not in GATED:
        return None
    rows = (row for row in source.rows() if isinstance(row, Given))
    return look_before(book, source.table, rows, ask.on or book.today(), no_plugins, progress, again=ask.again)


def bring_rows(
    act: OpenAct,
    source: Source,
    action: Callable[..., Any],
    reasons: Reasons,
    progress: Progress,
    *,
    again: bool = False,
) -> Importing:
    """Write every new row of a file by an action, and tell what became of it. The caller refuses for the reasons."""
    start, before = act.on, list(act.sentences)
    act.sentences.clear()
    bringing = Importing(act, source.table.name, source.file.name, reasons, again=again)
    for row in source.rows():
        if isinstance(row, Given):
            _bring(bringing, act, source, row, row.day or start, action)
        else:
            bringing.refused(row)
        progress(bringing.rows, "rows")
    act.turn_to(start)
    act.sentences[:] = [*before, *bringing.tell()]
    return bringing


def _bring(
    bringing: Importing, act: OpenAct, source: Source, row: Given, day: dt.date, action: Callable[..., Any]
) -> None:
    bringing.bring(row.sha256, day, lambda: action(act, **row.values), lambda refusal: source.why(row, refusal))
