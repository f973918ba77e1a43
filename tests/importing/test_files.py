"""Files as people have them: other separators and spellings, files that grow, files that are wrong in places."""

from collections.abc import Callable
from pathlib import Path

import pytest
from sqlalchemy import func, select

from coatbook.jobs.tables import Entry
from coatbook.store import chain, imports
from coatbook.store.book import Book
from coatbook.store.check import check
from coatbook.store.tables import Act, ImportRow

Command = Callable[..., str]
Bring = Callable[..., str]

NOTES = "on,job,note\n2026-04-01,1,One\n2026-04-02,1,Two\n"
HOURS = "on,job,worker,hours,step\n2026-04-01,1,kim,2 h,1\n"


def notes(book: Book) -> list[tuple[str, str | None]]:
    with book.read() as session:
        rows = select(Entry).filter_by(kind="note").order_by(Entry.id)
        return [(row.on_day.isoformat(), row.text) for row in session.scalars(rows)]


@pytest.mark.parametrize(
    "content",
    [
        NOTES,
        NOTES.replace("\n", "\r\n"),
        NOTES.rstrip("\n"),
        "\ufeff" + NOTES,
        NOTES.replace(",", ";"),
        NOTES.replace(",", "\t"),
        "Note, JOB , On \nOne,1,2026-04-01\n\n Two ,1, 2026-04-02\n,,\n",
        '"on","job","note"\n"2026-04-01","1","One"\n"2026-04-02",1,"Two"\n',
    ],
    ids=["plain", "CRLF", "no last line end", "BOM", "semicolons", "tabs", "other order", "quoted"],
)
def test_a_file_as_spreadsheets_write_it(content: str, furnished: Path, book: Book, bring: Bring) -> None:
    assert bring("notes", content).startswith("rows.csv: 2 rows, 2 new.\n")
    assert notes(book) == [("2026-04-01", "One"), ("2026-04-02", "Two")]


def test_headings_may_be_spelled_with_spaces_and_hyphens(furnished: Path, bring: Bring) -> None:
    told = bring("worker_rates", "Code,Rate,From-On\nkim,30.00,2026-09-01\n")
    assert "An hour of Kim Soto costs 30.00 USD from 2026-09-01." in told


def test_a_formula_is_plain_text(furnished: Path, book: Book, bring: Bring, coatbook: Command, tmp_path: Path) -> None:
    bring("notes", 'on,job,note\n2026-04-01,1,"=HYPERLINK(""x"")"\n')
    assert notes(book) == [("2026-04-01", '=HYPERLINK("x")')]
    coatbook("export", "tables", tmp_path / "out")
    assert "'=HYPERLINK" in (tmp_path / "out" / "entry.csv").read_text()


def test_a_cell_may_have_several_lines(furnished: Path, book: Book, bring: Bring) -> None:
    bring("notes", 'on,job,note\r\n2026-04-01,1,"One\r\nmore"\r\n2026-04-02,1,Two\r\n')
    assert notes(book) == [("2026-04-01", "One\nmore"), ("2026-04-02", "Two")]


def test_a_row_without_a_day_belongs_to_today_or_on(furnished: Path, book: Book, bring: Bring) -> None:
    bring("notes", "on,job,note\n,1,One\n2026-05-05,1,Two\n")
    bring("notes", "job,note\n1,Three\n", "--on", "2026-06-06")
    assert notes(book) == [("2026-08-20", "One"), ("2026-05-05", "Two"), ("2026-06-06", "Three")]
    with book.read() as session:  # the act keeps the day of the import
        acts = select(Act.on_day).where(Act.command == "import notes").order_by(Act.id)
        assert [day.isoformat() for day in session.scalars(acts)] == ["2026-08-20", "2026-06-06"]


def test_a_file_that_has_grown_adds_only_what_is_new(furnished: Path, book: Book, bring: Bring) -> None:
    bring("notes", NOTES)
    grown = "job,on,note\n1,2026-04-03,Three\n1,2026-04-01,One\n1,2026-04-02,Two\n1,2026-04-02, Two \n"
    assert bring("notes", grown).startswith("rows.csv: 4 rows, 2 new.\n")
    assert [text for _, text in notes(book)] == ["One", "Two", "Three", "Two"]
    with book.read() as session:
        before = session.scalar(select(func.count()).select_from(Act))
    assert bring("notes", grown) == "rows.csv: 4 rows, none new.\n"
    with book.read() as session:
        assert session.scalar(select(func.count()).select_from(Act)) == before  # no act is written for nothing
        assert list(session.scalars(select(ImportRow.n).order_by(ImportRow.id))) == [1, 1, 1, 2]


def test_a_struck_line_does_not_come_back(furnished: Path, book: Book, bring: Bring, coatbook: Command) -> None:
    bring("notes", NOTES)
    coatbook("strike", "2", "--why", "of another job")
    assert bring("notes", NOTES) == "rows.csv: 2 rows, none new.\n"
    coatbook("strike", "1", "--why", "of another job too")
    assert bring("notes", NOTES, "--again").startswith("rows.csv: 2 rows, 2 new.\n")  # unless that is meant
    assert bring("notes", NOTES) == "rows.csv: 2 rows, none new.\n"


def test_again_brings_equal_rows_in_too(furnished: Path, book: Book, bring: Bring) -> None:
    twice = NOTES + "2026-04-02,1,Two\n"
    assert bring("notes", twice, "--again").startswith("rows.csv: 3 rows, 3 new.\n")
    assert bring("notes", twice, "--again").startswith("rows.csv: 3 rows, 3 new.\n")
    assert bring("notes", twice) == "rows.csv: 3 rows, none new.\n"
    assert len(notes(book)) == 6


def test_a_dry_run_shows_and_writes_nothing(
    furnished: Path, book: Book, command: Callable[..., tuple[int, str, str]], file: Callable[..., Path]
) -> None:
    code, out, err = command("import", "notes", file(NOTES), "--dry-run")
    assert (code, out) == (0, "")
    assert err.startswith("This would happen:\nrows.csv: 2 rows, 2 new.\nLine 1, job 1: noted.\n")
    assert err.endswith("Nothing was written (--dry-run).\n")
    assert notes(book) == []


def test_a_key_makes_a_retry_safe(furnished: Path, bring: Bring, refused: Command, file: Callable[..., Path]) -> None:
    first = bring("notes", NOTES, "--key", "k")
    assert bring("notes", NOTES, "--key", "k") == first
    assert "was used with other values" in refused("import", "notes", file(NOTES + "2026-04-03,1,x\n"), "--key", "k")


def test_every_bad_row_is_told_and_nothing_is_written(
    furnished: Path, refused: Command, file: Callable[..., Path]
) -> None:
    rows = [
        "on,code,maker,model,serial,year,mark,owner",
        "2026-04-01,cub,Piper,PA-18,1,1953,N44K,alder",
        "2026-04-01,tug,Piper,PA-25,2,19x3,N44L,alder",
        "2026-04-01,pup,Beagle,B121,3,1969,N123AB,alder",
        "2026-04-01,cub,Piper,PA-18,4,1953,N44M,alder",
        "2026-04-01,pup,Beagle,B121,3,1969,N44N,nobody",
        "2026-04-31,wot,Beagle,,5,1969",
    ]
    told = refused("import", "aircraft", file("\n".join(rows))).splitlines()
    assert told[0] == "coatbook: nothing was imported, for these reasons:"
    assert told[1].startswith("rows.csv line 3, column year: the year '19x3' is not a whole number")
    assert told[2].startswith("rows.csv line 4, column mark: N123AB is worn by skylane on 2026-04-01")
    assert told[3].startswith("rows.csv line 5, column code: there is an aircraft 'cub' already")
    # line 4 left nothing behind: its code and serial number are free, only the owner is wrong
    assert told[4].startswith("rows.csv line 6, column owner: there is no customer 'nobody'")
    assert told[5].startswith("rows.csv line 7: the row has 6 cells, where the heading row has 8")
    assert len(told) == 6


def test_reasons_end_where_nobody_reads_on(furnished: Path, refused: Command, file: Callable[..., Path]) -> None:
    told = refused("import", "notes", file("job,note\n" + "7,x\n" * 80)).splitlines()
    assert told[0] == f"coatbook: nothing was imported, for {imports.MOST_REASONS} reasons or more:"
    assert len(told) == imports.MOST_REASONS + 1


def test_the_first_hours_of_a_gated_step_are_refused(
    furnished: Path, refused: Command, coatbook: Command, file: Callable[..., Path]
) -> None:
    signed = ("--by", "R. Moor", "--document", "manual 51", "--why", "cosmetic work")
    coatbook("job", "signing", "1", "no entry expected", *signed)
    rows = file(HOURS + "2026-04-01,1,kim,1 h,2\n2026-04-01,1,kim,1 h,\n2026-04-01,1,kim,1 h,1\n")
    told = refused("import", "hours", rows).splitlines()
    assert [line.partition(":")[0] for line in told[1:]] == [
        "rows.csv line 3, column job",
        "rows.csv line 4, column job",
    ]
    assert all("the safety gate stops job 1 (left wing:" in line for line in told[1:])
    coatbook(
        *("job", "authority", "1", "--on-authority", "Lee Park", "--certificate", "mechanic 1"),
        *("--document", "Owner's letter", "--why", "Paint is stripped next month."),
    )
    assert coatbook("import", "hours", rows).startswith("rows.csv: 4 rows, 4 new.\n")


def test_hours_that_begin_nothing_ask_no_calculator(
    furnished: Path, bring: Bring, monkeypatch: pytest.MonkeyPatch
) -> None:
    bring("hours", HOURS)
    monkeypatch.setattr("coatbook.desk.importing.gated.look_at_all", lambda sheets, host: pytest.fail("looked"))
    assert bring("hours", HOURS + "2026-04-02,1,kim,1 h,1\n").startswith("rows.csv: 2 rows, 1 new.\n")


def test_money_is_shown_first(furnished: Path, refused: Command, file: Callable[..., Path]) -> None:
    rows = file("customer,amount,method,invoices\nalder,10.00,check,2026-0001\n")
    assert "there is no invoice '2026-0001'" in refused("import", "payments", rows, "--yes")


def test_a_gauge_s_own_file_comes_in_as_readings(
    furnished: Path, book: Book, coatbook: Command, file: Callable[..., Path]
) -> None:
    whose = ("--job", "1", "--gauge", "eddy current", "--serial", "G-1", "--unit", "µm", "--on", "2026-04-01")
    small = "Batch,Value\n" + "left wing,110\n" * 3
    told = coatbook("import", "readings", file(small), *whose)
    assert told == "rows.csv: 1 row, 1 new.\nLine 1, job 1: left wing, 1 spot of film, 3 readings.\n"
    told = coatbook("import", "readings", file(small + "left wing,111\n" * 3 + "elevator,90\n" * 3), *whose)
    assert told.startswith("rows.csv: 3 rows, 2 new.\n")
    assert check(book) == []
    row = "on,job,surface,spot,film,gauge,serial\n2026-04-01,1,elevator,1,90 µm; 90 µm; 90 µm,eddy current,G-1\n"
    assert coatbook("import", "readings", file(row)).startswith("rows.csv: 1 row, ")


def test_an_act_of_very_many_rows_is_kept_and_checked(
    furnished: Path, book: Book, bring: Bring, coatbook: Command, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(chain, "_IN_MEMORY", 7)
    monkeypatch.setattr(chain, "_LISTED", 50)
    monkeypatch.setattr(chain, "_RUN", 10)
    rows = "".join(f"2026-04-01,1,note {number}\n" for number in range(60))
    told = bring("notes", f"on,job,note\n{rows}").splitlines()
    assert told[0] == "rows.csv: 60 rows, 60 new."
    assert told[-1] == "… and so on."
    assert check(book) == []
    with book.read() as session:
        mark = session.scalars(select(Act.rows).order_by(Act.id.desc())).first()
    assert mark is not None
    assert "entry 50-59 " in mark


def test_the_mark_of_an_act_is_the_same_however_its_hashes_came(monkeypatch: pytest.MonkeyPatch) -> None:
    items = [("entry", number, f"{number:064x}") for number in range(30)] + [
        ("act", 3, "f" * 64),
        ("entry", 3, "a" * 64),
    ]
    right = chain.rows_mark(chain.RowHashes(items))
    monkeypatch.setattr(chain, "_IN_MEMORY", 4)
    assert chain.rows_mark(chain.RowHashes(reversed(items))) == right
    assert right.startswith(chain._digest("rows", [list(item) for item in sorted(items)]))
