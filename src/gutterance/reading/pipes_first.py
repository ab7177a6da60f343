"""Pipes told under a heading before any run: `Pipes first.` `Barn: both ends, 12 ft 6, tile.`

No number in such lines is the length of a run, though a run is named. Where a part of the house is named
there without its side, and one run of that part is told later, the pipes are that run's.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.reading.lettered.pipes import cue_beside, name_pipe_fields

if TYPE_CHECKING:
    from gutterance.reading.builder import RunDraft
    from gutterance.reading.discourse import Walk
    from gutterance.reading.items import Item, Line

WITHIN = 2
"""The word for the pipes is among the first so many words of the heading."""
THINGS = frozenset({"downpipe", "outlet"})
NAMES = frozenset({"direction", "part", "initial", "lr", "place"})
"""Kinds of items of a list: a heading has one at most."""
TOLD_OF_RUNS = frozenset({"end", "end word", "end pair"})


def pipes_told_first(lines: list[Line], walk: Walk) -> frozenset[int]:
    """Which lines stand under a heading of pipes that is before every run; the numbers in them are marked."""
    found: set[int] = set()
    heading: int | None = None
    for line in lines:
        if not line.text.strip():
            if heading is not None and found:
                break
            continue
        said = [item for item in line.items if item.kind not in ("mark", "filler", "break")]
        if heading is None:
            if _measures(said) and not _of_the_job(said):
                return frozenset()
            if any(item.kind in THINGS and item.plural for item in said[:WITHIN]) and not _measures(said):
                if sum(item.kind in NAMES for item in said) > 1:
                    return frozenset()  # `Pipes at front left, back left and back right`: no heading
                heading = line.number
            continue
        if any(item.kind in TOLD_OF_RUNS for item in said):
            return frozenset()
        found.add(line.number)
    if heading is None or len(found) < WITHIN:
        return frozenset()
    for line in lines:
        if line.number in found:
            _mark(line, walk)
    return frozenset(found)


def _measures(said: list[Item]) -> list[Item]:
    return [
        item
        for item in said
        if item.kind == "measure" and item.found is not None and item.found.kind != "other"
    ]


def _of_the_job(said: list[Item]) -> bool:
    """Whether a line only says what the gutter is."""
    return any(item.kind in ("profile", "material", "colour") for item in said)


def _mark(line: Line, walk: Walk) -> None:
    """The numbers of each sentence as what a pipe has; those that may be either stay doubtful."""
    sentence: list[Item] = []
    for item in [*line.items, None]:
        if item is not None:
            sentence.append(item)
        if item is None or (item.kind == "break" and item.strength >= 3):
            name_pipe_fields(sentence, walk)
            open_ones = [
                measure
                for measure in _measures(sentence)
                if "cue" not in measure.marks and not cue_beside(sentence, measure)
            ]
            for measure in _measures(sentence) if open_ones else ():
                measure.doubts.append("told under a heading of pipes: which of its numbers is it?")
            for measure in open_ones:
                if measure.found is not None and measure.found.kind == "bare":
                    measure.kind = "filler"  # it stays unread, and is asked about
            sentence = []


def give_pipes_to_their_run(walk: Walk) -> None:
    """`Barn: both ends ...`, then `Barn, only the west side, 48 ft`: the pipes are that one run's."""
    for run in list(walk.runs):
        place = run.place
        if place.part is None or place.direction is not None or "length" in run.fields or not run.outlets:
            continue
        others = [other for other in walk.runs if other is not run and _is_of(other, run)]
        if len(others) != 1 or others[0].outlets:
            continue
        others[0].outlets = run.outlets
        others[0].source += run.source
        walk.runs.remove(run)


def _is_of(other: RunDraft, run: RunDraft) -> bool:
    """Whether a run with a length is a side of the same part of the house."""
    same = other.place.part == run.place.part and other.place.storey == run.place.storey
    return same and other.place.direction is not None and "length" in other.fields
