"""Files that are brought in: one act for a file, all of it or nothing, and of a growing file only what is new.

A row is known by the hash over what it says and by how many rows that say the same came before it in its file. A row
that the book has already is passed over, also if its line was struck since.
"""

import datetime as dt
import hashlib
import sqlite3
from collections.abc import Callable, Iterable, Mapping
from typing import Any

from sqlalchemy import bindparam, func, select
from sqlalchemy.orm import Session

from coatbook.store.acts import OpenAct
from coatbook.store.remembering import forget
from coatbook.store.tables import ImportRow
from coatbook.values import Refusal, frozen
from coatbook.values.words import count

MOST_REASONS = 50
MOST_TOLD = 40
_SAVEPOINT = "import_row"
_TIMES = select(func.max(ImportRow.n)).where(
    ImportRow.of_table == bindparam("kind"), ImportRow.sha256 == bindparam("sha256")
)


def row_hash(values: Mapping[str, Any]) -> str:
    """The hash over what a row says; what it leaves empty is left out."""
    return hashlib.sha256(frozen.dump(values).encode()).hexdigest()


def times_in_book(session: Session, kind: str, sha256: str) -> int:
    """How many rows of a kind of file that say the same are in the book."""
    return session.connection().execute(_TIMES, {"kind": kind, "sha256": sha256}).scalar() or 0


class _Seen:
    """How often each row came in one file so far. Kept in a file of its own: memory stays bounded."""

    def __init__(self) -> None:
        self._rows = sqlite3.connect("")
        self._rows.execute("CREATE TABLE seen (sha256 BLOB PRIMARY KEY, n INTEGER) WITHOUT ROWID")

    def count(self, sha256: str) -> int:
        """This time included."""
        digest = bytes.fromhex(sha256)
        known = self._rows.execute("SELECT n FROM seen WHERE sha256 = ?", (digest,)).fetchone()
        n = 1 if known is None else int(known[0]) + 1
        self._rows.execute("INSERT OR REPLACE INTO seen VALUES (?, ?)", (digest, n))
        return n


class Importing:
    """The rows of one file on their way into the book.

    `kind` tells the rows of one kind of file from those of another. `rows` counts all that came, `new` those written.
    With `again` a row that the book has already is written once more.
    """

    def __init__(self, act: OpenAct, kind: str, name: str, reasons: "Reasons", *, again: bool = False) -> None:
        act.expect_many()
        self._act = act
        self._kind = kind
        self._name = name
        self._reasons = reasons
        self._seen = _Seen()
        self._again = again
        self._any_before = act.session.scalar(select(ImportRow.id).filter_by(of_table=kind).limit(1)) is not None
        self._told: list[str] = []
        self.rows = 0
        self.new = 0

    def bring(self, sha256: str, day: dt.date, write: Callable[[], object], why: Callable[[Refusal], str]) -> None:
        """Write one row on its day, unless the book has it. One that is refused leaves nothing but its reason."""
        n = self._counted(sha256)
        if n is None:
            return
        run = self._act.session.connection().exec_driver_sql
        run(f"SAVEPOINT {_SAVEPOINT}")
        try:
            self._act.turn_to(day)
            write()
            self._keep(sha256, n)
        except Refusal as refusal:
            self._act.session.expunge_all()
            run(f"ROLLBACK TO SAVEPOINT {_SAVEPOINT}")
            forget(self._act.session)
            self._reasons.add(why(refusal))
        run(f"RELEASE SAVEPOINT {_SAVEPOINT}")
        self._told += self._act.sentences[: MOST_TOLD + 1 - len(self._told)]
        self._act.sentences.clear()

    def take(self, sha256: str) -> bool:
        """Count a row, and keep its hash if it is new: then the caller writes it."""
        n = self._counted(sha256)
        if n is not None:
            self._keep(sha256, n)
        return n is not None

    def _counted(self, sha256: str) -> int | None:
        """Which of the rows that say the same this is; None if the book has it already."""
        self.rows += 1
        if self._again:
            return times_in_book(self._act.session, self._kind, sha256) + 1
        n = self._seen.count(sha256)
        known = self._any_before and n <= times_in_book(self._act.session, self._kind, sha256)
        return None if known else n

    def _keep(self, sha256: str, n: int) -> None:
        self._act.add(ImportRow(of_table=self._kind, sha256=sha256, n=n))
        self.new += 1

    def refused(self, reasons: Iterable[str]) -> None:
        """Count a row that cannot even be read."""
        self.rows += 1
        for reason in reasons:
            self._reasons.add(reason)

    def tell(self) -> list[str]:
        """What became of the file: how many rows, how many of them new, and the first that was written."""
        told = self._told[:MOST_TOLD]
        if len(self._told) > MOST_TOLD:
            told.append("… and so on.")
        return [f"{self._name}: {count(self.rows, 'row')}, {self.new or 'none'} new.", *told]


class NothingNew(Exception):
    """The book has every row already: no act is written for none."""

    def __init__(self, told: str) -> None:
        self.told = told


class Reasons:
    """Why nothing is brought in: each row's reason, up to as many as anyone reads."""

    def __init__(self) -> None:
        self._reasons: list[str] = []

    def add(self, reason: str) -> None:
        self._reasons.append(reason)
        if len(self._reasons) >= MOST_REASONS:
            self.refuse()

    def refuse(self) -> None:
        """Refuse if there is any reason to."""
        if len(self._reasons) == 1:
            raise Refusal(self._reasons[0])
        if self._reasons:
            many = f"{MOST_REASONS} reasons or more" if len(self._reasons) >= MOST_REASONS else "these reasons"
            raise Refusal("\n".join([f"nothing was imported, for {many}:", *self._reasons]))
