"""One numeral from tokens, written or spoken: `58`, `6 1/4`, `fifty-eight and a half`, `nine point four`."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache
from typing import Literal

from gutterance.measure.tokens import (
    MOST_DIGITS,
    Token,
)
from gutterance.measure.vocabulary import vocabulary

Shape = Literal["whole", "decimal", "comma", "fraction", "mixed"]

TAPE_PARTS = frozenset({2, 4, 8, 16, 32, 64})
"""The parts of an inch that a tape shows (NIST Handbook 44: binary submultiples)."""

TEN, THOUSAND = 10, 1000

_FIGURE_ENDS = frozenset({"th", "ths", "nd", "nds", "rds"})


@dataclass(frozen=True, slots=True)
class Amount:
    """One numeral as it was said. `start` and `end` are characters of the text.

    `joint` is what ties it to the numeral before it: "" (first or glued), " ", "-" or a word.
    `unit` is the unit that follows it, `implied` whether that unit was not said. `split` holds the two
    numerals it could be as well (thirty six: 30 and 6), `misread` a word that was put right, `unnamed` says
    that its fraction was said without its name (`5 8` for five eighths).
    """

    value: Fraction
    start: int
    end: int
    shape: Shape = "whole"
    spoken: bool = False
    joint: str = ""
    unit: str | None = None
    split: tuple[int, int] | None = None
    fraction: Fraction | None = None
    lead_zero: bool = False
    misread: str | None = None
    unnamed: bool = False

    @property
    def is_whole(self) -> bool:
        """Whether it was said as a whole number."""
        return self.shape == "whole"


def glued(tokens: list[Token], at: int) -> bool:
    """Whether token `at` touches the one before it."""
    return 0 < at < len(tokens) and tokens[at].start == tokens[at - 1].end


def read_amount(tokens: list[Token], at: int) -> tuple[Amount, int] | None:
    """The longest single numeral that starts at token `at`, and the token after it; None if there is none.

    A numeral is a cardinal with its decimal places or its fraction: `58`, `fifty eight`, `6 1/4`,
    `six and a quarter`, `three quarters`, `nine point oh four`. `58 6` is two.
    """
    if at >= len(tokens):
        return None
    fraction = _read_fraction(tokens, at)
    if fraction is not None:
        return fraction
    whole = _read_cardinal(tokens, at)
    if whole is None:
        return None
    named = _named_fraction(tokens, *whole)
    if named is not None:
        return named
    amount, after = whole
    if after < len(tokens):
        if tokens[after].cat == "point" and amount.shape == "whole":
            places = _read_places(tokens, after + 1)
            if places is not None:
                digits, after, end = places
                value = amount.value + Fraction(int(digits), 10 ** len(digits))
                return replace(amount, value=value, end=end, shape="decimal", spoken=True, split=None), after
        if amount.shape == "whole":
            mixed = _read_rest_of_mixed(tokens, after)
            if mixed is not None:
                part, after = mixed
                return (
                    replace(
                        amount,
                        value=amount.value + part.value,
                        end=part.end,
                        shape="mixed",
                        split=None,
                        fraction=part.value,
                        misread=part.misread,
                        unnamed=part.unnamed,
                    ),
                    after,
                )
    return amount, after


def _small(tokens: list[Token], at: int) -> tuple[int, int, tuple[int, int] | None] | None:
    """A number word below 100 at `at`: value, next token, and how it could be two."""
    if at >= len(tokens):
        return None
    token = tokens[at]
    if token.cat in ("digit", "teen"):
        return token.number, at + 1, None
    if token.cat != "ten":
        return None
    after = at + 1
    dashed = after + 1 < len(tokens) and tokens[after].kind == "dash"
    if dashed and not glued(tokens, after + 1):
        dashed = after + 2 < len(tokens) and tokens[after + 2].cat == "scale"  # ninety - five hundred
    if dashed:
        after += 1
    if after < len(tokens):
        unit = tokens[after]
        if unit.cat == "digit" and unit.number > 0:
            split = None if dashed else (token.number, unit.number)
            return token.number + unit.number, after + 1, split
        if dashed and unit.cat in ("ordinal", "part") and glued(tokens, after) and unit.word in _ordinals():
            return None  # thirty-second, sixty-fourths: a denominator
    return token.number, at + 1, None


@lru_cache(maxsize=1)
def _ordinals() -> dict[str, int]:
    return vocabulary().ordinals


def _and(tokens: list[Token], at: int) -> int:
    return at + 1 if at < len(tokens) and tokens[at].cat == "and" else at


def _read_cardinal(tokens: list[Token], at: int) -> tuple[Amount, int] | None:
    first = tokens[at]
    start, split = first.start, None
    if first.cat == "article":
        # a hundred and five
        if at + 1 < len(tokens) and tokens[at + 1].cat == "scale":
            at += 1
            first = tokens[at]
        else:
            return None
    spoken = first.kind == "word"
    if first.kind == "number":
        if first.value is None:
            return None
        if first.cat in ("decimal", "comma"):
            shape: Shape = "comma" if first.cat == "comma" else "decimal"
            return Amount(first.value, start, first.end, shape), at + 1
        group, after = int(first.value), at + 1
        if after >= len(tokens) or tokens[after].cat != "scale":
            return Amount(first.value, start, first.end, lead_zero=first.word.startswith("0")), after
    elif first.cat == "scale":
        group, after = 1, at
    else:
        small = _small(tokens, at)
        if small is None:
            return None
        group, after, split = small
    total = 0
    lowest = 10**12
    last = after - 1
    while after < len(tokens) and tokens[after].cat == "scale":
        scale = tokens[after].number
        if scale == 100:
            if not 0 < group < 1000 or (group % 100 == 0 and group != 0):
                break
            group *= 100
            split = None
            after += 1
            last = after - 1
            rest = _rest_below_hundred(tokens, after)
            if rest is not None:
                more, after = rest
                group += more
                last = after - 1
        elif scale < lowest and group:
            total += group * scale
            group, lowest, split = 0, scale, None
            after += 1
            last = after - 1
            rest = _rest_below_scale(tokens, after, scale)
            if rest is None:
                break
            group, after = rest
            last = after - 1
        else:
            break
    value = total + group
    if spoken is False and after - at == 1:
        return Amount(Fraction(value), start, tokens[last].end, lead_zero=first.word.startswith("0")), after
    return Amount(Fraction(value), start, tokens[last].end, spoken=True, split=split), after


def _rest_below_hundred(tokens: list[Token], after: int) -> tuple[int, int] | None:
    """What follows `hundred`: [and] forty two, unless that belongs to something else."""
    at = _and(tokens, after)
    joined = at > after
    if at < len(tokens) and tokens[at].kind == "number":
        token = tokens[at]
        if token.value is None or token.cat != "whole" or not 0 < token.value < 100 or glued(tokens, at):
            return None
        value, end = int(token.value), at + 1
        if end < len(tokens) and (tokens[end].cat == "scale" or tokens[end].word in ("/", "⁄")):
            return None
    else:
        small = _small(tokens, at)
        if small is None or small[0] == 0:
            return None
        value, end, _ = small
        if end < len(tokens) and tokens[end].cat == "scale" and tokens[end].number == 100:
            return None
    if _tape_part(tokens, end) or (joined and not value):
        return None  # one hundred and three quarters: 100 3/4
    return value, end


def _rest_below_scale(tokens: list[Token], after: int, scale: int) -> tuple[int, int] | None:
    """What follows `thousand`: [and] two hundred and five."""
    at = _and(tokens, after)
    if at >= len(tokens):
        return None
    if tokens[at].kind == "number":
        token = tokens[at]
        if token.value is None or token.cat != "whole" or not 0 < token.value < scale or glued(tokens, at):
            return None
        group, end = int(token.value), at + 1
    else:
        small = _small(tokens, at)
        if small is None or small[0] == 0:
            return None
        group, end, _ = small
    if _tape_part(tokens, end):
        return None
    if end < len(tokens) and tokens[end].cat == "scale" and tokens[end].number == 100 and group % 10:
        group *= 100
        end += 1
        rest = _rest_below_hundred(tokens, end)
        if rest is not None:
            group, end = group + rest[0], rest[1]
    elif at == after and scale == THOUSAND and group < TEN:
        hundreds = _hundreds_unsaid(tokens, end)
        if hundreds is not None:
            group, end = group * 100 + hundreds[0], hundreds[1]
    if group >= scale:
        return None
    return group, end


def _hundreds_unsaid(tokens: list[Token], at: int) -> tuple[int, int] | None:
    """The `fifty` of `eight thousand four fifty`: tens behind hundreds whose name was not said."""
    if at >= len(tokens) or glued(tokens, at):
        return None
    token = tokens[at]
    if token.kind == "number":
        value, end = (
            (int(token.value), at + 1) if token.value is not None and token.cat == "whole" else (0, at)
        )
    else:
        small = _small(tokens, at)
        if small is None:
            return None
        value, end, _ = small
    if (
        not TEN <= value < 100
        or _tape_part(tokens, end)
        or (tokens[end : end + 1] and tokens[end].cat == "scale")
    ):
        return None
    return value, end


def _tape_part(tokens: list[Token], at: int) -> bool:
    """Whether a half, quarter, eighth or sixteenth stands at `at`."""
    at = at + 1 if at < len(tokens) and tokens[at].kind == "dash" else at
    if at >= len(tokens):
        return False
    if tokens[at].cat == "no number":
        return False  # a hundred and twenty five half round
    parts = vocabulary().fractions.get(tokens[at].word)
    return parts in TAPE_PARTS and tokens[at].word not in ("eights",)


def _read_places(tokens: list[Token], at: int) -> tuple[str, int, int] | None:
    """The digits after `point`: `oh four`, `5`, `ninety-nine`, `two hundred thirty six`."""
    digits = ""
    here = at
    while here < len(tokens) and len(digits) < MOST_DIGITS:
        token = tokens[here]
        if token.cat in ("digit", "oh") and not (
            token.cat == "oh" and not digits and here + 1 >= len(tokens)
        ):
            digits += str(token.number)
        elif token.word.isdecimal() and token.cat == "whole" and (not digits or len(token.word) == 1):
            digits += "".join(str(int(character)) for character in token.word)
        else:
            break
        here += 1
        if here < len(tokens) and tokens[here].cat == "scale":
            break
    if digits and not (here < len(tokens) and tokens[here].cat in ("scale", "ten", "teen")):
        return digits, here, tokens[here - 1].end
    zeros = 0
    while (
        zeros < MOST_DIGITS
        and at < len(tokens)
        and tokens[at].cat in ("digit", "oh")
        and tokens[at].number == 0
    ):
        zeros, at = zeros + 1, at + 1
    if at < len(tokens) and tokens[at].kind == "word":
        whole = _read_cardinal(tokens, at)
        if whole is not None:
            return "0" * zeros + str(int(whole[0].value)), whole[1], whole[0].end
    if digits:
        return digits, here, tokens[here - 1].end
    return None


def denominator(tokens: list[Token], at: int) -> tuple[int, int, str | None] | None:
    """A fraction's name at `at`: parts, next token, and the word if it was put right."""
    if at < len(tokens) and tokens[at].kind == "dash" and glued(tokens, at):
        at += 1
    if at >= len(tokens):
        return None
    token = tokens[at]
    if token.kind == "number":
        # 3 16ths
        named = (
            token.cat == "whole"
            and token.value in (8, 16, 32, 64)
            and at + 1 < len(tokens)
            and glued(tokens, at + 1)
        )
        if named and tokens[at + 1].word in _FIGURE_ENDS and token.value is not None:
            return int(token.value), at + 2, None
        return None
    if token.kind != "word":
        return None
    words = vocabulary()
    if token.cat == "ten" and token.number:
        after = at + 1
        if after < len(tokens) and tokens[after].kind == "dash":
            after += 1
        if after < len(tokens) and tokens[after].word in words.ordinals:
            return token.number + words.ordinals[tokens[after].word], after + 1, None
        return None
    if token.cat == "digit" and at + 1 < len(tokens) and tokens[at + 1].word == "hundred":
        # one one hundred and fifth: 1/105
        after = _and(tokens, at + 2)
        rank = words.fractions.get(tokens[after].word) if after < len(tokens) else None
        if rank is not None and rank not in TAPE_PARTS:
            return token.number * 100 + rank, after + 1, None
    if token.cat in ("scale", "digit"):
        return None
    parts = words.fractions.get(token.word)
    if parts is None or token.cat == "no number":
        return None
    return parts, at + 1, token.word if token.word in words.small["misread"] else None


def _read_fraction(tokens: list[Token], at: int) -> tuple[Amount, int] | None:
    """A fraction without a whole number: `7/8`, `½`, `seven eighths`, `a quarter`, `half`."""
    token = tokens[at]
    if token.kind == "fraction sign":
        return Amount(_of(token), token.start, token.end, "fraction", fraction=token.value), at + 1
    if token.kind == "number":
        if token.cat == "whole" and at + 2 < len(tokens) and tokens[at + 1].word in ("/", "⁄"):
            over = tokens[at + 2]
            if over.kind == "number" and over.cat == "whole" and over.value and token.value is not None:
                spaced = not glued(tokens, at + 1), not glued(tokens, at + 2)
                pairs = _dashed_number(tokens, at + 3) and (
                    over.value not in TAPE_PARTS or (at > 0 and tokens[at - 1].kind == "dash")
                )  # 42-6/28-3
                if spaced in ((False, False), (True, True)) and not pairs and not _more_slashes(tokens, at):
                    value = token.value / over.value
                    after = at + 3
                    if after < len(tokens) and tokens[after].word in _FIGURE_ENDS and glued(tokens, after):
                        after += 1  # 5/8ths
                    end = tokens[after - 1].end
                    return Amount(value, token.start, end, "fraction", fraction=value), after
        return None
    if token.cat == "part":
        parts = vocabulary().fractions[token.word]
        return Amount(
            Fraction(1, parts), token.start, token.end, "fraction", True, fraction=Fraction(1, parts)
        ), at + 1
    if token.cat == "article":
        after = at + 1
        if after < len(tokens) and tokens[after].kind == "word":
            named = denominator(tokens, after)
            if named is not None and named[1] == after + 3 and named[0] in TAPE_PARTS:
                value = Fraction(1, named[0])  # a thirty-second
                end = tokens[named[1] - 1].end
                return Amount(value, token.start, end, "fraction", True, fraction=value), named[1]
            name = vocabulary().fractions.get(tokens[after].word)
            if name in TAPE_PARTS and tokens[after].cat != "no number":
                value = Fraction(1, name)
                return Amount(
                    value, token.start, tokens[after].end, "fraction", True, fraction=value
                ), after + 1
    return None


def _of(token: Token) -> Fraction:
    return token.value if token.value is not None else Fraction(0)


def _dashed_number(tokens: list[Token], at: int) -> bool:
    """Whether a dash and a number are glued on at `at`."""
    return at + 1 < len(tokens) and tokens[at].kind == "dash" and glued(tokens, at) and glued(tokens, at + 1)


def _more_slashes(tokens: list[Token], at: int) -> bool:
    """Whether `n/d` is part of a date such as 12/5/26."""
    behind = at >= 2 and tokens[at - 1].word == "/" and tokens[at - 2].kind == "number" and glued(tokens, at)
    ahead = (
        at + 4 < len(tokens)
        and tokens[at + 3].word == "/"
        and tokens[at + 4].kind == "number"
        and glued(tokens, at + 3)
    )
    return behind or ahead


def _unnamed_fraction(tokens: list[Token], at: int) -> tuple[Amount, int] | None:
    """`5 8` after `and`: five eighths, as recognisers write it."""
    top = _read_cardinal(tokens, at)
    bottom = _read_cardinal(tokens, top[1]) if top is not None and top[1] < len(tokens) else None
    if top is None or bottom is None or tokens[top[1]].start - tokens[top[1] - 1].end != 1:
        return None
    if not is_unnamed_fraction(top[0], bottom[0]):
        return None
    value, end = top[0].value / bottom[0].value, bottom[0].end
    return Amount(value, top[0].start, end, "fraction", top[0].spoken, fraction=value, unnamed=True), bottom[
        1
    ]


def is_unnamed_fraction(top: Amount, bottom: Amount) -> bool:
    """Whether two whole numbers in a row can be a tape's fraction said without its name: `7 8`, `3 16`."""
    if not (top.is_whole and bottom.is_whole) or bottom.split is not None:
        return False
    return bottom.value in TAPE_PARTS and 0 < top.value < bottom.value and top.value % 2 == 1


def _named_fraction(tokens: list[Token], top: Amount, after: int) -> tuple[Amount, int] | None:
    """`seven eighths`, `3 quarters`: the fraction whose numerator `top` ends before token `after`."""
    if after >= len(tokens) or tokens[after].kind not in ("word", "dash", "number"):
        return None
    if top.shape != "whole" or not top.value:
        return None
    found = denominator(tokens, after)
    if found is None:
        return None
    parts, end, misread = found
    name = tokens[end - 1].word
    if name in _FIGURE_ENDS and top.value >= parts:
        return None
    one = top.value == 1
    # "two third" or "four second" are not fractions, "three quarter inch" and "five eighth" are.
    if not one and not name.endswith("s") and name not in ("half", "halves") and parts not in TAPE_PARTS:
        return None
    if (
        name in ("second", "seconds", "first", "firsts")
        and tokens[end - 2].cat not in ("ten", "dash")
        and (tokens[end - 2].kind != "dash")
    ):
        return None
    value = top.value / parts
    return (
        Amount(value, top.start, tokens[end - 1].end, "fraction", True, fraction=value, misread=misread),
        end,
    )


def _read_rest_of_mixed(tokens: list[Token], at: int) -> tuple[Amount, int] | None:
    """The fraction that follows a whole number: `1/4`, `-1/4`, `½`, `and a half`, `and three eighths`."""
    here = at
    joined = dashed = False
    if here + 1 < len(tokens) and tokens[here].kind == "dash" and tokens[here + 1].cat == "and":
        here += 1  # forty-two-and-a-half
    if here < len(tokens) and tokens[here].kind == "dash":
        here, dashed = here + 1, True
    elif here < len(tokens) and (tokens[here].cat == "and" or tokens[here].word in ("&", "+")):
        here, joined = here + 1, True
        if here < len(tokens) and tokens[here].kind == "dash" and glued(tokens, here):
            here += 1
    if here >= len(tokens):
        return None
    token = tokens[here]
    if joined and token.cat == "article":
        # and a third, and a sixteenth: any fraction name is plain here
        if here + 1 < len(tokens):
            found = denominator(tokens, here + 1)
            if (found is not None and tokens[found[1] - 1].word not in ("second", "first")) or (
                found is not None and found[0] == 32
            ):
                value = Fraction(1, found[0])
                end = tokens[found[1] - 1].end
                return Amount(value, token.start, end, "fraction", True, fraction=value), found[1]
        return None
    if token.cat == "article":
        return None
    part = _read_fraction(tokens, here)
    if part is None:
        top = _read_cardinal(tokens, here)
        part = _named_fraction(tokens, *top) if top is not None else None
    if part is None and joined:
        part = _unnamed_fraction(tokens, here)
    if part is None or not part[0].value < 1:
        return None
    if token.cat == "part" and not joined and not dashed and token.word not in ("half", "halves"):
        return None  # "six quarters" was read as a fraction before; "58 quarter" is no mixed number
    if not joined and part[0].spoken and part[0].value.denominator not in TAPE_PARTS:
        return None
    if token.kind == "number":
        over = tokens[here + 2] if here + 2 < len(tokens) and tokens[here + 1].word in ("/", "⁄") else None
        if over is not None and over.value == 12 and not joined:
            mark = tokens[here + 3] if here + 3 < len(tokens) else None
            if mark is None or not mark.unit:
                return None  # 10 6/12: a pitch stands beside a number
    return part
