"""ISO 4217 codes and their decimals."""

import pytest

from coatbook.values import Misuse
from coatbook.values.currency import digits


@pytest.mark.parametrize("code", ["", "usd", "US", "USDX", "DEM", "XXX", "€"])
def test_what_is_no_code_in_use_is_refused(code: str) -> None:
    with pytest.raises(Misuse, match="not an ISO 4217 currency code"):
        digits(code)


def test_dollars_have_cents_and_yen_do_not() -> None:
    assert (digits("USD"), digits("JPY")) == (2, 0)
