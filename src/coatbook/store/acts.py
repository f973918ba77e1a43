"""One action, one transaction, one act: the only way anything is written into the book."""

import datetime as dt
import hashlib
from dataclasses import dataclass, field
from functools import cache
from typing import Any, Generic, TypeVar

from sqlalchemy import Insert, func, insert, select
from sqlalchemy.orm import Session

from coatbook.store import chain, months
from coatbook.store.clock import Clock
from coatbook.store.remembering import forget, remember
from coatbook.store.tables import Act, Base, Edited, Issued, Revision, WrittenOnce
from coatbook.values import Refusal, frozen

R = TypeVar("R")
AnyRow = TypeVar("AnyRow", bound=Base)
_CACHE = 65_536  # KiB of pages kept while an act of many rows is under way


class Repeat(Refusal):
    """The same command with the same values on the same day stands already; the user may mean it again."""


@dataclass(frozen=True, slots=True)
class Ask:
    """Who asks for an action, by which command, for which day, and how sure they are.

    `on` is the business day (None: today). `key` makes a retry safe: a second use prints the first result.
    `again` means a repeat on purpose. `dry_run` does everything and then nothing.
    """

    command: str
    actor: str
    on: dt.date | None = None
    key: str | None = None
    again: bool = False
    dry_run: bool = False


@dataclass(frozen=True, slots=True)
class Told(Generic[R]):
    """What an action answered: the sentences for the user, the action's own result (None when `repeated`)."""

    text: str
    result: R | None
    repeated: bool = False


@dataclass
class OpenAct:
    """An action under way: everything it writes goes through here, is hashed, and stands or falls together."""

    session: Session
    ask: Ask
    clock: Clock
    currency: str
    zone: str
    id: int
    on: dt.date
    today: dt.date
    closed_through: dt.date | None
    head_before: str
    sentences: list[str] = field(default_factory=list)
    hashes: chain.RowHashes = field(default_factory=chain.RowHashes)
    many: bool = False

    def expect_many(self) -> None:
        """This act will write very many rows: look up once what does not change, and insert without ceremony."""
        self.many = True
        remember(self.session)
        if self.session.get_bind().dialect.name == "sqlite":
            self.session.connection().exec_driver_sql(f"PRAGMA cache_size = -{_CACHE}")

    def turn_to(self, day: dt.date) -> None:
        """The lines that follow belong to this day.

        Raises:
            Refusal: it is after today.
        """
        if day > self.today:
            raise Refusal(f"{day} is after today ({self.today}): write the line on its day")
        self.on = day

    def tell(self, sentence: str) -> None:
        """Say to the user what was done; the sentences are kept with the act."""
        self.sentences.append(sentence)

    def check_not_closed(self, day: dt.date, what: str) -> None:
        """Refuse a day inside a closed month."""
        months.check_open(day, self.closed_through, what)

    def check_open(self, day: dt.date, what: str) -> None:
        """Refuse a day inside a closed month or after today."""
        self.check_not_closed(day, what)
        if day > self.today:
            raise Refusal(f"{what} is dated {day}, which is after today ({self.today}): write it on its day")

    def add(self, row: AnyRow) -> AnyRow:
        """Write a new row; it has its id when this returns."""
        if isinstance(row, WrittenOnce):
            row.on_day = row.on_day or self.on
            self.check_open(row.on_day, "the line")
        if isinstance(row, WrittenOnce | Issued):
            row.act = self.id
        self._insert(row)
        if isinstance(row, Edited):
            self._keep_revision(row, 1)
        return row

    def _insert(self, row: Base) -> None:
        """Write a row, and its hash unless its revision stands for it."""
        if self.many and not isinstance(row, Edited):
            self._insert_plainly(row)
        else:
            self.session.add(row)
            self.session.flush()
            if not isinstance(row, Edited):
                self.hashes.add(row.__tablename__, row.id, chain.row_hash(row.__tablename__, row))
        forget(self.session, row.__tablename__)

    def _insert_plainly(self, row: Base) -> None:
        """No unit of work, a fifth of the time: the row is complete, and what is written once needs no watching."""
        given = vars(row)
        values = {name: given.get(name) for name in chain.columns_of(type(row)) if name != "id"}
        found = self.session.connection().execute(_inserting(type(row)), values).inserted_primary_key
        assert found is not None
        row.id = values["id"] = found[0]
        self.hashes.add(row.__tablename__, row.id, chain.row_hash(row.__tablename__, values))

    def edit(self, row: Edited, **changes: Any) -> None:
        """Change an edited row in place and keep the revision."""
        for name, value in changes.items():
            setattr(row, name, value)
        self.session.flush()
        forget(self.session, row.__tablename__)
        latest = select(func.max(Revision.n)).filter_by(of_table=row.__tablename__, of_id=row.id)
        self._keep_revision(row, (self.session.scalar(latest) or 0) + 1)

    def strike(self, row: WrittenOnce, why: str, on: dt.date | None = None) -> None:
        """Strike one row. `on` is by default its own day while its month is open, else the first open day."""
        day = on or months.strike_day(row.on_day, self.closed_through)
        if row not in self.session:  # inserted in this very act of many rows
            row = self.session.get_one(type(row), row.id)
        row.struck_on, row.struck_why, row.struck_act = day, why, self.id
        self.session.flush()
        forget(self.session, row.__tablename__)
        table = row.__tablename__
        self.hashes.add(table, row.id, chain.strike_hash(table, row.id, day, why))

    def _keep_revision(self, row: Edited, n: int) -> None:
        text = frozen.dump(chain.content(row))
        revision = Revision(of_table=row.__tablename__, of_id=row.id, n=n, content=text)
        revision.act = self.id
        self._insert(revision)


@cache
def _inserting(table: type[Base]) -> Insert:
    return insert(table.__table__)  # type: ignore[arg-type]


def asked_text(values: Any) -> str:
    """What a command was given, as canonical JSON; bytes by their hash."""

    def small(value: Any) -> Any:
        if isinstance(value, bytes):
            return hashlib.sha256(value).hexdigest()
        return value

    return frozen.dump({name: small(value) for name, value in values.items() if value is not None})


def link(act: OpenAct, asked: str, told: str) -> Act:
    """The act's own row: the next link of the chain, over all it wrote."""
    row = Act(
        id=act.id,
        actor=act.ask.actor,
        command=act.ask.command,
        asked=asked,
        on_day=act.on,
        instant=act.clock.instant(),
        key=act.ask.key,
        told=told,
        rows=chain.rows_mark(act.hashes),
        head="",
    )
    row.head = chain.act_head(row, act.head_before)
    return row


def first_result(earlier: Act, ask: Ask, asked: str) -> Told[Any]:
    """What a key's first use told. The same key on anything else is no retry: its line would be lost in silence."""
    if earlier.command != ask.command:
        raise Refusal(f"the key {ask.key!r} was used by `{earlier.command}` already: take another key")
    if earlier.asked != asked:
        raise Refusal(f"the key {ask.key!r} was used with other values already (act {earlier.id}): take another key")
    return Told(earlier.told, None, repeated=True)


def refuse_repeat(session: Session, ask: Ask, on: dt.date, asked: str) -> None:
    """Refuse what the same command wrote with the same values on the same day, while a line of it stands."""
    same = select(Act).filter_by(command=ask.command, on_day=on, asked=asked).order_by(Act.id.desc())
    for act in session.scalars(same):
        for mapper in WrittenOnce.registry.mappers:
            if issubclass(mapper.class_, WrittenOnce):
                standing = select(mapper.class_.id).filter_by(act=act.id, struck_on=None).limit(1)
                if session.scalar(standing) is not None:
                    raise Repeat(
                        f"`{ask.command}` with the same values on {on} stands already (act {act.id}): "
                        "give --again if you mean a second one"
                    )
