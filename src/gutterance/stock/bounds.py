"""How few new bars any plan could do with: bounds that need no search."""

from __future__ import annotations

from bisect import bisect_left
from itertools import accumulate
from typing import TYPE_CHECKING

from gutterance.stock.whole_numbers import fullest

if TYPE_CHECKING:
    from gutterance.stock.whole_numbers import Job

MOST_SIZES_SUMMED = 1000
"""With more sizes than this the bars are taken to be fillable to the brim: to sum all is slow."""


def fewest_new(job: Job) -> int:
    """A count of new bars that no plan can beat: the best of two kinds of bound.

    By length: all cuts together, less what the bars at hand can give, over what a new bar can give, each bar
    counted only as full as some cuts can make it. By shares (the bound of Martello and Toth, Knapsack
    Problems, 1990, chapter 8): for each length a, cuts that leave less than a of the longest bar count as
    a whole bar, cuts shorter than a count nothing.

    Boards of 17 ft into 15 x 9 ft, 20 x 5 ft, 25 x 3 ft take 19 at the least (Winston, Operations Research):

    >>> from gutterance.stock.whole_numbers import Job
    >>> from fractions import Fraction
    >>> fewest_new(Job((9, 5, 3), (15, 20, 25), (), (17,), 0, Fraction(12)))
    19
    """
    if not job.sizes or not job.to_buy:
        return 0
    return max(_by_length(job), _by_shares(job))


def _by_length(job: Job) -> int:
    at_hand = sum(capacity(job, bar) for bar in job.at_hand)
    short = job.total - at_hand
    return max(0, -(short // -capacity(job, job.to_buy[-1])))


def capacity(job: Job, bar: int) -> int:
    """How full some of the cuts can make a bar."""
    if job.too_fine or len(job.sizes) > MOST_SIZES_SUMMED:
        return bar
    return fullest(job.sizes, job.wanted, bar)


def _by_shares(job: Job) -> int:
    longest = max(job.to_buy[-1], *job.at_hand, 0)
    up = job.sizes[::-1]
    counts = list(accumulate(job.wanted[::-1], initial=0))
    sums = list(accumulate((s * w for s, w in zip(up, job.wanted[::-1], strict=True)), initial=0))
    best = 0
    for a in (0, *(size for size in up if 2 * size <= longest)):
        low = bisect_left(up, a)
        high = bisect_left(up, longest - a + 1)
        whole = counts[-1] - counts[high]
        total = whole * longest + sums[high] - sums[low]
        least_whole = up[high] if high < len(up) else longest + 1
        smallest = up[low] if low < len(up) else longest + 1

        def share(bar: int, least_whole: int = least_whole, smallest: int = smallest) -> int:
            if bar < smallest:
                return 0
            return longest if bar >= least_whole else bar

        short = total - sum(share(bar) for bar in job.at_hand)
        best = max(best, -(short // -share(job.to_buy[-1])) if short > 0 else 0)
    return best
