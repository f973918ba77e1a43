"""Text as typed: what is kept, what is refused, what is shown."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coatbook.values import Misuse, text

UNSAFE = ["\x00", "\x07", "\x1b[31m", "\t", "a\nb", "\x7f", "\x85", "\u202e", "\u2066", "\u200f", "\u2028", "\ud800"]


def test_a_line_is_trimmed_and_composed() -> None:
    assert text.line("  Zoe\u0308 Example ", "name") == "Zoë Example"


@pytest.mark.parametrize("typed", ["", "   ", "\n"])
def test_an_empty_line_is_refused(typed: str) -> None:
    with pytest.raises(Misuse, match="the name is empty"):
        text.line(typed, "name")


@pytest.mark.parametrize("unsafe", UNSAFE)
def test_a_control_character_is_refused_by_its_number(unsafe: str) -> None:
    with pytest.raises(Misuse, match=r"control character U\+[0-9A-F]{4}"):
        text.line(f"a{unsafe}b", "name")


def test_a_line_has_a_longest_length() -> None:
    assert len(text.line("x" * text.LONGEST_LINE, "name")) == text.LONGEST_LINE
    with pytest.raises(Misuse, match="201 characters: 200 at most"):
        text.line("x" * 201, "name")
    with pytest.raises(Misuse, match="9 characters: 8 at most"):
        text.line("x" * 9, "serial", 8)


def test_a_note_keeps_its_lines() -> None:
    assert text.note(" one \r\n\r\n two\tthree \n", "note") == "one\n\n two three"


@pytest.mark.parametrize("typed", ["", " \n ", "a\x00b", "a\rb", "a\u202eb", "x" * (text.LONGEST_NOTE + 1)])
def test_an_unsafe_note_is_refused(typed: str) -> None:
    with pytest.raises(Misuse):
        text.note(typed, "note")


@pytest.mark.parametrize(
    ("typed", "code"), [("Wash", "wash"), (" step-2 ", "step-2"), ("3m", "3m"), ("a" * 40, "a" * 40)]
)
def test_a_code_is_short_and_lower_case(typed: str, code: str) -> None:
    assert text.code(typed, "code") == code


@pytest.mark.parametrize("typed", ["-wash", "two words", "a" * 41, "wäsche", "a_b", "٣", "a/b", "K\u0130"])
def test_what_is_no_code_is_refused(typed: str) -> None:
    with pytest.raises(Misuse, match="is not a code"):
        text.code(typed, "code")


def test_one_of_lists_what_is_allowed() -> None:
    assert text.one_of(" Go ", ("go", "stop"), "level") == "go"
    with pytest.raises(Misuse, match="the level 'maybe' is not known: use one of go, stop"):
        text.one_of("maybe", ("go", "stop"), "level")


@given(st.text())
def test_what_is_shown_cannot_steer_a_terminal(anything: str) -> None:
    shown = text.shown(anything + "\x1b]0;x\x07\u202e")
    assert not set(shown) & set("\x1b\x07\u202e\x9b\r\x00")
    assert text.shown("a\nb") == "a\nb"


@given(st.text(max_size=60))
def test_a_kept_line_is_kept_again(anything: str) -> None:
    try:
        kept = text.line(anything, "name")
    except Misuse:
        return
    assert text.line(kept, "name") == kept
    assert text.shown(kept) == kept
