"""An aircraft that wears no mark goes the whole way by its serial number."""

import json
import shlex
from collections.abc import Callable
from pathlib import Path

import pytest

Command = Callable[..., str]
LARK = "sn:L2-0007"
SEASON = """
aircraft edit {lark} --designator LK2
aircraft surface {lark} fuselage --area "60 ft2" --substrate composite --paint gelcoat --mesh --painted 2019
aircraft times {lark} hobbs 12.5
aircraft keepoff {lark} --prefill composite
aircraft keepoff {lark} "static port" --count 2
job open {lark} mesa "Wash and coating"
job plan 2 wash
job plan 2 coating --surface fuselage --material sealant
job agree 2 --by "Kim Birch"
job arrive 2 --by "Sam Reed" --keepoff-seen-by "Sam Reed"
log mask 2 on "static port" 2
log hours 2 sam 2h
log coat 2 sealant fuselage --lot B-204
log mask 2 off "static port" 2
log mask 2 look --by "Kim Soto"
job handover 2 --to "Kim Birch"
invoice issue 2 --yes
upkeep done {lark} wash --by "the owner"
upkeep show {lark}
remind preview
review job 2
aircraft owner {lark} alder --from 2026-09-01
aircraft show {lark}
aircraft withdraw {lark} --why exported --from 2026-12-01
"""


def test_it_goes_the_whole_way(
    furnished: Path, coatbook: Command, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    plate = ("--maker", "Larkfield", "--model", "L2", "--serial", "L2-0007", "--owner", "birch")
    coatbook("aircraft", "add", "lark", *plate, "--from", "2026-08-01")
    for line in SEASON.format(lark=LARK).strip().splitlines():
        coatbook(*shlex.split(line))
    (row,) = (one for one in json.loads(coatbook("job", "list", "--json")) if one["job"] == 2)
    assert (row["mark"], row["state"]) == ("Larkfield L2 sn L2-0007", "handed over")
    shown = json.loads(coatbook("aircraft", "show", "sn:l2-0007", "--json"))
    assert (shown["airframe"], shown["mark"], shown["marks"], shown["designator"]) == ("lark", None, [], "LK2")
    assert [one["owner"] for one in shown["owners"]] == ["birch", "alder"]
    assert shown["times"] == [{"clock": "hobbs", "day": "2026-08-20", "hours": "12.5", "line": "times:1"}]
    (port,) = (one for one in shown["keep_off"] if one["item"] == "static port")
    assert port == {"item": "static port", "place": "", "count": 2, "rule": "mask"}
    assert json.loads(coatbook("aircraft", "keepoff", LARK, "--json")) == shown["keep_off"]
    assert coatbook("aircraft", "keepoff", LARK).startswith(f"lark has {len(shown['keep_off'])} parts on its keep-off")
    assert json.loads(coatbook("book", "check", "--json"))["ok"]


def test_show_stays_within_a_screen_of_80_columns(furnished: Path, coatbook: Command) -> None:
    coatbook("aircraft", "surface", "skylane", "elevator", "--primer", "25 µm", "--painted", "2019")
    for item in ("twin", "turboprop"):
        coatbook("aircraft", "keepoff", "skylane", "--prefill", item)
    coatbook("aircraft", "times", "skylane", "tach", "1684.2")
    shown = coatbook("aircraft", "show", "skylane")
    assert max(len(line) for line in shown.splitlines()) <= 80
    assert "elevator   20 ft2  base/clear on aluminum  not known  no         25 µm     2019\n" in shown
    assert "tach   2026-08-20  1684.2  times:1\n" in shown
