"""Second looks at a finished sheet: values that stand on weak ground are made doubtful, so as to be asked.

Each rule knows a way in which a note can be misheard as a whole though every word of it was known.
"""

from __future__ import annotations

import re
from itertools import pairwise
from typing import TYPE_CHECKING, Any

from gutterance.reading.items import STRUCTURE
from gutterance.reading.open_corrections import CHATTER
from gutterance.reading.unnamed_runs import WHY
from gutterance.sheet.values import CERTAIN

if TYPE_CHECKING:
    from gutterance.reading.discourse import Walk
    from gutterance.reading.items import Item, Line
    from gutterance.sheet.models import Reading, Run, Sheet, Source

SHORTEST_RUN = 12
"""A run shorter than this [in] is more likely a gutter's width or an offset."""
FARTHEST_THOUGHT = 120
"""How far [characters] a second thought may reach in words without a full stop."""
REACH_OF_FIX = 50
"""How far [characters] behind a correcting word the corrected value may stand."""
FEWEST_TO_JUDGE = 6
"""With fewer numbers than this a note is not judged as a whole."""
LOST_SHARE = 0.15
"""From this share of numbers that found no place on, a note may not have been understood at all ..."""
DOUBTFUL_SHARE = 0.3
"""... if this share of what was read is in doubt as well."""
MOST_LOST_SHARE = 0.4
"""From this share of lost numbers on, nothing is sure, whatever else was read."""
LABEL_OPENS = re.compile(r"(?:^|[.;:?]\s+)\s*([A-H]|[A-HR]\d{1,2})(?=[\s:,.-])")
"""A letter, or a letter and a number, that opens a line or a sentence as a run's label."""
LABEL_ANYWHERE = re.compile(r"(?<![\w'’/&-])([A-H]|[A-HR]\d{1,2})(?![\w'’&-])")
"""Such a label wherever it stands."""
FEWEST_LABELS = 3
"""From so many labels on, each said more than once, a note goes by them."""
FARTHEST_END = 9
"""Within so many items behind the length of a run its ends are told."""
NEAR = 30
"""How near [characters] an unplaced number must stand to another to cast doubt on it."""


EXPLAINS = frozenset({"swapped", "mixed up", "backwards", "wrong way round"})
"""Words that tell why a number was put right, where they stand right behind it."""
DIFFERENCES = frozenset({"less", "more", "higher", "lower", "shorter", "longer", "taller", "deeper"})
"""Words behind a number that is a difference, not a measure."""


def look_again(lines: list[Line], walk: Walk, sheet: Sheet) -> None:
    """Apply every rule to the sheet, in place."""
    _numbers_beside_unread(lines, sheet)
    _after_a_length_of_no_run(lines, sheet)
    _runs_without_length(sheet)
    _runs_without_ends(sheet)
    _walls_both_ends(walk, sheet)
    _parts_beside_their_sides(walk, sheet)
    _names_nobody_knows(walk, sheet)
    _changed_minds(lines, walk, sheet)
    _second_thoughts(lines, sheet)
    _no_gutter_there(lines, walk, sheet)
    _the_same_but_less(lines, sheet)
    _rear_or_right(walk, sheet)
    _pipes_without_place(sheet)
    _poorly_understood(lines, walk, sheet)
    if not any(run.tabled for run in walk.runs):
        _labels_not_followed(lines, sheet)


def _labels_not_followed(lines: list[Line], sheet: Sheet) -> None:
    """`A is the front ...`, `R1 11.6`: a note that calls its runs by labels, none of which was followed."""
    if any(run.id.startswith("run-") for run in sheet.runs):
        return
    opened = [label for line in lines for label in LABEL_OPENS.findall(line.text)]
    said = [label for line in lines for label in LABEL_ANYWHERE.findall(line.text)]
    labels = {label for label in opened if said.count(label) > 1}
    if len(labels) < FEWEST_LABELS or not labels & {"A", "R1", "A1"}:
        return
    why = f"the note calls its runs by labels ({', '.join(sorted(labels))}) that were not followed"
    for _, reading in sheet.readings():
        doubt(reading, why)


def doubt(reading: Reading[Any] | None, why: str) -> None:
    """Make a certain reading doubtful, with the reason first."""
    if reading is not None and reading.status in CERTAIN and reading.value is not None:
        reading.status = "doubtful"
        reading.why = f"{why}; {reading.why}" if reading.why else why


def _is_of(path: str, run_id: str, sheet: Sheet) -> bool:
    """Whether a reading's path is of a run, of its outlets or of their pipes."""
    group, name = path.split(".")[:2]
    if group == "runs":
        return name == run_id
    outlet = sheet.outlet(name)
    return outlet is not None and outlet.run == run_id


def _numbers_beside_unread(lines: list[Line], sheet: Sheet) -> None:
    """A number that found no place right beside one that did: perhaps the two belong together."""
    spots = {(unread.source.line, unread.source.start) for unread in sheet.unread}
    suspects: dict[tuple[int, int], str] = {}
    for line in lines:
        measures = [
            item for item in line.items if item.kind in ("measure", "count") and item.found is not None
        ]
        for place, item in enumerate(measures):
            if (line.number, item.start) not in spots or item.found is None:
                continue
            if item.found.kind == "other" and not _glued(line, item, measures[place - 1] if place else None):
                continue
            if item.kind == "count" or item.marks.get("remark"):
                continue
            for other in measures[max(0, place - 1) : place] + measures[place + 1 : place + 2]:
                if _close(line, item, other):
                    suspects[line.number, other.start] = item.text
    if not suspects:
        return
    for _, reading in sheet.readings():
        if reading.source and not isinstance(reading.value, str):
            first = reading.source[0]
            beside = suspects.get((first.line, first.start))
            if beside is not None:
                doubt(reading, f"{beside!r} beside it found no place")


def _after_a_length_of_no_run(lines: list[Line], sheet: Sheet) -> None:
    """`the pump house is 11-4, cap each end`: a length that found no run, with ends behind it.

    It tells another run: what is said from there to the next name, or the line's end, is nobody knows whose.
    """
    spots = {(unread.source.line, unread.source.start) for unread in sheet.unread}
    named = sorted((source.line, source.start) for run in sheet.runs for source in run.source)
    for line in lines:
        for number, item in enumerate(line.items):
            if (line.number, item.start) not in spots or not _opens_a_run(line.items, number):
                continue
            here = (line.number, item.start)
            before = _told_before_with_length(here, sheet)
            if before is None:
                continue
            doubt(before.length, f"{item.text!r} behind it found no run: is all of it told?")
            line_end = (line.number + 1, 0)
            upto = min(next((spot for spot in named if spot > here), line_end), line_end)
            for _, reading in sheet.readings():
                first = min(((source.line, source.start) for source in reading.source), default=here)
                if here < first < upto:
                    doubt(reading, f"said behind {item.text!r}, which found no run: of another run?")


def _told_before_with_length(here: tuple[int, int], sheet: Sheet) -> Run | None:
    """The run named last before a spot, if it had its length by then."""
    named = [((source.line, source.start), run) for run in sheet.runs for source in run.source]
    before = [(spot, run) for spot, run in named if spot < here]
    if not before:
        return None
    run = max(before, key=lambda one: one[0])[1]
    known = run.length is not None and any((s.line, s.start) < here for s in run.length.source)
    return run if known else None


def _opens_a_run(items: list[Item], number: int) -> bool:
    """Whether a number can be a run's length: in feet or metres, with an end as the next thing told."""
    item = items[number]
    found = item.found
    if item.kind != "measure" or found is None or found.kind == "other" or item.marks.get("remark"):
        return False
    told = next((o for o in items[number + 1 : number + FARTHEST_END] if o.kind in STRUCTURE), None)
    before = items[number - 1] if number else None
    if told is None or told.kind not in ("end", "end word", "end pair") or "cue" in item.marks:
        return False
    if before is not None and before.kind in ("outlet", "downpipe", "cue"):
        return False
    return len(found.amounts) > 1 or any(amount.unit in ("foot", "metre") for amount in found.amounts)


def _glued(line: Line, item: Item, before: Item | None) -> bool:
    """`30-6 x 2`: a size that begins with what may be the inches of the number before it."""
    return before is not None and line.text[before.end : item.start] in ("-", "")


def _close(line: Line, item: Item, other: Item) -> bool:
    first, second = (item, other) if item.start < other.start else (other, item)
    between = line.text[first.end : second.start]
    return len(between) <= NEAR and not any(mark in between for mark in (". ", ";", "|"))


def _runs_without_length(sheet: Sheet) -> None:
    """A run of which everything but a length was said may be no run at all, but another name for one."""
    for run in sheet.runs:
        if run.length is not None:
            continue
        why = f"no length was said for a run called {run.name!r}: is there one?"
        for path, reading in sheet.readings():
            if _is_of(path, run.id, sheet):
                doubt(reading, why)


def _runs_without_ends(sheet: Sheet) -> None:
    """A length with nothing said of its ends, in a note that tells them of other runs, may be another's."""
    bare = [run for run in sheet.runs if run.left_end is None and run.right_end is None]
    if len(bare) == len(sheet.runs):
        return
    whole_bay = {"bay-left-side", "bay-front", "bay-right-side"}
    if whole_bay <= {run.id for run in sheet.runs}:
        bare = [run for run in bare if run.id not in whole_bay]
    for run in bare:
        doubt(run.length, f"nothing was said of the ends of a run called {run.name!r}: is there one?")
    for run in sheet.runs:
        if run.length is not None and run.length.value is not None and run.length.value.inches < SHORTEST_RUN:
            doubt(run.length, "too short for a run")


def _walls_both_ends(walk: Walk, sheet: Sheet) -> None:
    """The side of a porch or a bay has the house at one end only."""
    for draft in walk.runs:
        run = sheet.run(draft.place.id)
        if (
            run is None
            or draft.place.part is None
            or draft.place.direction not in ("left side", "right side")
        ):
            continue
        ends = (run.left_end, run.right_end)
        if all(end is not None and end.value == "wall" for end in ends):
            for end in ends:
                doubt(end, "a wall at both ends of the side of something that stands out")


def _parts_beside_their_sides(walk: Walk, sheet: Sheet) -> None:
    """`the porch` beside a `porch front` and a `porch left side` is one of them, or all: no other run."""
    for draft in walk.runs:
        place = draft.place
        if place.part is None or place.direction is not None or place.storey is not None:
            continue
        sides = [
            other
            for other in walk.runs
            if other.has_data and other.place.part == place.part and other.place.direction
        ]
        if not sides:
            continue
        for path, reading in sheet.readings():
            if _is_of(path, place.id, sheet):
                doubt(reading, f"which of the {place.part}'s runs is meant?")


def _rear_or_right(walk: Walk, sheet: Sheet) -> None:
    """`F 14.1 ...`, `R 14.1 ...` and no other run: the right side, or the rear?"""
    told = {
        draft.place.direction: draft for draft in walk.runs if draft.has_data and draft.place.part is None
    }
    if not {"front", "right side"} <= set(told) or {"back", "left side"} & set(told):
        return
    draft = told["right side"]
    run = sheet.run(draft.place.id)
    length = run.length if run is not None else None
    said = [*draft.source, *(length.source if length is not None else [])]
    if length is not None and any(source.text.upper() in ("R", "RR") for source in said):
        doubt(length, "is R the right side here, or the rear?")


def _pipes_without_place(sheet: Sheet) -> None:
    """A pipe's values said of an outlet that was never placed, or is in doubt, may be another's."""
    for outlet in sheet.outlets:
        in_doubt = outlet.place is not None and outlet.place.status == "doubtful"
        if outlet.from_ is not None and not in_doubt:
            continue
        why = "its outlet is in doubt" if in_doubt else "it was not said which downpipe this is of"
        for pipe in sheet.downpipes_of(outlet.id):
            for name in ("wall_to_fascia", "height", "ends_at", "size"):
                doubt(getattr(pipe, name), why)


def _names_nobody_knows(walk: Walk, sheet: Sheet) -> None:
    """A run whose name is a word that the reader does not know may be no run at all."""
    for draft in walk.runs:
        own = draft.place.own and draft.place.direction is None
        if not (own or draft.unnamed) or draft.tabled:
            continue
        if (
            not draft.unnamed
            and draft.place.name.endswith(" side")
            and {"length", "left_end", "right_end"} <= set(draft.fields)
        ):
            continue  # `lake side 32-6 ec/ec`: told as a side of the house is
        run = sheet.run(draft.place.id)
        if run is None:
            continue
        for path, reading in sheet.readings():
            if _is_of(path, run.id, sheet):
                doubt(reading, WHY if draft.unnamed else f"{run.name!r} is not a place that the reader knows")


def _changed_minds(lines: list[Line], walk: Walk, sheet: Sheet) -> None:
    """`leave that out`, `swap those two`: words that change what was said before, in a way not understood."""
    for line in lines:
        for item in line.items:
            if item.kind != "withdraw" or any(
                start <= item.start < end for start, end in walk.used.get(line.number, [])
            ):
                continue
            if item.text.lower().startswith("next door") and any(
                other.value == "splice" for other in line.items
            ):
                continue  # `carries on into next door's, union there`: how the run ends
            if item.text.lower() in EXPLAINS and _puts_right(line, item, sheet):
                continue
            about = _told_before(line, item, sheet)
            for path, reading in sheet.readings():
                if about is not None and path.split(".")[1].startswith(about):
                    doubt(reading, f"the note says {item.text!r} of it")


def _puts_right(line: Line, item: Item, sheet: Sheet) -> bool:
    """`9450. Sorry, 9540, I'd swapped the figures.`: why the number before it was put right, and no more."""
    return any(
        reading.was
        and any(
            source.line == line.number and 0 <= item.start - source.end <= REACH_OF_FIX
            for source in reading.source[:1]
        )
        for _, reading in sheet.readings()
    )


def _second_thoughts(lines: list[Line], sheet: Sheet) -> None:
    """A word that takes something back, and nothing that it put right: what stands near is in doubt."""
    fixed = [
        (new.line, new.start) for _, reading in sheet.readings() if reading.was for new in reading.source[:2]
    ]
    for line in lines:
        for item in line.items:
            if item.kind not in ("fix", "withdraw"):
                continue
            if item.text.lower() in CHATTER and not _number_lost_behind(line, item, sheet):
                continue
            if any(
                at == line.number and item.start - NEAR <= new <= item.end + REACH_OF_FIX for at, new in fixed
            ):
                continue
            first, last = _sentences_beside(line, item)
            if item.text.lower() in CHATTER:
                first, last = item.start - NEAR, item.start
            for _, reading in sheet.readings():
                if any(
                    source.line == line.number and first <= source.start < last
                    for source in reading.source[:1]
                ):
                    doubt(
                        reading, f"{item.text!r} was said near it, and what it puts right was not understood"
                    )


def _number_lost_behind(line: Line, item: Item, sheet: Sheet) -> bool:
    """`9.4. no hang on that's to the post. 9.65.`: what was to stand instead found no place."""
    return any(
        unread.source.line == line.number
        and 0 < unread.source.start - item.end < REACH_OF_FIX
        and any(o.start == unread.source.start and o.kind == "measure" for o in line.items)
        for unread in sheet.unread
    )


def _no_gutter_there(lines: list[Line], walk: Walk, sheet: Sheet) -> None:
    """`no gutter on the porch front`, of a run that was told: is it to have any?"""
    names = [draft.place.name for draft in walk.runs if sheet.run(draft.place.id) is not None]
    if not names:
        return
    longest_first = "|".join(re.escape(name) for name in sorted(names, key=len, reverse=True))
    said = re.compile(
        r"\bno (?:gutters?|guttering|eavestrough|spouting) (?:on|along|at|for) (?:the )?"
        rf"(?P<name>{longest_first})\b",
        re.IGNORECASE,
    )
    for line in lines:
        for match in said.finditer(line.text):
            told = next(d for d in walk.runs if d.place.name.lower() == match["name"].lower())
            for path, reading in sheet.readings():
                if _is_of(path, told.place.id, sheet):
                    doubt(reading, f"the note says {match.group()!r}")


def _sentences_beside(line: Line, item: Item) -> tuple[int, int]:
    """From where to where the words near a second thought reach: its sentence and the one before."""
    stops = [
        0,
        *(mark.end for mark in line.items if mark.kind == "break" and mark.strength >= 4),
        len(line.text),
    ]
    here = max(number for number, stop in enumerate(stops) if stop <= item.start)
    first = max(stops[max(0, here - 1)], item.start - FARTHEST_THOUGHT)
    last = min(stops[min(here + 1, len(stops) - 1)], item.end + FARTHEST_THOUGHT)
    return first, last


def _the_same_but_less(lines: list[Line], sheet: Sheet) -> None:
    """`the same, height's an inch less`: a copy with a difference is not the copy."""
    for line in lines:
        words = {
            follower.text.lower()
            for item, follower in pairwise(line.items)
            if item.kind == "measure" and follower.text.lower() in DIFFERENCES
        }
        if not words:
            continue
        for _, reading in sheet.readings():
            copied_here = (reading.why or "").startswith(("same as", "mirror of")) and any(
                source.line == line.number for source in reading.source[:1]
            )
            if copied_here:
                doubt(reading, f"the note says {min(words)!r} beside a number")


def _poorly_understood(lines: list[Line], walk: Walk, sheet: Sheet) -> None:
    """Where much of a note found no place, and much of the rest is in doubt, nothing of it is sure.

    A note of a kind that the reader does not know is misread as a whole, not value by value: over the corpus
    most of the values that are wrong stand in such notes.
    """
    measures = sum(
        item.found is not None and item.found.kind != "other" for line in lines for item in line.items
    )
    spots = {
        (line.number, item.start)
        for line in lines
        for item in line.items
        if item.found is not None and item.found.kind != "other"
    }
    lost = sum((unread.source.line, unread.source.start) in spots for unread in sheet.unread)
    readings = [reading for _, reading in sheet.readings()]
    doubtful = sum(reading.status == "doubtful" for reading in readings)
    much_lost = measures >= FEWEST_TO_JUDGE and lost >= LOST_SHARE * measures
    tabled = any(run.tabled for run in walk.runs)  # a column may be lost, and the others are sure
    most_lost = measures >= FEWEST_TO_JUDGE and lost >= MOST_LOST_SHARE * measures and not tabled
    if not most_lost and (not much_lost or doubtful < DOUBTFUL_SHARE * len(readings)):
        return
    for reading in readings:
        doubt(reading, f"{lost} of the note's {measures} numbers found no place: was all of it understood?")


def _told_before(line: Line, item: Item, sheet: Sheet) -> str | None:
    """The id of the run last told of before these words."""
    best: tuple[int, int] = (0, 0)
    about = None
    for run in sheet.runs:
        sources: list[Source] = [*run.source, *(run.length.source if run.length is not None else [])]
        for source in sources:
            spot = (source.line, source.start)
            if best < spot < (line.number, item.start + NEAR):
                best, about = spot, run.id
    return about
