"""The lists as tables: lengths as a tape shows them and as exact numbers."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING, TypeAlias

from gutterance.lists.pipe_cutting import cuts_of
from gutterance.render.plain import tape

if TYPE_CHECKING:
    from fractions import Fraction

    from gutterance.lists.models import Hold, Lists
    from gutterance.measure.length import Length

Cell: TypeAlias = "str | int | Fraction | Decimal"


@dataclass(frozen=True, slots=True)
class Table:
    """One list: its file's name without ending, its heading, its columns with their units, its rows."""

    name: str
    title: str
    head: list[str]
    rows: list[list[Cell]]
    held: bool = False
    """Whether the last column says why a row is on hold."""


def tables(lists: Lists) -> list[Table]:
    """Each list as a table; lengths in inches, on a metric job in millimetres."""
    unit = "mm" if lists.units == "metric" else "in"
    return [
        _pieces(lists, unit),
        _holes(lists, unit),
        _falls(lists, unit),
        _hangers(lists, unit),
        _downpipes(lists, unit),
        _pipe_parts(lists, unit),
        _pipe_cuts(lists, unit),
        _run_order(lists),
        _coils(lists, unit),
        _hardware(lists),
        _drainage(lists, unit),
    ]


def _both(length: Length | None, unit: str) -> tuple[str, Cell]:
    if length is None:
        return "", ""
    return tape(length), length.mm if unit == "mm" else length.inches


def _pair(name: str, unit: str) -> tuple[str, str]:
    return name, f"{name} [{unit}]"


def _held(holds: list[Hold]) -> str:
    return "; ".join(hold.says for hold in holds)


def _pieces(lists: Lists, unit: str) -> Table:
    order = {piece_id: number for number, piece_id in enumerate(lists.machine_order, start=1)}
    head = ["order", "piece", "run", *_pair("back", unit), *_pair("front", unit), *_pair("coil", unit),
            *_pair("blank", unit), "leaves first", "left", "right", *_pair("tab left", unit),
            *_pair("tab right", unit), *_pair("starts at", unit), "profile", "size", "colour", "carriers",
            "on hold"]  # fmt: skip
    rows: list[list[Cell]] = [
        [order.get(one.id, ""), one.id, one.run_name, *_both(one.back, unit), *_both(one.front, unit),
         *_both(one.coil, unit), *_both(one.blank, unit), one.leads, one.left, one.right,
         *_both(one.left_tab, unit), *_both(one.right_tab, unit),
         *_both(one.starts_at if one.number > 1 else None, unit),
         one.profile or "", one.size or "", one.colour or "", one.carriers or "", _held(one.hold)]
        for one in lists.pieces
    ]  # fmt: skip
    return Table("pieces", "Pieces", head, rows, held=True)


def _holes(lists: Lists, unit: str) -> Table:
    head = ["piece", "outlet", "size", *_pair("from left", unit), *_pair("from right", unit),
            *_pair("on the blank from left", unit), *_pair("on the blank from right", unit),
            "on hold"]  # fmt: skip
    rows: list[list[Cell]] = [
        [piece.id, hole.id, hole.size or "", *_both(hole.from_left, unit), *_both(hole.from_right, unit),
         *_both(hole.blank_from_left or hole.from_left, unit),
         *_both(hole.blank_from_right or hole.from_right, unit), _held(piece.hold)]
        for piece in lists.pieces
        for hole in piece.outlets
    ]  # fmt: skip
    return Table("holes", "Holes", head, rows, held=True)


def _falls(lists: Lists, unit: str) -> Table:
    rows: list[list[Cell]] = [
        [one.run, one.what, *_both(one.at, unit), *_both(one.below_high_point, unit), _held(one.hold)]
        for one in lists.falls
    ]
    head = ["run", "what", *_pair("at", unit), *_pair("low by", unit), "on hold"]
    return Table("falls", "Falls", head, rows, held=True)


def _hangers(lists: Lists, unit: str) -> Table:
    rows: list[list[Cell]] = [
        [one.run, number, *_both(at, unit), *_both(below, unit), _held(one.hold)]
        for one in lists.hangers
        for number, (at, below) in enumerate(zip(one.at, one.below, strict=True), start=1)
    ]
    head = ["run", "number", *_pair("at", unit), *_pair("low by", unit), "on hold"]
    return Table("hangers", "Hangers", head, rows, held=True)


def _downpipes(lists: Lists, unit: str) -> Table:
    head = ["downpipe", "place", "size", "colour", "ends at", "rule", *_pair("gooseneck", unit),
            *_pair("drop", unit), *_pair("wall pipe", unit), *_pair("tail", unit), "bends", "parts",
            "straps up from foot", "on hold"]  # fmt: skip
    rows: list[list[Cell]] = [
        [one.id, one.place or "", one.size or "", one.colour or "", one.ends_at or "", one.rule or "",
         *_both(one.gooseneck, unit), *_both(one.drop, unit), *_both(one.wall_pipe, unit),
         *_both(one.tail, unit),
         "; ".join(f"{bend.what} {bend.way}: {' + '.join(map(tape, bend.cuts))}" for bend in one.bends),
         "; ".join(f"{part.count} {part.what}" for part in one.parts),
         "; ".join(tape(at) for at in one.straps),
         _held(one.hold)]
        for one in lists.downpipes
    ]  # fmt: skip
    return Table("downpipes", "Downpipes", head, rows, held=True)


def _pipe_parts(lists: Lists, unit: str) -> Table:
    """Each cut of each downpipe, those on hold among them."""
    rows: list[list[Cell]] = [
        [one.id, part, one.size or "", one.colour or "", *_both(length, unit), _held(one.hold)]
        for one in lists.downpipes
        for length, part in cuts_of(one)
    ]
    head = ["downpipe", "part", "size", "colour", *_pair("cut", unit), "on hold"]
    return Table("pipe-parts", "Pipe parts", head, rows, held=True)


def _pipe_cuts(lists: Lists, unit: str) -> Table:
    head = ["number", "from", *_pair("stock", unit), "size", "colour", *_pair("cut", unit), "for",
            *_pair("left over", unit), "keep"]  # fmt: skip
    rows: list[list[Cell]] = [
        [number, "leftover" if one.at_hand else "new", *_both(one.stock, unit), one.size or "",
         one.colour or "", *_both(length, unit), of, *_both(one.left_over, unit), "yes" if one.keep else ""]
        for number, one in enumerate(lists.pipe_cuts, start=1)
        for length, of in zip(one.cuts, one.of, strict=True)
    ]  # fmt: skip
    return Table("pipe-cuts", "Pipe cuts", head, rows)


def _run_order(lists: Lists) -> Table:
    rows: list[list[Cell]] = [
        [number, one.piece, one.coil or "", one.why, "; ".join(one.hang)]
        for number, one in enumerate(lists.machine_steps, start=1)
    ]
    return Table("run-order", "Run order", ["order", "piece", "coil", "why now", "hang meanwhile"], rows)


def _coils(lists: Lists, unit: str) -> Table:
    head = ["coil", "colour", *_pair("width", unit), "pieces", *_pair("takes", unit), *_pair("lost", unit),
            *_pair("left over", unit), *_pair("to have", unit)]  # fmt: skip
    rows: list[list[Cell]] = [
        [one.coil, one.colour or "", *_both(one.width, unit), "; ".join(one.pieces), *_both(one.total, unit),
         *_both(one.lost, unit), *_both(one.left_over, unit), *_both(one.order, unit)]
        for one in lists.coil_runs
    ]  # fmt: skip
    return Table("coils", "Coils", head, rows)


def _hardware(lists: Lists) -> Table:
    rows: list[list[Cell]] = [
        [one.item, one.count, one.spare, one.unit, one.on_hold, one.why] for one in lists.hardware
    ]
    return Table("hardware", "Hardware", ["item", "count", "spare", "unit", "of these on hold", "why"], rows)


def _drainage(lists: Lists, unit: str) -> Table:
    head = ["outlet", "part", "side", "of", *_pair("length", unit), "flow [l/s]", "capacity [l/s]",
            "full [%]", "method", "clause", "missing"]  # fmt: skip
    rows: list[list[Cell]] = []
    if lists.drainage.missing:
        rows.append([*[""] * 11, "; ".join(lists.drainage.missing)])
    for one in lists.drainage.outlets:
        missing = "; ".join(one.missing)
        rows += [
            [one.id, check.part, check.toward or "", check.of, *_both(check.length, unit),
             _flow(check.flow_l_s), "" if check.capacity_l_s is None else _flow(check.capacity_l_s),
             "" if check.full_percent is None else check.full_percent, check.method, check.clause, missing]
            for check in one.checks
        ]  # fmt: skip
        if not one.checks:
            rows.append([one.id, *[""] * 10, missing])
    return Table("drainage", "Drainage", head, rows)


def _flow(litres_a_second: float) -> Decimal:
    return Decimal(f"{litres_a_second:.4f}")
