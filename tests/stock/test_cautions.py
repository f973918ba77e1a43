"""The usual cautions of hazards, in one order, each once, and always behind the safety data sheets."""

from itertools import combinations

from coatbook.stock.cautions import CHROMATE_PRIMER, OF_HAZARD, SHEETS_FIRST, hazard_cautions
from coatbook.stock.tables import HAZARDS


def test_every_hazard_has_its_caution() -> None:
    assert tuple(OF_HAZARD) == HAZARDS
    for hazard in HAZARDS:
        assert hazard_cautions([hazard], False) == (OF_HAZARD[hazard], SHEETS_FIRST)


def test_an_abrasive_step_may_reach_chromate_primer() -> None:
    assert hazard_cautions((), True) == (CHROMATE_PRIMER, SHEETS_FIRST)
    assert "no dry sanding" in CHROMATE_PRIMER
    assert "29 CFR 1910.1026" in CHROMATE_PRIMER


def test_a_two_part_finish_asks_for_a_respirator() -> None:
    (told, _) = hazard_cautions({"isocyanates"}, False)
    assert "respirator its safety data sheet names" in told
    assert "29 CFR 1910.134" in told


def test_nothing_to_say_is_nothing_said() -> None:
    assert hazard_cautions((), False) == ()
    assert hazard_cautions({"radium"}, False) == ()


def test_any_hazards_are_told_once_in_one_order() -> None:
    for size in range(len(HAZARDS) + 1):
        for chosen in combinations(HAZARDS, size):
            told = hazard_cautions([*reversed(chosen), *chosen], True)
            assert told == (CHROMATE_PRIMER, *(OF_HAZARD[one] for one in chosen), SHEETS_FIRST)
