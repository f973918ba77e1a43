"""`business`, `site`, `worker` and `customer`, as a user types them."""

import json
from collections.abc import Callable

import pytest

Command = Callable[..., str]
TODAY = "2026-08-20"


def test_business_show_opens_with_a_sentence(coatbook: Command) -> None:
    shown = coatbook("business", "show")
    assert shown.startswith(
        "Larkfield Aircraft Finish writes on Letter paper in en_US and asks to be paid within 14 days.\n"
        "address      Hangar 7\n             4100 Runway Road\n             Mesa Alta, TX 78000\n"
    )


def test_business_edit_changes_what_is_given_and_only_that(coatbook: Command) -> None:
    before = json.loads(coatbook("business", "show", "--json"))
    told = coatbook("business", "edit", "--phone", "555-0101", "--net-days", "0", "--pay-how", "By check.\\nOr cash.")
    assert told == "Larkfield Aircraft Finish: net days, pay how, phone changed.\n"
    after = json.loads(coatbook("business", "show", "--json"))
    assert after == before | {"phone": "555-0101", "net_days": 0, "pay_how": ["By check.", "Or cash."]}
    assert "asks to be paid at once" in coatbook("business", "show")


def test_business_json_has_the_currency_and_the_zone(coatbook: Command) -> None:
    shop = json.loads(coatbook("business", "show", "--json"))
    assert (shop["currency"], shop["zone"]) == ("USD", "America/Chicago")


def test_overhead_begins_on_the_day_given(coatbook: Command) -> None:
    told = coatbook("business", "overhead", "18.5", "--from", "2026-09-01")
    assert told == "Overhead is 18.50 USD per hour of work from 2026-09-01.\n"


def test_series_lists_and_sets(coatbook: Command) -> None:
    assert coatbook("business", "series") == "series   pattern       first\ninvoice  {year}-{n:4}      1\n"
    told = coatbook("business", "series", "Invoice", "--pattern", "{year}/{n:3}", "--first", "27")
    assert told == "The next invoice is numbered 2026/027.\n"
    assert json.loads(coatbook("business", "series", "--json")) == [
        {"series": "invoice", "pattern": "{year}/{n:3}", "first": 27}
    ]


def test_site_add_and_list(coatbook: Command) -> None:
    assert coatbook("site", "list") == "No sites yet. Add one with `coatbook site add`.\n"
    told = coatbook("site", "add", "Mesa", "--name", "North field", "--address", "1 Road\\nTown", "--place", "us-tx")
    assert told == "Site mesa: North field, taxed as US-TX.\n"
    assert coatbook("site", "list") == "code  name         airport  tax place\nmesa  North field           US-TX\n"
    rules = {"landlord": None, "access": None, "power": None, "water": None}
    assert json.loads(coatbook("site", "list", "--json")) == [
        {"code": "mesa", "name": "North field", "airport": None, "address": ["1 Road", "Town"], "place": "US-TX"}
        | rules
    ]


def test_site_edit_changes_what_is_given_and_show_tells_it(furnished: object, coatbook: Command) -> None:
    before = json.loads(coatbook("site", "show", "mesa", "--json"))
    rules = {"access": "gate 2, 7 to 19 h", "power": "two 20 A outlets", "water": "on the wash pad only"}
    told = coatbook("site", "edit", "mesa", *(word for name, rule in rules.items() for word in (f"--{name}", rule)))
    assert told == "Site mesa: access, power, water changed.\n"
    assert json.loads(coatbook("site", "show", "mesa", "--json")) == before | rules
    assert coatbook("site", "show", "MESA") == (
        "North field, hangar 7 (mesa) is taxed as US-TX.\n"
        "airport   not written: --airport\n"
        "address   4100 Runway Road\n"
        "          Mesa Alta, TX 78000\n"
        "landlord  not written: --landlord\n"
        "access    gate 2, 7 to 19 h\n"
        "power     two 20 A outlets\n"
        "water     on the wash pad only\n"
    )


def test_site_show_tells_its_papers(furnished: object, coatbook: Command) -> None:
    coatbook("paper", "add", "permit", "--of", "site:mesa", "--issuer", "City", "--number", "W-7", "--expires", TODAY)
    assert coatbook("site", "show", "mesa").endswith("permit    City, W-7: expires today, 2026-08-20\n")
    assert [one["number"] for one in json.loads(coatbook("site", "show", "mesa", "--json"))["papers"]] == ["W-7"]


def test_worker_rates_are_dated(coatbook: Command) -> None:
    coatbook("worker", "add", "sam", "--name", "Sam Reed", "--kind", "Owner")
    assert "not known" in coatbook("worker", "list")
    coatbook("worker", "rate", "sam", "45", "--from", "2026-01-01")
    coatbook("worker", "rate", "sam", "50", "--from", "2026-12-01")
    assert coatbook("worker", "list") == (
        "code  name      kind    rate  on-cost  USD an hour\nsam   Sam Reed  owner  45.00                 45.00\n"
    )
    assert json.loads(coatbook("worker", "list", "--json")) == [
        {"code": "sam", "name": "Sam Reed", "kind": "owner", "rate": "45.00", "on_cost": None, "cost": "45.00"}
        | {"currency": "USD"}
    ]


def test_an_on_cost_comes_on_top_of_the_rate(furnished: object, coatbook: Command) -> None:
    told = coatbook("worker", "rate", "kim", "28.35", "--on-cost", "22.5 %")
    assert told == "An hour of Kim Soto costs 34.73 USD from 2026-08-20: 28.35 and 22.5 % on top.\n"  # 34.72875
    assert "kim   Kim Soto  employee  28.35   22.5 %        34.73\n" in coatbook("worker", "list")
    kim = json.loads(coatbook("worker", "list", "--json"))[0]
    assert (kim["rate"], kim["on_cost"], kim["cost"]) == ("28.35", "0.225", "34.73")
    assert "28.00" in coatbook("worker", "list", "--on", "2026-08-19")


def test_a_worker_is_added_with_rate_and_on_cost(coatbook: Command) -> None:
    words = ("--name", "Pat Lund", "--kind", "employee", "--rate", "20", "--on-cost", "10%")
    assert coatbook("worker", "add", "pat", *words) == (
        "Worker pat: Pat Lund, employee.\nAn hour of Pat Lund costs 22.00 USD from 2026-08-20: 20.00 and 10 % on top.\n"
    )


def test_worker_edit_changes_name_and_kind(furnished: object, coatbook: Command) -> None:
    assert coatbook("worker", "edit", "sam", "--name", "Samuel Reed") == "Worker sam: name changed.\n"
    assert coatbook("worker", "edit", "kim", "--kind", "subcontractor") == (
        "Worker kim: kind changed.\n"
        "Hours written from now on are those of a subcontractor; hours written before stay as they are.\n"
    )
    told = [(one["name"], one["kind"]) for one in json.loads(coatbook("worker", "list", "--json"))]
    assert told == [("Kim Soto", "subcontractor"), ("Samuel Reed", "owner")]


INSURANCE = ("paper", "add", "insurance", "--of", "business", "--issuer", "Example Mutual", "--number")


def test_papers_are_listed_in_words(furnished: object, coatbook: Command) -> None:
    assert coatbook("paper", "list") == "No papers yet. Add one with `coatbook paper add`.\n"
    days = ("--from", "2026-01-01", "--expires", "2026-09-01")
    assert coatbook(*INSURANCE, "GL-100", "--amount", "1000000", *days) == (
        "Paper 1: insurance GL-100 of Larkfield Aircraft Finish by Example Mutual for 1000000.00 USD, "
        "in force from 2026-01-01 until 2026-09-01.\n"
    )
    coatbook("paper", "add", "certificate", "--of", "worker:sam", "--issuer", "Board", "--number", "77")
    assert coatbook("paper", "list") == (
        "paper  of          kind         issuer          number     insured  state\n"
        "    1  business    insurance    Example Mutual  GL-100  1000000.00  expires in 12 days, on 2026-09-01\n"
        "    2  worker:sam  certificate  Board           77                  in force, no expiry written\n"
    )
    assert json.loads(coatbook("paper", "list", "--json"))[0] == {
        "paper": 1,
        "kind": "insurance",
        "of": "business",
        "name": "Larkfield Aircraft Finish",
        "issuer": "Example Mutual",
        "number": "GL-100",
        "amount": "1000000.00",
        "currency": "USD",
        "from": "2026-01-01",
        "expires": "2026-09-01",
        "state": "expiring",
    }


def test_a_paper_can_be_struck(furnished: object, coatbook: Command) -> None:
    coatbook(*INSURANCE, "GL-100", "--expires", "2026-09-01")
    coatbook("strike", "paper:1", "--why", "the number is wrong")
    assert coatbook("paper", "list").startswith("No papers yet")


def test_customer_show_tells_aircraft_and_exemptions(furnished: object, coatbook: Command) -> None:
    contact = "Jo Alder (alder) is written to in en_US.\n12 Field Lane\nMesa Alta, TX 78000\njo@example.com\n"
    assert coatbook("customer", "show", "alder") == (f"{contact}no phone number\nN123AB  Cessna 182T, sn 18299901\n")
    told = coatbook("tax", "exempt", "alder", "us-tx", "--reason", "Resale", "--certificate", "01-339")
    assert told == (
        "Jo Alder is charged no tax in US-TX from 2026-08-20 on: Resale, certificate 01-339. "
        "Whether it holds for this work is the shop's to confirm locally.\n"
    )
    assert coatbook("customer", "show", "alder").endswith(
        "US-TX   exempt, 01-339 (Resale): in force, no expiry written\n"
    )
    shown = json.loads(coatbook("customer", "show", "Alder", "--json"))
    assert shown["aircraft"] == [{"airframe": "skylane", "mark": "N123AB"}]
    assert shown["exemptions"] == [
        {"exemption": 1, "place": "US-TX", "reason": "Resale", "certificate": "01-339", "from": "2026-08-20"}
        | {"expires": None, "state": "in force"}
    ]
    assert "N123AB" not in coatbook("customer", "show", "alder", "--on", "2026-03-01")
    assert "N123AB" not in coatbook("customer", "show", "birch")


def test_a_key_makes_a_retry_safe(coatbook: Command) -> None:
    first = coatbook("worker", "add", "sam", "--name", "Sam Reed", "--kind", "owner", "--key", "k1")
    assert coatbook("worker", "add", "sam", "--name", "Sam Reed", "--kind", "owner", "--key", "k1") == first
    assert coatbook("worker", "list").count("sam") == 1


def test_a_repeat_is_refused_and_again_means_it(furnished: object, coatbook: Command, refused: Command) -> None:
    coatbook("business", "overhead", "20", "--on", "2026-08-01")
    assert "give --again" in refused("business", "overhead", "20", "--on", "2026-08-01")
    coatbook("business", "overhead", "20", "--on", "2026-08-01", "--again")
    coatbook("business", "overhead", "20", "--on", "2026-08-02")


REFUSALS: list[tuple[int, str, tuple[str, ...]]] = [
    (2, "has more than 2 decimals", ("business", "overhead", "18.505")),
    (2, "is not a plain number", ("business", "overhead", "1,850")),
    (2, "is not a plain number", ("business", "overhead", "NaN")),
    (2, "No such option: -5", ("business", "overhead", "-5")),
    (1, "must not be below zero", ("business", "overhead", "--", "-5")),
    (2, "nothing to change", ("business", "edit")),
    (2, "is not one mail address", ("business", "edit", "--email", "a@example.com, b@example.com")),
    (2, "is not a locale", ("business", "edit", "--locale", "Texan")),
    (2, "is not a color", ("business", "edit", "--color", "blue")),
    (2, "is not known", ("business", "edit", "--paper", "A5")),
    (2, "must lie between 0 and 365", ("business", "edit", "--net-days", "400")),
    (2, "control character U+001B", ("business", "edit", "--name", "\x1b[31mRed")),
    (2, "the name of the shop is empty", ("business", "edit", "--name", " ")),
    (2, "cannot be used", ("business", "series", "invoice", "--pattern", "INV")),
    (2, "--first goes with --pattern", ("business", "series", "--first", "3")),
    (2, "name the series", ("business", "series", "--pattern", "{n}")),
    (1, "there is no series", ("business", "series", "bills")),
    (2, "is not a place", ("site", "add", "b", "--name", "B", "--address", "B", "--place", "Texas")),
    (1, "there is a site 'mesa' already", ("site", "add", "MESA", "--name", "B", "--address", "B", "--place", "US")),
    (2, "is not a code", ("site", "add", "b c", "--name", "B", "--address", "B", "--place", "US")),
    (2, "is not known: use one of owner", ("worker", "add", "pat", "--name", "Pat", "--kind", "boss")),
    (1, "there is no worker 'pat'", ("worker", "rate", "pat", "20")),
    (2, "does not exist", ("worker", "rate", "sam", "20", "--from", "2026-02-30")),
    (2, "is not a date", ("worker", "rate", "sam", "20", "--from", "tomorrow")),
    (1, "is after today", ("worker", "rate", "sam", "20", "--on", "2026-08-21")),
    (2, "is not readable text", ("worker", "rate", "\udcff", "20")),
    (1, "used by `job plan` already", ("worker", "rate", "sam", "20", "--key", "plan")),
    (1, "there is no customer", ("customer", "show", "nobody")),
    (2, "nothing to change", ("customer", "edit", "alder")),
]


@pytest.mark.parametrize(("code", "says", "arguments"), REFUSALS)
def test_refusals(
    code: int, says: str, arguments: tuple[str, ...], furnished: object, coatbook: Command, refused: Command
) -> None:
    if "plan" in arguments:
        coatbook("job", "plan", "1", "wash", "--key", "plan")
    sentence = refused(*arguments, code=code)
    assert says in sentence
    assert sentence.startswith("coatbook: ") == ("Usage" not in sentence)
    if "Usage" not in sentence:
        assert "\n" not in sentence
