"""Making a book's tables and bringing an older book up to date, by the migrations shipped with the program."""

import datetime as dt
from pathlib import Path
from typing import TYPE_CHECKING

from sqlalchemy import Connection, Engine, create_engine, event, inspect, text

from coatbook.store import guards
from coatbook.store.engine import APPLICATION_ID, engine_for, hidden, is_url, sqlite_url
from coatbook.values import Refusal

if TYPE_CHECKING:
    from alembic.config import Config

REVISIONS = ("0001", "0002", "0003")
NEWEST = REVISIONS[-1]


def revision_of(engine: Engine) -> str | None:
    """The revision a book's tables are at, None where there are none. Reads by SQL: Alembic is slow to import."""
    with engine.connect().execution_options(coatbook_read_only=True) as connection:
        if not inspect(connection).has_table("alembic_version"):
            return None
        return str(connection.execute(text("SELECT version_num FROM alembic_version")).scalar_one())


def check_current(where: str, engine: Engine) -> None:
    """Refuse a book that is older or newer than this program, or that is none.

    Raises:
        Refusal: with the command that helps.
    """
    revision = revision_of(engine)
    if revision == NEWEST:
        return
    if revision is None:
        raise Refusal(f"{hidden(where)} holds no book: make one with `coatbook --book … init`")
    if revision in REVISIONS:
        raise Refusal(
            f"this book is of revision {revision} and the program works with {NEWEST}: run `coatbook book upgrade`, "
            "which takes a backup first"
        )
    raise Refusal(
        f"this book is of revision {revision}, made by a newer coatbook than this one ({NEWEST}): update the program"
    )


def alembic_config(connection: Connection | None = None) -> "Config":
    """Alembic's configuration, made in code: the migrations travel inside the package."""
    from importlib.resources import files

    from alembic.config import Config

    config = Config()
    config.set_main_option("script_location", str(files("coatbook_migrations")).replace("%", "%%"))
    config.attributes["connection"] = connection
    return config


def migrate(where: str, to: str = NEWEST) -> None:
    """Bring the tables of the book at `where` to a revision, all or nothing, and guard every table anew."""
    from alembic import command

    engine = _migrating_engine(where)
    try:
        with engine.begin() as connection:
            command.upgrade(alembic_config(connection), to)
            if connection.dialect.name == "sqlite":
                if connection.exec_driver_sql("PRAGMA foreign_key_check").first() is not None:
                    raise Refusal("the upgrade would leave a line without what it refers to: nothing was changed")
                connection.exec_driver_sql(f"PRAGMA application_id = {APPLICATION_ID}")
                connection.exec_driver_sql(f"PRAGMA user_version = {int(to)}")
            guards.install(connection)
    finally:
        engine.dispose()


def _migrating_engine(where: str) -> Engine:
    """An engine with foreign keys off on SQLite: there, rebuilding a parent table would else lose its children."""
    if is_url(where):
        return engine_for(where)
    engine = create_engine(sqlite_url(Path(where)), connect_args={"timeout": 30})

    def prepare(connection: object, _record: object) -> None:
        connection.isolation_level = None  # type: ignore[attr-defined]
        for pragma in ("journal_mode = TRUNCATE", "synchronous = EXTRA", "foreign_keys = OFF"):
            connection.execute(f"PRAGMA {pragma}").close()  # type: ignore[attr-defined]

    def begin(connection: Connection) -> None:
        connection.exec_driver_sql("BEGIN IMMEDIATE")

    event.listen(engine, "connect", prepare)
    event.listen(engine, "begin", begin)
    return engine


def backup_name(where: str, revision: str, instant: dt.datetime) -> Path:
    """Where the backup taken before an upgrade goes: beside the book, or here for a book on a server."""
    folder = Path() if is_url(where) else Path(where).parent
    stem = "book" if is_url(where) else Path(where).stem
    return folder / f"{stem}-revision-{revision}-{instant:%Y%m%dT%H%M%S}.db"
