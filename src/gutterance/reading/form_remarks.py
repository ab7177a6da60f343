"""Remarks written on a form: sentence by sentence, each about the run that it names."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

from gutterance.reading.items import Line
from gutterance.reading.places import PlaceName, fold_places
from gutterance.reading.speech import hear

if TYPE_CHECKING:
    from gutterance.reading.builder import RunDraft
    from gutterance.reading.paper import Paper
    from gutterance.reading.written_answers import Answer

SIZES = frozenset({"gutter size", "material size", "pipe size", "thickness"})
"""Numbers that say what the gutter and its pipes are."""
SENTENCE = re.compile(r"(?<=[.!?;])(?<!\bno\.)\s+(?=[A-Z])|;\s+")
"""What stands between two sentences."""


BY_LABEL = (
    ("access", re.compile(r"\b(?:access|parking|ladders?)\b", re.IGNORECASE)),
    ("hazard", re.compile(r"\b(?:hazards?|dangers?|dangerous|watch|safety|warnings?)\b", re.IGNORECASE)),
    ("repair", re.compile(r"\b(?:repairs?|condition)\b", re.IGNORECASE)),
)
"""What sort of remark a label asks for."""


def _asked_kind(answer: Answer) -> tuple[str | None, bool]:
    """The sort of remark that the label asks for, the last of them, and whether it asks for that alone."""
    words = answer.label.text if answer.label is not None else ""
    kinds = [kind for kind, asked in BY_LABEL if asked.search(words)]
    return (kinds[-1] if kinds else None), len(kinds) == 1


def hear_remarks(answer: Answer, paper: Paper, run: RunDraft | None) -> None:
    """Keep the sentences of an answer as remarks. One that measures and says nothing to remark is heard."""
    walk = paper.walk
    if answer.is_empty:
        return
    asked, alone = _asked_kind(answer)
    for part in answer.parts(SENTENCE):
        said = [item for item in part.items if item.kind == "remark"]
        if (_measures(part) or _specifies(part)) and not said:
            walk.run, walk.outlets = run, []
            hear(Line(part.line.number, part.line.text, part.items), walk)
            continue
        about = _about(part, paper) or (run.place if run is not None else None)
        kind: Any = said[0].value if said else "other"
        if asked is not None and (kind == "other" or alone):
            kind = asked
        walk.remark(part.line, part.start, part.end, kind, about)


def _measures(part: Answer) -> bool:
    """Whether a sentence tells a length, and no mere count: `two slates slipped`."""
    told = [item.found for item in part.measures if item.found is not None]
    return any(
        len(found.amounts) > 1 or found.amounts[0].unit is not None for found in told if found.amounts
    ) or (
        bool(told) and bool(part.of("cue", "outlet", "downpipe", "end", "end word", "ends at", "direction"))
    )


def _specifies(part: Answer) -> bool:
    """`Notes: 5" K-style, .032 alum, 2x3 DPs`: what the gutter is made of, written where remarks go."""
    sizes = [item for item in part.numbers if item.found is not None and item.found.what in SIZES]
    return bool(sizes) and bool(part.of("profile", "material", "colour", "downpipe") or len(sizes) > 1)


def _about(part: Answer, paper: Paper) -> PlaceName | None:
    """The run that a remark names, if it is one of the note's."""
    known = {run.place.name: run.place for run in paper.walk.runs}
    for item in fold_places(list(part.items), part.line.text):
        if item.kind == "place" and item.value.name in known:
            return known[item.value.name]
        letter = f"run {item.text.lower()}"
        if len(item.text) == 1 and item.text.isupper() and letter in known:
            return known[letter]
    return None
