"""The one rounding of the book: half up, a tie going away from zero."""


def round_half_up(numerator: int, denominator: int) -> int:
    """The whole number nearest to numerator / denominator."""
    if denominator < 0:
        numerator, denominator = -numerator, -denominator
    size = (2 * abs(numerator) + denominator) // (2 * denominator)
    return size if numerator >= 0 else -size
