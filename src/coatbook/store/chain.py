"""The hashes that make a silent change show: rows, acts and the chain (SHA-256 over canonical JSON).

Empty columns are left out of a row's content, so that a column added by a later revision leaves old hashes true.
"""

import hashlib
from collections import Counter
from collections.abc import Iterable, Mapping
from typing import Any

from coatbook.store.tables import STRUCK, Act, Base
from coatbook.values import frozen

GENESIS = "0" * 64
RowHash = tuple[str, int, str]  # table, row id, hash
_START = 8
_ACT_FIELDS = ("id", "actor", "command", "asked", "on_day", "instant", "key", "told", "rows")


def _digest(kind: str, value: Any) -> str:
    return hashlib.sha256(f"coatbook {kind} 1\n{frozen.dump(value)}".encode()).hexdigest()


def content(row: Base | Mapping[str, Any]) -> dict[str, Any]:
    """A row's own columns that are not empty, without the struck ones."""
    if isinstance(row, Base):
        row = {column.key: getattr(row, column.key) for column in row.__table__.columns}
    return {name: value for name, value in row.items() if value is not None and name not in STRUCK}


def row_hash(table: str, row: Base | Mapping[str, Any]) -> str:
    return _digest("row", [table, content(row)])


def strike_hash(table: str, row_id: int, struck_on: Any, struck_why: str) -> str:
    return _digest("strike", [table, row_id, struck_on, struck_why])


def rows_mark(hashes: Iterable[RowHash]) -> str:
    """What an act keeps of its rows, in table and id order: one hash over all, a point, and table, id, start of each.

    The whole hash proves them; the list only tells which row is meant when the proof fails.
    """
    ordered = sorted(hashes)
    whole = _digest("rows", [list(item) for item in ordered])
    return f"{whole}.{','.join(_known(item) for item in ordered)}"


def _known(item: RowHash) -> str:
    table, row_id, row = item
    return f"{table} {row_id} {row[:_START]}"


def differing(mark: str, hashes: Iterable[RowHash]) -> tuple[list[str], list[str]]:
    """The rows that an act's mark does not know as they are, and those it knows that are gone: "entry 12" each."""
    marked = Counter(filter(None, mark.partition(".")[2].split(",")))
    found = Counter(_known(item) for item in hashes)
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
