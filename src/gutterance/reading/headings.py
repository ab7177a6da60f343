"""What the heading of a column asks for: known words, near ones, words cut short, or a word within it."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from importlib import resources

from gutterance.reading.labels import (
    Label,
    Labels,
    Meaning,
    labels_from_toml,
    labels_in_use,
    look_up,
    plain,
    read_label,
    without_unit,
)

SHORTEST_NEAR = 5
"""A shorter word is not taken for another that it is nearly like."""
SHORTEST_BARE = 4
"""So many consonants at least make one word known by them alone."""
FEWEST_WORDS = 2
MEASURED = frozenset({"length", "height", "wall_to_fascia", "outlet", "ends_at"})
"""Fields that a heading of several known words may ask for."""
FILLED_IN = re.compile(r"__|\.{3}|:\s*\S|\d['\"]")
"""Signs of a form's line that has been filled in: no heading."""
VOWELS = re.compile(r"[aeiou]")


def _headings_in_use() -> Labels:
    """The labels of forms, and the headings that are those of tables alone."""
    return _with_headings(labels_in_use())


@cache
def _with_headings(labels: Labels) -> Labels:
    text = resources.files("gutterance.reading").joinpath("headings.toml").read_text("utf-8")
    more = labels_from_toml(text, "headings.toml")
    known = {
        words: (*labels.known.get(words, ()), *more.known.get(words, ()))
        for words in dict.fromkeys([*labels.known, *more.known])
    }
    return Labels(known, (*labels.likely, *more.likely), labels.answers, labels.own)


def heading_label(text: str) -> Label | None:
    """What a heading asks for, or None where nothing in it is known.

    A word with one slip of the hand (`Heigth`, `Lenght`), or without its vowels (`Ovrhng`), is the word. What
    the cells below it say decides between the things that it may ask for.
    """
    known = look_up(text, _headings_in_use())
    if known is not None:
        return known
    if FILLED_IN.search(text):
        return read_label(text)
    bracketed = re.sub(r"[(\[][^)\]]*[)\]]", " ", text)
    if (
        bracketed != text
        and plain(bracketed)
        and (known := look_up(bracketed, _headings_in_use())) is not None
    ):
        return replace(known, text=text)
    return _near(text) or _of_known_words(text) or read_label(text)


def _near(text: str) -> Label | None:
    """The label that a heading is but for one slip, or for its vowels, with its own unit."""
    words, unit = without_unit(text)
    if len(words) < SHORTEST_NEAR - 1 or not re.fullmatch(r"[a-z ]+", words):
        return None
    spelt = _spelt_nearly(words, _headings_in_use())
    if spelt is None:
        return None
    label = look_up(spelt, _headings_in_use())
    return None if label is None else replace(label, text=text, unit=unit or label.unit)


def _of_known_words(text: str) -> Label | None:
    """`Fascia lgth`: words that all stand in known headings of one field, one of them telling it alone."""
    words, unit = without_unit(text)
    parts = words.split()
    if len(parts) < FEWEST_WORDS:
        return None
    fields = _fields_of_words(tuple(parts), _headings_in_use())
    return Label(text, tuple(Meaning(field, "run") for field in fields), unit) if fields else None


@cache
def _fields_of_words(parts: tuple[str, ...], labels: Labels) -> tuple[str, ...]:
    """The fields whose headings have all of those words, and of which one tells the field."""
    words: dict[str, set[str]] = {}
    for label, meanings in labels.known.items():
        for meaning in meanings:
            if meaning.of == "run":
                words.setdefault(meaning.field, set()).update(label.split())
    telling: dict[str, set[str]] = {}
    for word, meaning in labels.likely:
        telling.setdefault(meaning.field, set()).add(word)
    return tuple(
        field
        for field, known in words.items()
        if field in MEASURED and set(parts) <= known and telling.get(field, set()) & set(parts)
    )


@cache
def _spelt_nearly(words: str, labels: Labels) -> str | None:
    """The known label that those words are nearly; None where there is none, or several that differ."""
    known = labels.known
    near = [
        label
        for label in known
        if len(label) >= SHORTEST_NEAR and label[0] == words[0] and _one_slip(words, label)
    ]
    bare = VOWELS.sub("", words)
    if not near and len(bare) >= SHORTEST_BARE:
        near = [label for label in known if label[0] == words[0] and VOWELS.sub("", label) == bare]
    fields = {tuple(meaning.field for meaning in known[label]) for label in near}
    return near[0] if near and len(fields) == 1 else None


def _one_slip(first: str, second: str) -> bool:
    """Whether one letter more, less or other, or two letters turned round, make one word of the other.

    >>> _one_slip("heigth", "height"), _one_slip("lenth", "length"), _one_slip("left", "length")
    (True, True, False)
    """
    if abs(len(first) - len(second)) > 1 or min(len(first), len(second)) < SHORTEST_NEAR:
        return False
    at = next((n for n, (a, b) in enumerate(zip(first, second, strict=False)) if a != b), None)
    if at is None:
        return True
    if len(first) == len(second):
        turned = first[:at] + first[at : at + 2][::-1] + first[at + 2 :]
        return first[at + 1 :] == second[at + 1 :] or turned == second
    shorter, longer = sorted((first, second), key=len)
    return shorter == longer[:at] + longer[at + 1 :]
