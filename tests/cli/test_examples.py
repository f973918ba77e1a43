"""The examples in the help of the commands work, typed one after the other into a new book."""

import shlex
from collections.abc import Callable
from pathlib import Path

import pytest

Command = Callable[..., str]

# a command's own words: all its examples; anything longer: typed as it stands, for what the examples rest on
SEASON = """
business show
business edit
business overhead
business series
customer add
customer add birch --name "Birch Flying Club" --address "3 Hill Road"
customer edit
customer list
customer show
site add
site edit
site list
site show
worker add
worker edit
worker rate
worker list
paper add
paper list
aircraft add
aircraft list
aircraft show
aircraft surface
aircraft surface skylane elevator --area "20 ft2" --substrate aluminum --paint base/clear --balanced yes
material add
material edit
material buy
material reprice
material count
material return
material trace
material terms
material list
material show
service add
service price
service add wash --name Wash
service add coating --name Coating
service edit
service steps
service list
tax add
tax exempt
tax list
job open skylane mesa "Polish and coating"
job party
job condition
job consent
job signing
job plan 1 wash
job plan 1 polish --surface "left wing" --removal "1 µm"
job plan 1 coating --surface "left wing" --surface elevator
log hours
log use
log expense
log travel
log reading
job agree 1 --by "Jo Alder" --on-authority "R. Moor" --certificate "A&P 0000001" --document "51-10" --why "as new"
job arrive
job change
log gauge
log coat
log conditions
log mask
log stop
log photo
log note
log list
material expire
job photos
job cancel
aircraft edit
aircraft times
aircraft keepoff
aircraft owner
aircraft mark
aircraft withdraw N77AB --why exported
"""


def _examples(help_text: str) -> list[list[str]]:
    """The examples in a command's help, as words, without `coatbook`."""
    block = help_text.partition("  Example:\n")[2].partition("\n\n")[0].replace("\\\n", " ")
    return [shlex.split(line)[1:] for line in block.splitlines()]


def test_the_examples_work_in_a_new_book(coatbook: Command, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    Path("left-wing.jpg").write_bytes(b"\xff\xd8\xff pixels")
    Path("gauge.csv").write_text("batch,value\n" + "left wing,120\n" * 15, encoding="utf-8")
    for line in SEASON.strip().splitlines():
        words = shlex.split(line)
        typed = [words] if len(words) > 2 else _examples(coatbook(*words, "--help"))
        assert typed, line
        for arguments in typed:
            assert len(words) > 2 or arguments[:2] == words
            assert coatbook(*arguments)
