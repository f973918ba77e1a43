"""Aircraft registration marks: one canonical spelling and one key for all the ways a mark is typed.

The US rule (14 CFR 47.15) is exact. For other known states the pattern in mark_states.py is enforced; a mark with an
unknown prefix is kept with a warning. Hyphens and spaces of any kind are accepted on input.
"""

import re
from dataclasses import dataclass

from coatbook.values.mark_states import LONGEST_PREFIX, PATTERNS, Pattern
from coatbook.values.refusal import Misuse

SHORTEST = 2
LONGEST = 10

# hyphen, soft hyphen and the dashes and minus signs that word processors put in its place
_SEPARATORS = re.compile(r"[\s\-\u00ad\u058a\u2010-\u2015\u2043\u2212\ufe58\ufe63\uff0d]+")
_PLAIN = re.compile(r"[0-9A-Za-z]+")
_NAMES_A_STATE = re.compile(r"[A-Z]|[2-9][A-Z]")
_OLD_DISPLAY = re.compile(r"[CLRSX]([1-9][0-9A-Z]*)")

# first letters whose whole radio call sign series belongs to one state (ITU Radio Regulations, appendix 42)
_ONE_STATE_LETTERS = "BFGIMN"


@dataclass(frozen=True, slots=True)
class Mark:
    """A registration mark. Two spellings of one mark have the same key.

    Attributes:
        text: the canonical spelling, such as N123AB or D-EABC.
        key: its letters and digits only, in upper case.
        state: the state of registry, None where the prefix is unknown.
        warning: a sentence where the form could not be checked.
    """

    text: str
    key: str
    state: str | None
    warning: str | None = None


def key_of(text: str) -> str:
    """The ASCII letters and digits of `text` in upper case, whatever it is: a key to look a mark up by."""
    return "".join(_PLAIN.findall(text)).upper()


def parse_mark(text: str) -> Mark:
    """Read a mark as typed: "n 123ab", "D-EABC", "deabc".

    Raises:
        Misuse: no state issues such a mark; the sentence names the rule it breaks.
    """
    head, rest = _parts(text)
    key = head + rest
    known = _known_prefixes(head, rest)
    for prefix in known:
        for pattern in PATTERNS[prefix]:
            suffix = key[len(prefix) :]
            if pattern.suffix.fullmatch(suffix):
                return Mark(pattern.text(suffix), key, pattern.state)
    if known and (not rest or known[0] == head or key[0] in _ONE_STATE_LETTERS):
        raise Misuse(_why_not(key, PATTERNS[known[0]]))
    spelled = f"{head}-{rest}" if rest else head
    return Mark(
        spelled,
        key,
        None,
        f"the prefix of {spelled} is not one coatbook knows, so its form was not checked: compare it with the "
        "certificate of registration",
    )


def _parts(text: str) -> tuple[str, str]:
    """What stands before the first hyphen or space, and the rest, both in upper case."""
    pieces = [piece for piece in _SEPARATORS.split(text) if piece]
    whole = "".join(pieces)
    typed = repr(text[:40])
    if not _PLAIN.fullmatch(whole):
        raise Misuse(f"{typed} is not a registration mark: use the letters A to Z, digits and a hyphen")
    if not SHORTEST <= len(whole) <= LONGEST:
        raise Misuse(f"{typed} is not a registration mark: it has {SHORTEST} to {LONGEST} letters and digits")
    if not _NAMES_A_STATE.match(whole.upper()):
        raise Misuse(f"{typed} names no state: a mark begins with its state's letters, such as N or D")
    return pieces[0].upper(), "".join(pieces[1:]).upper()


def _known_prefixes(head: str, rest: str) -> list[str]:
    """The prefixes the mark may have, longest first. A known one before a hyphen is the only one."""
    if rest and head in PATTERNS:
        return [head]
    key = head + rest
    return [key[:size] for size in range(LONGEST_PREFIX, 0, -1) if key[:size] in PATTERNS]


def _why_not(key: str, patterns: tuple[Pattern, ...]) -> str:
    first = patterns[0]
    suffix = key[len(first.prefix) :]
    if first.prefix == "N":
        return f"{key} is not a US registration: {_us_fault(suffix)}"
    forms = "; or ".join(f"{pattern.words} ({pattern.state})" for pattern in patterns)
    return f"{first.text(suffix)} is not a registration mark: after {first.prefix} come {forms}"


def _us_fault(suffix: str) -> str:
    """The rule of 14 CFR 47.15 that what follows N breaks, and what to write instead."""
    old = _OLD_DISPLAY.fullmatch(suffix)
    if old:
        # 14 CFR 45.22 lets an old aircraft display NC, NX and the like
        return f"a letter that an old aircraft displays after N is not part of its mark, write N{old[1]}"
    if "I" in suffix or "O" in suffix:
        return "the letters I and O are not used, write the digits 1 and 0"
    if not suffix[0].isdigit() or suffix[0] == "0":
        return "the first character after N is a digit from 1 to 9"
    if len(suffix) > 5:
        return "at most five characters follow N"
    if re.search(r"[A-Z][0-9]", suffix):
        return "letters come last, no digit may follow one"
    return "at most two letters stand at the end"
