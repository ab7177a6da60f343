"""What a scan of a text finds: one numeric thing each, with all that is needed to settle what it means."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from gutterance.measure.amounts import Amount

Kind = Literal["length", "bare", "other"]


@dataclass(frozen=True, slots=True)
class Found:
    """One numeric thing in a text. Founds are in order, never overlap, and together cover every numeral.

    `start` and `end` [characters of the text as given] take in qualifiers that stand next to the number
    (`about 40`, `14 3/4 strong`); `core` is the number and its units alone. `kind` is "length" where the
    number has a unit or marks of its own, "bare" where it has none, "other" where it is surely no length,
    and then `what` says what it is. `value` is the plain number where it is one numeral.

    `amounts` are its numerals in order; `also` are the other ends of a range (`40 to 42`). `doubts` are plain
    words on why it is not certain; `shift` [in] is what `strong` or `shy` adds. `could_count` is a small
    number after it that may be a count or its inches, `loose_in` says its unit is `in` before a word.
    """

    start: int
    end: int
    text: str
    kind: Kind
    what: str | None = None
    value: Fraction | None = None
    amounts: tuple[Amount, ...] = ()
    also: tuple[tuple[Amount, ...], ...] = ()
    doubts: tuple[str, ...] = ()
    shift: Fraction = Fraction(0)
    qualifier: str | None = None
    exact: bool = False
    core: tuple[int, int] = (0, 0)
    could_count: tuple[Amount, ...] = ()
    loose_in: bool = False
