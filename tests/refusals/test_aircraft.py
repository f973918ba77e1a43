"""What the book refuses of aircraft: each rule with its own sentence, exit 1 or 2, the book as it was.

Each row: what the rule is, what is typed first, what is refused, the exit code, and words of the sentence.
"""

import shlex
from collections.abc import Callable
from pathlib import Path

import pytest

LARK = "aircraft add lark --maker Larkfield --model L2 --serial 7"
WORN = f"{LARK} --mark N9 --from 2026-06-01"
COWL = 'aircraft surface skylane cowl --area "20 ft2" --substrate composite --paint gelcoat'
TACH = "aircraft times skylane tach 100 --on 2026-05-01"
PORT = 'aircraft keepoff skylane "static port" --place left --count 1'

RULES: dict[str, tuple[tuple[str, ...], str, int, str]] = {
    "the year lies between the first flight and the next year": (
        (), f"{LARK} --year 1890", 2, "the year of manufacture 1890 must lie between 1903 and 2027",
    ),
    "a code is of one aircraft": (
        (), LARK.replace("lark", "skylane"), 1, "there is an aircraft 'skylane' already",
    ),
    "a serial number is of one aircraft of its maker and model": (
        (), "aircraft add other --maker Cessna --model 182T --serial 18299901", 1, "'Cessna, 182T, 18299901' already",
    ),
    "a serial number that two have names neither": (
        (LARK, "aircraft add wren --maker Wrenhill --model W --serial 7"),
        "aircraft show sn:7", 1, "2 aircraft have the serial number 7: name one by its code",
    ),
    "an aircraft is named by mark, code or serial number": (
        (), "aircraft show N999ZZ", 1, "there is no aircraft 'N999ZZ' on 2026-08-20: `coatbook aircraft list`",
    ),
    "a mark once worn names who wore it": (
        ("aircraft mark skylane N2 --from 2026-08-01",),
        "aircraft show N123AB", 1, "(skylane wears it from 2026-03-02 to 2026-07-31)",
    ),
    "a designator is ICAO's": (
        (), "aircraft edit skylane --designator Skylane", 2, "'Skylane' is not a type designator",
    ),
    "ZZZZ is no designator": (
        (), "aircraft edit skylane --designator zzzz", 1, "ZZZZ stands for an aircraft without a type designator",
    ),
    "a certification is one of four": (
        (), "aircraft edit skylane --certification restricted", 2, "use one of type certificate, light sport",
    ),
    "an edit changes something": (
        (), "aircraft edit skylane", 2, "nothing to change: give at least one option, such as --burn-basis",
    ),
    "an edit changes something that is not so already": (
        (), "aircraft edit skylane --year 2005", 1, "all of that stands so for skylane already",
    ),
    "a mark is one a state issues": (
        (), "aircraft mark skylane N0AB", 2, "the first character after N is a digit from 1 to 9",
    ),
    "a mark is worn by one aircraft at a time": (
        (WORN,), "aircraft mark skylane N9 --from 2026-07-01", 1, "N9 is worn by lark on 2026-07-01",
    ),
    "an aircraft wears one mark from a day": (
        (), "aircraft mark skylane N2 --from 2026-03-02", 1, "skylane wears N123AB from 2026-03-02 already",
    ),
    "a mark that is worn need not be written": (
        (), "aircraft mark skylane N123AB", 1, "skylane wears N123AB on 2026-08-20 already: nothing to write",
    ),
    "a mark that was given up for another's sake is not struck": (
        (WORN, "aircraft mark lark N8 --from 2026-07-01", "aircraft mark skylane N9 --from 2026-07-15"),
        "strike marking:3 --why wrong", 1, "without it both lark and skylane would wear N9 on 2026-07-15",
    ),
    "an aircraft has one owner from a day": (
        (), "aircraft owner skylane birch --from 2026-03-02", 1, "alder owns skylane from 2026-03-02 already",
    ),
    "an owner who owns it need not be written": (
        (), "aircraft owner skylane alder", 1, "alder owns skylane on 2026-08-20 already: nothing to write",
    ),
    "an owner is a customer": (
        (), "aircraft owner skylane nobody", 1, "there is no customer 'nobody'",
    ),
    "a clock is one of three": (
        (), "aircraft times skylane sundial 12", 2,
        "the clock 'sundial' is not known: use one of airframe, hobbs, tach",
    ),
    "a clock counts hours": (
        (), 'aircraft times skylane tach "12 ft"', 2, "the clock time 12 ft must be a time",
    ),
    "a clock does not begin below zero": (
        (), "aircraft times skylane tach -- -1", 1, "the clock time -1 h must not be below zero",
    ),
    "a clock has run no longer than aircraft fly": (
        (), "aircraft times skylane tach 600000", 1, "no clock of an aircraft has run 600000 h",
    ),
    "a clock never runs backwards after an earlier day": (
        (TACH,), "aircraft times skylane tach 99 --on 2026-06-01", 1,
        "at 100 h on 2026-05-01 and 99 h on 2026-06-01 would run backwards",
    ),
    "a clock never runs backwards before a later day": (
        (TACH,), "aircraft times skylane tach 101 --on 2026-04-01", 1,
        "at 101 h on 2026-04-01 and 100 h on 2026-05-01 would run backwards",
    ),
    "a day has 24 hours": (
        (TACH,), "aircraft times skylane tach 124.1 --on 2026-05-02", 1, "more than 24 h a day (24.1 h in 1 day)",
    ),
    "a clock is read once a day": (
        (TACH,), "aircraft times skylane tach 101 --on 2026-05-01", 1,
        "was read on 2026-05-01 already, 100 h: if that is wrong, strike it first with `coatbook strike times:1",
    ),
    "a new surface has area, substrate and paint": (
        (), 'aircraft surface skylane rudder --area "18 ft2"', 2, "to add it give --area, --substrate and --paint",
    ),
    "windows are never painted": (
        (), 'aircraft surface skylane windshield --area "9 ft2" --substrate acrylic --paint single-stage', 1,
        "windows are never painted, write --paint bare",
    ),
    "gelcoat is made with its part": (
        (), COWL.replace("composite", "fabric"), 1, "cowl cannot be gelcoat on fabric: gelcoat is made in the mold",
    ),
    "mesh lies in composite": (
        (), 'aircraft surface skylane "left wing" --mesh', 1, "left wing cannot have mesh under the paint",
    ),
    "what is bare has no primer": (
        (), f'{COWL} --paint bare --primer "25 µm"', 1, "cowl cannot be bare and have primer",
    ),
    "what is bare was painted in no year": (
        (), f"{COWL} --paint bare --painted 2019", 1, "cowl cannot be bare and painted in 2019",
    ),
    "nothing is painted in a coming year": (
        (), f"{COWL} --painted 2027", 2, "the year it was painted 2027 must lie between 1903 and 2026",
    ),
    "a part of the keep-off list has a rule that is known": (
        (), 'aircraft keepoff skylane antenna --rule "no idea"', 2, "the rule 'no idea' is not known: use one of mask,",
    ),
    "a part goes by one name": (
        (), 'aircraft keepoff skylane "Static Ports" --count 2', 1,
        "'static ports' goes by the name 'static port' on keep-off lists",
    ),
    "parts are counted from none up": (
        (), "aircraft keepoff skylane antenna --count -1", 2, "the count -1 must lie between 0 and 1000",
    ),
    "of several of one name the place says which": (
        (PORT, PORT.replace("left", "right")), 'aircraft keepoff skylane "static port" --count 2', 1,
        "more than one 'static port' on its list (left, right): say which with --place",
    ),
    "a change of the keep-off list changes something": (
        (PORT,), PORT, 1, "static port, left stands on the keep-off list of skylane so already",
    ),
    "only known types are prefilled": (
        (), "aircraft keepoff skylane --prefill jet", 2,
        "the type of aircraft 'jet' is not known: use one of high wing, low wing",
    ),
    "what stands is not prefilled again": (
        ("aircraft keepoff skylane --prefill twin",), 'aircraft keepoff skylane --prefill "low wing"', 1,
        "all that a keep-off list for low wing usually holds stands on the list of skylane already",
    ),
    "count, place and rule are of a part": (
        (), "aircraft keepoff skylane --count 2", 2, "--place, --count and --rule are of one ITEM",
    ),
    "a withdrawal says why": (
        (), "aircraft withdraw skylane --why ' '", 2, "the reason is empty",
    ),
    "an aircraft is withdrawn once": (
        ("aircraft withdraw skylane --why scrapped --from 2026-12-01",), "aircraft withdraw skylane --why exported", 1,
        "skylane is withdrawn from 2026-12-01 already (scrapped): if that is wrong, strike it first",
    ),
    "no job is opened for a withdrawn aircraft": (
        ("aircraft withdraw skylane --why scrapped --from 2026-08-01",), "job open skylane mesa Wash", 1,
        "skylane is withdrawn since 2026-08-01 (scrapped), no job is opened for it",
    ),
    "a withdrawal stands while another wears the mark": (
        (WORN, "aircraft withdraw lark --why lost --from 2026-07-01", "aircraft mark skylane N9 --from 2026-07-15"),
        "strike withdrawn:1 --why found", 1, "withdrawn 1 stands: without it both lark and skylane would wear N9",
    ),
    "a clock is not read on a coming day": (
        (), "aircraft times skylane tach 100 --on 2026-12-01", 1, "2026-12-01 is after today",
    ),
}  # fmt: skip


@pytest.mark.parametrize("rule", RULES)
def test_refused(rule: str, furnished: Path, coatbook: Callable[..., str], refused: Callable[..., str]) -> None:
    before, typed, code, says = RULES[rule]
    for line in before:
        coatbook(*shlex.split(line))
    sentence = refused(*shlex.split(typed), code=code)
    assert says in sentence
    assert sentence.startswith("coatbook: ")
    assert "\n" not in sentence


def test_no_two_rules_are_told_alike() -> None:
    said = [says for _, _, _, says in RULES.values()]
    assert len(said) == len(set(said)) >= 14
