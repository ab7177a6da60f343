"""Buildings and parts told apart by numbers: `shed 1`, `shed 2`, `dormer 2 left`, and `run 1 shed 1`.

A part with a number is a name only where the note tells of two numbers of it, or names runs of it by theirs.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from gutterance.reading.items import Item
from gutterance.reading.places import PlaceName

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

WORDS = {"one": "1", "two": "2", "three": "3", "four": "4"}
"""Numbers in words that part names may have."""
NO_NAME = (
    r"(?!\s*(?:foot|feet|ft|inch|inches|ins?\b|mm|cm|m\b|metres?|meters?|hundred|thousand|point|['’′\"”″½¼¾⅛⅜⅝⅞/.%x]\S"
    r"|['’′\"”″½¼¾⅛⅜⅝⅞]|[-–]\s?\d|(?:no\.?\s+)?(?:drops?|outlets?|d[ps]s?|downs\w*|downpipes?|pipes?|caps?"
    r"|end caps?|stop ends?|ends|corners?|osc?|isc?|oc|ic|runs|sides|gutters|of|in from|or|and a)\b))"
)
"""What may not stand behind the number of a name."""
FEWEST = 2
"""So many numbers of one part make names of them."""


def pattern_for(parts: Iterable[str]) -> re.Pattern[str]:
    """The pattern of a part with its number, with the run of it before."""
    words = "|".join(
        re.escape(part) for part in sorted(parts, key=lambda one: (-len(one), one)) if not part.endswith("s")
    )
    return re.compile(
        rf"(?:\b(?P<run>run\s*#?\s*(?P<which>\d{{1,2}}))[\s,]+(?:(?:of|on|at)\s+)?(?:the\s+)?)?"
        rf"\b(?P<part>{words})\s+(?:no\.?\s*|#\s*)?(?P<number>[1-9]|{'|'.join(WORDS)})\b{NO_NAME}",
        re.IGNORECASE,
    )


def numbered_parts(texts: Sequence[str], pattern: re.Pattern[str]) -> frozenset[str]:
    """The numbered parts that a note names: `shed 1` and `shed 2`, never one alone without its runs."""
    said: dict[str, set[str]] = {}
    of_runs: set[str] = set()
    for text in texts:
        if not any(sign.isdigit() for sign in text) and not any(word in text.lower() for word in WORDS):
            continue
        for match in pattern.finditer(text):
            part, number = match["part"].lower(), _number(match)
            said.setdefault(part, set()).add(number)
            if match["run"]:
                of_runs.add(part)
    return frozenset(
        f"{part} {number}"
        for part, numbers in said.items()
        for number in numbers
        if len(numbers) >= FEWEST or part in of_runs
    )


def numbers_runs_of_parts(texts: Sequence[str], pattern: re.Pattern[str]) -> bool:
    """Whether a note numbers its runs building by building, so that a number alone names none of them."""
    return any(match["run"] for text in texts for match in pattern.finditer(text))


def _number(match: re.Match[str]) -> str:
    number = match["number"].lower()
    return WORDS.get(number, number)


def blank_numbers(text: str, names: frozenset[str], pattern: re.Pattern[str]) -> str:
    """The text with the numbers of names blanked, so that none is read as a length."""
    for match in _named(text, names, pattern):
        start, end = match.span("number")
        text = (
            text[:start] + "_" * (end - start) + ";" + text[end + 1 :]
            if end < len(text)
            else text[:start] + "_"
        )
        if match["run"]:
            start, end = match.span("which")
            text = text[:start] + "_" * (end - start) + text[end:]
    return text


def fold_numbered_parts(
    line: int, text: str, items: list[Item], names: frozenset[str], pattern: re.Pattern[str]
) -> list[Item]:
    """`shed 1` as one part of that name, `run 2 shed 1` as the place it is."""
    for match in _named(text, names, pattern):
        start, end = match.span()
        inside = [item for item in items if item.start < end and item.end > start]
        if not inside:
            continue
        at = items.index(inside[0])
        name = f"{match['part'].lower()} {_number(match)}"
        items = [item for item in items if not any(item is one for one in inside)]
        folded = Item(line, start, end, match.group(), "part", name)
        if match["run"]:
            folded.kind, folded.value = "place", PlaceName(part=name, number=match["which"])
            folded.marks.update(words=[match.group().lower()], settled=True)
        items.insert(at, folded)
    return items


def _named(text: str, names: frozenset[str], pattern: re.Pattern[str]) -> list[re.Match[str]]:
    if not names:
        return []
    return [match for match in pattern.finditer(text) if f"{match['part'].lower()} {_number(match)}" in names]
