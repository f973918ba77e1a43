"""Registration marks against the US rule, its register's size and order, and open data sets of other states' marks."""

from collections.abc import Iterator
from itertools import islice, product

import pytest

from coatbook.values import Misuse
from coatbook.values.marks import parse_mark
from published.checks import Check, table

REGISTRY_PAGE = "14 CFR 47.15 as the FAA registry page on forming an N-number restates it"
CONVERTER = "icao-nnumber-converter-us 0.1.0 (PyPI), run over A00001 to ADF7C7"
LIST_BY_STATE = "flydenity 0.1.6 (PyPI), processed_itu_countries_regex.csv"
RANGES = "Collen-Roller/flydenity@22f11a4 flydenity/processed_itu_countries.csv"
PREFIXES = "vradarserver/standing-data@6057bae registration-prefixes/schema-01/reg-prefixes.csv"
ANNEX_7 = "ICAO Annex 7 practice: N, JA and HL are painted without a hyphen"

LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"  # 24: no I, no O
DIGITS = "0123456789"
FIRST_ADDRESS = 0xA00001
LAST_ADDRESS = 0xADF7C7


def us_marks() -> Iterator[str]:
    """Every US mark in the order of its 24-bit address: a number, its lettered marks, then the longer numbers."""

    def below(number: str) -> Iterator[str]:
        yield number
        if len(number) <= 5:
            yield from (number + last for last in lettered(6 - len(number)))
        if len(number) <= 5:
            for digit in DIGITS:
                yield from below(number + digit)

    def lettered(room: int) -> Iterator[str]:
        for first in LETTERS:
            yield first
            if room >= 2:
                yield from (first + second for second in LETTERS)

    for digit in DIGITS[1:]:
        yield from below("N" + digit)


@pytest.fixture(scope="module")
def register() -> list[str]:
    return list(us_marks())


@pytest.mark.published(source=CONVERTER)
def test_the_register_has_as_many_marks_as_addresses(register: list[str]) -> None:
    assert len(register) == len(set(register)) == 915_399 == LAST_ADDRESS - FIRST_ADDRESS + 1
    assert (register[0], register[-1]) == ("N1", "N99999")
    letters = [sum(character.isalpha() for character in mark) - 1 for mark in register]
    assert [letters.count(number) for number in (0, 1, 2)] == [99_999, 239_976, 575_424]


@pytest.mark.published(source=REGISTRY_PAGE)
def test_every_us_mark_is_accepted_as_it_is(register: list[str]) -> None:
    odd = [mark for mark in register if (found := parse_mark(mark)).text != mark or found.state != "United States"]
    assert odd == []


@pytest.mark.published(source=REGISTRY_PAGE)
def test_no_other_short_mark_is_accepted(register: list[str]) -> None:
    issued = set(register)
    for size in (1, 2, 3):
        for characters in product("ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789", repeat=size):
            mark = "N" + "".join(characters)
            assert _accepted(mark) == (mark in issued), mark


def _accepted(mark: str) -> bool:
    try:
        parse_mark(mark)
    except Misuse:
        return False
    return True


ADDRESSES = [
    Check(f"address-{mark}", mark, address, CONVERTER)
    for mark, address in {
        "N1": 0xA00001,
        "N1AA": 0xA00003,
        "N1AZ": 0xA0001A,
        "N1B": 0xA0001B,
        "N1ZZ": 0xA00259,
        "N10": 0xA0025A,
        "N10A": 0xA0025B,
        "N100": 0xA004B3,
        "N1000": 0xA0070C,
        "N10000": 0xA00725,
        "N11": 0xA029D9,
        "N123AZ": 0xA05EEF,
        "N1234Z": 0xA061D3,
        "N12345": 0xA061D9,
        "N172SP": 0xA12239,
        "N5": 0xA6353D,
        "N757F": 0xAA3487,
        "N99": 0xADD049,
        "N999ZZ": 0xADF669,
        "N9999Z": 0xADF7BD,
        "N99999": 0xADF7C7,
    }.items()
]


@table(ADDRESSES)
def test_the_enumeration_is_in_the_order_of_addresses(check: Check, register: list[str]) -> None:
    """The generator above is checked by an outside one, so that its count means something."""
    check.agrees(FIRST_ADDRESS + register.index(check.inputs))


VALID = [
    Check(f"us-{mark}", mark, "United States", REGISTRY_PAGE) for mark in ("N12345", "N1A", "N1234Z", "N24BY", "N123AZ")
]


@table(VALID)
def test_the_registrys_own_examples_are_accepted(check: Check) -> None:
    check.agrees(parse_mark(check.inputs).state)


INVALID = [
    *(
        Check(f"not-us-{mark}", mark, False, REGISTRY_PAGE)
        for mark in (
            "N01Z",  # the registry's own example
            "N0123",
            "N00001",
            "N123456",
            "N12345A",
            "N123ABC",
            "N1ABC",
            "N12I",
            "N12O",
            "N1A2",
            "N12A34",
            "123AB",
        )
    ),
    # what that library's wide patterns accept and no state issues
    *(
        Check(f"no-state-{mark}", mark, False, "run of flydenity 0.1.6 (PyPI): accepted there, issued by no state")
        for mark in ("N0", "NABCD", "N", "G-ABC", "C-XABC", "VH-AB")
    ),
]


@table(INVALID)
def test_marks_that_cannot_exist_are_refused(check: Check) -> None:
    check.agrees(_accepted(check.inputs))


SPELLINGS = [
    Check(f"spelling-{number}", typed, "N123AB", ANNEX_7, status="memory")
    for number, typed in enumerate(["n-123ab", "N 123AB", "n123ab", "N‑123AB", "N–123AB"], 1)
]


@table(SPELLINGS)
def test_a_us_mark_carries_no_hyphen(check: Check) -> None:
    check.agrees(parse_mark(check.inputs).text)


STATES = [
    Check(f"state-{mark}", mark, state, LIST_BY_STATE)
    for mark, state in {
        "C-FABC": "Canada",
        "C-GABC": "Canada",
        "C-IABC": "Canada",
        "G-ABCD": "United Kingdom",
        "D-EABC": "Germany",
        "D-IABC": "Germany",
        "D-1234": "Germany",
        "F-GABC": "France",
        "OE-KAB": "Austria",
        "VH-ABC": "Australia",
        "ZS-ABC": "South Africa",
        "JA12AB": "Japan",
        "B-1234": "China",
        "PH-ABC": "Netherlands",
        "OO-ABC": "Belgium",
        "I-ABCD": "Italy",
        "EC-ABC": "Spain",
        "XA-ABC": "Mexico",
        "XB-ABC": "Mexico",
        "EI-ABC": "Ireland",
        "PT-ABC": "Brazil",
        "ZK-ABC": "New Zealand",
        "LN-ABC": "Norway",
        "OH-ABC": "Finland",
        "HL1234": "South Korea",
    }.items()
]

# the first and last mark of ranges that the list gives for gliders, ultralights and the like
ENDS = [
    Check(f"range-{mark}", mark, state, RANGES)
    for marks, state in (
        ("OE-0001 OE-5999 OE-9000", "Austria"),
        ("OO-01 OO-499 OO-501 OO-A01 OO-Z99", "Belgium"),
        ("B-0000 B-000A B-999Z B-00AA B-99ZZ", "China"),
        ("B-HAA B-KZZ B-LAA", "Hong Kong"),
        ("B-MAA B-MZZ", "Macau"),
        ("B-00000 B-99999", "Taiwan"),
        ("HK-1000A HK-9999Z", "Colombia"),
        ("CU-A1000 CU-U1999", "Cuba"),
        ("OK-AAA00 OK-ZZZ99 OK-0000 OK-A000 OK-X000A", "Czechia"),
        ("OY-81 OY-8999 OY-1001", "Denmark"),
        ("OH-001 OH-999 OH-G001 OH-U999", "Finland"),
        ("HA-1111 HA-9999", "Hungary"),
        ("TF-100 TF-999", "Iceland"),
        ("I-0001 I-Z999", "Italy"),
        ("JA0001 JA001A JA99ZZ JAA001", "Japan"),
        ("HL0000 HLC999 HL9100", "South Korea"),
        ("PH-1AA PH-1A1 PH-9Z9 PH-100 PH-9999", "Netherlands"),
        ("RP-0001 RP-C9999 RP-U001A RP-X0001", "Philippines"),
        ("RA-00001 RA-9999K RA-0001G", "Russia"),
        ("YU-0000 YU-A000 YU-Z999 YU-D9999", "Serbia"),
        ("OM-AAAA OM-M999 OM-0000", "Slovakia"),
        ("S5-1000 S5-7999 S5-HAA", "Slovenia"),
        ("EC-AA0 EC-001", "Spain"),
        ("SE-A01 SE-Z99", "Sweden"),
        ("UR-10000 UR-AAAA", "Ukraine"),
        ("YV1000 YV100T YV999E YVO100", "Venezuela"),
        ("VP-BAA VQ-BZZ", "Bermuda"),
        ("VP-CAA", "Cayman Islands"),
        ("9XR-AA", "Rwanda"),
        ("A9C-AA A9C-ZZZZ", "Bahrain"),
    )
    for mark in marks.split()
]

BY_PREFIX = [
    Check(f"prefix-{mark}", mark, state, PREFIXES)
    for mark, state in {
        "2-ABCD": "Guernsey",
        "4X-ABC": "Israel",
        "9A-ABC": "Croatia",
        "9H-ABC": "Malta",
        "9M-ABC": "Malaysia",
        "9V-ABC": "Singapore",
        "A6-ABC": "United Arab Emirates",
        "CC-ABC": "Chile",
        "CS-ABC": "Portugal",
        "CX-ABC": "Uruguay",
        "HB-ABC": "Switzerland or Liechtenstein",
        "HP-1234": "Panama",
        "HS-ABC": "Thailand",
        "LV-ABC": "Argentina",
        "LV-X123": "Argentina",
        "LX-ABC": "Luxembourg",
        "LZ-ABC": "Bulgaria",
        "M-ABCD": "Isle of Man",
        "OY-ABC": "Denmark",
        "PK-ABC": "Indonesia",
        "PP-ABC": "Brazil",
        "PU-ABC": "Brazil",
        "SE-ABC": "Sweden",
        "SP-ABC": "Poland",
        "SX-ABC": "Greece",
        "T7-ABC": "San Marino",
        "TC-ABC": "Türkiye",
        "VT-ABC": "India",
        "XC-ABC": "Mexico",
        "YR-1234": "Romania",
        "Z-ABC": "Zimbabwe",
        "ZA-ABC": "Albania",
    }.items()
]


@table([*STATES, *ENDS, *BY_PREFIX])
def test_marks_of_other_states_are_accepted_as_they_are_painted(check: Check) -> None:
    found = parse_mark(check.inputs)
    check.agrees(found.state)
    assert found.text == check.inputs
    assert found.warning is None


def test_the_enumeration_begins_as_the_rule_reads() -> None:
    assert list(islice(us_marks(), 4)) == ["N1", "N1A", "N1AA", "N1AB"]
