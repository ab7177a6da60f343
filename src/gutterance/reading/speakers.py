"""Who speaks: labels at the beginning of lines (`Ana: forty two six`), which are no part of what is said."""

from __future__ import annotations

import re
from collections import Counter
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from gutterance.reading.discourse import Walk
    from gutterance.reading.items import Line

LABEL = re.compile(
    r"\A\s*(?:[-*]\s*)?(?P<who>[A-Za-z][A-Za-z.' ]{0,15}?)(?P<of>\s*\([A-Za-z .']{1,16}\))?\s*[:>]\s+"
)
"""A speaker's label at the start of a line, with what they are in brackets: `Jo (office): ...`."""
NUMBERED = re.compile(
    r"\A\s*(?:[-*]\s*)?[\[(]?(?P<who>(?:speaker|person|voice|participant|caller|guest|user|man|woman|male|female)"
    r"(?:\s+|_|\s*#\s*)?(?P<number>\d{1,2}))[\])]?\s*(?:[:>]\s*|(?<=[\])])\s+|\s+[-–]\s+)",
    re.IGNORECASE,
)
"""A speaker's label as programs that write down speech give it: `Speaker 2: ...`, `[SPEAKER_01] ...`."""
SPEAKERS_NUMBER = "the number of one who speaks"
"""Why the number of such a label is no measurement."""
QUESTION = re.compile(r"[A-Za-z'’]\?(?=\s|\Z|\")")
"""A question mark behind a word: behind a number it doubts the number."""
SAID_TWICE = 2
"""A label said so often is a speaker's; a note with more questions than this is people talking."""


def drop_speaker_labels(lines: list[Line], walk: Walk) -> bool:
    """Take the speakers' labels out of the lines' items. True where the note is people talking."""
    labels, numbered = {}, 0
    for line in lines:
        if match := NUMBERED.match(line.text):
            numbered += 1
            line.items = [item for item in line.items if item.start >= match.end()]
            walk.aside.append((line.source(*match.span("number")), SPEAKERS_NUMBER))
            continue
        match = LABEL.match(line.text)
        if match and all(
            item.kind in ("word", "filler", "break", "mark") or item.text in ("A", "B")
            for item in line.items
            if item.end <= match.end("who")
        ):
            labels[line.number] = match
    often = Counter(match["who"].lower() for match in labels.values())
    speakers = {who for who, times in often.items() if times >= SAID_TWICE}
    if not speakers:
        return numbered >= SAID_TWICE or sum(len(QUESTION.findall(line.text)) for line in lines) > SAID_TWICE
    for line in lines:
        match = labels.get(line.number)
        if match and (
            match["who"].lower() in speakers or (len(speakers) >= 1 and len(labels) > len(lines) / 2)
        ):
            line.items = [item for item in line.items if item.start >= match.end()]
    return True
