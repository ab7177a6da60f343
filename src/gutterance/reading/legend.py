"""A note's own legend: `S = shore`, `X=ext mitre  p=pop  450=o'hang`. It holds for the whole note."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from gutterance.reading.items import Item

if TYPE_CHECKING:
    from collections.abc import Mapping

    from gutterance.reading.discourse import Walk
    from gutterance.reading.items import Line
    from gutterance.reading.lexicon import Term

ENTRY = re.compile(r"(?<![\w'’/=<>-])(?P<short>[A-Za-z][\w/.]{0,4}|[+^@#]|\d{2,4})\s?=\s?(?=[A-Za-z])")
"""A short word, or a number, and the sign that defines it."""
DEFINES = frozenset(
    {"end", "end word", "outlet", "downpipe", "ends at", "cue", "part", "profile", "material", "colour",
     "direction"}
)  # fmt: skip
"""Kinds of trade words by which a legend may define another."""
REDEFINED = frozenset({"word", "filler", "initial", "lr", "quarter", "mark", "end", "side", "outlet"})
"""Kinds of items that a legend may make something else of, where they are a letter or two."""
LONGEST_WELL_KNOWN = 2
"""A longer word that the lexicon knows is given no other meaning: `left = gable` is no legend."""


@dataclass(frozen=True, slots=True)
class Entry:
    """One definition: the short word as written, what it means, and where it stands."""

    short: str
    term: Term
    line: int
    start: int
    end: int


@dataclass(slots=True)
class Legend:
    """The definitions of a note, by the word defined."""

    words: dict[str, Entry] = field(default_factory=dict)
    numbers: dict[str, Entry] = field(default_factory=dict)

    def meaning(self, text: str) -> Entry | None:
        """What the legend says of a word: letters alone as they are written, longer words in any case."""
        if text in self.words:
            return self.words[text]
        return self.words.get(text.lower()) if len(text) > 1 else None


def apply_legend(lines: list[Line], walk: Walk, terms: Mapping[str, Term]) -> None:
    """Read the note's legend, and give the words it defines their meaning wherever they stand.

    `terms` are the trade words by their lower-case phrase.
    """
    legend = _read_legend(lines, terms)
    if not legend.words and not legend.numbers:
        return
    said = {
        item.text
        for line in lines
        for item in line.items
        if not _defined_at(legend, line, item) and item.found
    }
    for number in [number for number in legend.numbers if number not in said]:
        del legend.numbers[number]  # `450 = o'hang` and never again: said of all, as any other value is
    for line in lines:
        spans = _spans(legend, line)
        for start, end in spans:
            walk.use_source(line.source(start, end))
        items: list[Item] = []
        for entry in legend.numbers.values():
            if entry.line == line.number:
                walk.shown.append(line.source(entry.start, entry.end))
        for item in line.items:
            if any(start <= item.start < end for start, end in spans):
                continue
            items.extend(_as_defined(item, legend))
        line.items = items


def _read_legend(lines: list[Line], terms: Mapping[str, Term]) -> Legend:
    legend = Legend()
    for line in lines:
        if "=" not in line.text:
            continue
        for match in ENTRY.finditer(line.text):
            short = match["short"]
            known = terms.get(short.lower())
            found = _longest_term(line.text, match.end(), terms)
            if found is None:
                continue
            term, end = found
            if (
                known is not None
                and len(short) > LONGEST_WELL_KNOWN
                and (known.concept, known.value) != (term.concept, term.value)
            ):
                continue
            entry = Entry(short, term, line.number, match.start(), end)
            if not short.isdigit():
                legend.words[short if len(short) == 1 else short.lower()] = entry
            elif term.concept == "cue":
                legend.numbers[short] = entry
    return legend


def _longest_term(text: str, start: int, terms: Mapping[str, Term]) -> tuple[Term, int] | None:
    """The trade word that a definition ends with, and where it ends; None where more than that is said."""
    stop = re.search(r"\s{2,}|[,;(\t]|\s+\S{1,5}\s?=|[.]?\s*\Z", text[start:])
    end = start + (stop.start() if stop is not None else len(text) - start)
    term = terms.get(text[start:end].strip().lower())
    return (term, end) if term is not None and term.concept in DEFINES else None


def _defined_at(legend: Legend, line: Line, item: Item) -> bool:
    return any(start <= item.start < end for start, end in _spans(legend, line))


def _spans(legend: Legend, line: Line) -> list[tuple[int, int]]:
    entries = [*legend.words.values(), *legend.numbers.values()]
    return [(entry.start, entry.end) for entry in entries if entry.line == line.number]


def _as_defined(item: Item, legend: Legend) -> list[Item]:
    """The item as the legend has it: itself, another meaning, or the parts of a word that it joins."""
    if item.found is not None and item.kind == "measure":
        entry = legend.numbers.get(item.text)
        if entry is not None:
            item.marks["defined cue"] = _cue_of(entry)
        return [item]
    entry = legend.meaning(item.text)
    if entry is not None and (item.kind in REDEFINED or item.term is not None):
        return [_defined(item, item.start, item.end, item.text, entry)]
    parts = re.split(r"([/–—-])", item.text)
    entries = [legend.meaning(part) for part in parts[::2]]
    if len(parts) < len("a/b") or item.kind == "measure" or not all(entries):
        return [item]
    out: list[Item] = []
    place = item.start
    for number, part in enumerate(parts):
        one = entries[number // 2] if number % 2 == 0 else None
        if one is not None:
            out.append(_defined(item, place, place + len(part), part, one))
        else:
            out.append(Item(item.line, place, place + len(part), part, "break", part))
        place += len(part)
    return out


def _defined(item: Item, start: int, end: int, text: str, entry: Entry) -> Item:
    made = Item(item.line, start, end, text, entry.term.concept, entry.term.value, term=entry.term)
    made.marks.update(item.marks if start == item.start else {}, legend=True)
    return made


def _cue_of(entry: Entry) -> Item:
    """The cue that a number stands for by itself, with the words of the legend that say so."""
    words = f"{entry.short}={entry.term.phrase}"
    return Item(entry.line, entry.start, entry.end, words, "cue", entry.term.value, term=entry.term)
