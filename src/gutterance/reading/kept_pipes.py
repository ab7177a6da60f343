"""Outlets that no downpipe is made for: `drop left onto the existing downpipe`, `rain chain at the porch`.

The words are data, in `kept_pipes.toml` beside this module. What an outlet empties into then is a reading
of its own, `into`, and its pipe is left out of the sheet; a pipe that was measured all the same is kept, and
asked about: both cannot be meant.
"""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, Any

from gutterance.sheet.models import Reading, Source

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from gutterance.sheet.models import Downpipe, Outlet, Sheet

FILE = "kept_pipes.toml"
LINES_AFTER = 2
"""How many lines below an outlet words on their own may still be about it."""
WHICH = "it was not said which outlet has it"
MEASURED_TOO = "a downpipe was measured for it too: is one made, or not?"
_GAP = r"(?:[^\w.;!?\n]+[\w']+){0,3}[^\w.;!?\n]+"
_OF_ALL = re.compile(r"\b(?:all|every|everything|everywhere|throughout)\b", re.IGNORECASE)
_SEVERAL = re.compile(
    r"\b(?:both|two|all|each|\w*(?:pipes|spouts|leaders|drops|chains|dps|ones))\b", re.IGNORECASE
)


class KeptPipesFileError(ValueError):
    """The data file of words cannot be used; the message names the file and the row."""


@dataclass(frozen=True, slots=True)
class Phrases:
    """For each thing an outlet may empty into, the pattern of its words; and what turns them round."""

    into: tuple[tuple[str, re.Pattern[str]], ...]
    turned_round: re.Pattern[str]


@dataclass(frozen=True, slots=True)
class _Said:
    into: str
    line: int
    start: int
    end: int
    text: str

    @property
    def source(self) -> Source:
        return Source(line=self.line, start=self.start, end=self.end, text=self.text)


@cache
def phrases() -> Phrases:
    """The words that come with the package."""
    return read_phrases((files("gutterance.reading") / FILE).read_text(encoding="utf-8"), FILE)


def read_phrases(text: str, name: str) -> Phrases:
    """Read the data file's text. Raises KeptPipesFileError naming the file and the row."""
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise KeptPipesFileError(f"{name}: not TOML ({error}): mend that line") from None
    lists = {key: _words(data, key, name) for key in ("pipe", "old", "not_after")}
    rows = data.get("kept")
    if set(data) != {"pipe", "old", "not_after", "kept"} or not isinstance(rows, list):
        raise KeptPipesFileError(f"{name}: it holds pipe, old, not_after and [[kept]] rows, and nothing else")
    into: list[tuple[str, re.Pattern[str]]] = []
    for number, row in enumerate(rows, start=1):
        where = f"{name}, [[kept]] row {number}"
        if set(row) != {"into", "words"} or not isinstance(row["into"], str) or not row["into"]:
            raise KeptPipesFileError(f"{where}: a row has into (what the outlet empties into) and words")
        words = _words(row, "words", where)
        into.append((row["into"], _pattern(words, {"pipe": lists["pipe"], "old": lists["old"]})))
    turns = "|".join(re.escape(word) for word in lists["not_after"])
    return Phrases(tuple(into), re.compile(rf"(?<![\w'])(?:{turns})(?:\W+[\w']+){{0,2}}\W*\Z", re.IGNORECASE))


def _words(data: dict[str, Any], key: str, where: str) -> list[str]:
    words = data.get(key)
    if not (isinstance(words, list) and words and all(isinstance(one, str) and one for one in words)):
        raise KeptPipesFileError(f"{where}: {key} must be a list of words")
    return words


def _pattern(words: Sequence[str], lists: dict[str, list[str]]) -> re.Pattern[str]:
    each = (_GAP.join(_plain(part, lists) for part in one.split("*")) for one in words)
    return re.compile(rf"(?<![\w'])(?:{'|'.join(each)})(?![\w'])", re.IGNORECASE)


def _plain(words: str, lists: dict[str, list[str]]) -> str:
    parts = []
    for word in words.split():
        one_of = lists.get(word.strip("{}")) if word.startswith("{") else None
        if one_of is None:
            parts.append(re.escape(word))
        else:
            longest_first = sorted(one_of, key=len, reverse=True)
            any_of = "|".join(r"\s+".join(map(re.escape, one.split())) for one in longest_first)
            parts.append(f"(?:{any_of})")
    return r"[^\w.;!?\n]+".join(parts)


def emptied_into(words: str) -> str | None:
    """What an outlet empties into by these words alone; None where they tell of no such thing.

    >>> emptied_into("keep the existing downpipe"), emptied_into("a rain chain"), emptied_into("9-4, w/f 18")
    ('existing downpipe', 'rain chain', None)
    """
    said = next(_said_in([words]), None)
    return None if said is None else said.into


def leave_out_kept_pipes(lines: Sequence[str], sheet: Sheet) -> None:
    """Set what outlets empty into where the note says that no pipe is made, and leave those pipes out."""
    if not sheet.outlets:
        return
    for said in _said_in(lines):
        about, sure = _outlets_about(said, lines, sheet)
        for outlet in about:
            _set(outlet, said, sheet, sure=sure)


def _said_in(lines: Sequence[str]) -> Iterator[_Said]:
    known = phrases()
    for number, line in enumerate(lines, start=1):
        for into, pattern in known.into:
            for found in pattern.finditer(line):
                says_no = found.group().lower().startswith("no ")
                if says_no or not known.turned_round.search(line, 0, found.start()):
                    yield _Said(into, number, found.start(), found.end(), found.group())


def _outlets_about(said: _Said, lines: Sequence[str], sheet: Sheet) -> tuple[list[Outlet], bool]:
    """The outlets that words are about, and whether that is certain.

    Those told in the same sentence; else those of the runs it names; else the one told last before it, or all
    of its run where several are said.
    """
    line = lines[said.line - 1]
    first, last = _sentence(line, said)
    told = {outlet.id: _place_of(outlet) for outlet in sheet.outlets}
    within = [
        outlet
        for outlet in sheet.outlets
        if (at := told[outlet.id]) is not None and at[0] == said.line and first <= at[1] < last
    ]
    if within:
        if len(within) == 1 or _SEVERAL.search(said.text):
            return within, True
        before = [outlet for outlet in within if (told[outlet.id] or (0, 0))[1] < said.start]
        return ([before[-1]], True) if before else (within, False)
    if _OF_ALL.search(line[first:last]):
        return list(sheet.outlets), True
    named = _runs_named(line[first:last], sheet)
    if named:
        return named, len(named) == 1 or bool(_SEVERAL.search(line[first:last]))
    earlier = [
        (at, outlet)
        for outlet in sheet.outlets
        if (at := told[outlet.id]) is not None
        and at < (said.line, said.start)
        and said.line - at[0] <= LINES_AFTER
    ]
    if not earlier:
        return [], False
    run = max(earlier, key=lambda one: one[0])[1].run
    if _told_last(said, sheet) not in (None, run):
        return [], False  # another run has been brought up since: its outlet is not on the sheet
    of_run = sheet.outlets_of(run)
    return of_run, len(of_run) == 1 or bool(_SEVERAL.search(said.text))


def _runs_named(words: str, sheet: Sheet) -> list[Outlet]:
    """The outlets of the runs that a sentence names: `no new pipes at the back`."""
    lowered = words.lower()
    return [
        outlet
        for run in sheet.runs
        if re.search(rf"\b{re.escape(run.name.lower())}\b", lowered)
        for outlet in sheet.outlets_of(run.id)
    ]


def _told_last(said: _Said, sheet: Sheet) -> str | None:
    """The run whose words stand last before those, or None."""
    before = [
        ((source.line, source.start), run.id)
        for run in sheet.runs
        for source in (*run.source, *(run.length.source if run.length is not None else ()))
        if (source.line, source.start) < (said.line, said.start)
    ]
    return max(before)[1] if before else None


def _sentence(line: str, said: _Said) -> tuple[int, int]:
    ends = [found.end() for found in re.finditer(r"[.;!?](?=\s|\Z)", line)]
    return (
        max((end for end in ends if end <= said.start), default=0),
        min((end for end in ends if end >= said.end), default=len(line)),
    )


def _place_of(outlet: Outlet) -> tuple[int, int] | None:
    readings = (outlet.place, outlet.distance)
    places = [(one.line, one.start) for reading in readings if reading is not None for one in reading.source]
    return max(places, default=None)


def _set(outlet: Outlet, said: _Said, sheet: Sheet, *, sure: bool) -> None:
    pipes = sheet.downpipes_of(outlet.id)
    measured = any(_tells_of_itself(pipe, outlet, said) for pipe in pipes)
    doubt = MEASURED_TOO if measured else None if sure else WHICH
    outlet.into = Reading[str](
        value=said.into, source=[said.source], status="read" if doubt is None else "doubtful", why=doubt
    )
    if doubt is None:
        left_out = {id(pipe) for pipe in pipes}
        sheet.downpipes = [pipe for pipe in sheet.downpipes if id(pipe) not in left_out]


def _tells_of_itself(pipe: Downpipe, outlet: Outlet, said: _Said) -> bool:
    """Whether a pipe was measured where its outlet is told of, not lent what was said of all."""
    at = _place_of(outlet)
    first = said.line if at is None else min(at[0], said.line)
    readings = [pipe.wall_to_fascia, pipe.height, *pipe.offsets]
    return any(
        first <= source.line <= said.line + 1
        for reading in readings
        if reading is not None and reading.value is not None
        for source in reading.source
    )
