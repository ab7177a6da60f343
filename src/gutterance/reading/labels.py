"""What the label of a form, or the heading of a column, asks for: known words, or a guess told as one."""

from __future__ import annotations

import re
import tomllib
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import TYPE_CHECKING, Any

from gutterance.reading.lexicon import LexiconError

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

RUN_FIELDS = frozenset(
    {
        "run", "mark", "pipe", "storey", "part", "length", "left", "right", "start", "finish", "ends",
        "outlet", "at", "count", "wall_to_fascia", "height", "ends_at", "pipe_size", "offset", "roof_run",
        "run_roof_pitch", "run_gutter_size", "high_point", "note",
    }
)  # fmt: skip
"""What may be asked of a run, of its outlet or of its pipe."""
JOB_FIELDS = frozenset(
    {
        "title", "gutter", "profile", "gutter_size", "material", "thickness", "colour", "downpipe_size",
        "hanger_spacing", "roof_pitch", "rainfall", "remark", "total length", "total downpipes",
        "total outlets", "nothing",
    }
)  # fmt: skip
"""What may be asked of the whole job. The answer to `nothing` is of no concern to the sheet."""
PIPE_FIELDS = frozenset({"wall_to_fascia", "height", "ends_at", "pipe_size", "offset"})
"""Fields of a downpipe, so that a left or a right in their label tells which."""
ANSWERED = frozenset({"end", "ends_at"})
"""Fields that have words of their own for their answers."""
UNITS = {
    "mm": "millimetre", "millimetres": "millimetre", "millimeters": "millimetre", "cm": "centimetre",
    "m": "metre", "metres": "metre", "meters": "metre", "mtr": "metre", "mtrs": "metre",
    "ft": "foot", "feet": "foot", "decimal feet": "foot", "dec ft": "foot",
    "in": "inch", "ins": "inch", "inch": "inch", "inches": "inch", "lf": "foot", "lin ft": "foot",
    "linear ft": "foot", "lin m": "metre", "lin metres": "metre", "linear feet": "foot",
    "lineal feet": "foot", "lin feet": "foot", "ft in": "feet and inches", "feet inches": "feet and inches",
    "feet and inches": "feet and inches", "ft and in": "feet and inches",
}  # fmt: skip
"""Units that a label may give to the bare numbers that answer it."""
NO_UNIT = frozenset({"lr", "yn", "yes no"})
"""What a label may add that is no unit of one number."""
LITTLE = frozenset({"the", "a", "an", "of", "is", "are", "it", "its", "this", "that", "for"})
"""Words that make no difference to a label."""
SIDES = {
    "left": "left", "l": "left", "lh": "left", "lhs": "left", "lt": "left",
    "right": "right", "r": "right", "rh": "right", "rhs": "right", "rt": "right",
}  # fmt: skip
"""A left or a right in the label of a pipe's field."""
FOR_EACH = frozenset({"each", "all", "ea", "please", "exactly", "there", "them", "here"})
"""Words at the end of a label that do not change what it asks for."""
BETWEEN = frozenset({"from", "in", "at", "to", "on", "by", "and", "or", "what", "whats", "which", "please"})
"""Words between the words of a label that do not tell it from another in the same words."""
ONE_WORD = {
    "pos": "position", "posn": "position", "loc": "location", "posit": "position", "ht": "height",
    "hgt": "height", "len": "length", "lgth": "length", "downpipes": "downpipe", "downspouts": "downspout",
    "outlets": "outlet", "pipes": "pipe", "spouts": "spout", "leaders": "leader", "dps": "dp", "ends": "end",
    "eaves": "eave", "gutters": "gutter", "guttering": "gutter", "runs": "run", "drops": "drop",
    "wid": "width", "dia": "diameter", "color": "colour", "brackets": "bracket", "hangers": "hanger",
}  # fmt: skip
"""Spellings of one word in labels."""
MEASURED_OF = {
    **dict.fromkeys(
        ("downpipe", "downspout", "pipe", "leader", "dp", "ds", "rwp", "spout"),
        frozenset({"height", "ends_at", "outlet", "offset", "wall_to_fascia"}),
    ),
    **dict.fromkeys(
        ("gutter", "eave", "eaves", "fascia", "run"),
        frozenset({"length", "left", "right", "ends", "outlet", "wall_to_fascia"}),
    ),
}  # fmt: skip
"""What may be asked of the thing that a label begins with."""
LONGEST_GUESS = 6
"""A longer label than this is not guessed at."""
NUMBERED_PIPE = re.compile(
    r"\A\W*(?P<what>[A-Za-z][A-Za-z./ ]*?)\s*(?:no\.?|#)?\s*(?P<number>[1-9])\W*\Z", re.IGNORECASE
)
"""`ds1`, `downpipe no 2`."""
NAMED_RUN = re.compile(
    r"\A(?:side|run|eave|wall|elevation|leg|section|stretch|piece|part|line|length)"
    r"\s*(?:no\.?|number|#)?\s*(?P<name>(?-i:[A-Z])|\d{1,2})(?:\s*\([^)]*\))?\Z",
    re.IGNORECASE,
)
"""`Side A (the door)`, `RUN #1`."""


FROM_AN_END = re.compile(
    r"(?:(?:dist(?:ance)?|m|mm|ft|in|offset|set out|position|pos|outlet) )?(?:from|off)"
    r" (?:left|right|lhe?|rhe?|l|r)"
    r"(?: (?:end|hand|hand end))?\Z"
)
"""A label that asks how far from an end something is: `From LH`, `dist from left end`."""
MEASURED_FROM = re.compile(
    r"\b(?:from|off|fr)\s+(?:the\s+)?(?P<side>left|right|lhs?|rhs?|l|r)\b", re.IGNORECASE
)
"""Words of a label that say which end its answers are measured from."""


@dataclass(frozen=True, slots=True)
class Meaning:
    """One thing a label may ask for. `sure` is false where only a word of it was known."""

    field: str
    of: str
    sure: bool = True


@dataclass(frozen=True, slots=True)
class Label:
    """A label as it stands, what it may ask for in the order of likelihood, and what else it says.

    `own` is the label that it was taken for, where the shop's own words say so.
    """

    text: str
    meanings: tuple[Meaning, ...]
    unit: str | None = None
    side: str | None = None
    number: str | None = None
    own: str | None = None

    @property
    def sure(self) -> bool:
        """Whether its words are known as a label."""
        return bool(self.meanings) and self.meanings[0].sure

    @property
    def measured_from(self) -> str | None:
        """The end that its words say something is measured from: `Outlets (m from L)`."""
        said = MEASURED_FROM.search(self.text)
        return None if said is None else "left" if said["side"].lower().startswith("l") else "right"

    def asks(self, field: str) -> bool:
        """Whether it may ask for that."""
        return any(meaning.field == field for meaning in self.meanings)

    def of_run(self) -> bool:
        """Whether it may be a label of a run."""
        return any(meaning.of == "run" and meaning.sure for meaning in self.meanings)


@dataclass(frozen=True, slots=True)
class OwnLabel:
    """A label that a shop's own words add, without capitals and marks, and the known label it stands for."""

    words: str
    means: str


@dataclass(frozen=True, slots=True, eq=False)
class Labels:
    """The labels known, the words by which others are guessed, and the words that answer a field.

    `own` says for what known label each of a shop's own stands.
    """

    known: dict[str, tuple[Meaning, ...]]
    likely: tuple[tuple[str, Meaning], ...]
    answers: dict[str, dict[str, str]]
    own: dict[str, str]


_OWN: ContextVar[tuple[OwnLabel, ...]] = ContextVar("a shop's own labels", default=())


@contextmanager
def with_own_labels(own: tuple[OwnLabel, ...]) -> Iterator[None]:
    """Let labels be read with a shop's own beside the built-in ones."""
    before = _OWN.set(own)
    try:
        yield
    finally:
        _OWN.reset(before)


def labels_in_use() -> Labels:
    """The built-in labels, with those of the shop whose note is being read."""
    own = _OWN.get()
    return _labels_with(own) if own else built_in_labels()


@cache
def _labels_with(own: tuple[OwnLabel, ...]) -> Labels:
    built_in = built_in_labels()
    known = {**{label.words: built_in.known[label.means] for label in own}, **built_in.known}
    return Labels(known, built_in.likely, built_in.answers, {label.words: label.means for label in own})


@cache
def built_in_labels() -> Labels:
    """The labels that come with the program."""
    text = resources.files("gutterance.reading").joinpath("labels.toml").read_text("utf-8")
    return labels_from_toml(text, "labels.toml")


def labels_from_toml(text: str, name: str) -> Labels:
    """Read a file of labels. Raises LexiconError naming the file and the row that is wrong."""
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise LexiconError(f"{name}: not a TOML file: {error}") from error
    known: dict[str, tuple[Meaning, ...]] = {}
    likely: list[tuple[str, Meaning]] = []
    for number, row in enumerate(data.get("label", []), start=1):
        where = f"{name}, label {number}"
        words, of, field = _words(row, "words", where), row.get("of"), row.get("field")
        if of not in ("run", "job") or field not in (RUN_FIELDS if of == "run" else JOB_FIELDS):
            raise LexiconError(f"{where}: no field {field!r} of a {of}: a label has field, of and words")
        for word in words:
            spelt = plain(word)
            if any(old.field == field and old.of == of for old in known.get(spelt, ())):
                continue  # another spelling of the same
            known[spelt] = (*known.get(spelt, ()), Meaning(field, of))
        likely += [(plain(word), Meaning(field, of, sure=False)) for word in _words(row, "likely", where)]
    answers: dict[str, dict[str, str]] = {field: {} for field in ANSWERED}
    for number, row in enumerate(data.get("answer", []), start=1):
        where = f"{name}, answer {number}"
        field, value = row.get("field"), row.get("value")
        if field not in ANSWERED or not isinstance(value, str):
            raise LexiconError(f"{where}: an answer has a field ({', '.join(sorted(ANSWERED))}) and a value")
        for word in _words(row, "words", where):
            if answers[field].setdefault(plain(word), value) != value:
                raise LexiconError(f"{where}: {word!r} stands already for {answers[field][plain(word)]!r}")
    return Labels(known, tuple(likely), answers, {})


def _words(row: Any, key: str, where: str) -> list[str]:
    """The words of a row, or an error that names it."""
    words = row.get(key, []) if isinstance(row, dict) else None
    if not isinstance(words, list) or not all(isinstance(word, str) and plain(word) for word in words):
        raise LexiconError(f"{where}: {key} must be a list of texts")
    if key == "words" and not words:
        raise LexiconError(f"{where}: has no words")
    return words


def plain(text: str) -> str:
    """A label's words alone: no capitals, marks or little words; `W/F` and `w-f` are one."""
    text = text.lower().replace("№", " no ").replace("#", " no ")
    text = re.sub(r"['’‘]", "", text)
    words = re.sub(r"[^\w]+|_", " ", text)
    words = re.sub(r"\b(?:[a-z] ){1,2}[a-z]\b", lambda letters: letters.group().replace(" ", ""), words)
    parts = words.split()
    return " ".join(word for word in parts if word not in LITTLE) or " ".join(parts)


def read_label(text: str) -> Label | None:
    """What a label asks for, or None where nothing in it is known."""
    return known_label(text) or _trade_word(text, labels_in_use()) or _guess(text)


def known_label(text: str) -> Label | None:
    """What a label asks for, where its words are known as one."""
    return look_up(text, labels_in_use())


@cache
def look_up(text: str, labels: Labels) -> Label | None:
    """A label that is known as it stands, or but for its unit, its side or its number."""
    known = labels.known
    named = NAMED_RUN.match(text.strip(" .:?_-"))
    if named is not None:
        return Label(text, (Meaning("run", "run"),), number=named["name"].lower())
    words, unit = without_unit(text)
    for spelt in dict.fromkeys((plain(text), words)):
        if spelt in known:
            return Label(text, known[spelt], UNITS.get(spelt, unit), own=labels.own.get(spelt))
    side, rest = _without_side(words)
    if side is not None and rest in known:
        of_pipe = tuple(
            meaning for meaning in known[rest] if meaning.field in PIPE_FIELDS or meaning.field == "outlet"
        )
        if of_pipe:
            return Label(text, of_pipe, unit, side, own=labels.own.get(rest))
        if known[rest][0].field == "ends":
            return Label(text, (Meaning(side, "run"),), unit)  # `what it meets, left`
    numbered = NUMBERED_PIPE.match(text)
    if numbered is not None:
        meanings = known.get(plain(numbered["what"]), ())
        if any(meaning.field == "pipe" for meaning in meanings):
            of_outlets = tuple(meaning for meaning in meanings if meaning.field == "outlet")
            return Label(text, of_outlets or (Meaning("outlet", "run"),), unit, number=numbered["number"])
    said = [known.get(plain(part), ()) for part in re.split(r"\s*(?:/|&|\+|\band\b)\s*", text)]
    common = tuple(meaning for meaning in said[0] if all(meaning in other for other in said))
    if len(said) > 1 and common:
        return Label(text, common, unit)  # `Access / hazards`
    if FROM_AN_END.match(words):
        return Label(text, (Meaning("at", "run"),), unit)
    first, _, rest = words.partition(" ")
    of_noun = MEASURED_OF.get(first, frozenset())
    meant = tuple(meaning for meaning in known.get(rest, ()) if meaning.field in of_noun)
    if meant:
        return Label(text, meant, unit)  # `downpipe discharges into`, `fascia projection`
    by_bag = _bags(labels).get(_bag(words))
    if by_bag is not None:
        return Label(text, by_bag, unit)
    parts = words.split()
    if len(parts) > 1 and parts[-1] in FOR_EACH and " ".join(parts[:-1]) in known:
        return Label(text, known[" ".join(parts[:-1])], unit)
    return None


@cache
def _trade_word(text: str, labels: Labels) -> Label | None:
    """`Projn.`: a label cut short as trade words are, that is no label in `labels` as it stands."""
    from gutterance.reading.pipeline import pipeline

    words, unit = without_unit(text)
    if not words.isalpha() or words in labels.known:
        return None
    items = [item for item in pipeline().line(0, words).items if item.kind != "break"]
    if len(items) != 1 or items[0].kind != "cue" or items[0].value not in RUN_FIELDS:
        return None
    return Label(text, (Meaning(items[0].value, "run"),), unit)


def _bag(words: str) -> tuple[str, ...]:
    """The words of a label in no order, each once and in its plain form: `position of downpipes`."""
    kept = {ONE_WORD.get(word, word) for word in words.split() if word not in BETWEEN}
    return tuple(sorted(kept)) if len(kept) > 1 else ()


@cache
def _bags(labels: Labels) -> dict[tuple[str, ...], tuple[Meaning, ...]]:
    """The labels of several words by those words in no order, where all that have them ask for the same."""
    found: dict[tuple[str, ...], tuple[Meaning, ...]] = {}
    torn: set[tuple[str, ...]] = {()}
    for words, meanings in labels.known.items():
        bag = _bag(words)
        if found.setdefault(bag, meanings)[0] != meanings[0]:
            torn.add(bag)
    return {bag: meanings for bag, meanings in found.items() if bag not in torn}


def _guess(text: str) -> Label | None:
    """A label of several words that holds one by which it may be guessed."""
    words, unit = without_unit(text)
    if not words or re.search(r"\d", words) or len(words.split()) > LONGEST_GUESS:
        return None
    meanings: Iterable[Meaning] = (
        meaning for word, meaning in built_in_labels().likely if f" {word} " in f" {words} "
    )
    guesses = tuple(dict.fromkeys(meanings))
    return Label(text, guesses, unit) if guesses else None


def without_unit(text: str) -> tuple[str, str | None]:
    """A label's words without the unit it ends with, or has in brackets, and that unit."""
    unit = None
    for inner in re.findall(r"[(\[]([^)\]]*)[)\]]", text):
        unit = unit or UNITS.get(plain(inner))
    words = plain(re.sub(r"[(\[][^)\]]*[)\]]", " ", text))
    parts = words.split()
    for count in (2, 1):
        tail = " ".join(parts[-count:])
        if len(parts) > count and (tail in UNITS or tail in NO_UNIT):
            return " ".join(parts[:-count]), unit or UNITS.get(tail)
    return words, unit


def _without_side(words: str) -> tuple[str | None, str]:
    """A label's words without the left or right that they begin or end with."""
    parts = words.split()
    if len(parts) < 2:
        return None, words
    if parts[-1] in ("end", "side") and len(parts) > 2:
        parts = parts[:-1]
    if parts[-1] in SIDES:
        return SIDES[parts[-1]], " ".join(parts[:-1]).removesuffix(" at")
    if parts[0] in SIDES:
        return SIDES[parts[0]], " ".join(parts[1:])
    return None, words
