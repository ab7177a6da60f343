"""What to load: counted from the layout, each item with its why and how many belong to something on hold."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from gutterance.layout.wording import shown
from gutterance.lists.models import Hardware

if TYPE_CHECKING:
    from gutterance.layout import Layout
    from gutterance.layout.values import LaidPiece
    from gutterance.lists.models import PipeNeed
    from gutterance.shop import Shop

_CORNERS = {"outside mitre": "outside", "inside mitre": "inside"}


@dataclass(slots=True)
class _Tally:
    count: int = 0
    held: int = 0
    why: list[str] = field(default_factory=list)

    def add(self, count: int, *, held: bool) -> None:
        self.count += count
        self.held += count if held else 0


def hardware_for(layout: Layout, need: list[PipeNeed], shop: Shop) -> list[Hardware]:
    """Everything to load for a layout. What is on hold is counted as far as it is known, and said to be."""
    held_runs = {piece.run for piece in layout.pieces if piece.hold}
    out = _hangers(layout, held_runs, shop)
    out += _ends_and_outlets(layout)
    out += _corners(layout, shop)
    out += _sealing(layout, shop)
    out += _pipe_parts(layout)
    out += [
        Hardware(
            item=f"downpipe {one.size or ''} {one.colour or ''}".strip(),
            count=one.lengths,
            unit=f"length of {shown(one.stock.inches, one.stock.system)}",
            why=f"best fit; no plan takes fewer than {one.at_least}",
        )
        for one in need
    ]
    return [one for one in out if one.count]


def _hangers(layout: Layout, held_runs: set[int], shop: Shop) -> list[Hardware]:
    kinds: dict[str, _Tally] = defaultdict(_Tally)
    for one in layout.hangers:
        run = layout.runs[one.run]
        tally = kinds[run.gutter.profile.hanger if run.gutter.profile is not None else "hanger"]
        tally.add(len(one.at), held=one.run in held_runs or bool(one.hold))
        tally.why.append(run.name if one.known else "")
    open_runs = [layout.runs[one.run].name for one in layout.hangers if not one.known]
    missing = f"; none counted for {', '.join(open_runs)}" if open_runs else ""
    out = []
    for item, tally in sorted(kinds.items()):
        known = sum(1 for name in tally.why if name)
        runs = f"{known} run{'' if known == 1 else 's'}"
        why = f"on {runs}, see the hanger marks{missing}"
        out.append(Hardware(item=item, count=tally.count, on_hold=tally.held, why=why))
    screws = shop.hangers.screws_each
    count, held = sum(one.count for one in kinds.values()), sum(one.held for one in kinds.values())
    why = f"{screws} for each hanger"
    out.append(Hardware(item="hanger screw", count=count * screws, on_hold=held * screws, why=why))
    return out


def _ends_and_outlets(layout: Layout) -> list[Hardware]:
    caps = {"left": _Tally(), "right": _Tally()}
    outlets: dict[str, _Tally] = defaultdict(_Tally)
    for piece in layout.pieces:
        held = bool(piece.hold)
        for side, end in (("left", piece.left), ("right", piece.right)):
            if end in ("end cap", "wall"):
                caps[side].add(1, held=held)
        for hole, _ in piece.holes:
            outlets[hole.size or "of unknown size"].add(1, held=held)
    out = [
        Hardware(
            item=f"end cap, {side}", count=one.count, on_hold=one.held, why=f"free {side} ends and walls"
        )
        for side, one in caps.items()
    ]
    out += [
        Hardware(item=f"outlet {size}", count=one.count, on_hold=one.held, why="one for each hole")
        for size, one in sorted(outlets.items())
    ]
    return out


def _corners(layout: Layout, shop: Shop) -> list[Hardware]:
    if shop.corners.method == "hand mitre":
        return []
    item = "corner strip" if shop.corners.method == "strip mitre" else "box mitre"
    ends: dict[str, _Tally] = defaultdict(_Tally)
    for piece in layout.pieces:
        for kind, turn in _corner_ends(piece):
            ends[f"{kind} {item}{turn}"].add(1, held=bool(piece.hold))
    return [
        Hardware(
            item=name,
            count=-(one.count // -2),
            on_hold=one.held // 2,
            why=f"{one.count} corner ends, two to a corner",
        )
        for name, one in sorted(ends.items())
    ]


def _corner_ends(piece: LaidPiece) -> list[tuple[str, str]]:
    out = []
    for end, turn in ((piece.left, piece.left_turn), (piece.right, piece.right_turn)):
        if end in _CORNERS:
            out.append((_CORNERS[end], "" if turn is None else f", {float(turn):g}°"))
    return out


def _sealing(layout: Layout, shop: Shop) -> list[Hardware]:
    rules = shop.sealing
    ends = [end for piece in layout.pieces for end in (piece.left, piece.right)]
    corners = -(sum(end in _CORNERS for end in ends) // -2)
    caps = sum(end in ("end cap", "wall") for end in ends)
    laps = -(sum(end == "lap" for end in ends) // -2)
    holes = sum(len(piece.holes) for piece in layout.pieces)
    counts = (("corner", corners), ("end cap", caps), ("outlet", holes), ("lap", laps))
    joints = ", ".join(f"{count} {what}{'s' if count != 1 else ''}" for what, count in counts if count)
    bead = (
        corners * rules.bead_at_corner.inches
        + caps * rules.bead_at_end_cap.inches
        + holes * rules.bead_at_outlet.inches
        + laps * rules.bead_at_lap.inches
    )
    rivets = (
        corners * rules.rivets_at_corner
        + caps * rules.rivets_at_end_cap
        + holes * rules.rivets_at_outlet
        + laps * rules.rivets_at_lap
    )
    system = layout.runs[0].system if layout.runs else "imperial"
    tubes = int(-(bead // -rules.tube_gives.inches))
    tube = shown(rules.tube_gives.inches, system)
    return [
        Hardware(
            item="sealant",
            count=tubes,
            unit="tube",
            why=f"{shown(bead, system)} of bead at {tube} a tube: {joints}",
        ),
        Hardware(item="rivet", count=rivets, why=joints),
    ]


def _pipe_parts(layout: Layout) -> list[Hardware]:
    parts: dict[str, _Tally] = defaultdict(_Tally)
    for pipe in layout.pipes:
        for what, count in pipe.parts:
            name = f"{what} {pipe.size}" if what == "pipe strap" and pipe.size else what
            parts[name].add(count, held=bool(pipe.hold))
    return [
        Hardware(item=name, count=one.count, on_hold=one.held, why="see the downpipe list")
        for name, one in sorted(parts.items())
    ]
