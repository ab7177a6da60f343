"""Where a run too long for one piece is lapped: clear of outlets and corners, in as few pieces as will do."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gutterance.shop import Shop

MORE_PIECES_TRIED = 4
Zone = tuple[Fraction, Fraction]


def lap_places(
    reach: Zone,
    ends: Zone,
    outlets: list[Zone],
    shop: Shop,
    grid: Fraction,
    longest: Fraction | None = None,
    wanted: Sequence[Fraction] = (),
) -> list[Fraction] | None:
    """The middles [in] of a run's laps, left to right; empty where one piece will do; None where none fit.

    `reach` is from the leftmost to the rightmost edge of the run's gutter, mitres included; `ends` the
    two ends of
    its back; `outlets` the stretches the outlets take up; `grid` [in] what the middles are rounded to. All
    measured from the run's left end. No piece is longer than `longest` [in] (the shop's where not given); the
    sum of the pieces less the laps is the run. A place in `wanted` (a high point, where no water crosses) is
    taken where it lies within reach.
    """
    longest, lap = longest or shop.longest_piece(), shop.pieces.lap.inches
    if reach[1] - reach[0] <= longest:
        return []
    if longest <= 2 * lap:
        return None
    clear = shop.pieces.lap_clear_of_outlets.inches + lap / 2
    blocked = [(low - clear, high + clear) for low, high in outlets]
    margin = shop.pieces.lap_clear_of_ends.inches
    allowed: Zone = (ends[0] + margin, ends[1] - margin)
    fewest = -((reach[1] - reach[0] - lap) // -(longest - lap))
    for count in range(int(fewest), int(fewest) + MORE_PIECES_TRIED):
        laps = _try(count, reach, allowed, blocked, longest, lap, grid, wanted)
        if laps is not None:
            return laps
    return None


def _try(
    count: int,
    reach: Zone,
    allowed: Zone,
    blocked: list[Zone],
    longest: Fraction,
    lap: Fraction,
    grid: Fraction,
    wanted: Sequence[Fraction],
) -> list[Fraction] | None:
    laps: list[Fraction] = []
    # the first piece begins at the reach itself, a later one half a lap before its joint's middle
    begins = reach[0]
    for left_over in range(count - 1, 0, -1):
        ideal = begins + (reach[1] - begins + left_over * lap) / (left_over + 1) - lap / 2
        low = reach[1] + lap / 2 - left_over * (longest - lap) - lap
        high = begins + longest - lap / 2
        low, high = max(low, allowed[0], begins + 3 * lap / 2), min(high, allowed[1])
        near = [one for one in wanted if low <= one <= high]
        if near:
            ideal = min(near, key=lambda one: abs(one - ideal))
        place = nearest_free(ideal, low, high, blocked, grid)
        if place is None:
            return None
        laps.append(place)
        begins = place - lap / 2
    return laps


def nearest_free(
    ideal: Fraction, low: Fraction, high: Fraction, blocked: list[Zone], grid: Fraction
) -> Fraction | None:
    """The grid place nearest to `ideal`, from `low` to `high` and in no blocked zone (edges are free)."""
    candidates = [ideal, low, high]
    candidates += [edge for zone in blocked for edge in zone]
    best: Fraction | None = None
    for one in candidates:
        for place in (one // grid * grid, -(-one // grid) * grid):
            free = low <= place <= high and not any(zone[0] < place < zone[1] for zone in blocked)
            if free and (best is None or abs(place - ideal) < abs(best - ideal)):
                best = place
    return best
