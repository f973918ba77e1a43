"""Every import table: what its template prints can be imported, and says the same as its command."""

import shlex
from collections.abc import Callable
from pathlib import Path

import pytest

from coatbook.desk.importing.tables import TABLES

Command = Callable[..., str]

AUTHORITY = (
    "--on-authority 'R. Moor' --certificate 'mechanic 1' --document 'manual 51' --why 'stripped next month' "
    "--on 2026-03-04"
)
SIGNED = (
    "job signing 1 'no entry expected' --by 'R. Moor' --document 'manual 51' --why 'cosmetic work' --on 2026-03-04",
)
AGREED = (
    *SIGNED,
    f"job agree 1 --by 'Jo Alder' {AUTHORITY}",
)
ARRIVED = (*AGREED, "job arrive 1 --by 'Sam Reed' --on 2026-03-05")
WORKED = (*ARRIVED, *(f"log hours 1 sam 1h --step {step} --on 2026-03-05" for step in (1, 2, 3)))
INVOICED = (*WORKED, "job handover 1 --to 'Jo Alder' --on 2026-03-06", "invoice issue 1 --yes --on 2026-03-06")
LAID = (*ARRIVED, "log coat 1 sealant 'left wing' --lot B-204 --on 2026-03-06")

# what must stand in the furnished book before the row of a template can
BEFORE: dict[str, tuple[str, ...]] = {
    "arrivals": AGREED,
    "changes": AGREED,
    "handovers": WORKED,
    "coats": ARRIVED,
    "masks": ARRIVED,
    "mask-looks": (*ARRIVED, "log mask 1 on pitot 1 --on 2026-03-05", "log mask 1 off pitot 1 --on 2026-03-05"),
    "standard-plans": ("service steps polish --add Machine --removal '1 µm'",),
    "payments": INVOICED,
    "upkeep-done": LAID,
}


@pytest.mark.parametrize("table", TABLES)
def test_the_row_of_a_template_can_be_imported(
    table: str,
    furnished: Path,
    coatbook: Command,
    command: Command,
    file: Callable[..., Path],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.chdir(tmp_path)
    for line in BEFORE.get(table, ()):
        coatbook(*shlex.split(line))
    code, printed, explained = command("import", "--template", table)
    assert code == 0
    headings = printed.splitlines()[0].split(",")
    assert all(heading in explained for heading in headings)
    path = file(printed)
    assert coatbook("import", table, path, "--yes").startswith("rows.csv: 1 row, 1 new.\n")
    assert coatbook("import", table, path, "--yes") == "rows.csv: 1 row, none new.\n"
    assert coatbook("book", "check").startswith("The book is whole")


def test_import_alone_lists_the_tables(coatbook: Command) -> None:
    listed = coatbook("import")
    assert listed == coatbook("import", "--list")
    assert [line.split()[0] for line in listed.splitlines()[1:]] == [*TABLES, "opening"]
    assert max(len(line) for line in listed.splitlines()) <= 80


SEASON = (
    (
        "customers",
        "code,name,address,email\nfir,Fir Aero,\"1 Road\\nTown\",\nash,Ash Air,2 Road,ash@example.com\n",
        (
            "customer add fir --name 'Fir Aero' --address '1 Road\\nTown'",
            "customer add ash --name 'Ash Air' --address '2 Road' --email ash@example.com",
        ),
    ),
    (
        "aircraft",
        "on,code,maker,model,serial,mark,owner,from on\n,cub,Piper,PA-18,18-1,n 44 k,fir,2026-01-02\n",
        (
            "aircraft add cub --maker Piper --model PA-18 --serial 18-1 --mark N44K --owner fir --from 2026-01-02",
        ),
    ),
    (
        "surfaces",
        "aircraft,name,area,substrate,paint,layers-known,balanced\ncub,Fuselage,120 ft2,fabric,dope,yes,no\n",
        ("aircraft surface cub Fuselage --area '120 ft2' --substrate fabric --paint dope --layers-known",),
    ),
    (
        "jobs",
        "on,aircraft,site,asked_for,payer\n2026-04-01,cub,mesa,Wash,ash\n2026-04-02,N123AB,mesa,Coating,\n",
        ("job open cub mesa Wash --payer ash --on 2026-04-01", "job open N123AB mesa Coating --on 2026-04-02"),
    ),
    (
        "steps",
        "on,job,service,surfaces,hours,materials\n2026-04-02,2,wash,,2 h,\n2026-04-02,3,coating,left wing,,\n",
        (
            "job plan 2 wash --hours 2h --on 2026-04-02",
            "job plan 3 coating --surface 'left wing' --on 2026-04-02",
        ),
    ),
    (
        "readings",
        "on,job,surface,spot,film,gauge,serial\n2026-04-02,3,left wing,a,112 µm,magnetic,G-1\n",
        (
            "log reading 3 'left wing' --spot a --film '112 µm' --gauge magnetic --serial G-1 --on 2026-04-02",
        ),
    ),
    (
        "arrivals",
        "on,job,by\n2026-04-03,2,Sam Reed\n",
        ("job arrive 2 --by 'Sam Reed' --on 2026-04-03",),
    ),
    (
        "hours",
        "on,job,worker,hours,step\n2026-04-03,2,kim,2.5 h,1\n2026-04-03,2,kim,2.5 h,1\n2026-04-04,2,sam,45 min,\n",
        (
            "log hours 2 kim 2.5h --step 1 --on 2026-04-03",
            "log hours 2 kim 2.5h --step 1 --on 2026-04-03 --again",
            "log hours 2 sam '45 min' --on 2026-04-04",
        ),
    ),
    (
        "uses",
        "on,job,material,quantity,step\n2026-04-03,2,sealant,6 fl oz,1\n",
        ("log use 2 sealant '6 fl oz' --step 1 --on 2026-04-03",),
    ),
    (
        "masks",
        "on,job,way,item,count\n2026-04-03,2,on,Static port,2\n2026-04-04,2,off,Static port,2\n",
        (
            "log mask 2 on 'Static port' 2 --on 2026-04-03",
            "log mask 2 off 'Static port' 2 --on 2026-04-04",
        ),
    ),
    ("notes", "on,job,note\n2026-04-04,2,\"One,\ntwo\"\n", ("log note 2 'One,\ntwo' --on 2026-04-04",)),
)  # fmt: skip


def test_what_is_imported_says_the_same_as_what_is_typed(
    furnished: Path, tmp_path: Path, furnished_template: Path, coatbook: Command, bring: Callable[..., str]
) -> None:
    typed = tmp_path / "typed.db"
    typed.write_bytes(furnished_template.read_bytes())
    for table, rows, commands in SEASON:
        if table == "arrivals":
            for where in (furnished, typed):
                coatbook("--book", where, "job", "agree", "2", "--by", "Ash", "--on", "2026-04-02")
        bring(table, rows, "--on", "2026-03-02")
        for line in commands:
            dated = [] if "--on" in line else ["--on", "2026-03-02"]
            coatbook("--book", typed, *shlex.split(line), *dated)
    coatbook("export", "tables", tmp_path / "imported", "--comparable")
    coatbook("--book", typed, "export", "tables", tmp_path / "by-hand", "--comparable")
    files = sorted(path.name for path in (tmp_path / "imported").iterdir())
    assert files == sorted(path.name for path in (tmp_path / "by-hand").iterdir())
    for name in files:
        assert (tmp_path / "imported" / name).read_text() == (tmp_path / "by-hand" / name).read_text(), name
