"""Databases on the PostgreSQL server that the tests may use: a superuser's, named by COATBOOK_TEST_POSTGRES."""

import os
import uuid
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import psycopg
from psycopg import sql
from sqlalchemy import make_url

STORES = ("sqlite", "postgresql")
POSTGRESQL = os.environ.get("COATBOOK_TEST_POSTGRES")  # read before a test's clean surroundings take it away
ALL = os.environ.get("COATBOOK_TEST_ALL") == "1"


def copy_database(template: str | None = None) -> str:
    """A new database on the test server, empty or a copy of another; its URL."""
    assert POSTGRESQL is not None
    name = f"coatbook_test_{uuid.uuid4().hex}"
    copied = make_url(template).database if template else None
    statement = sql.SQL("CREATE DATABASE {} TEMPLATE {}")
    with psycopg.connect(POSTGRESQL, autocommit=True) as connection:
        connection.execute(statement.format(sql.Identifier(name), sql.Identifier(copied or "template0")))
    return make_url(POSTGRESQL).set(database=name).render_as_string(hide_password=False)


def drop_database(url: str) -> None:
    """Away with a database and whoever is still in it."""
    assert POSTGRESQL is not None
    with psycopg.connect(POSTGRESQL, autocommit=True) as connection:
        name = sql.Identifier(make_url(url).database or "")
        connection.execute(sql.SQL("DROP DATABASE IF EXISTS {} WITH (FORCE)").format(name))


class Copies:
    """Copies of one database, for one test each. One that its test left untouched serves the next test too.

    Copying takes a second, and most tests of a refusal change nothing.
    """

    def __init__(self, template: str) -> None:
        self._template = template
        self._untouched = _content(template)
        self._spare: str | None = None

    @contextmanager
    def one(self) -> Iterator[str]:
        """The URL of a copy."""
        url, self._spare = self._spare or copy_database(self._template), None
        yield url
        if _content(url) == self._untouched:
            self._spare = url
        else:
            drop_database(url)

    def close(self) -> None:
        if self._spare is not None:
            drop_database(self._spare)


def _content(url: str) -> list[Any]:
    """All that a test could have changed: rows, sequences, triggers, functions, columns and settings."""
    with psycopg.connect(url) as connection:
        tables = [name for (name,) in connection.execute(_TABLES)]
        rows = [connection.execute(sql.SQL("SELECT * FROM {}").format(sql.Identifier(name))) for name in tables]
        return [tables, *(one.fetchall() for one in rows), *(connection.execute(one).fetchall() for one in _REST)]


_TABLES = "SELECT table_name FROM information_schema.tables WHERE table_schema = 'public' ORDER BY 1"
_REST = (
    "SELECT sequencename, last_value FROM pg_sequences ORDER BY 1",
    "SELECT tgname, tgenabled, pg_get_triggerdef(oid) FROM pg_trigger WHERE NOT tgisinternal ORDER BY 1, 3",
    "SELECT proname, prosrc FROM pg_proc WHERE pronamespace = 'public'::regnamespace ORDER BY 1, 2",
    "SELECT conname, contype FROM pg_constraint ORDER BY 1, 2",
    "SELECT table_name, column_name FROM information_schema.columns WHERE table_schema = 'public' ORDER BY 1, 2",
    (
        "SELECT setconfig FROM pg_db_role_setting JOIN pg_database d ON d.oid = setdatabase "
        "WHERE datname = current_database()"
    ),
)
