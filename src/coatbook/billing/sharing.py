"""How a job's lines are shared among those who pay for it: to the cent, in all and line by line."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from coatbook.billing.record import Line
from coatbook.jobs.views import Payer
from coatbook.values import Money, Refusal

MILLION = 1_000_000


@dataclass(frozen=True, slots=True)
class Part:
    """One payer's part: its lines, and its share of what fixed sums leave, in millionths (None: a fixed sum)."""

    customer: int
    share: int | None
    lines: tuple[Line, ...]
    net: Money


def parts(job: int, lines: Sequence[Line], payers: Sequence[Payer]) -> tuple[Part, ...]:
    """The lines of a job shared among its payers.

    Fixed sums are of the net and come first; what they leave is shared by per cent. The parts of each line add up to
    the line, and each payer's to the payer's sum, exactly.

    Raises:
        Refusal: the shares do not add up to the whole.
    """
    net = sum((line.net for line in lines), Money.zero(lines[0].net.currency))
    shares = _shares(job, payers)
    sums = _sums(job, net, payers, shares)
    if len(payers) == 1:
        return (Part(payers[0].customer, shares[0], tuple(lines), net),)
    split = split_lines([line.net for line in lines], sums, [share or 0 for share in shares])
    return tuple(
        Part(
            payer.customer,
            share,
            tuple(replace(line, net=of[place], whole=line.net) for line, of in zip(lines, split, strict=True)),
            sums[place],
        )
        for place, (payer, share) in enumerate(zip(payers, shares, strict=True))
    )


def _shares(job: int, payers: Sequence[Payer]) -> tuple[int | None, ...]:
    """Each payer's share of what fixed sums leave, in millionths; None for a fixed sum."""
    sharing = [payer for payer in payers if payer.minor is None]
    given = sum(payer.share or 0 for payer in sharing)
    rest = [payer for payer in sharing if payer.share is None]
    if len(rest) > 1:
        raise Refusal(
            f"{len(rest)} who pay for job {job} have no share of their own: only one can take the rest; write the "
            f"others' shares with `coatbook job party {job} pays …`"
        )
    if given > MILLION or (sharing and (given == MILLION) == bool(rest)):
        raise Refusal(
            f"the shares of job {job} come to {_per_cent(given)} %{' and a rest' if rest else ''}: they must come to "
            f"100 % exactly; write them anew with `coatbook job party {job} pays …`"
        )
    return tuple(
        None if payer.minor is not None else MILLION - given if payer.share is None else payer.share for payer in payers
    )


def _per_cent(millionths: int) -> str:
    text = f"{millionths // 10_000}.{millionths % 10_000:04}"
    return text.rstrip("0").rstrip(".")


def _sums(job: int, net: Money, payers: Sequence[Payer], shares: Sequence[int | None]) -> list[Money]:
    """What each payer is asked for before tax."""
    fixed = Money(sum(payer.minor or 0 for payer in payers), net.currency)
    left = net - fixed
    if left.minor < 0:
        raise Refusal(
            f"the fixed sums of job {job} come to {fixed}, more than the {net} of its lines before tax: write them "
            f"anew with `coatbook job party {job} pays …`"
        )
    weights = [share or 0 for share in shares]
    if not any(weights):
        if left:
            raise Refusal(
                f"the fixed sums of job {job} come to {fixed} of {net} before tax and nobody pays the other {left}: "
                f"write who takes the rest with `coatbook job party {job} pays …`"
            )
        return [Money(payer.minor or 0, net.currency) for payer in payers]
    by_share = left.split(weights)
    return [
        part if payer.minor is None else Money(payer.minor, net.currency)
        for payer, part in zip(payers, by_share, strict=True)
    ]


def split_lines(nets: Sequence[Money], sums: Sequence[Money], shares: Sequence[int]) -> list[tuple[Money, ...]]:
    """Each line's parts, so that a line's parts add up to it and the parts of a payer to its sum.

    A line is split in the proportion of what is still to come to each payer, so the last one leaves nothing. Lines
    below zero come first: they are given back in the proportion of the sums, and leave more to come.
    """
    to_come = [one.minor for one in sums]
    split: dict[int, tuple[Money, ...]] = {}
    for place in sorted(range(len(nets)), key=lambda place: nets[place].minor >= 0):
        weights = to_come if any(to_come) else list(shares)
        split[place] = nets[place].split(weights) if nets[place] else (Money.zero(nets[place].currency),) * len(sums)
        to_come = [left - part.minor for left, part in zip(to_come, split[place], strict=True)]
    return [split[place] for place in range(len(nets))]
