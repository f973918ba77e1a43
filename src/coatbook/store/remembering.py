"""What a long act has looked up already: a row asked for a thousand times is read once, until its table is written.

Only an act that says so remembers (`remember`); every other session asks the database each time.
"""

from collections.abc import Callable, Hashable
from typing import Any, TypeVar

from sqlalchemy.orm import Session

from coatbook.store.tables import Base

R = TypeVar("R")
_PLACE = "coatbook remembers"
_MOST = 5_000  # answers a table


def remember(session: Session) -> None:
    """From now on the session remembers what `recalled` is asked."""
    session.info[_PLACE] = {}


def remembers(session: Session) -> bool:
    return _PLACE in session.info


def recalled(session: Session, table: type[Base], asked: Hashable, find: Callable[[], R]) -> R:
    """What `find` answers from this one table; asked once, while no row of the table is written."""
    remembered: dict[str, dict[Hashable, Any]] | None = session.info.get(_PLACE)
    if remembered is None:
        return find()
    answers = remembered.setdefault(table.__tablename__, {})
    if asked not in answers:
        if len(answers) >= _MOST:
            answers.clear()
        answers[asked] = find()
    answer: R = answers[asked]
    return answer


def forget(session: Session, table: str | None = None) -> None:
    """Forget what was asked of a table, or of all: a row of it was written, or taken back."""
    remembered = session.info.get(_PLACE)
    if remembered is None:
        return
    if table is None:
        remembered.clear()
    else:
        remembered.pop(table, None)
