"""How much product a skin takes. Exact fractions throughout: nothing here is rounded."""

import math
from fractions import Fraction

from coatbook.values import Quantity


def practical_spreading(spreading: Fraction, loss: Fraction) -> Fraction:
    """What a unit of product really covers: the labeled rate times the share that reaches the skin.

    Shapes: `spreading` in any area per volume; `loss` is the share lost, 0 or more and less than 1.
    """
    return spreading * (1 - loss)


def volume_on_skin(area: Quantity, spreading: Quantity, coats: int) -> Fraction:
    """Liters that lie on `area` after `coats` coats at the labeled rate, nothing lost."""
    return area.value("m2") / spreading.value("m2/L") * coats


def with_loss(volume: Fraction, loss: Fraction) -> Fraction:
    """The volume that has to be mixed so that `volume` reaches the skin: divided by what is not lost."""
    return volume / (1 - loss)


def wet_film(spreading: Quantity) -> Fraction:
    """Micrometers of wet film of one coat: one milliliter on one square meter is one micrometer."""
    return 1000 / spreading.value("m2/L")


def packs_to_buy(needed: Fraction, on_hand: Fraction, pack: Fraction) -> int:
    """Whole packs that make up what is on hand to what is needed; all three in one unit."""
    return max(0, math.ceil((needed - on_hand) / pack))
