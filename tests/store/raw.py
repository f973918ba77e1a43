"""A plain SQL client on a book, as anyone with the file or the password has it: no settings of ours, no mercy."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import psycopg
from sqlalchemy import create_engine, inspect

from coatbook.store.engine import is_url

Rows = list[tuple[Any, ...]]
Dump = dict[str, Rows]  # by table
UNGUARDED = {"alembic_version"}
STRUCK = ("struck_on", "struck_why", "struck_act")
NO_ACT = 900_001  # an act that is not in the book

# Another value than the one in a column, by the column's declared type.
_OTHER = {
    "INTEGER": "coalesce({0}, 0) + 1",
    "BIGINT": "coalesce({0}, 0) + 1",
    "TEXT": "coalesce({0}, '') || 'x'",
    "BLOB": "x'00'",
    "BYTEA": "decode('00', 'hex')",
    "DATE": "coalesce({0}, date '2026-01-01') + 1",
    "TIMESTAMP": "coalesce({0}, now()) + interval '1 day'",
    "BOOLEAN": "NOT COALESCE({0}, FALSE)",
}
# A first value for a column nobody has filled.
_FIRST = {
    "INTEGER": "1",
    "BIGINT": "1",
    "TEXT": "'2026-01-01'",
    "BLOB": "x'00'",
    "BYTEA": "decode('00', 'hex')",
    "DATE": "date '2026-01-01'",
    "TIMESTAMP": "now()",
    "BOOLEAN": "true",
}


Catalog = tuple[dict[str, dict[str, str]], dict[str, list[tuple[str, ...]]]]
_catalogs: dict[bool, Catalog] = {}  # by whether it is SQLite's: all books of a run have the same


class Raw:
    """One connection with the client's defaults. On SQLite: foreign keys and recursive triggers off."""

    def __init__(self, where: str) -> None:
        self.sqlite = not is_url(where)
        self.connection: Any = sqlite3.connect(where) if self.sqlite else psycopg.connect(where)
        if self.sqlite:
            self.connection.execute("PRAGMA synchronous = OFF")  # quick, and all else as it comes
        if self.sqlite not in _catalogs:
            _catalogs[self.sqlite] = _catalog(f"sqlite:///{where}" if self.sqlite else where)
        self.types, self.uniques = _catalogs[self.sqlite]

    def close(self) -> None:
        self.connection.close()

    def tables(self, law: str | None = None) -> list[str]:
        """The tables in the database's own catalog, of one law (written once, issued, edited) or all."""
        return [table for table in self.types if law in (None, self.law(table))]

    def law(self, table: str) -> str:
        if "struck_act" in self.types[table]:
            return "written once"
        return "issued" if table == "act" or "act" in self.types[table] else "edited"

    def run(self, *statements: str) -> int:
        """Run statements in one transaction and commit; the rows the last one touched."""
        try:
            touched = [self.connection.execute(statement).rowcount for statement in statements]
            self.connection.commit()
        except (sqlite3.Error, psycopg.Error):
            self.connection.rollback()
            raise
        return int(touched[-1]) if touched else 0

    def error(self, *statements: str) -> str:
        """What the database says against statements; "" if it did them."""
        try:
            self.run(*statements)
        except (sqlite3.Error, psycopg.Error) as error:
            return str(error)
        return ""

    def all(self, statement: str) -> Rows:
        rows = self.connection.execute(statement).fetchall()
        self.connection.rollback()
        return [tuple(row) for row in rows]

    def one(self, statement: str) -> Any:
        return self.all(statement)[0][0]

    def dump(self) -> Dump:
        """Every row of every table."""
        return {table: self.all(f'SELECT * FROM "{table}" ORDER BY id') for table in self.types}

    def other(self, table: str, column: str) -> str:
        """An expression for another value than the one that stands in a column."""
        return _OTHER[self.types[table][column]].format(f'"{column}"')

    def copy(self, table: str, row_id: int, verb: str = "INSERT INTO", **changed: str) -> str:
        """A statement that inserts a copy of a row with some columns changed, as SQL expressions."""
        columns = ", ".join(f'"{name}"' for name in self.types[table])
        values = ", ".join(changed.get(name, f'"{name}"') for name in self.types[table])
        return f'{verb} "{table}" ({columns}) SELECT {values} FROM "{table}" WHERE id = {row_id}'

    def fill(self, table: str) -> None:
        """Insert a made-up row, with foreign keys off."""
        values = {name: _FIRST[kind] for name, kind in self.types[table].items() if name not in STRUCK}
        values |= {"act": str(NO_ACT + 1)} if "act" in values else {}
        names = ", ".join(f'"{name}"' for name in values)
        with self.no_foreign_keys():
            self.run(f'INSERT INTO "{table}" ({names}) VALUES ({", ".join(values.values())})')

    @contextmanager
    def no_foreign_keys(self) -> Iterator[None]:
        """SQLite's client has them off already."""
        if not self.sqlite:
            self.run("SET session_replication_role = replica")
        yield
        if not self.sqlite:
            self.run("SET session_replication_role = DEFAULT")

    def guards(self, *tables: str) -> dict[str, str]:
        """The guards of some tables: name and the table (PostgreSQL) or the statement that makes it (SQLite)."""
        listed = ", ".join(f"'{table}'" for table in tables)
        if self.sqlite:
            return dict(
                self.all(f"SELECT name, sql FROM sqlite_master WHERE type = 'trigger' AND tbl_name IN ({listed})")
            )
        named = "SELECT tgname, relname FROM pg_trigger JOIN pg_class ON pg_class.oid = tgrelid WHERE NOT tgisinternal"
        return dict(self.all(f"{named} AND relname IN ({listed})"))

    def unguard(self, *tables: str) -> dict[str, str]:
        """Force past the guards of some tables: away they go. What `guard` needs to set them again."""
        guards = self.guards(*tables)
        if self.sqlite:
            self.run(*(f'DROP TRIGGER "{name}"' for name in guards))
        else:
            self.run(*(f'ALTER TABLE "{table}" DISABLE TRIGGER "{name}"' for name, table in guards.items()))
        return guards

    def guard(self, guards: dict[str, str]) -> None:
        """Set guards again, as if nothing had been."""
        if self.sqlite:
            self.run(*guards.values())
        else:
            self.run(*(f'ALTER TABLE "{table}" ENABLE ALWAYS TRIGGER "{name}"' for name, table in guards.items()))


def _kind(kind: Any) -> str:
    return str(kind).partition("(")[0].partition(" ")[0].upper()


def _catalog(url: str) -> Catalog:
    """The tables as the database's own catalog lists them: the types of their columns, and their keys."""
    engine = create_engine(url.replace("postgresql://", "postgresql+psycopg://", 1))
    catalog = inspect(engine)
    types = {
        table: {column["name"]: _kind(column["type"]) for column in columns}
        for (_, table), columns in sorted(catalog.get_multi_columns().items(), key=lambda item: item[0][1])
        if table not in UNGUARDED
    }
    uniques: dict[str, list[tuple[str, ...]]] = {
        table: [("id",), *(tuple(one["column_names"]) for one in found)]
        for (_, table), found in catalog.get_multi_unique_constraints().items()
    }
    engine.dispose()
    return types, uniques
