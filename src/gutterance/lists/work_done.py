"""How much there is of what labour is counted by, what is on hold counted apart."""

from __future__ import annotations

from collections import defaultdict
from fractions import Fraction
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from gutterance.layout.corners import CORNER_ENDS
from gutterance.lists.pipe_cutting import cuts_of
from gutterance.measure.length import INCHES_PER_FOOT, MM_PER_INCH

if TYPE_CHECKING:
    from collections.abc import Iterable

    from gutterance.lists.models import Channel, Lists, Piece
    from gutterance.measure.length import Length
    from gutterance.shop.quoting import ForEach

_CAPPED = ("end cap", "wall")
INCHES_PER_METRE = 1000 / MM_PER_INCH


class Amount(NamedTuple):
    """So much that may be made, and so much of what is on hold, as far as that is known."""

    ready: Fraction = Fraction(0)
    held: Fraction = Fraction(0)

    def over(self, unit: Fraction | int) -> Amount:
        return Amount(self.ready / unit, self.held / unit)


def work_done(lists: Lists) -> dict[ForEach, Amount]:
    """For each measure of work its amount: gutter by the backs of its pieces, pipe by its cuts."""
    pieces = lists.pieces
    gutter = _lengths((one.back, bool(one.hold)) for one in pieces)
    pipe = _lengths((cut, bool(one.hold)) for one in lists.downpipes for cut, _ in cuts_of(one))
    return {
        "job": Amount(Fraction(1)),
        "ft of gutter": gutter.over(INCHES_PER_FOOT),
        "m of gutter": gutter.over(INCHES_PER_METRE),
        "piece": _count(bool(one.hold) for one in pieces),
        "corner": _corners(lists),
        "end cap": _count(
            bool(one.hold) for one in pieces for end in (one.left, one.right) if end in _CAPPED
        ),
        "outlet": _count(bool(one.hold) for one in pieces for _ in one.outlets),
        "downpipe": _count(bool(one.hold) for one in lists.downpipes),
        "ft of downpipe": pipe.over(INCHES_PER_FOOT),
        "m of downpipe": pipe.over(INCHES_PER_METRE),
    }


def _lengths(all_of_them: Iterable[tuple[Length | None, bool]]) -> Amount:
    ready = held = Fraction(0)
    for length, on_hold in all_of_them:
        if length is not None and on_hold:
            held += length.inches
        elif length is not None:
            ready += length.inches
    return Amount(ready, held)


def _count(holds: Iterable[bool]) -> Amount:
    every = list(holds)
    return Amount(Fraction(every.count(False)), Fraction(every.count(True)))


def _corners(lists: Lists) -> Amount:
    """Each corner once, though two pieces meet there; on hold where either of them is."""
    pieces: defaultdict[str, list[Piece]] = defaultdict(list)
    for piece in lists.pieces:
        pieces[piece.run].append(piece)
    return _count(hold for channel in lists.channels for hold in _corners_of(channel, pieces))


def _corners_of(channel: Channel, pieces: dict[str, list[Piece]]) -> Iterable[bool]:
    runs = [pieces[run] for run in channel.runs if pieces.get(run)]
    if not runs:
        return
    meet = [*pairwise(runs), *([(runs[-1], runs[0])] if channel.loop else [])]
    for one, other in meet:
        if one[-1].right in CORNER_ENDS or other[0].left in CORNER_ENDS:
            yield bool(one[-1].hold or other[0].hold)
    if not channel.loop:
        if runs[0][0].left in CORNER_ENDS:
            yield bool(runs[0][0].hold)
        if runs[-1][-1].right in CORNER_ENDS:
            yield bool(runs[-1][-1].hold)
