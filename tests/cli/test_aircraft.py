"""`aircraft`, as a user types it."""

import json
from collections.abc import Callable

import pytest

Command = Callable[..., str]

LARK = ("aircraft", "add", "lark", "--maker", "Larkfield", "--model", "L2", "--serial", "7")
NEW_SURFACE = ("--area", "18 ft2", "--substrate", "fabric", "--paint", "dope")


def test_add_tells_mark_and_owner(furnished: object, coatbook: Command) -> None:
    told = coatbook(*LARK, "--mark", "d-eabc", "--owner", "birch", "--from", "2024-05-01")
    assert told == (
        "Aircraft lark: Larkfield L2, serial 7.\n"
        "lark wears D-EABC from 2024-05-01.\n"
        "Birch Flying Club owns lark from 2024-05-01.\n"
    )


def test_an_unknown_prefix_is_kept_with_a_warning(coatbook: Command) -> None:
    assert "Note: the prefix of" in coatbook(*LARK, "--mark", "QQ-123")


def test_list_is_columns_and_has_the_stable_keys(furnished: object, coatbook: Command) -> None:
    coatbook(*LARK)
    assert coatbook("aircraft", "list") == (
        "mark     code     type          serial    owner     state\n"
        "no mark  lark     Larkfield L2  7                   in service\n"
        "N123AB   skylane  Cessna 182T   18299901  Jo Alder  in service\n"
    )
    lark, skylane = json.loads(coatbook("aircraft", "list", "--json"))
    stable = {"airframe": "lark", "mark": None, "serial": "7", "maker": "Larkfield", "model": "L2"}
    assert lark == stable | {"owner": None, "state": "in service"}
    stable = {"airframe": "skylane", "mark": "N123AB", "serial": "18299901", "maker": "Cessna", "model": "182T"}
    assert skylane == stable | {"owner": "alder", "state": "in service"}


@pytest.mark.parametrize("named", ["N123AB", "n-123ab", "skylane", "SkyLane", "sn:18299901"])
def test_any_of_its_names_will_do(named: str, furnished: object, coatbook: Command) -> None:
    shown = coatbook("aircraft", "show", named)
    assert shown == (
        "N123AB is a Cessna 182T of 2005, serial 18299901, owned by Jo Alder (alder).\n"
        "\n"
        "  code            skylane\n"
        "  burn basis      not known\n"
        "\n"
        "surface      area  paint                   layers     balanced\n"
        "left wing  84 ft2  base/clear on aluminum  known      no\n"
        "elevator   20 ft2  base/clear on aluminum  not known  no\n"
        "\n"
        "mark    from        to  line\n"
        "N123AB  2026-03-02      marking:1\n"
        "\n"
        "owner     from        to  line\n"
        "Jo Alder  2026-03-02      ownership:1\n"
    )


def test_show_as_json(furnished: object, coatbook: Command) -> None:
    shown = json.loads(coatbook("aircraft", "show", "skylane", "--json"))
    assert (shown["year"], shown["owner"]) == (2005, "alder")
    assert shown["surfaces"][1] == {
        "surface": "elevator",
        "area": "20",
        "area_unit": "ft2",
        "substrate": "aluminum",
        "paint": "base/clear",
        "layers_known": False,
        "balanced": "no",
        "primer": None,
        "primer_unit": None,
        "painted": None,
        "mesh": None,
    }


def test_a_new_surface_is_added_and_one_that_is_there_is_edited(furnished: object, coatbook: Command) -> None:
    told = coatbook("aircraft", "surface", "N123AB", "Rudder", *NEW_SURFACE, "--balanced", "unknown")
    assert told.startswith(
        "skylane, rudder: 18 ft2 of dope on fabric, layers not known.\nBalanced: unknown, which counts as yes"
    )
    told = coatbook("aircraft", "surface", "N123AB", "RUDDER", "--area", "19 ft2", "--layers-known")
    assert told == "skylane, rudder: area, layers known changed.\n"
    told = coatbook("aircraft", "surface", "N123AB", "rudder", "--primer", "1 mil", "--substrate", "aluminum")
    assert told == "skylane, rudder: substrate, primer changed.\n"
    shown = json.loads(coatbook("aircraft", "show", "N123AB", "--json"))
    rudder = next(one for one in shown["surfaces"] if one["surface"] == "rudder")
    assert (rudder["area"], rudder["layers_known"], rudder["balanced"]) == ("19", True, "unknown")
    assert (rudder["substrate"], rudder["primer"], rudder["primer_unit"]) == ("aluminum", "1", "mil")


def test_marks_and_owners_change_over_time(furnished: object, coatbook: Command, refused: Command) -> None:
    coatbook("aircraft", "mark", "skylane", "N77AB", "--from", "2026-08-01")
    coatbook("aircraft", "owner", "N77AB", "birch", "--from", "2026-08-01")
    assert coatbook("aircraft", "show", "N77AB").startswith(
        "N77AB is a Cessna 182T of 2005, serial 18299901, owned by Birc"
    )
    assert "there is no aircraft 'N123AB' on 2026-08-20" in refused("aircraft", "show", "N123AB")


def test_a_mark_is_worn_by_one_aircraft_at_a_time(furnished: object, coatbook: Command, refused: Command) -> None:
    coatbook(*LARK, "--mark", "N77AB", "--from", "2026-06-01")
    # before, within and after the days lark wears it
    for day in ("2026-05-01", "2026-06-01", "2026-07-01"):
        assert "is worn by lark on" in refused("aircraft", "mark", "skylane", "N77AB", "--from", day)
    coatbook("aircraft", "mark", "lark", "N78AB", "--from", "2026-07-15")
    assert "is worn by lark on" in refused("aircraft", "mark", "skylane", "N77AB", "--from", "2026-07-14")
    assert coatbook("aircraft", "mark", "skylane", "N77AB", "--from", "2026-07-15") == (
        "skylane wears N77AB from 2026-07-15.\n"
    )


def test_a_code_like_another_ones_mark_is_refused_where_it_is_meant(
    furnished: object, coatbook: Command, refused: Command
) -> None:
    coatbook("aircraft", "add", "n123ab", "--maker", "Larkfield", "--model", "L2", "--serial", "7")
    assert "name the one you mean by its serial number, sn:7 or sn:18299901" in refused("aircraft", "show", "N123AB")
    assert coatbook("aircraft", "show", "sn:7").startswith("n123ab is a Larkfield L2")


REFUSALS: list[tuple[int, str, tuple[str, ...]]] = [
    (2, "Missing option '--serial'", ("aircraft", "add", "lark", "--maker", "Larkfield", "--model", "L2")),
    (1, "there is an aircraft 'skylane' already", ("aircraft", "add", "skylane", *LARK[3:])),
    (
        1,
        "Cessna, 182T, 18299901",
        ("aircraft", "add", "b", "--maker", "Cessna", "--model", "182T", "--serial", "18299901"),
    ),
    (2, "must lie between 1903 and 2027", (*LARK, "--year", "1066")),
    (2, "should be a valid integer", (*LARK, "--year", "MMV")),
    (2, "is not a US registration", (*LARK, "--mark", "N0123")),
    (1, "N123AB is worn by skylane", (*LARK, "--mark", "N123AB")),
    (1, "there is no customer 'nobody'", (*LARK, "--owner", "nobody")),
    (1, "there is no aircraft 'N1'", ("aircraft", "show", "N1")),
    (1, "there is no aircraft 'sn:8'", ("aircraft", "show", "sn:8")),
    (
        2,
        "to add it give --area, --substrate and --paint",
        ("aircraft", "surface", "skylane", "rudder", "--area", "9 ft2"),
    ),
    (2, "write it like 84 ft2", ("aircraft", "surface", "skylane", "left wing", "--area", "84")),
    (2, "must be an area", ("aircraft", "surface", "skylane", "left wing", "--area", "84 ft")),
    (1, "must be more than zero", ("aircraft", "surface", "skylane", "left wing", "--area", "0 ft2")),
    (2, "use one of aluminum", ("aircraft", "surface", "skylane", "rudder", *NEW_SURFACE, "--substrate", "cheese")),
    (2, "use one of no, yes, unknown", ("aircraft", "surface", "skylane", "elevator", "--balanced", "perhaps")),
    (2, "nothing to change", ("aircraft", "surface", "skylane", "elevator")),
    (2, "write it like 25 µm", ("aircraft", "surface", "skylane", "elevator", "--primer", "thin")),
    (1, "wears N123AB on 2026-08-20 already", ("aircraft", "mark", "skylane", "N123AB")),
    (1, "owns skylane on 2026-08-20 already", ("aircraft", "owner", "skylane", "alder")),
]


@pytest.mark.parametrize(("code", "says", "arguments"), REFUSALS)
def test_refusals(code: int, says: str, arguments: tuple[str, ...], furnished: object, refused: Command) -> None:
    sentence = refused(*arguments, code=code)
    assert says in sentence
    if "Usage" not in sentence:
        assert sentence.startswith("coatbook: ")
        assert "\n" not in sentence
