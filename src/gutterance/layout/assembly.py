"""Short returns between two corners, put together on the ground with a neighbour and hung as one."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from gutterance.layout.corners import CORNER_ENDS
from gutterance.layout.values import Assembly
from gutterance.layout.wording import listed, shown

if TYPE_CHECKING:
    from gutterance.layout.values import Channel, LaidPiece, LaidRun
    from gutterance.shop import Shop


def assemblies(
    channels: list[Channel], by_run: list[list[LaidPiece]], runs: list[LaidRun], shop: Shop
) -> list[Assembly]:
    """What is put together before it goes up: each row of short returns, with the shorter of its neighbours.

    A return is a piece with a corner at each end and a back of at most the shop's `ground_under`. Two
    corners a few feet apart are sealed and riveted on the ground, where both hands and the inside are free
    (common practice, no source). A neighbour joins if it can be carried with the rest.
    """
    out: list[Assembly] = []
    for channel in channels:
        pieces = [piece for i in channel.runs for piece in by_run[i]]
        short = [_is_return(piece, shop) for piece in pieces]
        if channel.loop and pieces and all(short):
            continue
        if channel.loop and short and short[0]:
            # begin the walk where no row of returns is cut in two
            turn = short.index(False)
            pieces, short = pieces[turn:] + pieces[:turn], short[turn:] + short[:turn]
        at = 0
        while at < len(pieces):
            if not short[at]:
                at += 1
                continue
            end = at
            while end < len(pieces) and short[end]:
                end += 1
            one = _assembly(pieces, at, end, runs, shop, loop=channel.loop)
            if len(one.pieces) > 1:
                out.append(one)
            at = end
    return out


def _is_return(piece: LaidPiece, shop: Shop) -> bool:
    corners = piece.left in CORNER_ENDS and piece.right in CORNER_ENDS
    return corners and piece.back is not None and piece.back <= shop.pieces.ground_under.inches


def _assembly(
    pieces: list[LaidPiece], begin: int, end: int, runs: list[LaidRun], shop: Shop, *, loop: bool
) -> Assembly:
    row = pieces[begin:end]
    length = sum((piece.back or Fraction(0) for piece in row), Fraction(0))
    most = shop.pieces.crew * shop.pieces.carry_each.inches
    beside: list[tuple[Fraction, int]] = []
    for number in (begin - 1, end):
        if (loop or 0 <= number < len(pieces)) and len(pieces) > len(row):
            other = pieces[number % len(pieces)]
            if other.back is not None and other not in row and length + other.back <= most:
                beside.append((other.back, number))
    if beside:
        back, number = min(beside)
        other = pieces[number % len(pieces)]
        row = [other, *row] if number < begin else [*row, other]
        length += back
    system = runs[row[0].run].system
    names = listed([piece.id for piece in row])
    says = f"{names} together on the ground first, {shown(length, system)} in all: "
    says += "a short return" if end - begin == 1 else f"{end - begin} short returns"
    carriers = max(1, int(-(length // -shop.pieces.carry_each.inches)))
    return Assembly(row, says, carriers)
