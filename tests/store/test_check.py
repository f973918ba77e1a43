"""Forced past the guards, a change shows: `book check` names the row, and the guard that is missing."""

import json
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Any

import pytest

from coatbook.store.book import Book
from coatbook.store.check import Finding, check
from store.raw import NO_ACT, STRUCK, Raw

Command = Callable[..., tuple[int, str, str]]
only_sqlite = pytest.mark.parametrize("season_where", ["sqlite"], indirect=True)
only_postgresql = pytest.mark.parametrize("season_where", ["postgresql"], indirect=True)

# What was done, to which tables, by which statements, and what `book check` must name. The season's line 12 is struck;
# {lee} is act 5, {spare} an id nobody has.
TAMPERED: dict[str, tuple[tuple[str, ...], tuple[str, ...], tuple[str, ...]]] = {
    "a value changed": (("entry",), ("UPDATE entry SET minor = minor + 1 WHERE id = 4",), ("entry 4",)),
    "a day spelled another way": (("entry",), ("UPDATE entry SET on_day = '20260702' WHERE id = 4",), ("entry 4",)),
    "a day that is none": (("entry",), ("UPDATE entry SET on_day = 'soon' WHERE id = 4",), ("entry 4",)),
    "a value emptied": (("entry",), ("UPDATE entry SET text = NULL WHERE id = 4",), ("entry 4",)),
    "a day moved": (("entry",), ("UPDATE entry SET on_day = '2026-07-03' WHERE id = 4",), ("entry 4",)),
    "a row moved to another act": (("entry",), ("UPDATE entry SET act = act + 1 WHERE id = 4",), ("entry 4",)),
    "a row given another id": (
        ("reading",),
        (f"UPDATE reading SET id = {NO_ACT} WHERE id = 2",),
        ("reading 2", f"reading {NO_ACT}"),
    ),
    "two rows exchanged": (
        ("reading",),
        (
            f"UPDATE reading SET id = {NO_ACT} WHERE id = 1",
            "UPDATE reading SET id = 1 WHERE id = 2",
            f"UPDATE reading SET id = 2 WHERE id = {NO_ACT}",
        ),
        ("reading 1", "reading 2"),
    ),
    "a row deleted": (("reading",), ("DELETE FROM reading WHERE id = 2",), ("reading 2",)),
    "a line struck by no command": (
        ("entry",),
        ("UPDATE entry SET struck_on = on_day, struck_why = 'x', struck_act = act WHERE id = 4",),
        ("entry 4",),
    ),
    "a line half struck": (("entry",), ("UPDATE entry SET struck_on = on_day WHERE id = 4",), ("entry 4",)),
    "a strike taken back": (
        ("entry",),
        ("UPDATE entry SET struck_on = NULL, struck_why = NULL, struck_act = NULL WHERE id = 12",),
        ("entry 12",),
    ),
    "a strike's reason changed": (("entry",), ("UPDATE entry SET struck_why = 'y' WHERE id = 12",), ("entry 12",)),
    "a strike's day changed": (("entry",), ("UPDATE entry SET struck_on = '2026-08-01' WHERE id = 12",), ("entry 12",)),
    "a strike moved to another act": (("entry",), ("UPDATE entry SET struck_act = 1 WHERE id = 12",), ("entry 12",)),
    "an issued total changed": (("document",), ("UPDATE document SET gross = 1",), ("document 1",)),
    "an issued line deleted": (("document_line",), ("DELETE FROM document_line WHERE n = 2",), ("document_line 2",)),
    "a closing deleted": (("closing",), ("DELETE FROM closing",), ("closing 1",)),
    "an act changed": (("act",), ("UPDATE act SET actor = 'other' WHERE id = 5",), ("act 5",)),
    "an act's day moved": (("act",), ("UPDATE act SET on_day = '2026-01-03' WHERE id = 5",), ("act 5",)),
    "an act's head changed": (("act",), ("UPDATE act SET head = 'x' WHERE id = 5",), ("act 5", "act 6")),
    "an act's record of its rows changed": (("act",), ("UPDATE act SET rows = 'x' WHERE id = 5",), ("act 5",)),
    "an act deleted": (("act",), ("DELETE FROM act WHERE id = 5",), ("act 5", "act 6", "revision 7")),
    "a revision changed": (("revision",), ("UPDATE revision SET content = '{}' WHERE id = 4",), ("revision 4",)),
    "an edited row deleted": (("worker",), ("DELETE FROM worker WHERE id = 2",), ("worker 2",)),
}
ON_BOTH = (
    "a value changed",
    "a row deleted",
    "a strike taken back",
    "an act changed",
    "an act deleted",
    "a revision changed",
    "an edited row deleted",
)
BACKS = {  # behind the book's back, where no guard stands in the way
    "an edited row changed": ("UPDATE customer SET email = 'other@example.com'", "customer 1"),
    "an edited row added": ("INSERT INTO worker (id, code, name, kind) VALUES (9, 'x', 'X', 'owner')", "worker 9"),
    "a flag turned": ("UPDATE surface SET layers_known = NOT layers_known", "surface 1"),
    "the currency changed": ("UPDATE book SET currency = 'EUR'", "book 1"),
}
_MADE = "CREATE OR REPLACE TRIGGER guard_entry_row {} ON entry FOR EACH ROW {}"


def named(findings: Iterable[Finding], *kinds: str) -> set[str]:
    return {finding.where for finding in findings if not kinds or finding.kind in kinds}


def test_an_untouched_book_is_whole(season_book: Book) -> None:
    assert check(season_book) == []


def test_the_command_says_that_the_book_is_whole(season_where: str, command_on: Command) -> None:
    assert command_on(season_where, "book", "check", "--json") == (0, '{\n  "ok": true,\n  "findings": []\n}\n', "")
    code, out, _ = command_on(season_where, "book", "check")
    assert (code, out) == (0, "The book is whole: every row is as it was written, every guard stands.\n")


@pytest.mark.parametrize(
    ("season_where", "how"),
    [*(("sqlite", how) for how in TAMPERED), *(("postgresql", how) for how in ON_BOTH)],
    indirect=["season_where"],
)
def test_what_was_forced_past_the_guards_is_named(season_book: Book, raw: Raw, how: str) -> None:
    tables, statements, wanted = TAMPERED[how]
    with raw.no_foreign_keys():
        guards = raw.unguard(*tables)
        raw.run(*statements)
    findings = check(season_book)
    assert named(findings) >= {*wanted, *tables}
    told = " ".join(finding.what for finding in findings if finding.kind == "guard")
    assert guards
    assert all(guard in told for guard in guards)

    if how in ON_BOTH:
        raw.guard(guards)  # the row is named even when the guards stand again
        findings = check(season_book)
        assert named(findings, "guard") == set()
        assert named(findings) >= set(wanted)


def test_no_other_row_is_suspected(season_book: Book, raw: Raw) -> None:
    with raw.no_foreign_keys():
        guards = raw.unguard("entry", "reading")
        raw.run("UPDATE entry SET minor = minor + 1 WHERE id = 4", "DELETE FROM reading WHERE id = 2")
        raw.guard(guards)
    findings = check(season_book)
    assert named(findings) == {"entry 4", "reading 2"}
    assert {finding.kind for finding in findings} == {"rows"}


@pytest.mark.parametrize("how", BACKS)
def test_an_edited_row_must_equal_its_last_revision(season_book: Book, raw: Raw, how: str) -> None:
    statement, wanted = BACKS[how]
    raw.run(statement)
    assert named(check(season_book)) == {wanted}


def test_a_stray_row_is_named(season_book: Book, raw: Raw) -> None:
    guards = raw.unguard("entry")
    raw.run(raw.copy("entry", 4, id="90"))
    raw.guard(guards)
    assert named(check(season_book)) == {"entry 90"}


def test_a_stray_row_of_no_act_is_named(season_book: Book, raw: Raw) -> None:
    with raw.no_foreign_keys():
        raw.run(raw.copy("entry", 4, id="90", act=str(NO_ACT)))
    assert named(check(season_book), "rows") == {"entry 90"}


def test_the_command_names_the_row_and_the_guard(season_where: str, raw: Raw, command_on: Command) -> None:
    raw.unguard("entry")
    raw.run("UPDATE entry SET minor = minor + 1 WHERE id = 4")
    code, out, err = command_on(season_where, "book", "check", "--json")
    answer = json.loads(out)
    assert (code, err) == (1, "")
    assert set(answer) == {"ok", "findings"}
    assert answer["ok"] is False
    assert all(set(finding) == {"kind", "where", "what"} for finding in answer["findings"])
    assert {finding["where"] for finding in answer["findings"]} == {"entry", "entry 4"}

    code, out, err = command_on(season_where, "book", "check")
    assert (code, err) == (1, "")
    assert "entry 4 is not as act" in out
    assert "is missing or altered: run `coatbook book upgrade` to set it again" in out

    code, out, _ = command_on(season_where, "book", "upgrade")
    assert (code, out.count("its guards are set anew")) == (0, 1)
    code, out, _ = command_on(season_where, "book", "check", "--json")
    assert (code, [finding["where"] for finding in json.loads(out)["findings"]]) == (1, ["entry 4"])


def test_a_change_of_any_column_of_any_table_is_named(season_book: Book, raw: Raw) -> None:
    """Round by round: the n-th column of every table at once, then all back as it was."""
    tables = [table for table in raw.tables() if raw.law(table) != "edited"]
    rows = {table: raw.one(f'SELECT max(id) FROM "{table}"') for table in raw.tables()}
    with raw.no_foreign_keys():
        raw.unguard(*tables)
        for place in range(max(len(columns) for columns in raw.types.values())):
            changed = {table: list(raw.types[table])[place] for table in rows if len(raw.types[table]) > place}
            changed = {table: column for table, column in changed.items() if column != "id"}
            before = {table: _value(raw, table, column, rows[table]) for table, column in changed.items()}
            raw.run(
                *(f'UPDATE "{table}" SET "{column}" = {_other(raw, table, column)} WHERE id = {rows[table]}'
                  for table, column in changed.items())
            )  # fmt: skip
            found = named(check(season_book), "rows", "chain", "edited")
            assert {f"{table} {rows[table]}" for table in changed} - found == set()
            for table, column in changed.items():
                _put_back(raw, table, column, rows[table], before[table])
    assert named(check(season_book), "rows", "chain", "edited") == set()


def _other(raw: Raw, table: str, column: str) -> str:
    """Another value, but another act that is in the book."""
    return "1" if column == "act" else raw.other(table, column)


def _value(raw: Raw, table: str, column: str, row: int) -> Any:
    return raw.one(f'SELECT "{column}" FROM "{table}" WHERE id = {row}')


def _put_back(raw: Raw, table: str, column: str, row: int, value: Any) -> None:
    sign = "?" if raw.sqlite else "%s"
    raw.connection.execute(f'UPDATE "{table}" SET "{column}" = {sign} WHERE id = {row}', (value,))
    raw.connection.commit()


def test_a_struck_line_is_named_by_each_of_its_columns(season_book: Book, raw: Raw) -> None:
    (row,) = {row for (row,) in raw.all("SELECT id FROM entry WHERE struck_act IS NOT NULL")}
    raw.unguard("entry")
    for column in STRUCK:
        before = _value(raw, "entry", column, row)
        raw.run(f"UPDATE entry SET {column} = NULL WHERE id = {row}")
        assert named(check(season_book), "rows") == {f"entry {row}"}
        _put_back(raw, "entry", column, row, before)
    assert named(check(season_book), "rows") == set()


@only_sqlite
def test_a_flag_that_is_neither_yes_nor_no_is_named(season_book: Book, raw: Raw) -> None:
    raw.run("UPDATE service SET abrasive = 2 WHERE code = 'polish'")
    assert named(check(season_book)) == {"service 2"}


def test_many_acts_that_are_gone_are_named_at_once(season_book: Book, raw: Raw) -> None:
    last = raw.one("SELECT max(id) FROM act")
    raw.run(raw.copy("act", 5, id="4000000000000", key="NULL"))
    assert named(check(season_book), "chain") == {f"act {last + 1} to 3999999999999", "act 4000000000000"}


def test_a_trigger_of_somebody_else_is_named(season_book: Book, raw: Raw) -> None:
    made = "CREATE TRIGGER raise_prices AFTER UPDATE ON customer BEGIN UPDATE service SET name = 'X'; END"
    if not raw.sqlite:
        made = "CREATE TRIGGER raise_prices AFTER UPDATE ON customer EXECUTE FUNCTION coatbook_guard_edited()"
    raw.run(made)
    (finding,) = check(season_book)
    assert (finding.kind, finding.where) == ("guard", "customer")
    assert finding.what.startswith("the trigger raise_prices is none of coatbook's")


@only_sqlite
def test_an_altered_guard_is_named(season_book: Book, raw: Raw) -> None:
    raw.run(
        "DROP TRIGGER guard_entry_delete",
        "CREATE TRIGGER guard_entry_delete BEFORE DELETE ON entry WHEN 0 BEGIN SELECT RAISE(ABORT, 'no'); END",
    )
    assert named(check(season_book)) == {"entry"}


@only_postgresql
@pytest.mark.parametrize(
    "statement",
    [
        "ALTER TABLE entry DISABLE TRIGGER guard_entry_row",
        "ALTER TABLE entry ENABLE REPLICA TRIGGER guard_entry_row",
        "ALTER TABLE entry ENABLE TRIGGER guard_entry_row",  # a session that plays a replica would pass it
        _MADE.format(
            "BEFORE INSERT OR UPDATE OR DELETE", "WHEN (false) EXECUTE FUNCTION coatbook_guard_written_once()"
        ),
        _MADE.format("BEFORE INSERT OR UPDATE OF minor OR DELETE", "EXECUTE FUNCTION coatbook_guard_written_once()"),
        _MADE.format("AFTER INSERT OR UPDATE OR DELETE", "EXECUTE FUNCTION coatbook_guard_written_once()"),
        _MADE.format("BEFORE INSERT OR UPDATE OR DELETE", "EXECUTE FUNCTION coatbook_guard_edited()"),
    ],
)
def test_a_guard_that_guards_no_more_is_named(season_book: Book, raw: Raw, statement: str) -> None:
    raw.run(statement, "ALTER TABLE entry ENABLE ALWAYS TRIGGER guard_entry_statement")
    assert named(check(season_book), "guard") == {"entry"}


@only_postgresql
def test_an_altered_guard_function_is_named_at_every_table(season_book: Book, raw: Raw) -> None:
    raw.run(
        "CREATE OR REPLACE FUNCTION coatbook_guard_issued() RETURNS trigger LANGUAGE plpgsql AS "
        "$$BEGIN RETURN NEW; END$$"
    )
    assert named(check(season_book)) == set(raw.tables("issued"))


def test_a_table_or_column_that_is_gone_is_named(season_where: str, raw: Raw, command_on: Command) -> None:
    raw.run("DROP TABLE coat")
    raw.unguard("entry")
    raw.run("ALTER TABLE entry DROP COLUMN overhead")
    code, out, err = command_on(season_where, "book", "check", "--json")
    found = {(one["kind"], one["where"]) for one in json.loads(out)["findings"]}
    assert (code, err) == (1, "")
    assert {("table", "coat"), ("table", "entry")} <= found


@only_sqlite
def test_a_damaged_file_is_told_in_a_sentence(season_where: str, command_on: Command) -> None:
    whole = Path(season_where).read_bytes()
    page = 4096
    assert whole[16:18] == page.to_bytes(2, "big")
    for place in (1, 3, len(whole) // page // 2, len(whole) // page - 1):
        Path(season_where).write_bytes(whole[: place * page] + b"\xa5" * page + whole[(place + 1) * page :])
        code, out, err = command_on(season_where, "book", "check")
        assert code == 1
        assert "damaged" in out or "go back to a backup" in err
    Path(season_where).write_bytes(whole[: len(whole) // 2])
    code, _, err = command_on(season_where, "book", "check")
    assert code == 1
    assert "Traceback" not in err
