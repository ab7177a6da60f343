"""Tape language: lengths as crews say and write them, found in a text and settled to exact lengths.

`find_lengths` says what every number in a text is; `settle` says what one of them means as the answer to a
field. What cannot be told for certain carries a doubt; what could sanely be heard otherwise is remembered.
"""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache

from gutterance.measure import qualifiers
from gutterance.measure.amounts import Amount
from gutterance.measure.found import Found
from gutterance.measure.joining import group, is_dash_range, range_end, share_unit
from gutterance.measure.other_numbers import claim
from gutterance.measure.scan import Scan
from gutterance.measure.settling import FieldKind, LengthReading, settle
from gutterance.measure.tokens import tokens_of
from gutterance.measure.vocabulary import vocabulary

__all__ = ["FieldKind", "Found", "LengthReading", "find_lengths", "read_lengths", "settle"]

STRONG = Fraction(1, 32)
"""What `strong` adds and `shy` takes away [in]: common practice, no source."""

TEXTS_REMEMBERED = 4096


def find_lengths(text: str, allow: frozenset[str] = frozenset()) -> list[Found]:
    """Every numeric thing in a text, in order; together they cover every numeral of it.

    `allow` names homophones (`to`, `for`, `ate`) that are to be read as numbers here. Time grows in
    proportion to the length of the text.

    >>> [(found.text, found.kind, found.what) for found in find_lengths("front 58' 6, drop 2x3 at 24")]
    [("58' 6", 'length', None), ('2x3', 'other', 'material size'), ('24', 'bare', None)]
    """
    return list(_found_in(text, allow))


@lru_cache(maxsize=TEXTS_REMEMBERED)
def _found_in(text: str, allow: frozenset[str]) -> tuple[Found, ...]:
    """What a text holds, remembered: a note is read again with each line that is added to it."""
    tokens = tokens_of(text, allow)
    scan = Scan(text, tokens, vocabulary())
    found: list[Found] = []
    at, count = 0, len(tokens)
    while at < count:
        token = tokens[at]
        if not token.is_numeral and not (token.cat == "article" or token.unit or token.cat == "oh"):
            at += 1
            continue
        if token.is_numeral:
            one, at = _read_one(scan, at)
            found.append(one)
            scan.floor = at
            continue
        opened = _opens_with_words(scan, at)
        if opened is not None:
            one, at = opened
            found.append(one)
            scan.floor = at
            continue
        at += 1
    return tuple(found)


def forget_texts() -> None:
    """Forget what texts held, so that a benchmark can time a note that was never seen."""
    _found_in.cache_clear()


def read_lengths(text: str, field: FieldKind = "none", *, metric: bool = False) -> list[LengthReading]:
    """Every length in a text, each settled as an answer to `field`; what is no length is left out.

    >>> [reading.length.tape_text() for reading in read_lengths("a foot and a half along, 58-6", "run")]
    ['1\\' 6"', '58\\' 6"']
    """
    readings = (settle(found, field, metric=metric) for found in find_lengths(text))
    return [reading for reading in readings if reading is not None]


EVEN = frozenset({"even", "exactly", "exact", "bang"})
"""Words behind a unit by itself that show it to be one of them: `foot even`."""


def _opens_with_words(scan: Scan, at: int) -> tuple[Found, int] | None:
    """A length that starts with no numeral: `a foot and a half`, `an inch`, `a hundred`, `a quarter`."""
    tokens = scan.tokens
    token = tokens[at]
    if token.cat == "article" and at + 1 < len(tokens):
        following = tokens[at + 1]
        if following.unit and len(following.word) > 2:
            amount = Amount(Fraction(1), token.start, token.end, spoken=True)
            return _length(scan, at, amount, at + 1)
        if scan.amount(at) is not None:
            return _read_one(scan, at)
        return None
    if token.word in ("foot", "inch", "metre", "meter") and scan.word(at + 1) in EVEN:
        # `foot even`: one of them, said with its article swallowed; behind a number it is that number's unit
        amount = Amount(Fraction(1), token.start, token.start, spoken=True)
        return _length(scan, at, amount, at)
    if token.unit in ("foot", "inch", "metre") and len(token.word) > 3 and scan.word(at + 1) == "and":
        part = scan.amount(at + 2)
        if part is not None and part[0].shape == "fraction" and tokens[at + 2].cat == "article":
            amount = Amount(Fraction(1), token.start, token.start, spoken=True)
            return _length(scan, at, amount, at)
        return None
    if token.cat == "oh" and at + 1 < len(tokens):
        spoken = scan.amount(at + 1)
        if spoken is not None:
            other = claim(scan, at + 1, *spoken)
            if other is not None and other.first <= at:
                return _other(scan, other.first, other.after, other.what, other.value), other.after
    return None


def _read_one(scan: Scan, at: int) -> tuple[Found, int]:
    read = scan.amount(at)
    if read is None:
        amount = Amount(Fraction(0), scan.tokens[at].start, scan.tokens[at].end)
        other = claim(scan, at, amount, at + 1)
        if other is not None:
            return _other(scan, other.first, other.after, other.what, None), other.after
        return _other(scan, at, at + 1, "code", None), at + 1
    amount, after = read
    other = claim(scan, at, amount, after)
    if other is not None:
        return _other(scan, other.first, other.after, other.what, other.value), other.after
    return _length(scan, at, amount, after)


def _other(scan: Scan, first: int, after: int, what: str, value: Fraction | None) -> Found:
    start, end = scan.tokens[first].start, scan.tokens[after - 1].end
    return Found(start, end, scan.text[start:end], "other", what, value, core=(start, end))


def _length(scan: Scan, at: int, amount: Amount, after: int) -> tuple[Found, int]:
    """The length or bare number that starts at a token, with its range and its qualifiers."""
    amounts, end, counts = group(scan, amount, after)
    plan = _plan_size(scan, at, amounts, end)
    if plan is not None:
        return plan
    tool = _tool(scan, end)
    if tool is not None and amounts[-1].unit is not None:
        return _other(scan, at, tool, "tool size", None), tool
    also: tuple[tuple[Amount, ...], ...] = ()
    doubts: list[str] = []
    second = range_end(scan, at, amounts, end)
    if second is not None:
        more, end, word = second
        amounts, more = share_unit(amounts, more)
        also = (more,)
        doubts.append(f"two values, {word}: which one?")
    elif len(amounts) == 2 and amounts[1].joint == "-" and is_dash_range(amounts):
        first, last = share_unit(amounts[:1], amounts[1:])
        amounts, also = first, (last,)
        doubts.append("two values with a dash between them: which one?")
    if scan.word(end) in ("plus", "minus", "less", "+") and scan.amount(end + 1) is not None:
        doubts.append(f"{scan.word(end)!r} and another number after it: a sum?")
    start, last_token = at, end
    shift, exact, word_said = Fraction(0), False, None
    said = qualifiers.before(scan, at)
    if said is not None:
        start = said.first
    tail = qualifiers.after(scan, end)
    if tail is not None:
        last_token = tail.after
    for one in (said, tail):
        if one is None:
            continue
        kind = one.qualifier.kind
        if kind == "exact":
            exact = True
            continue
        word_said = one.words
        if kind in ("over", "under"):
            shift += STRONG if kind == "over" else -STRONG
        doubts.append(f"{one.words!r}: {one.qualifier.says}")
    if also and amounts and _between(scan, start):
        start -= 1
    tokens = scan.tokens
    core = (amounts[0].start, max(tokens[end - 1].end, amounts[-1].end))
    left = min(tokens[start].start, core[0])
    right = max(tokens[last_token - 1].end, core[1])
    kind_found = "length" if any(one.unit for one in amounts) and not _hangs(amounts) else "bare"
    return (
        Found(
            left,
            right,
            scan.text[left:right],
            kind_found,  # type: ignore[arg-type]
            None,
            amounts[0].value if len(amounts) == 1 and not also else None,
            amounts,
            also,
            tuple(doubts),
            shift,
            word_said,
            exact,
            core,
            counts,
            len(amounts) == 1 and _loose_in(scan, end),
        ),
        last_token,
    )


def _plan_size(scan: Scan, at: int, amounts: tuple[Amount, ...], end: int) -> tuple[Found, int] | None:
    """`42'6" x 28'`: two sides of a thing, neither of them a run on its own."""
    if not scan.is_in(end, "by") or amounts[0].unit is None:
        return None
    read = scan.amount(end + 1)
    if read is None:
        return None
    if scan.glued(end + 1) and not scan.glued(end) and scan.unit(read[1], read[0]) is None:
        return None  # 42'6 x2: two of them
    _, after, _ = group(scan, *read)
    return _other(scan, at, after, "plan size", None), after


def _tool(scan: Scan, end: int) -> int | None:
    """The token after a tool whose size was said: `32 foot ladder`, `40 ft extension ladder`."""
    for here in (scan.skip_dash(end), scan.skip_dash(end) + 1):
        if scan.is_in(here, "tools"):
            return here + 1
        if scan.word(here) in (",", ".", "\n"):
            return None
    return None


def _loose_in(scan: Scan, end: int) -> bool:
    """Whether the unit before token `end` is an `in` with a word after it: `300 in from the left`."""
    following = scan.tokens[end] if end < len(scan.tokens) else None
    loose = scan.word(end - 1) == "in" and not scan.glued(end - 1)
    return loose and following is not None and following.kind == "word" and not following.cat


def _hangs(amounts: tuple[Amount, ...]) -> bool:
    """Whether the first numeral has no unit though the last has: `58 6"`."""
    return amounts[0].unit is None and len(amounts) > 1


def _between(scan: Scan, at: int) -> bool:
    return scan.back(at - 1) in ("between", "from")
