"""What the book refuses to write of people and places: each rule with its sentence, and the book as it was."""

import shlex
from collections.abc import Callable
from pathlib import Path

import pytest

Command = Callable[..., str]

PAPER = "paper add insurance --issuer 'Example Mutual' --number GL-100"
EXEMPT = "tax exempt birch US-TX --reason resale --certificate 01-339"
WORDS_OF_A_SITE = "--name North --address 'Runway Road' --place US-TX"
CLOSED = tuple(f"book close 2026-{month:02} --yes" for month in range(3, 7))

# rule: what was typed before, what is typed now, its exit code, and words of its sentence
RULES: dict[str, tuple[tuple[str, ...], str, int, str]] = {
    # the business
    "a shop has a name": ((), "business edit --name ' '", 2, "the name of the shop is empty"),
    "a shop has one mail address": (
        (),
        "business edit --email 'a@example.com; b@example.com'",
        2,
        "'a@example.com; b@example.com' is not one mail address: write it like owner@example.com",
    ),
    "overhead is no gain": ((), "business overhead -- -18.50", 1, "the overhead -18.50 must not be below zero"),
    # customers
    "a customer has one mail address": (
        (),
        "customer edit alder --email 'Jo <jo@example.com>, jo2@example.com'",
        2,
        "is not one mail address",
    ),
    "a customer's code is taken once": (
        (),
        "customer add ALDER --name 'Al Der' --address '1 Road'",
        1,
        "there is a customer 'alder' already: choose another, or edit that one",
    ),
    "a code is short and plain": ((), "customer add 'jo alder' --name Jo --address '1 Road'", 2, "is not a code"),
    "an address is not emptied": ((), "customer edit alder --address ''", 2, "the address is empty"),
    "a customer must be there": ((), "customer edit nobody --phone 555-0142", 1, "there is no customer 'nobody'"),
    # sites
    "a site's code is taken once": ((), f"site add mesa {WORDS_OF_A_SITE}", 1, "there is a site 'mesa' already"),
    "a tax place names country and state": ((), "site edit mesa --place Texas", 2, "'TEXAS' is not a place"),
    "a rule of a site is one line": ((), "site edit mesa --water 'pad only\nno soap'", 2, "the rule for water holds"),
    "a rule of a site is short": ((), f"site edit mesa --access {'x' * 201}", 2, "has 201 characters: 200 at most"),
    "an edit of a site changes something": ((), "site edit mesa", 2, "such as --access"),
    "a site must be there": ((), "site show field", 1, "there is no site 'field': `coatbook site list` shows them"),
    # workers and what an hour costs
    "a worker's code is taken once": (
        (),
        "worker add sam --name Sam --kind owner",
        1,
        "there is a worker 'sam' already",
    ),
    "a worker is of a known kind": (
        (),
        "worker edit kim --kind apprentice",
        2,
        "the kind of worker 'apprentice' is not known: use one of owner, employee, subcontractor",
    ),
    "an edit of a worker changes something": ((), "worker edit kim", 2, "such as --name"),
    "a rate is not below zero": ((), "worker rate kim -- -28.00", 1, "the rate -28.00 must not be below zero"),
    "an on-cost is not below zero": (
        (),
        "worker rate kim 28.00 --on-cost=-5%",
        1,
        "the on-cost -5 % must not be below zero",
    ),
    "an on-cost is no whole cost": (
        (),
        "worker rate kim 28.00 --on-cost '301 %'",
        1,
        "an on-cost of 301 % is above 300 % of the rate: give only what comes on top of it",
    ),
    "an on-cost is in per cent": ((), "worker rate kim 28.00 --on-cost 22", 2, "write it like 22 %"),
    "an on-cost is no money per hour": (
        (),
        "worker rate kim 28.00 --on-cost '6 h'",
        2,
        "the on-cost 6 h must be a ratio",
    ),
    "an on-cost goes with a rate": (
        (),
        "worker add pat --name Pat --kind employee --on-cost '22 %'",
        2,
        "--on-cost comes on top of a rate: give the --rate too",
    ),
    "the same rate is not written twice": (
        ("worker rate kim 30.00 --from 2026-08-01",),
        "worker rate kim 30.00 --from 2026-08-01",
        1,
        "`worker rate` with the same values on 2026-08-20 stands already",
    ),
    "a rate begins in no closed month": (
        CLOSED,
        "worker rate kim 30.00 --from 2026-06-30",
        1,
        "the rate is dated 2026-06-30, but 2026-06 is closed",
    ),
    "overhead begins in no closed month": (
        CLOSED,
        "business overhead 20 --from 2026-05-01",
        1,
        "the rate is dated 2026-05-01, but 2026-05 is closed",
    ),
    # papers
    "a paper is of a known kind": (
        (),
        "paper add license --of business --issuer City --number 7",
        2,
        "the kind of paper 'license' is not known: use one of insurance, permit, certificate",
    ),
    "a paper is somebody's": ((), f"{PAPER} --of kim", 2, "'kim' is nobody who has papers here: write business, site:"),
    "the business has no code": ((), f"{PAPER} --of business:main", 2, "'business:main' is nobody who has papers"),
    "a paper's site must be there": ((), f"{PAPER} --of site:field", 1, "there is no site 'field'"),
    "a paper's worker must be there": ((), f"{PAPER} --of worker:pat", 1, "there is no worker 'pat'"),
    "a paper has a number": (
        (),
        "paper add permit --of business --issuer City --number ' '",
        2,
        "the number of the paper is empty",
    ),
    "a paper expires after it begins": (
        (),
        f"{PAPER} --of business --from 2026-08-01 --expires 2026-07-31",
        1,
        "the insurance would expire on 2026-07-31, before it begins on 2026-08-01: check --from and --expires",
    ),
    "a paper begins today if no day is given": (
        (),
        f"{PAPER} --of business --expires 2026-07-31",
        1,
        "the insurance would expire on 2026-07-31, before it begins on 2026-08-20",
    ),
    "only insurance insures a sum": (
        (),
        "paper add permit --of site:mesa --issuer City --number W-7 --amount 1000.00",
        1,
        "a permit insures no sum: leave out --amount, or write the paper as insurance",
    ),
    "a sum insured is more than nothing": (
        (),
        f"{PAPER} --of business --amount 0",
        1,
        "the sum insured 0.00 must be more than zero",
    ),
    "a paper is not written after today": ((), f"{PAPER} --of business --on 2026-08-21", 1, "is after today"),
    "the same paper is not written twice": (
        (f"{PAPER} --of business",),
        f"{PAPER} --of business",
        1,
        "`paper add` with the same values on 2026-08-20 stands already",
    ),
    # exemptions
    "an exemption is a customer's": (
        (),
        "tax exempt nobody US-TX --reason resale --certificate 1",
        1,
        "there is no customer 'nobody'",
    ),
    "an exemption has its place": (
        (),
        "tax exempt birch Texas --reason resale --certificate 1",
        2,
        "'TEXAS' is not a place: write country and state like US-TX",
    ),
    "an exemption has a reason": ((), "tax exempt birch US-TX --reason '' --certificate 1", 2, "the reason is empty"),
    "an exemption rests on a certificate": (
        (),
        "tax exempt birch US-TX --reason resale --certificate ''",
        2,
        "the number of the certificate is empty",
    ),
    "an exemption expires after it begins": (
        (),
        f"{EXEMPT} --from 2026-08-20 --expires 2026-08-19",
        1,
        "the exemption would expire on 2026-08-19, before it begins on 2026-08-20",
    ),
    "an exemption begins in no closed month": (
        CLOSED,
        f"{EXEMPT} --from 2026-06-01",
        1,
        "the exemption is dated 2026-06-01, but 2026-06 is closed",
    ),
    "two exemptions do not overlap": (
        (f"{EXEMPT} --from 2026-07-01",),
        "tax exempt birch US-TX-AUSTIN --reason farm --certificate 2",
        1,
        (
            "Birch Flying Club is exempt in US-TX from 2026-07-01 on already: give days outside that, or strike it "
            "first with `coatbook strike exemption:1 --why …`"
        ),
    ),
}


@pytest.mark.parametrize("rule", RULES)
def test_a_rule_is_refused_by_one_sentence(rule: str, furnished: Path, coatbook: Command, refused: Command) -> None:
    before, typed, code, says = RULES[rule]
    for line in before:
        coatbook(*shlex.split(line))
    sentence = refused(*shlex.split(typed), code=code)
    assert sentence.startswith("coatbook: ")
    assert says in sentence
    assert "\n" not in sentence


def test_a_new_book_asks_for_the_name_of_the_shop(tmp_path: Path, refused: Command) -> None:
    new = tmp_path / "new.db"
    assert "the name of the shop is empty" in refused("--book", new, "init", "--name", "", "--address", "A", code=2)
    assert not new.exists()
