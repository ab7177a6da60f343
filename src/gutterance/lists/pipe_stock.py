"""Downpipe cuts onto stock lengths: best fit, longest first, and the fewest lengths that could do."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction


@dataclass(slots=True)
class StockLength:
    """One stock length: what is cut from it [in], which cut each is, and what is left over [in]."""

    cuts: list[Fraction] = field(default_factory=list)
    of: list[str] = field(default_factory=list)
    left_over: Fraction = Fraction(0)


def cut_stock(cuts: list[tuple[Fraction, str]], stock: Fraction, saw_cut: Fraction) -> list[StockLength]:
    """Best-fit-decreasing: each cut, longest first, from the length it leaves the least of.

    `cuts` [in] each over 0 and at most `stock` [in]; each cut but one that ends a length takes `saw_cut`
    [in] more.
    Good, not always the fewest: compare with `fewest_lengths`. Raises ValueError for a cut longer than
    the stock.
    """
    lengths: list[StockLength] = []
    for cut, of in sorted(cuts, key=lambda one: -one[0]):
        if cut > stock:
            raise ValueError(f"{of} is longer than the stock")
        fits = [one for one in lengths if one.left_over >= cut]
        best = min(fits, key=lambda one: one.left_over) if fits else None
        if best is None:
            best = StockLength(left_over=stock)
            lengths.append(best)
        best.cuts.append(cut)
        best.of.append(of)
        best.left_over = max(best.left_over - cut - saw_cut, Fraction(0))
    return lengths


def fewest_lengths(cuts: list[Fraction], stock: Fraction, saw_cut: Fraction) -> int:
    """A count of stock lengths that no cutting plan can beat: the larger of two lower bounds.

    By total length: each cut eats its saw cut too, but the last of a length needs none, so a length holds
    its own plus one. By halves: two cuts that each take over half of that can never share a length.

    Boards of 17 ft into 15 x 9 ft, 20 x 5 ft, 25 x 3 ft take 19 at the least (a textbook cutting-stock
    example, Winston, Operations Research):

    >>> boards = [Fraction(9)] * 15 + [Fraction(5)] * 20 + [Fraction(3)] * 25
    >>> fewest_lengths(boards, Fraction(17), Fraction(0))
    19
    """
    if not cuts:
        return 0
    whole = stock + saw_cut
    by_length = -(sum((cut + saw_cut for cut in cuts), Fraction(0)) // -whole)
    by_half = sum(1 for cut in cuts if 2 * (cut + saw_cut) > whole)
    return max(int(by_length), by_half)
