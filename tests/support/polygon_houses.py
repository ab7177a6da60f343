"""Houses drawn as polygons by shapely, and the walk round them: an outside witness for closure.

Nothing here uses gutterance's own geometry: walls and corners come from the polygon's points, by
`math.dist` and `math.atan2`.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from math import atan2, degrees, dist, sqrt
from typing import TYPE_CHECKING, Any

from shapely.geometry import Polygon, box
from shapely.geometry.polygon import orient
from shapely.ops import unary_union

if TYPE_CHECKING:
    from random import Random

MARK = Fraction(1, 16)
SHORTEST = 24
"""The shortest wall drawn [in]."""


@dataclass(frozen=True)
class Wall:
    """One wall as it is told: its length [in], and the turn [degrees, left positive] at each end as told."""

    name: str
    length: Fraction
    left: int
    right: int
    could_be: tuple[tuple[Fraction, str], ...] = ()
    as_built: float = 0.0
    """Its length before it was read off to a mark [in]."""

    @property
    def on_mark(self) -> bool:
        """Whether reading it off lost nothing."""
        return abs(self.as_built - self.length) < 1e-6


def drawn(random: Random, *, bays: bool) -> Polygon:
    """A house of one to three boxes side by side, square or with bays and cut corners of 45 degrees."""
    while True:
        across = [random.randint(10 * 48, 40 * 48) for _ in range(random.choice([1, 1, 2, 2, 3]))]
        at = 0
        boxes = []
        for width in across:
            front = random.choice([0, 0, random.randint(-12 * 48, 12 * 48)])
            boxes.append(box(at / 4, front / 4, (at + width) / 4, random.randint(20 * 48, 40 * 48) / 4))
            at += width
        house = unary_union(boxes)
        if bays:
            house = _with_bay(random, house)
        if house.geom_type != "Polygon" or house.interiors or not house.is_valid:
            continue
        house = orient(house.simplify(0.0), 1.0)
        if min(walls_of(house), key=lambda wall: wall.length).length >= SHORTEST:
            return house


def _with_bay(random: Random, house: Polygon) -> Polygon:
    """The house with one corner cut off at 45 degrees, or a bay of three walls on its back.

    Of the slanted walls and those beside them one kind or the other is a whole number of marks, never both.
    """
    low_x, _, high_x, high_y = house.bounds
    cut = random.randint(3 * 48, 8 * 48) / 4
    if random.random() < 0.5:
        cut /= sqrt(2)
    if random.random() < 0.5:
        corner = Polygon([(high_x, high_y), (high_x - cut, high_y), (high_x, high_y - cut)])
        return house.difference(corner)
    cut /= 2
    width = random.randint(6 * 48, 9 * 48) / 4
    left = low_x + random.randint(3 * 48, 5 * 48) / 4
    bay = Polygon(
        [
            (left, high_y - 1),
            (left, high_y),
            (left + cut, high_y + cut),
            (left + cut + width, high_y + cut),
            (left + 2 * cut + width, high_y),
            (left + 2 * cut + width, high_y - 1),
        ]
    )
    return unary_union([house, bay])


def walls_of(house: Polygon) -> list[Wall]:
    """The walls of a polygon, anticlockwise, each length read off to a sixteenth."""
    points = list(orient(house, 1.0).exterior.coords)[:-1]
    count = len(points)
    headings = [
        degrees(atan2(points[(at + 1) % count][1] - y, points[(at + 1) % count][0] - x))
        for at, (x, y) in enumerate(points)
    ]
    turns = [
        round((headings[(at + 1) % count] - heading + 180) % 360 - 180) for at, heading in enumerate(headings)
    ]
    return [
        Wall(
            f"run-{at + 1}",
            round(Fraction(dist(point, points[(at + 1) % count])) / MARK) * MARK,
            turns[at - 1],
            turns[at],
            as_built=dist(point, points[(at + 1) % count]),
        )
        for at, point in enumerate(points)
    ]


def told(
    walls: list[Wall], *, clockwise: bool = False, next_said: bool = False
) -> dict[str, tuple[Any, ...]]:
    """The walls as runs for `sheet_of`: in order, or the other way round, or each saying which comes next."""
    runs: dict[str, tuple[Any, ...]] = {}
    for at, wall in enumerate(walls):
        more: dict[str, Any] = {"name": wall.name.replace("-", " ")}
        for side, turn in (("left", wall.left), ("right", wall.right)):
            if abs(turn) != 90:
                more[f"{side}_angle"] = {"value": float(abs(turn))}
        if wall.could_be:
            more["length"] = {
                "value": f"{wall.length} in",
                "could_be": [{"value": f"{other} in", "why": why} for other, why in wall.could_be],
            }
        if next_said:
            more["next_run"] = walls[(at + 1) % len(walls)].name
        runs[wall.name] = (wall.length, "O" if wall.left > 0 else "I", "O" if wall.right > 0 else "I", more)
    return dict(reversed(runs.items())) if clockwise else runs


def turned(walls: list[Wall], by: int) -> list[Wall]:
    """The same walk begun at another wall."""
    return walls[by:] + walls[:by]


def altered(walls: list[Wall], at: int, **changes: Any) -> list[Wall]:
    """The walk with one wall told otherwise."""
    return [replace(wall, **changes) if number == at else wall for number, wall in enumerate(walls)]
