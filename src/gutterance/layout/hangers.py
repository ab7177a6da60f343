"""Where the hangers go: evenly, near each end, never too wide apart, none through an outlet or a lap."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

Zone = tuple[Fraction, Fraction]
_MOST_HANGERS = 20_000
_MORE_TRIED = 2
_NEAR = Fraction(6)
"""End hangers nearer than this [in] to each other are one, in the middle; common practice, no source."""


def hanger_places(
    length: Fraction,
    first: Fraction,
    last: Fraction,
    spacing: Fraction,
    blocked: Sequence[Zone],
    step: Fraction,
) -> list[Fraction] | None:
    """Hanger places [in] along a run of `length` [in], left to right, on whole `step`s [in].

    `first` and `last` are how far the end hangers stand from the run's ends; `spacing` the widest gap
    allowed; `blocked` the stretches to keep clear (merged, left to right; their edges are free). On a run too
    short for two, as a return between two corners, one hanger stands in the middle. None where the numbers
    cannot be met (a blocked stretch wider than the spacing).

    The spacing itself is a shop rule (24 in, or 18 in where strength is wanted: common practice, no source).
    60 ft hung at both ends at 3 ft takes 21 (the spacing of NAVEDTRA 14044):

    >>> len(hanger_places(Fraction(720), Fraction(0), Fraction(0), Fraction(36), [], Fraction(1, 16)))
    21
    """
    # marks stand on whole steps, so a gap can only be as wide as the whole steps within the spacing
    spacing = spacing // step * step
    if length <= 0 or spacing < 2 * step or length / spacing > _MOST_HANGERS:
        return None
    low, high = first, length - last
    if high - low < min(_NEAR, spacing / 2):
        low = high = length / 2
    ends = [_free(end // step * step, length, blocked, step) for end in (low, high)]
    begin, end = ends
    if begin is None or end is None or begin > end:
        return _one_by_one(low, high, length, spacing, blocked, step)
    fewest = int(-((end - begin) // -spacing))
    for gaps in range(fewest, fewest + _MORE_TRIED + 1):
        places = _evenly(begin, end, gaps, length, spacing, blocked, step)
        if places is not None:
            return places
    return _one_by_one(low, high, length, spacing, blocked, step)


def _evenly(
    begin: Fraction,
    end: Fraction,
    gaps: int,
    length: Fraction,
    spacing: Fraction,
    blocked: Sequence[Zone],
    step: Fraction,
) -> list[Fraction] | None:
    """So many equal gaps from `begin` to `end`; a blocked mark goes to the side that keeps the spacing."""
    if gaps == 0:
        return [begin] if begin == end else None
    out = [begin]
    for number in range(1, gaps + 1):
        aim = begin + (end - begin) * number / gaps
        after = min(begin + (end - begin) * (number + 1) / gaps, end) // step * step
        sides = _sides(aim // step * step, length, blocked, step)
        fits = [one for one in sides if out[-1] < one <= out[-1] + spacing and after - one <= spacing]
        if not fits:
            return None
        out.append(fits[0])
    return out


def _sides(place: Fraction, length: Fraction, blocked: Sequence[Zone], step: Fraction) -> list[Fraction]:
    """A place on the step, or where it is blocked the free places to both sides of it, the nearer first."""
    for low, high in blocked:
        if low < place < high:
            sides = [low // step * step, -(-high // step) * step]
            free = [
                one for one in sides if 0 <= one <= length and not any(z[0] < one < z[1] for z in blocked)
            ]
            # as near the run's own end as the other side, an end hanger goes to the end
            outward = 1 if 2 * place <= length else -1
            return sorted(free, key=lambda one: (abs(one - place), outward * one))
    return [place]


def _one_by_one(
    low: Fraction,
    high: Fraction,
    length: Fraction,
    spacing: Fraction,
    blocked: Sequence[Zone],
    step: Fraction,
) -> list[Fraction] | None:
    """Where even gaps cannot be had: even places moved clear, and more put in where a gap grew too wide."""
    gaps = -((high - low) // -spacing)
    places = [low + (high - low) * number / gaps for number in range(int(gaps) + 1)] if gaps else [low]
    moved: set[Fraction] = set()
    for place in places:
        free = _free(place // step * step, length, blocked, step)
        if free is not None:
            moved.add(free)
    if not moved:
        return None
    return _fill(sorted(moved), spacing, blocked, step)


def _free(place: Fraction, length: Fraction, blocked: Sequence[Zone], step: Fraction) -> Fraction | None:
    """The nearest place on the step that is in no blocked stretch and on the run."""
    sides = _sides(place, length, blocked, step)
    return sides[0] if sides else None


def _fill(
    places: list[Fraction], spacing: Fraction, blocked: Sequence[Zone], step: Fraction
) -> list[Fraction] | None:
    """Put in more hangers where moving one clear of an outlet left too wide a gap."""
    out = places[:1]
    for place in places[1:]:
        while place - out[-1] > spacing:
            gap = place - out[-1]
            shares = -(gap // -spacing)
            aim = (out[-1] + gap / shares) // step * step
            one = _within(aim, out[-1], spacing, blocked, step)
            if one is None or not out[-1] < one < place:
                return None
            out.append(one)
        if place > out[-1]:
            out.append(place)
    return out


def _within(
    aim: Fraction, after: Fraction, spacing: Fraction, blocked: Sequence[Zone], step: Fraction
) -> Fraction | None:
    for low, high in blocked:
        if low < aim < high:
            for side in (-(-high // step) * step, low // step * step):
                if after < side <= after + spacing and not any(z[0] < side < z[1] for z in blocked):
                    return side
            return None
    return aim
