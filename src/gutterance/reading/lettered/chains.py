"""Corners told all at once, round the house: `1 out 2 out 3 in 4`, or `1/2 out. 2/3 out. 3/4 in.`"""

from __future__ import annotations

import re
from itertools import pairwise
from typing import TYPE_CHECKING

from gutterance.reading.discourse import OPPOSITE
from gutterance.reading.lettered.joints import CORNERS, ENDS, SHORT_ENDS, put_corner

if TYPE_CHECKING:
    from gutterance.reading.discourse import Walk
    from gutterance.reading.items import Item
    from gutterance.reading.lettered.ring import Ring

NUMERAL = re.compile(r"\d+")
FEWEST = 4
"""So many runs at least are told of in a chain."""
FEWEST_PAIRS = 3
"""So many corners at least stand in a list of them."""
LONGEST_LINK = 30
"""So many characters at most stand between one number of a chain and the next."""
BETWEEN = re.compile(r"[\s/&+–-]{1,3}")
LITTLE = frozenset({"filler", "mark", "walk", "break", "colon", "word", "corner"})
"""Kinds of items that may stand between the name of a run and the corner behind it."""


def numbers_in_chain(text: str, known: frozenset[str]) -> list[tuple[int, int]]:
    """Where the numbers of runs stand in a line that is nothing but a chain, or a list of corners."""
    found = list(NUMERAL.finditer(text))
    if any(match.group() not in known for match in found):
        return []
    numbers = [int(match.group()) for match in found]
    last = max(map(int, known))
    links = [text[first.end() : then.start()] for first, then in pairwise(found)]
    if any(not link.strip(" \t") or len(link) > LONGEST_LINK for link in links):
        return []
    if len(found) >= FEWEST and all(_follows(*two, last) for two in pairwise(numbers)):
        return [match.span() for match in found]
    pairs = list(zip(numbers[::2], numbers[1::2], strict=False))
    joined = all(BETWEEN.fullmatch(link) for link in links[::2])
    parted = all(any(char.isalpha() for char in link) for link in links[1::2])
    paired = len(numbers) % 2 == 0 and len(pairs) >= FEWEST_PAIRS and joined and parted
    if paired and all(_follows(first, then, last) or _follows(then, first, last) for first, then in pairs):
        return [match.span() for match in found]
    return []


def counts_up(text: str) -> bool:
    """Whether all the numbers of a line go up by one, at the end perhaps back to the first: `1 x 2 x 1`."""
    numbers = [int(match.group()) for match in NUMERAL.finditer(text)]
    return len(numbers) >= FEWEST and all(_follows(*two, max(numbers)) for two in pairwise(numbers))


def _follows(first: int, then: int, last: int) -> bool:
    """Whether a run is the next one round the house."""
    return then == first + 1 or (first == last and then == 1)


def take_chain(items: list[Item], walk: Walk, ring: Ring) -> bool:
    """Put the corners of a line that names the runs in their order with a corner between each two.

    False, and nothing done, where the line is no such chain.
    """
    links: list[tuple[Item, Item, Item]] = []
    first_end: Item | None = None
    last: Item | None = None
    between: Item | None = None
    for item in items:
        if item.marks.get("lettered"):
            if last is not None:
                if between is None:
                    return False
                links.append((last, between, item))
            last, between = item, None
        elif item.text == "?" and last is not None and between is None:
            between = item
        elif last is None and first_end is None and item.kind in ENDS:
            first_end = item
        elif item.kind in ENDS and last is not None and between is None:
            between = item
        elif _corner(item) is not None and last is not None:
            if between is not None:
                return False
            between = item
        elif item.kind not in LITTLE and item.text.lower() != "back":  # `8 out back to 1`
            return False
    if len(links) + 1 < FEWEST or any(_corner(end) is None and end.text != "?" for _, end, _ in links):
        return False
    if any(not ring.adjacent(str(first.value), str(then.value)) for first, _, then in links):
        return False
    for first, corner, then in links:
        side = ring.side_toward(str(first.value), str(then.value))
        assert side is not None
        if corner.text == "?":
            for item in (first, then):
                walk.use(item)
            continue  # the end stays open, and is asked about
        corner.kind, corner.value = "end word", _corner(corner)
        ring.meet(str(first.value), side, str(then.value))
        put_corner(walk, str(first.value), side, corner, first, None)
        put_corner(walk, str(then.value), OPPOSITE[side], corner, then, None)
        for item in (first, corner, then):
            walk.use(item)
    _free_ends(first_end, links[0][0], between, links[-1][2], walk, ring)
    return True


def _free_ends(
    before: Item | None, first: Item, behind: Item | None, last: Item, walk: Walk, ring: Ring
) -> None:
    """`cap 1 out 2 in 3 out 4 cap`: what is at the two ends of a chain that does not close."""
    here, there = ("right", "left") if ring.clockwise else ("left", "right")
    for end, run, side in ((before, first, here), (behind, last, there)):
        if end is not None and end.kind in ENDS:
            put_corner(walk, str(run.value), side, end, run, None)
            walk.use(end)


def _corner(item: Item) -> str | None:
    """The corner that a word between two runs is, or None."""
    if item.kind in ENDS:
        return str(item.value) if item.value in CORNERS else None
    return SHORT_ENDS.get(item.text.lower()) if item.found is None else None
