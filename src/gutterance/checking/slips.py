"""How lengths are slipped: the single slips of ear, eye and tape that turn one length into another.

The kinds of slip are common practice, no source, tried in the order listed, likeliest first. Nothing found
here is ever applied by itself.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from gutterance.measure.length import Length

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from fractions import Fraction

    from gutterance.sheet.models import Alternative

FOOT = 12
LONGEST = 10**6
"""Lengths over this [in] are no slip of a wall's length, and are not looked into."""
_TEENS = ("thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen")
_TIES = ("thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")
_WORD = {13 + n: word for n, word in enumerate(_TEENS)} | {30 + 10 * n: word for n, word in enumerate(_TIES)}
_SOUNDS_LIKE = {13 + n: 30 + 10 * n for n in range(7)} | {30 + 10 * n: 13 + n for n in range(7)}


@dataclass(frozen=True, slots=True)
class Slip:
    """What was meant, why it may have been, and how likely that kind of slip is: 0 is the likeliest."""

    meant: Length
    why: str
    rank: int


def likely_slips(length: Length, could_be: Sequence[Alternative[Length]] = ()) -> Iterator[Slip]:
    """Other lengths that one slip would have turned into `length`, likeliest first, each with its reason.

    `could_be` are other values the reader already found in the words.

    >>> slip = next(likely_slips(Length.from_feet(50)))
    >>> slip.meant == Length.from_feet(15), slip.why
    (True, 'fifty heard for fifteen')
    """
    for other in could_be:
        yield Slip(other.value, other.why, 0)
    if length.system == "metric":
        yield from _metric(length)
        return
    feet, inches = divmod(length.inches, FOOT)
    if (meant := _SOUNDS_LIKE.get(int(feet))) is not None:
        yield Slip(Length.from_feet(meant, inches), f"{_WORD[int(feet)]} heard for {_WORD[meant]}", 1)
    for swapped in _swapped(int(feet)):
        yield Slip(Length.from_feet(swapped, inches), f"digits swapped: {int(feet)} for {swapped}", 2)
    for swapped in _swapped(int(inches)) if inches.denominator == 1 else ():
        if swapped < FOOT:
            yield Slip(Length.from_feet(feet, swapped), f"digits swapped: {int(inches)} for {swapped}", 2)
    if 0 < inches < FOOT and feet < FOOT and inches.denominator == 1 and feet != inches:
        yield Slip(Length.from_feet(inches, feet), "feet and inches swapped", 3)
    for off, why, rank in ((1, "one foot off", 4), (10, "ten feet off", 5)):
        yield Slip(Length.from_feet(feet + off, inches), why, rank)
        yield Slip(Length.from_feet(feet - off, inches), why, rank)


def _metric(length: Length) -> Iterator[Slip]:
    mm = length.mm
    if mm.denominator == 1:
        for swapped in _swapped(int(mm)):
            yield Slip(Length.from_mm(swapped), f"digits swapped: {int(mm)} for {swapped}", 2)
    for off, why, rank in (
        (1000, "one metre off", 4),
        (100, "a hundred millimetres off", 4),
        (10000, "ten metres off", 5),
    ):
        yield Slip(Length.from_mm(mm + off), why, rank)
        yield Slip(Length.from_mm(mm - off), why, rank)


def _swapped(number: int) -> Iterator[int]:
    """A number with two neighbouring digits the other way round."""
    digits = str(number)
    for at in range(len(digits) - 1):
        if digits[at] != digits[at + 1] and digits[at + 1] != "0":
            yield int(digits[:at] + digits[at + 1] + digits[at] + digits[at + 2 :])


def slip_to(
    length: Length, wanted: Fraction, tolerance: Fraction, could_be: Sequence[Alternative[Length]] = ()
) -> Slip | None:
    """The likeliest slip from `wanted` [in], within `tolerance` [in], to `length`; None where there is none.

    >>> from fractions import Fraction
    >>> slip_to(Length.from_feet(50), Fraction(15 * 12), Fraction(1, 8)).why
    'fifty heard for fifteen'
    """
    if wanted <= 0 or not 0 < length.inches < LONGEST:
        return None
    return next(
        (
            slip
            for slip in likely_slips(length, could_be)
            if slip.meant.inches > 0 and abs(slip.meant.inches - wanted) <= tolerance
        ),
        None,
    )
