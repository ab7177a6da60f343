"""The spaCy pipeline: a blank English one with our tokenizer, then measures and trade terms as span groups."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import cache
from typing import TYPE_CHECKING

from gutterance.measure.tape import Found, find_lengths
from gutterance.reading.items import BREAKS, Item, Line
from gutterance.reading.lexicon import Term, built_in_terms
from gutterance.reading.repairs import repair_numbers

if TYPE_CHECKING:
    from spacy.language import Language
    from spacy.tokens import Doc

MARKS = r"""[.,;:!?()\[\]{}|/\\&+=~*•·"“”″′´‘`<>…—–\-_@#$£€%^]"""
"""Marks that stand as tokens of their own. An apprentice's `42'6"OSC` must not be one word."""


@cache
def pipeline(terms: tuple[Term, ...] | None = None) -> Reader:
    """The reader of lines for these terms (the built-in ones unless given), made once."""
    return Reader(terms or built_in_terms())


class Reader:
    """Cuts lines into items. Holds the spaCy pipeline and its phrase matcher."""

    def __init__(self, terms: tuple[Term, ...]) -> None:
        import spacy
        from spacy.matcher import PhraseMatcher

        self.nlp: Language = spacy.blank("en")
        self.nlp.tokenizer = _tape_tokenizer(self.nlp)
        self.terms = terms
        self.matcher = PhraseMatcher(self.nlp.vocab, attr="LOWER")
        for number, term in enumerate(terms):
            self.matcher.add(str(number), [self.nlp.make_doc(term.phrase)])
        self._by_key = {self.nlp.vocab.strings[str(number)]: term for number, term in enumerate(terms)}

    def lines(self, texts: Sequence[str]) -> list[Line]:
        """Each text as a Line of items, numbered from 1."""
        return [self.line(number, text) for number, text in enumerate(texts, start=1)]

    def line(self, number: int, text: str) -> Line:
        """One text as a Line of items."""
        scanned, repaired = repair_numbers(_for_scanning(text))
        founds = find_lengths(scanned)
        doc = self.nlp.make_doc(text)
        terms = self._terms(doc, founds)
        covered = _covered(founds, terms)
        measures = [_measure(number, text, found) for found in founds if not _inside(found, terms)]
        for one in repaired:
            for item in measures:
                if item.start <= one.start < item.end:
                    item.doubts.append(f"{one.heard!r} was taken for {one.means}")
        items = [
            *measures,
            *(Item(number, start, end, text[start:end], term.concept, term.value, term=term) for start, end, term in terms),
        ]  # fmt: skip
        for token in doc:
            if token.is_space:
                continue
            start, end = token.idx, token.idx + len(token)
            if not any(covered[start:end]):
                items.append(_plain(number, start, end, token.text))
        items.sort(key=lambda item: item.start)
        items = _arrows(_numbered(number, text, items))
        return Line(number, text, items)

    def _terms(self, doc: Doc, founds: list[Found]) -> list[tuple[int, int, Term]]:
        """The trade terms of a line: the longest first, none across a measure unless it holds it whole."""
        matches = [
            (doc[first].idx, doc[last - 1].idx + len(doc[last - 1]), last - first, self._by_key[key])
            for key, first, last in self.matcher(doc)
        ]
        matches.sort(key=lambda match: (-match[2], match[0]))
        taken: list[tuple[int, int, Term]] = []
        for start, end, _, term in matches:
            if any(start < other_end and other_start < end for other_start, other_end, _ in taken):
                continue
            touching = [found for found in founds if found.start < end and start < found.end]
            if touching and not all(
                start <= f.start and f.end <= end and (end - start) > (f.end - f.start) and f.kind != "length"
                for f in touching
            ):
                continue
            taken.append((start, end, term))
        return sorted(taken, key=lambda term: term[0])


STRIKES = re.compile(r"~~|(?<!\S)~(?=\S[^~]*~(?!\S))|(?<=\S)~(?!\S)")
IN_FROM = re.compile(r"(?<=\d{3})\s+in(?=\s+(?:from|off)\b)", re.IGNORECASE)
NUMBERED = re.compile(
    r"\b(?P<noun>run|elevation|leg|section|stretch|eave|downpipe|downspout|outlet|dp|drop|pipe)\s*(?:no\.?\s*|number\s+|#\s*)?"
    r"(?P<number>\d{1,2}|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|(?-i:[A-H])(?='s|\s*[:,\-–]|\s+(?:is|across|along|on|over|at|the|\d|twenty|thirty|forty|fifty|sixty|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|\w+teen)))\b"
    r"(?=\s*[:,;)]|\.(?!\d)|(?<=[A-H])|\s+[-–—]\s|'s\b|\s+(?:is|was|that|thats|has|goes|and|the|to|into|are|gets|runs|will)\b|\s*$|\s*\()"
    r"(?!\s*(?:and a (?:half|quarter)|'(?!s\b)|\"|foot|feet|inch))",
    re.IGNORECASE,
)
RUN_REFERRED = re.compile(
    r"\b(?:as|on|of|off|like|under|from|with|at)\s+(?P<all>(?P<noun>run)\s+(?P<number>\d{1,2}|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|(?-i:[A-H])))\b"
    r"(?!\s*(?:foot|feet|ft|'|\"))",
    re.IGNORECASE,
)
NUMBER_WORDS = dict(zip("one two three four five six seven eight nine ten eleven twelve".split(), range(1, 13), strict=True))


def _for_scanning(text: str) -> str:
    """The text as the number reader should see it: marks and names that would mislead it blanked, places kept.

    `~~27~~` is a struck number, not `about 27`; the `in` of `300 in from the left` is no inch; the `one` of
    `run one` is a name.
    """
    text = STRIKES.sub(lambda match: " " * len(match.group()), text)
    text = IN_FROM.sub(lambda match: " " * len(match.group()), text)
    for match in [*NUMBERED.finditer(text), *RUN_REFERRED.finditer(text)]:
        start, end = match.span("number")
        text = text[:start] + "_" * (end - start) + text[end:]
    return text


def _tape_tokenizer(nlp: Language) -> object:
    """spaCy's tokenizer with marks cut off and digits parted from letters, but `didn't` kept whole."""
    from spacy.tokenizer import Tokenizer
    from spacy.util import compile_infix_regex, compile_prefix_regex, compile_suffix_regex

    infixes = compile_infix_regex(
        [MARKS, r"(?<=[0-9])(?=[A-Za-z])", r"(?<=[A-Za-z])(?=[0-9])", r"(?<=[0-9])['’]+", r"['’]+(?=[0-9])"]
    )
    return Tokenizer(
        nlp.vocab,
        prefix_search=compile_prefix_regex([MARKS, r"['’]"]).search,
        suffix_search=compile_suffix_regex([MARKS, r"['’]s", r"['’]"]).search,
        infix_finditer=infixes.finditer,
    )


def _arrows(items: list[Item]) -> list[Item]:
    """`->`, `=>` and `→` as one item."""
    out: list[Item] = []
    for item in items:
        last = out[-1] if out else None
        if item.text == ">" and last is not None and last.text in ("-", "=", "–") and last.end == item.start:
            out[-1] = Item(item.line, last.start, item.end, "->", "arrow", "->")
        elif item.text in ("→", "->", "=>"):
            out.append(Item(item.line, item.start, item.end, item.text, "arrow", "->"))
        else:
            out.append(item)
    return out


def _numbered(line: int, text: str, items: list[Item]) -> list[Item]:
    """`run one` and `Downpipe 2:` as one item: a run's name, or the name of a row in a list of pipes."""
    named = [(match, match.span()) for match in NUMBERED.finditer(text)]
    named += [(match, match.span("all")) for match in RUN_REFERRED.finditer(text)]
    for match, (start, end) in named:
        said = match["number"].lower()
        name = str(NUMBER_WORDS.get(said, said))
        kind = "downpipe name" if match["noun"].lower() in ("downpipe", "downspout", "outlet", "dp", "drop", "pipe") else "numbered"
        inside = [item for item in items if item.start >= start and item.end <= end]
        if not inside:
            continue
        place = items.index(inside[0])
        items = [item for item in items if item.start < start or item.end > end]
        items.insert(place, Item(line, start, end, text[start:end], kind, name))
    return items


def _covered(founds: list[Found], terms: list[tuple[int, int, Term]]) -> bytearray:
    last = max([found.end for found in founds] + [end for _, end, _ in terms], default=0)
    covered = bytearray(last)
    for start, end in [(found.start, found.end) for found in founds] + [
        (start, end) for start, end, _ in terms
    ]:
        covered[start:end] = b"\x01" * (end - start)
    return covered


def _inside(found: Found, terms: list[tuple[int, int, Term]]) -> bool:
    return any(start <= found.start and found.end <= end for start, end, _ in terms)


def _measure(number: int, text: str, found: Found) -> Item:
    return Item(number, found.start, found.end, text[found.start : found.end], "measure", found=found)


_RULE = re.compile(r"\A[^\w?]+\Z")


def _plain(number: int, start: int, end: int, text: str) -> Item:
    if text in BREAKS:
        return Item(number, start, end, text, "break", text, strength=BREAKS[text])
    if text in (":", "="):
        return Item(number, start, end, text, "colon", text)
    if _RULE.match(text):
        return Item(number, start, end, text, "mark", text)
    return Item(number, start, end, text, "word", text.lower())
