"""Numbers that are surely no lengths: each rule looks at one numeral and its neighbours.

A rule takes the scan, the token where a numeral starts, the numeral and the token after it, and answers
with what the number is and which tokens it takes, or None. The first rule that answers wins.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction

from gutterance.measure.numerals import TAPE_PARTS, Amount
from gutterance.measure.scan import Scan


@dataclass(frozen=True, slots=True)
class Claim:
    """Tokens `first` up to but not including `after` are a number of kind `what`."""

    first: int
    after: int
    what: str
    value: Fraction | None = None


Rule = Callable[[Scan, int, Amount, int], Claim | None]
_DATE_PARTS = 3
_CODE_DIGITS = 4
_SHORTEST_PHONE = 5
_HOURS = 12
_HOUR_FOLLOWERS = frozenset(["so", "and", "or", "if", "but", "because", "tomorrow", "today", "please"])
_SMALL_WORDS = frozenset({"is", "it's", "its", "it", "was", "to", "of", "for", "on", "the", "a", "gate"})
_SMALL_WORDS |= frozenset({"door", "side", "no", ".", ":", "#", "number", "=", "that's", "gate's", "door's"})
_MOST_FALL_INCHES, _MOST_FALL_MM = 3, 60
_MOST_LABEL = 99
_LEAST_PRICE, _TEENS = 200, 10
_MOST_PIECES = 12
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
_STEEPEST = 24
_CORNERS = frozenset({45, 135})
_ORDINAL_ENDS = ("st", "nd", "rd", "th")


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
        if len(letters) <= 2 and not tokens[at - 1].unit:
            return Claim(at - 1, _glued_end(scan, after), "code")
    if token.cat == "whole" and after < len(tokens) and scan.glued(after):
        follower = tokens[after]
        known = (
            follower.unit
            or follower.word in _ORDINAL_ENDS
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


def _glued_end(scan: Scan, after: int) -> int:
    while after < len(scan.tokens) and scan.glued(after) and scan.tokens[after].kind in ("word", "number"):
        after += 1
    if scan.word(after) == "#" and scan.glued(after):
        after += 1
    return after


def date(scan: Scan, at: int, amount: Amount, after: int) -> Claim | None:
    """`12/5`, `12/5/26`, `2026-11-25`, `25.11.2026`, `May 5th`, `5 May 2026`."""
    tokens = scan.tokens
    if tokens[at].kind != "number":
        return None
    months = scan.words.other["months"]
    day = _day_end(scan, at)
    if day is not None:
        behind = scan.back(at - 1)
        if behind == "of" or behind == ".":
            behind = scan.back(at - 2)
        if behind in months and (behind not in ("may", "march", "mar") or _sure_month(scan, at, day)):
            year = _year_end(scan, day)
            return Claim(at - 1, year, "date")
        following = day + 1 if scan.word(day) == "of" else day
        if (scan.is_in(following, "months") and scan.word(following) != "may") or (
            scan.word(following) == "may" and scan.text[tokens[following].start] == "M"
        ):
            return Claim(at, _year_end(scan, following + 1), "date")
    if not scan.glued(at + 1):
        return None
    parts = [at]
    here = at + 1
    sign = scan.word(here)
    while (
        len(parts) <= _DATE_PARTS
        and sign in ("/", "-", ".")
        and scan.word(here) == sign
        and scan.glued(here)
        and scan.glued(here + 1)
    ):
        if here + 1 >= len(tokens) or tokens[here + 1].kind != "number" or tokens[here + 1].cat != "whole":
            break
        parts.append(here + 1)
        here += 2
    values = [tokens[part].value or Fraction(0) for part in parts]
    words = [tokens[part].word for part in parts]
    if len(parts) == 3:
        year_first = len(words[0]) == 4 and values[0] >= 1900
        year_last = len(words[2]) in (2, 4) and (sign != "-" or len(words[2]) == 4 or values[1] > 11)
        if (year_first and values[1] <= 12 and values[2] <= 31) or (
            year_last and 1 <= values[0] <= 31 and 1 <= values[1] <= 31 and sign != "-"
        ):
            return Claim(at, here, "date")
        if sign == "-" and year_last and values[0] <= 31 and values[1] <= 12:
            return Claim(at, here, "date")
    if len(parts) >= 2 and sign == "/" and len(parts) != 2:
        return Claim(at, here, "date" if len(parts) == 3 else "code")
    if amount.shape == "fraction" and tokens[at + 1].word in ("/", "⁄"):
        over = tokens[at + 2].value or Fraction(1)
        top = tokens[at].value or Fraction(0)
        if over == 12 or (over in TAPE_PARTS and top < over) or scan.unit(after, amount):
            return None
        if top > over and top <= 31 and over <= 31:
            return Claim(at, after, "date")
    return None


def _day_end(scan: Scan, at: int) -> int | None:
    token = scan.tokens[at]
    if token.cat != "whole" or not token.value or token.value > 31:
        return None
    if scan.glued(at + 1) and scan.word(at + 1) in _ORDINAL_ENDS:
        return at + 2
    return at + 1


def _sure_month(scan: Scan, at: int, day: int) -> bool:
    return day > at + 1 or (scan.text[scan.tokens[at - 1].start].isupper() and scan.word(at - 1) != "may")


def _year_end(scan: Scan, at: int) -> int:
    here = at + 1 if scan.word(at) == "," else at
    if here < len(scan.tokens):
        token = scan.tokens[here]
        if token.kind == "number" and token.cat == "whole" and token.value and 1900 <= token.value <= 2100:
            return here + 1
    return at


def time(scan: Scan, at: int, amount: Amount, after: int) -> Claim | None:
    """`10:30`, `9am`, `9 a.m.`, `2.17pm`, `2 o'clock`, `half past two`, `quarter to three`."""
    tokens = scan.tokens
    if (
        scan.word(after) == ":"
        and scan.glued(after)
        and after + 1 < len(tokens)
        and tokens[after + 1].kind == "number"
        and scan.glued(after + 1)
    ):
        minutes = tokens[after + 1]
        if (
            len(minutes.word) == 2
            and amount.value < 24
            and not (minutes.value == 12 and amount.value <= 12 and not _clock_end(scan, after + 2))
        ):
            end = after + 2
            while scan.word(end) == ":" and scan.glued(end) and scan.glued(end + 1) and end + 1 < len(tokens):
                end += 2
            return Claim(at, _clock_end(scan, end) or end, "time")
    if amount.is_whole or amount.shape == "decimal":
        clock = _clock_end(scan, after)
        if clock is not None:
            return Claim(at, clock, "time")
        second = scan.amount(after)
        if second is not None and second[0].is_whole and amount.value <= 12 and second[0].value < 60:
            clock = _clock_end(scan, second[1])
            if clock is not None:
                return Claim(at, clock, "time")
    word = scan.word(after)
    if (
        word in scan.words.other["past"]
        and (amount.shape == "fraction" or (amount.is_whole and amount.value in (5, 10, 20, 25)))
    ) or (word == "to" and amount.value == Fraction(1, 4)):
        hour = scan.amount(after + 1)
        if hour is not None and hour[0].is_whole and 1 <= hour[0].value <= 12:
            clock = _clock_end(scan, hour[1])
            if scan.unit(hour[1]) is None and (
                clock or scan.word(after) == "past" or amount.value == Fraction(1, 4)
            ):
                return Claim(at, clock or hour[1], "time")
    return None


def hour(scan: Scan, at: int, amount: Amount, after: int) -> Claim | None:
    """`after 3`, `till 4 30`, `half 8`: a plain hour after a word of time."""
    if amount.shape == "fraction" and scan.word(at) == "half":
        hours = scan.amount(after)
        if hours is None or scan.glued(after) or not hours[0].is_whole or not 1 <= hours[0].value <= _HOURS:
            return None
        return Claim(at, hours[1], "time") if scan.unit(hours[1]) is None else None
    if not amount.is_whole or scan.back(at - 1) not in scan.words.other["hour_before"]:
        return None
    if not 1 <= amount.value <= _HOURS or scan.unit(after, amount) is not None:
        return None
    minutes = scan.amount(after)
    if minutes is None:
        ends = (
            after >= len(scan.tokens)
            or scan.tokens[after].kind != "word"
            or scan.word(after) in _HOUR_FOLLOWERS
        )
        return Claim(at, after, "time") if ends and scan.word(after) not in ("-", "'", ":", "/") else None
    if minutes[0].is_whole and minutes[0].value in (15, 30, 45) and scan.unit(minutes[1]) is None:
        return Claim(at, minutes[1], "time")
    return None


def _clock_end(scan: Scan, at: int) -> int | None:
    if scan.is_in(at, "clock"):
        return at + 1
    if (
        scan.word(at) in ("a", "p")
        and scan.word(at + 1) == "."
        and scan.word(at + 2) == "m"
        and scan.glued(at + 1)
    ):
        return at + 4 if scan.word(at + 3) == "." else at + 3
    if scan.word(at) == "o" and scan.word(at + 1) == "clock":
        return at + 2
    return None


_PHONE = re.compile(r"\(?\+?\d(?:[ ()./-]{0,2}\d){6,19}")
_PHONE_SHAPE = re.compile(r"\(?\d{3}\)?[ .-]?\d{3}[ .-]?\d{4}|\d{3}-\d{4}|\d{3} 0\d{3}|\d{7,}")


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


def _called(scan: Scan, at: int) -> bool:
    """Whether somebody is to be rung, in the few words before."""
    return any(scan.back(at - back) in scan.words.other["phone"] for back in range(1, 6))


def _thousands(text: str) -> bool:
    groups = text.split(" ")
    return len(groups) > 1 and len(groups[0]) <= 3 and all(len(group) == 3 for group in groups[1:])


def price(scan: Scan, at: int, amount: Amount, after: int) -> Claim | None:
    """`$45`, `45 dollars`, `£12.50 a metre`, `45 bucks a foot`."""
    first = at
    found = False
    if at > scan.floor and scan.is_in(at - 1, "money_before"):
        first, found = at - 1, True
    if scan.word(after) == "k" and found and scan.glued(after):
        after += 1
    if scan.is_in(after, "money_after") or scan.is_in(after, "money_before"):
        after, found = after + 1, True
    if not found:
        end = _spoken_price_end(scan, at, amount, after)
        if end is None:
            return None
        after = end
    if (
        scan.word(after) in scan.words.other["per"]
        and after + 1 < len(scan.tokens)
        and scan.tokens[after + 1].unit
    ) or (scan.word(after) == "/" and after + 1 < len(scan.tokens) and scan.tokens[after + 1].unit):
        after += 2
    return Claim(first, after, "price", amount.value)


def _spoken_price_end(scan: Scan, at: int, amount: Amount, after: int) -> int | None:
    """Where the price of `quoted eighteen fifty`, `budget 2k`, `six fifty was the price` ends."""
    thousands = scan.word(after) == "k" and scan.glued(after)
    more = scan.amount(after) if amount.spoken and not thousands else None
    two = more is not None and more[0].value >= _TEENS
    if not (two or thousands or amount.value >= _LEAST_PRICE):
        return None
    end = after + 1 if thousands else more[1] if two and more is not None else after
    named_after = scan.word(end) in ("is", "was") and scan.is_in(end + 2, "money_words")
    if not named_after and not any(scan.is_in(at - step, "money_words") for step in (1, 2, 3)):
        return None
    return end if scan.unit(end) is None else None


def ordinal(scan: Scan, at: int, amount: Amount, after: int) -> Claim | None:
    """`1st`, `22nd`."""
    if scan.tokens[at].kind == "number" and scan.word(after) in _ORDINAL_ENDS and scan.glued(after):
        return Claim(at, after + 1, "ordinal", amount.value)
    return None


def percent(scan: Scan, at: int, amount: Amount, after: int) -> Claim | None:
    """`10%`, `ten percent`, `ten per cent`."""
    if scan.is_in(after, "percent"):
        return Claim(at, after + 1, "percent", amount.value)
    if scan.word(after) == "per" and scan.word(after + 1) == "cent":
        return Claim(at, after + 2, "percent", amount.value)
    return None


def material_size(scan: Scan, at: int, amount: Amount, after: int) -> Claim | None:
    """`2x3`, `3" x 4"`, `two by three`, `100 x 75 mm`; `40 x 28` is a plan size, `2x` a count."""
    unit = scan.unit(after, amount)
    by = unit[1] if unit else after
    if amount.shape == "fraction" and amount.value in (Fraction(2, 3), Fraction(3, 4)) and unit is None:
        # 3/4 downspouts: a slash for the x
        return Claim(at, after, "material size") if scan.is_in(after, "pipe_names") else None
    if not scan.is_in(by, "by"):
        return None
    second = scan.amount(by + 1)
    if second is None:
        if scan.word(by) == "x" and not unit and amount.is_whole and scan.glued(by):
            return Claim(at, by + 1, "count", amount.value)
        return None
    end = second[1]
    unit2 = scan.unit(end, second[0])
    end = unit2[1] if unit2 else end
    if scan.is_in(end, "by"):
        third = scan.amount(end + 1)
        if third is not None:
            unit3 = scan.unit(third[1], third[0])
            end = unit3[1] if unit3 else third[1]
    return Claim(at, end, _size_kind(amount.value, second[0].value, unit, unit2))


def _size_kind(a: Fraction, b: Fraction, unit: tuple[str, int] | None, unit2: tuple[str, int] | None) -> str:
    said = (unit or unit2 or ("", 0))[0]
    if said in ("foot", "metre", "yard"):
        return "plan size"
    if max(a, b) <= 12 or (
        said != "inch" and min(a, b) >= 40 and max(a, b) <= 300 and (said or min(a, b) >= 50)
    ):
        return "material size"
    return "plan size"


def pitch(scan: Scan, at: int, amount: Amount, after: int) -> Claim | None:
    """`6/12`, `6:12`, `6 in 12`, `6-12 pitch`, `six twelve pitch`, `26 degree pitch`, `1 in 40`."""
    tokens = scan.tokens
    slashed = amount.shape == "fraction" and tokens[at].kind == "number" and scan.word(at + 1) in ("/", "⁄")
    if slashed and tokens[at + 2].value == 12:
        if scan.unit(after, amount) is None and (tokens[at].value or 0) <= 24:
            return Claim(at, _pitch_end(scan, after), "pitch")
        return None
    sign = scan.word(after)
    if sign in ("/", "⁄", ":", "in", "on", "over", "-", "and") or (sign and amount.value <= 24):
        here = after + 1 if sign in ("/", "⁄", ":", "in", "on", "over", "-") else after
        second = scan.amount(here)
        if second is not None and second[0].is_whole:
            over, end = second
            named = scan.is_in(end, "pitch") or scan.back(at - 1) in ("pitch", "pitched")
            bare_end = scan.unit(end, over) is None
            if (
                over.value == 12
                and amount.value <= 24
                and bare_end
                and (sign in ("/", "⁄", "in", "on", "over") or named or (sign == ":" and scan.glued(after)))
            ):
                return Claim(at, _pitch_end(scan, end), "pitch")
            if sign == "in" and amount.value == 1 and over.value >= 12 and bare_end:
                return Claim(at, _pitch_end(scan, end), "pitch")
    if scan.is_in(after, "degrees") and scan.is_in(after + 1, "pitch"):
        return Claim(at, after + 2, "pitch", amount.value)
    if amount.value <= _STEEPEST and scan.unit(after, amount) is None and not scan.is_in(after, "degrees"):
        if scan.word(after) == "pitch":
            return Claim(at, after + 1, "pitch", amount.value)
        said = scan.back(at - 1) in ("pitch", "pitched") or (
            scan.back(at - 1) in ("is", "of", ":", "=", "a") and scan.back(at - 2) == "pitch"
        )
        if said and scan.amount(after) is None:
            return Claim(at, after, "pitch", amount.value)
    return None


def fall(scan: Scan, at: int, amount: Amount, after: int) -> Claim | None:
    """`1/4" per 10 ft`, `quarter inch in ten foot`, `5 mm per metre`: a fall, not two lengths."""
    unit = scan.unit(after, amount)
    here = unit[1] if unit else after
    if unit is not None and unit[0] not in ("inch", "millimetre"):
        return None
    if amount.value >= (_MOST_FALL_MM if unit is not None and unit[0] == "millimetre" else _MOST_FALL_INCHES):
        return None
    word = scan.word(here)
    if word in ("in", "to", "over") and unit is not None:
        over = scan.amount(here + 1)
        if over is None:
            return None
    elif word in scan.words.other["fall_per"] or word == "/":
        over = scan.amount(here + 1)
    else:
        return None
    end = over[1] if over is not None else here + 1
    along = scan.unit(end, over[0] if over is not None else None)
    if along is None or along[0] not in ("foot", "metre") or (word in ("a", "the", "each") and unit is None):
        return None
    return Claim(at, along[1], "fall", amount.value)


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


def _pitch_end(scan: Scan, after: int) -> int:
    return after + 1 if scan.is_in(after, "pitch") and scan.word(after) != "roof" else after


def angle(scan: Scan, at: int, amount: Amount, after: int) -> Claim | None:
    """`90°`, `45 degrees`; `20 °C` and `20 degrees C` are temperatures, a quantity."""
    if not scan.is_in(after, "degrees"):
        # outside 45, a forty-five, 45s; but "45 outside" may be a run of 45 ft
        corner = amount.is_whole and amount.value in _CORNERS and scan.unit(after, amount) is None
        plural = scan.word(after) == "s" and scan.glued(after)
        corner = corner and scan.amount(after) is None and scan.word(after) != "-"
        if corner and (plural or scan.back(at - 1) in scan.words.other["corner_before"]):
            return Claim(at, after + plural, "angle", amount.value)
        return None
    if any(scan.back(at - step) in ("pitch", "pitched") for step in (1, 2, 3)):
        return Claim(at, after + 1, "pitch", amount.value)
    if scan.is_in(after + 1, "temperatures"):
        return Claim(at, after + 2, "quantity", amount.value)
    return Claim(at, after + 1, "angle", amount.value)


def thickness(scan: Scan, at: int, amount: Amount, after: int) -> Claim | None:
    """`.032`, `0.027"`, `26 gauge`, `26 ga`, `0.7 mm aluminium`, `oh three two`, `32 thou`."""
    tokens = scan.tokens
    unit = scan.unit(after, amount)
    end = unit[1] if unit else after
    if scan.is_in(after, "gauge"):
        return Claim(at, after + 1, "thickness", amount.value)
    if scan.skip_dash(after) > after and scan.is_in(after + 1, "gauge"):
        return Claim(at, after + 2, "thickness", amount.value)
    if scan.word(after) in ("thou", "thousandths", "thousands") and amount.value < 100:
        return Claim(at, after + 1, "thickness", amount.value)
    token = tokens[at]
    small = (
        token.kind == "number"
        and token.cat == "decimal"
        and amount.value < Fraction(1, 10)
        and amount.value > 0
    )
    if small and (unit is None or unit[0] == "inch") and len(token.word.partition(".")[2]) >= 3:
        return Claim(at, _material_end(scan, end), "thickness", amount.value)
    if (
        unit
        and unit[0] == "millimetre"
        and amount.value < 3
        and (scan.is_in(end, "material") or scan.back(at - 1) in scan.words.other["material"])
    ):
        return Claim(at, _material_end(scan, end), "thickness", amount.value)
    if unit is None and amount.shape == "decimal" and amount.value < 3 and scan.is_in(end, "material"):
        return Claim(at, _material_end(scan, end), "thickness", amount.value)
    # oh three two, oh two seven: spoken thousandths
    first = at
    if at > scan.floor and tokens[at - 1].cat == "oh":
        first = at - 1
        if first > scan.floor and tokens[first - 1].cat == "point":
            first -= 1
        digits: list[int] = []
        here = at
        while here < len(tokens) and tokens[here].cat == "digit" and len(digits) < 3:
            digits.append(tokens[here].number)
            here += 1
        whole = amount.value if amount.spoken and 10 <= amount.value < 100 and amount.is_whole else None
        before = tokens[first - 1] if first > scan.floor else None
        alone = before is None or not before.is_numeral
        if (
            alone
            and (len(digits) == 2 or whole is not None)
            and scan.unit(here if len(digits) == 2 else after) is None
        ):
            thou = (
                Fraction(digits[0] * 10 + digits[1], 1000)
                if len(digits) == 2
                else (whole or Fraction(0)) / 1000
            )
            return Claim(first, here if len(digits) == 2 else after, "thickness", thou)
    return None


def _material_end(scan: Scan, at: int) -> int:
    return at + 1 if scan.is_in(at, "gauge") or scan.word(at) == "thick" else at


def gutter_size(scan: Scan, at: int, amount: Amount, after: int) -> Claim | None:
    """`5 inch K`, `5" K-style`, `6 inch half round`, `5" ogee`, `125 mm half round`; a pipe: `3 in round`."""
    unit = scan.unit(after, amount)
    end = unit[1] if unit else after
    said = unit[0] if unit else None
    value = amount.value
    inches = said == "inch" and 3 <= value <= 12 and amount.shape != "mixed"
    metric = said == "millimetre" and 60 <= value <= 350
    bare = said is None and not unit and (4 <= value <= 8 or 75 <= value <= 350)
    if not (inches or metric or bare):
        return None
    tokens = scan.tokens
    here = scan.skip_dash(end)
    while here < len(tokens) and scan.word(here) in (
        "seamless",
        "aluminium",
        "aluminum",
        "white",
        "steel",
        "copper",
    ):
        if scan.word(here) == "seamless":
            break
        here += 1
    word = scan.word(here)
    two = f"{word} {scan.word(scan.skip_dash(here + 1))}"
    if two in ("half round", "k style", "square line", "d gutter", "half rounds"):
        return Claim(at, scan.skip_dash(here + 1) + 1, "gutter size", value)
    if word in scan.words.other["profiles"]:
        if bare and word not in (
            "k",
            "k-style",
            "kstyle",
            "og",
            "ogee",
            "half-round",
            "quad",
            "deepflow",
            "squareline",
        ):
            return None
        return Claim(at, here + 1, "gutter size", value)
    if (inches or metric) and scan.is_in(here, "pipes") and value != 0:
        small = value <= 6 if inches else value <= 150
        if small and here == scan.skip_dash(end):
            return Claim(at, here + 1, "pipe size", value)
    if (
        not unit
        and scan.is_in(here, "pipes")
        and scan.word(here) == "round"
        and (2 <= value <= 6 or 60 <= value <= 150)
    ):
        return Claim(at, here + 1, "pipe size", value)
    return None


def duration(scan: Scan, at: int, amount: Amount, after: int) -> Claim | None:
    """`2 minutes`, `3 weeks`, `a 20-year-old roof`."""
    here = scan.skip_dash(after)
    if amount.shape == "fraction" and here < len(scan.tokens) and scan.tokens[here].cat == "article":
        here += 1  # half an hour
    if not scan.is_in(here, "durations"):
        return None
    if scan.word(here) == "sec" and scan.word(here + 1) == ".":
        return Claim(at, here + 2, "duration", amount.value)
    return Claim(at, here + 1, "duration", amount.value)


def quantity(scan: Scan, at: int, amount: Amount, after: int) -> Claim | None:
    """`1200 sq ft`, `110 m²`, `4 in/h`, `75 mm per hour`, `30 kg`, `5 gallons`, `3 miles`."""
    tokens = scan.tokens
    here = scan.skip_dash(after)
    if scan.is_in(here, "areas") and scan.word(here) not in ("square",):
        end = here + 1
        if scan.word(end) == ".":
            end += 1
        if end < len(tokens) and tokens[end].unit:
            end += 1
        return Claim(at, end, "quantity", amount.value)
    if scan.word(here) == "square" and here + 1 < len(tokens) and tokens[here + 1].unit:
        return Claim(at, here + 2, "quantity", amount.value)
    if scan.is_in(here, "others"):
        end = here + 1
        if (scan.word(end) in ("per", "an", "a") or scan.word(end) == "/") and scan.is_in(end + 1, "rates"):
            end += 2
        return Claim(at, end, "quantity", amount.value)
    unit = scan.unit(after, amount)
    if unit is None:
        if scan.word(here) == "l" and scan.word(here + 1) == "/":
            return Claim(at, here + 3, "quantity", amount.value)
        return None
    end = unit[1]
    if (
        end < len(tokens)
        and scan.glued(end)
        and tokens[end - 1].kind == "word"
        and (tokens[end].kind == "symbol" or (tokens[end].word in ("2", "3") and not scan.glued(end + 1)))
    ):
        return Claim(at, end + 1, "quantity", amount.value)
    if scan.word(end) in ("squared", "cubed"):
        return Claim(at, end + 1, "quantity", amount.value)
    if scan.word(end) in ("per", "an", "a", "/") and scan.is_in(end + 1, "rates"):
        return Claim(at, end + 2, "quantity", amount.value)
    return None


def count(scan: Scan, at: int, amount: Amount, after: int) -> Claim | None:
    """`x2`, `2x`, `3 no.`, `4 off`, `two of them`, `2 guys`, `two outside corners`, `# 4`."""
    if scan.is_in(after, "storeys"):
        return Claim(at, after + 1, "count", amount.value)
    if not amount.is_whole:
        return None
    if at > scan.floor and scan.is_in(at - 1, "count_before") and scan.word(at - 1) != "number":
        end = after
        return Claim(at - 1, end, "count", amount.value)
    if scan.word(after) == "of" and scan.word(after + 1) in (
        "them",
        "those",
        "these",
        "the",
        "us",
        "each",
        "'em",
        "em",
    ):
        return Claim(at, after + 2 if scan.word(after + 1) != "the" else after + 1, "count", amount.value)
    if scan.is_in(after, "people"):
        return Claim(at, after + 1, "count", amount.value)
    if scan.word(after) in ("off", "no", "nos", "pcs", "pc", "ea") and amount.value <= 60:
        following = scan.word(after + 1)
        if scan.word(after) == "no" and following != ".":
            return None
        if scan.word(after) == "off" and following in (
            "the",
            "of",
            "from",
            "centre",
            "center",
            "a",
            "right",
            "left",
            "wall",
            "corner",
        ):
            return None
        return Claim(at, after + 1, "count", amount.value)
    if counted_end(scan, at, amount, after) is not None or _pieces(scan, amount, after):
        return Claim(at, after, "count", amount.value)
    return None


def _pieces(scan: Scan, amount: Amount, after: int) -> bool:
    """Whether a length of its own follows at once: the 4 of `4 10 foot sticks`."""
    following = scan.amount(after)
    if following is None or amount.value > _MOST_PIECES or not scan.tokens[after].is_numeral:
        return False
    unit = scan.unit(following[1], following[0])
    return unit is not None and unit[0] in ("foot", "metre")


def counted_end(scan: Scan, at: int, amount: Amount, after: int) -> int | None:
    """Where the noun ends that a small number counts (`two outside corners`), or None."""
    if not amount.is_whole or amount.lead_zero or not 0 <= amount.value <= 60 or amount.value == 1:
        return None
    del at
    here = after
    for _ in range(4):
        if here + 2 < len(scan.tokens) and scan.is_in(here + 1, "by") and scan.tokens[here + 2].is_numeral:
            here += 3  # two 2x3 downpipes
        if here >= len(scan.tokens) or scan.tokens[here].kind not in ("word", "dash"):
            return None
        if scan.is_in(here, "counted"):
            return here + 1
        if scan.tokens[here].kind != "dash" and not scan.is_in(here, "adjectives"):
            return None
        here += 1
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


RULES: tuple[Rule, ...] = (
    date,
    time,
    hour,
    phone,
    code,
    price,
    ordinal,
    percent,
    material_size,
    label,
    fall,
    pitch,
    angle,
    thickness,
    gutter_size,
    duration,
    quantity,
    house_number,
    count,
)


def claim(scan: Scan, at: int, amount: Amount, after: int) -> Claim | None:
    """What the numeral at a token surely is instead of a length, or None."""
    for rule in RULES:
        found = rule(scan, at, amount, after)
        if found is not None:
            return found
    return None
