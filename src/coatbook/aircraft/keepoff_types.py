"""What usually stands on a keep-off list, by type of aircraft, and what each rule asks for.

All of it is common practice, no source; confirm against the aircraft and its maker's manual. The lists are rather too
long than too short: what an aircraft does not have is written with a count of 0 once somebody has looked.
"""

from dataclasses import dataclass

UNSOURCED = "common practice, no source; confirm against the aircraft and its maker's manual"

# Each rule of RULES as a sentence for paper.
RULE_SENTENCES = {
    "mask": "Mask it before any washing, polishing or coating; every mask comes off again and is counted.",
    "no touch": "Nothing touches it: no cloth, no pressure, no water jet, no product.",
    "no polish": "Wash it only by hand; no polish and nothing abrasive.",
    "no coating": "Wash it; no wax, sealant or coating.",
    "no polish or coating": "Wash it only; never any polish, wax, sealant or coating.",
    "named products only": "Only what its maker names for it touches it, in the way its maker says.",
    "keep readable": "It must stay readable: no polishing across it, and nothing laid over it that clouds or hides it.",
}


@dataclass(frozen=True, slots=True)
class UsualItem:
    """One part as keep-off lists usually name it, and the rule it usually has."""

    item: str
    rule: str


_EVERY_AIRPLANE = (
    UsualItem("static port", "mask"),
    UsualItem("pitot tube", "mask"),
    UsualItem("stall sensor", "no touch"),
    UsualItem("air temperature probe", "no touch"),
    UsualItem("fuel vent", "mask"),
    UsualItem("fuel cap", "mask"),
    UsualItem("fuel drain", "mask"),
    UsualItem("engine breather", "mask"),
    UsualItem("air inlet", "mask"),
    UsualItem("control hinge gap", "no polish or coating"),
    UsualItem("hinge bearing", "no touch"),
    UsualItem("static wick", "no touch"),
    UsualItem("bonding strap", "no polish or coating"),
    UsualItem("antenna", "no polish or coating"),
    UsualItem("acrylic window", "named products only"),
    UsualItem("propeller", "named products only"),
    UsualItem("brake disk", "no touch"),
    UsualItem("vortex generator", "no touch"),
    UsualItem("placard", "keep readable"),
    UsualItem("data plate", "keep readable"),
    UsualItem("registration mark", "keep readable"),
)
_STEP = UsualItem("boarding step", "no polish or coating")  # a coated one is slippery
_WALKWAY = UsualItem("wing walkway", "no polish or coating")
_ANGLE_OF_ATTACK = UsualItem("angle-of-attack sensor", "no touch")
_BOOT = UsualItem("de-ice boot", "named products only")
_FLUID_EDGE = UsualItem("fluid-exuding leading edge", "no polish or coating")
_HEATED_GLASS = UsualItem("heated glass", "named products only")
_RADOME = UsualItem("radome", "no polish or coating")

# What a type has besides, or has more often than others.
_BESIDES = {
    "high wing": (_STEP,),
    "low wing": (_WALKWAY,),
    "twin": (_WALKWAY, _ANGLE_OF_ATTACK, _BOOT, _FLUID_EDGE, _HEATED_GLASS, _RADOME),
    "turboprop": (
        _ANGLE_OF_ATTACK,
        _BOOT,
        _FLUID_EDGE,
        _HEATED_GLASS,
        _RADOME,
        UsualItem("engine inlet lip", "named products only"),
        UsualItem("exhaust stack", "no touch"),
    ),
    "composite": (
        _WALKWAY,
        _ANGLE_OF_ATTACK,
        _FLUID_EDGE,
        UsualItem("drain hole", "mask"),
        UsualItem("lightning strip", "no polish or coating"),
    ),
    "fabric": (UsualItem("drain grommet", "mask"), UsualItem("fabric tape edge", "no polish")),
    "tailwheel": (UsualItem("tailwheel bearing", "no touch"), UsualItem("gear shock cord", "no touch")),
}
TYPES = tuple(_BESIDES)

_RULES = {usual.item: usual.rule for usual in (*_EVERY_AIRPLANE, *(one for more in _BESIDES.values() for one in more))}


def usual_items(kinds: tuple[str, ...]) -> tuple[UsualItem, ...]:
    """What usually stands on the list of an aircraft that is all these `kinds` (of TYPES) at once; each part once."""
    besides = [usual for kind in kinds for usual in _BESIDES[kind]]
    return tuple(dict.fromkeys((*_EVERY_AIRPLANE, *besides)))


def is_usual(item: str) -> bool:
    """Whether the lists know a part by that name."""
    return item in _RULES


def usual_rule(item: str) -> str:
    """The rule a part usually has; whatever the lists do not know is masked."""
    return _RULES.get(item, "mask")
