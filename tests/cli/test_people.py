"""`business`, `site`, `worker` and `customer`, as a user types them."""

import json
from collections.abc import Callable

import pytest

Command = Callable[..., str]


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
    assert json.loads(coatbook("site", "list", "--json")) == [
        {"code": "mesa", "name": "North field", "airport": None, "address": ["1 Road", "Town"], "place": "US-TX"}
    ]


def test_worker_rates_are_dated(coatbook: Command) -> None:
    coatbook("worker", "add", "sam", "--name", "Sam Reed", "--kind", "Owner")
    assert "not known" in coatbook("worker", "list")
    coatbook("worker", "rate", "sam", "45", "--from", "2026-01-01")
    coatbook("worker", "rate", "sam", "50", "--from", "2026-12-01")
    assert coatbook("worker", "list") == "code  name      kind   USD an hour\nsam   Sam Reed  owner        45.00\n"
    assert json.loads(coatbook("worker", "list", "--json")) == [
        {"code": "sam", "name": "Sam Reed", "kind": "owner", "rate": "45.00", "currency": "USD"}
    ]


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
