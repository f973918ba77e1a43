"""A job's lines shared among those who pay: to the cent, in all and line by line, or refused."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from billing.agreed import REST, fixed, per_cent
from coatbook.billing.record import Line
from coatbook.billing.sharing import parts, split_lines
from coatbook.jobs.views import Payer
from coatbook.values import Money, Price, Quantity, Refusal
from desk.shopfloor import usd

EACH = Quantity.of(1, "each")


def lines(*nets: str) -> list[Line]:
    return [Line("wash", f"Line {net}", EACH, Price(usd(net), EACH), usd(net), "labor") for net in nets]


def shared(nets: tuple[str, ...], *payers: Payer) -> list[list[str]]:
    """What each payer is asked for, line by line."""
    return [[str(line.net) for line in part.lines] for part in parts(7, lines(*nets), payers)]


def test_one_who_pays_gets_the_lines_as_they_are() -> None:
    for payer in (REST, per_cent("100"), fixed("150.00")):
        (part,) = parts(7, lines("100.00", "50.00"), [payer])
        assert part.lines == tuple(lines("100.00", "50.00"))
        assert part.net == usd("150.00")


def test_by_per_cent() -> None:
    assert shared(("100.00", "50.01"), per_cent("60"), per_cent("40")) == [["60.00", "30.01"], ["40.00", "20.00"]]


def test_the_rest_is_what_the_others_leave() -> None:
    assert shared(("100.00",), REST, per_cent("12.5")) == [["87.50"], ["12.50"]]
    (_, rest) = parts(7, lines("100.00"), [per_cent("12.5"), REST])
    assert rest.share == 875_000


def test_fixed_sums_come_first_and_the_rest_is_by_per_cent() -> None:
    # 774.00 less 200.00 is 574.00; 60 % of it is 344.40
    found = parts(7, lines("150.00", "624.00"), [per_cent("60"), fixed("200.00"), per_cent("40")])
    assert [str(part.net) for part in found] == ["344.40", "200.00", "229.60"]
    assert [part.share for part in found] == [600_000, None, 400_000]
    assert [sum((line.net for line in part.lines), usd("0.00")) for part in found] == [part.net for part in found]


def test_fixed_sums_alone_are_the_whole() -> None:
    assert shared(("100.00", "50.00"), fixed("30.00"), fixed("120.00")) == [["20.00", "10.00"], ["80.00", "40.00"]]


def test_a_line_below_zero_is_given_back_in_the_same_proportion() -> None:
    assert shared(("100.00", "-20.00"), per_cent("75"), REST) == [["75.00", "-15.00"], ["25.00", "-5.00"]]


def test_lines_that_come_to_nothing_are_shared_all_the_same() -> None:
    assert shared(("100.00", "-100.00"), per_cent("75"), REST) == [["75.00", "-75.00"], ["25.00", "-25.00"]]
    assert shared(("0.00",), per_cent("75"), REST) == [["0.00"], ["0.00"]]


def test_what_a_line_comes_to_in_all_stands_beside_each_part() -> None:
    first, second = parts(7, lines("100.00", "0.00"), [per_cent("75"), REST])
    assert [line.whole for line in (*first.lines, *second.lines)] == [usd("100.00"), usd("0.00")] * 2
    assert [line.is_part for line in first.lines] == [True, False]


@pytest.mark.parametrize(
    ("payers", "told"),
    [
        ((per_cent("60"), per_cent("30")), r"the shares of job 7 come to 90 %: they must come to 100 % exactly"),
        ((per_cent("60"), per_cent("40.5")), "come to 100.5 %: they must come to 100 % exactly"),
        ((per_cent("60"), per_cent("40"), REST), "come to 100 % and a rest: they must come to 100 % exactly"),
        ((per_cent("60"),), "come to 60 %"),
        ((REST, REST), "2 who pay for job 7 have no share of their own: only one can take the rest"),
        ((fixed("100.01"), REST), r"the fixed sums of job 7 come to 100\.01, more than the 100\.00 of its lines"),
        ((fixed("60.00"), fixed("39.99")), r"come to 99\.99 of 100\.00 before tax and nobody pays the other 0\.01"),
        ((fixed("60.00"),), "nobody pays the other 40.00"),
    ],
)
def test_shares_that_are_not_the_whole_are_refused(payers: tuple[Payer, ...], told: str) -> None:
    with pytest.raises(Refusal, match=told):
        parts(7, lines("100.00"), payers)


CENTS = st.integers(0, 10_000_00) | st.integers(0, 9)


@given(st.lists(CENTS, min_size=1, max_size=8), st.lists(CENTS, max_size=3), st.data())
def test_no_cent_is_lost_and_none_is_taken_twice(nets: list[int], back: list[int], data: st.DataObject) -> None:
    whole = sum(nets)
    taken: list[int] = []
    for cents in back:
        taken.append(min(cents, whole - sum(taken)))
    split_at = sorted(data.draw(st.lists(st.integers(0, whole - sum(taken)), min_size=1, max_size=4)))
    bounds = [0, *split_at, whole - sum(taken)]
    sums = [Money(high - low, "USD") for low, high in pairwise(bounds)]
    amounts = [Money(minor, "USD") for minor in (*nets, *(-minor for minor in taken))]
    found = split_lines(amounts, sums, [1] * len(sums))
    for amount, of in zip(amounts, found, strict=True):
        assert sum(part.minor for part in of) == amount.minor
        assert all(part.minor * amount.minor >= 0 for part in of)
    for place, asked in enumerate(sums):
        assert sum(of[place].minor for of in found) == asked.minor


@given(
    st.lists(CENTS, min_size=1, max_size=6), st.lists(st.integers(1, 500_000), max_size=3), st.lists(CENTS, max_size=2)
)
def test_shares_of_any_kind_add_up(nets: list[int], shares: list[int], sums: list[int]) -> None:
    given_shares = [share for place, share in enumerate(shares) if sum(shares[: place + 1]) < 1_000_000]
    fits = [minor for place, minor in enumerate(sums) if sum(sums[: place + 1]) <= sum(nets)]
    payers = [*(Payer(9, None, minor) for minor in fits), *(Payer(8, share, None) for share in given_shares), REST]
    amounts = [Money(minor, "USD") for minor in nets]
    asked = [Line("wash", "Wash", EACH, Price(amount, EACH), amount, "labor") for amount in amounts]
    found = parts(7, asked, payers)
    for place, line in enumerate(asked):
        assert sum(part.lines[place].net.minor for part in found) == line.net.minor
    for part, payer in zip(found, payers, strict=True):
        assert part.net.minor == sum(line.net.minor for line in part.lines) >= 0
        if payer.minor is not None:
            assert part.net.minor == payer.minor
        else:
            assert part.share is not None
            assert abs(part.net.minor * 1_000_000 - (sum(nets) - sum(fits)) * part.share) <= 1_000_000
