"""Whether some cuts fit some bars, searched bar by bar until it is certain (bin completion).

The method: Korf, "A new algorithm for optimal bin packing", AAAI 2002; Martello and Toth, Knapsack Problems,
1990, chapter 8. Here for bars of several lengths.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from gutterance.stock.filling import Plan
    from gutterance.stock.whole_numbers import Filling

MOST_BARS = 200
"""More bars than this are not searched: each is a call within a call."""


def pack(
    sizes: Sequence[int], wanted: Sequence[int], bars: Sequence[int], steps: int
) -> Plan | Literal["none", "not known"]:
    """A plan that cuts all that is wanted from `bars`; "none" where there is none, for certain.

    "not known" where `steps` were not enough to tell. Steps are work counted, not time (about two million a
    second), so that the same call always gives the same answer.

    >>> pack((6, 5, 4), (1, 2, 2), (10, 15), 1000)
    [(10, (1, 0, 1)), (15, (0, 2, 1))]
    >>> pack((6, 5, 4), (1, 2, 2), (12, 12), 1000)
    'none'
    """
    if len(bars) > MOST_BARS:
        return "not known"
    search = _Search(sizes, steps)
    try:
        found = search.place(tuple(wanted), tuple(sorted(bars)))
    except _OutOfSteps:
        return "not known"
    return "none" if found is None else found


class _OutOfSteps(Exception):
    pass


class _Search:
    def __init__(self, sizes: Sequence[int], steps: int) -> None:
        self.sizes = sizes
        self.steps = steps
        self.hopeless: set[tuple[tuple[int, ...], tuple[int, ...]]] = set()

    def _count(self, steps: int) -> None:
        self.steps -= steps
        if self.steps < 0:
            raise _OutOfSteps

    def place(self, wanted: tuple[int, ...], bars: tuple[int, ...]) -> Plan | None:
        """Fill one bar with the longest cut that is left, in every way that could matter, and go on."""
        sizes = self.sizes
        first = next((at for at, count in enumerate(wanted) if count), None)
        if first is None:
            return []
        self._count(2 * len(sizes))
        shortest = next(sizes[at] for at in range(len(sizes) - 1, -1, -1) if wanted[at])
        usable = tuple(bar for bar in bars if bar >= shortest)
        spare = sum(usable) - sum(size * count for size, count in zip(sizes, wanted, strict=True))
        if spare < 0 or (wanted, usable) in self.hopeless or not self._shares_fit(wanted, usable):
            return None
        before = 0
        for at, bar in enumerate(usable):
            if bar == before or bar < sizes[first]:
                continue
            before = bar
            others = usable[:at] + usable[at + 1 :]
            for filling in self._fillings(wanted, first, bar, spare):
                left = tuple(have - cut for have, cut in zip(wanted, filling, strict=True))
                rest = self.place(left, others)
                if rest is not None:
                    return [(bar, filling), *rest]
        self.hopeless.add((wanted, usable))
        return None

    def _shares_fit(self, wanted: tuple[int, ...], bars: tuple[int, ...]) -> bool:
        """The longest cuts each need a bar of their own: those of over half the longest bar."""
        at = len(bars) - 1
        for size, count in zip(self.sizes, wanted, strict=True):
            if 2 * size <= bars[-1]:
                return True
            for _ in range(count):
                if at < 0 or bars[at] < size:
                    return False
                at -= 1
        return True

    def _fillings(self, wanted: tuple[int, ...], first: int, bar: int, spare: int) -> Iterator[Filling]:
        """Fillings with the first cut that waste no more than `spare` and leave no room for another cut."""
        sizes = self.sizes
        many = len(sizes)
        chosen = [0] * many
        # how much all the cuts from here on could still fill
        could = [0] * (many + 1)
        for at in range(many - 1, -1, -1):
            could[at] = could[at + 1] + sizes[at] * wanted[at]

        def full(room: int) -> bool:
            self._count(many)
            return all(sizes[at] > room or chosen[at] == wanted[at] for at in range(many))

        def go(at: int, room: int) -> Iterator[Filling]:
            self._count(4)
            while at < many and (not wanted[at] or sizes[at] > room):
                at += 1
            if room - could[at] > spare:
                return
            if at == many:
                if room <= spare and full(room):
                    yield tuple(chosen)
                return
            for count in range(min(wanted[at], room // sizes[at]), -1, -1):
                chosen[at] = count
                yield from go(at + 1, room - sizes[at] * count)
            chosen[at] = 0

        for count in range(min(wanted[first], bar // sizes[first]), 0, -1):
            chosen[first] = count
            yield from go(first + 1, bar - sizes[first] * count)
        chosen[first] = 0
