"""Back and front edges against shapely: the gutter drawn as the strip between the fascia and its offset.

The strip is made by shapely's own mitred buffer of the fascia polygon, so that every front lip is measured on
geometry that knows nothing of tangents.
"""

from __future__ import annotations

import math
from fractions import Fraction
from itertools import pairwise
from typing import TYPE_CHECKING, Any

import pytest
from houses import outlet, reading, run, sheet
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely import Point, Polygon

from gutterance.layout import lay_out
from gutterance.shop import load_shop

if TYPE_CHECKING:
    from collections.abc import Iterator

SHOP = load_shop()
WIDTH = 5.0
FIT = {"outside corner": Fraction(1, 16), "inside corner": Fraction(-1, 16)}


def house_with_bays(turns: list[float], lengths: list[float]) -> Polygon | None:
    """The fascia line of a house walked anticlockwise: after each length it turns by so many degrees."""
    x = y = heading = 0.0
    corners = []
    for length, turn in zip(lengths, turns, strict=True):
        corners.append((x, y))
        x += length * math.cos(math.radians(heading))
        y += length * math.sin(math.radians(heading))
        heading += turn
    if math.hypot(x, y) > 1e-6:
        return None
    shape = Polygon(corners)
    return shape if shape.is_valid and shape.exterior.is_ccw else None


def bay(turn: float, side: float, face: float) -> tuple[list[float], list[float]]:
    """A bay pushed out of a wall: in at both ends, out at both corners of its face. Sums to no turn."""
    return [-turn, turn, turn, -turn], [side, face, side, face]


@st.composite
def plans(draw: st.DrawFn) -> tuple[list[float], list[float]]:
    """Turns and lengths of a rectangle with a bay or a recess of any angle in each of its front and back."""
    wide, deep = draw(st.integers(300, 900)), draw(st.integers(200, 500))
    turns: list[float] = []
    lengths: list[float] = []
    for length in (wide, deep, wide, deep):
        if length == wide and draw(st.booleans()):
            turn = draw(st.integers(10, 90))
            side, face = draw(st.integers(30, 60)), draw(st.integers(40, 100))
            out = draw(st.booleans())
            sign = 1 if out else -1
            # what the bay's slanted sides take of the wall
            taken = 2 * side * math.cos(math.radians(turn)) + face
            before = (length - taken) / 2
            assume(before > 30)
            turns += [-turn * sign, turn * sign, turn * sign, -turn * sign, 90]
            lengths += [before, side, face, side, before]
        else:
            turns.append(90)
            lengths.append(length)
    return turns, lengths


def edges(shape: Polygon) -> Iterator[float]:
    points = list(shape.exterior.coords)
    yield from (math.dist(a, b) for a, b in pairwise(points))


def sheet_of(turns: list[float], lengths: list[float]) -> Any:
    """The plan as a field sheet: each run with its own turn at each end, lengths to the 1/1024 in."""
    count = len(turns)
    runs = []
    for number, length in enumerate(lengths):
        left, right = turns[number - 1], turns[number]
        exact = Fraction(round(length * 1024), 1024)
        angles = {
            name: reading(float(abs(turn)))
            for name, turn in (("left_angle", left), ("right_angle", right))
            if abs(turn) != 90
        }
        runs.append(
            run(
                f"r{number}",
                f"{exact.numerator // exact.denominator} {exact % 1} in" if exact % 1 else f"{exact} in",
                f"{'out' if left > 0 else 'in'} {'out' if right > 0 else 'in'}",
                next_run=f"r{(number + 1) % count}",
                **angles,
            )
        )
    return sheet(runs, [outlet("r0-1", "r0", "centre")])


def assert_matches(turns: list[float], lengths: list[float]) -> None:
    shape = house_with_bays(turns, lengths)
    assert shape is not None
    lip = shape.buffer(WIDTH, join_style="mitre", mitre_limit=100)
    assert isinstance(lip, Polygon)
    assume(len(lip.exterior.coords) == len(shape.exterior.coords))
    layout = lay_out(sheet_of(turns, lengths), [], SHOP)
    backs, fronts = [], []
    for piece in layout.pieces:
        assert piece.back is not None
        assert piece.front is not None
        # a run of over 60 ft is in pieces: put it together again before it is held against the plan
        laps = sum((SHOP.pieces.lap.inches if end == "lap" else Fraction(0)) for end in (piece.left,))
        gaps = sum(
            (SHOP.expansion.joint_gap.inches if end == "expansion joint" else Fraction(0))
            for end in (piece.left,)
        )
        if piece.number == 1:
            backs.append(float(piece.back))
            fronts.append(float(piece.front))
        else:
            backs[-1] += float(piece.back - laps + gaps)
            fronts[-1] += float(piece.front - laps + gaps)
    fits = [
        float(
            sum(FIT["outside corner" if turn > 0 else "inside corner"] for turn in (turns[i - 1], turns[i]))
        )
        for i in range(len(turns))
    ]
    for length, back, fit in zip(lengths, backs, fits, strict=True):
        assert back - fit == pytest.approx(length, abs=1e-3)
    # shapely may begin its ring anywhere: match by the lip line that runs WIDTH beside each wall
    walls = list(pairwise(shape.exterior.coords))
    lips = list(pairwise(lip.exterior.coords))
    for (a, b), front, fit in zip(walls, fronts, fits, strict=True):
        mid = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        length = math.dist(a, b)
        normal = ((b[1] - a[1]) / length * WIDTH, -(b[0] - a[0]) / length * WIDTH)
        beside = Point(mid[0] + normal[0], mid[1] + normal[1])
        assert lip.exterior.distance(beside) < 1e-6
        along = ((b[0] - a[0]) / length, (b[1] - a[1]) / length)
        (match,) = (one for one in lips if _runs_along(one, beside, along))
        assert front - fit == pytest.approx(math.dist(*match), abs=2e-3)


def _runs_along(line: Any, beside: Point, along: tuple[float, float]) -> bool:
    """Whether a piece of the lip runs in the wall's direction through the point `beside`."""
    (ax, ay), (bx, by) = line
    length = math.hypot(bx - ax, by - ay)
    same = abs((bx - ax) * along[1] - (by - ay) * along[0]) < 1e-6 * length
    return (
        same
        and abs((beside.x - ax) * along[1] - (beside.y - ay) * along[0]) < 1e-6
        and (-1e-6 <= ((beside.x - ax) * (bx - ax) + (beside.y - ay) * (by - ay)) / length <= length + 1e-6)
    )


@settings(max_examples=60, deadline=None)
@given(plans())
def test_every_back_and_front_edge_of_houses_with_bays_of_any_angle(
    plan: tuple[list[float], list[float]],
) -> None:
    assert_matches(*plan)


@pytest.mark.parametrize("corners", [3, 5, 6, 8, 12])
def test_regular_houses_of_odd_angles(corners: int) -> None:
    # a regular polygon's corners turn by 360 over their number; its offset is a larger one of the same shape
    turn = 360 / corners
    if turn > 90:
        pytest.skip("over 90 degrees a corner is asked about: see test_house")
    shape = Polygon(
        [
            (200 * math.cos(2 * math.pi * k / corners), 200 * math.sin(2 * math.pi * k / corners))
            for k in range(corners)
        ]
    )
    sides = list(edges(shape))
    lip = list(edges(shape.buffer(WIDTH, join_style="mitre", mitre_limit=100)))
    layout = lay_out(sheet_of([turn] * corners, sides), [], SHOP)
    for piece in layout.pieces:
        assert piece.front is not None
        assert float(piece.front) - 1 / 8 == pytest.approx(lip[0], abs=2e-3)
