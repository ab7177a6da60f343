"""The check by plumbing-code tables, by the metal trade's method, and by the AS/NZS catchment."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from gutterance.drainage import metal_trade
from gutterance.drainage.areas import as_nzs_wind_factor
from gutterance.drainage.errors import OutOfRangeError
from gutterance.drainage.method import Capacity, Counted, Method
from gutterance.drainage.plumbing_codes import gutter_row, gutter_rows, ipc_flow, leader_row, leader_rows
from gutterance.drainage.tables import STATUSES
from gutterance.drainage.units import SQUARE_FEET_PER_GPM, litres_per_second, square_feet
from gutterance.measure.length import MM_PER_INCH

if TYPE_CHECKING:
    from gutterance.drainage.method import Reach
    from gutterance.drainage.plumbing_codes import Row
    from gutterance.drainage.rainfall import Rainfall
    from gutterance.drainage.sections import GutterSection, PipeSection

FROM_MEMORY = "the formula is from memory, borne out by a second source"
MOST_METRES = 12
LEAST_LENGTH = Fraction(10)
"""Feet. Beij's formula gives more the shorter the gutter: a shorter side counts as this. Ours, no source."""


class ByPlumbingCode(Method):
    """A code's own tables. A section counts as the largest row it contains, never as something between."""

    def flow(self, area: float, rain: Rainfall) -> float:
        """IPC 2015 by its equation 11-1; the older tables are areas, which is 96.25 ft² to the gpm."""
        if self.name == "IPC 2015":
            return litres_per_second(ipc_flow(square_feet(area), rain.inches_per_hour))
        return super().flow(area, rain)

    def gutter(self, section: GutterSection, reach: Reach) -> Capacity:
        """The semicircular row by diameter and fall."""
        rows = gutter_rows(self.name)
        if not rows:
            return Capacity(None, "no table", f"{self.name}'s gutter sizes are not at hand")
        table = rows[0].table
        diameter = section.half_round_within()
        taken = "" if section.kind == "half round" else f"; the largest half round in it is {diameter:.2f} in"
        row = gutter_row(self.name, diameter, reach.slope_per_foot)
        if row is None:
            least = min(one.sides[0] for one in rows)
            flattest = min(one.slope for one in rows if one.slope is not None)
            why = "no row confirmed for"
            if diameter < least:
                why += f" a half round under {least} in{taken}"
            if reach.slope_per_foot < flattest:
                why += " nor for" if diameter < least else ""
                why += f" a fall under {flattest} in to the foot (this is {_per_foot(reach)})"
            return Capacity(None, table, why)
        return _of_row(row, taken)

    def pipe(self, pipe: PipeSection) -> Capacity:
        """The leader row the pipe contains."""
        row = leader_row(self.name, pipe)
        if row is None:
            table = next(iter(leader_rows(self.name))).table
            return Capacity(None, table, f"no row is small enough for a pipe of {pipe.name}")
        return _of_row(row, "" if pipe.round else "; the largest row that lies within the pipe")

    def slopes(self, reach: Reach) -> list[Fraction]:
        """The steeper falls the gutter table has."""
        found = {row.slope for row in gutter_rows(self.name) if row.slope is not None}
        return sorted(slope / 12 for slope in found if slope > reach.slope_per_foot)


def _of_row(row: Row, taken: str) -> Capacity:
    area = f", {row.square_feet:,} ft² at 1 in/h" if row.square_feet is not None else ""
    notes = (STATUSES[row.status],) if STATUSES[row.status] else ()
    return Capacity(
        litres_per_second(row.gpm), row.table, f"row {row.says}: {row.gpm:.1f} gpm{area}{taken}", notes
    )


def _per_foot(reach: Reach) -> str:
    return f"{float(reach.slope_per_foot):.3g} in to the foot"


class ByMetalTrade(Method):
    """Design areas and 1200/I as the SMACNA manual is quoted; level gutters after Beij 1934."""

    def needs_pitch(self) -> bool:
        """Always."""
        return True

    def area(self, rise: Fraction | None) -> Counted:
        """Plan area times the factor for the pitch."""
        assert rise is not None
        factor = float(metal_trade.design_area_factor(rise))
        return Counted(factor, f"design area for {float(rise):g} in 12, Table 1-1")

    def gutter(self, section: GutterSection, reach: Reach) -> Capacity:
        """Beij's half round, or his rectangle with the gutter's top width and area."""
        if section.kind == "half round":
            diameter = section.half_round_within()
            area, clause = metal_trade.half_round_area(diameter), "Beij 1934, half round"
            why = f"D {diameter:.2f} in, level"
        else:
            top = float(section.top)
            depth = min(float(section.top + section.sole) / 2 * float(section.depth) / top, top)
            feet = max(reach.length / 12, LEAST_LENGTH)
            least = ", the least that counts" if feet == LEAST_LENGTH else ""
            area, clause = metal_trade.rectangle_area(top, depth, float(feet)), "Beij 1934, rectangle"
            alike = "" if section.sole == section.top else ", the rectangle of its top width and area"
            why = f"W {top:.2f} in, M {depth / top:.2f}, L {float(feet):.1f} ft{least}, level{alike}"
        return Capacity(_gpm(area), clause, why, (FROM_MEMORY,))

    def pipe(self, pipe: PipeSection) -> Capacity:
        """Each square inch drains 1200/I ft²."""
        why = f"1200/I ft² to the square inch, {pipe.area_in2:.2f} in²"
        return Capacity(_gpm(1200 * pipe.area_in2), "1200/I rule", why)


def _gpm(area: float) -> float:
    """Square feet at 1 in/h as a flow [l/s]."""
    return litres_per_second(area / float(SQUARE_FEET_PER_GPM))


class ByAsNzs(Method):
    """The catchment with wind, and the flow. The standard's gutter sizes were not read: no capacities."""

    def needs_pitch(self) -> bool:
        """Always."""
        return True

    def area(self, rise: Fraction | None) -> Counted:
        """Plan area times 1 + 0.5 tan θ."""
        if rise is None:
            raise OutOfRangeError("the catchment needs the roof's pitch")
        return Counted(
            as_nzs_wind_factor(rise), f"1 + 0.5 tan θ, {float(rise):g} in 12 (eq. 3.4.3.2(2), from memory)"
        )

    def gutter(self, section: GutterSection, reach: Reach) -> Capacity:
        """None."""
        del section, reach
        return Capacity(
            None, "Figure 3.5.4", "the standard's graph is not at hand: read it with this catchment"
        )

    def pipe(self, pipe: PipeSection) -> Capacity:
        """None."""
        del pipe
        return Capacity(
            None, "Table 3.5.2", "the standard's table is not at hand: read it with this catchment"
        )

    def limits(self, length: Fraction) -> list[str]:
        """One downpipe serves 12 m of gutter at most."""
        metres = float(length * MM_PER_INCH) / 1000
        if metres <= MOST_METRES:
            return []
        return [
            f"one downpipe for {metres:.1f} m of gutter: Australian practice is {MOST_METRES} m at most "
            "(as quoted in a trade article)"
        ]
