"""The numerals of a text: as plain numbers, and where they stand.

`every_numeral` is a scanner of its own that only says where numerals are, so that a reader can prove that it
lost none.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache

from gutterance.measure.amounts import Amount, denominator, glued, read_amount
from gutterance.measure.tokens import (
    ALWAYS_PARTS,
    ELISION,
    SYMBOLS,
    VULGAR,
    Token,
    tokens_of,
)
from gutterance.measure.vocabulary import vocabulary

__all__ = ["Amount", "Number", "every_numeral", "read_amount", "read_numbers"]


@dataclass(frozen=True, slots=True)
class Number:
    """One plain number in a text. A doubt in `doubts` means that it could sanely be another: `could_be`."""

    value: Fraction
    start: int
    end: int
    doubts: tuple[str, ...] = ()
    could_be: tuple[Fraction, ...] = ()


_VAGUE = frozenset({"several", "few", "many", "some"})

_NOT_A_NUMBER_ENDS = frozenset({"st", "nd", "rd", "th", "am", "pm"})

_HUNDRED, _THOUSAND = 100, 1000


def read_numbers(text: str, *, ordinals: bool = False) -> list[Number]:
    """The plain numbers of a text, with no thought of what they measure: cardinals, decimals, fractions.

    `one` as a pronoun, clock times (`2pm`) and vague counts (`several hundred`) are left out; so are ordinals
    (`4th`), but with `ordinals` spoken ranks (`the tenth`) are numbers too.

    >>> [str(number.value) for number in read_numbers("fifty-eight, 1 234 567, two thirds, nine point oh 4")]
    ['58', '1234567', '2/3', '226/25']
    """
    tokens = tokens_of(text)
    numbers: list[Number] = []
    at = 0
    while at < len(tokens):
        token = tokens[at]
        if ordinals and not (at and tokens[at - 1].cat == "article"):
            rank = _rank(tokens, at)
            if rank is not None and read_amount(tokens, at) is None:
                numbers.append(Number(Fraction(rank[0]), token.start, tokens[rank[1] - 1].end))
                at = rank[1]
                continue
        if not token.is_numeral and token.cat != "article":
            at += 1
            continue
        read = read_amount(tokens, at) or _lone_part(tokens, at)
        if read is None:
            at += 1
            continue
        amount, after = read
        if _left_out(tokens, at, after):
            at = _past(tokens, after)
            continue
        number = Number(amount.value, amount.start, amount.end)
        thousands = _spaced_thousands(tokens, at, after)
        if thousands is not None:
            value, after = thousands
            number = Number(value, amount.start, tokens[after - 1].end)
        elif numbers and _hundreds_left_out(text, numbers[-1], number, amount):
            together = numbers[-1].value * _HUNDRED + number.value
            number = replace(number, doubts=("hundred may be left out",), could_be=(together,))
            numbers[-1] = replace(numbers[-1], doubts=number.doubts, could_be=number.could_be)
        elif _long_places(tokens, at, after):
            number = replace(number, doubts=("a long number after the point: one number or two?",))
            # one point two hundred thirty-six: 1.236, or 1.2 and 136
            hundreds, rest = divmod(int(number.value * 1000) % 1000, 100)
            number = replace(
                number, could_be=(number.value // 1 + Fraction(hundreds, 10), Fraction(100 + rest))
            )
        if not (
            numbers and numbers[-1].value == number.value and _in_brackets(text, number, numbers[-1].end)
        ):
            numbers.append(number)
        at = after
    return numbers


def _rank(tokens: list[Token], at: int) -> tuple[int, int] | None:
    """`tenth`, `fifteenth`, `twenty-fifths`: the rank and the token after it."""
    words = vocabulary()
    token = tokens[at]
    if token.kind != "word":
        return None
    if token.cat == "ten":
        found = denominator(tokens, at)
        return (found[0], found[1]) if found is not None else None
    if token.cat in ("digit", "scale", "part") or token.word in ("second", "seconds", "first"):
        return None
    rank = words.fractions.get(token.word)
    if rank is None:
        stem = token.word.removesuffix("s").removesuffix("th")
        rank = words.cardinals.get(stem) if stem != token.word else None
    return (rank, at + 1) if rank else None


def _left_out(tokens: list[Token], at: int, after: int) -> bool:
    token = tokens[at]
    if token.cat == "scale" and at and tokens[at - 1].word in _VAGUE:
        return True
    if after < len(tokens) and tokens[after].word in _NOT_A_NUMBER_ENDS and glued(tokens, after):
        return True
    if (
        after < len(tokens)
        and tokens[after].word == ":"
        and glued(tokens, after)
        and glued(tokens, after + 1)
    ):
        return True
    return after + 1 < len(tokens) and tokens[after].word == "/" and tokens[after + 1].value == 0


def _past(tokens: list[Token], after: int) -> int:
    if after + 1 < len(tokens) and tokens[after].word in ("/", ":"):
        return after + 2
    return after


def _lone_part(tokens: list[Token], at: int) -> tuple[Amount, int] | None:
    """`a fifth` where nothing follows that it could be the fifth of: the end, a stop, or `of`."""
    if tokens[at].cat != "article" or at + 1 >= len(tokens):
        return None
    parts = vocabulary().fractions.get(tokens[at + 1].word)
    if parts is None or (
        at + 2 < len(tokens) and tokens[at + 2].kind == "word" and tokens[at + 2].cat != "of"
    ):
        return None
    value = Fraction(1, parts)
    return Amount(value, tokens[at].start, tokens[at + 1].end, "fraction", True, fraction=value), at + 2


def _spaced_thousands(tokens: list[Token], at: int, after: int) -> tuple[Fraction, int] | None:
    """`1 234 567.89`: groups of three figures with one space between."""
    first = tokens[at]
    if after != at + 1 or first.cat != "whole" or not 1 <= len(first.word) <= 3 or first.value is None:
        return None
    value, here = first.value, after
    while here < len(tokens) and tokens[here].start - tokens[here - 1].end == 1:
        token = tokens[here]
        if token.kind != "number" or token.value is None or len(token.word.partition(".")[0]) != 3:
            break
        value = value * _THOUSAND + token.value
        here += 1
        if token.cat != "whole":
            break
    return (value, here) if here > after else None


def _hundreds_left_out(text: str, before: Number, number: Number, amount: Amount) -> bool:
    """`one twenty two`: 122 with its hundred unsaid, or two numbers."""
    return (
        amount.spoken
        and amount.is_whole
        and 0 < before.value < 10
        and 10 <= number.value < _HUNDRED
        and text[before.end : number.start].isspace()
        and text[before.start : before.end].isalpha()
    )


def _long_places(tokens: list[Token], at: int, after: int) -> bool:
    return (
        any(tokens[here].cat == "point" for here in range(at, after))
        and tokens[after - 1].kind == "word"
        and any(
            tokens[here].cat == "scale" and tokens[here - 2].cat == "point" for here in range(at + 2, after)
        )
    )


def _in_brackets(text: str, number: Number, end: int) -> bool:
    return text[end : number.start].strip() == "(" and text[number.end : number.end + 1] == ")"


@lru_cache(maxsize=1)
def _scanner() -> re.Pattern[str]:
    words = vocabulary()
    names = sorted({*words.cardinals, *words.scales, *ALWAYS_PARTS}, key=len, reverse=True)
    return re.compile(
        rf"\d+|[{VULGAR}{SYMBOLS}]|(?<![^\W\d_])(?:{'|'.join(names)})(?![^\W\d_]|{ELISION})", re.IGNORECASE
    )


def every_numeral(text: str) -> list[tuple[int, int]]:
    """Where numerals stand: each row of digits, fraction sign and number word. Pronoun `one` is left out.

    It knows nothing of how numbers are read, so that a reader can be held against it.

    >>> every_numeral("the left one is forty-two 6½")
    [(16, 21), (22, 25), (26, 27), (27, 28)]
    """
    found = [(match.start(), match.end()) for match in _scanner().finditer(text)]
    if any(text[start:end].lower() in _MAY_BE_NO_NUMBER for start, end in found):
        no_numbers = {token.start for token in tokens_of(text) if token.cat in ("pronoun", "no number")}
        return [span for span in found if span[0] not in no_numbers]
    return found


_MAY_BE_NO_NUMBER = frozenset({"one", "half", "halves", "quarter", "quarters"})
