"""A cutting job in whole numbers, so that every sum in the search is exact and quick."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from fractions import Fraction
from math import gcd, lcm
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

MOST_UNITS = 1_000_000
"""Ten feet in steps of both 1/64 in and 0.1 mm come to 975,360."""

Filling = tuple[int, ...]
"""How many cuts of each size one bar gives, in the order of the job's sizes."""


@dataclass(frozen=True, slots=True)
class Job:
    """Sizes wanted, longest first, with how many of each; the bars at hand and the bars to buy.

    Each size and each bar is larger by the saw cut than it is: a bar of n cuts loses n - 1 saw cuts, so
    that cuts fit a bar if and only if their enlarged sizes add up to no more than the enlarged bar.
    `unit` [in] is what 1 stands for, and `saw` the saw cut in it.
    """

    sizes: tuple[int, ...]
    wanted: tuple[int, ...]
    at_hand: tuple[int, ...]
    to_buy: tuple[int, ...]
    saw: int
    unit: Fraction

    @property
    def total(self) -> int:
        """All cuts together."""
        return sum(size * count for size, count in zip(self.sizes, self.wanted, strict=True))

    @property
    def count(self) -> int:
        """How many cuts there are."""
        return sum(self.wanted)

    @property
    def too_fine(self) -> bool:
        """Whether the unit is so small beside the bars that sums cannot be held as the bits of a number."""
        return max((*self.at_hand, *self.to_buy), default=0) > MOST_UNITS

    def inches(self, bar: int, used: int) -> Fraction:
        """What is left [in] of a bar after `used` of it; the last saw cut may eat all that was left."""
        left = bar - used
        return max((left - self.saw) * self.unit, Fraction(0))


def job_of(
    lengths: Sequence[Fraction], at_hand: Sequence[Fraction], to_buy: Sequence[Fraction], saw_cut: Fraction
) -> Job:
    """The job in whole numbers: everything times the least number that makes all of it whole.

    >>> job = job_of([Fraction(60), Fraction(60)], [], [Fraction(120)], Fraction(1, 8))
    >>> job.sizes, job.wanted, job.to_buy, job.unit
    ((481,), (2,), (961,), Fraction(1, 8))
    """
    every = [*lengths, *at_hand, *to_buy, saw_cut]
    scale = lcm(*(one.denominator for one in every))
    shared = gcd(*(int(one * scale) for one in every))
    unit = Fraction(shared or 1, scale)

    def whole(length: Fraction) -> int:
        return int(length / unit)

    counted = Counter(whole(one + saw_cut) for one in lengths)
    sizes = sorted(counted, reverse=True)
    return Job(
        sizes=tuple(sizes),
        wanted=tuple(counted[size] for size in sizes),
        at_hand=tuple(sorted(whole(one + saw_cut) for one in at_hand)),
        to_buy=tuple(sorted({whole(one + saw_cut) for one in to_buy})),
        saw=whole(saw_cut),
        unit=unit,
    )


def used(sizes: Sequence[int], filling: Filling) -> int:
    """How much of a bar a filling takes."""
    return sum(size * count for size, count in zip(sizes, filling, strict=True) if count)


def reachable(sizes: Sequence[int], wanted: Sequence[int], most: int) -> int:
    """The sums up to `most` that some of the cuts make, as the bits of one number.

    >>> bin(reachable([3, 2], [1, 2], 6))
    '0b111101'
    """
    mask = (1 << (most + 1)) - 1
    sums = 1
    for size, count in zip(sizes, wanted, strict=True):
        # so many of a size in powers of two and a rest: every count from none to all can be made
        step = 1
        left = min(count, most // size) if size else 0
        while left:
            take = min(step, left)
            sums |= (sums << (size * take)) & mask
            left -= take
            step *= 2
    return sums


def fullest(sizes: Sequence[int], wanted: Sequence[int], most: int) -> int:
    """The largest sum up to `most` that some of the cuts make."""
    return reachable(sizes, wanted, most).bit_length() - 1
