"""The words of a note that its gold was taken from: `NAME.words.json`, beside the note and its gold.

Each entry says which words of which line give which values. `told` is a value of the gold, `was` one taken
back later, `again` one said a second time, `focus` a run coming into focus, `mention` a place only mentioned.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal, get_args

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

How = Literal["told", "was", "again", "focus", "mention"]
HOWS = frozenset(get_args(How))


@dataclass(frozen=True, slots=True)
class MarkedWords:
    """Words from `start` to `end` of a line (from 1), and what they give: `field` of a run, or of its pipe.

    `side` is left, right or centre where the value is an outlet's or a pipe's; `field` is 'name' where the
    words only name the run.
    """

    line: int
    start: int
    end: int
    how: How
    field: str
    run: str
    side: str | None = None


class MarkedWordsError(ValueError):
    """A file of marked words that cannot be used: what is wrong, with the file and the entry."""


def load_marked_words(path: Path, note: Sequence[str]) -> list[MarkedWords]:
    """The marked words of a note. Raises MarkedWordsError that names the file and the entry."""
    try:
        entries = json.loads(path.read_text(encoding="utf-8"))
    except ValueError as error:
        raise MarkedWordsError(f"{path.name}: no JSON: {error}") from error
    out: list[MarkedWords] = []
    last = 1
    most = max((entry["line"] for entry in entries), default=1)
    for number, entry in enumerate(entries, start=1):
        found = _find(note, entry, last, most)
        if found is None:
            raise MarkedWordsError(
                f"{path.name}, entry {number}: the words {entry['words']!r} are not in line {entry['line']}"
            )
        last, start = found
        for what in entry["is"]:
            mark = _mark(what, last, start, start + len(entry["words"]))
            if mark is not None:
                out.append(mark)
    return out


def _find(note: Sequence[str], entry: dict[str, object], last: int, most: int) -> tuple[int, int] | None:
    """The line and place of an entry's words: in its line, or in the nearest line that has them.

    A transcript's cues are joined into lines where a sentence goes on: its numbers are not the note's.
    """
    line, words = int(str(entry["line"])), str(entry["words"])
    start = -1
    if 1 <= line <= len(note):
        for _ in range(int(str(entry.get("nth", 1)))):
            start = note[line - 1].find(words, start + 1)
            if start < 0:
                break
    if start >= 0:
        return line, start
    have = [(number, text.find(words)) for number, text in enumerate(note, start=1) if words in text]
    later = [one for one in have if one[0] >= last - 1] or have
    at = line * len(note) / max(most, 1)
    return min(later, key=lambda one: abs(one[0] - at), default=None)


def _mark(what: str, line: int, start: int, end: int) -> MarkedWords | None:
    """One value of an entry: `runs.front.length`, `was.downpipes.back.left.height`, `focus.runs.front`."""
    parts = what.split(".")
    how: How = "told"
    if parts[0] in HOWS:
        how = parts.pop(0)  # type: ignore[assignment]  # one of HOWS
    match parts:
        case ["runs", run]:
            return MarkedWords(line, start, end, how, "name", run)
        case ["runs", run, field]:
            return MarkedWords(line, start, end, how, field, run)
        case ["outlets", run, "distance"]:
            return MarkedWords(line, start, end, how, "distance", run)
        case ["outlets", run, side]:
            return MarkedWords(line, start, end, how, "outlet", run, side)
        case ["outlets", run, side, field]:
            return MarkedWords(line, start, end, how, field, run, side)
        case ["downpipes", run, field]:
            return MarkedWords(line, start, end, how, field, run)
        case ["downpipes", run, side, field, *_]:
            return MarkedWords(line, start, end, how, field, run, side)
        case _:
            return None  # defaults and totals: the rules read them
