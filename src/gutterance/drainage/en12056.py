"""EN 12056-3:2000: eaves gutters, outlets, downpipes. Lengths [mm], areas [mm²], flows [l/s], slopes [mm/m].

W is the design water *depth* and T the top *width*, S the sole. Source of all of it: EN 12056-3:2000 (the
text and tables as transcribed; docs/methods.md says what was read).
"""

from __future__ import annotations

import math
from functools import cache

from gutterance.drainage.errors import OutOfRangeError, within
from gutterance.drainage.tables import between, checked_rows, toml_of

TABLES = "en12056.toml"
LEVEL = 3.0
"""Slopes up to this [mm/m] are designed as level (5.1.1)."""

SHORT = 50
"""A gutter no longer than so many depths is short (5.1.2): no length factor."""

SAFETY = 0.9
BEND = 0.85
ROUGHNESS = 0.25
"""k_b [mm], the pipe roughness of Table 8."""


@cache
def _rows(name: str) -> list[list[float]]:
    return checked_rows(toml_of(TABLES)[name], name, TABLES)


def is_nominally_level(slope: float) -> bool:
    """Whether a gutter of that slope [mm/m] is designed as level: 0 to 3 mm/m (5.1.1).

    >>> is_nominally_level(3.0), is_nominally_level(4.167)
    (True, False)
    """
    return slope <= LEVEL


def half_round_flow(area: float) -> float:
    """Q_N [l/s] of a short, level half-round or similar eaves gutter: 2.78e-5 A_E^1.25 (5.1.2).

    area: [mm²] A_E, the full cross-section at the design water line.
    Limits: area over 0; the outlet lets the water go freely.

    >>> round(half_round_flow(6135.9), 4)
    1.5097
    """
    if area <= 0:
        raise OutOfRangeError(f"a gutter's cross-section of {area:g} mm² holds nothing")
    return float(2.78e-5 * area**1.25)


def trapezoid_flow(area: float, top: float, sole: float, depth: float) -> float:
    """Q_N [l/s] of a short, level rectangular or trapezoidal eaves gutter: 3.48e-5 A_E^1.25 F_d F_s (5.1.4).

    area: [mm²] A_E. top: [mm] T. sole: [mm] S. depth: [mm] W.
    Limits: W/T 0.109 to 3 (Figure 5), S/T 0 to 1 (Figure 6); refused beyond.

    >>> round(0.9 * trapezoid_flow(10_000, 100, 100, 100), 3)
    3.132
    """
    if area <= 0 or top <= 0:
        raise OutOfRangeError(f"a gutter's cross-section of {area:g} mm² holds nothing")
    return float(3.48e-5 * area**1.25) * depth_factor(depth / top) * shape_factor(sole / top)


def depth_factor(depth_over_top: float) -> float:
    """F_d [-] from Figure 5, by W/T, between the points read from it.

    >>> depth_factor(1.0)
    1.0
    """
    return between(_rows("depth_factor"), depth_over_top, "depth over top width", "Figure 5")


def shape_factor(sole_over_top: float) -> float:
    """F_s [-] from Figure 6, by S/T.

    >>> shape_factor(1.0)
    1.0
    """
    return between(_rows("shape_factor"), sole_over_top, "sole over top width", "Figure 6")


def length_factor(length: float, depth: float, slope: float) -> float:
    """F_L [-] of Table 6, by L/W and slope, on straight lines between its cells; 1 for a short gutter.

    length: [mm] L, from the high point or stop end to the outlet. depth: [mm] W. slope: [mm/m].
    Limits: L/W to 500, refused beyond; a slope over 10 mm/m counts as 10.

    >>> length_factor(20_000, 100, 0), length_factor(20_000, 100, 10)
    (0.8, 1.55)
    """
    if depth <= 0 or length < 0 or slope < 0:
        raise OutOfRangeError("a gutter needs a depth over nothing, and no length or slope below it")
    ratio = length / depth
    if ratio <= SHORT:
        return 1.0
    columns = [float(one) for one in toml_columns()]
    rows, steep = _rows("length_factor"), min(max(slope, LEVEL), columns[-1])
    at = max(i for i, column in enumerate(columns) if column <= steep)
    where, what = "Table 6", "length over depth"
    low = between(rows, ratio, what, where, at + 1)
    if at + 1 == len(columns):
        return low
    high = between(rows, ratio, what, where, at + 2)
    return low + (high - low) * (steep - columns[at]) / (columns[at + 1] - columns[at])


@cache
def toml_columns() -> tuple[float, ...]:
    """The slopes [mm/m] at the head of Table 6."""
    return tuple(toml_of(TABLES)["length_factor"]["columns"])


def design_flow(short_flow: float, factor: float = 1.0, bends: int = 0) -> float:
    """Design capacity [l/s]: Q_L = 0.9 Q_N F_L (5.1.2, 5.1.4, 5.1.6), times 0.85 for an angle (5.1.8).

    short_flow: [l/s] Q_N. factor: [-] F_L. bends: [-] changes of direction over 10° on the way to the outlet.
    Limits: the text read speaks of a change of direction; each is counted here, which is on the safe side.

    >>> round(design_flow(half_round_flow(6135.92), length_factor(12_000, 62.5, 0), bends=1), 3)
    0.935
    """
    return float(SAFETY * short_flow * factor * BEND**bends)


def head_over_outlet(sole_over_top: float, depth: float) -> float:
    """Head h [mm] over an outlet in a flat sole: F_h W (Table 7, Figure 10).

    sole_over_top: [-] S/T, 0 to 1, refused beyond. depth: [mm] W.

    >>> round(head_over_outlet(1.0, 100), 2)
    47.01
    """
    return depth * between(_rows("head_factor"), sole_over_top, "sole over top width", "Figure 10")


def round_outlet_flow(diameter: float, head: float, openness: float = 1.0) -> float:
    """Flow [l/s] through a round outlet in a flat sole (Table 7).

    Weir to h = D/2: k_O D h^1.5 / 7500. Orifice above: k_O D² h^0.5 / 15000.
    diameter: [mm] D. head: [mm] h. openness: [-] k_O, 1.0 open, 0.5 with a grating or strainer.

    >>> round(round_outlet_flow(100, 50), 3)
    4.714
    """
    within(openness, 0.5, 1.0, "k_O", "Table 7")
    _check_outlet(diameter, head)
    if head <= diameter / 2:
        return openness * diameter * float(head**1.5) / 7500
    return openness * diameter**2 * math.sqrt(head) / 15000


def other_outlet_flow(area: float, perimeter: float, head: float, openness: float = 1.0) -> float:
    """Flow [l/s] through an outlet of any other shape in a flat sole (Table 7).

    Weir to h = 2 A_O / L_W: k_O L_W h^1.5 / 24000. Orifice above: k_O A_O h^0.5 / 12000.
    area: [mm²] A_O. perimeter: [mm] L_W. head: [mm] h. openness: [-] k_O.

    >>> round(other_outlet_flow(50.8 * 76.2, 254, 25), 4)
    1.3229
    """
    within(openness, 0.5, 1.0, "k_O", "Table 7")
    _check_outlet(min(area, perimeter), head)
    if head <= 2 * area / perimeter:
        return openness * perimeter * float(head**1.5) / 24000
    return openness * area * math.sqrt(head) / 12000


def _check_outlet(opening: float, head: float) -> None:
    if opening <= 0 or head < 0:
        raise OutOfRangeError("an outlet needs an opening over nothing and no head below it")


def downpipe_flow(diameter: float, filling: float = 0.33) -> float:
    """Wyly-Eaton: Q_RWP [l/s] = 2.5e-4 k_b^-0.167 d_i^2.667 f^1.667, k_b = 0.25 mm (6.1.1, Table 8).

    diameter: [mm] d_i, inside. filling: [-] f, 0.20 to 0.33 (0.33 unless national rules ask for less).
    Limits: filling refused beyond 0.20 to 0.33. Table 8 is printed with these rounded exponents; with 1/6,
    8/3 and 5/3 it does not come out. It ends at 300 mm; above, the equation itself holds.

    >>> round(downpipe_flow(100), 1), round(downpipe_flow(300, 0.20), 1)
    (10.7, 87.1)
    """
    within(filling, 0.20, 0.33, "the filling degree", "Table 8")
    if diameter <= 0:
        raise OutOfRangeError(f"a pipe of {diameter:g} mm carries nothing")
    return float(2.5e-4 * ROUGHNESS**-0.167 * diameter**2.667 * filling**1.667)
