"""What drains to one outlet: strips of roof along the gutter to its left and right.

Lengths are exact inches, rises in 12.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Literal

from gutterance.measure.length import MM_PER_INCH

if TYPE_CHECKING:
    from gutterance.drainage.sections import GutterSection, PipeSection


@dataclass(frozen=True, slots=True)
class Strip:
    """A piece of roof that drains to one piece of a run's gutter.

    length and roof_run: [in]. rise: [-] in 12, where known. gutter: the run's. after_bend: whether a change
    of direction over 10° lies between it and the strip before it on the way up from the outlet.
    """

    run: str
    length: Fraction
    roof_run: Fraction
    rise: Fraction | None
    gutter: GutterSection
    after_bend: bool = False

    @property
    def plan(self) -> float:
        """Plan area [m²]."""
        return float(self.length * self.roof_run * MM_PER_INCH**2) / 1_000_000

    def cut(self, length: Fraction) -> Strip:
        """The part of it next to the outlet, `length` [in] long."""
        return Strip(self.run, length, self.roof_run, self.rise, self.gutter, self.after_bend)


@dataclass(frozen=True, slots=True)
class Side:
    """The gutter to one side of an outlet, from the outlet up to its high point or stop end."""

    toward: Literal["left", "right"]
    strips: tuple[Strip, ...]

    @property
    def length(self) -> Fraction:
        """How far [in] the water comes."""
        return sum((strip.length for strip in self.strips), Fraction(0))

    @property
    def bends(self) -> int:
        """Changes of direction on the way."""
        return sum(strip.after_bend for strip in self.strips)

    def near_half(self) -> Side:
        """What is left of it when one more outlet stands at its far end and the two share it."""
        left, kept = self.length / 2, []
        for strip in self.strips:
            if left <= 0:
                break
            kept.append(strip.cut(min(strip.length, left)))
            left -= strip.length
        return Side(self.toward, tuple(kept))

    @property
    def sections(self) -> list[GutterSection]:
        """The gutters it is made of, each once."""
        return list(dict.fromkeys(strip.gutter for strip in self.strips))


@dataclass(frozen=True, slots=True)
class Share:
    """What drains to one outlet: its two sides, the gutter it is cut in, its pipe, the gutter's fall [-]."""

    sides: tuple[Side, ...]
    gutter: GutterSection
    pipe: PipeSection | None
    slope: Fraction
