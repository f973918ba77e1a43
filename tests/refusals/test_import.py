"""What `import` refuses to read or to write: each rule with its sentence, and the book as it was."""

import shlex
from collections.abc import Callable
from pathlib import Path

import pytest

Command = Callable[..., str]
HOURS = b"on,job,worker,hours,step\n"
NOTES = b"on,job,note\n"
SURFACES = b"aircraft,name,area,substrate,paint\n"

# rule: what the file holds, the table it is imported as (and options), and the sentence
FILES: dict[str, tuple[bytes, str, str]] = {
    # the file
    "an empty file": (
        b"",
        "notes",
        "rows.csv is empty: its first line names the columns, as `coatbook import --template",
    ),
    "an empty first line": (
        b"\n" + NOTES,
        "notes",
        "rows.csv begins with an empty line: its first line names the columns",
    ),
    "headings only": (NOTES, "notes", "rows.csv has a heading row and nothing below it: there is nothing to import"),
    "UTF-16": (NOTES.decode().encode("utf-16"), "notes", "rows.csv is UTF-16 text: save it again as CSV UTF-8"),
    "another encoding": (
        NOTES + "2026-04-01,1,schön\n".encode("latin-1"),
        "notes",
        "rows.csv line 2 is not UTF-8 text: save it again as CSV UTF-8",
    ),
    "a NUL": (NOTES + b"2026-04-01,1,a\0b\n", "notes", "rows.csv line 2 holds a NUL character: that is no text"),
    "old line ends": (
        NOTES.replace(b"\n", b"\r") + b"2026-04-01,1,x\r",
        "notes",
        "rows.csv line 1 holds a carriage return of its own, as old line ends have it",
    ),
    "a line without end": (NOTES + b"x" * 1_000_001, "notes", "rows.csv line 2 is longer than 1,000,000 bytes"),
    "an open quotation mark": (
        NOTES + b'2026-04-01,1,"open\n2026-04-02,1,x\n',
        "notes",
        "rows.csv line 2 is not CSV (a quotation mark is opened and not closed): mend the line",
    ),
    "a quotation mark inside": (
        NOTES + b'2026-04-01,1,"so" it says\n',
        "notes",
        "rows.csv line 2 is not CSV (",
    ),
    # the headings
    "an unknown column": (
        b"job,note,color\n1,x,red\n",
        "notes",
        "rows.csv: 'color' is no column of notes: they are on, job, note",
    ),
    "a column twice": (b"job,note,JOB\n1,x,1\n", "notes", "rows.csv: the column job stands there twice: take one out"),
    "a column without a heading": (
        b"job,,note\n1,,x\n",
        "notes",
        "rows.csv: column 2 has no heading: name it, or take",
    ),
    "a column that is missing": (
        b"on,job\n2026-04-01,1\n",
        "notes",
        "rows.csv lacks the column note: `coatbook import --template notes` shows them all",
    ),
    # a row
    "a ragged row": (
        NOTES + b"2026-04-01,1,Seam, owner told\n",
        "notes",
        "rows.csv line 2: the row has 4 cells, where the heading row has 3",
    ),
    "an empty cell that is needed": (
        NOTES + b"2026-04-01,1,\n",
        "notes",
        "rows.csv line 2, column note: the cell is empty, and every row needs it",
    ),
    "a cell that is a page": (
        NOTES + b"2026-04-01,1," + b"x" * 10_000 + b"\n",
        "notes",
        "rows.csv line 2, column note: the cell has 10,000 characters: 5,000 at most",
    ),
    "a decimal comma": (
        HOURS + b'2026-04-01,1,sam,"2,5 h",1\n',
        "hours",
        "rows.csv line 2, column hours: the hours '2,5 h' is not a number with its unit",
    ),
    "a quantity without a unit": (
        SURFACES + b"skylane,tail,40,aluminum,dope\n",
        "surfaces",
        "rows.csv line 2, column area: the area '40' is not a number with its unit",
    ),
    "a number that is none": (
        NOTES + b"2026-04-01,one,x\n",
        "notes",
        "rows.csv line 2, column job: the job 'one' is not a whole number: write it like 12",
    ),
    "neither yes nor no": (
        b"code,name,abrasive,tax_kind\nrub,Rub,maybe,labor\n",
        "services",
        "rows.csv line 2, column abrasive: the abrasive 'maybe' is neither yes nor no",
    ),
    "a day of another kind": (NOTES + b"04/01/2026,1,x\n", "notes", "rows.csv line 2, column on: the day '04/01/2026'"),
    "an amount with a sign": (
        b"job,amount,what\n1,$35.00,fee\n",
        "expenses",
        "rows.csv line 2, column amount: the amount '$35.00' is not a plain number",
    ),
    "a mark that no state issues": (
        b"aircraft,mark\nskylane,N0AB\n",
        "marks",
        "rows.csv line 2, column mark: N0AB is not a US registration",
    ),
    "a fact without a value": (
        b"code,name,unit,facts\nwax,Wax,g,loss\n",
        "materials",
        "rows.csv line 2, column facts: the facts 'loss' has no value: write it like loss=15 %",
    ),
    "a day to come": (
        NOTES + b"2026-08-21,1,x\n",
        "notes",
        "rows.csv line 2, column on: 2026-08-21 is after today (2026-08-20): write the line on its day",
    ),
    "a rule of the book": (
        SURFACES + b"skylane,tail,0 ft2,aluminum,dope\n",
        "surfaces",
        "rows.csv line 2, column area: the area 0 ft2 must be more than zero",
    ),
    "someone who is not in the book": (
        HOURS + b"2026-04-01,1,pat,2 h,1\n",
        "hours",
        "rows.csv line 2, column worker: there is no worker 'pat': `coatbook worker list` shows them",
    ),
    "hours of a step that nobody may sign yet": (
        HOURS + b"2026-04-01,1,sam,2 h,2\n",
        "hours",
        "who may do and sign the work of job 1 is not settled, and step 2, Prep polish, waits for it",
    ),
    "more than was on hand": (
        b"on,job,material,quantity\n2026-04-01,1,sealant,30 fl oz\n2026-04-02,1,sealant,3 fl oz\n",
        "uses",
        "rows.csv line 3, column material: 2 fl oz of Paint sealant were on hand on 2026-04-02, 3 fl oz are asked for",
    ),
    # a gauge's own file
    "a gauge's file without a unit": (
        b"batch,value\nleft wing,110\n",
        "readings --job 1 --gauge magnetic --serial G-1",
        "rows.csv line 2: the file gives no unit: add --unit",
    ),
    "a gauge's spot cut short": (
        b"batch,value\n" + b"left wing,110\n" * 4,
        "readings --job 1 --gauge magnetic --serial G-1 --unit mil",
        "left wing has 4 readings, which is no multiple of 3 a spot",
    ),
    "a gauge's file with NUL": (
        b"batch,value\nleft wing,1\0\n",
        "readings --job 1 --gauge magnetic --serial G-1 --unit mil",
        "rows.csv holds NUL characters: export it again as plain CSV in UTF-8",
    ),
}


@pytest.mark.parametrize("rule", FILES)
def test_a_file_is_refused_by_one_sentence(rule: str, furnished: Path, refused: Command, tmp_path: Path) -> None:
    content, given, says = FILES[rule]
    path = tmp_path / "rows.csv"
    path.write_bytes(content)
    table, *options = shlex.split(given)
    sentence = refused("import", table, path, *options)
    assert sentence.startswith("coatbook: ")
    assert says in sentence
    assert "\n" not in sentence


# rule: what is typed, its exit code, and words of its sentence
TYPED: dict[str, tuple[str, int, str]] = {
    "a table that is none": ("import hairs rows.csv", 2, "'hairs' is no import table: `coatbook import --list` shows"),
    "a template that is none": ("import --template hairs", 2, "'hairs' is no import table"),
    "a table without a file": ("import hours", 2, "name the file: `coatbook import hours FILE.csv`"),
    "a file that is missing": ("import hours none.csv", 1, "there is no file none.csv: check the name and the folder"),
    "a folder": ("import hours .", 1, "is a folder: name a CSV file in it"),
    "a device": ("import hours /dev/null", 1, "null is no ordinary file: save the rows as a CSV file"),
    "a gauge without its serial number": (
        "import readings rows.csv --job 1 --gauge magnetic",
        2,
        "--job, --gauge and --serial go together",
    ),
    "money without a yes": (
        "import payments paid.csv",
        1,
        "money that comes in is asked about first: give --yes to do it, or --dry-run",
    ),
    "tables into a full folder": ("export tables .", 1, "there is something at . already: name a new folder"),
}


@pytest.mark.parametrize("rule", TYPED)
def test_a_command_is_refused_by_one_sentence(
    rule: str, furnished: Path, coatbook: Command, refused: Command, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    typed, code, says = TYPED[rule]
    monkeypatch.chdir(tmp_path)
    if rule == "money without a yes":
        _invoiced(coatbook)
        Path("paid.csv").write_text("customer,amount,method,invoices\nalder,10.00,check,2026-0001\n")
    sentence = refused(*shlex.split(typed), code=code).splitlines()[-1]
    assert sentence.startswith("coatbook: ")
    assert says in sentence


def _invoiced(coatbook: Command) -> None:
    """A wash of another job, handed over and invoiced."""
    for line in (
        "job open skylane mesa Wash",
        "job plan 2 wash",
        "job agree 2 --by Jo",
        "job arrive 2 --by Sam",
        "job handover 2 --to Jo",
        "invoice issue 2 --yes",
    ):
        coatbook(*shlex.split(line))
