"""`material`, `service` and `tax`, as a user types them."""

import json
from collections.abc import Callable

import pytest

Command = Callable[..., str]

BUY = ("material", "buy", "sealant", "1 qt", "48.00", "--supplier", "Hillside Supply", "--lot")


def test_a_material_with_its_facts(coatbook: Command) -> None:
    assert coatbook("material", "list") == "No materials yet. Add one with `coatbook material add`.\n"
    told = coatbook(
        *("material", "add", "compound", "--name", "Cutting compound", "--unit", "FL OZ"),
        *("--fact", "Spreading = 500 sq ft/gal", "--fact", "loss=10 %", "--evidence", "Label, 2026"),
    )
    assert told == "Material compound: Cutting compound, kept in fl oz.\n"
    assert coatbook("material", "show", "compound") == (
        "0 fl oz of Cutting compound (compound) are on hand; they cost 0.00 USD.\n"
        "loss       10 %\nspreading  500 ft2/gal\nevidence   Label, 2026\n"
    )


def test_lots_and_upkeep_stand_in_show(furnished: object, coatbook: Command) -> None:
    coatbook(*BUY, "B-301", "--expires", "2027-03-01")
    coatbook(
        "material",
        "terms",
        "sealant",
        "inspection",
        "--every",
        "1 calendar month",
        "--miss",
        "ends",
        "--from",
        "2026-03-02",
    )
    coatbook("log", "use", "1", "sealant", "33 fl oz")
    assert coatbook("material", "show", "sealant") == (
        "31 fl oz of Paint sealant (sealant) are on hand; they cost 46.50 USD.\n"
        "spreading  500 ft2/gal\n"
        "\n"
        "lot    purchase      left    bought  USD left  expires     supplied by\n"
        "B-204         1   0 fl oz  32 fl oz      0.00              Hillside Supply\n"
        "B-301         2  31 fl oz  32 fl oz     46.50  2027-03-01  Hillside Supply\n"
        "\n"
        "upkeep      every           opens           grace    a miss          counts\n"
        "wash        6 months        30 days before  30 days  warns           at once\n"
        "inspection  calendar month  30 days before  0 days   ends the terms  at once\n"
    )


def test_all_that_is_said_of_a_material(coatbook: Command) -> None:
    told = coatbook(
        *("material", "add", "clear", "--name", "Clear coat", "--unit", "fl oz", "--fact", "low=8 fl oz"),
        *("--hazard", "solvents", "--hazard", "Isocyanates", "--burn-evidence", "Report 12 of 2025-06-01"),
    )
    assert told == (
        "Material clear: Clear coat, kept in fl oz.\n"
        "Note: no safety data sheet of Clear coat is named: "
        '`coatbook material edit clear --sds "WHERE, OF WHAT DAY"`.\n'
    )
    assert coatbook("material", "edit", "clear", "--sds", "Binder 2, sheet of 2026-02-01", "--fact", "loss=10 %") == (
        "Material clear: changed facts, sds.\n"
    )
    assert coatbook("material", "show", "clear") == (
        "0 fl oz of Clear coat (clear) are on hand; they cost 0.00 USD.\n"
        "loss           10 %\n"
        "low            8 fl oz\n"
        "safety sheet   Binder 2, sheet of 2026-02-01\n"
        "hazards        isocyanates, solvents\n"
        "burn evidence  Report 12 of 2025-06-01\n"
    )
    coatbook("material", "edit", "clear", "--hazard", "none", "--drop-fact", "low", "--name", "Clear")
    found = json.loads(coatbook("material", "show", "clear", "--json"))
    assert (found["name"], found["hazards"], [fact["name"] for fact in found["facts"]]) == ("Clear", [], ["loss"])


def test_show_says_what_is_estimated_and_whose_it_is(furnished: object, coatbook: Command) -> None:
    coatbook(*BUY, "B-301", "--estimated", "--no-tax-paid", "--on", "2026-08-01")
    coatbook("material", "buy", "sealant", "1 pt", "--supplied-by", "alder", "--lot", "A-7", "--on", "2026-08-02")
    assert coatbook("material", "show", "sealant") == (
        "80 fl oz of Paint sealant (sealant) are on hand; they cost 96.00 USD. Look: price of B-301 estimated; A-7 is "
        "Jo Alder's own.\n"
        "spreading  500 ft2/gal\n"
        "\n"
        "lot    purchase      left    bought    USD left  expires  supplied by\n"
        "B-204         1  32 fl oz  32 fl oz       48.00           Hillside Supply\n"
        "B-301         2  32 fl oz  32 fl oz  48.00 est.           Hillside Supply\n"
        "A-7           3  16 fl oz  16 fl oz        0.00           Jo Alder (own)\n"
        "\n"
        "upkeep  every     opens           grace    a miss  counts\n"
        "wash    6 months  30 days before  30 days  warns   at once\n"
    )
    found = json.loads(coatbook("material", "show", "sealant", "--json"))
    assert (found["on_hand"], found["usable"]) == ("80", "64")
    assert [(lot["estimated"], lot["tax_paid"], lot["supplied_by"]) for lot in found["lots"]] == [
        (False, None, None),
        (True, False, None),
        (False, None, "alder"),
    ]


def test_list_says_what_is_low_and_what_is_too_old(furnished: object, coatbook: Command) -> None:
    coatbook(*BUY, "B-301", "--expires", "2026-10-19")  # 60 days on
    assert coatbook("material", "list") == (
        "What is on the shelf cost 96.00 USD. Look at 1 of 1 materials:\n"
        "sealant: B-301 expires 2026-10-19.\n"
        "code     name            on hand   cost\n"
        "sealant  Paint sealant  64 fl oz  96.00\n"
    )
    assert "Look" not in coatbook("material", "list", "--on", "2026-08-19")  # it was bought a day later
    coatbook("log", "use", "1", "sealant", "57 fl oz")
    assert "sealant: low; B-301 expires 2026-10-19.\n" in coatbook("material", "list")
    coatbook("material", "edit", "sealant", "--fact", "low=7 fl oz")
    assert "low" not in coatbook("material", "list")
    coatbook("material", "count", "sealant", "0 fl oz", "--why", "a spill")
    assert "sealant: none left to use.\n" in coatbook("material", "list")


def test_list_tells_a_lot_past_its_last_day(furnished: object, coatbook: Command) -> None:
    coatbook(*BUY, "B-301", "--expires", "2026-08-19", "--on", "2026-08-01")
    assert "sealant: B-301 expired 2026-08-19.\n" in coatbook("material", "list")
    assert json.loads(coatbook("material", "list", "--json"))[0]["look"] == ["B-301 expired 2026-08-19"]
    assert "sealant: B-301 expires 2026-08-19.\n" in coatbook("material", "list", "--on", "2026-08-19")


def test_list_adds_up_to_what_the_shelf_cost(furnished: object, coatbook: Command) -> None:
    coatbook("material", "add", "mitt", "--name", "Wash mitt", "--unit", "each")
    coatbook("material", "buy", "mitt", "3 each", "20.00", "--supplier", "Hillside Supply", "--lot", "M1")
    assert coatbook("material", "list") == (
        "What is on the shelf cost 68.00 USD.\n"
        "code     name            on hand   cost\n"
        "mitt     Wash mitt        3 each  20.00\n"
        "sealant  Paint sealant  32 fl oz  48.00\n"
    )
    first, second = json.loads(coatbook("material", "list", "--json"))
    assert (first["on_hand"], first["unit"], first["cost"], first["currency"]) == ("3", "each", "20.00", "USD")
    assert second["facts"] == [{"name": "spreading", "value": "500", "unit": "ft2/gal"}]
    assert second["lots"] == [
        {
            "lot": "B-204",
            "purchase": 1,
            "bought_on": "2026-03-02",
            "supplier": "Hillside Supply",
            "supplied_by": None,
            "left": "32",
            "bought": "32",
            "cost": "48.00",
            "price": "48.00",
            "estimated": False,
            "tax_paid": None,
            "expires": None,
        }
    ]


def test_the_shelf_as_of_an_earlier_day(furnished: object, coatbook: Command) -> None:
    coatbook(*BUY, "B-301")
    assert "96.00" in coatbook("material", "list")
    assert "48.00 USD" in coatbook("material", "list", "--on", "2026-08-19")
    assert "0.00 USD" in coatbook("material", "list", "--on", "2026-03-01")


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ("6 months", "every 6 months"),
        ("1 Month", "every month"),
        ("90days", "every 90 days"),
        ("2  weeks", "every 2 weeks"),
        ("12 calendar  months", "every 12 calendar months"),
    ],
)
def test_intervals(typed: str, told: str, furnished: object, coatbook: Command) -> None:
    assert f" asks for rinse {told}, 0 days of grace." in coatbook(
        "material", "terms", "sealant", "Rinse", "--every", typed
    )


def test_services_show_the_price_of_the_day(furnished: object, coatbook: Command) -> None:
    told = coatbook("service", "price", "polish", "40", "--per", "area", "--quantity", "10 ft2", "--from", "2026-09-01")
    assert told == "Prep polish costs 40.00 USD per 10 ft2 from 2026-09-01.\n"
    coatbook("service", "add", "leather", "--name", "Leather color", "--tax-kind", "other", "--work", "leather")
    coatbook("service", "price", "wash", "95", "--per", "hour")
    assert coatbook("service", "list") == (
        "code     name                     USD  per   taxed as  work\n"
        "coating  Protective coating      6.00  ft2   labor     other\n"
        "leather  Leather color       no price        other     leather\n"
        "polish   Prep polish             4.25  ft2   labor     abrasive\n"
        "wash     Wash                   95.00  hour  labor     other\n"
    )
    assert json.loads(coatbook("service", "list", "--json"))[2] == {
        "code": "polish",
        "name": "Prep polish",
        "abrasive": True,
        "work": "abrasive",
        "tax_kind": "labor",
        "price": "4.25",
        "currency": "USD",
        "basis": "area",
        "per": "1",
        "unit": "ft2",
        "from": "2026-03-02",
    }


def test_tax_rates(furnished: object, coatbook: Command) -> None:
    told = coatbook("tax", "add", "us-tx-travis", "labor", "1.125", "--name", "County tax", "--from", "2026-09-01")
    assert told.startswith("County tax: 1.125 % on labor in US-TX-TRAVIS from 2026-09-01. Whether it applies")
    assert coatbook("tax", "list") == (
        "place         on        rate  from        name\n"
        "US-TX         labor   6.25 %  2026-03-02  State sales tax\n"
        "US-TX-TRAVIS  labor  1.125 %  2026-09-01  County tax\n"
    )
    assert json.loads(coatbook("tax", "list", "--json"))[1] == {
        "place": "US-TX-TRAVIS",
        "kind": "labor",
        "name": "County tax",
        "rate": "0.01125",
        "from": "2026-09-01",
    }


MATERIAL = ("material", "add", "m", "--name", "M", "--unit")
TERMS = ("material", "terms", "sealant", "wash", "--every")
REFUSALS: list[tuple[int, str, tuple[str, ...]]] = [
    (2, "is not a unit coatbook knows", (*MATERIAL, "drops")),
    (2, "is not stocked in h", (*MATERIAL, "h")),
    (2, "has no value", (*MATERIAL, "g", "--fact", "loss")),
    (2, "is not a fact coatbook uses", (*MATERIAL, "g", "--fact", "taste=5 %")),
    (2, "has the wrong unit", (*MATERIAL, "g", "--fact", "spreading=5 %")),
    (2, "leaves nothing to lay", (*MATERIAL, "g", "--fact", "loss=100 %")),
    (2, "given twice", (*MATERIAL, "g", "--fact", "loss=1 %", "--fact", "loss=2 %")),
    (1, "there is a material 'sealant' already", ("material", "add", "sealant", "--name", "M", "--unit", "g")),
    (1, "there is no material", ("material", "show", "wax")),
    (2, "write it like 1 gal", ("material", "buy", "sealant", "1", "5", "--supplier", "S", "--lot", "L")),
    (
        2,
        "is kept in fl oz: 1 kg is a mass",
        ("material", "buy", "sealant", "1 kg", "5", "--supplier", "S", "--lot", "L"),
    ),
    (1, "must be more than zero", ("material", "buy", "sealant", "0 gal", "5", "--supplier", "S", "--lot", "L")),
    (2, "is not a plain number", ("material", "buy", "sealant", "1 gal", "free", "--supplier", "S", "--lot", "L")),
    (1, "the lot expired on 2025-01-01", (*BUY, "L", "--expires", "2025-01-01")),
    (
        1,
        "larger than a book can hold",
        ("material", "buy", "sealant", "999999999 gal", "1", "--supplier", "S", "--lot", "L"),
    ),
    (2, "the interval 'twice a year' in --every cannot be read", (*TERMS, "twice a year")),
    (2, "must lie between 1 and 1000", (*TERMS, "0 days")),
    (2, "use one of ends, shortens, warns", (*TERMS, "6 months", "--miss", "shrugs")),
    (2, "must lie between 0 and 365", (*TERMS, "6 months", "--grace", "1000")),
    (2, "use one of labor", ("service", "add", "s", "--name", "S", "--tax-kind", "fun")),
    (2, "use one of job, area, hour, each", ("service", "price", "wash", "1", "--per", "month")),
    (2, "leave out the quantity", ("service", "price", "wash", "1", "--per", "job", "--quantity", "2 each")),
    (2, "must be an area", ("service", "price", "wash", "1", "--per", "area", "--quantity", "2 h")),
    (1, "there is no service", ("service", "price", "waxing", "1", "--per", "job")),
    (2, "must be between 0 and 100", ("tax", "add", "US", "labor", "101", "--name", "T")),
    (2, "at most four decimals", ("tax", "add", "US", "labor", "1.00001", "--name", "T")),
    (2, "use one of labor", ("tax", "add", "US", "joy", "1", "--name", "T")),
    (2, "is not a place", ("tax", "add", "12", "labor", "1", "--name", "T")),
]


@pytest.mark.parametrize(("code", "says", "arguments"), REFUSALS)
def test_refusals(code: int, says: str, arguments: tuple[str, ...], furnished: object, refused: Command) -> None:
    sentence = refused(*arguments, code=code)
    assert says in sentence
    assert sentence.startswith("coatbook: ")
    assert "\n" not in sentence
