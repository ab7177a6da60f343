"""Dates, times of day, spans of time and ranks."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from gutterance.measure.amounts import TAPE_PARTS, Amount
from gutterance.measure.claims import Claim
from gutterance.measure.codes import ORDINAL_ENDS

if TYPE_CHECKING:
    from gutterance.measure.scan import Scan

_DATE_PARTS = 3

_HOURS = 12

_HOUR_FOLLOWERS = frozenset(["so", "and", "or", "if", "but", "because", "tomorrow", "today", "please"])


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
    if scan.glued(at + 1) and scan.word(at + 1) in ORDINAL_ENDS:
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


def ordinal(scan: Scan, at: int, amount: Amount, after: int) -> Claim | None:
    """`1st`, `22nd`."""
    if scan.tokens[at].kind == "number" and scan.word(after) in ORDINAL_ENDS and scan.glued(after):
        return Claim(at, after + 1, "ordinal", amount.value)
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
