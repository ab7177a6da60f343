"""Sizes that are names rather than measurements: gutter width, pipe size, thickness, roof pitch, rainfall."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import TYPE_CHECKING

from gutterance.measure.length import Length, decimal_or_mixed
from gutterance.measure.numerals import read_amount
from gutterance.measure.sizes import PLURALS
from gutterance.measure.tokens import tokens_of

if TYPE_CHECKING:
    from gutterance.reading.items import Item

LARGEST_GUTTER_IN_INCHES = 40
"""A gutter or a pipe is no wider than this [in]: a larger number is in millimetres."""
STEEPEST_IN_TWELVE = 24
COMMON_PITCH = Fraction(45, 2)
"""A pitch of so much or more, or of 22 1/2, is in degrees. Common practice, no source."""
PLURAL = re.compile(rf"\b(?:{'|'.join(PLURALS)})\b")
"""A number of pipes called by their size."""
PROFILES = {
    "half round": ("half round", "half-round", "halfround", "hr", "1/2 round"),
    "box": ("box", "square"),
    "quad": ("quad",),
    "ogee": ("ogee", "og"),
    "K-style": ("k", "k-style", "kstyle"),
}
"""Profiles as the sheet writes them, and their spellings."""


def gutter_width(item: Item) -> Length | None:
    """The width that `5 inch K` or `125 mm half round` says."""
    width = spoken_hundred(item)
    numbers = [width] if width is not None else _numbers(item)
    if not numbers:
        return None
    width = numbers[0]
    if "mm" in _words(item) or width > LARGEST_GUTTER_IN_INCHES:
        return Length.from_mm(width)
    return Length(width)


def spoken_hundred(item: Item) -> Fraction | None:
    """125 of `one twenty five`, whose hundred was left out."""
    amounts = item.found.amounts if item.found is not None else ()
    if [amount.spoken and amount.is_whole and amount.unit is None for amount in amounts] != [True, True]:
        return None
    first, rest = amounts
    return Fraction(100 + rest.value) if first.value == 1 and 10 <= rest.value < 100 else None


def profile_of(item: Item) -> str | None:
    """The profile named in the words of a gutter size, if one is."""
    words = _words(item)
    for value, spellings in PROFILES.items():
        if any(re.search(rf"(?<![a-z]){re.escape(spelling)}(?![a-z])", words) for spelling in spellings):
            return value
    return None


def pipe_size(item: Item) -> str | None:
    """`2x3` of `2 by 3`, `100x75 mm` of `100 x 75`."""
    numbers = _numbers(item)
    if len(numbers) == 1 and item.found is not None and item.found.what == "pipe size":
        if numbers[0] > LARGEST_GUTTER_IN_INCHES:
            shape = "square" if re.search(r"\bsq", _words(item)) else "round"
            return f"{decimal_or_mixed(numbers[0])} mm {shape}"
        shape = "square" if re.search(r"\bsq", _words(item)) else "round"
        return f"{Length(numbers[0]).file_text()} {shape}"
    if len(numbers) != 2 or any(number.denominator != 1 for number in numbers):
        return None
    across, deep = (int(number) for number in numbers)
    metric = across > LARGEST_GUTTER_IN_INCHES
    return f"{across}x{deep} mm" if metric else f"{across}x{deep}"


def pitch(item: Item) -> str | None:
    """`6/12` of `six twelve pitch`, `26 degrees`."""
    found = item.found
    numbers = _numbers(item)
    if found is not None and found.what == "angle" and numbers:
        return f"{decimal_or_mixed(numbers[0])} degrees"
    if "deg" in _words(item) or "°" in item.text:
        return f"{decimal_or_mixed(numbers[0])} degrees" if numbers else None
    if len(numbers) == 2:
        return f"{decimal_or_mixed(numbers[0])}/{decimal_or_mixed(numbers[1])}"
    if len(numbers) != 1 or (found is not None and found.kind == "length"):
        return None
    if numbers[0] >= STEEPEST_IN_TWELVE or numbers[0] == COMMON_PITCH:
        return f"{decimal_or_mixed(numbers[0])} degrees"
    return f"{decimal_or_mixed(numbers[0])}/12"


def thickness(item: Item) -> str | None:
    """`0.032 in` of `.032`, `26 ga` of `26 gauge`, `0.7 mm`."""
    numbers = _numbers(item)
    if not numbers:
        return None
    words = _words(item)
    amount = numbers[0]
    if "ga" in words and amount >= 1:  # `.027 gauge` is in inches all the same
        return f"{decimal_or_mixed(amount)} ga"
    if "mm" in words or Fraction(2, 10) <= amount < 4:
        return f"{decimal_or_mixed(amount)} mm"
    return f"{decimal_or_mixed(amount)} in" if amount < 1 else None


def rainfall(item: Item) -> str | None:
    """`6 in/h` of `6 inches an hour`, `75 mm/h`."""
    numbers = _numbers(item)
    words = _words(item)
    if len(numbers) != 1 or not re.search(r"hour|/ ?hr?\b|per h|an h", words):
        return None
    unit = "mm/h" if re.search(r"mm|mil", words) else "in/h"
    return f"{decimal_or_mixed(numbers[0])} {unit}"


def _words(item: Item) -> str:
    """The words as the number reader saw them, with what was mis-heard put right."""
    return (item.found.text if item.found is not None else item.text).lower()


def _numbers(item: Item) -> list[Fraction]:
    """The numbers in the words of a size, in order."""
    found = item.found
    if found is not None and found.value is not None:
        return [found.value]
    words = PLURAL.sub(lambda match: str(PLURALS[match.group()]), _words(item))
    tokens = tokens_of(re.sub(r"[/×-]|(?<![a-z])x(?![a-z])|(?<=\d)s\b", " ", words))
    numbers: list[Fraction] = []
    place = 0
    while place < len(tokens):
        read = read_amount(tokens, place) if tokens[place].is_numeral else None
        if read is None:
            place += 1
        else:
            numbers.append(read[0].value)
            place = read[1]
    return numbers
