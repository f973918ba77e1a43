"""`aircraft surface --balanced`: what is taken from a name when nothing is said, and what each answer means."""

import json
from collections.abc import Callable

import pytest

Command = Callable[..., str]
SKIN = ("--area", "7 ft2", "--substrate", "aluminum", "--paint", "base/clear")
ASKS = (
    "a control surface that must be balanced. The gate asks for an authority before any step that adds or takes film "
    "on it; defer to the maker's manual and a licensed mechanic."
)


def balance(coatbook: Command, name: str) -> str:
    surfaces = json.loads(coatbook("aircraft", "show", "skylane", "--json"))["surfaces"]
    (found,) = [one["balanced"] for one in surfaces if one["surface"] == name.lower()]
    return str(found)


@pytest.mark.parametrize(
    ("name", "taken"),
    [
        *(
            (name, "unknown")
            for name in (
                "left aileron", "Ailerons", "right elevator", "rudder", "flap", "left-flap", "flap 2", "stabilator",
                "ruddervators", "elevon", "flaperon", "trim tab", "elevator_tab", "tab",
            )
        ),
        *(
            (name, "no")
            for name in ("right wing", "fuselage", "tail", "vertical stabilizer", "table", "flapper door", "cowl")
        ),
    ],
)  # fmt: skip
def test_a_name_decides_where_nothing_is_said(furnished: object, coatbook: Command, name: str, taken: str) -> None:
    told = coatbook("aircraft", "surface", "skylane", name, *SKIN)
    assert balance(coatbook, name) == taken
    if taken == "no":
        assert told.endswith("\nBalanced: no (taken from its name), so the gate asks nothing about its balance.\n")
    else:
        assert told.endswith(f"\nBalanced: unknown (taken from its name), which counts as yes: {ASKS}\n")


@pytest.mark.parametrize(
    ("answer", "told"),
    [
        ("yes", f"Balanced: yes: {ASKS}"),
        ("unknown", f"Balanced: unknown, which counts as yes: {ASKS}"),
        ("no", "Balanced: no, so the gate asks nothing about its balance."),
    ],
)
def test_what_is_said_goes_before_the_name(furnished: object, coatbook: Command, answer: str, told: str) -> None:
    for name in ("rudder", "cowl"):
        assert coatbook("aircraft", "surface", "skylane", name, *SKIN, "--balanced", answer).endswith(f"\n{told}\n")
        assert balance(coatbook, name) == answer


def test_a_later_answer_says_the_same(furnished: object, coatbook: Command) -> None:
    coatbook("aircraft", "surface", "skylane", "rudder", *SKIN)
    assert coatbook("aircraft", "surface", "skylane", "rudder", "--area", "8 ft2") == "skylane, rudder: area changed.\n"
    assert balance(coatbook, "rudder") == "unknown"
    assert coatbook("aircraft", "surface", "skylane", "rudder", "--balanced", "yes") == (
        f"skylane, rudder: balanced changed.\nBalanced: yes: {ASKS}\n"
    )


def test_the_help_says_it_too(coatbook: Command) -> None:
    told = " ".join(coatbook("aircraft", "surface", "--help").split())
    assert (
        "the gate asks for an authority before any step that adds or takes film on it. Unknown counts as yes." in told
    )
    assert "flaperon, trim tab or tab, else no; the answer says which was taken." in told
