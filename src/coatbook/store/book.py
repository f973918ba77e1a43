"""The opened book: reads by `read()`, writes by `do()`, and nothing else."""

import datetime as dt
import uuid
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Concatenate, ParamSpec, TypeVar

from sqlalchemy import Engine, select
from sqlalchemy.orm import Session

from coatbook.store import acts
from coatbook.store.acts import Ask, OpenAct, Told
from coatbook.store.chain import GENESIS
from coatbook.store.clock import Clock, zone_named
from coatbook.store.engine import READ_ONLY, hidden, is_url
from coatbook.store.months import closed_through
from coatbook.store.tables import Act, BookRow
from coatbook.values import Refusal
from coatbook.values.currency import digits

P = ParamSpec("P")
R = TypeVar("R")


@dataclass(frozen=True)
class Book:
    """One shop's book, opened. `where` is its path or URL."""

    where: str
    engine: Engine
    clock: Clock
    currency: str
    zone: str
    uuid: str

    def today(self) -> dt.date:
        return self.clock.today(self.zone)

    @contextmanager
    def read(self) -> Iterator[Session]:
        """A session that only reads and sees one moment of the book."""
        with (
            self.engine.connect().execution_options(**READ_ONLY) as connection,
            Session(connection) as session,
        ):
            yield session

    def do(self, ask: Ask, action: Callable[Concatenate[OpenAct, P], R], *args: P.args, **kwargs: P.kwargs) -> Told[R]:
        """Run one action as one act in one transaction.

        Raises:
            Refusal: from the action, or because of the day, the key or a repeat; nothing was written then.
        """
        today = self.today()
        on = ask.on or today
        if on > today:
            raise Refusal(f"{on} is after today ({today}): write the line on its day, or give an earlier --on")
        with Session(self.engine) as session:
            self._lock(session)
            asked = acts.asked_text({str(place): value for place, value in enumerate(args)} | kwargs)
            if ask.key is not None and (earlier := session.scalars(select(Act).filter_by(key=ask.key)).first()):
                return acts.first_result(earlier, ask, asked)
            if not ask.again:
                acts.refuse_repeat(session, ask, on, asked)
            act = self._open_act(session, ask, on, today)
            result = action(act, *args, **kwargs)
            told = "\n".join(act.sentences)
            if ask.dry_run:
                session.rollback()
                return Told(told, result)
            session.add(acts.link(act, asked, told))
            session.commit()
            return Told(told, result)

    def _open_act(self, session: Session, ask: Ask, on: dt.date, today: dt.date) -> OpenAct:
        last = session.scalars(select(Act).order_by(Act.id.desc()).limit(1)).first()
        return OpenAct(
            session=session,
            ask=ask,
            clock=self.clock,
            currency=self.currency,
            zone=self.zone,
            id=last.id + 1 if last else 1,
            on=on,
            today=today,
            closed_through=closed_through(session),
            head_before=last.head if last else GENESIS,
        )

    def _lock(self, session: Session) -> None:
        """Make this writer the only one until it commits (SQLite's BEGIN IMMEDIATE has done so already).

        Taking the book's row first, always, is the whole lock order: stock, numbers and closings are read and
        then written under it.
        """
        session.execute(select(BookRow.id).with_for_update())

    def head(self, session: Session) -> str | None:
        """The head of the chain, None in an empty book."""
        return session.scalar(select(Act.head).order_by(Act.id.desc()).limit(1))

    def close(self) -> None:
        self.engine.dispose()


def opened(where: str, engine: Engine, clock: Clock) -> Book:
    """The book behind an engine whose revision is known to be current.

    Raises:
        Refusal: `coatbook init` was cut short before its first act.
    """
    with engine.connect().execution_options(**READ_ONLY) as connection, Session(connection) as session:
        row = session.scalars(select(BookRow)).first()
        if row is None:
            remedy = "run" if is_url(where) else "remove that file and run"
            raise Refusal(f"the book at {hidden(where)} was never begun: {remedy} `coatbook init` again")
        return Book(where, engine, clock, row.currency, row.zone, row.uuid)


def is_begun(engine: Engine) -> bool:
    """Whether a book whose tables stand has its first act."""
    with engine.connect().execution_options(**READ_ONLY) as connection, Session(connection) as session:
        return session.scalars(select(BookRow.id)).first() is not None


def begin(act: OpenAct, currency: str, zone: str) -> None:
    """The first act of a book: its own row."""
    digits(currency)
    zone_named(zone)
    row = BookRow(uuid=str(uuid.uuid4()), currency=currency, zone=zone)
    row.id = 1  # said, not drawn from a sequence: an `init` that was refused has used its 1 up on PostgreSQL
    act.add(row)


def unborn(where: str, engine: Engine, clock: Clock, currency: str, zone: str) -> Book:
    """A book whose tables stand but whose first act is yet to come."""
    return Book(where, engine, clock, currency, zone, "")
