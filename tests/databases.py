"""Databases on the PostgreSQL server that the tests may use: a superuser's, named by COATBOOK_TEST_POSTGRES."""

import os
import uuid

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
