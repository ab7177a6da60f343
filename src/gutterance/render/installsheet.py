"""The install sheet: for the ladder. Falls and hanger marks by run, laps, and the dangers of this house."""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

from gutterance.render.plain import columns, grid, harmless, heading, page, rule, short, tape, wrapped

if TYPE_CHECKING:
    from gutterance.lists.models import Channel, Fall, Hangers, Lists, Movement, Piece
    from gutterance.shop import Shop

_MARKS = (
    "All marks from the run's left end as measured, as you face the wall. "
    "Low by: how far below the stretch's highest point."
)

FALLS_RULE = "Falls at least {drop} in {over}; hangers never wider than said."


def install_sheet(lists: Lists, shop: Shop | None = None) -> str:
    """Stretch by stretch: where each run is low and by how much, where the hangers go, how laps lie."""
    lines = heading("INSTALL SHEET", lists.title)
    names = {piece.run: piece.run_name for piece in lists.pieces}
    for caution in lists.cautions:
        about = f" ({harmless(names.get(caution.about, caution.about))})" if caution.about else ""
        source = f"  [{harmless(caution.source)}]" if caution.source else ""
        mark = "HAZARD" if (caution.source or "").startswith("the note") else "Care"
        lines += wrapped(f"{mark}{about}: {harmless(caution.says)}{source}", "", "  ")
    lines += ["", *wrapped(_MARKS)]
    if shop is not None:
        lines += wrapped(
            FALLS_RULE.format(drop=rule(shop.fall.drop, lists), over=rule(shop.fall.over, lists))
        )
    falls: dict[str, list[Fall]] = defaultdict(list)
    for fall in lists.falls:
        falls[fall.run].append(fall)
    hangers = {one.run: one for one in lists.hangers}
    movements = {one.run: one for one in lists.movements}
    if lists.assemblies:
        lines += ["", "PUT TOGETHER ON THE GROUND FIRST"]
        lines += [line for one in lists.assemblies for line in wrapped(harmless(one.says), "  + ", "    ")]
    pieces: dict[str, list[Piece]] = defaultdict(list)
    for piece in lists.pieces:
        pieces[piece.run].append(piece)
    for channel in lists.channels:
        lines += _stretch(channel, pieces)
        for run in channel.runs:
            lines += _run(run, pieces[run], falls[run], hangers.get(run))
            lines += _moves(movements.get(run))
    return page(lines)


def _stretch(channel: Channel, pieces: dict[str, list[Piece]]) -> list[str]:
    names = ", ".join(_name(run, pieces[run]) for run in channel.runs)
    loop = ", all the way round" if channel.loop else ""
    lines = ["", *wrapped(f"STRETCH {channel.id.removeprefix('stretch-')}: {names}{loop}", "", "  ")]
    lines += [line for one in channel.says for line in wrapped(f"~ {harmless(one)}", "  ", "    ")]
    return lines


def _run(run: str, pieces: list[Piece], falls: list[Fall], hangers: Hangers | None) -> list[str]:
    lines = [
        "",
        f"  {_name(run, pieces).upper()}" + ("   ON HOLD" if any(one.hold for one in pieces) else ""),
    ]
    if falls:
        rows = [["", "at", "low by", ""]]
        for fall in falls:
            held = "; ".join(harmless(one.says) for one in fall.hold)
            rows.append([fall.what, tape(fall.at), short(fall.below_high_point), f"? {held}" if held else ""])
        same = {row[3] for row in rows[1:]}
        if len(same) == 1 and (said := same.pop()):
            rows = [row[:3] for row in rows]
            lines += [*columns(rows, "    "), f"    {said}"]
        else:
            lines += columns(rows, "    ")
    for piece in pieces:
        if piece.right == "lap" and piece.right_lap is not None:
            lines.append(f"    lap: {lap_words(piece)}")
    if hangers is not None:
        lines += _hangers(hangers)
    return lines


def lap_words(piece: Piece) -> str:
    """How the lap at a piece's right end lies."""
    if piece.right_lap == "unknown":
        return f"{harmless(piece.id)} meets the next piece; lay the piece the water comes from over the other"
    other = "the next piece to its right"
    return f"{harmless(piece.id)} lies {piece.right_lap} {other}"


def _hangers(hangers: Hangers) -> list[str]:
    if hangers.count is None:
        return ["    hangers: not known yet"]
    widest = f", none wider apart than {short(hangers.spacing)}" if hangers.spacing is not None else ""
    known = all(one is not None for one in hangers.below)
    lines = [f"    hangers: {hangers.count}{widest}; marks{', and how low each is' if known else ''}:"]
    cells = [
        tape(at) + (f" ({short(below)})" if below is not None else "")
        for at, below in zip(hangers.at, hangers.below, strict=True)
    ]
    return lines + grid(cells, "      ")


def _moves(movement: Movement | None) -> list[str]:
    return [] if movement is None else wrapped(movement_words(movement), "    ", "      ")


def movement_words(movement: Movement) -> str:
    """How far a run grows, and where its expansion joints are."""
    at = ", ".join(tape(one) for one in movement.joints)
    over = tape(movement.joint_over)
    joints = f"an expansion joint at {at}" if at else f"no joint up to {over} by the shop's rule"
    metal = f"{harmless(movement.material)}: {harmless(movement.source)}"
    return f"grows {short(movement.moves)} from cold to hot ({metal}); {joints}"


def _name(run: str, pieces: list[Piece]) -> str:
    return harmless(pieces[0].run_name if pieces and pieces[0].run_name else run)
