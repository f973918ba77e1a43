"""Registration marks: spellings, keys, refusals, unknown prefixes. Figures from outside are in tests/published."""

import re
import string

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coatbook.values import Misuse
from coatbook.values.mark_states import PATTERNS, Pattern
from coatbook.values.marks import LONGEST, Mark, key_of, parse_mark

ALL_PATTERNS = [pattern for patterns in PATTERNS.values() for pattern in patterns]
DASHES = "-‐‑‒–—―−－\u00ad \u00a0\u202f\t"


@st.composite
def marks(draw: st.DrawFn) -> tuple[Pattern, str]:
    """A pattern and what may follow its prefix."""
    pattern = draw(st.sampled_from(ALL_PATTERNS))
    return pattern, draw(st.from_regex(pattern.suffix, fullmatch=True))


@given(marks(), st.sampled_from(DASHES), st.booleans())
def test_every_spelling_of_a_mark_is_one_mark(mark: tuple[Pattern, str], dash: str, small: bool) -> None:
    pattern, suffix = mark
    for typed in (f"{pattern.prefix}{dash}{suffix}", f" {pattern.prefix}{suffix}"):
        found = parse_mark(typed.lower() if small else typed)
        assert found == Mark(pattern.text(suffix), pattern.prefix + suffix, pattern.state, None)
        assert found.key == key_of(typed) == key_of(found.text)
        assert parse_mark(found.text) == found


@given(marks())
def test_no_mark_could_belong_to_two_states(mark: tuple[Pattern, str]) -> None:
    pattern, suffix = mark
    key = pattern.prefix + suffix
    owners = [
        other
        for other in ALL_PATTERNS
        if key.startswith(other.prefix) and other.suffix.fullmatch(key[len(other.prefix) :])
    ]
    assert owners == [pattern]


@pytest.mark.parametrize("typed", ["N 123AB", "n-123ab", "N1-23AB", "N‑123 AB", "N—123AB", "n123ab\n"])
def test_spellings_of_a_us_mark(typed: str) -> None:
    assert parse_mark(typed) == Mark("N123AB", "N123AB", "United States")


@pytest.mark.parametrize(
    ("typed", "text", "state"),
    [
        ("deabc", "D-EABC", "Germany"),
        ("de-abc", "D-EABC", "Germany"),
        ("CF-ABC", "C-FABC", "Canada"),
        ("CXABC", "CX-ABC", "Uruguay"),
        ("ja-12ab", "JA12AB", "Japan"),
        ("HL 1234", "HL1234", "South Korea"),
        ("vpbab", "VP-BAB", "Bermuda"),
        ("B-HAB", "B-HAB", "Hong Kong"),
        ("ok-abc 12", "OK-ABC12", "Czechia"),
    ],
)
def test_the_canonical_spelling_is_the_states(typed: str, text: str, state: str) -> None:
    found = parse_mark(typed)
    assert (found.text, found.state) == (text, state)


@pytest.mark.parametrize(
    ("typed", "rule"),
    [
        ("N0", "the first character after N is a digit from 1 to 9"),
        ("NABCD", "the first character after N is a digit from 1 to 9"),
        ("N123456", "at most five characters follow N"),
        ("N1ABC", "at most two letters stand at the end"),
        ("N1A2", "letters come last, no digit may follow one"),
        ("N12I", "the letters I and O are not used, write the digits 1 and 0"),
        ("NC12345", "a letter that an old aircraft displays after N is not part of its mark, write N12345"),
        ("N1-23456", "at most five characters follow N"),
        ("G-ABC", "after G come four letters"),
        ("GABC", "after G come four letters"),
        ("C-XABC", "after C come F, G or I and three letters"),
        ("VH-AB", "after VH come three letters or digits, one of them a letter"),
        ("VH-123", "after VH come three letters or digits, one of them a letter"),
        ("B-HABC", "H, K or L and two letters (Hong Kong)"),
        ("HL12345", "after HL come four digits, or C and three digits"),
        ("123AB", "a mark begins with its state's letters"),
        ("", "use the letters A to Z, digits and a hyphen"),
        ("--", "use the letters A to Z, digits and a hyphen"),
        ("N", "it has 2 to 10 letters and digits"),
        ("QQ-123456789", "it has 2 to 10 letters and digits"),
        ("N123ÄB", "use the letters A to Z, digits and a hyphen"),
        ("N１２３", "use the letters A to Z, digits and a hyphen"),
        ("N\u0661", "use the letters A to Z, digits and a hyphen"),
        ("N12.3", "use the letters A to Z, digits and a hyphen"),
        ("ſE-ABC", "use the letters A to Z, digits and a hyphen"),
    ],
)
def test_an_impossible_mark_is_refused_by_the_rule_it_breaks(typed: str, rule: str) -> None:
    with pytest.raises(Misuse, match=re.escape(rule)) as refusal:
        parse_mark(typed)
    assert "\n" not in str(refusal.value)


@pytest.mark.parametrize(("typed", "text"), [("qq-abc", "QQ-ABC"), ("QQABC", "QQABC"), ("HI 862 CA", "HI-862CA")])
def test_an_unknown_prefix_is_kept_with_a_warning(typed: str, text: str) -> None:
    found = parse_mark(typed)
    assert (found.text, found.key, found.state) == (text, key_of(typed), None)
    assert found.warning is not None
    assert found.warning.startswith(f"the prefix of {text} is not one coatbook knows")


@given(st.text(max_size=15))
def test_whatever_is_typed_is_a_mark_or_a_refusal(typed: str) -> None:
    try:
        found = parse_mark(typed)
    except Misuse:
        return
    assert set(found.text) <= set(string.ascii_uppercase + string.digits + "-")
    assert found.key == key_of(typed)
    assert len(found.key) <= LONGEST


def test_a_key_is_made_of_anything() -> None:
    assert key_of("sn:172-80001") == "SN17280001"
    assert key_of("ß ・") == ""


def test_forty_states_and_more_are_known() -> None:
    assert len({pattern.state for pattern in ALL_PATTERNS}) >= 40
    assert all(re.fullmatch(r"[A-Z0-9]{1,4}", prefix) for prefix in PATTERNS)
