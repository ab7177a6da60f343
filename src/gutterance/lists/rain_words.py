"""Areas, flows and rates in words, in the job's own units with the method's where they differ."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.drainage.units import gallons_per_minute, square_feet
from gutterance.measure.length import MM_PER_INCH

if TYPE_CHECKING:
    from gutterance.measure.length import System


def area_text(square_metres: float, system: System) -> str:
    """`1,240 ft²` or `115.2 m²`.

    >>> area_text(100, "imperial"), area_text(100, "metric")
    ('1,076 ft²', '100.0 m²')
    """
    return f"{square_metres:,.1f} m²" if system == "metric" else f"{square_feet(square_metres):,.0f} ft²"


def flow_text(litres_per_second: float, system: System) -> str:
    """`30.0 gpm` or `1.89 l/s`."""
    if system == "metric":
        return f"{litres_per_second:.2f} l/s"
    return f"{gallons_per_minute(litres_per_second):.1f} gpm"


def rate_text(mm_per_hour: float, system: System) -> str:
    """`6 in/h`, `152.4 mm/h`, the other unit in brackets."""
    metric, imperial = f"{mm_per_hour:.4g} mm/h", f"{mm_per_hour / float(MM_PER_INCH):.4g} in/h"
    return f"{metric} ({imperial})" if system == "metric" else f"{imperial} ({metric})"
