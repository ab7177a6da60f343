"""Numbers that name something: gate codes, phone numbers, house numbers, pages, list marks."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from gutterance.measure.claims import Claim

if TYPE_CHECKING:
    from gutterance.measure.amounts import Amount
    from gutterance.measure.scan import Scan

_CODE_DIGITS = 4

_SHORTEST_PHONE = 5

_SMALL_WORDS = frozenset({"is", "it's", "its", "it", "was", "to", "of", "for", "on", "the", "a", "gate"})
_SMALL_WORDS |= frozenset({"door", "side", "no", ".", ":", "#", "number", "=", "that's", "gate's", "door's"})

_MOST_LABEL = 99

_TRADE = (
    "counted",
    "adjectives",
    "label_before",
    "corner_before",
    "profiles",
    "pipes",
    "pipe_names",
    "people",
)

ORDINAL_ENDS = ("st", "nd", "rd", "th")


def code(scan: Scan, at: int, amount: Amount, after: int) -> Claim | None:
    """`R2D2`, `4471#`, `code 4471`, `№ ①`: letters and digits run together, or after a code word."""
    tokens = scan.tokens
    token = tokens[at]
    if token.kind == "symbol" or token.cat == "long":
        return Claim(at, at + 1, "code")
    if token.kind != "number":
        return None
    if at > scan.floor and scan.glued(at) and tokens[at - 1].kind == "word":
        letters = tokens[at - 1].word
        if letters == "x":
            return Claim(at - 1, after, "count", amount.value)
        if len(letters) <= 2 and not tokens[at - 1].unit and not _is_measured(scan, after):
            return Claim(at - 1, _glued_end(scan, after), "code")
    if token.cat == "whole" and after < len(tokens) and scan.glued(after):
        follower = tokens[after]
        known = (
            follower.unit
            or follower.word in ORDINAL_ENDS
            or follower.word in scan.words.after
            or any(
                follower.word in scan.words.other[g]
                for g in ("by", "clock", "durations", "profiles", "gauge")
            )
            or any(
                follower.word in scan.words.other[g]
                for g in ("areas", "others", "degrees", "rates", "counted")
            )
            or follower.word in ("pc", "pcs", "no", "ga", "off", "ea", "a", "p")
        )
        if (
            follower.kind == "word"
            and not known
            and (len(follower.word) <= 2 or (scan.glued(after + 1) and tokens[after + 1].kind == "number"))
        ):
            return Claim(at, _glued_end(scan, after), "code")
        if (
            follower.unit
            and scan.glued(after + 1)
            and tokens[after + 1].kind == "number"
            and len(token.word) > 3
        ):
            return Claim(at, _glued_end(scan, after), "code")
        if follower.word == "#":
            return Claim(at, after + 1, "code")
    if (
        token.cat == "whole"
        and scan.unit(after, amount) is None
        and _code_said_before(scan, at, len(token.word))
    ):
        return Claim(at, _glued_end(scan, after), "code")
    return None


def _code_said_before(scan: Scan, at: int, figures: int = _CODE_DIGITS) -> bool:
    """Whether a code word stands just before, with only small words between: `code on the gate is`."""
    for step in range(1, 6):
        word = scan.back(at - step)
        if word in scan.words.other["code"]:
            return figures >= _CODE_DIGITS - 1 or word == "code"
        if word not in _SMALL_WORDS:
            return False
    return False


def _is_measured(scan: Scan, after: int) -> bool:
    """Whether a length goes on after a number that is glued to a letter: `F42-6`, `R28'3`."""
    if after + 1 >= len(scan.tokens) or not scan.glued(after):
        return False
    follower = scan.tokens[after]
    dashed = follower.kind == "dash" and scan.glued(after + 1) and scan.tokens[after + 1].is_numeral
    return dashed or follower.kind == "mark"


def _glued_end(scan: Scan, after: int) -> int:
    while after < len(scan.tokens) and scan.glued(after) and scan.tokens[after].kind in ("word", "number"):
        after += 1
    if scan.word(after) == "#" and scan.glued(after):
        after += 1
    return after


_PHONE = re.compile(r"\(?\+?\d(?:[ ()./-]{0,2}\d){6,19}")

_PHONE_SHAPE = re.compile(r"(?:\+?1[ .-])?\(?\d{3}\)?[ .-]?\d{3}[ .-]?\d{4}|\d{3}-\d{4}|\d{3} 0\d{3}|\d{7,}")


def phone(scan: Scan, at: int, amount: Amount, after: int) -> Claim | None:
    """`555-0142`, `07700 900123`, `ring 01632 960 001`, `(555) 010-4477`; spoken digit by digit too."""
    del amount, after
    tokens = scan.tokens
    token = tokens[at]
    if token.kind == "number" and token.cat == "whole":
        start = token.start
        if scan.back(at - 1) in ("+", "("):
            start = tokens[at - 1].start
        window = scan.text[start : start + 40]
        match = _PHONE.match(window)
        if match is not None:
            digits = sum(character.isdigit() for character in match.group())
            end = at
            while end < len(tokens) and tokens[end].end <= start + match.end():
                end += 1
            called = _called(scan, at) and re.search(r"\d{3}", match.group()) is not None
            lead = (token.word.startswith("0") and len(token.word) >= 3) or window[0] == "+"
            shaped = _PHONE_SHAPE.fullmatch(match.group()) is not None
            thousands = token.word.count(",") or (match.group().count(" ") and _thousands(match.group()))
            if (
                end > at
                and digits >= 7
                and (called or lead or (shaped and not thousands))
                and scan.unit(end) is None
            ):
                return Claim(at - (start < token.start), end, "phone")
        if len(token.word) >= _SHORTEST_PHONE and _called(scan, at):
            return Claim(at, at + 1, "phone")
    grouped = _spoken_groups(scan, at)
    if grouped is not None:
        return Claim(at - (at > scan.floor and tokens[at - 1].cat == "oh"), grouped, "phone")
    end, count = at, 0
    while end < len(tokens) and (
        tokens[end].cat in ("digit", "oh") or (tokens[end].kind == "number" and len(tokens[end].word) == 1)
    ):
        if count and tokens[end].start - tokens[end - 1].end != 1:
            break
        end, count = end + 1, count + 1
    if count < _CODE_DIGITS:
        return None
    if count >= 7 or (count >= _SHORTEST_PHONE and _called(scan, at)):
        return Claim(at, end, "phone")
    alone = not (at and tokens[at - 1].is_numeral and token.start - tokens[at - 1].end == 1)
    if _code_said_before(scan, at) or (count >= _SHORTEST_PHONE and alone and scan.unit(end) is None):
        return Claim(at, end, "code")
    return None


_FEWEST_FIGURES, _FEWEST_IN_A_GROUP = 7, 3

_REPEATS = {"double": 2, "treble": 3, "triple": 3}


def _spoken_groups(scan: Scan, at: int) -> int | None:
    """Where `oh eight seven, five five five, oh one nine` or `oh four double nine ...` ends, or None."""
    tokens = scan.tokens
    oh_before = at > scan.floor and tokens[at - 1].cat == "oh"
    zero = tokens[at].cat == "oh" or (tokens[at].cat == "digit" and tokens[at].number == 0)
    if not zero and not (oh_before and tokens[at].cat == "digit"):
        return None
    groups, here, repeat = [1 + oh_before], at + 1, 1
    while here < len(tokens):
        token = tokens[here]
        if token.cat in ("digit", "oh"):
            groups[-1] += repeat
            repeat = 1
        elif token.word in _REPEATS:
            repeat = _REPEATS[token.word]
        elif token.word == "," and groups[-1] >= _FEWEST_IN_A_GROUP:
            groups.append(0)
        else:
            break
        here += 1
    if groups[-1] == 0:
        groups.pop()
        here -= 1
    if repeat > 1 or sum(groups) < _FEWEST_FIGURES or min(groups) < _FEWEST_IN_A_GROUP:
        return None
    return here


def _called(scan: Scan, at: int) -> bool:
    """Whether somebody is to be rung, in the few words before."""
    return any(scan.back(at - back) in scan.words.other["phone"] for back in range(1, 6))


def _thousands(text: str) -> bool:
    groups = text.split(" ")
    return len(groups) > 1 and len(groups[0]) <= 3 and all(len(group) == 3 for group in groups[1:])


def label(scan: Scan, at: int, amount: Amount, after: int) -> Claim | None:
    """`1. front`, `2) right` at the start of a line, and `#3`."""
    if not amount.is_whole or scan.tokens[at].kind != "number" or amount.value > _MOST_LABEL:
        return None
    if at > scan.floor and scan.word(at - 1) == "#":
        return Claim(at - 1, after, "label", amount.value)
    paged = scan.back(at - 1) in scan.words.other["page_words"]
    if paged and scan.unit(after, amount) is None and scan.amount(after) is None and scan.word(after) != "-":
        return Claim(at, after, "label", amount.value)
    if scan.back(at - 1) in ("no", "nos") and scan.back(at - 2) in ("to", "at", "of", "by", "outside"):
        return Claim(at, after, "house number", amount.value)
    if scan.back(at - 1) == "of" and scan.back(at - 2) == "crew":
        return Claim(at, after, "count", amount.value)
    starts = at == 0 or scan.word(at - 1) == "\n"
    if starts and scan.word(after) in (".", ")") and scan.glued(after) and not scan.glued(after + 1):
        return Claim(at, after + 1, "label", amount.value)
    return None


def house_number(scan: Scan, at: int, amount: Amount, after: int) -> Claim | None:
    """`14 Quarry Lane` at the start of a line or after `at`, `job`, `address`."""
    if not amount.is_whole or amount.value > 9999:
        return None
    tokens = scan.tokens
    before = tokens[at - 1].word if at else "\n"
    led = before in ("\n", "#", ":", ",") or before in scan.words.other["address_before"]
    for steps in (1, 2, 3):
        here = after + steps
        if here >= len(tokens) or tokens[here - 1].kind != "word" or tokens[here].kind != "word":
            return None
        street = tokens[here - 1]
        if street.cat or (street.unit and street.word != "mill") or scan.is_in(here - 1, "adjectives"):
            return None
        named = scan.text[street.start].isupper() and scan.text[tokens[here].start].isupper()
        alone = steps == 1 and named and before in ("\n", ":") and scan.word(here + 1) in ("", "\n")
        if alone and any(
            tokens[one].word in scan.words.other[group] for one in (here - 1, here) for group in _TRADE
        ):
            return None
        if (scan.is_in(here, "address") and (led or named)) or alone:
            return Claim(at, after, "house number", amount.value)
    return None
