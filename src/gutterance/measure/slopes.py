"""Roof pitches, falls and angles: numbers that say how steep or how sharp."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from gutterance.measure.claims import Claim

if TYPE_CHECKING:
    from gutterance.measure.amounts import Amount
    from gutterance.measure.scan import Scan

_MOST_FALL_INCHES, _MOST_FALL_MM = 3, 60

_STEEPEST = 24

_STEEPEST_ROOF = 65
_COMMON_FRACTION = Fraction(45, 2)

_CORNERS = frozenset({45, 135})


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
    degrees = _roof_in_degrees(scan, at, amount, after)
    if degrees is not None:
        return degrees
    if amount.value <= _STEEPEST and scan.unit(after, amount) is None and not scan.is_in(after, "degrees"):
        if scan.word(after) == "pitch":
            return Claim(at, after + 1, "pitch", amount.value)
        said = scan.back(at - 1) in ("pitch", "pitched") or (
            scan.back(at - 1) in ("is", "of", ":", "=", "a") and scan.back(at - 2) == "pitch"
        )
        if said and scan.amount(after) is None:
            return Claim(at, after, "pitch", amount.value)
    return None


def _roof_in_degrees(scan: Scan, at: int, amount: Amount, after: int) -> Claim | None:
    """`pitch 40`, `roof's a twenty two and a half`: a number that no rise in twelve has is an angle."""
    if not _STEEPEST < amount.value <= _STEEPEST_ROOF and amount.value != _COMMON_FRACTION:
        return None
    if amount.shape == "fraction" or scan.unit(after, amount) is not None or scan.is_in(after, "degrees"):
        return None
    if scan.amount(after) is not None or scan.word(after) in ("-", "/"):
        return None
    here = at - 1
    while scan.back(here) in ("is", "a", "at", "of", ":", "=", "about"):
        here -= 1
    word = scan.back(here)
    if word in ("pitch", "pitched") or word in ("roof's", "roofs") or (word == "roof" and here < at - 1):
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
