"""Answers about the whole job: what it is called, and what the gutter, the pipe and the hangers are."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

from gutterance.measure.length import Length
from gutterance.reading.pipe_answers import pipe_size_of
from gutterance.reading.places import PLACE_KINDS
from gutterance.reading.run_answers import length_reading, missing, settle_doubt
from gutterance.reading.sizes import PROFILES, gutter_width, pitch, profile_of, rainfall, thickness
from gutterance.reading.stretch_words import found_value
from gutterance.reading.totals_said import totals_of_cell
from gutterance.reading.written_answers import read_answer

if TYPE_CHECKING:
    from fractions import Fraction

    from gutterance.reading.discourse import Walk
    from gutterance.reading.items import Item, Line
    from gutterance.reading.written_answers import Answer

WIDTHS_IN_INCHES = (3, 12)
"""A gutter is so wide [in], at least and at most."""
WIDTHS_IN_MM = (65, 350)
"""A gutter is so wide [mm], at least and at most."""
THICKEST_IN_INCHES = 0.2
"""A bare decimal below this is a thickness in inches."""
THICKEST_IN_MM = 4
"""A bare decimal below this is a thickness in millimetres."""
LONGEST_COLOUR = 3
"""The name of a colour has no more words than this."""
METALS = {"al": "aluminium", "cu": "copper", "zn": "zinc", "zi": "zinc", "ss": "steel", "gi": "steel"}
"""What a metal is called in two letters, where it was asked for."""
GAUGES = (16, 32)
"""A bare whole number between these, asked for as a gauge, is one."""
TITLE_ENDS = re.compile(r"\s+\(|(?<!\bno)(?<!\bNo)\.\s|\s{2,}|\s[-–—]\s|;|\t|\|")
"""What ends the name of a job where more is said behind it."""
HOUSE = re.compile(r"\b(?:house|main|both|each|rest|others?)\b", re.IGNORECASE)
"""Words that make what is told no matter of the whole job."""
CHOICE = re.compile(r"\S\s*/\s+\S|\S\s+/\s*\S|\bor\b", re.IGNORECASE)
"""What stands between choices."""
TOTALS = {
    "total length": "length",
    "total outlets": "outlet",
    "total downpipes": "outlet",
}
"""What a column of each total would hold."""


def put_job_answer(field: str, answer: Answer, walk: Walk) -> bool:
    """Put an answer about the whole job on the sheet. False where its words do not answer the label."""
    if field == "nothing" or answer.is_empty:
        return True
    match field:
        case "title":
            return set_title(answer, walk)
        case "gutter":
            return _spec(answer, walk)
        case "profile":
            if answer.numbers and _spec(answer, walk):
                return True  # `half round 112`: the profile with its width
            return _profile(answer, walk) or _spec(answer, walk)
        case "gutter_size":
            return _spec(answer, walk)
        case "material":
            if answer.of("material"):
                return _spec(answer, walk)
            metal = METALS.get(answer.plain)
            return metal is not None and _put("material", metal, answer.as_item, answer, walk)
        case "thickness":
            return _thickness(answer, walk, asked=True)
        case "colour":
            return _colour(answer, walk)
        case "downpipe_size":
            return _pipe(answer, walk)
        case "hanger_spacing":
            return _spacing(answer, walk)
        case "roof_pitch" | "rainfall":
            return _text_of(field, answer, walk)
        case "total length" | "total downpipes" | "total outlets":
            assert answer.label is not None
            totals_of_cell(answer.items, TOTALS[field], answer.label.text, walk)
            return True
    return False


def fill_from_words(line: Line, walk: Walk) -> None:
    """What a line below a table says of the gutter and was not understood as speech: `150 box, alu`.

    Only what nothing else has told is taken, and only from words that name no part of the house.
    """
    for part in read_answer([(line, 0, len(line.text))]).parts(re.compile(r"[.;](?:\s+|\Z)")):
        if part.of(*PLACE_KINDS, "remark", "cue", "total") or HOUSE.search(part.text) or part.in_doubt:
            continue
        if part.of("downpipe") and "downpipe_size" not in walk.defaults:
            size = pipe_size_of(part)
            if size is not None and not part.of("profile", "material"):
                _put("downpipe_size", size[0], size[1], part, walk)
        elif part.of("material", "colour", "profile") and not part.of("downpipe"):
            known = {"gutter_profile": _profile, "gutter_size": _width, "thickness": _thickness_in_words}
            for name, put in known.items():
                if name not in walk.defaults:
                    put(part, walk)


def _thickness_in_words(answer: Answer, walk: Walk) -> bool:
    return _thickness(answer, walk, asked=False)


def set_title(answer: Answer, walk: Walk) -> bool:
    """The name of the job: an address, or what the house is called."""
    if walk.title is not None:
        return True
    text = answer.line.text[answer.start : answer.end]
    cut = TITLE_ENDS.search(text)
    source = answer.line.source(answer.start, answer.start + cut.start() if cut else answer.end)
    title = source.text.strip(" #*=_-:.,")
    if not re.search(r"[A-Za-z]{2}", title):
        return False
    walk.title, walk.title_source = title, source
    walk.use_source(source)
    return True


def _put(name: str, value: Any, item: Item, answer: Answer, walk: Walk) -> bool:
    reading = walk.text(value, item)
    settle_doubt(reading, answer)
    if reading.status == "read" and CHOICE.search(answer.text) and _offers_two(answer, item):
        reading.status, reading.why = "doubtful", "several choices stand in the answer: which one?"
    walk.put(walk.defaults, name, reading, item)
    return True


def _offers_two(answer: Answer, item: Item) -> bool:
    """Whether an answer holds two things of the kind that was taken: `2x3 / 3x4`."""
    if item.found is None:
        return len(answer.of(item.kind)) > 1
    kind = (item.found.kind, item.found.what)
    return sum((other.found.kind, other.found.what) == kind for other in answer.numbers if other.found) > 1


def _spec(answer: Answer, walk: Walk) -> bool:
    """All that is told of the gutter in one answer: `125 half round zinc 0.7`."""
    told = False
    if not answer.of("profile") or not any(_is_size(item) for item in answer.numbers):
        told = _profile(answer, walk)
    told = _width(answer, walk) or told
    material = next(iter(answer.of("material")), None)
    if material is not None:
        told = _put("material", material.value, material, answer, walk)
    told = _thickness(answer, walk, asked=False) or told
    colours = [item for item in answer.of("colour") if material is None or item.start != material.start]
    if colours:
        told = _put("colour", colours[0].value, colours[0], answer, walk)
    for part in answer.parts(re.compile(r"\s*[/,;]\s+|\s+/\s*")) if answer.of("downpipe") else []:
        if part.of("downpipe"):
            told = _pipe(part, walk) or told
    return told


def _is_size(item: Item) -> bool:
    return item.found is not None and item.found.what == "gutter size"


def _profile(answer: Answer, walk: Walk) -> bool:
    """The shape of the gutter."""
    named = answer.of("profile")
    if named:
        for item in named:
            _put("gutter_profile", item.value, item, answer, walk)
        return True
    for item in answer.numbers:
        profile = profile_of(item) if _is_size(item) else None
        if profile is not None:
            return _put("gutter_profile", profile, item, answer, walk)
    for value, spellings in PROFILES.items():
        if any(re.search(rf"(?<![a-z]){re.escape(word)}(?![a-z])", answer.plain) for word in spellings):
            return _put("gutter_profile", value, answer.as_item, answer, walk)
    return False


def _width(answer: Answer, walk: Walk) -> bool:
    """How wide the gutter is: the first number that can be a width."""
    for item in answer.numbers:
        width = gutter_width(item) if _is_size(item) else _as_width(item)
        if width is not None:
            return _put("gutter_size", width, item, answer, walk)
    return False


def _as_width(item: Item) -> Length | None:
    """A plain number as the width of a gutter, if it can be one."""
    found = item.found
    value = found_value(item)
    if found is None or value is None or found.kind == "other":
        return None
    unit = found.amounts[0].unit
    low, high = WIDTHS_IN_INCHES
    if unit in (None, "inch") and low <= value <= high:
        return Length(value)
    low, high = WIDTHS_IN_MM
    if unit in (None, "millimetre") and low <= value <= high:
        return Length.from_mm(value)
    return None


def _thickness(answer: Answer, walk: Walk, *, asked: bool) -> bool:
    """How thick the metal is."""
    for item in answer.numbers:
        found = item.found
        assert found is not None
        if found.kind == "other" and found.what == "thickness":
            text = thickness(item)
        elif found.kind == "other":
            continue
        else:
            text = _as_thickness(item, found_value(item), asked=asked)
        if text is not None:
            return _put("thickness", text, item, answer, walk)
    return False


def _as_thickness(item: Item, value: Fraction | None, *, asked: bool) -> str | None:
    """A plain number as a thickness, if it can be one."""
    if value is None or item.found is None:
        return None
    unit = item.found.amounts[0].unit
    low, high = GAUGES
    if asked and value == int(value) and low <= value <= high and unit is None:
        return f"{int(value)} ga"
    if unit not in (None, "millimetre", "inch") or "." not in item.text:
        return None
    if value < THICKEST_IN_INCHES or (unit is None and value < THICKEST_IN_MM) or unit == "millimetre":
        return thickness(item)
    return None


def _colour(answer: Answer, walk: Walk) -> bool:
    """The colour, by any name."""
    named = answer.of("colour")
    words = re.split(r"[,;(/]", answer.text)[0].strip(" .").lower()
    if named and len(named) == 1 and len(named[0].text) >= len(words) - 1:
        return _put("colour", named[0].value, named[0], answer, walk)
    corrected = [item for item in named if item.was]
    if corrected or "~~" in words or re.search(r"\bxx", words):
        if named:
            return _put("colour", named[-1].value, named[-1], answer, walk)
        return False
    if answer.of("unknown") or len(words.split()) > LONGEST_COLOUR or answer.of("remark"):
        walk.put(walk.defaults, "colour", missing(answer, walk), answer.as_item)
        return True
    if not re.search(r"[a-z]{3}", words):
        return False
    line, start, end = answer.pieces[0]
    first = line.text[start:end].lower().find(words)
    item = answer.as_item
    if first >= 0:
        item.start, item.end = start + first, start + first + len(words)
        item.text = line.text[item.start : item.end]
    return _put("colour", words, item, answer, walk)


def _pipe(answer: Answer, walk: Walk) -> bool:
    """The size of the downpipes."""
    read = pipe_size_of(answer)
    if read is None:
        return False
    return _put("downpipe_size", read[0], read[1], answer, walk)


def _spacing(answer: Answer, walk: Walk) -> bool:
    """How far the hangers are apart."""
    if not answer.measures:
        return False
    item = answer.measures[0]
    reading = length_reading(item, "hanger_spacing", answer, walk)
    if reading is None:
        return False
    walk.put(walk.defaults, "hanger_spacing", reading, item)
    return True


def _text_of(field: str, answer: Answer, walk: Walk) -> bool:
    """A roof pitch or a rainfall."""
    for item in answer.numbers:
        text = (pitch if field == "roof_pitch" else rainfall)(item)
        if text is not None:
            return _put(field, text, item, answer, walk)
    return False
