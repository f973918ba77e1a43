"""What every table of the book is made of, and the tables the store itself keeps.

A table obeys one of three laws, told apart in the database by its columns:

* written once, strikeable: `act, on_day, struck_on, struck_why, struck_act` (`WrittenOnce`)
* written once, never struck: `act` (`Issued`)
* edited in place, every revision kept: neither (`Edited`)
"""

import datetime as dt
from typing import Any, ClassVar, Literal

from sqlalchemy import CheckConstraint, ForeignKey, MetaData, Table, UniqueConstraint
from sqlalchemy.orm import DeclarativeBase, Mapped, MappedAsDataclass, mapped_column

from coatbook.store.types import TYPES

Law = Literal["written once", "issued", "edited"]
STRUCK = ("struck_on", "struck_why", "struck_act")


class Base(MappedAsDataclass, DeclarativeBase, kw_only=True, repr=False):
    """One row of the book. STRICT on SQLite; every constraint has a name that migrations can find."""

    metadata = MetaData(
        naming_convention={
            "pk": "pk_%(table_name)s",
            "fk": "fk_%(table_name)s_%(column_0_name)s",
            "uq": "uq_%(table_name)s_%(column_0_N_name)s",
            "ck": "ck_%(table_name)s_%(constraint_name)s",
            "ix": "ix_%(table_name)s_%(column_0_N_name)s",
        }
    )
    type_annotation_map = TYPES
    __table_args__ = {"sqlite_strict": True}  # noqa: RUF012
    law: ClassVar[Law]

    id: Mapped[int] = mapped_column(primary_key=True, init=False)


def strict(*constraints: Any) -> Any:
    """`__table_args__` of a table that has constraints of its own."""
    return (*constraints, {"sqlite_strict": True})


def refers(table: str, *, part_of: bool = False, **kwargs: Any) -> Any:
    """A column that refers to a row of `table`.

    With `part_of`, this row is a part of the row it refers to: striking that one strikes this one with it.
    """
    return mapped_column(ForeignKey(f"{table}.id"), info={"part_of": part_of}, **kwargs)


def optional() -> Any:
    """A column that may stay empty."""
    return mapped_column(default=None)


def _act_column(**kwargs: Any) -> Any:
    # Deferred: an act is written last, when the hash over its rows is known.
    return mapped_column(ForeignKey("act.id", deferrable=True, initially="DEFERRED"), init=False, index=True, **kwargs)


class WrittenOnce(Base, kw_only=True, repr=False):
    """A line in ink: never changed, never deleted; struck out once, legibly, if it was wrong."""

    __abstract__ = True
    law: ClassVar[Law] = "written once"

    on_day: Mapped[dt.date] = mapped_column(default=None, kw_only=True)
    act: Mapped[int] = _act_column()
    struck_on: Mapped[dt.date | None] = mapped_column(init=False, default=None)
    struck_why: Mapped[str | None] = mapped_column(init=False, default=None)
    struck_act: Mapped[int | None] = _act_column(default=None)


class Issued(Base, kw_only=True, repr=False):
    """A line that stands for good: what left the shop, what was computed, what was sent."""

    __abstract__ = True
    law: ClassVar[Law] = "issued"

    act: Mapped[int] = _act_column()


class Edited(Base, kw_only=True, repr=False):
    """Contact data and the like: edited in place, every revision kept by the store."""

    __abstract__ = True
    law: ClassVar[Law] = "edited"


class Act(Base, kw_only=True, repr=False):
    """One action of one person, and a link of the chain."""

    __tablename__ = "act"
    __table_args__ = strict(UniqueConstraint("key"))
    law: ClassVar[Law] = "issued"

    id: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)
    actor: Mapped[str]
    command: Mapped[str]
    asked: Mapped[str]  # canonical JSON of what the command was given
    on_day: Mapped[dt.date] = mapped_column(index=True)
    instant: Mapped[dt.datetime]
    key: Mapped[str | None]
    told: Mapped[str]  # what was printed
    rows: Mapped[str]  # the mark of the rows written (chain.rows_mark)
    head: Mapped[str]  # SHA-256 over this act and the head before it


class Revision(Issued, kw_only=True, repr=False):
    """The full content of an edited row after one act."""

    __tablename__ = "revision"
    __table_args__ = strict(UniqueConstraint("of_table", "of_id", "n"))

    of_table: Mapped[str]
    of_id: Mapped[int]
    n: Mapped[int]
    content: Mapped[str]


class Closing(WrittenOnce, kw_only=True, repr=False):
    """A closed month with its journal as it stood."""

    __tablename__ = "closing"

    month: Mapped[str]
    journal: Mapped[bytes]
    sha256: Mapped[str]


class ImportRow(Issued, kw_only=True, repr=False):
    """One row of a file that was brought in, by its own hash; `n` counts equal rows of one kind of file."""

    __tablename__ = "import_row"
    __table_args__ = strict(UniqueConstraint("of_table", "sha256", "n"))

    of_table: Mapped[str]
    sha256: Mapped[str]
    n: Mapped[int]


class BookRow(Edited, kw_only=True, repr=False):
    """The book itself: one row."""

    __tablename__ = "book"
    __table_args__ = strict(CheckConstraint("id = 1", name="one_row"))

    uuid: Mapped[str]
    currency: Mapped[str]
    zone: Mapped[str]


def law_of(table: Table) -> Law:
    """The law a table obeys, read off its columns."""
    if "struck_act" in table.c:
        return "written once"
    return "issued" if table.name == "act" or "act" in table.c else "edited"
