"""What the book refuses of jobs and their diary: each rule with its own sentence, exit 1 or 2, the book as it was."""

import shlex
from collections.abc import Callable
from pathlib import Path

import pytest

Command = Callable[..., str]

OPEN = 'job open skylane mesa "wash again"'
AGREED = (OPEN, "job plan 2 wash", 'job agree 2 --by "Jo Alder"')
FLOOR = (*AGREED, 'job arrive 2 --by "Sam Reed"')
OVER = (*FLOOR, 'job handover 2 --to "Jo Alder"')
MASKED = (*FLOOR, 'log mask 2 on "static port" 2')
BARE = (*MASKED, 'log mask 2 off "static port" 2')
OFF = 'job cancel 2 --by "Jo Alder" --why "the aircraft is sold"'
PHONED = 'job change 2 "the tail too" --by "Jo Alder" --how "by phone"'
SPOT = 'job consent 1 "left wing" --place flap --product compound --risk "color loss" --by "Jo Alder" --how "by mail"'
SIGNED = 'job signing 1 supervised --by "R. Moor" --document "work order 14" --why "entered after an inspection"'
AIR = 'log conditions 1 --air "24 °C" --skin "24 °C" --humidity "45 %"'
GAUGE = '--gauge "eddy current" --serial G-1'
CHECK = f'log gauge 1 {GAUGE} --zero "0 µm" --shim "50 µm"'
READ = f'log reading 1 "left wing" --spot root --film "60 µm" {GAUGE}'
STANDARD = 'service steps polish --add Compound --hours "12 min" --per-area "10 ft2"'

# rule: what was typed before, what is typed now, its exit code, and words of its sentence
RULES: dict[str, tuple[tuple[str, ...], str, int, str]] = {
    # who may do and sign the work
    "a way of signing is one of four": (
        (), SIGNED.replace("supervised", "somehow"), 2, "the way of signing 'somehow' is not known: use one of no",
    ),
    "who supervises holds a certificate": ((), SIGNED, 2, "work that is supervised is signed on a certificate"),
    "a repair station holds one too": (
        (), SIGNED.replace("supervised", "'repair station' --certificate 'none held'"), 2,
        "work that is done by a repair station is signed on a certificate",
    ),
    "who signs is settled before the handover": (
        OVER, SIGNED.replace(" 1 ", " 2 ") + " --certificate 'A&P 1'", 1, "job 2 was handed over on 2026-08-20",
    ),
    "who decided on no entry is named": (
        (), "job signing 1 'no entry expected' --by ' ' --document mail --why wash", 2,
        "the name of who decides is empty",
    ),
    # parties
    "a role is one of four": ((), "job party 1 watches birch", 2, "the role 'watches' is not known"),
    "only who asks is bound to a sum": (
        (), "job party 1 pays birch --up-to 500", 2, "only who asks is bound to a sum: leave out --up-to for 'pays'",
    ),
    "only who pays has a share": (
        (), "job party 1 hears birch --share '5 %'", 2, "only who pays has a share: leave out --share for 'hears'",
    ),
    "a share is more than nothing": ((), "job party 1 pays birch --share '0 %'", 1, "the share 0 % must be more than"),
    "a share is no more than the whole": (
        (), "job party 1 pays birch --share '101 %'", 2, "a share of 101 % is more than the whole",
    ),
    "shares come to no more than the whole": (
        ("job party 1 pays birch --share '60 %'",), "job party 1 pays alder --share '50 %'", 1,
        "the shares of job 1 would come to 110 %: give alder 40 % or less",
    ),
    "nothing is agreed while a part is nobody's": (
        (OPEN, "job plan 2 wash", "job party 2 pays alder --share '60 %'"), 'job agree 2 --by "Jo Alder"', 1,
        "nobody pays the rest of job 2: 40 % is still to be shared out",
    ),
    "fixed sums leave a rest to someone": (
        (OPEN, "job plan 2 wash", "job party 2 pays alder --share 100"), 'job agree 2 --by "Jo Alder"', 1,
        "nobody pays the rest of job 2: write who takes what the sums leave",
    ),
    # calling off, and reworks
    "a job that was handed over is not called off": (OVER, OFF, 1, "job 2 was handed over on 2026-08-20: open"),
    "a job with masks on is not called off": (
        MASKED, OFF, 1, "masks are still on the aircraft (static port: 2): take them off first",
    ),
    "a job is not called off before its last work": (
        (f"{OPEN} --on 2026-08-01", "log hours 2 sam 1h"), f"{OFF} --on 2026-08-19", 1,
        "calling the job off on 2026-08-19 would come before its last work on 2026-08-20",
    ),
    "no work on a job that was called off": (
        (OPEN, f"{OFF} --on 2026-08-20"), 'job plan 2 wash', 1,
        "job 2 was called off on 2026-08-20 (the aircraft is sold): if it goes on after all, write that first",
    ),
    "a called-off job does not arrive": (
        (*AGREED, OFF), 'job arrive 2 --by "Sam Reed"', 1, "job 2 was called off on 2026-08-20",
    ),
    "a rework mends a job that was handed over": (
        (), f"{OPEN} --rework-of 1 --cause streaks", 1, "job 1 is not handed over yet, so there is nothing to rework",
    ),
    "a rework mends a job of the same aircraft": (
        (*OVER, "aircraft add lark --maker Lark --model L2 --serial 7 --owner birch"),
        "job open lark mesa wash --rework-of 2 --cause streaks", 1,
        "job 2 was on another aircraft, and a rework mends the same one",
    ),
    "a rework has a cause": (OVER, f"{OPEN} --rework-of 2", 2, "give --rework-of and --cause together"),
    # changes of the scope
    "a change comes after the agreement": (
        (OPEN,), PHONED, 1, "job 2 is not agreed yet, so its plan may still change",
    ),
    "a change comes before the handover": (OVER, PHONED, 1, "job 2 was handed over on"),
    "a price of its own is charged as a service": (AGREED, f"{PHONED} --price 40", 2, "give --price and --as together"),
    "a change of no hours is none": (AGREED, f"{PHONED} --hours 0h", 2, "a change of 0 hours is none"),
    "a step names a change that was agreed": (
        AGREED, "job plan 2 wash --change 1", 1, "job 2 has no change 1: write what was agreed with",
    ),
    # the shop's own
    "the shop's spending has a category": ((), "log expense shop 5.00 tape", 2, "the shop's spending has a category"),
    "a job's spending has none": ((), "log expense 1 5.00 tape --category tools", 2, "only the shop's own spending"),
    "the shop has no steps": ((), "log hours shop sam 1h --step 1", 2, "the shop's own hours are on no step"),
    "what is no job is the shop": ((), "log hours hangar sam 1h", 2, "'hangar' is neither a job's number nor the word"),
    # second looks
    "a masked aircraft is looked at once more": (
        BARE, 'job handover 2 --to "Jo Alder"', 1, "nobody has looked at the aircraft of job 2 since its last mask",
    ),
    "another than who hands over looks": (
        (*BARE, "log mask 2 look --by tester"), 'job handover 2 --to "Jo Alder"', 1,
        "tester looked at the masks of job 2 and hands the aircraft over: another pair of eyes looks first",
    ),
    "nobody looks while masks are on": (
        MASKED, 'log mask 2 look --by "Kim Soto"', 1, "masks are still on in job 2 (static port: 2): take them off",
    ),
    "nobody looks where no mask was": (FLOOR, 'log mask 2 look --by "Kim Soto"', 1, "no mask went on in job 2"),
    "an aircraft with a keep-off list arrives looked at": (
        ('aircraft keepoff skylane "static port" --place left --count 1', *AGREED), 'job arrive 2 --by "Sam Reed"', 1,
        "N123AB has 1 part on its keep-off list: hold the list against the aircraft",
    ),
    # conditions and test spots
    "a condition is one of four": ((), "job condition 1 'left wing' shiny", 2, "use one of sound, dull, chalking"),
    "a condition is of a surface": ((), "job condition 1 tail dull", 1, "skylane has no surface 'tail'"),
    "a test spot has an area": ((), f"{SPOT} --size '2 in'", 2, "the size 2 in must be an area: use one of m2, ft2"),
    "a test spot is smaller than its surface": (
        (), f"{SPOT} --size '85 ft2'", 1, "a test spot of 85 ft2 is larger than left wing with its 84 ft2",
    ),
    "a risk is told": ((), f"{SPOT} --size '0.1 ft2'".replace("color loss", " "), 2, "the risk that was told is empty"),
    # standard steps
    "a kind of work is one of five": ((), "service edit wash --work rinsing", 2, "the kind of work 'rinsing' is not"),
    "what takes film off is abrasive work": (
        (), "service add clay --name Clay --abrasive --work coat", 2, "what takes film off is abrasive work, not coat",
    ),
    "what a plan rests on stays what it is": (
        (), "service edit wash --work abrasive", 1, "steps of Wash are planned or are its standard",
    ),
    "an abrasive standard step takes film off": ((), STANDARD, 2, "say what one pass takes with --removal"),
    "another takes none": (
        (), "service steps wash --add Rinse --removal '1 µm'", 1, "Wash is written as taking no film off: give the",
    ),
    "a standard step has its name alone": (
        (f"{STANDARD} --removal '1 µm'",), f"{STANDARD} --removal '2 µm'", 1,
        "Prep polish has a standard step 'Compound' already: drop it first",
    ),
    "an area times nothing is nothing": (
        (), "service steps wash --add Rinse --per-area '10 ft2'", 2, "--per-area says what the --hours are for",
    ),
    "a plan by standard needs standard steps": (
        (), "job plan 1 wash --standard", 1, "Wash has no standard steps: write them with",
    ),
    "a standard by area needs a surface": (
        (f"{STANDARD} --removal '1 µm'",), "job plan 1 polish --standard", 2, "Compound is timed by area: name what",
    ),
    "a plan by standard says nothing else": (
        (), "job plan 1 polish --standard --hours 2h", 2, "--standard takes passes, removal, hours and materials from",
    ),
    # stops, conditions, files
    "a stop is of a kind": ((), "log stop 1 late 'no sun'", 2, "the kind of stop 'late' is not known: use one of cold"),
    "a stop loses no more than a day": ((), "log stop 1 cold frost --hours 25h", 2, "25 h lost is more than a day has"),
    "an end follows its start": ((), f"{AIR} --stage end", 1, "job 1 has no start of a coat that waits for its end"),
    "an end is not before its start": (
        (f"{AIR} --stage start --time 09:30",), f"{AIR} --stage end --time 09:00", 1,
        "the coat began at 09:30, and 09:00 is before that",
    ),
    "an hour is one of the day": ((), f"{AIR} --time 9.30", 2, "the time '9.30' is no hour of the day"),
    "a file is a picture or a paper": (
        (), "log photo 1 wing.png --caption wing", 1, "wing.png is neither PNG nor JPEG nor PDF, whatever its name",
    ),
    "a file is there": ((), "log photo 1 nowhere.png --caption wing", 1, "cannot read 'nowhere.png'"),
    # gauges
    "a gauge that failed reads nothing more that day": (
        (f"{CHECK} --shim-read '59 µm' --stage before",), READ, 1, "gauge G-1 failed its check on 2026-08-20: set it",
    ),
    "a shim has a thickness": (
        (), f"{CHECK} --shim-read '50 µm' --stage before".replace("50 µm", "0 µm", 1), 1, "the shim 0 µm must be more",
    ),
    "a gauge is allowed something": (
        (), f"{CHECK} --shim-read '50 µm' --stage before --allowed '0 µm'", 1, "the allowed error 0 µm must be more",
    ),
    "a test spot is read with consent": (
        (), f"{READ} --stage 'test spot'", 1, "no consent to a test spot on left wing stands in job 1",
    ),
    "nothing is read after work that was not begun": (
        (), f"{READ} --stage after", 1, "job 1 is not on the floor yet, so nothing was read after the work",
    ),
}  # fmt: skip


@pytest.mark.parametrize("rule", RULES)
def test_a_rule_is_refused_by_one_sentence(
    rule: str, furnished: Path, coatbook: Command, refused: Command, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("wing.png").write_bytes(b"GIF89a")
    before, typed, code, says = RULES[rule]
    for line in before:
        coatbook(*shlex.split(line))
    sentence = refused(*shlex.split(typed), code=code)
    assert sentence.startswith("coatbook: ")
    assert says in sentence
    assert "\n" not in sentence


def test_what_a_failed_check_would_strike_is_shown_first(furnished: Path, coatbook: Command, refused: Command) -> None:
    coatbook(*shlex.split(READ))
    told = refused(*shlex.split(f"{CHECK} --shim-read '59 µm' --stage after"))
    assert told.startswith("This will happen:\n")
    assert "Struck line 1 of 2026-08-20: left wing, 1 reading." in told
    assert told.endswith("coatbook: a failed check strikes readings: give --yes to do it, or --dry-run to look only")
