"""The lists as CSV: one table each, lengths as a tape shows them and as exact decimals."""

from __future__ import annotations

import csv
import io
from typing import TYPE_CHECKING

from gutterance.measure.length import decimal_or_mixed
from gutterance.render.plain import tape

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from gutterance.lists.models import Hold, Lists
    from gutterance.measure.length import Length

_FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n")


def cell(text: str) -> str:
    """A text cell that no spreadsheet runs as a formula: a ' goes before what could start one.

    >>> cell("=2+2"), cell("front")
    ("'=2+2", 'front')
    """
    return f"'{text}" if text.startswith(_FORMULA_STARTS) else text


def tables(lists: Lists) -> dict[str, str]:
    """File name to CSV text, for each list."""
    unit = "mm" if lists.units == "metric" else "in"
    return {
        "pieces.csv": _pieces(lists, unit),
        "holes.csv": _holes(lists, unit),
        "falls.csv": _falls(lists, unit),
        "hangers.csv": _hangers(lists, unit),
        "downpipes.csv": _downpipes(lists, unit),
        "pipe-cuts.csv": _pipe_cuts(lists, unit),
        "run-order.csv": _run_order(lists),
        "coils.csv": _coils(lists, unit),
        "hardware.csv": _hardware(lists),
        "drainage.csv": _drainage(lists, unit),
    }


def _written(rows: Iterable[Sequence[str]]) -> str:
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    for row in rows:
        writer.writerow([cell(one) for one in row])
    return out.getvalue()


def _both(length: Length | None, unit: str) -> tuple[str, str]:
    if length is None:
        return "", ""
    return tape(length), decimal_or_mixed(length.mm if unit == "mm" else length.inches)


def _pair(name: str, unit: str) -> tuple[str, str]:
    return name, f"{name} [{unit}]"


def _held(holds: list[Hold]) -> str:
    return "; ".join(hold.says for hold in holds)


def _pieces(lists: Lists, unit: str) -> str:
    order = {piece_id: str(number) for number, piece_id in enumerate(lists.machine_order, start=1)}
    head = ["order", "piece", "run", *_pair("back", unit), *_pair("front", unit), *_pair("coil", unit),
            *_pair("blank", unit), "leaves first"]  # fmt: skip
    rows = [[*head, "left", "right", "profile", "size", "colour", "carriers", "on hold"]]
    rows += [
        [order.get(one.id, ""), one.id, one.run_name, *_both(one.back, unit), *_both(one.front, unit),
         *_both(one.coil, unit), *_both(one.blank, unit), one.leads, one.left, one.right,
         one.profile or "", one.size or "", one.colour or "",
         str(one.carriers or ""), _held(one.hold)]
        for one in lists.pieces
    ]  # fmt: skip
    return _written(rows)


def _holes(lists: Lists, unit: str) -> str:
    head = [
        "piece",
        "outlet",
        "size",
        "from left",
        f"from left [{unit}]",
        "from right",
        f"from right [{unit}]",
        "on the blank from left",
        f"on the blank from left [{unit}]",
        "on the blank from right",
        f"on the blank from right [{unit}]",
    ]
    rows = [head]
    rows += [
        [piece.id, hole.id, hole.size or "", *_both(hole.from_left, unit), *_both(hole.from_right, unit),
         *_both(hole.blank_from_left or hole.from_left, unit),
         *_both(hole.blank_from_right or hole.from_right, unit)]
        for piece in lists.pieces
        for hole in piece.outlets
    ]  # fmt: skip
    return _written(rows)


def _falls(lists: Lists, unit: str) -> str:
    rows = [["run", "what", "at", f"at [{unit}]", "low by", f"low by [{unit}]", "on hold"]]
    rows += [
        [one.run, one.what, *_both(one.at, unit), *_both(one.below_high_point, unit), _held(one.hold)]
        for one in lists.falls
    ]
    return _written(rows)


def _hangers(lists: Lists, unit: str) -> str:
    rows = [["run", "number", "at", f"at [{unit}]", "low by", f"low by [{unit}]", "on hold"]]
    rows += [
        [one.run, str(number), *_both(at, unit), *_both(below, unit), _held(one.hold)]
        for one in lists.hangers
        for number, (at, below) in enumerate(zip(one.at, one.below, strict=True), start=1)
    ]
    return _written(rows)


def _downpipes(lists: Lists, unit: str) -> str:
    head = ["downpipe", "place", "size", "colour", "ends at", "rule"]
    head += [*_pair("gooseneck", unit), *_pair("drop", unit), *_pair("wall pipe", unit)]
    rows = [[*head, "bends", "parts", "straps up from foot", "on hold"]]
    rows += [
        [one.id, one.place or "", one.size or "", one.colour or "", one.ends_at or "", one.rule or "",
         *_both(one.gooseneck, unit), *_both(one.drop, unit), *_both(one.wall_pipe, unit),
         "; ".join(f"{bend.what} {bend.way}: {' + '.join(map(tape, bend.cuts))}" for bend in one.bends),
         "; ".join(f"{part.count} {part.what}" for part in one.parts),
         "; ".join(tape(at) for at in one.straps),
         _held(one.hold)]
        for one in lists.downpipes
    ]  # fmt: skip
    return _written(rows)


def _pipe_cuts(lists: Lists, unit: str) -> str:
    head = ["number", "from", *_pair("stock", unit), "size", "colour", *_pair("cut", unit), "for"]
    rows = [[*head, *_pair("left over", unit), "keep"]]
    rows += [
        [str(number), "leftover" if one.at_hand else "new", *_both(one.stock, unit), one.size or "",
         one.colour or "", *_both(length, unit), of, *_both(one.left_over, unit), "yes" if one.keep else ""]
        for number, one in enumerate(lists.pipe_cuts, start=1)
        for length, of in zip(one.cuts, one.of, strict=True)
    ]  # fmt: skip
    return _written(rows)


def _run_order(lists: Lists) -> str:
    rows = [["order", "piece", "coil", "why now", "hang meanwhile"]]
    rows += [
        [str(number), one.piece, one.coil or "", one.why, "; ".join(one.hang)]
        for number, one in enumerate(lists.machine_steps, start=1)
    ]
    return _written(rows)


def _coils(lists: Lists, unit: str) -> str:
    head = ["coil", "colour", *_pair("width", unit), "pieces", *_pair("takes", unit), *_pair("lost", unit)]
    rows = [[*head, *_pair("left over", unit), *_pair("to have", unit)]]
    rows += [
        [one.coil, one.colour or "", *_both(one.width, unit), "; ".join(one.pieces), *_both(one.total, unit),
         *_both(one.lost, unit), *_both(one.left_over, unit), *_both(one.order, unit)]
        for one in lists.coil_runs
    ]  # fmt: skip
    return _written(rows)


def _hardware(lists: Lists) -> str:
    rows = [["item", "count", "spare", "unit", "of these on hold", "why"]]
    rows += [
        [one.item, str(one.count), str(one.spare), one.unit, str(one.on_hold), one.why]
        for one in lists.hardware
    ]
    return _written(rows)


def _drainage(lists: Lists, unit: str) -> str:
    head = [
        "outlet",
        "part",
        "side",
        "of",
        *_pair("length", unit),
        "flow [l/s]",
        "capacity [l/s]",
        "full [%]",
    ]
    rows = [[*head, "method", "clause", "missing"]]
    if lists.drainage.missing:
        rows.append([*[""] * 11, "; ".join(lists.drainage.missing)])
    for one in lists.drainage.outlets:
        missing = "; ".join(one.missing)
        rows += [
            [one.id, check.part, check.toward or "", check.of, *_both(check.length, unit),
             f"{check.flow_l_s:.4f}", "" if check.capacity_l_s is None else f"{check.capacity_l_s:.4f}",
             "" if check.full_percent is None else str(check.full_percent), check.method, check.clause,
             missing]
            for check in one.checks
        ]  # fmt: skip
        if not one.checks:
            rows.append([one.id, *[""] * 10, missing])
    return _written(rows)
