"""A straight pipe cut from stock lengths, and where its straps go."""

from __future__ import annotations

from fractions import Fraction

_NOTHING = Fraction(0)
_NEAR = Fraction(3)


def strap_places(
    wall: Fraction, from_end: Fraction, spacing: Fraction, joints: list[Fraction]
) -> list[Fraction]:
    """Strap heights [in] up from the wall pipe's lower end, never wider apart than `spacing`.

    Source: one at the top, one at the bottom, one at each joint between (NAVEDTRA 14044); the spacing is
    a shop rule (common practice, no source). A joint within 3 in of the top or bottom strap has that one
    (common practice, no source).

    >>> strap_places(Fraction(126), Fraction(6), Fraction(60), [Fraction(27, 4)])
    [Fraction(27, 4), Fraction(507, 8), Fraction(120, 1)]
    """
    if wall <= 2 * from_end:
        return [wall / 2]
    between = [joint for joint in joints if from_end < joint < wall - from_end]
    ends = [end for end in (from_end, wall - from_end) if all(abs(end - joint) >= _NEAR for joint in between)]
    posts = sorted({*ends, *between})
    out = posts[:1]
    for post in posts[1:]:
        below = out[-1]
        shares = int(-((post - below) // -spacing))
        out += [below + (post - below) * number / shares for number in range(1, shares + 1)]
    return out


def lengths_of(
    wall: Fraction, stock: Fraction, lap: Fraction, shortest: Fraction
) -> tuple[list[Fraction], list[Fraction]]:
    """A pipe's cuts from stock, top to bottom, and the heights of its joints' middles from its foot [in].

    `wall` is the pipe's length, `stock` what it is cut from, `lap` how far one length goes into the next, and
    `shortest` the least a cut may be [in]. The cuts less their laps add up to the pipe.

    >>> lengths_of(Fraction(126), Fraction(120), Fraction(3, 2), Fraction(3))
    ([Fraction(120, 1), Fraction(15, 2)], [Fraction(27, 4)])
    """
    if wall <= stock or stock <= 2 * lap:
        return [wall], []
    count = int(-((wall - lap) // -(stock - lap)))
    cuts = [stock] * (count - 1)
    cuts.append(wall + (count - 1) * lap - sum(cuts, _NOTHING))
    if cuts[-1] < shortest + lap:
        # a stub at the foot is no use: share it with the length above
        both = cuts[-1] + cuts[-2]
        cuts[-2:] = [both / 2, both / 2]
    joints, up = [], _NOTHING
    for cut in reversed(cuts[1:]):
        up += cut - lap
        joints.append(up + lap / 2)
    return cuts, joints
