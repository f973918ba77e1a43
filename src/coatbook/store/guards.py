"""Guards: triggers by which the database itself refuses what the laws forbid.

They are derived from the database's own catalog, so a table or column added by a migration is guarded as soon as
`install` runs again. They stop mistakes, not malice: whoever may drop a trigger can; `missing` then names it.

An act's own row is written last, so a line or a strike that names an act which stands already came from elsewhere
and is refused too.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sqlalchemy import Connection, inspect, text

from coatbook.store.tables import STRUCK, Law

UNGUARDED = {"alembic_version"}
_WHY: dict[Law, str] = {
    "written once": "is written once: strike it with `coatbook strike`",
    "issued": "stands for good: it is never changed",
    "edited": "is edited by coatbook commands only, and never deleted",
}


@dataclass(frozen=True, slots=True)
class Guard:
    """One trigger: its name, the table it guards and the statement that makes it."""

    name: str
    table: str
    sql: str


def install(connection: Connection) -> None:
    """Drop whatever guards there are and make all that the catalog calls for."""
    if connection.dialect.name == "postgresql":
        for statement in _POSTGRESQL_FUNCTIONS.values():
            connection.exec_driver_sql(statement)
    for guard in expected(connection):
        on_table = f' ON "{guard.table}"' if connection.dialect.name == "postgresql" else ""
        connection.exec_driver_sql(f'DROP TRIGGER IF EXISTS "{guard.name}"{on_table}')
        connection.exec_driver_sql(guard.sql)
        if connection.dialect.name == "postgresql":  # ALWAYS: in a session that plays a replica, too
            connection.exec_driver_sql(f'ALTER TABLE "{guard.table}" ENABLE ALWAYS TRIGGER "{guard.name}"')


def missing(connection: Connection, wanted: Sequence[Guard] | None = None) -> list[Guard]:
    """The guards the catalog calls for (`wanted`, where they are known already) that are gone, off or altered."""
    present = _present_sqlite(connection) if connection.dialect.name == "sqlite" else _present_postgresql(connection)
    wanted = list(expected(connection)) if wanted is None else wanted
    return [guard for guard in wanted if present.get(guard.name) != guard.sql]


def strange(connection: Connection, wanted: Sequence[Guard]) -> list[tuple[str, str]]:
    """The triggers that are no guards, as (name, table): whoever made them changes what coatbook writes."""
    known = {guard.name for guard in wanted}
    sqlite = connection.dialect.name == "sqlite"
    return [
        (name, table)
        for name, table in connection.execute(text(_ALL_SQLITE if sqlite else _ALL_POSTGRESQL))
        if name not in known
    ]


def expected(connection: Connection) -> Iterator[Guard]:
    """The guards every table in the catalog must have."""
    make = _sqlite_guards if connection.dialect.name == "sqlite" else _postgresql_guards
    catalog = inspect(connection)
    uniques = dict(catalog.get_multi_unique_constraints())
    indexes = dict(catalog.get_multi_indexes())
    for (schema, table), found in sorted(catalog.get_multi_columns().items(), key=lambda item: item[0][1]):
        if table in UNGUARDED:
            continue
        keys: list[list[str | None]] = [list(unique["column_names"]) for unique in uniques.get((schema, table), [])]
        keys += [index["column_names"] for index in indexes.get((schema, table), []) if index["unique"]]
        columns = [column["name"] for column in found]
        named = [[str(name) for name in names if name] for names in keys]
        yield from make(table, law_by_columns(table, columns), columns, named)


def law_by_columns(table: str, columns: list[str]) -> Law:
    """The law a table obeys, read off the catalog's columns."""
    if "struck_act" in columns:
        return "written once"
    return "issued" if table == "act" or "act" in columns else "edited"


def _sqlite_guards(table: str, law: Law, columns: list[str], uniques: list[list[str]]) -> Iterator[Guard]:
    refuse = f"SELECT RAISE(ABORT, 'coatbook: a line of {table} {_WHY[law].replace(chr(39), chr(39) * 2)}')"

    def guard(event: str, when: str, body: str) -> Guard:
        name = f"guard_{table}_{event}"
        before = f'CREATE TRIGGER "{name}" BEFORE {event.upper()} ON "{table}"'
        return Guard(name, table, f"{before}{f' WHEN {when}' if when else ''} BEGIN {body}; END")

    # REPLACE deletes the rows it collides with and fires no delete trigger, so a collision itself is refused.
    same = [" AND ".join(f'"{name}" = NEW."{name}"' for name in names) for names in [["id"], *uniques]]
    collision = f'EXISTS (SELECT 1 FROM "{table}" WHERE {" OR ".join(f"({one})" for one in same)})'
    late = " OR EXISTS (SELECT 1 FROM act WHERE id = NEW.{})"
    born_struck = "".join(f' OR NEW."{name}" IS NOT NULL' for name in STRUCK)
    wrong = collision + (late.format("act") if "act" in columns else "")
    yield guard("insert", wrong + (born_struck if law == "written once" else ""), refuse)
    yield guard("delete", "", refuse)
    if law == "issued":
        yield guard("update", "", refuse)
    elif law == "edited":
        others = f'EXISTS (SELECT 1 FROM "{table}" WHERE id <> OLD.id AND ({" OR ".join(f"({one})" for one in same)}))'
        yield guard("update", f"NEW.id IS NOT OLD.id OR {others}", refuse)
    else:
        kept = [f'NEW."{name}" IS OLD."{name}"' for name in columns if name not in STRUCK]
        once = [f'OLD."{name}" IS NULL AND NEW."{name}" IS NOT NULL' for name in STRUCK]
        yield guard("update", f"NOT ({' AND '.join(kept + once)}){late.format('struck_act')}", refuse)


_ALL_SQLITE = "SELECT name, tbl_name FROM sqlite_master WHERE type = 'trigger' ORDER BY name"
_ALL_POSTGRESQL = (
    "SELECT t.tgname, c.relname FROM pg_trigger t JOIN pg_class c ON c.oid = t.tgrelid "
    "WHERE NOT t.tgisinternal AND c.relnamespace = current_schema()::regnamespace ORDER BY t.tgname"
)


def _present_sqlite(connection: Connection) -> dict[str, str]:
    rows = connection.execute(text("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'"))
    return {row.name: row.sql for row in rows}


# No % in here: the driver would take it for a parameter.
_RAISE = (
    "RAISE EXCEPTION USING MESSAGE = 'coatbook: a line of ' || TG_TABLE_NAME || ' {why}', "
    "ERRCODE = 'integrity_constraint_violation'"
)
_STRUCK_NULL = " AND ".join(f"to_jsonb({{row}})->>'{name}' IS NULL" for name in STRUCK)
_STRUCK_SET = " AND ".join(f"to_jsonb(NEW)->>'{name}' IS NOT NULL" for name in STRUCK)
_UNSTRUCK = "to_jsonb({row}) - '" + "' - '".join(STRUCK) + "'"


def _function(law: Law) -> str:
    return f"coatbook_guard_{law.replace(' ', '_')}"


def _function_body(law: Law) -> str:
    # NEW and OLD exist only for row events: the test for TRUNCATE and DELETE comes first.
    refuse = _RAISE.format(why=_WHY[law].replace("'", "''"))
    return (
        f"BEGIN IF TG_OP IN ('DELETE', 'TRUNCATE') THEN {refuse}; END IF; "
        f"IF TG_OP = 'INSERT' THEN IF NOT ({_insert_allowed(law)}) THEN {refuse}; END IF; RETURN NEW; END IF; "
        f"IF NOT ({_update_allowed(law)}) THEN {refuse}; END IF; RETURN NEW; END"
    )


def _of_this_act(column: str) -> str:
    return f"NOT EXISTS (SELECT 1 FROM act WHERE id = (to_jsonb(NEW)->>'{column}')::bigint)"


def _insert_allowed(law: Law) -> str:
    if law == "edited":
        return "TRUE"
    return _of_this_act("act") + (f" AND {_STRUCK_NULL.format(row='NEW')}" if law == "written once" else "")


def _update_allowed(law: Law) -> str:
    if law == "issued":
        return "FALSE"
    if law == "edited":
        return "to_jsonb(NEW)->'id' = to_jsonb(OLD)->'id'"
    same = f"{_UNSTRUCK.format(row='NEW')} = {_UNSTRUCK.format(row='OLD')}"
    return f"{_STRUCK_NULL.format(row='OLD')} AND {_STRUCK_SET} AND {same} AND {_of_this_act('struck_act')}"


_POSTGRESQL_FUNCTIONS = {
    law: f"CREATE OR REPLACE FUNCTION {_function(law)}() RETURNS trigger LANGUAGE plpgsql AS "
    f"$guard${_function_body(law)}$guard$"
    for law in _WHY
}


def _postgresql_guards(table: str, law: Law, columns: list[str], uniques: list[list[str]]) -> Iterator[Guard]:
    for event, each in (("INSERT OR UPDATE OR DELETE", "ROW"), ("TRUNCATE", "STATEMENT")):
        name = f"guard_{table}_{each.lower()}"
        yield Guard(
            name,
            table,
            f'CREATE TRIGGER "{name}" BEFORE {event} ON "{table}" FOR EACH {each} EXECUTE FUNCTION {_function(law)}()',
        )


def _present_postgresql(connection: Connection) -> dict[str, str]:
    """Trigger name -> the statement we would have made it with, for those always on and with an unaltered function."""
    rows = connection.execute(
        text(
            "SELECT t.tgname, c.relname, p.proname, p.prosrc, t.tgtype FROM pg_trigger t "
            "JOIN pg_class c ON c.oid = t.tgrelid JOIN pg_proc p ON p.oid = t.tgfoid "
            "WHERE NOT t.tgisinternal AND t.tgenabled = 'A' AND t.tgqual IS NULL AND t.tgattr = ''::int2vector "
            "AND c.relnamespace = current_schema()::regnamespace AND p.pronamespace = c.relnamespace"
        )
    )
    bodies = {_function(law): _function_body(law) for law in _WHY}
    whole = {
        31: ("INSERT OR UPDATE OR DELETE", "ROW"),
        34: ("TRUNCATE", "STATEMENT"),
    }  # pg_trigger.tgtype bits
    present = {}
    for name, table, function, body, kind in rows:
        if bodies.get(function) == body and kind in whole:
            event, each = whole[kind]
            present[name] = (
                f'CREATE TRIGGER "{name}" BEFORE {event} ON "{table}" FOR EACH {each} EXECUTE FUNCTION {function}()'
            )
    return present
