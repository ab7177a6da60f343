"""Words beside a number that say how sure it is: `about 40`, `14 3/4 strong`, `six foot nothing`, `40ish`."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from gutterance.measure.vocabulary import Qualifier

if TYPE_CHECKING:
    from gutterance.measure.scan import Scan
    from gutterance.measure.tokens import Token


@dataclass(frozen=True, slots=True)
class Said:
    """A qualifier as it stands in the text: tokens `first` up to but not including `after`."""

    first: int
    after: int
    qualifier: Qualifier
    words: str


_TILDE = Qualifier("about", "said as about, not as measured", ("~",), frozenset())
_QUERY = Qualifier("about", "written with a question mark", ("?",), frozenset())
_PLUS = Qualifier("about", "written with a plus: at least, not as measured", ("+",), frozenset())
_TOLERANCE = Qualifier("about", "written with plus or minus", ("±",), frozenset())
_TOLERANCES = (("give", "or", "take"), ("plus", "or", "minus"))


def before(scan: Scan, at: int) -> Said | None:
    """The qualifier that ends just before token `at`, not reaching over what is already taken."""
    tokens = scan.tokens
    here = at - 1
    while here >= scan.floor and (tokens[here].cat == "filler" or tokens[here].word in (",", ":")):
        if tokens[here].word == "\n":
            return None
        here -= 1
    # the article of "about a foot" belongs to the number, "a strong 14" to the qualifier
    if here < scan.floor:
        return None
    word = tokens[here].word
    if word == "~" and here and tokens[here - 1].word == "~":
        return None  # ~~struck through~~
    if word in ("~", "≈", "±", "∼", "〜"):
        return Said(here, at, _TILDE, word)
    if word == "." and here > scan.floor and tokens[here - 1].word in ("approx", "ca", "est", "c"):
        return Said(here - 1, at, _TILDE, tokens[here - 1].word)
    for qualifier in scan.words.before.get(word, ()):
        first = here - len(qualifier.words) + 1
        if first >= scan.floor and all(
            tokens[first + step].word == wanted for step, wanted in enumerate(qualifier.words)
        ):
            return Said(first, at, qualifier, " ".join(qualifier.words))
    return None


def after(scan: Scan, at: int) -> Said | None:
    """The qualifier that starts at token `at`, just after a number."""
    tokens = scan.tokens
    if at >= len(tokens):
        return None
    here = at
    if tokens[here].kind == "mark" and tokens[here].word in "\"'”’" and at + 1 < len(tokens):
        here = at = at + 1  # "42" I think
    word = tokens[here].word
    if word == "?":
        return Said(at, at + 1, _QUERY, "?")
    if word == "(" and scan.word(at + 1) == "?" and scan.word(at + 2) == ")":
        return Said(at, at + 3, _QUERY, "?")
    if word == "+" and scan.glued(at) and not _numeral(tokens, at + 1):
        return Said(at, at + 1, _PLUS, "+")
    if word in ("±", "+") and (word == "±" or scan.word(at + 1) == "/"):
        end = at + 1 if word == "±" else at + 2
        end = scan.skip_dash(end) if word == "+" else end
        amount = scan.amount(end)
        if amount is not None:
            unit = scan.unit(amount[1], amount[0])
            return Said(at, unit[1] if unit else amount[1], _TOLERANCE, "±")
        return Said(at, end, _TOLERANCE, "±")
    if word == "(":
        inner = after(scan, at + 1) if scan.word(at + 1) != "(" else None
        closed = inner is not None and scan.word(inner.after) == ")"
        return (
            Said(at, inner.after + 1, inner.qualifier, inner.words) if inner is not None and closed else None
        )
    comma = word == ","
    if comma or tokens[here].kind == "dash" or tokens[here].cat == "filler":
        here += 1
        if here >= len(tokens):
            return None
        word = tokens[here].word
    for qualifier in scan.words.after.get(word, ()):
        end = here + len(qualifier.words)
        if end > len(tokens) or not all(
            tokens[here + step].word == wanted for step, wanted in enumerate(qualifier.words)
        ):
            continue
        if comma and qualifier.kind != "about":
            continue
        if end < len(tokens) and tokens[end].word in qualifier.not_before:
            continue
        tolerance = qualifier.words in _TOLERANCES
        if word in scan.words.before and not tolerance and _numeral_ahead(tokens, end):
            continue  # "58 about 24": about belongs to the 24
        if tolerance:
            end = _give_or_take(scan, end)
        return Said(at, end, qualifier, " ".join(qualifier.words))
    return None


def _numeral(tokens: list[Token], at: int) -> bool:
    return at < len(tokens) and tokens[at].is_numeral


def _numeral_ahead(tokens: list[Token], at: int) -> bool:
    while at < len(tokens) and tokens[at].cat in ("filler", "article"):
        at += 1
    return at < len(tokens) and (tokens[at].is_numeral or bool(tokens[at].unit))


def _give_or_take(scan: Scan, at: int) -> int:
    amount = scan.amount(at)
    if amount is not None:
        unit = scan.unit(amount[1], amount[0])
        return unit[1] if unit else amount[1] if amount[0].value < 1 else at
    if at + 1 < len(scan.tokens) and scan.tokens[at].cat == "article" and scan.tokens[at + 1].unit:
        return at + 2
    return at
