"""Cross-sections of gutters and pipes. Sizes are exact inches; areas and the like floats in millimetres."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from gutterance.measure.length import MM_PER_INCH

if TYPE_CHECKING:
    from fractions import Fraction

GutterKind = Literal["half round", "trapezoid"]


@dataclass(frozen=True, slots=True)
class GutterSection:
    """A gutter's inside up to where it would overflow: top width, sole and depth [in].

    A box is a trapezoid whose sole is its top width; K-style, ogee and quad are taken as the trapezoid of
    their three sizes. A half round's sole is not looked at.
    """

    name: str
    kind: GutterKind
    top: Fraction
    sole: Fraction
    depth: Fraction

    @property
    def top_mm(self) -> float:
        """Top width T [mm]."""
        return float(self.top * MM_PER_INCH)

    @property
    def sole_mm(self) -> float:
        """Sole width S [mm]; 0 for a half round."""
        return 0.0 if self.kind == "half round" else float(self.sole * MM_PER_INCH)

    @property
    def depth_mm(self) -> float:
        """Depth W [mm]."""
        return float(self.depth * MM_PER_INCH)

    @property
    def area_mm2(self) -> float:
        """Cross-section A_E [mm²]: (T + S) W / 2; for a half round π T W / 4 (π D² / 8 where W = D / 2)."""
        if self.kind == "half round":
            return math.pi * self.top_mm * self.depth_mm / 4
        return (self.top_mm + self.sole_mm) / 2 * self.depth_mm

    @property
    def wet_mm(self) -> float:
        """Wetted perimeter [mm] when full: sole and both sides, or half the ellipse (Ramanujan's formula)."""
        if self.kind == "half round":
            a, b = self.top_mm / 2, self.depth_mm
            return math.pi / 2 * (3 * (a + b) - math.sqrt((3 * a + b) * (a + 3 * b)))
        return self.sole_mm + 2 * math.hypot(self.depth_mm, (self.top_mm - self.sole_mm) / 2)

    def half_round_within(self) -> float:
        """Diameter [in] of the largest half round that fits in it, its rim at the gutter's rim."""
        top, depth = float(self.top), float(self.depth)
        if self.kind == "half round":
            return min(top, 2 * depth)
        lean = (top - float(self.sole)) / 2
        to_side = top / 2 * depth / math.hypot(depth, lean)
        return 2 * min(to_side, top / 2, depth)

    def scaled(self, by: Fraction) -> GutterSection:
        """The same shape, `by` times as large."""
        return GutterSection(self.name, self.kind, self.top * by, self.sole * by, self.depth * by)


@dataclass(frozen=True, slots=True)
class PipeSection:
    """A downpipe: `along` and `out` [in], the sides of a rectangular one, both a round one's diameter."""

    name: str
    round: bool
    along: Fraction
    out: Fraction

    @property
    def area_in2(self) -> float:
        """Cross-section [in²]."""
        area = float(self.along * self.out)
        return area * math.pi / 4 if self.round else area

    @property
    def area_mm2(self) -> float:
        """Cross-section [mm²]."""
        return self.area_in2 * float(MM_PER_INCH) ** 2

    @property
    def perimeter_mm(self) -> float:
        """Inside perimeter [mm]."""
        if self.round:
            return math.pi * float(self.along * MM_PER_INCH)
        return 2 * float((self.along + self.out) * MM_PER_INCH)

    @property
    def hydraulic_mm(self) -> float:
        """Diameter [mm] of the round pipe it is taken for: its own, or 2ab / (a + b), on the safe side.

        Source: the hydraulic diameter, four times area over perimeter. A round pipe of the same area would be
        wider and carry more; no clause of EN 12056-3 was read that allows it.
        """
        a, b = float(self.along * MM_PER_INCH), float(self.out * MM_PER_INCH)
        return a if self.round else 2 * a * b / (a + b)

    def scaled(self, by: Fraction) -> PipeSection:
        """The same shape, `by` times as large."""
        return PipeSection(self.name, self.round, self.along * by, self.out * by)
