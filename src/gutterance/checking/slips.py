"""How lengths are slipped: the single slips of ear, eye and tape that turn one length into another.

The kinds of slip are common practice, no source. Each has a rank, 0 the likeliest. A slip that fits few
lengths ranks before one that fits all: that fifty heard for fifteen should close the walls by chance is rare,
that a foot should is not. Nothing found here is ever applied by itself.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Final

from gutterance.measure.length import Length

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from gutterance.sheet.models import Alternative

FOOT = 12
LONGEST = 10**6
"""Lengths over this [in] are no slip of a wall's length, and are not looked into."""

HEARD_BY_READER: Final = 0
SOUNDS_ALIKE: Final = 1
DIGITS_SWAPPED: Final = 2
FEET_AND_INCHES: Final = 3
WRONG_FACE: Final = 4
BY_ONE: Final = 5
BY_TEN: Final = 6

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


def likely_slips(
    length: Length, could_be: Sequence[Alternative[Length]] = (), faces: Sequence[Length] = ()
) -> Iterator[Slip]:
    """Other lengths that one slip would have turned into `length`, likeliest first, each with its reason.

    `could_be` are other values the reader already found in the words. `faces` are by how much the length
    would grow (or shrink, where negative) if it had been measured along the wall and not the fascia.

    >>> slip = next(likely_slips(Length.from_feet(50)))
    >>> slip.meant == Length.from_feet(15), slip.why
    (True, 'fifty heard for fifteen')
    """
    for other in could_be:
        if isinstance(other.value, Length):
            yield Slip(other.value, other.why, HEARD_BY_READER)
    if length.system == "metric":
        yield from _metric(length, faces)
    else:
        yield from _imperial(length, faces)


def _imperial(length: Length, faces: Sequence[Length]) -> Iterator[Slip]:
    feet, inches = divmod(length.inches, FOOT)
    if (meant := _SOUNDS_LIKE.get(int(feet))) is not None:
        why = f"{_WORD[int(feet)]} heard for {_WORD[meant]}"
        yield Slip(Length.from_feet(meant, inches), why, SOUNDS_ALIKE)
    for swapped in _swapped(int(feet)):
        why = f"digits swapped: {int(feet)} for {swapped}"
        yield Slip(Length.from_feet(swapped, inches), why, DIGITS_SWAPPED)
    for swapped in _swapped(int(inches)) if inches.denominator == 1 else ():
        if swapped < FOOT:
            why = f"digits swapped: {int(inches)} for {swapped}"
            yield Slip(Length.from_feet(feet, swapped), why, DIGITS_SWAPPED)
    if 0 < inches < FOOT and feet < FOOT and inches.denominator == 1 and feet != inches:
        yield Slip(Length.from_feet(inches, feet), "feet and inches swapped", FEET_AND_INCHES)
    if inches < 1:  # `18` or `18 1/2` without a unit
        yield Slip(Length(feet + inches), "inches said, feet read", FEET_AND_INCHES)
    if length.inches < 100:
        yield Slip(Length(length.inches * FOOT), "feet said, inches read", FEET_AND_INCHES)
        whole = Fraction(int(length.inches))
        if whole != length.inches:
            other = Length.from_feet(whole, length.inches - whole)
            yield Slip(other, "feet said, inches read", FEET_AND_INCHES)
    yield from dash_lost(length)
    yield from _wrong_face(length, faces)
    for off, why, rank in ((1, "one foot off", BY_ONE), (10, "ten feet off", BY_TEN)):
        yield Slip(Length.from_feet(feet + off, inches), why, rank)
        yield Slip(Length.from_feet(feet - off, inches), why, rank)


def dash_lost(length: Length) -> Iterator[Slip]:
    """Feet and inches run together, and read as feet.

    >>> [slip.meant.tape_text() for slip in dash_lost(Length.from_feet(94))]
    ['9\\' 4"']
    """
    feet, inches = divmod(length.inches, FOOT)
    if inches or length.system == "metric" or not 0 < length.inches < LONGEST:
        return
    digits = str(feet)
    for last in (2, 1):
        if len(digits) > last and 0 < int(digits[-last:]) < FOOT and digits[-last] != "0":
            meant = Length.from_feet(int(digits[:-last]), int(digits[-last:]))
            yield Slip(meant, f"{feet} for {digits[:-last]}-{digits[-last:]}, the dash lost", FEET_AND_INCHES)


def odd_slip(told: Length, meant: Length) -> str | None:
    """Which common slip makes `told` of `meant`, other than being one off; None where none does.

    Lengths said in inches are slipped as such too: `42` for `24`.

    >>> odd_slip(Length(Fraction(42)), Length(Fraction(24)))
    'digits swapped: 42 for 24'
    """
    if not (0 < told.inches < LONGEST and 0 < meant.inches < LONGEST):
        return None
    for slip in likely_slips(told):
        if slip.meant.inches == meant.inches and slip.rank != BY_ONE:
            return slip.why
    said, wanted = told.inches, meant.inches
    if said.denominator != 1 or wanted.denominator != 1:
        return None
    if int(wanted) in _swapped(int(said)):
        return f"digits swapped: {said} for {wanted}"
    if _SOUNDS_LIKE.get(int(said)) == wanted:
        return f"{_WORD[int(said)]} heard for {_WORD[int(wanted)]}"
    return "ten inches off" if abs(said - wanted) == 10 else None


def _metric(length: Length, faces: Sequence[Length]) -> Iterator[Slip]:
    mm = length.mm
    if mm.denominator == 1:
        for swapped in _swapped(int(mm)):
            why = f"digits swapped: {int(mm)} for {swapped}"
            yield Slip(Length.from_mm(swapped), why, DIGITS_SWAPPED)
    yield from _wrong_face(length, faces)
    for off, why, rank in (
        (1000, "one metre off", BY_ONE),
        (100, "a hundred millimetres off", BY_ONE),
        (10000, "ten metres off", BY_TEN),
    ):
        yield Slip(Length.from_mm(mm + off), why, rank)
        yield Slip(Length.from_mm(mm - off), why, rank)


def _wrong_face(length: Length, faces: Sequence[Length]) -> Iterator[Slip]:
    for grows in faces:
        each = Length(abs(grows.inches) / 2, grows.system)
        why = f"measured along the wall, not the fascia: twice the {each.inch_text()} overhang"
        yield Slip(Length(length.inches + grows.inches, length.system), why, WRONG_FACE)


def _swapped(number: int) -> Iterator[int]:
    """A number with two neighbouring digits the other way round."""
    digits = str(number)
    for at in range(len(digits) - 1):
        if digits[at] != digits[at + 1] and digits[at + 1] != "0":
            yield int(digits[:at] + digits[at + 1] + digits[at] + digits[at + 2 :])


def slip_to(
    length: Length,
    wanted: Fraction,
    tolerance: Fraction,
    could_be: Sequence[Alternative[Length]] = (),
    faces: Sequence[Length] = (),
) -> Slip | None:
    """The likeliest slip from `wanted` [in], within `tolerance` [in], to `length`; None where there is none.

    >>> slip_to(Length.from_feet(50), Fraction(15 * 12), Fraction(1, 8)).why
    'fifty heard for fifteen'
    """
    if wanted <= 0 or not 0 < length.inches < LONGEST:
        return None
    return next(
        (
            slip
            for slip in likely_slips(length, could_be, faces)
            if slip.meant.inches > 0 and abs(slip.meant.inches - wanted) <= tolerance
        ),
        None,
    )
