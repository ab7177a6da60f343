"""A note's own key: `S = shore`, `OSC - outside corner, x: cap`, `(o) outlet`, `/=45 ext`, `450=o'hang`.

What counts as a key follows from what is explained: a sign or a few letters, with a word of the trade behind.
`=` defines wherever it stands; `:`, `-`, an arrow, `means` or a mere blank do so only where a line says that
it is a key, or explains several, since `L: cap` and `B - cap both` tell of a run.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from gutterance.reading.items import Item
from gutterance.reading.labels import built_in_labels, plain
from gutterance.reading.run_starts import tells_ends

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from gutterance.reading.discourse import Walk
    from gutterance.reading.items import Line
    from gutterance.reading.lexicon import Term
    from gutterance.reading.pipeline import Reader

SIGN = r"[^\w\s'\"’‘”“′″´`(),.;:?!&$£€%@-]{1,2}|[+^@-]"
"""A drawn sign: `#`, `↓`, `|`, `>>`."""
SHORT = rf"[A-Za-z][\w/.&']{{0,6}}|[(\[][A-Za-z+*]{{1,3}}[)\]]|\d{{2,4}}|{SIGN}"
ENTRY = re.compile(rf"(?<![\w'’/=<>-])(?P<short>{SHORT})\s?=\s?(?=[A-Za-z\d])")
"""What is explained, and the sign that defines it."""
LOOSE_ENTRY = re.compile(
    rf"\s*(?P<short>{SHORT}|[A-Za-z][\w/&.]{{0,6}} [A-Za-z]\w{{0,5}})"
    r"(?P<joint>\s*(?:=|→|->|[-–—]|:|\bis\b|\bmeans\b)\s*|\s+)(?P<means>[A-Za-z\d][^,;]*?)[\s.]*\Z"
)
"""`x: cap`, `(o) outlet`: one part of a line that is a key."""
KEY_HEAD = re.compile(
    r"\A\W*(?:key|legend|abbreviations?|abbrev|abbr|codes?|symbols?|signs|marks)\s*[:=-]", re.I
)
"""Words that say that a line is a key."""
PART = re.compile(r"(?:(?!\s{2,})[^,;\t])+")
"""What commas and wide blanks part."""
MEANING_ENDS = re.compile(rf"\s{{2,}}|[,;(\t]|\s+(?:{SHORT}|\S{{1,5}})\s?=|[.]?\s*\Z")
ANGLED = re.compile(r"\A(?P<angle>45|135|22\.5|60|30)\s?(?:°|degrees?|degs?)?\s+(?P<end>\D+)\Z")
"""`45 ext`."""
DEFINES = frozenset(
    {"end", "end word", "end pair", "outlet", "downpipe", "ends at", "cue", "part", "profile", "material",
     "colour", "direction"}
)  # fmt: skip
"""Kinds of trade words by which a key may explain another."""
THINGS = frozenset({"end", "end word", "ends at", "outlet", "downpipe"})
"""Those that are told with other words beside them: `solid cap end`."""
TELLS_OF_ENDS = frozenset({"l", "r", "lh", "rh", "lt", "rt", "lhs", "rhs"})
"""`L = cap` says what is at an end."""
UNMISTAKEN = {"wall": "butts wall", "a wall": "butts wall"}
"""`S wall` would be the wall on the south."""
LONGEST_WELL_KNOWN = 2
"""A longer word that the lexicon knows is given no other meaning: `left = gable` is no key."""
PLACES = frozenset(
    {"initial", "quarter", "direction", "compass corner", "lr", "part", "storey", "landmark", "side"}
)
"""Kinds of words that something is told of rather than explained."""
RUN_LETTERS = frozenset("ABCDEFGH")
"""Letters by which runs are called."""
NO_CODES = frozenset({"I", "A", "a", "i"})
"""Letters that are words."""
FEWEST_LOOSE = 2
"""A line that explains fewer without an equals sign is no key, unless it says that it is one."""
LONGEST_LOOSE = 3
"""So many words behind a known one at most are part of what it means."""


@dataclass(frozen=True, slots=True)
class Entry:
    """One thing explained: as written, in which words, what kind of thing those are, and where it stands.

    `line` counts from 1. `words` are what the reader knows; `kind` and `value` those of its `term`.
    """

    short: str
    words: str
    kind: str
    value: str
    line: int
    start: int
    end: int
    term: Term | None = None


@dataclass(slots=True)
class Key:
    """What the key of a table or a form says of each abbreviation, and the lines that are nothing but key."""

    means: dict[str, Item] = field(default_factory=dict)
    lines: set[int] = field(default_factory=set)


def key_of_paper(lines: list[Line]) -> Key:
    """The key of a note's tables and forms: ends of runs, and where pipes end."""
    key = Key()
    for line in lines:
        if line.reader is None:
            continue
        for entry in _loose(line.number, line.text, line.reader):
            if entry.kind in ("end", "end word", "ends at"):
                words = line.text[entry.start : entry.end]
                means = Item(line.number, entry.start, entry.end, words, entry.kind, entry.value)
                key.means.setdefault(plain(entry.short), means)
                key.lines.add(line.number)
        if tells_ends(line):
            key.lines.add(line.number)
    return key


def find_entries(texts: Sequence[str], reader: Reader) -> list[Entry]:
    """What a note's keys explain, in the order in which they stand."""
    found: list[Entry] = []
    for number, text in enumerate(texts, start=1):
        if len(text) > MOST_OF_A_LINE:
            continue
        entries = list(_loose(number, text, reader))
        entries += [
            entry
            for entry in (_strict(number, text, reader) if "=" in text else ())
            if not any(entry.start < other.end and other.start < entry.end for other in entries)
        ]
        found += sorted(entries, key=lambda entry: entry.start)
    return found


MOST_OF_A_LINE = 400
"""A longer line [characters] is no key."""


def _strict(number: int, text: str, reader: Reader) -> Iterator[Entry]:
    """`M = inside mitre   q=downspout`."""
    for match in ENTRY.finditer(text):
        stop = MEANING_ENDS.search(text, match.end())
        end = stop.start() if stop is not None else len(text)
        entry = _entry(match["short"], text[match.end() : end], number, match.start(), end, reader)
        if entry is not None:
            yield entry


def _loose(number: int, text: str, reader: Reader) -> list[Entry]:
    """`OSC - outside corner, x: cap, (o) outlet`; none where the line is no key."""
    if text.count("|") > 1:
        return []  # a row of a table
    head = KEY_HEAD.match(text)
    parts = [part for part in PART.finditer(text, head.end() if head else 0) if part.group().strip()]
    found: list[Entry] = []
    for part in parts:
        match = LOOSE_ENTRY.match(part.group())
        if match is None or "=" in match["means"]:
            continue
        joint, short = match["joint"].strip(), match["short"]
        drawn = re.fullmatch(r"[(\[].*|[^\x00-\x7f•·–—▪◦‣●]", short) is not None
        if short in NO_CODES or (short.istitle() and len(short) > LONGEST_WELL_KNOWN):
            continue  # `Kit: caps` is somebody who speaks
        if not joint and not drawn and not (head is not None and short.isupper()):
            continue
        if head is None and joint != "=" and (_may_be_a_place(short, reader)):
            continue
        begin = part.start() + match.start("short")
        entry = _entry(short, match["means"], number, begin, part.start() + match.end("means"), reader)
        if entry is not None and len(short) < len(match["means"]) and not match["means"][0].isdigit():
            found.append(entry)
    enough = len(found) >= FEWEST_LOOSE and len(found) * 2 >= len(parts)
    return found if enough or (head is not None and found) else []


def _may_be_a_place(short: str, reader: Reader) -> bool:
    """`A: cap, B: wall`, `FL - splash, BR - drain`: a run or a corner, of which this is told."""
    letters = short.strip("()[]")
    term = reader.by_phrase.get(letters.lower())
    known = term is not None and term.concept in PLACES | DEFINES
    return known or letters.upper() in RUN_LETTERS or any(char.isdigit() for char in letters)


def _entry(short: str, words: str, line: int, start: int, end: int, reader: Reader) -> Entry | None:
    """What is explained there, or None where that is no word of the trade, or one too well known."""
    meaning = _meaning(words, reader)
    if meaning is None:
        return None
    said, kind, value = meaning
    said = UNMISTAKEN.get(said, said)
    known = reader.by_phrase.get(short.lower())
    if (
        known is not None
        and len(short) > LONGEST_WELL_KNOWN
        and (known.concept, known.value) != (kind, value)
    ):
        return None
    if short.strip("()[]").lower() in TELLS_OF_ENDS and kind in ("end", "end word", "ends at"):
        return None
    if short.isdigit() and kind != "cue":
        return None
    if said.lower() == short.lower():
        return None
    return Entry(short, said, kind, value, line, start, end, reader.by_phrase.get(said.lower()))


def _meaning(words: str, reader: Reader) -> tuple[str, str, str] | None:
    """What the words of an explanation mean: as the reader knows them, their kind and value."""
    said = re.sub(r"\s*(?:→|->|=>)\s*", " to ", words.lower()).strip(" .")
    said = re.sub(r"\A(?:an?|the)\s+", "", re.sub(r"\s+", " ", said))
    for way in (said, re.sub(r"['’]", "", said), re.sub(r"['’]", "/", said)):
        term = reader.by_phrase.get(way)
        if term is not None:
            return (term.phrase, term.concept, term.value) if term.concept in DEFINES else None
    angled = ANGLED.match(said)
    if angled is not None:
        end = reader.by_phrase.get(angled["end"].strip())
        if end is not None and end.concept in ("end", "end word"):
            return f"{angled['angle']} degree {end.phrase}", end.concept, end.value
    if any(char.isdigit() for char in said):
        return None
    items = [item for item in reader.line(1, said).items if item.kind not in ("filler", "break")]
    named = [item for item in items if item.kind in THINGS and item.term is not None]
    if len({item.value for item in named}) == 1 and len(items) <= LONGEST_LOOSE:
        term = named[0].term
        assert term is not None
        return term.phrase, term.concept, term.value
    for what, kind in (("end", "end"), ("ends_at", "ends at")):
        value = built_in_labels().answers[what].get(plain(said))
        if value is not None:
            return value, kind, value
    return None


def apply_numbers(entries: Sequence[Entry], lines: list[Line], walk: Walk) -> None:
    """`450=o'hang`: the cue that a bare number stands for by itself, wherever it stands again."""
    numbers = {entry.short: entry for entry in entries if entry.short.isdigit()}
    by_line = {line.number: line for line in lines}
    for short, entry in numbers.items():
        line = by_line.get(entry.line)
        again = [
            item
            for other in lines
            for item in other.items
            if item.found is not None and item.text == short and not _within(item, entry)
        ]
        if line is None or not again:
            continue  # `450 = o'hang` and never again: said of all, as any other value is
        source = line.source(entry.start, entry.end)
        walk.use_source(source)
        walk.shown.append(source)
        line.items = [item for item in line.items if not _within(item, entry)]
        words = f"{entry.short}={entry.words}"
        for item in again:
            item.marks["defined cue"] = Item(
                entry.line, entry.start, entry.end, words, "cue", entry.value, term=entry.term
            )


def _within(item: Item, entry: Entry) -> bool:
    return item.line == entry.line and entry.start <= item.start < entry.end
