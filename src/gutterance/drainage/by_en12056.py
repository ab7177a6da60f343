"""The check by EN 12056-3:2000: its clauses put together for one side of an outlet."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from gutterance.drainage import en12056
from gutterance.drainage.areas import en_wind_factor
from gutterance.drainage.method import Capacity, Counted, Method, Reach
from gutterance.measure.length import MM_PER_INCH

if TYPE_CHECKING:
    from fractions import Fraction

    from gutterance.drainage.sections import GutterSection, PipeSection

SMALL_PIPE = 75
"""Pipes under DN 75 are more easily blocked (6.1.3)."""


class ByEN12056(Method):
    """Eaves gutters 5.1, outlets 5.3 and Table 7, downpipes 6.1; areas by 4.3 and Table 3."""

    def needs_pitch(self) -> bool:
        """Whether the area needs the pitch: only where wind is counted."""
        return self.rules.wind != "none"

    def area(self, rise: Fraction | None) -> Counted:
        """Effective area, by the shop's choice of wind."""
        wind = self.rules.wind
        if wind == "none" or rise is None:
            return Counted(1.0, "plan area, no wind (4.3)")
        says = "rain at 26°" if wind == "26 degrees" else "rain square to the roof"
        return Counted(en_wind_factor(rise, wind), f"{says}, {float(rise):g} in 12 (Table 3)")

    def gutter(self, section: GutterSection, reach: Reach) -> Capacity:
        """5.1.2 or 5.1.4, with 5.1.6 and Table 6 for length and 5.1.8 for angles."""
        area, depth = section.area_mm2, section.depth_mm
        if section.kind == "half round":
            clause, short = "5.1.2", en12056.half_round_flow(area)
            shape = f"A_E {area:.0f} mm²"
        else:
            clause = "5.1.4"
            short = en12056.trapezoid_flow(area, section.top_mm, section.sole_mm, depth)
            fd = en12056.depth_factor(depth / section.top_mm)
            fs = en12056.shape_factor(section.sole_mm / section.top_mm)
            shape = f"A_E {area:.0f} mm², F_d {fd:.3f}, F_s {fs:.3f}"
        length = float(reach.length * MM_PER_INCH)
        factor = en12056.length_factor(length, depth, reach.slope_mm)
        why = f"Q_N {short:.3f} l/s ({shape}) x 0.9"
        if length / depth > en12056.SHORT:
            clause += ", 5.1.6, Table 6"
            level = ", level" if en12056.is_nominally_level(reach.slope_mm) else ""
            why += f" x F_L {factor:.3f} (L/W {length / depth:.0f}, {reach.slope_mm:.2f} mm/m{level})"
        if reach.bends:
            clause += ", 5.1.8"
            why += f" x 0.85 for each of {reach.bends} angles" if reach.bends > 1 else " x 0.85 for an angle"
        return Capacity(en12056.design_flow(short, factor, reach.bends), clause, why)

    def outlet(self, section: GutterSection, pipe: PipeSection) -> Capacity:
        """Table 7 in a flat sole; 5.3.2 where there is none. The hole is taken to be as large as the pipe."""
        if section.kind == "half round":
            diameter = math.sqrt(4 * pipe.area_mm2 / 2 / math.pi)
            return Capacity(
                en12056.downpipe_flow(diameter, self.rules.filling),
                "5.3.2",
                "no flat sole: the hole is to be twice a pipe that will do; "
                f"half of it is a {diameter:.0f} mm pipe",
            )
        openness = 0.5 if self.rules.strainers else 1.0
        head = en12056.head_over_outlet(section.sole_mm / section.top_mm, section.depth_mm)
        if pipe.round:
            flow = en12056.round_outlet_flow(float(pipe.along * MM_PER_INCH), head, openness)
        else:
            flow = en12056.other_outlet_flow(pipe.area_mm2, pipe.perimeter_mm, head, openness)
        strained = ", strainer k_O 0.5" if self.rules.strainers else ""
        return Capacity(
            flow, "5.3, Table 7, Figure 10", f"head {head:.0f} mm over a hole the pipe's size{strained}"
        )

    def pipe(self, pipe: PipeSection) -> Capacity:
        """6.1.1 and Table 8, by the inside diameter; a rectangular pipe by its hydraulic diameter."""
        diameter = pipe.hydraulic_mm
        taken = "" if pipe.round else ", its hydraulic diameter: on the safe side, no clause read"
        notes = (
            [f"under DN {SMALL_PIPE} a pipe is more easily blocked (6.1.3)"]
            if diameter < SMALL_PIPE - 1
            else []
        )
        flow = en12056.downpipe_flow(diameter, self.rules.filling)
        why = f"Wyly-Eaton, d_i {diameter:.0f} mm{taken}, filled {self.rules.filling:g}"
        return Capacity(flow, "6.1.1, Table 8", why, tuple(notes))
