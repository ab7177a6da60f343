"""Runs and pipes that a note gives codes: `G1  Front  22' 6"`, and further down `D1  G1, 6" in from LH`.

A code that opens a line before the name of a place stands for that place wherever it stands again. The codes
are written out before anything is read, and each source is put back to the code as given.
"""

from __future__ import annotations

import re
from collections import defaultdict
from typing import TYPE_CHECKING

from gutterance.reading.written_out import LinesWrittenOut

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gutterance.reading.attached import Edit
    from gutterance.reading.pipeline import Reader

CODE = r"(?P<letters>[A-Z]{1,3})[ -]?(?P<digits>\d{1,2})"
OPENS = re.compile(
    rf"\A[ \t]*(?:[-*•][ \t]*)?(?P<code>{CODE})(?P<mark>[ \t]*[:.)=–-](?=[ \t])|(?=[ \t]))[ \t]+(?=\S)"
)
"""A code at the start of a line, with what parts it from what follows."""
FEWEST = 2
"""One code alone may be anything; so many of the same letters are a list."""
PLACES = frozenset({"direction", "part", "storey", "initial", "compass corner", "quarter", "own name"})
"""Kinds of words that name a run; one of them must stand behind the code."""
GO_ON = frozenset({"side", "run noun", "lr"})
"""Kinds of words that go on with a name."""
LONGEST_NAME = 6
LEADING = re.compile(r"[A-Za-z](?:[A-Za-z'’/-]|[ ,](?! ))*")
"""The words before the first number, mark or gap."""
OF_PIPES = frozenset({"D", "DP", "DS", "P", "RWP", "S", "L", "LD", "O", "OL", "OUT"})
"""Letters by which pipes and outlets are listed."""
OUTLET = "outlet"
A_CODE = "a code of the note's own, not a length"


def write_out_codes(given: Sequence[str], reader: Reader) -> LinesWrittenOut | None:
    """The lines with the codes of runs written out as their places; None where a note has no such codes."""
    opened = {number: match for number, text in enumerate(given, 1) if (match := OPENS.match(text))}
    if len(opened) < FEWEST:
        return None
    names = {
        number: _name_behind(given[number - 1][match.end() :], reader) for number, match in opened.items()
    }
    letters: defaultdict[str, list[int]] = defaultdict(list)
    for number, match in opened.items():
        letters[match["letters"]].append(number)
    stands_for: dict[str, str] = {}
    blanked: dict[int, Edit] = {}
    for numbers in letters.values():
        named: dict[str, str] = {}
        for number in numbers:
            if name := names[number]:
                named.setdefault(_plain(opened[number]["code"]), name)
        first = [number for number in numbers if names[number]]
        codes = {_plain(opened[number]["code"]) for number in numbers}
        if len(named) < FEWEST or codes != set(named) or len(set(named.values())) < len(named):
            continue  # not each code has a place of its own: they are of something else
        stands_for |= named
        for number in first:
            start, end = opened[number].start("code"), opened[number].end("mark")
            blanked[number] = (start, end, " " * (end - start))
    if not stands_for:
        return None
    edits: dict[int, list[Edit]] = {number: [edit] for number, edit in blanked.items()}
    shapes = "|".join(
        rf"{letter}[ -]?\d{{1,2}}" for letter in {re.sub(r"\d", "", code) for code in stands_for}
    )
    again = re.compile(rf"(?<![\w'’/.-])(?:{shapes})(?![\w'’\"”/]|\.\d|-\d)")
    for number, text in enumerate(given, start=1):
        for match in again.finditer(text):
            name = stands_for.get(_plain(match.group()))
            if name is not None and not (number in blanked and match.start() <= blanked[number][1]):
                edits.setdefault(number, []).append((match.start(), match.end(), name))
    for letter, numbers in letters.items():
        if letter in OF_PIPES and all(number in edits and number not in blanked for number in numbers):
            for number in numbers:
                edits[number] = _line_of_pipe(given[number - 1], opened[number], edits[number])
    return LinesWrittenOut(given, (), edits, frozenset(), why=A_CODE)


def _line_of_pipe(text: str, opened: re.Match[str], edits: list[Edit]) -> list[Edit]:
    """`D1  G1, LH  height 17' 4"` as `front outlet LH  height 17' 4"`, its run right behind its code."""
    start, end = opened.start("code"), opened.end("mark")
    first = min(edits)
    if text[end : first[0]].strip():
        return [*edits, (start, end, OUTLET)]
    comma = re.compile(r"\s*,").match(text, first[1])
    stop = first[1] if comma is None else comma.end()
    others = [edit for edit in edits if edit != first]
    return [(start, end, " " * (end - start)), (first[0], stop, f"{first[2]} {OUTLET}"), *others]


def _plain(code: str) -> str:
    return re.sub(r"[ -]", "", code)


def _name_behind(text: str, reader: Reader) -> str | None:
    """The words at the start of a text that name a place: `Outrigger, left side`, `Porch, front`."""
    words = LEADING.match(text)
    if words is None:
        return None
    last = 0
    for item in reader.lines([words.group()])[0].items[:LONGEST_NAME]:
        if item.kind in PLACES or (item.kind in GO_ON and last):
            last = item.end
        elif item.kind not in ("word", "break", "filler", "landmark") or item.strength > 1:
            break
    return re.sub(r"\s*,\s*", " ", text[:last].strip()) or None
