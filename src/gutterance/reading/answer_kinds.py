"""Whether an answer says the kind of thing that its label asks for."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from gutterance.reading.pipe_answers import pipe_size_of
from gutterance.reading.places import COMPASS
from gutterance.reading.written_answers import meaning_of

if TYPE_CHECKING:
    from gutterance.reading.written_answers import Answer

SIDES_OR_DISTANCE = ("lr", "side", "quarter", "compass corner")
"""Kinds of items that tell where on a run an outlet is."""


def fits(field: str, answer: Answer) -> bool:
    """Whether an answer says the kind of thing that its label asks for."""
    unknown = bool(answer.of("unknown"))
    match field:
        case "length" | "height" | "wall_to_fascia" | "roof_run" | "offset":
            lengths = [item for item in answer.items if item.found is not None and item.found.kind != "other"]
            return (
                any(item.kind == "measure" for item in lengths)
                or unknown
                or (bool(answer.of("same")) and field == "length")
            )
        case "left" | "right" | "start" | "finish":
            return _is_end(answer) or unknown
        case "ends":
            return _is_end(answer) or bool(answer.of("end", "end word", "end pair")) or _pair_of_ends(answer)
        case "outlet" | "at":
            if answer.of(*SIDES_OR_DISTANCE) or unknown or _only_sides(answer):
                return True
            if answer.label is not None and answer.label.measured_from is not None and answer.measures:
                return True
            if any(item.text.lower() in ("both", "each") for item in answer.of("all")):
                return True
            if _only_compass_ends(answer):
                return True
            counted = bool(answer.of("count")) or re.fullmatch(r"\d|y|yes|n", answer.plain) is not None
            return field == "outlet" and counted
        case "count":
            return re.fullmatch(r"\d{1,2}(?: no)?|y|yes|n|no", answer.plain) is not None or bool(
                answer.of("count")
            )
        case "ends_at":
            return _is_ending(answer) or unknown
        case "pipe_size":
            return pipe_size_of(answer) is not None
        case "run_gutter_size":
            return bool(answer.numbers)
        case "run_roof_pitch":
            return bool(answer.numbers)
        case "high_point":
            return bool(answer.of("lr", "side"))
        case "note":
            return True
        case _:
            return True


def _only_sides(answer: Answer) -> bool:
    """`LHS + RHS`, `lh side`: the ends of a run, where an outlet was asked for."""
    said = [item for item in answer.items if item.kind not in ("filler", "mark", "break", "count", "all")]
    return bool(said) and all(
        item.kind == "direction" and item.value in ("left side", "right side") for item in said
    )


def _only_compass_ends(answer: Answer) -> bool:
    """`E end`, `NW`, `W & E`: an end of a run by the map."""
    said = [
        item
        for item in answer.items
        if item.kind not in ("filler", "mark", "break", "count", "all", "measure")
    ]
    return bool(said) and all(
        item.kind in ("initial", "direction") and item.value in COMPASS for item in said
    )


def _is_end(answer: Answer) -> bool:
    if answer.plain in answer.legend:
        return answer.legend[answer.plain].kind in ("end", "end word")
    return bool(answer.of("end", "end word")) or meaning_of(answer, "end") is not None


def _pair_of_ends(answer: Answer) -> bool:
    parts = answer.parts(re.compile(r"\s*[/,;&]\s*"))
    return len(parts) == 2 and all(_is_end(part) for part in parts)


def _is_ending(answer: Answer) -> bool:
    if answer.plain in answer.legend:
        return answer.legend[answer.plain].kind == "ends at"
    words = answer.plain
    return (
        bool(answer.of("ends at"))
        or meaning_of(answer, "ends_at") is not None
        or words.endswith((" roof", " gutter"))
        or (
            not answer.numbers
            and not answer.of("side", "lr", "end")
            and re.search("[a-z]{3}", words) is not None
        )
    )
