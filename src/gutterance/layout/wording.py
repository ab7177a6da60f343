"""Lengths as the reasons say them: exact where a tape can show it, else to the nearest 1/64 in or 0.1 mm."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from gutterance.measure.length import MM_PER_INCH, Length

if TYPE_CHECKING:
    from gutterance.measure.length import System
    from gutterance.shop import Shop

FINEST = Fraction(1, 64)
FINEST_MM = Fraction(1, 10) / MM_PER_INCH


def shown(inches: Fraction, system: System = "imperial", *, feet: bool = True) -> str:
    """A length [in] for a reason, with feet or (for the short ones) in inches alone.

    >>> shown(Fraction(2809, 4))
    '58\\' 6 1/4"'
    >>> shown(Fraction(24), feet=False)
    '24"'
    """
    finest = FINEST_MM if system == "metric" else FINEST
    exact = inches % finest == 0
    length = Length(inches, system) if exact else Length(inches, system).rounded(finest)
    return length.tape_text() if feet else length.inch_text()


def signed(inches: Fraction, system: System = "imperial") -> str:
    """The same with its sign: `+1/16"`, `-1/4"`."""
    text = shown(abs(inches), system, feet=False)
    return f"-{text}" if inches < 0 else f"+{text}"


def at_step(inches: Fraction, system: System, shop: Shop) -> str:
    """A short length at the shop's step, as the list beside it shows it."""
    rounding = shop.rounding
    step = (rounding.metric_step if system == "metric" else rounding.step).inches
    return Length(inches, system).rounded(step).inch_text()


def cannot_be(what: str, value: Fraction, most: Fraction, system: System) -> str:
    """Why a length taken for a slip is one: nothing, less than that, or over the shop's limit [in]."""
    why = "it must be more than nothing" if value <= 0 else f"over the shop's limit of {shown(most, system)}"
    return f"{what} {shown(value, system)}, cannot be right: {why}"


def listed(words: list[str]) -> str:
    """`a`, `a and b`, `a, b and c`.

    >>> listed(["front", "right side", "back"])
    'front, right side and back'
    """
    return " and ".join([", ".join(words[:-1]), words[-1]]) if len(words) > 1 else "".join(words)


def note_once(assumed: list[str], words: str) -> None:
    """Note what a shop rule filled in, once for the job."""
    if words not in assumed:
        assumed.append(words)
