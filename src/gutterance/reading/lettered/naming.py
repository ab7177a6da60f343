"""Whether a note names its runs by letters or numbers from a sketch, and where in it those names stand.

Decided by the whole note: a lone `B` may be the back, but where A, B and C open lines it is not.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from itertools import pairwise
from typing import TYPE_CHECKING

from gutterance.reading.lettered.patterns import (
    AFTER_ALSO,
    ALSO,
    CLOCKWISE,
    CLOSES,
    DECLARED,
    GLUED,
    HASHED,
    HEARD_AS,
    IN_ORDER,
    LABEL_ROW,
    LETTER_ROW,
    MISHEARD,
    NO_ORDER,
    NOUN_LED,
    NUMBER_WORDS,
    PAIR,
    PIPES,
    RANGE,
    ROW,
    ROW_OF_A_LIST,
    SMALL_LETTER,
    SMALL_NOUN_LED,
    SPELLED,
    STRONG_LETTER,
)

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

NEAR = 30
"""How far [characters] before a number sign a word is looked for."""
FEWEST = 2
"""From so many names on, a note names its runs so."""
WIDEST_GAP = 3
"""So far apart at most are two letters of one sketch."""
FEWEST_SMALL = 3
"""Small letters name runs from so many on."""
FEWEST_ROWS = 3
"""Bare numbers that open lines name runs from so many on."""
MOST_NUMBERS = 20
"""No house has more runs than this."""


@dataclass(frozen=True, slots=True)
class RunName:
    """The name of a run where it stands in a line; `whole` is where its noun begins."""

    start: int
    end: int
    run: str
    whole: int


@dataclass(slots=True)
class Naming:
    """How a note names its runs: the names in order, and where they stand, by the line's number."""

    order: list[str]
    letters: bool
    clockwise: bool = False
    in_order: bool = False
    closed: bool = False
    no_order: bool = False
    names: dict[int, list[RunName]] = field(default_factory=dict)
    labels: dict[int, list[RunName]] = field(default_factory=dict)


def find_naming(texts: Sequence[str]) -> Naming | None:
    """How the note names its runs by letters or numbers, or None where it does not."""
    note = "\n".join(texts)
    letters = _letters(texts, note)
    naming: Naming | None = None
    if letters:
        naming = Naming(sorted(letters), letters=True)
    else:
        numbers = _numbers(texts, note)
        if numbers:
            naming = Naming(sorted(numbers, key=int), letters=False)
    if naming is None:
        return None
    naming.clockwise = CLOCKWISE.search(note) is not None
    naming.no_order = NO_ORDER.search(note) is not None
    naming.in_order = IN_ORDER.search(note) is not None and not naming.no_order
    naming.closed = CLOSES.search(note) is not None and not naming.no_order
    from gutterance.reading.lettered.spans import spans_of

    for number, text in enumerate(texts, start=1):
        names, labels = spans_of(text, naming)
        if names:
            naming.names[number] = names
        if labels:
            naming.labels[number] = labels
    if not naming.letters:
        _letter_pipes(texts, naming)
    return naming


def _letter_pipes(texts: Sequence[str], naming: Naming) -> None:
    """`a on 2 ...`, `b on 4 ...`: letters that follow one another open lines, and label pipes on the runs."""
    rows = [(number, row) for number, text in enumerate(texts, 1) if (row := LABEL_ROW.match(text))]
    letters = [row["name"].lower() for _, row in rows]
    follow = sum(ord(then) == ord(first) + 1 for first, then in pairwise(letters))
    if len(set(letters)) < FEWEST or follow < len(letters) - 1:
        return
    for number, opened in rows:
        if number in naming.names:
            start, end = opened.span("name")
            label = RunName(start, end, opened["name"].lower(), start)
            naming.labels.setdefault(number, []).append(label)


def _letters(texts: Sequence[str], note: str) -> set[str]:
    """The letters that name runs, or none where the note does not letter its runs."""
    plain: set[str] = set()
    with_colon: dict[str, int] = {}
    for text in texts:
        for match in STRONG_LETTER.finditer(text):
            name = letter_of(match["name"])
            if match["colon"] and match.start() == 0:
                with_colon[name] = with_colon.get(name, 0) + 1
            else:
                plain.add(name)
    # speakers are labelled so too: `A: what's the front?`
    plain |= set(with_colon) if set(with_colon) != {"a", "b"} or max(with_colon.values()) <= FEWEST else set()
    rows = [opened["name"].lower() for text in texts if (opened := LETTER_ROW.match(text))]
    if "".join(rows).startswith("abc"):
        plain |= set(rows)
    led = {letter_of(match["name"]) for match in NOUN_LED.finditer(note) if not _is_number(match["name"])}
    strong = plain | led
    declared = DECLARED.search(note) is not None
    if len(strong) >= FEWEST or declared:
        for match in PAIR.finditer(note):
            pair = {match["first"].lower(), match["second"].lower()}
            if pair & strong:
                strong |= pair
    if declared or strong:
        for match in RANGE.finditer(note):
            first, last = letter_of(match["first"]), letter_of(match["last"])
            if first == "a":
                strong |= {chr(code) for code in range(ord(first), ord(last) + 1)}
    if len(strong) < FEWEST:
        small = {match["name"] for text in texts for match in SMALL_LETTER.finditer(text)}
        small |= {match["name"].lower() for match in SMALL_NOUN_LED.finditer(note)}
        if len(small - {"a"}) + ("a" in small) >= FEWEST_SMALL and {"b", "c"} <= small:
            strong = {"a"} | small
    strong = _without_strays(strong)
    return strong if _begins_the_alphabet(strong) else set()


def _without_strays(letters: set[str]) -> set[str]:
    """Letters up to the first wide gap: the L of `wall L` is the left, where the runs are A to C."""
    kept: list[str] = []
    for letter in sorted(letters):
        if kept and ord(letter) - ord(kept[-1]) > WIDEST_GAP:
            break
        kept.append(letter)
    return set(kept)


def _begins_the_alphabet(letters: set[str]) -> bool:
    """Whether letters are those of a sketch, from A on: not the initials of front, right, back and left."""
    if len(letters) < FEWEST or "a" not in letters or not letters & {"b", "c"}:
        return False
    return ord(max(letters)) - ord("a") < len(letters) + 3


def _numbers(texts: Sequence[str], note: str) -> set[str]:
    """The numbers that name runs, or none where the note does not number its runs."""
    found: set[str] = set()
    by_noun: dict[str, set[str]] = {}
    for match in NOUN_LED.finditer(note):
        if _is_number(match["name"]):
            by_noun.setdefault(match["noun"].lower(), set()).add(number_of(match["name"]))
    for match in GLUED.finditer(note):
        by_noun.setdefault(match["stem"], set()).add(number_of(match["name"]))
    for match in HASHED.finditer(note):
        if not re.search(
            rf"\b(?:{PIPES}|lot|unit|apt|job|po|permit|order|inv\w*)\s*\Z",
            note[max(0, match.start() - NEAR) : match.start()],
            re.IGNORECASE,
        ):
            by_noun.setdefault("#", set()).add(number_of(match["name"]))
    if 2 * len(ROW_OF_A_LIST.findall(note)) > len(by_noun.get("#", ())):
        by_noun.pop("#", None)
    rows = [opened for text in texts if (opened := ROW.match(text))]
    if DECLARED.search(note) and _counted_up([match["name"] for match in rows]):
        by_noun["row"] = {match["name"] for match in rows if int(match["name"]) <= MOST_NUMBERS}
    for numbers in by_noun.values():
        if _counted(numbers):
            found |= numbers
    for text in texts if found else ():
        found |= _listed_next(text, found)
    if found:
        gaps = {str(number) for number in range(1, max(map(int, found)) + 2)} - found
        found |= {HEARD_AS[match["name"].lower()] for match in misheard(note)} & gaps
    return found


def _listed_next(text: str, found: set[str]) -> set[str]:
    """`#5 and 6 same as #1`: the next number of the count, listed behind one that names a run."""
    more: set[str] = set()
    for match in (*noun_led(text), *hashed(text)):
        at = match.end()
        while (other := ALSO.match(text, at)) and AFTER_ALSO.match(text, other.end()):
            listed = number_of(other["name"])
            if int(listed) != max(map(int, found | more)) + 1:
                break
            more.add(listed)
            at = other.end()
    return more


def _counted_up(names: list[str]) -> bool:
    """Whether rows are numbered 1, 2, 3."""
    threes = (names[first : first + FEWEST_ROWS] for first, name in enumerate(names) if name == "1")
    return ["1", "2", "3"] in threes


def _counted(numbers: Iterable[str]) -> bool:
    """Whether numbers count something up from one."""
    values = {int(number) for number in numbers}
    return len(values) >= FEWEST and 1 in values and max(values) <= min(len(values) + 3, MOST_NUMBERS)


def _is_number(name: str) -> bool:
    return name.isdigit() or name.lower() in NUMBER_WORDS


def misheard(text: str) -> Iterator[re.Match[str]]:
    """`run for goes back`, `run ate is`: a number behind its noun that was heard as another word."""
    return MISHEARD.finditer(text)


def number_of(name: str) -> str:
    """`three` and `3` and `03` as `3`."""
    return NUMBER_WORDS.get(name.lower(), name.lstrip("0") or "0")


def letter_of(name: str) -> str:
    """`B`, `b` and `bravo` as `b`."""
    return SPELLED.get(name.lower(), name.lower())


def noun_led(text: str) -> Iterator[re.Match[str]]:
    """The names in a line that have their noun before them."""
    return NOUN_LED.finditer(text)


def hashed(text: str) -> Iterator[re.Match[str]]:
    """The names in a line that have a number sign before them."""
    return HASHED.finditer(text)


def glued(text: str) -> Iterator[re.Match[str]]:
    """The names in a line that are a letter and a number: `R1`."""
    return GLUED.finditer(text)


def row(text: str) -> re.Match[str] | None:
    """The number that opens a line, where another number stands behind it."""
    return ROW.match(text)
