"""What to load: counted from the layout, each item with its why, its spares, and how many are on hold."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from gutterance.layout.corners import CORNER_ENDS, SQUARE
from gutterance.layout.wording import shown
from gutterance.lists.items import ItemMaker, SpareKind, item_maker
from gutterance.lists.models import Hardware
from gutterance.lists.sealing import sealing

if TYPE_CHECKING:
    from fractions import Fraction

    from gutterance.layout import Layout
    from gutterance.layout.values import LaidPiece, PieceEnd, Side
    from gutterance.lists.models import PipeNeed
    from gutterance.measure.length import Length
    from gutterance.shop import Shop


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
    item = item_maker(shop)
    out = _hangers(layout, shop, item)
    out += _ends_and_outlets(layout, item)
    out += _corners(layout, shop, item)
    out += _joints_in_runs(layout, item)
    out += sealing(layout, shop, item)
    out += _pipe_parts(layout, item)
    out += _pipe_screws(layout, shop, item)
    for one in need:
        out += _pipe(one)
    return [one for one in out if one.count]


def _hangers(layout: Layout, shop: Shop, item: ItemMaker) -> list[Hardware]:
    held_runs = {piece.run for piece in layout.pieces if piece.hold}
    kinds: dict[str, _Tally] = defaultdict(_Tally)
    for one in layout.hangers:
        run = layout.runs[one.run]
        tally = kinds[run.gutter.profile.hanger if run.gutter.profile is not None else "hanger"]
        tally.add(len(one.at), held=one.run in held_runs or bool(one.hold))
        if one.known:
            tally.why.append(run.name)
    open_runs = [layout.runs[one.run].name for one in layout.hangers if not one.known]
    missing = f"; none counted for {', '.join(open_runs)}" if open_runs else ""
    out = []
    for name, tally in sorted(kinds.items()):
        runs = f"{len(tally.why)} run{'' if len(tally.why) == 1 else 's'}"
        why = f"on {runs}, see the hanger marks{missing}"
        out.append(item(name, tally.count, tally.held, why, "hangers"))
    each = shop.hangers.screws_each
    count, held = sum(one.count for one in kinds.values()), sum(one.held for one in kinds.values())
    out.append(item(shop.hangers.screw, count * each, held * each, f"{each} for each hanger", "screws"))
    return out


def _ends_and_outlets(layout: Layout, item: ItemMaker) -> list[Hardware]:
    caps: dict[Side, _Tally] = {"left": _Tally(), "right": _Tally()}
    outlets: dict[str, _Tally] = defaultdict(_Tally)
    for piece in layout.pieces:
        for side, end in (("left", piece.left), ("right", piece.right)):
            if end in ("end cap", "wall"):
                caps["left" if side == "left" else "right"].add(1, held=bool(piece.hold))
        for hole, _ in piece.holes:
            outlets[hole.size or "of unknown size"].add(1, held=bool(piece.hold))
    out = [
        item(f"end cap, {side}", one.count, one.held, f"free {side} ends and walls", "end_caps")
        for side, one in caps.items()
    ]
    out += [
        item(f"outlet {size}", one.count, one.held, "one for each hole", "outlets")
        for size, one in sorted(outlets.items())
    ]
    return out


def _corners(layout: Layout, shop: Shop, item: ItemMaker) -> list[Hardware]:
    """A strip or a box for each corner, once though two pieces meet there. A hand mitre needs neither."""
    rules = shop.corners
    mitred = rules.without_box if rules.method == "box mitre" else rules.method
    parts = {"box": "box mitre"} | ({"mitre": "corner strip"} if mitred == "strip mitre" else {})
    corners: dict[int, tuple[str, bool]] = {}
    for piece in layout.pieces:
        for side, end, turn in _ends(piece):
            number = layout.corners.get((piece.run, side))
            part = parts.get(end.rpartition(" ")[2])
            if end not in CORNER_ENDS or number is None or part is None:
                continue
            angle = "" if turn is None or turn == SQUARE else f", {float(turn):g}°"
            name = f"{CORNER_ENDS[end]} {part}{angle}"
            before = corners.get(number, ("", False))
            corners[number] = (name, before[1] or bool(piece.hold))
    tallies: dict[str, _Tally] = defaultdict(_Tally)
    for name, held in corners.values():
        tallies[name].add(1, held=held)
    return [
        item(name, one.count, one.held, "one for each corner", "corners")
        for name, one in sorted(tallies.items())
    ]


def _ends(piece: LaidPiece) -> list[tuple[Side, PieceEnd, Fraction | None]]:
    return [("left", piece.left, piece.left_turn), ("right", piece.right, piece.right_turn)]


def _joints_in_runs(layout: Layout, item: ItemMaker) -> list[Hardware]:
    tally = _Tally()
    for piece in layout.pieces:
        if piece.right == "expansion joint":
            tally.add(1, held=bool(piece.hold))
    return [item("expansion joint", tally.count, tally.held, "runs too long to do without", "corners")]


def _pipe(need: PipeNeed) -> list[Hardware]:
    """The new lengths of one size and colour, and the leftovers to bring."""
    item = f"{need.size or ''} {need.colour or ''}".strip()
    least = "the fewest that will do" if need.proven_fewest else f"no plan takes fewer than {need.at_least}"
    many = f" ({need.lengths} in all)" if len(need.bought) > 1 else ""
    out = [
        Hardware(
            item=f"downpipe {item}",
            count=one.count,
            unit=pipe_unit(one.stock),
            why=f"{least}{many}, see the cuts from stock",
        )
        for one in need.bought
    ]
    why = "at hand, see the cuts from stock"
    return [*out, Hardware(item=f"downpipe leftover {item}", count=need.from_leftovers, why=why)]


def pipe_unit(stock: Length) -> str:
    """What a length of pipe is counted by."""
    return f"length of {shown(stock.inches, stock.system)}"


def _pipe_parts(layout: Layout, item: ItemMaker) -> list[Hardware]:
    parts: dict[str, _Tally] = defaultdict(_Tally)
    for pipe in layout.pipes:
        for what, count in pipe.parts:
            name = f"{what} {pipe.size}" if what == "pipe strap" and pipe.size else what
            parts[name].add(count, held=bool(pipe.hold))
    return [
        item(name, one.count, one.held, "see the downpipe list", _spare_kind(name))
        for name, one in sorted(parts.items())
    ]


def _spare_kind(name: str) -> SpareKind | None:
    return "elbows" if name.startswith("elbow") else "straps" if name.startswith("pipe strap") else None


def _pipe_screws(layout: Layout, shop: Shop, item: ItemMaker) -> list[Hardware]:
    rules = shop.downpipes
    joints, straps = _Tally(), _Tally()
    for pipe in layout.pipes:
        joints.add(pipe.joints, held=bool(pipe.hold))
        straps.add(sum(count for what, count in pipe.parts if what == "pipe strap"), held=bool(pipe.hold))
    strap, joint = rules.strap_screws_each, rules.joint_screws_each
    in_straps = f"{strap} for each pipe strap, of the kind the wall needs"
    in_joints = f"{joint} at each of {joints.count} joints of pipes, elbows and outlets"
    return [
        item(rules.strap_screw, straps.count * strap, straps.held * strap, in_straps, "screws"),
        item(rules.joint_screw, joints.count * joint, joints.held * joint, in_joints, "screws"),
    ]
