"""The words of number language, loaded once from `words.toml` and `units.txt` beside this module."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from typing import Any, Literal

QualifierKind = Literal["over", "under", "about", "exact"]

WORDS_FILE = "words.toml"
UNITS_FILE = "units.txt"
_PARTS_OF_A_ROW = 2


class WordsError(ValueError):
    """A data file of this package that cannot be used. Names the file and the row."""


@dataclass(frozen=True, slots=True)
class Qualifier:
    """Words beside a number that say how sure it is."""

    kind: QualifierKind
    says: str
    words: tuple[str, ...]
    not_before: frozenset[str]


@dataclass(frozen=True, slots=True)
class Vocabulary:
    """Everything from the data files, in the form the lexer and the rules use."""

    cardinals: dict[str, int]
    scales: dict[str, int]
    fractions: dict[str, int]
    ordinals: dict[str, int]
    homophones: dict[str, int]
    units: dict[str, str]
    small: dict[str, frozenset[str]]
    kin: dict[int, int]
    pronoun: dict[str, frozenset[str]]
    not_numbers: dict[str, tuple[tuple[str, ...], ...]]
    before: dict[str, tuple[Qualifier, ...]]
    after: dict[str, tuple[Qualifier, ...]]
    other: dict[str, frozenset[str]]
    quantity: dict[str, str]


def spellings(text: str, file: str = UNITS_FILE) -> dict[str, str]:
    """Each spelling of a unit and the unit's name, from the text of a pint definition file.

    Raises WordsError with file and row for a row that is no definition or a spelling used twice.

    >>> spellings("inch = [length] = in = inches")["inches"]
    'inch'
    """
    found: dict[str, str] = {}
    for row, line in enumerate(text.splitlines(), start=1):
        line = line.split("#")[0].strip()
        if not line:
            continue
        parts = [part.strip() for part in line.split("=")]
        if len(parts) < _PARTS_OF_A_ROW or not all(parts):
            raise WordsError(f"{file}, row {row}: {line!r} is no unit; write 'name = 12 * inch = ft = feet'")
        for word in (parts[0], *parts[2:]):
            if not word.isalpha():
                raise WordsError(f"{file}, row {row}: the spelling {word!r} has more than letters in it")
            if found.get(word, parts[0]) != parts[0]:
                raise WordsError(
                    f"{file}, row {row}: {word!r} already means {found[word]}; take one of them out"
                )
            found[word] = parts[0]
    return found


def build(words: dict[str, Any], units: dict[str, str], file: str = WORDS_FILE) -> Vocabulary:
    """A Vocabulary from what the data files hold. Raises WordsError naming file and entry."""

    def numbers(table: str) -> dict[str, int]:
        rows = words.get(table)
        if not isinstance(rows, dict):
            raise WordsError(f"{file}: the table [{table}] is missing")
        for word, value in rows.items():
            if not isinstance(value, int) or isinstance(value, bool) or value < 0:
                raise WordsError(f"{file}, [{table}] {word}: {value!r} is not a whole number")
            if word != word.lower():
                raise WordsError(f"{file}, [{table}] {word}: write it in lower case")
        return dict(rows)

    def lists(table: str) -> dict[str, frozenset[str]]:
        rows = words.get(table)
        if not isinstance(rows, dict):
            raise WordsError(f"{file}: the table [{table}] is missing")
        return {
            name: frozenset(_strings(values, f"{file}, [{table}] {name}")) for name, values in rows.items()
        }

    kin: dict[int, int] = {}
    for pair in words.get("misheard", {}).get("pairs", []):
        if not (
            isinstance(pair, list) and len(pair) == _PARTS_OF_A_ROW and all(isinstance(n, int) for n in pair)
        ):
            raise WordsError(f"{file}, [misheard] pairs: {pair!r} is not two whole numbers")
        kin[pair[0]], kin[pair[1]] = pair[1], pair[0]

    spelt = words.get("quantity", {})
    for word, unit in spelt.items():
        if not isinstance(unit, str) or word != word.lower():
            raise WordsError(f"{file}, [quantity] {word}: write 'words in lower case' = 'unit'")

    phrases: dict[str, list[tuple[str, ...]]] = {}
    for phrase in _strings(words.get("not_numbers", {}).get("phrases", []), f"{file}, [not_numbers] phrases"):
        split = tuple(phrase.split())
        phrases.setdefault(split[0], []).append(split)

    before: dict[str, list[Qualifier]] = {}
    after: dict[str, list[Qualifier]] = {}
    for row, entry in enumerate(words.get("qualifier", []), start=1):
        where = f"{file}, [[qualifier]] {row}"
        if entry.get("kind") not in ("over", "under", "about", "exact"):
            raise WordsError(f"{where}: kind is {entry.get('kind')!r}; write over, under, about or exact")
        no = frozenset(_strings(entry.get("not_before", []), f"{where} not_before"))
        for phrase in _strings(entry.get("before", []), f"{where} before"):
            split = tuple(phrase.split())
            before.setdefault(split[-1], []).append(Qualifier(entry["kind"], entry["says"], split, no))
        for phrase in _strings(entry.get("after", []), f"{where} after"):
            split = tuple(phrase.split())
            after.setdefault(split[0], []).append(Qualifier(entry["kind"], entry["says"], split, no))

    def longest_first(found: dict[str, list[Qualifier]]) -> dict[str, tuple[Qualifier, ...]]:
        return {word: tuple(sorted(some, key=lambda q: -len(q.words))) for word, some in found.items()}

    return Vocabulary(
        cardinals=numbers("cardinals"),
        scales=numbers("scales"),
        fractions=numbers("fractions"),
        ordinals=numbers("ordinals"),
        homophones=numbers("homophones"),
        units=units,
        small=lists("small"),
        kin=kin,
        pronoun=lists("pronoun"),
        not_numbers={word: tuple(sorted(some, key=len, reverse=True)) for word, some in phrases.items()},
        before=longest_first(before),
        after=longest_first(after),
        other=lists("other"),
        quantity=spelt,
    )


def _strings(values: Any, where: str) -> list[str]:
    if not isinstance(values, list):
        raise WordsError(f"{where}: {values!r} is not a list of words")
    for value in values:
        if not isinstance(value, str) or not value.strip():
            raise WordsError(f"{where}: {value!r} is not a word; put it in quotes")
        if value != value.lower():
            raise WordsError(f"{where}: write {value!r} in lower case")
    return list(values)


def load(words_text: str, units_text: str, file: str = WORDS_FILE) -> Vocabulary:
    """A Vocabulary from the text of the two data files. Raises WordsError naming file and row."""
    try:
        words = tomllib.loads(words_text)
    except tomllib.TOMLDecodeError as error:
        raise WordsError(f"{file}: {error}") from error
    return build(words, spellings(units_text), file)


@lru_cache(maxsize=1)
def vocabulary() -> Vocabulary:
    """The vocabulary that comes with the package, loaded at first use."""
    here = files("gutterance.measure")
    return load(
        here.joinpath(WORDS_FILE).read_text(encoding="utf-8"),
        here.joinpath(UNITS_FILE).read_text(encoding="utf-8"),
    )
