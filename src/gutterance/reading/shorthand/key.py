"""What a shorthand note's own key explains: `x=ext  w=wall  /=45 ext`, `[ ]=cap`, `s/e = start/end`."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from gutterance.reading.keys import KEY_HEAD, PART, find_entries
from gutterance.reading.shorthand.meanings import CUES
from gutterance.reading.shorthand.signs import Meaning, built_in_signs

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from gutterance.reading.lexicon import Term
    from gutterance.reading.pipeline import Reader

ENTRY = re.compile(
    r"(?<![\w=<>])(?P<short>[^\s=,;]{1,6}(?:\s[^\w\s=])?)\s*=\s*(?P<means>[^=\s,;][^=,;]*?)"
    r"(?=\s{2,}|[,;]|\s*\(|\s*\Z|\s+\S{1,6}(?:\s\S)?\s*=)"
)
"""One thing explained by an equals sign."""
LOOSE = re.compile(r"\A\s*(?P<short>[a-zA-Z]{1,3})\s+(?P<means>[a-z][a-z ]+?)\s*\Z")
"""`sb splash blk`, in a line that explains others too."""
ANGLED = re.compile(r"\A(?P<angle>45|135|22\.5|60|30)\s?(?:°|deg\w*)?\s+(?P<end>\D+)\Z")
PAIR_OF_LETTERS = re.compile(r"\A(?P<one>\w{1,3})/(?P<two>\w{1,3})\Z")
FEEDS = re.compile(
    r"\b(?:no (?:drop|outlet|dp|ds|pipe)s?|feeds|drains? (?:to|into)|runs? (?:to|into))\b", re.I
)
STARTS = {"start": "start", "end": "finish", "finish": "finish", "begin": "start", "first end": "start"}
KINDS = {"end": "end", "end word": "end", "outlet": "pipe", "downpipe": "pipe", "ends at": "ending"}


@dataclass(slots=True)
class Key:
    """What is explained, by the sign as written, and the stretches of lines that do so."""

    means: dict[str, tuple[str, Meaning]] = field(default_factory=dict)
    numbers: dict[str, str] = field(default_factory=dict)
    spans: list[tuple[int, int, int]] = field(default_factory=list)


SLOTS = {**KINDS, "part": "name", "direction": "name"}


def find_key(texts: Sequence[str], reader: Reader) -> Key:
    """The key of a note's lines: what any note's key explains, and the signs that only shorthand has.

    Spans are (line from 1, start, end).
    """
    terms = reader.by_phrase
    key = Key()
    _with_equals(key, texts, terms)
    for entry in find_entries(texts, reader):
        if any(
            line == entry.line and start < entry.end and entry.start < end for line, start, end in key.spans
        ):
            continue
        if entry.kind in SLOTS:
            slot = SLOTS[entry.kind]
            value = entry.value if slot != "pipe" else "downpipe"
            angle = re.match(r"(\d+) degree", entry.words)
            said = f"{entry.kind}: {value}" if slot == "name" else value
            meaning = Meaning(said, None, int(angle[1]) if angle else None)
            key.means.setdefault(entry.short.strip("()[]") or entry.short, (slot, meaning))
        elif entry.kind == "cue" and entry.value in CUES:
            if entry.short.isdigit():
                key.numbers.setdefault(entry.short, CUES[entry.value])
            else:
                key.means.setdefault(entry.short, ("cue", Meaning(CUES[entry.value])))
        else:
            continue
        key.spans.append((entry.line, entry.start, entry.end))
    return key


def _with_equals(key: Key, texts: Sequence[str], terms: Mapping[str, Term]) -> None:
    """What is explained by an equals sign."""
    for number, text in enumerate(texts, start=1):
        _behind_a_head(key, text, number, terms)
        if "=" not in text:
            continue
        for match in ENTRY.finditer(text):
            if _explain(key, match["short"], match["means"].strip(" ."), terms):
                key.spans.append((number, match.start(), match.end()))
                _loose_behind(key, text, match.end(), number, terms)


def _behind_a_head(key: Key, text: str, number: int, terms: Mapping[str, Term]) -> None:
    """`key: + ext mitre, - stop end, V dp`: a line that says that it is a key needs no sign between."""
    head = KEY_HEAD.match(text)
    if head is None:
        return
    for part in PART.finditer(text, head.end()):
        match = re.match(
            r"\s*(?P<short>[^\s=:]{1,4})(?:\s*[=:]\s*|\s+)(?P<means>[^=:]+?)[\s.]*\Z", part.group()
        )
        if match is not None and _explain(key, match["short"], match["means"], terms):
            start = part.start() + match.start("short")
            key.spans.append((number, min(start, head.start()), part.end()))


def _loose_behind(key: Key, text: str, start: int, number: int, terms: Mapping[str, Term]) -> None:
    """`h = drop to ground   sb splash blk  dr drain`: entries without their sign, behind one with it."""
    for part in re.finditer(r"(?:(?!\s{2,}).)+", text[start:]):
        match = LOOSE.match(part.group())
        if match is not None and _explain(key, match["short"], match["means"], terms):
            key.spans.append((number, start + part.start(), start + part.end()))


def _explain(key: Key, short: str, words: str, terms: Mapping[str, Term]) -> bool:
    """Take down what one entry explains; False where its words are none of the trade."""
    both, said = PAIR_OF_LETTERS.match(short), words.split("/")
    if both is not None and len(said) == 2:
        one = _explain(key, both["one"], said[0].strip(), terms)
        rest = re.sub(r"\s+of\b.*\Z", "", said[1].strip())
        if not rest or len(rest.split()) > 1:
            rest = rest.split()[0] if rest else rest
        prefix = re.match(r"(\w+)\s", said[0].strip())
        two = _explain(key, both["two"], rest, terms)
        if not two and prefix is not None:
            two = _explain(key, both["two"], f"{prefix[1]} {rest}", terms)
        return one and two
    if both is not None and FEEDS.search(words) is None:
        # `O/I = mitre out/in`: the noun before the two
        match = re.match(r"(?P<noun>\w+)\s+(?P<a>\w+)/(?P<b>\w+)\Z", words)
        if match is not None:
            return _explain(key, both["one"], f"{match['a']} {match['noun']}", terms) and _explain(
                key, both["two"], f"{match['b']} {match['noun']}", terms
            )
    found = _meaning(words.rstrip(")"), terms)
    short = re.sub(r"\A\((?=\w)", "", short)
    if found is None:
        return False
    if short.isdigit():
        if found[0] == "cue":
            key.numbers[short] = found[1].value
        return found[0] == "cue"
    for sign in re.sub(r"#\Z", "", short).split() if len(short) > 1 else [short]:
        key.means.setdefault(sign, found)
    return True


def _meaning(words: str, terms: Mapping[str, Term]) -> tuple[str, Meaning] | None:
    """The slot and the meaning of an explanation's words."""
    said = re.sub(r"\s*(?:→|->)\s*", " to ", words.lower()).strip(" .")
    said = re.sub(r"\A(?:an?|the)\s+", "", re.sub(r"\s+", " ", said))
    first = re.sub(r"\s+of (?:that|the|each)\b.*\Z", "", said)
    if first in STARTS:
        return "side", Meaning(STARTS[first])
    angled = ANGLED.match(said)
    if angled is not None:
        end = _meaning(angled["end"].strip(), terms)
        return (
            ("end", Meaning(end[1].value, None, int(float(angled["angle"]))))
            if end and end[0] == "end"
            else None
        )
    if FEEDS.search(said):
        return "none", Meaning("no outlet")
    for way in (said, re.sub(r"['’]", "", said), re.sub(r"['’]", "/", said), _swapped(said)):
        term = terms.get(way)
        if term is not None:
            if term.concept in KINDS:
                return KINDS[term.concept], Meaning(
                    "downpipe" if KINDS[term.concept] == "pipe" else term.value
                )
            if term.concept == "cue" and term.value in CUES:
                return "cue", Meaning(CUES[term.value])
            if term.concept in ("part", "direction", "storey"):
                return "name", Meaning(f"{term.concept}: {term.value or term.phrase}")
            return None
        slots = built_in_signs().get(way, {})
        for slot in ("end", "pipe", "cue", "ending", "name"):
            if slot in slots and len(way) > 1 and slots[slot].why is None:
                return slot, slots[slot]
    if re.search(r"\b(?:hole|outlet|drop) to\b|\bhow far down\b|\bdown to\b|\bto (?:grade|ground)\b", said):
        return "cue", Meaning("height")
    if re.search(r"\bwall\b.*\b(?:fascia|fasc|facia)\b|\boverhang\b|\beaves? depth\b", said):
        return "cue", Meaning("wall_to_fascia")
    return _by_a_word(said, terms)


def _by_a_word(said: str, terms: Mapping[str, Term]) -> tuple[str, Meaning] | None:
    """`solid cap end`: one word of a short explanation that says what it is; none where two differ."""
    words = said.split()
    found = {
        (KINDS[term.concept], term.value)
        for word in words
        if (term := terms.get(word)) is not None and term.concept in KINDS
    }
    if len(words) <= 3 and len(found) == 1:
        slot, value = found.pop()
        return slot, Meaning("downpipe" if slot == "pipe" else value)
    water = re.sub(r"[’']", "", said)
    if water in ("swater", "storm", "storm water", "storm drain"):
        return "ending", Meaning("drain")
    return None


def _swapped(said: str) -> str:
    """`out mitre` for `outside mitre`."""
    said = re.sub(r"\bout\b", "outside", said)
    return re.sub(r"\bin\b", "inside", said)
