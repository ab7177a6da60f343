"""Why a number on a list is what it is: its steps, and the readings on the sheet they rest on."""

from __future__ import annotations

import difflib
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from gutterance.lists.explaining_rain import drained

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gutterance.lists.models import Lists, Reason
    from gutterance.measure.length import Length


class UnknownListPath(LookupError):
    """No number on the lists has that path; the message names the nearest one."""


@dataclass(frozen=True, slots=True)
class Explanation:
    """A number's path, how it is shown, the steps to it, any holds on it, and the readings it rests on."""

    path: str
    shown: str
    says: list[str]
    hold: list[str] = field(default_factory=list)
    sheet: list[str] = field(default_factory=list)


def explain(lists: Lists, path: str) -> Explanation:
    """Explain a number: `pieces.front-1.back`, `downpipes.front-1.wall_pipe`, `hangers.front.count`.

    Raises UnknownListPath.
    """
    found = None
    paths = []
    for one in explanations(lists):
        paths.append(one.path)
        if one.path == path:
            found = one
            break
    if found is not None:
        return found
    near = difflib.get_close_matches(path, paths, n=1, cutoff=0.4)
    hint = f" Did you mean {near[0]}?" if near else ""
    raise UnknownListPath(f"no number on the lists is at {path!r}.{hint}")


def explanations(lists: Lists) -> Iterator[Explanation]:
    """Every number on the lists that can be explained, in their order."""
    for piece in lists.pieces:
        hold = [one.says for one in piece.hold]
        at = f"pieces.{piece.id}"
        for name, length in (
            ("back", piece.back),
            ("front", piece.front),
            ("blank", piece.blank),
            ("coil", piece.coil),
        ):
            yield _from_reasons(f"{at}.{name}", length, piece.why, name, hold)
        for hole in piece.outlets:
            name = f"outlets.{hole.id}"
            yield _from_reasons(f"{at}.{name}", hole.from_left, piece.why, name, hold)
    for fall in lists.falls:
        shown = _shown(fall.below_high_point)
        hold = [one.says for one in fall.hold]
        yield Explanation(f"falls.{fall.run}.{fall.what}", shown, list(fall.why), hold)
    for hangers in lists.hangers:
        hold = [one.says for one in hangers.hold]
        at = f"hangers.{hangers.run}"
        counted = "not known" if hangers.count is None else str(hangers.count)
        says = [one.says for one in hangers.why]
        yield Explanation(f"{at}.count", counted, says, hold, _sheet_paths(hangers.why))
        yield _from_reasons(f"{at}.spacing", hangers.spacing, hangers.why, "spacing", hold)
        if hangers.below:
            lows = ", ".join("not known" if one is None else one.inch_text() for one in hangers.below)
            says = [one.says for one in hangers.why if one.number == "below"]
            yield Explanation(f"{at}.below", lows, says, hold)
    for moved in lists.movements:
        yield _from_reasons(f"movements.{moved.run}.moves", moved.moves, moved.why, "moves", [])
    for pipe in lists.downpipes:
        hold = [one.says for one in pipe.hold]
        at = f"downpipes.{pipe.id}"
        for name, length in (
            ("gooseneck", pipe.gooseneck),
            ("drop", pipe.drop),
            ("wall_pipe", pipe.wall_pipe),
        ):
            if name == "gooseneck" and length is None and pipe.rule is not None and not pipe.hold:
                continue  # straight down, or elbow into elbow: there is none to explain
            yield _from_reasons(f"{at}.{name}", length, pipe.why, name, hold)
        for name, length in (("other_gooseneck", pipe.other_gooseneck), ("other_drop", pipe.other_drop)):
            if length is not None:
                yield _from_reasons(f"{at}.{name}", length, pipe.why, name, hold)
        if pipe.trim is not None:
            yield _from_reasons(f"{at}.trim", pipe.trim, pipe.why, "trim", hold)
        for bend in pipe.bends:
            cuts = " + ".join(map(_shown, bend.cuts)) or "no pipe"
            own = [one for one in pipe.why if one.number == f"bends.{bend.what}"]
            shown = f"{cuts}, drop {_shown(bend.drop)}"
            yield Explanation(
                f"{at}.bends.{bend.what}", shown, [one.says for one in own], hold, _sheet_paths(own)
            )
        parts = ", ".join(f"{one.count} {one.what}" for one in pipe.parts)
        for name, shown in (
            ("wall_cuts", " + ".join(map(_shown, pipe.wall_cuts)) if len(pipe.wall_cuts) > 1 else ""),
            ("straps", ", ".join(map(_shown, pipe.straps))),
            ("parts", parts),
        ):
            if shown:
                own = [one for one in pipe.why if one.number == name]
                yield Explanation(f"{at}.{name}", shown, [one.says for one in own], hold, _sheet_paths(own))
    for item in lists.hardware:
        spare = f", {item.spare} spare" if item.spare else ""
        yield Explanation(f"hardware.{item.item}", f"{item.count} {item.unit}{spare}", [item.why])
    yield from (Explanation(*figure) for figure in drained(lists))


def _from_reasons(
    path: str, length: Length | None, why: list[Reason], number: str, hold: list[str]
) -> Explanation:
    own = [one for one in why if one.number == number]
    return Explanation(path, _shown(length), [one.says for one in own], hold, _sheet_paths(own))


def _sheet_paths(why: list[Reason]) -> list[str]:
    return list(dict.fromkeys(one.sheet for one in why if one.sheet is not None))


def _shown(length: Length | None) -> str:
    return "not known" if length is None else length.tape_text()
