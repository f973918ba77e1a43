"""Column types that come out the same on SQLite (STRICT tables) and PostgreSQL."""

import datetime as dt
from typing import Any, Literal

from sqlalchemy import BigInteger, Boolean, Date, DateTime, Integer, LargeBinary, Text
from sqlalchemy.engine import Dialect
from sqlalchemy.types import TypeDecorator, TypeEngine


class Day(TypeDecorator[dt.date]):
    """A calendar day: ISO text on SQLite, DATE on PostgreSQL."""

    impl = Text
    cache_ok = True

    def load_dialect_impl(self, dialect: Dialect) -> TypeEngine[Any]:
        return dialect.type_descriptor(Text() if dialect.name == "sqlite" else Date())

    def process_bind_param(self, value: dt.date | None, dialect: Dialect) -> Any:
        return value.isoformat() if value is not None and dialect.name == "sqlite" else value

    def process_result_value(self, value: Any, dialect: Dialect) -> dt.date | None:
        return dt.date.fromisoformat(value) if isinstance(value, str) else value


class Instant(TypeDecorator[dt.datetime]):
    """A moment in UTC with microseconds: ISO text on SQLite, TIMESTAMP WITH TIME ZONE on PostgreSQL."""

    impl = Text
    cache_ok = True

    def load_dialect_impl(self, dialect: Dialect) -> TypeEngine[Any]:
        return dialect.type_descriptor(Text() if dialect.name == "sqlite" else DateTime(timezone=True))

    def process_bind_param(self, value: dt.datetime | None, dialect: Dialect) -> Any:
        if value is None:
            return None
        moment = value.astimezone(dt.UTC)
        return moment.isoformat(timespec="microseconds") if dialect.name == "sqlite" else moment

    def process_result_value(self, value: Any, dialect: Dialect) -> dt.datetime | None:
        if value is None:
            return None
        moment = dt.datetime.fromisoformat(value) if isinstance(value, str) else value
        return moment.astimezone(dt.UTC)


class Flag(TypeDecorator[bool]):
    """Yes or no: 0 or 1 on SQLite, BOOLEAN on PostgreSQL."""

    impl = Integer
    cache_ok = True

    def load_dialect_impl(self, dialect: Dialect) -> TypeEngine[Any]:
        return dialect.type_descriptor(Integer() if dialect.name == "sqlite" else Boolean())

    def process_bind_param(self, value: bool | None, dialect: Dialect) -> Any:
        return int(value) if value is not None and dialect.name == "sqlite" else value

    def process_result_value(self, value: Any, dialect: Dialect) -> bool | None:
        return None if value is None else bool(value)


TYPES: dict[Any, Any] = {
    int: BigInteger().with_variant(Integer, "sqlite"),
    str: Text,
    bytes: LargeBinary,
    dt.date: Day,
    dt.datetime: Instant,
    bool: Flag,
}


def render_item(kind: str, item: Any, context: Any) -> str | Literal[False]:
    """How Alembic writes our types into a revision (its `render_item` hook)."""
    if kind == "type" and isinstance(item, Day | Instant | Flag):
        context.imports.add("from coatbook.store import types")
        return f"types.{type(item).__name__}()"
    return False
