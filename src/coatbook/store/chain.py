"""The hashes that make a silent change show: rows, acts and the chain (SHA-256 over canonical JSON).

Empty columns are left out of a row's content, so that a column added by a later revision leaves old hashes true.
"""

import hashlib
import sqlite3
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from functools import cache
from itertools import groupby
from typing import Any

from coatbook.store.tables import STRUCK, Act, Base
from coatbook.values import frozen

GENESIS = "0" * 64
RowHash = tuple[str, int, str]  # table, row id, hash
_START = 8
_IN_MEMORY = 20_000  # hashes; more of one act wait in a file that SQLite keeps for us
_LISTED = 50_000  # rows an act's mark lists one by one; of more it lists whole runs
_RUN = 1_000
_ACT_FIELDS = ("id", "actor", "command", "asked", "on_day", "instant", "key", "told", "rows")


def _digest(kind: str, value: Any) -> str:
    return hashlib.sha256(f"coatbook {kind} 1\n{frozen.dump(value)}".encode()).hexdigest()


def content(row: Base | Mapping[str, Any]) -> dict[str, Any]:
    """A row's own columns that are not empty, without the struck ones."""
    if isinstance(row, Base):
        row = {name: getattr(row, name) for name in columns_of(type(row)) if name not in STRUCK}
    return {name: value for name, value in row.items() if value is not None and name not in STRUCK}


@cache
def columns_of(table: type[Base]) -> tuple[str, ...]:
    return tuple(column.key for column in table.__table__.columns)


def row_hash(table: str, row: Base | Mapping[str, Any]) -> str:
    return _digest("row", [table, content(row)])


def strike_hash(table: str, row_id: int, struck_on: Any, struck_why: str) -> str:
    return _digest("strike", [table, row_id, struck_on, struck_why])


class RowHashes:
    """The hashes of one act's rows, as they come; walked through in table and id order. Memory stays bounded."""

    def __init__(self, hashes: Iterable[RowHash] = ()) -> None:
        self._few: list[RowHash] = []
        self._many: sqlite3.Connection | None = None
        self._count = 0
        for table, row_id, row in hashes:
            self.add(table, row_id, row)

    def add(self, table: str, row_id: int, row: str) -> None:
        self._few.append((table, row_id, row))
        self._count += 1
        if len(self._few) >= _IN_MEMORY:
            self._put_aside()

    def _put_aside(self) -> None:
        if self._many is None:
            self._many = sqlite3.connect("")  # a file of its own that goes when it is closed
            self._many.execute("CREATE TABLE hashed (of_table TEXT, id INTEGER, row TEXT)")
        self._many.executemany("INSERT INTO hashed VALUES (?, ?, ?)", self._few)
        self._few.clear()

    def __len__(self) -> int:
        return self._count

    def __iter__(self) -> Iterator[RowHash]:
        if self._many is None:
            yield from sorted(self._few)
            return
        self._put_aside()
        yield from self._many.execute("SELECT of_table, id, row FROM hashed ORDER BY of_table, id, row")


def rows_mark(rows: Iterable[RowHash]) -> str:
    """What an act keeps of its rows, in table and id order: one hash over all, a point, and table, id, start of each.

    The whole hash proves them; the list only tells which row is meant when the proof fails.
    """
    hashes = rows if isinstance(rows, RowHashes) else RowHashes(rows)
    whole = hashlib.sha256(b"coatbook rows 1\n[")
    for place, (table, row_id, row) in enumerate(hashes):
        whole.update(f'{"," if place else ""}["{table}",{row_id},"{row}"]'.encode())
    whole.update(b"]")
    return f"{whole.hexdigest()}.{','.join(_known(hashes))}"


def _known(hashes: RowHashes) -> Iterator[str]:
    """Each row with the start of its hash; of very many, each run of ids with the start of a hash over the run."""
    if len(hashes) <= _LISTED:
        for table, row_id, row in hashes:
            yield f"{table} {row_id} {row[:_START]}"
        return
    for (table, run), rows in groupby(hashes, lambda item: (item[0], item[1] // _RUN)):
        over = hashlib.sha256("".join(f"{row_id} {row}," for _, row_id, row in rows).encode())
        yield f"{table} {run * _RUN}-{run * _RUN + _RUN - 1} {over.hexdigest()[:_START]}"


def differing(mark: str, hashes: RowHashes) -> tuple[list[str], list[str]]:
    """The rows that an act's mark does not know as they are, and those it knows that are gone: "entry 12" each.

    Of an act of very many rows it names runs of ids: "entry 12000-12999".
    """
    marked = Counter(filter(None, mark.partition(".")[2].split(",")))
    found = Counter(_known(hashes))
    strange = [_row(known) for known in sorted((found - marked).elements())]
    gone = [_row(known) for known in sorted((marked - found).elements())]
    return strange, [row for row in gone if row not in strange]


def _row(known: str) -> str:
    return known.rpartition(" ")[0]


def act_head(act: Act | Mapping[str, Any], before: str) -> str:
    """The chain's hash at an act, given the head before it."""
    fields = {
        name: act[name] if isinstance(act, Mapping) else getattr(act, name)  # one reading for row and object
        for name in _ACT_FIELDS
    }
    return _digest("act", fields | {"before": before})


def short(head: str) -> str:
    """A head as a person can compare it on paper: twelve characters in threes."""
    return "-".join(head[start : start + 3] for start in range(0, 12, 3))
