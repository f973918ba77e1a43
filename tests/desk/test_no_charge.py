"""A job handed over at no charge: recognized that day, never invoiced, and told so."""

import json
from collections.abc import Callable
from pathlib import Path

Run = Callable[..., str]


def hand_over_a_free_rework(coatbook: Run) -> None:
    for step in ("step:2", "step:3"):
        coatbook("strike", step, "--why", "a wash only")
    coatbook("job", "agree", "1", "--by", "Jo Alder")
    coatbook("job", "arrive", "1", "--by", "Sam Reed")
    coatbook("job", "handover", "1", "--to", "Jo Alder")
    coatbook("job", "open", "skylane", "mesa", "wash again", "--rework-of", "1", "--cause", "streaks on the wing")
    coatbook("job", "plan", "2", "wash")
    coatbook("job", "agree", "2", "--by", "Jo Alder")
    coatbook("job", "arrive", "2", "--by", "Sam Reed")
    coatbook("log", "hours", "2", "kim", "2h", "--step", "1")
    coatbook("job", "handover", "2", "--to", "Jo Alder", "--no-charge")


def test_its_cost_counts_on_the_day_of_the_handover(furnished: Path, coatbook: Run) -> None:
    hand_over_a_free_rework(coatbook)
    review = json.loads(coatbook("review", "job", "2", "--json"))
    # By hand: 2 h of Kim at 28.00, overhead 2 h at 18.50, no revenue.
    assert (review["revenue"], review["labor"], review["overhead"], review["profit"]) == (
        "0.00",
        "56.00",
        "37.00",
        "-93.00",
    )
    assert review["work_in_progress"] == "0.00"
    assert review["margin"] is None
    month = json.loads(coatbook("review", "month", "2026-08", "--json"))
    assert (month["cost"], month["journal_profit"], month["work_in_progress"]) == ("56.00", "-56.00", "0.00")
    assert "job 2 (N123AB) lost 93.00" in coatbook("review", "month", "2026-08")


def test_it_is_settled_and_cannot_be_invoiced(furnished: Path, coatbook: Run, refused: Run) -> None:
    hand_over_a_free_rework(coatbook)
    states = {row["job"]: row["state"] for row in json.loads(coatbook("job", "list", "--json"))}
    assert states[2] == "settled"
    assert "at no charge" in refused("invoice", "issue", "2", "--yes")
    assert "rework" in coatbook("job", "show", "2")


def test_a_struck_handover_puts_its_cost_back_in_progress(furnished: Path, coatbook: Run) -> None:
    hand_over_a_free_rework(coatbook)
    coatbook("strike", "last", "--why", "not yet")
    assert json.loads(coatbook("review", "job", "2", "--json"))["work_in_progress"] == "56.00"
