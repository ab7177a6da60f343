"""The numbers that something is made by, in one line: what a tick vouches for.

A piece that was made keeps the numbers it was made by. When the sheet changes afterwards, the list can say
that it was made by others, which is where a wrong piece would otherwise be hung.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.render.plain import cut, tape

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gutterance.lists.models import DownpipeList, Lists, Piece


def things_to_make(lists: Lists) -> Iterator[tuple[str, Piece | DownpipeList]]:
    """Every piece and downpipe with the path it is ticked by: `pieces.front-1`, `downpipes.front-1`."""
    yield from ((f"pieces.{one.id}", one) for one in lists.pieces)
    yield from ((f"downpipes.{one.id}", one) for one in lists.downpipes)


def made_by(thing: Piece | DownpipeList) -> str:
    """The numbers it is made by."""
    from gutterance.lists.models import Piece

    return _of_piece(thing) if isinstance(thing, Piece) else _of_pipe(thing)


def _of_piece(piece: Piece) -> str:
    words = [f"back {tape(piece.back)}", f"front {tape(piece.front)}", f"{piece.left} to {piece.right}"]
    words += [f"hole at {tape(hole.from_left)}" for hole in piece.outlets]
    return ", ".join([*words, *_gutter(piece.size, piece.colour)])


def _of_pipe(pipe: DownpipeList) -> str:
    words = [f"gooseneck {cut(pipe.gooseneck)}"] if pipe.gooseneck is not None else []
    wall = " + ".join(cut(one) for one in pipe.wall_cuts) or cut(pipe.wall_pipe)
    words.append(f"wall pipe {wall}")
    words += [f"{bend.what} {' + '.join(cut(one) for one in bend.cuts)}" for bend in pipe.bends]
    return ", ".join([*words, *_gutter(pipe.size, pipe.colour)])


def _gutter(size: str | None, colour: str | None) -> list[str]:
    told = [f"size {size}" if size else "", colour or ""]
    return [one for one in told if one]


def other_numbers(made: str, now: str) -> tuple[str, str]:
    """What differs between the numbers something was made by and those of now, each side in its own words.

    >>> other_numbers("white, back 42 ft", "white, back 43 ft")
    ('back 42 ft', 'back 43 ft')
    """
    then, after = made.split(", "), now.split(", ")
    return ", ".join(one for one in then if one not in after), ", ".join(
        one for one in after if one not in then
    )
