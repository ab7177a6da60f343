"""The rainfall a check is made with: always the user's, with where it came from and which storm it is."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from gutterance.drainage.errors import RainError
from gutterance.measure.length import MM_PER_INCH

LEAST, MOST = Fraction(5), Fraction(1000)
"""Rates [mm/h] outside these are slips of unit or point. Bounds of ours, no source: design rates run from
about 15 mm/h (60 minutes, mildest coasts) to 500 (5 minutes, once in 1,000 years)."""


@dataclass(frozen=True, slots=True)
class Rainfall:
    """A rate of rain [mm/h], exact, as given, and by whom; its storm's minutes and years where known."""

    mm_per_hour: Fraction
    given: str
    by: str
    minutes: int | None = None
    years: int | None = None
    doubt: str | None = None

    def __post_init__(self) -> None:
        rate = self.mm_per_hour
        if rate <= 0:
            raise RainError(f"rainfall {self.given!r} ({self.by}): a rate must be over nothing")
        if not LEAST <= rate <= MOST:
            slip = "too little" if rate < LEAST else "too much"
            raise RainError(
                f"rainfall {self.given!r} ({self.by}) is {float(rate):g} mm/h, {slip} for any design storm "
                f"({LEAST} to {MOST} mm/h): look at the unit and the point"
            )

    @property
    def inches_per_hour(self) -> float:
        """The rate [in/h]."""
        return float(self.mm_per_hour / MM_PER_INCH)

    @property
    def storm(self) -> str | None:
        """`5-minute, 10-year`, as far as known."""
        parts = [f"{self.minutes}-minute"] if self.minutes is not None else []
        parts += [f"{self.years}-year"] if self.years is not None else []
        return ", ".join(parts) or None


@dataclass(frozen=True, slots=True)
class Storm:
    """The storm a method is made for: minutes and years, the usual first; none where the nation sets them."""

    minutes: tuple[int, ...]
    years: tuple[int, ...]
    source: str

    def check(self, method: str, minutes: int | None, years: int | None) -> None:
        """Raise RainError where rainfall said to be of one storm is put to a method made for another."""
        wrong = []
        if minutes is not None and self.minutes and minutes not in self.minutes:
            wrong.append(f"{minutes}-minute")
        if years is not None and self.years and years not in self.years:
            wrong.append(f"{years}-year")
        if wrong:
            raise RainError(
                f"{method} is made for {self.says()} rain ({self.source}), not {' and '.join(wrong)}: "
                "give that rainfall, or choose another method"
            )

    def says(self) -> str:
        """`60-minute, 100-year`; `5-minute, 10-year or 100-year`."""
        minutes = " or ".join(f"{one}-minute" for one in self.minutes)
        years = " or ".join(f"{one}-year" for one in self.years)
        return ", ".join(part for part in (minutes, years) if part)
