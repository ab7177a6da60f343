"""The one rounding: exact lengths to the shop's step, and the sentence that says so."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Literal

from gutterance.layout.wording import shown
from gutterance.lists.models import Reason
from gutterance.measure.length import Length

if TYPE_CHECKING:
    from collections.abc import Iterable

    from gutterance.layout import values
    from gutterance.measure.length import System
    from gutterance.shop import Shop

Way = Literal["nearest", "up", "down"]
_AMOUNT_STEP = Fraction(1, 1024)


class Rounder:
    """Rounds lengths to a shop's steps: to the nearest, ties to even (NIST Handbook 44, 10.3)."""

    def __init__(self, shop: Shop) -> None:
        self._steps: dict[System, Length] = {
            "imperial": shop.rounding.step,
            "metric": shop.rounding.metric_step,
        }

    def step(self, system: System) -> Length:
        """The step lengths of that system are rounded to."""
        return Length(self._steps[system].inches, system)

    def round(self, inches: Fraction | None, system: System, way: Way = "nearest") -> Length | None:
        """A length [in] at the shop's step; None stays None."""
        return None if inches is None else self.sure(inches, system, way)

    def sure(self, inches: Fraction, system: System, way: Way = "nearest") -> Length:
        """The same for a length that is known."""
        return Length(inches, system).rounded(self._steps[system].inches, way)

    def says(self, system: System) -> str:
        """How this list was rounded, in words."""
        return (
            f"lengths to the nearest {self.step(system).inch_text()}, a tie to the even mark; "
            "coil and outlet falls up; other falls and hanger marks down"
        )

    def reasons(self, whys: Iterable[values.Reason]) -> list[Reason]:
        """Reasons as the lists hold them; an amount finer than any tape is given to the nearest 1/1024 in."""
        return [
            Reason(number=why.number, says=why.says, amount=_fine(why.amount), sheet=why.sheet)
            for why in whys
        ]

    def told(self, number: str, exact: Fraction | None, system: System, way: Way = "nearest") -> list[Reason]:
        """The reason that tells of the rounding, where it changed a number."""
        if exact is None:
            return []
        rounded = self.sure(exact, system, way)
        by = rounded.inches - exact
        if by == 0:
            return []
        went = "up" if by > 0 else "down"
        step = self.step(system).inch_text()
        says = f"{shown(exact, system)} rounded {went} to {rounded.tape_text()}, step {step}"
        return [Reason(number=number, says=says, amount=_fine(by))]


def _fine(amount: Fraction | None) -> Length | None:
    if amount is None:
        return None
    length = Length(amount)
    return length if amount.denominator <= 1024 else length.rounded(_AMOUNT_STEP)
