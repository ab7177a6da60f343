"""The spaCy pipeline: a blank English one with our tokenizer; measures and trade terms become items."""

from __future__ import annotations

import re
from functools import cache, lru_cache
from itertools import pairwise
from typing import TYPE_CHECKING

from gutterance.measure.tape import TEXTS_REMEMBERED, Found, find_lengths, forget_texts
from gutterance.reading.abbreviations import Abbreviations
from gutterance.reading.items import BREAKS, Item, Line
from gutterance.reading.lettered.spans import fold_names, without_names
from gutterance.reading.lexicon import Term, built_in_terms
from gutterance.reading.number_style import NumberStyle, cell_borders, number_style, parted_cells
from gutterance.reading.numbered_parts import (
    blank_numbers,
    fold_numbered_parts,
    numbered_parts,
    pattern_for,
)
from gutterance.reading.repairs import repair_numbers
from gutterance.reading.scanning import (
    counted_words,
    fold_arrows,
    fold_numbered_names,
    fold_pieces,
    for_scanning,
    glued_words,
    pieces_of_sides,
    run_numbers,
)
from gutterance.reading.shades import name_shades
from gutterance.reading.sides_cut_short import side_spans

if TYPE_CHECKING:
    from collections.abc import Sequence

    from spacy.language import Language

    from gutterance.reading.lettered.naming import Naming
    from gutterance.reading.own_words import OwnWords

GUTTER_WIDTHS_MM = frozenset({75, 100, 112, 115, 120, 125, 150, 175, 200})
"""Widths [mm] that gutter is sold in. Common practice, no source."""
MARKS = r"""[.,;:!?()\[\]{}|/\\&+=~*•·"“”″′´‘`<>…—–\-_@#$£€%^]"""
"""Marks that stand as tokens of their own. An apprentice's `42'6"OSC` must not be one word."""


def pipeline(own: OwnWords | None = None) -> Reader:
    """The reader of lines for the built-in terms and a shop's own words, made once."""
    return _reader_with(own)


@cache
def _reader_with(own: OwnWords | None) -> Reader:
    return Reader(built_in_terms(), own)


class Reader:
    """Cuts lines into items. Holds the spaCy pipeline and its phrase matcher."""

    def __init__(self, built_in: tuple[Term, ...], own: OwnWords | None = None) -> None:
        import spacy
        from spacy.matcher import PhraseMatcher

        self.nlp: Language = spacy.blank("en")
        self.nlp.tokenizer = _tape_tokenizer(self.nlp)
        terms = (*built_in, *(own.terms if own is not None else ()))
        self.own_numbers = own.numbers if own is not None else ()
        self.terms = terms
        self.matcher = PhraseMatcher(self.nlp.vocab, attr="LOWER")
        for number, term in enumerate(terms):
            self.matcher.add(str(number), [self.nlp.make_doc(term.phrase)])
        self.glued = glued_words(terms)
        self.counted = counted_words(terms)
        self._short = Abbreviations(terms)
        self.place_words = frozenset(
            term.phrase.lower().split()[0]
            for term in terms
            if term.concept in ("direction", "part", "storey")
        )
        self.numbered_parts = pattern_for(
            term.phrase.lower() for term in terms if term.concept == "part" and term.phrase.isascii()
        )
        self.by_phrase = {term.phrase.lower(): term for term in terms}
        self._by_key = {self.nlp.vocab.strings[str(number)]: term for number, term in enumerate(terms)}

        @lru_cache(maxsize=TEXTS_REMEMBERED)
        def remembered(
            text: str, names: frozenset[str], pieces: frozenset[str], style: NumberStyle
        ) -> tuple[Item, ...]:
            return tuple(self._items_of(0, text, names, pieces, style, None))

        # a note is read again with each line that is added to it, and a form's answers are looked at twice
        self._remembered = remembered

    def forget_texts(self) -> None:
        """Forget what texts held, so that a benchmark can time a note that was never seen."""
        self._remembered.cache_clear()
        forget_texts()

    def lines(self, texts: Sequence[str], naming: Naming | None = None) -> list[Line]:
        """Each text as a Line of items, numbered from 1. `naming` is how the note letters its runs."""
        names, pieces, style = run_numbers(texts), pieces_of_sides(texts), number_style(texts)
        pieces |= numbered_parts(texts, self.numbered_parts)
        return [
            self.line(number, text, names, pieces, style, naming)
            for number, text in enumerate(texts, start=1)
        ]

    def line(
        self,
        number: int,
        text: str,
        names: frozenset[str] = frozenset(),
        pieces: frozenset[str] = frozenset(),
        style: NumberStyle = NumberStyle(),  # noqa: B008  # frozen
        naming: Naming | None = None,
    ) -> Line:
        """One text as a Line of items.

        `names` are the numbers that name runs in this note, `pieces` the names of pieces of a side, `style`
        is how the note says that it writes its numbers; `naming` is how it letters or numbers its runs.
        """
        if naming is not None:
            return Line(number, text, self._items_of(number, text, names, pieces, style, naming), self)
        remembered = self._remembered(text, names, pieces, style)
        return Line(number, text, [item.on_line(number) for item in remembered], self)

    def _items_of(
        self,
        number: int,
        text: str,
        names: frozenset[str],
        pieces: frozenset[str],
        style: NumberStyle,
        naming: Naming | None,
    ) -> list[Item]:
        """The items of a text, made new."""
        borders = cell_borders(text)
        readable = text
        if naming is not None:
            readable, names = without_names(text, number, naming), frozenset()
        parted = style.rewrite(parted_cells(readable, borders))
        prepared = for_scanning(
            blank_numbers(parted, pieces, self.numbered_parts), names, self.glued, pieces, self.counted
        )
        scanned, repaired = repair_numbers(prepared, self.own_numbers)
        founds = style.apply(find_lengths(scanned))
        doc = self.nlp.make_doc(text)
        tokens = [(token.idx, token.text) for token in doc]  # once: each look at a token costs
        terms = self._terms(text, tokens, self.matcher(doc), founds)
        covered = _covered(founds, terms)
        in_terms = _covered([], [term for term in terms if not _within_size(*term, founds)])
        measures = [
            _measure(number, text, found) for found in founds if not any(in_terms[found.start : found.end])
        ]
        for one in repaired:
            for item in measures:
                if item.start <= one.start < item.end:
                    if one.end > item.end:
                        item.end, item.text = one.end, text[item.start : one.end]
                    item.doubts.append(f"{one.heard!r} was taken for {one.means}")
        items = [
            *measures,
            *(
                Item(number, start, end, text[start:end], term.concept, term.value, term=term)
                for start, end, term in terms
            ),
        ]
        items.extend(
            self._unlisted(_plain(number, start, start + len(word), word))
            for start, word in tokens
            if not word.isspace() and not any(covered[start : start + len(word)])
        )
        items.sort(key=lambda item: item.start)
        if style.sides:
            _name_sides(items, text, style.sides)
        if naming is not None:
            items = fold_names(number, text, items, naming)
        _mark_cells(items, borders)
        _name_box(items)
        items = name_shades(items, text)
        items = fold_numbered_parts(number, readable, items, pieces, self.numbered_parts)
        items = fold_arrows(fold_numbered_names(number, readable, items, names))
        return fold_pieces(number, text, items, pieces)

    def _unlisted(self, item: Item) -> Item:
        """A word of no list as the trade word that it is short for, where it can be but one."""
        term = self._short.term_of(item.text.lower()) if item.kind == "word" else None
        if term is None:
            return item
        item.kind, item.value, item.term = term.concept, term.value, term
        item.marks["short for"] = term.phrase
        return item

    def _terms(
        self,
        text: str,
        tokens: list[tuple[int, str]],
        matches: list[tuple[int, int, int]],
        founds: list[Found],
    ) -> list[tuple[int, int, Term]]:
        """The trade terms of a line: the longest first, none across a measure unless it holds it whole."""
        matches.sort(key=lambda match: (match[1] - match[2], tokens[match[1]][0]))
        covered = bytearray(len(text) + 1)
        measured = [-1] * (len(text) + 1)
        for number, found in enumerate(founds):
            for place in range(found.start, found.end):
                measured[place] = number
        taken: list[tuple[int, int, Term]] = []
        for key, first, last in matches:
            start, (last_start, last_word) = tokens[first][0], tokens[last - 1]
            end = last_start + len(last_word)
            term = self._by_key[key]
            if any(covered[start:end]) or (term.cased and text[start:end] != term.phrase):
                continue
            touching = set(measured[start:end]) - {-1}
            if not _within_size(start, end, term, founds) and not all(
                _holds(start, end, founds[number]) for number in touching
            ):
                continue
            covered[start:end] = b"\x01" * (end - start)
            taken.append((start, end, term))
        return sorted(taken, key=lambda term: term[0])


def _mark_cells(items: list[Item], borders: list[tuple[int, int]]) -> None:
    """Mark the item that opens each cell of a line but the first."""
    ends = {end for _, end in borders}
    for item in items:
        if item.start in ends:
            item.marks["opens cell"] = True


def _name_sides(items: list[Item], text: str, names: frozenset[str]) -> None:
    """`ft`, `Est`: the words that name sides in this note."""
    spans = {(start, end): side for start, end, side in side_spans(text, names)}
    for item in items:
        side = spans.get((item.start, item.end))
        if side is not None and item.found is None:
            item.kind, item.value, item.term = "direction", side, None


def _name_box(items: list[Item]) -> None:
    """`box 125 zinc`: beside a width in millimetres a box is the gutter's shape."""
    for item, follower in pairwise(items):
        if item.text.lower() == "box" and item.kind in ("word", "filler") and follower.found is not None:
            value = follower.found.value
            if follower.kind == "measure" and value is not None and value in GUTTER_WIDTHS_MM:
                item.kind, item.value = "profile", "box"


def _within_size(start: int, end: int, term: Term, founds: list[Found]) -> bool:
    """Whether a term is the colour or the stuff told within a size: `6 inch white K`."""
    return term.concept in ("colour", "material") and any(
        found.what == "gutter size" and found.start < start and end <= found.end for found in founds
    )


def _holds(start: int, end: int, found: Found) -> bool:
    """Whether a term has a number within it that is part of its name: `2nd floor`, `1/2 round`, `68s`."""
    return (
        start <= found.start
        and found.end <= end
        and ((end - start) > (found.end - found.start) or found.what == "code")
        and found.kind != "length"
    )


def _tape_tokenizer(nlp: Language) -> object:
    """spaCy's tokenizer with marks cut off and digits parted from letters, but `didn't` kept whole."""
    from spacy.tokenizer import Tokenizer  # type: ignore[import-not-found]  # compiled, and without a stub
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


def _covered(founds: list[Found], terms: list[tuple[int, int, Term]]) -> bytearray:
    last = max([found.end for found in founds] + [end for _, end, _ in terms], default=0)
    covered = bytearray(last)
    for start, end in [(found.start, found.end) for found in founds] + [
        (start, end) for start, end, _ in terms
    ]:
        covered[start:end] = b"\x01" * (end - start)
    return covered


def _measure(number: int, text: str, found: Found) -> Item:
    return Item(number, found.start, found.end, text[found.start : found.end], "measure", found=found)


_RULE = re.compile(r"\A[^\w?]+\Z")


def _plain(number: int, start: int, end: int, text: str) -> Item:
    if text in BREAKS:
        return Item(number, start, end, text, "break", text, strength=BREAKS[text])
    if text == "@":
        return Item(number, start, end, "at", "filler")
    if text in (":", "="):
        return Item(number, start, end, text, "colon", text)
    if _RULE.match(text):
        return Item(number, start, end, text, "mark", text)
    return Item(number, start, end, text, "word", text.lower())
