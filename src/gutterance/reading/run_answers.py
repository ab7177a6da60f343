"""Answers about a run: its length, its ends and what else is measured of it, put on the sheet."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from gutterance.reading.discourse import OPPOSITE, SIDES_IN_ORDER
from gutterance.reading.ditto import copied
from gutterance.reading.items import Item
from gutterance.reading.sizes import gutter_width, pitch
from gutterance.reading.written_answers import Answer, meaning_of
from gutterance.sheet.models import Reading

if TYPE_CHECKING:
    from gutterance.reading.builder import RunDraft
    from gutterance.reading.discourse import Walk

INWARDS = re.compile(r"\d\s+in\Z", re.IGNORECASE)
"""A number with an `in` apart behind it, which on a metric job is no inch."""
SHORTEST_IN_MM = 50
"""From here on such a number is in millimetres."""
LONGEST_PLAIN_END = 4
"""In an answer of more words than this, a wall and another end are two different ends."""
LONGEST_IN_METRES = 100
"""A bare number with a point below this is in metres on a metric job."""
SETTLED = re.compile(
    r"\b(?:so|make|made|write|call(?:ed)?|put|use|better|really|actually|should be|allow|say)\W+"
    r"(?:\w+\W+){0,3}\Z",
    re.IGNORECASE,
)
"""Words before the number that was settled on in the end."""
PARTS_OF_ENDS = re.compile(r"\s*(?:/|;|,|\||\band\b|\bthen\b|&|\+|\s-\s)\s*", re.IGNORECASE)
"""What stands between the two ends in one answer."""


def missing(answer: Answer, walk: Walk) -> Reading[Any]:
    """A value of which the form itself says that it is not known."""
    why = answer.line.source(answer.start, answer.end)
    walk.use_source(why)
    return Reading[Any](value=None, status="missing", source=[why], why=f"the form says: {why.text}")


def settle_doubt(reading: Reading[Any], answer: Answer) -> None:
    """A value whose own words, or whose label, are not certain is asked about."""
    if answer.label is not None and answer.label.own is not None:
        told = f"{answer.label.text.strip()!r} is the shop's label for {answer.label.own!r}"
        reading.why = f"{reading.why}; {told}" if reading.why else told
    why = answer.in_doubt
    if why is None and answer.guessed and answer.label is not None:
        words = answer.label.text.strip()
        why = (
            f"the label {words!r} is not one that the reader knows"
            if words
            else "its column has no heading, and was judged by what stands in it"
        )
    if why is not None and reading.status in ("read", "corrected"):
        reading.status = "doubtful"
        reading.why = f"{why}; {reading.why}" if reading.why else why


def length_reading(item: Item, name: str, answer: Answer, walk: Walk) -> Reading[Any] | None:
    """A number of an answer as the answer to a length's field."""
    _settle_unit(item, walk)
    reading = walk.length(item, name, item.marks.get("with"))
    if reading is not None:
        if len(answer.measures) > 1 and not answer.marked_apart:
            _doubt(reading, "several numbers stand in one answer")
        if re.match(r"\W*(?:n/?a|none|no)\b", answer.text, re.IGNORECASE):
            _doubt(reading, "the answer begins with a word for none")
        settle_doubt(reading, answer)
    return reading


def _settle_unit(item: Item, walk: Walk) -> None:
    """The unit that a bare number can only have: `4-0` feet and inches, `0.45` on a metric job metres."""
    found = item.found
    if found is None:
        return
    first = found.amounts[0] if len(found.amounts) == 1 else None
    inwards = first is not None and first.unit == "inch" and INWARDS.search(item.text)
    if walk.metric and first is not None and inwards and first.value >= SHORTEST_IN_MM:
        # `RH, 150 in`: so far in from the end
        item.found = found = replace(found, kind="bare", amounts=(replace(first, unit=None),))
    if found.kind != "bare":
        return
    if len(found.amounts) == 2 and found.amounts[1].joint == "-" and found.amounts[1].value == 0:
        # `4-0` can be nothing but feet and inches
        amounts = (replace(found.amounts[0], unit="foot"), replace(found.amounts[1], unit="inch"))
        item.found = replace(found, kind="length", amounts=amounts)
        return
    if not walk.metric or len(found.amounts) != 1:
        return
    if found.amounts[0].shape in ("decimal", "comma") and found.amounts[0].value < LONGEST_IN_METRES:
        item.found = replace(found, kind="length", amounts=(replace(found.amounts[0], unit="metre"),))


def _doubt(reading: Reading[Any], why: str) -> None:
    if reading.status in ("read", "corrected"):
        reading.status = "doubtful"
        reading.why = f"{why}; {reading.why}" if reading.why else why


def settled(answer: Answer) -> Item:
    """Of several lengths the one that was settled on: `8' 5" to the planter, so write 9' 7"`."""
    measures = answer.measures
    if len(measures) > 1:
        line, before, last = answer.line, measures[-2], measures[-1]
        between = line.text[before.end : last.start] if before.line == last.line == line.number else ""
        if SETTLED.search(between):
            return last
    return measures[0]


def run_length(answer: Answer, walk: Walk, run: RunDraft, name: str) -> None:
    """A length of the run, or that it is not known."""
    measures = answer.measures
    if not measures:
        if answer.of("unknown") or "?" in answer.text or answer.of("same"):
            run.fields[name] = missing(answer, walk)
        return
    item = settled(answer)
    reading = length_reading(item, name, answer, walk)
    if reading is not None:
        walk.put(run.fields, name, reading, item)


def run_end(answer: Answer, walk: Walk, run: RunDraft, which: str) -> None:
    """One end of a run, with its angle where one is told. `caps both` tells both."""
    if any(item.text.lower() == "both" for item in answer.items) and not answer.of("unknown"):
        run_ends(answer, walk, run)
        return
    read = _end_of(answer, walk)
    if read is None:
        if answer.in_doubt or answer.of("unknown"):
            run.fields[f"{which}_end"] = missing(answer, walk)
        elif re.search(r"[A-Za-z]", answer.text):
            run.fields[f"{which}_end"] = missing(answer, walk)
            run.fields[f"{which}_end"].why = f"an end the reader does not know: {answer.text}"
        return
    _put_end(read, answer, walk, run, which)


def _put_end(
    read: tuple[Reading[Any], Item, Reading[Any] | None],
    answer: Answer,
    walk: Walk,
    run: RunDraft,
    which: str,
) -> None:
    reading, item, angle = read
    settle_doubt(reading, answer)
    walk.put(run.fields, f"{which}_end", reading, item)
    if angle is not None and angle.value == 90:
        run.fields[f"{which}_end"].source.extend(angle.source)
    elif angle is not None:
        walk.put(run.fields, f"{which}_angle", angle, item)


def _end_of(answer: Answer, walk: Walk) -> tuple[Reading[Any], Item, Reading[Any] | None] | None:
    """The end that an answer tells: its reading, its words, and its angle."""
    angle_item = next((item for item in answer.items if _is_angle(item)), None)
    angle = None
    if angle_item is not None:
        degrees = float(angle_item.found.value or 45) if angle_item.found is not None else 45.0
        angle = walk.text(degrees if degrees <= 90 else 180 - degrees, angle_item)
    key = answer.legend.get(answer.plain)
    if key is not None and key.kind in ("end", "end word"):
        item = answer.as_item
        return walk.text(key.value, item, why=f"the key says: {key.text}"), item, angle
    known = meaning_of(answer, "end")
    if known is not None:
        value, sure = known
        item = answer.as_item
        reading = walk.text(value, item)
        others = {other.value for other in answer.of("end") if other.value != value}
        if others and len(answer.text.split()) > LONGEST_PLAIN_END:
            _doubt(reading, "two kinds of end stand in one answer")
        if not sure:
            _doubt(reading, f"the letter {answer.text!r} alone was taken for {value}")
        return reading, item, angle
    ends = [item for item in answer.items if item.kind in ("end", "end word")]
    ends += [
        item for item in answer.items if item.kind in ("word", "landmark") and item.text.lower() == "wall"
    ]
    if not ends:
        return None
    item = ends[0]
    reading = walk.text("wall" if item.kind in ("word", "landmark") else item.value, item)
    if len({end.value for end in ends if end.kind != "word"}) > 1 and (
        item.value != "wall" or len(answer.text.split()) > LONGEST_PLAIN_END
    ):
        _doubt(reading, "two kinds of end stand in one answer")
    return reading, item, angle


def _is_angle(item: Item) -> bool:
    """Whether an item is the angle of a corner."""
    found = item.found
    if item.kind == "angle word":
        return True
    return found is not None and (
        found.what == "angle" or (found.kind == "bare" and found.value in (45, 90, 135))
    )


def run_ends(answer: Answer, walk: Walk, run: RunDraft, above: RunDraft | None = None) -> None:
    """Both ends in one answer: `OSC / cap`, `capped both`, `wall on the left, stop end on the right`."""
    if answer.of("unknown"):
        for which in SIDES_IN_ORDER:
            run.fields[f"{which}_end"] = missing(answer, walk)
        return
    pair = next(iter(answer.of("end pair")), None)
    if pair is not None:
        for which, value in zip(SIDES_IN_ORDER, pair.value.split(", "), strict=True):
            reading = walk.text(value, pair)
            settle_doubt(reading, answer)
            walk.put(run.fields, f"{which}_end", reading, pair)
        return
    parts = answer.parts(PARTS_OF_ENDS)
    if above is not None and len(parts) == len(SIDES_IN_ORDER):
        for which, part in zip(("left", "right"), parts, strict=True):
            if part.is_ditto:
                same_as_above(which, part, walk, run, above)
    read = [(part, _end_of(part, walk)) for part in parts]
    told = [(part, end) for part, end in read if end is not None]
    if not told:
        return
    if len(told) == 1 and len(parts) == 1:
        part, end = told[0]
        sides = [item.value for item in answer.of("side", "lr") if item.value in OPPOSITE]
        for which in sides if len(sides) == 1 else SIDES_IN_ORDER:
            _put_end((end[0].model_copy(deep=True), end[1], end[2]), answer, walk, run, which)
        return
    sided = [[item.value for item in part.of("side", "lr") if item.value in OPPOSITE] for part, _ in told]
    for number, (part, end) in enumerate(told[:2]):
        which = sided[number][0] if len(sided[number]) == 1 else SIDES_IN_ORDER[parts.index(part) % 2]
        _put_end(end, part, walk, run, which)


def roof_pitch(answer: Answer, walk: Walk, fields: dict[str, Reading[Any]]) -> bool:
    """A roof's pitch."""
    for item in answer.numbers:
        text = pitch(item)
        if text is not None:
            reading = walk.text(text, item)
            settle_doubt(reading, answer)
            walk.put(fields, "roof_pitch", reading, item)
            return True
    return False


def gutter_size(answer: Answer, walk: Walk, fields: dict[str, Reading[Any]]) -> bool:
    """A width of gutter."""
    for item in answer.numbers:
        width = gutter_width(item)
        if width is not None:
            reading = walk.text(width, item)
            settle_doubt(reading, answer)
            walk.put(fields, "gutter_size", reading, item)
            return True
    return False


def high_point(answer: Answer, walk: Walk, run: RunDraft) -> None:
    """The way a gutter falls: its high point is at the other end."""
    sides = [item for item in answer.of("side", "lr") if item.value in OPPOSITE]
    if (
        len(sides) == 1
        and answer.label is not None
        and not re.search("high", answer.label.text, re.IGNORECASE)
    ):
        walk.put(run.fields, "high_point", walk.text(OPPOSITE[sides[0].value], sides[0]), sides[0])


def note(answer: Answer, walk: Walk, run: RunDraft | None) -> None:
    """Words that somebody must see."""
    kind: Any = next((item.value for item in answer.items if item.kind == "remark"), "other")
    for line, start, end in answer.pieces:
        walk.remark(line, start, end, kind, run.place if run is not None else None)


def remark_behind(answer: Answer, walk: Walk, run: RunDraft) -> None:
    """`not taken, deck in the way`: what stands behind an answer, and is no part of it."""
    said = [item for item in answer.items if item.kind == "remark"]
    if not said:
        return
    first = answer.items.index(said[0])
    while first > 0 and answer.items[first - 1].kind not in ("break", "measure", "unknown", "ends at"):
        first -= 1
    start = answer.items[first].start
    walk.remark(answer.line, start, answer.end, said[0].value, run.place)


def same_as_above(
    field: str, answer: Answer, walk: Walk, run: RunDraft, last: RunDraft, words: str | None = None
) -> None:
    """Copy the answer of the run above, or of the one that `words` name."""
    item = answer.as_item
    same = Item(item.line, item.start, item.end, item.text, "same")
    words = words or f"the {last.place.name}, the row above"
    names = {
        "left": ["left_end", "left_angle"], "right": ["right_end", "right_angle"],
        "start": ["left_end", "left_angle"], "finish": ["right_end", "right_angle"],
        "ends": ["left_end", "right_end", "left_angle", "right_angle"],
        "run_roof_pitch": ["roof_pitch"], "run_gutter_size": ["gutter_size"],
    }.get(field, [field])  # fmt: skip
    for name in names:
        if name in last.fields:
            run.fields[name] = copied(last.fields[name], "same as", words, same)
            walk.use(same)
