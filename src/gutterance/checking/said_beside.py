"""What a note says beside its values that settles what would be asked otherwise. The words are data, in
`said_beside.toml` beside this module.

The words said of a run are its remarks, and the note from where the run is told of to where another one is.
"""

from __future__ import annotations

import re
import tomllib
from collections import defaultdict
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from gutterance.checking.house import House
    from gutterance.sheet.models import Run, Source

FILE = "said_beside.toml"
MATTERS = ("outlet", "wall_to_fascia", "gutter beyond")
LINES_AFTER = 3
"""How many lines, on which no other run is told of, still belong to the run told of before them."""
_GAP = r"(?:\W+[\w']+){0,4}\W+"


class SaidFileError(ValueError):
    """The data file of words cannot be used; the message names the file and the row."""


@cache
def phrases() -> dict[str, re.Pattern[str]]:
    """The words that come with the package, for each matter."""
    return read_phrases((files("gutterance.checking") / FILE).read_text(encoding="utf-8"), FILE)


def read_phrases(text: str, name: str) -> dict[str, re.Pattern[str]]:
    """Read the data file's text: for each matter, a pattern that finds any of its words.

    Raises SaidFileError naming the file and the row.
    """
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise SaidFileError(f"{name}: not TOML ({error}): mend that line") from None
    said: defaultdict[str, list[str]] = defaultdict(list)
    for number, row in enumerate(_rows(data, name), start=1):
        where = f"{name}, [[said]] row {number}"
        settles, words = row.get("settles"), row.get("words")
        if settles not in MATTERS:
            raise SaidFileError(f"{where}: settles = {settles!r} is not known: {', '.join(MATTERS)} are")
        if not (isinstance(words, list) and words and all(isinstance(one, str) and one for one in words)):
            raise SaidFileError(f"{where}: words must be a list of words, like ['no drop']")
        said[settles] += words
    for matter in MATTERS:
        if not said[matter]:
            raise SaidFileError(f"{name}: no [[said]] row settles {matter!r}: add one")
    return {matter: _pattern(words) for matter, words in said.items()}


def _rows(data: dict[str, Any], name: str) -> list[dict[str, Any]]:
    rows = data.get("said")
    if set(data) != {"said"} or not isinstance(rows, list):
        raise SaidFileError(f"{name}: rows are [[said]], and nothing else")
    return rows


def _pattern(words: Sequence[str]) -> re.Pattern[str]:
    each = sorted(words, key=len, reverse=True)
    wild = (_GAP.join(_plain(part) for part in one.split("*")) for one in each)
    return re.compile(rf"(?<!\w)(?:{'|'.join(wild)})(?!\w)", re.IGNORECASE)


def _plain(words: str) -> str:
    return r"\W+".join(re.escape(word) for word in words.split())


class SaidBeside:
    """The words said of each run of a house. Made in n log n of the words' places."""

    def __init__(self, house: House) -> None:
        self._remarks: defaultdict[str, list[str]] = defaultdict(list)
        self._of_nothing: list[str] = []
        for remark in house.sheet.remarks:
            run = house.run(remark.about or "")
            (self._of_nothing if run is None else self._remarks[run.id]).append(remark.text)
        self._stretches = _stretches(house)

    def words(self, run: Run, matter: str) -> str | None:
        """The words said of a run that settle a matter, as they were said; None where there are none."""
        return _found([*self._remarks[run.id], *self._stretches[run.id]], matter)

    def of_side(self, name: str, matter: str) -> str | None:
        """Words that settle a matter and name that side of the house, said of whatever run, or of none."""
        remarks = [text for several in self._remarks.values() for text in several]
        naming = [text for text in (*remarks, *self._of_nothing) if name.lower() in text.lower()]
        return _found(naming, matter)


def _found(texts: Sequence[str], matter: str) -> str | None:
    for text in texts:
        found = phrases()[matter].search(text)
        if found is not None:
            return re.sub(r"\s*[._-]{2,}\s*", " … ", " ".join(found.group().split()))
    return None


def _stretches(house: House) -> defaultdict[str, list[str]]:
    """The stretches of the note told of each run."""
    note = house.sheet.note
    told: defaultdict[str, list[str]] = defaultdict(list)
    runs_at: defaultdict[tuple[int, int], dict[str, None]] = defaultdict(dict)
    for run, one in _told(house):
        if 0 < one.line <= len(note):
            runs_at[one.line, one.start][run] = None
    places = sorted(runs_at)
    # words told of several at once, as a length of two dormers, are told of each of them
    stretches = _joined([(place, runs_at[place]) for place in places])
    for number, ((line, start), runs) in enumerate(stretches):
        end_line, end = stretches[number + 1][0] if number + 1 < len(stretches) else (len(note) + 1, 0)
        if end_line == line:
            text = note[line - 1][start:end]
        else:
            last = min(end_line - 1, line + LINES_AFTER)
            text = "\n".join([note[line - 1][start:], *note[line:last]])
            if last == end_line - 1 and end_line <= len(note):
                text += "\n" + note[end_line - 1][:end]
        for run in runs:
            told[run].append(text)
    return told


def _joined(
    places: list[tuple[tuple[int, int], dict[str, None]]],
) -> list[tuple[tuple[int, int], dict[str, None]]]:
    """The places with those left out that only go on telling of the same runs."""
    return [one for at, one in enumerate(places) if not at or list(one[1]) != list(places[at - 1][1])]


def _told(house: House) -> Iterator[tuple[str, Source]]:
    """Each run's id with the words about it, its outlets and its pipes."""
    for run in house.sheet.runs:
        for words in run.source:
            yield run.id, words
    for placed in house.placed:
        about = house.run_of(placed.part)
        if about is not None:
            for words in placed.reading.source:
                yield about.id, words
