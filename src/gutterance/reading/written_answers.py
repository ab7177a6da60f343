"""The answer to a label, or the cell of a table: its words read by themselves."""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from gutterance.reading.corrections import merge_corrections
from gutterance.reading.cut_short import spell_out
from gutterance.reading.end_pairs import fold_end_pairs
from gutterance.reading.items import Item, Line
from gutterance.reading.labels import built_in_labels, plain
from gutterance.reading.pipeline import pipeline

if TYPE_CHECKING:
    from gutterance.reading.labels import Label

FEET_AND_INCHES = "feet and inches"
"""The unit of `1-6` where a table or its heading is in feet and inches."""
LONGEST_IN_FEET = 400
"""A larger bare number is not in feet, whatever its label says."""
EMPTY = frozenset({"", "n/a", "na", "nil", "none", "no", "0", "nothing", "n", "not applicable", "nowhere"})
"""Answers in which there is nothing."""
DITTO = frozenset(
    {'"', "''", "”", "″", "do", "do.", "ditto", "same", "〃", '" "', "as above", ",,", '-"-', "same as above",
     "—〃—", "as before", "same again", "\"\"", "idem", "id."}
)  # fmt: skip
"""Answers that repeat the one above."""
DOUBT = re.compile(
    r"\?|\b(?:check|confirm|maybe|might|perhaps|approx|roughly|tbc|estimate[ds]?|est|unsure|guess(?:ed)?"
    r"|not sure|probably|possibly|or|verify|think)\b",
    re.IGNORECASE,
)
"""Words by which whoever filled in the form says that an answer is not certain."""
STRUCK = re.compile(r"(?<![A-Za-z])(?:XX+|xx+)(?P<words>[^X\n]{1,40}?)(?:XX+|xx+)(?![A-Za-z])")
"""Words crossed out as a typist does it: `XX 27 XX 28`."""
BETWEEN_VALUES = re.compile(
    r"(?<=[^\s\d])\s*/\s+(?=\S)|(?<=[^\s\d])\s+/\s*(?=\S)|(?<=\d)\s+/\s+(?=\d+\s*[-'’′]|\D)"
    r"|(?<=\d\d\d)\s+/\s+(?=\d)"
)
"""A stroke between two values."""
ALSO_SAID = re.compile(
    r"\A(?:(?:all|everything|every|each|both|they|it|them|goes?|run|runs|drains?|dumps?|spills?|falls?|down|straight|out"
    r"|to|into|onto|in|on|at|the|a|an)\s+(?=[a-z]))+"
)
"""Little words before an answer: `all to the shore`."""
HOLDERS = re.compile(r"_+|\.{3,}|…+")
"""What a form leaves to be written on."""


@dataclass(slots=True)
class Answer:
    """What was written behind a label: the stretches of lines it stands in, its words and its items."""

    pieces: list[tuple[Line, int, int]]
    items: list[Item] = field(default_factory=list)
    label: Label | None = None
    guessed: bool = False
    legend: dict[str, Item] = field(default_factory=dict)
    marked_apart: bool = False
    doubt: str | None = None

    @property
    def line(self) -> Line:
        """The line it begins in."""
        return self.pieces[0][0]

    @property
    def start(self) -> int:
        """Where it begins in that line."""
        return self.pieces[0][1]

    @property
    def end(self) -> int:
        """Where its first piece ends."""
        return self.pieces[0][2]

    @property
    def text(self) -> str:
        """Its words."""
        words = " ".join(line.text[start:end] for line, start, end in self.pieces)
        return HOLDERS.sub(" ", words).strip(" \t*`|")

    @property
    def plain(self) -> str:
        """Its words without marks and capitals."""
        return re.sub(r"\s+", " ", self.text.lower()).strip(" .;,")

    @property
    def is_empty(self) -> bool:
        """Whether nothing was answered: a blank, a dash, `n/a`."""
        return self.plain in EMPTY or not re.search(r"[^\W_]|[\"”″〃?]|''|,,", self.text)

    @property
    def is_ditto(self) -> bool:
        """Whether it repeats the answer above."""
        return bool({self.text.lower(), self.plain, self.text.replace(" ", "")} & DITTO)

    @property
    def in_doubt(self) -> str | None:
        """Why the words themselves say that it is not certain, or None."""
        if self.doubt is not None:
            return self.doubt
        found = DOUBT.search(self.text)
        if found is None:
            return None
        return "the measurer put a question mark" if found[0] == "?" else f"the note says {found[0]!r} of it"

    @property
    def as_item(self) -> Item:
        """All of it as one item."""
        line, start, end = self.pieces[0]
        return Item(line.number, start, end, line.text[start:end], "word")

    @property
    def measures(self) -> list[Item]:
        """Its numbers that may be lengths."""
        return [
            item
            for item in self.items
            if item.kind == "measure"
            and not item.marks.get("struck")
            and item.found is not None
            and item.found.kind != "other"
        ]

    @property
    def numbers(self) -> list[Item]:
        """All its numbers."""
        return [item for item in self.items if item.found is not None and not item.marks.get("struck")]

    def of(self, *kinds: str) -> list[Item]:
        """Its items of these kinds."""
        return [item for item in self.items if item.kind in kinds and not item.marks.get("struck")]

    def parts(self, mark: re.Pattern[str]) -> list[Answer]:
        """The answer cut where the mark stands, each part an answer of its own."""
        parts: list[Answer] = []
        for line, start, end in self.pieces:
            begin = start
            cuts = [
                (found.start() + start, found.end() + start) for found in mark.finditer(line.text[start:end])
            ]
            for cut, after in [*cuts, (end, end)]:
                if line.text[begin:cut].strip():
                    part = read_answer([(line, begin, cut)], self.label, self.legend)
                    part.guessed = self.guessed
                    parts.append(part)
                begin = after
        return parts

    def sides_of(self, numbers: list[Item]) -> list[Item | None]:
        """The left or right that each number has beside it: `L 8-10  R 9-1`, `8-10 (L), 9-1 (R)`."""
        sides = [
            item
            for item in self.items
            if item.kind in ("side", "lr") and item.value in ("left", "right", "centre")
        ]
        if not sides or not numbers:
            return [None] * len(numbers)
        first = sides[0].start < numbers[0].start
        found: list[Item | None] = []
        for place, number in enumerate(numbers):
            if first:
                floor = numbers[place - 1].end if place else -1
                near = [side for side in sides if floor <= side.start < number.start]
            else:
                roof = numbers[place + 1].start if place + 1 < len(numbers) else float("inf")
                near = [side for side in sides if number.end <= side.start < roof]
            found.append(near[-1 if first else 0] if near else None)
        return found


def read_answer(
    pieces: list[tuple[Line, int, int]], label: Label | None = None, legend: dict[str, Item] | None = None
) -> Answer:
    """The answer that stands in these stretches of lines."""
    trimmed = [_trim(*piece) for piece in pieces]
    answer = Answer(trimmed, label=label, legend=legend or {})
    for line, start, end in trimmed:
        answer.items += scan_words(line, start, end, label.unit if label is not None else None)
    answer.items = merge_corrections(answer.items)
    return answer


def _trim(line: Line, start: int, end: int) -> tuple[Line, int, int]:
    """A stretch without the blanks and lines to write on at its ends."""
    while start < end and line.text[start] in " \t_|":
        start += 1
    while end > start and line.text[end - 1] in " \t_|":
        end -= 1
    return line, start, end


def scan_words(line: Line, start: int, end: int, unit: str | None = None) -> list[Item]:
    """The items of a stretch of a line, read as if nothing stood beside it."""
    text = line.text[start:end]
    scanned = STRUCK.sub(_as_struck, HOLDERS.sub(lambda dots: " " * len(dots.group()), text))
    items: list[Item] = []
    for first, last in _scanned_apart(scanned):
        for item in (line.reader or pipeline()).line(line.number, scanned[first:last]).items:
            item.start, item.end = item.start + start + first, item.end + start + first
            if not item.text.startswith("~"):
                item.text = line.text[item.start : item.end]
            items.append(item)
    read = Line(line.number, line.text, items)
    spell_out([read])
    fold_end_pairs(read)
    items = read.items
    for item in items:
        if unit is not None:
            _give_unit(item, unit)
    return items


def _scanned_apart(text: str) -> list[tuple[int, int]]:
    """The parts of an answer on either side of a stroke: `10' 0" / 10' 6"` is no fraction."""
    cuts = [match.span() for match in BETWEEN_VALUES.finditer(text)]
    starts = [0, *(end for _, end in cuts)]
    ends = [*(start for start, _ in cuts), len(text)]
    return list(zip(starts, ends, strict=True))


def _as_struck(match: re.Match[str]) -> str:
    """The crosses on either side of crossed-out words as pairs of tildes."""
    before = match.start("words") - match.start()
    after = match.end() - match.end("words")
    return "~~" + " " * (before - 2) + match["words"] + "~~" + " " * (after - 2)


def _give_unit(item: Item, unit: str) -> None:
    """A bare number takes the unit that its label says."""
    found = item.found
    if found is None or found.kind != "bare" or found.amounts[0].unit is not None:
        return
    if unit == FEET_AND_INCHES:
        if len(found.amounts) == 2 and found.amounts[1].joint == "-" and found.amounts[1].value < 12:
            amounts = (replace(found.amounts[0], unit="foot"), replace(found.amounts[1], unit="inch"))
            item.found = replace(found, kind="length", amounts=amounts)
        return
    if len(found.amounts) != 1 or (unit == "foot" and found.amounts[0].value > LONGEST_IN_FEET):
        return
    item.found = replace(found, kind="length", amounts=(replace(found.amounts[0], unit=unit),))


def is_one_meaning(answer: Answer, field_of_words: str) -> bool:
    """Whether all the words of an answer together are known as one: `s/w drain`, `kick out`."""
    known = built_in_labels().answers[field_of_words]
    words = re.sub(r"\([^)]*\)|\?", " ", answer.plain)
    return plain(words) in known or plain(ALSO_SAID.sub("", words)) in known


def meaning_of(answer: Answer, field_of_words: str) -> tuple[str, bool] | None:
    """What the words of an answer mean only as the answer to that field, and whether it is certain.

    A single letter with no key to the letters is not certain.
    """
    known = built_in_labels().answers[field_of_words]
    words = re.sub(r"\b(?:45|90|135)s?\b|°|\bdegrees?\b|\bdeg\b", " ", answer.plain)
    spelt = plain(re.sub(r"\([^)]*\)|\?", " ", words))
    if spelt not in known:
        spelt = plain(ALSO_SAID.sub("", words))
    if spelt not in known:
        first = re.split(r"\s+-\s+|,|\bto\b|\bthen\b", re.sub(r"\([^)]*\)|\?", " ", words))[0]
        spelt = plain(first) if first.strip() else ""
    value = known.get(spelt)
    if value is None:
        return None
    return value, len(spelt) > 1
