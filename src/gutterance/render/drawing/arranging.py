"""Where the chains of a house stand on the paper: one scale for all, storeys apart, no two on one spot.

A loop, or a chain of several runs, is a block. Lone runs of one building that are named by their sides (the
two eaves of a gable) make one block, each on its own side. How they stand to one another was not measured;
only their lengths are to scale, and the plan says so.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from gutterance.render.drawing.scene import Box, Point, bounds

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gutterance.render.drawing.walk_round import Chain, DrawnRun

ACROSS, DOWN = 100.0, 44.0
"""Clear paper for labels on each side of a block, left and right, above and below [pt]."""
_SMALLEST = 1e-6
_WIDTH_OF_GABLE = 0.6


@dataclass(slots=True)
class Block:
    """Chains that are drawn together. `offsets` puts each chain's own ground [in] into the block's."""

    chains: list[Chain]
    offsets: list[Point]
    apart: bool = False
    """Whether its chains stand as they are named, not as they were measured."""

    def bounds(self) -> Box:
        return bounds(
            [
                (x + dx, y + dy)
                for chain, (dx, dy) in zip(self.chains, self.offsets, strict=True)
                for run in chain.runs
                for x, y in (run.start, run.end)
            ]
        )


@dataclass(slots=True)
class StandingRun:
    """A run on the paper, from its left end to its right [pt]."""

    run: DrawnRun
    start: Point
    end: Point

    def at(self, inches: float) -> Point:
        """The place so many inches from its left end, kept on the run."""
        part = min(max(inches / self.run.drawn, 0.0), 1.0)
        return (
            self.start[0] + (self.end[0] - self.start[0]) * part,
            self.start[1] + (self.end[1] - self.start[1]) * part,
        )

    @property
    def inward(self) -> Point:
        """The unit step on paper from the fascia to the house: left of the walk."""
        x, y = self.run.along
        return -y, -x


@dataclass(slots=True)
class StandingChain:
    """A chain on the paper."""

    chain: Chain
    runs: list[StandingRun]


@dataclass(slots=True)
class Storey:
    """One storey on its paper. `apart` says that parts of it stand as they are named."""

    name: str
    scale: float
    chains: list[StandingChain] = field(default_factory=list)
    apart: bool = False


def blocks_of(chains: Sequence[Chain]) -> list[tuple[str, list[Block]]]:
    """The blocks of each storey, storeys and blocks in the order of the sheet."""
    storeys: dict[str, list[Chain]] = {}
    for chain in chains:
        storeys.setdefault(chain.storey.lower(), []).append(chain)
    out = []
    for key, mine in storeys.items():
        named: dict[str, list[Chain]] = {}
        for chain in mine:
            named.setdefault(chain.building, []).append(chain)
        blocks, taken = [], set()
        for chain in mine:
            if id(chain) in taken:
                continue
            group = named[chain.building]
            sides = [one.side for one in group]
            if len(group) > 1 and None not in sides and len(set(sides)) == len(sides):
                blocks.append(_by_sides(group))
                taken |= {id(one) for one in group}
            else:
                blocks.append(Block([chain], [(0.0, 0.0)]))
                taken.add(id(chain))
        out.append((mine[0].storey or key, blocks))
    return out


def _by_sides(chains: list[Chain]) -> Block:
    """Lone runs each on its side of a rectangle: front below, right, back above, left."""
    long = {chain.side: chain.runs[0].drawn for chain in chains}
    wide = max((long.get(side, 0.0) for side in (0, 2)), default=0.0)
    deep = max((long.get(side, 0.0) for side in (1, 3)), default=0.0)
    wide = wide or deep * _WIDTH_OF_GABLE
    deep = deep or wide * _WIDTH_OF_GABLE
    offsets = []
    for chain in chains:
        own = chain.runs[0].drawn
        start = {
            0: ((wide - own) / 2, 0.0),
            1: (wide, (deep - own) / 2),
            2: ((wide + own) / 2, deep),
            3: (0.0, (deep + own) / 2),
        }[chain.side or 0]
        offsets.append(start)
    return Block(chains, offsets, apart=True)


def arrange(name: str, blocks: list[Block], width: float, height: float) -> Storey:
    """A storey as large as the paper lets it be, with room round each block for its labels [pt]."""
    boxes = [block.bounds() for block in blocks]
    low, high = 0.0, width / max(max(max(box.width, box.height) for box in boxes), 1.0)
    for _ in range(20):
        middle = (low + high) / 2
        wide, tall = _extent(boxes, middle, width)
        low, high = (middle, high) if wide <= width and tall <= height else (low, middle)
    scale = max(low, _SMALLEST)
    storey = Storey(name, scale, apart=len(blocks) > 1 or any(block.apart for block in blocks))
    top = 0.0
    for row in _rows(boxes, scale, width):
        tall = max(boxes[at].height * scale + 2 * DOWN for at in row)
        spare = max(width - sum(boxes[at].width * scale + 2 * ACROSS for at in row), 0.0) / (len(row) + 1)
        left = spare
        for at in row:
            block, box = blocks[at], boxes[at]
            base = top + (tall + box.height * scale) / 2
            for chain, (dx, dy) in zip(block.chains, block.offsets, strict=True):
                storey.chains.append(_stood(chain, dx, dy, box, scale, left + ACROSS, base))
            left += box.width * scale + 2 * ACROSS + spare
        top += tall
    return storey


def _rows(boxes: list[Box], scale: float, width: float) -> list[list[int]]:
    rows: list[list[int]] = []
    used = 0.0
    for at, box in enumerate(boxes):
        wide = box.width * scale + 2 * ACROSS
        if rows and used + wide <= width:
            rows[-1].append(at)
            used += wide
        else:
            rows.append([at])
            used = wide
    return rows


def _extent(boxes: list[Box], scale: float, width: float) -> tuple[float, float]:
    wide = tall = 0.0
    for row in _rows(boxes, scale, width):
        wide = max(wide, sum(boxes[at].width * scale + 2 * ACROSS for at in row))
        tall += max(boxes[at].height * scale + 2 * DOWN for at in row)
    return wide, tall


def _stood(
    chain: Chain, dx: float, dy: float, box: Box, scale: float, left: float, base: float
) -> StandingChain:
    def paper(point: Point) -> Point:
        return left + (point[0] + dx - box.left) * scale, base - (point[1] + dy - box.top) * scale

    return StandingChain(chain, [StandingRun(run, paper(run.start), paper(run.end)) for run in chain.runs])
