"""With a plain SQL client, in every table of the database's own catalog: what the laws forbid, the database refuses."""

from collections.abc import Iterator

import pytest
from sqlalchemy import select

from coatbook.store import guards
from coatbook.store.book import Book
from coatbook.store.tables import Base, law_of
from store.raw import NO_ACT, STRUCK, UNGUARDED, Dump, Raw

STRIKE = {"struck_on": "'2026-08-20'", "struck_why": "'wrong'", "struck_act": str(NO_ACT)}
LAWS = ("written once", "issued", "edited")
only_sqlite = pytest.mark.parametrize("season_where", ["sqlite"], indirect=True)
only_postgresql = pytest.mark.parametrize("season_where", ["postgresql"], indirect=True)


@pytest.fixture(autouse=True)
def every_table_has_a_row(raw: Raw) -> Iterator[Dump]:
    """Each table has a row to attack; afterwards every row is as it was, whatever was tried."""
    for table in raw.tables():
        if not raw.one(f'SELECT count(*) FROM "{table}"'):
            raw.fill(table)
    before = raw.dump()
    assert [table for table, rows in before.items() if not rows] == []
    yield before
    assert raw.dump() == before


def strike_set(**changed: str) -> str:
    return ", ".join(f"{name} = {value}" for name, value in (STRIKE | changed).items())


def standing(raw: Raw, table: str) -> int:
    """A row of a table that is not struck."""
    where = "WHERE struck_act IS NULL" if raw.law(table) == "written once" else ""
    return int(raw.one(f'SELECT max(id) FROM "{table}" {where}'))


def refuse(raw: Raw, table: str, *statements: str) -> None:
    """Each statement alone is refused by the guard of that table, not by a type, a key or a mistake of the test."""
    for statement in statements:
        told = raw.error(statement)
        assert f"coatbook: a line of {table} " in told, f"{statement}\n{told or 'was done'}"


def test_the_season_and_the_catalog_know_the_same_tables(raw: Raw) -> None:
    assert raw.tables() == sorted(Base.metadata.tables)
    assert {table: raw.law(table) for table in raw.tables()} == {
        table.name: law_of(table) for table in Base.metadata.sorted_tables
    }
    assert all(raw.tables(law) for law in LAWS)


def test_no_guard_is_missing(season_book: Book) -> None:
    with season_book.engine.connect() as connection:
        assert guards.missing(connection) == []


def test_an_update_of_any_column_is_refused(raw: Raw) -> None:
    for table in raw.tables("written once") + raw.tables("issued"):
        row = standing(raw, table)
        for column in raw.types[table]:
            refuse(raw, table, f'UPDATE "{table}" SET "{column}" = {raw.other(table, column)} WHERE id = {row}')
        refuse(raw, table, f'UPDATE "{table}" SET id = id')  # not even to what it is


def test_a_delete_is_refused(raw: Raw) -> None:
    for table in raw.tables():
        refuse(raw, table, f'DELETE FROM "{table}"', f'DELETE FROM "{table}" WHERE id = {standing(raw, table)}')


def test_an_upsert_is_refused(raw: Raw) -> None:
    """Both with the row's own act and with one that is not in the book, so that no guard hides another."""
    for table in raw.tables("written once") + raw.tables("issued"):
        row = standing(raw, table)
        acts = [{}, {"act": str(NO_ACT)}] if "act" in raw.types[table] else [{}]
        for unique in raw.uniques[table]:
            keys = ", ".join(f'"{name}"' for name in unique)
            for changed in acts:
                own = changed if unique == ("id",) else changed | {"id": str(NO_ACT)}
                if unique == ("key",):  # the key of an act may be empty: nothing to collide with
                    continue
                for column in raw.types[table]:
                    doing = f'DO UPDATE SET "{column}" = excluded."{column}"'
                    refuse(raw, table, f"{raw.copy(table, row, **own)} ON CONFLICT ({keys}) {doing}")


@only_sqlite
def test_replace_is_refused(raw: Raw) -> None:
    assert raw.one("PRAGMA recursive_triggers") == 0
    assert raw.one("PRAGMA foreign_keys") == 0
    for table in raw.tables():
        row = standing(raw, table)
        act = {"act": str(NO_ACT)} if "act" in raw.types[table] else {}
        for verb in ("INSERT OR REPLACE INTO", "REPLACE INTO"):
            for spelled in ("id", "CAST(id AS TEXT)", "CAST(id AS REAL)"):
                refuse(raw, table, raw.copy(table, row, verb, id=spelled, **act))
            for unique in raw.uniques[table]:
                if unique not in (("id",), ("key",)):
                    refuse(raw, table, raw.copy(table, row, verb, id="NULL", **act))
                    refuse(raw, table, raw.copy(table, row, verb, id=str(NO_ACT), **act))
        for alias in ("rowid", "_rowid_", "oid"):
            columns = ", ".join(f'"{name}"' for name in raw.types[table] if name != "id")
            copied = f'SELECT {alias}, {columns} FROM "{table}" WHERE id = {row}'
            refuse(raw, table, f'INSERT OR REPLACE INTO "{table}" ({alias}, {columns}) {copied}')


@only_sqlite
def test_update_or_replace_is_refused(raw: Raw) -> None:
    for table in raw.tables():
        row = standing(raw, table)
        refuse(raw, table, f'UPDATE OR REPLACE "{table}" SET id = id + 1 WHERE id = {row}')


@only_sqlite
def test_an_edited_row_replaces_no_other(raw: Raw) -> None:
    (first, code), (second, _) = raw.all("SELECT id, code FROM worker ORDER BY id")
    assert first != second
    refuse(raw, "worker", f"UPDATE OR REPLACE worker SET code = '{code}' WHERE id = {second}")


def test_an_edited_row_keeps_its_id(raw: Raw) -> None:
    for table in raw.tables("edited"):
        refuse(raw, table, f'UPDATE "{table}" SET id = {NO_ACT} WHERE id = {standing(raw, table)}')


@only_postgresql
def test_truncate_is_refused(raw: Raw) -> None:
    for table in raw.tables():
        assert "coatbook: a line of " in raw.error(f'TRUNCATE "{table}" CASCADE')


@only_postgresql
def test_a_session_that_plays_a_replica_is_guarded_too(raw: Raw) -> None:
    raw.run("SET session_replication_role = replica")
    for table in raw.tables():
        refuse(raw, table, f'DELETE FROM "{table}"')
    for table in raw.tables("written once") + raw.tables("issued"):
        refuse(raw, table, f'UPDATE "{table}" SET id = id + 1')
    refuse(raw, "closing", raw.copy("closing", 1, id="2"))


def test_a_line_born_struck_is_refused(raw: Raw) -> None:
    for table in raw.tables("written once"):
        row, born = standing(raw, table), {"id": str(NO_ACT), "act": str(NO_ACT)}
        refuse(raw, table, raw.copy(table, row, **born, **STRIKE))
        for name in STRUCK:
            refuse(raw, table, raw.copy(table, row, **born, **{name: STRIKE[name]}))


def test_a_strike_that_changes_more_or_less_is_refused(raw: Raw) -> None:
    for table in raw.tables("written once"):
        row = standing(raw, table)
        for column in raw.types[table]:
            if column not in STRUCK:
                also = f'"{column}" = {raw.other(table, column)}'
                refuse(raw, table, f'UPDATE "{table}" SET {strike_set()}, {also} WHERE id = {row}')
        for left_out in STRUCK:
            refuse(raw, table, f'UPDATE "{table}" SET {strike_set(**{left_out: "NULL"})} WHERE id = {row}')


def test_a_line_or_a_strike_by_an_act_that_is_over_is_refused(raw: Raw) -> None:
    for table in raw.tables("written once") + raw.tables("issued"):
        row = standing(raw, table)
        if table != "act":
            refuse(raw, table, raw.copy(table, row, id=str(NO_ACT)))
        if raw.law(table) == "written once":
            refuse(raw, table, f'UPDATE "{table}" SET {strike_set(struck_act="1")} WHERE id = {row}')


class TestStruckRows:
    """Every table of written-once rows with a struck one in it."""

    @pytest.fixture
    def struck(self, raw: Raw, every_table_has_a_row: Dump) -> dict[str, int]:
        """The struck row of each table. The act that struck them is written last, as coatbook does it."""
        rows = {table: standing(raw, table) for table in raw.tables("written once")}
        changes = [f'UPDATE "{table}" SET {strike_set()} WHERE id = {row}' for table, row in rows.items()]
        raw.run(*changes, raw.copy("act", 1, id=str(NO_ACT), key="NULL"))
        every_table_has_a_row |= raw.dump()
        return rows

    def test_a_second_strike_is_refused(self, raw: Raw, struck: dict[str, int]) -> None:
        for table, row in struck.items():
            for act in (NO_ACT, NO_ACT + 1):
                again = strike_set(struck_on="'2026-08-19'", struck_act=str(act))
                refuse(raw, table, f'UPDATE "{table}" SET {again} WHERE id = {row}')
            for name in STRUCK:
                refuse(raw, table, f'UPDATE "{table}" SET {name} = {raw.other(table, name)} WHERE id = {row}')

    def test_un_striking_is_refused(self, raw: Raw, struck: dict[str, int]) -> None:
        for table, row in struck.items():
            refuse(raw, table, f'UPDATE "{table}" SET {_unset()} WHERE id = {row}')
            for name in STRUCK:
                refuse(raw, table, f'UPDATE "{table}" SET {name} = NULL WHERE id = {row}')

    def test_a_struck_row_changes_and_goes_no_more_than_another(self, raw: Raw, struck: dict[str, int]) -> None:
        for table, row in struck.items():
            refuse(raw, table, f'DELETE FROM "{table}" WHERE id = {row}')
            for column in raw.types[table]:
                refuse(raw, table, f'UPDATE "{table}" SET "{column}" = {raw.other(table, column)} WHERE id = {row}')


def _unset() -> str:
    return ", ".join(f"{name} = NULL" for name in STRUCK)


def test_the_actions_themselves_pass_the_guards(season_book: Book) -> None:
    """The season was written through the guards: nothing above was refused by a guard that refuses all."""
    with season_book.read() as session:
        for table in Base.metadata.sorted_tables:
            assert session.execute(select(table).limit(1)).first() is not None
            assert table.name not in UNGUARDED
