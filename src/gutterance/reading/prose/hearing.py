"""A line told in long sentences: each is read whole by its grammar, or left to the reader of notes."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from gutterance.reading.caution import doubt
from gutterance.reading.items import Line
from gutterance.reading.prose.asides import keep_remarks
from gutterance.reading.prose.chunks import chunks_of, counts
from gutterance.reading.prose.down_to_ground import fold_heights
from gutterance.reading.prose.facts import put_down
from gutterance.reading.prose.materials import is_made_of, tell_materials
from gutterance.reading.prose.sentences import sentences_of
from gutterance.reading.prose.telling import Telling
from gutterance.reading.speech import hear

if TYPE_CHECKING:
    from gutterance.reading.discourse import Walk
    from gutterance.reading.items import Item
    from gutterance.reading.prose.topic import Topic
    from gutterance.sheet.models import Sheet

ALL_THE_SAME = frozenset({"mirror", "unknown", "except", "rest"})
"""Kinds of items of which the reader of clipped words knows more than the grammar."""
TOLD_OF_THE_JOB = frozenset({"total", "all", "same", "cue", "profile", "fix", "withdraw"})
"""Kinds of items with which a sentence that tells of no run may tell of the whole job."""
NOT_FOLLOWED = "a long sentence of which not every number was understood"


def hear_prose(line: Line, walk: Walk, topic: Topic) -> None:
    """Read one line of long sentences into the walk."""
    topic.part = None
    for start, end in sentences_of(line.text):
        if not _tell(line, start, end, walk, topic):
            items = [item for item in line.items if start <= item.start < end]
            if not is_made_of(items):
                items = [item for item in items if item.kind != "material"]  # `a steel tape`
            hear(Line(line.number, line.text, items, line.reader), walk)
            if walk.run is not None and walk.focus_line == line.number:
                topic.runs, topic.kind, topic.pipes = [walk.run.place], "run", None


def _tell(line: Line, start: int, end: int, walk: Walk, topic: Topic) -> bool:
    """Put what a sentence tells on the sheet, if every number of it is understood."""
    items = [item for item in line.items if start <= item.start < end]
    chunks = fold_heights(chunks_of(line, start, end, walk.title_source))
    kinds = {item.kind for item in items}
    if any(chunk.kind == "taken back" for chunk in chunks) or kinds & ALL_THE_SAME:
        topic.doubted.append((line.number, start, end))
        return False
    if tell_materials(items, chunks, walk):
        return True
    before = replace(topic)
    telling = Telling(line, chunks, topic, walk)
    telling.tell()
    told = [fact.item for fact in telling.facts if fact.name != "none"]
    numbers = [chunk.measure for chunk in chunks if chunk.kind == "number" and chunk.measure is not None]
    if not told and not telling.pipes and not telling.facts:
        if kinds & {"remark"} and not kinds & {"total", "end", "downpipe", "outlet", "ends at"}:
            keep_remarks(line, chunks, [], walk, before, quiet=True)
            _set_aside(numbers)
            return True
        # nothing told: what is in mind may have changed all the same
        return not (telling.lost or telling.unclear or kinds & TOLD_OF_THE_JOB)
    if telling.unclear == ["same"] and not telling.lost:
        return False
    if telling.lost or telling.unclear:
        topic.doubted.append((line.number, _not_followed_from(telling, start), end))
        if not topic.by_halves or len(told) <= len(telling.lost):
            return False
    put_down(telling.facts, telling.pipes, walk)
    keep_remarks(line, chunks, told, walk, before, quiet=False)
    _set_aside(telling.aside)
    _set_counts(items, told)
    return True


def _not_followed_from(telling: Telling, start: int) -> int:
    """Where the clause begins from which on a sentence was not followed."""
    if telling.unclear or not telling.lost or not telling.focused:
        return start
    first = min(item.start for item in telling.lost)
    marks = [chunk.end for chunk in telling.chunks if chunk.kind in ("comma", "semi") and chunk.end <= first]
    return marks[-1] if marks else start


def _set_aside(numbers: list[Item]) -> None:
    """Numbers of something else than the gutter are listed as such, and cast no doubt on what stands near."""
    for item in numbers:
        if item.found is not None:
            item.found = replace(item.found, kind="other", what="measure of something else")


def _set_counts(items: list[Item], told: list[Item]) -> None:
    """Small numbers in letters that a sentence counts with: listed as such."""
    for item in items:
        if item.kind == "measure" and counts(item) and not any(item is other for other in told):
            assert item.found is not None
            item.found = replace(item.found, kind="other", what="count in a sentence")


def doubt_not_followed(topic: Topic, sheet: Sheet) -> None:
    """Make doubtful what came of sentences that the grammar could not follow to their end."""
    for _, reading in sheet.readings():
        for source in reading.source:
            if any(line == source.line and start <= source.start < end for line, start, end in topic.doubted):
                doubt(reading, NOT_FOLLOWED)
