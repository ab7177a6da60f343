"""A shop's own words: a TOML file that says what else its crew, or its phone, calls what the reader knows.

[[word]]
say = ["snout", "nozzle"]
means = "outlet"

[[misheard]]
heard = ["kay stile"]
means = "k style"

[[colour]]
say = ["harbour mist"]

[[label]]
say = ["hang out"]
means = "overhang"
"""

from __future__ import annotations

import difflib
import re
import tomllib
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from gutterance.reading.labels import OwnLabel, built_in_labels, plain
from gutterance.reading.lexicon import LexiconError, Term, built_in_terms, kinds
from gutterance.reading.repairs import NumberRule, number_rule

if TYPE_CHECKING:
    from pathlib import Path

    from gutterance.reading.items import Line
    from gutterance.sheet.models import Sheet

WORDS_FILE = "words.toml"
"""What the file is called where it lies beside the shop's rules."""
LARGEST_FILE = 1_000_000
SAYS = {"word": "say", "misheard": "heard", "colour": "say", "part": "say", "label": "say"}
"""The tables of the file, each with its key for the words."""
_HEADER = re.compile(r"\s*\[\[\s*(?P<name>\w+)\s*\]\]", re.MULTILINE)
_UNIT = r"(?:foot|feet|ft|inch|inches|in|mm|metres?|meters?)"


@dataclass(frozen=True, slots=True)
class OwnWords:
    """What one file adds: terms, words heard for a numeral, and labels of forms and tables."""

    file: str
    terms: tuple[Term, ...] = ()
    numbers: tuple[NumberRule, ...] = ()
    labels: tuple[OwnLabel, ...] = ()


def load_own_words(path: Path) -> OwnWords:
    """The shop's own words in the file at `path`. Raises LexiconError, naming file, line and row."""
    try:
        data = path.read_bytes()[: LARGEST_FILE + 1]
    except FileNotFoundError:
        raise LexiconError(f"{path}: no such file of words: check the name") from None
    except OSError as error:
        raise LexiconError(f"{path}: the file of words cannot be opened: {error.strerror}") from None
    if len(data) > LARGEST_FILE:
        raise LexiconError(f"{path}: over 1 MB, which no file of words is: check the name")
    try:
        return own_words_from(data.decode("utf-8-sig"), str(path))
    except UnicodeDecodeError:
        raise LexiconError(f"{path}: not text in UTF-8: save it again as UTF-8") from None


def own_words_from(text: str, name: str) -> OwnWords:
    r"""The shop's own words in the text of a file called `name`. Raises LexiconError, naming line and row.

    >>> own = own_words_from('[[word]]\nsay = ["snout"]\nmeans = "drop"', "words.toml")
    >>> [(term.phrase, term.concept, term.value) for term in own.terms]
    [('snout', 'outlet', 'outlet')]
    """
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise LexiconError(f"{name}: this is not TOML that can be read: {error}") from None
    lines: dict[str, list[int]] = {}
    for header in _HEADER.finditer(text):
        lines.setdefault(header["name"], []).append(text.count("\n", 0, header.start("name")) + 1)
    maker = _Maker(name)
    for table, rows in data.items():
        if table not in SAYS or not isinstance(rows, list):
            near = difflib.get_close_matches(table, SAYS, n=1)
            kinds = ", ".join(f"[[{one}]]" for one in SAYS)
            raise LexiconError(
                f"{name}: {table!r} is no table of this file: "
                + (f"did you mean [[{near[0]}]]?" if near else f"there are {kinds}")
            )
        for number, row in enumerate(rows, start=1):
            known = lines.get(table, [])
            at = f", line {known[number - 1]}" if number <= len(known) else ""
            maker.where = f"{name}{at}, {table} {number}"
            maker.add(table, row)
    return OwnWords(name, tuple(maker.terms.values()), tuple(maker.numbers), tuple(maker.labels.values()))


class _Maker:
    """Checks each row against the words there are, and gathers what it adds."""

    def __init__(self, name: str) -> None:
        self.name = self.where = name
        self.known = {term.phrase.lower(): term for term in built_in_terms()}
        self.terms: dict[str, Term] = {}
        self.told: dict[str, str] = {}
        self.numbers: list[NumberRule] = []
        self.labels: dict[str, OwnLabel] = {}

    def wrong(self, what: str) -> LexiconError:
        return LexiconError(f"{self.where}: {what}")

    def add(self, table: str, row: Any) -> None:
        key = SAYS[table]
        wanted = {key, "means"} if table in ("word", "misheard", "label") else {key}
        if not isinstance(row, dict):
            raise self.wrong(f"is not a table: write [[{table}]] and its keys beneath")
        if unknown := set(row) - wanted:
            raise self.wrong(f"unknown key {min(unknown)!r}: it has {' and '.join(sorted(wanted))}")
        if missing := wanted - set(row):
            raise self.wrong(f"{min(missing)} is missing")
        said = row[key]
        if isinstance(said, str):
            said = [said]
        if not isinstance(said, list) or not said or not all(isinstance(one, str) for one in said):
            raise self.wrong(f"{key} must be a list of words in quotation marks")
        if table == "label":
            for one in said:
                self.add_label(one, row["means"])
            return
        phrases = [self.phrase(one) for one in said]
        if table in ("colour", "part"):
            like = Term(phrases[0], table, phrases[0].lower())
        else:
            if not isinstance(row["means"], str):
                raise self.wrong("means must be one word or phrase in quotation marks")
            means = " ".join(row["means"].split())
            if table == "misheard" and _is_number(means):
                self.numbers += [self.number(one, means) for one in phrases]
                return
            like = self.meant(means)
        for phrase in phrases:
            self.add_term(phrase, like, like.phrase if table == "misheard" else "")

    def add_label(self, given: str, means: Any) -> None:
        """Add a label of a form or a table. One that asks for something else already is refused."""
        known = built_in_labels().known
        if not isinstance(means, str):
            raise self.wrong("means must be one label in quotation marks")
        like, words = plain(means), plain(given)
        if like not in known:
            near = difflib.get_close_matches(like, known, n=1)
            hint = (
                f"did you mean {near[0]!r}?" if near else "name one such as 'length', 'overhang' or 'height'"
            )
            raise self.wrong(f"{means!r} is no label the reader knows: {hint}")
        if not any(sign.isalpha() for sign in words):
            raise self.wrong(f"{given!r} is no word")
        if any(sign.isdigit() for sign in words):
            raise self.wrong(f"{given!r} has a number in it: a label's number is read by itself")
        if words in known:
            if {(one.field, one.of) for one in known[like]} <= {(one.field, one.of) for one in known[words]}:
                return
            asks = " or ".join(dict.fromkeys(_asked(one.field) for one in known[words]))
            raise self.wrong(
                f"{given!r} is given for the label {means!r}, "
                f"but it is a built-in label that asks for {asks}: choose another"
            )
        before = self.labels.get(words)
        if before is not None and before.means != like:
            raise self.wrong(
                f"{given!r} is given already for {before.means!r}, at {self.told['label ' + words]}"
            )
        self.told["label " + words] = self.where.removeprefix(f"{self.name}, ")
        self.labels[words] = OwnLabel(words, like)

    def phrase(self, given: str) -> str:
        phrase = " ".join(given.split())
        if not any(sign.isalpha() for sign in phrase):
            raise self.wrong(f"{given!r} is no word")
        if _has_number(phrase):
            raise self.wrong(f"{given!r} has a number or a unit in it, and those are read by themselves")
        if _is_small_word(phrase):
            raise self.wrong(f"{given!r} stands in almost every sentence: choose a word of the trade")
        return phrase

    def meant(self, means: str) -> Term:
        like = self.known.get(means.lower()) or self.terms.get(means.lower())
        if like is None:
            near = difflib.get_close_matches(means.lower(), self.known, n=1)
            hint = f"did you mean {near[0]!r}? " if near else ""
            raise self.wrong(f"{means!r} is no word the reader knows: {hint}`gutterance words` lists them")
        return like

    def add_term(self, phrase: str, like: Term, heard_for: str) -> None:
        key = phrase.lower()
        clash = self.known.get(key)
        if clash is not None:
            if (clash.concept, clash.value) == (like.concept, like.value):
                return
            raise self.wrong(
                f"{phrase!r} is given for {meaning(like)}, but it is a built-in word for {meaning(clash)} "
                f"({kinds()[clash.concept]}): choose another word"
            )
        if key in self.terms:
            raise self.wrong(f"{phrase!r} is given already, at {self.told[key]}")
        self.told[key] = self.where.removeprefix(f"{self.name}, ")
        self.terms[key] = replace(like, phrase=phrase, own=self.name, heard_for=heard_for, cased=False)

    def number(self, phrase: str, means: str) -> NumberRule:
        clash = self.known.get(phrase.lower())
        if clash is not None:
            raise self.wrong(
                f"{phrase!r} is given for the number {means!r}, "
                f"but it is a built-in word for {meaning(clash)}: choose another word"
            )
        if len(means) > len(phrase):
            raise self.wrong(f"{means!r} is longer than {phrase!r}: write the number in figures")
        before, after = rf"\b{_UNIT}\s+|(?=\S+\s+{_UNIT}\b)\b", r"\b"
        return number_rule([phrase], means, before, after)


def _asked(field: str) -> str:
    """What a label asks for, for a message."""
    return repr(field.replace("_", " "))


def meaning(term: Term) -> str:
    """What a term says, for a message: `'wall to fascia'`."""
    return repr(term.value.replace("_", " "))


def _has_number(phrase: str) -> bool:
    from gutterance.measure.tokens import tokens_of

    return any(token.is_numeral or token.kind == "mark" for token in tokens_of(phrase)) or any(
        token.unit for token in tokens_of(phrase) if token.word == phrase.lower()
    )


def _is_number(phrase: str) -> bool:
    from gutterance.measure.tokens import tokens_of

    tokens = tokens_of(phrase)
    return bool(tokens) and all(token.is_numeral for token in tokens)


def _is_small_word(phrase: str) -> bool:
    from spacy.lang.en.stop_words import STOP_WORDS

    return phrase.lower() in STOP_WORDS or len(phrase) < 2


def tell_own_words(lines: list[Line], sheet: Sheet) -> None:
    """Say beside each value that rests on one of the shop's own words which that was."""
    own: dict[tuple[int, int], str] = {}
    for line in lines:
        for item in line.items:
            if item.term is not None and item.term.own:
                own[line.number, item.start] = (
                    f"{item.text!r} was taken for {item.term.heard_for!r}"
                    if item.term.heard_for
                    else f"{item.text!r} is the shop's word for {meaning(item.term)}"
                )
    if not own:
        return
    for _, reading in sheet.readings():
        for source in reading.source:
            why = own.get((source.line, source.start))
            if why is not None and why not in (reading.why or ""):
                reading.why = f"{reading.why}; {why}" if reading.why else why
