"""Manning's formula against fluids, a library of its own."""

from __future__ import annotations

from fractions import Fraction

import fluids.open_flow
import pytest

from gutterance.drainage.errors import OutOfRangeError
from gutterance.drainage.manning import PAINTED_STEEL, full_flow, velocity
from gutterance.drainage.sections import GutterSection

# gutters in inches, their kind, slope, and the flow [l/s] by fluids 1.3.1 at n 0.013
FULL = [
    (5, 3.5, "box", Fraction(1, 192), 6.9647446),
    (5, 3.5, "box", Fraction(1, 96), 9.8496363),
    (5, 3.5, "box", Fraction(1, 240), 6.2294569),
    (5, 3.5, "box", Fraction(1, 480), 4.4048912),
    (6, 4, "box", Fraction(1, 192), 10.6388820),
    (4, 3, "box", Fraction(1, 96), 5.9307964),
    (5, 2.5, "half round", Fraction(1, 192), 3.525623),
    (6, 3, "half round", Fraction(1, 192), 5.733051),
    (5, 2.5, "half round", Fraction(1, 96), 4.985984),
    (6, 3, "half round", Fraction(1, 96), 8.107759),
]


@pytest.mark.parametrize(("top", "depth", "kind", "slope", "flow"), FULL)
def test_full_gutters(top: float, depth: float, kind: str, slope: Fraction, flow: float) -> None:
    shape = "half round" if kind == "half round" else "trapezoid"
    section = GutterSection(kind, shape, Fraction(top), Fraction(top), Fraction(depth))  # type: ignore[arg-type]
    assert full_flow(section, float(slope)) == pytest.approx(flow, rel=1e-6)


@pytest.mark.parametrize("radius", [0.01, 0.0370, 0.2859, 1.5])
@pytest.mark.parametrize("slope", [1 / 480, 1 / 96, 0.012])
@pytest.mark.parametrize("roughness", [0.011, 0.013, 0.03])
def test_velocity_is_fluids_own(radius: float, slope: float, roughness: float) -> None:
    theirs = fluids.open_flow.V_Manning(radius, slope, roughness)
    assert velocity(radius, slope, roughness) == pytest.approx(theirs, rel=1e-12)


def test_the_roughness_of_painted_steel_is_chows() -> None:
    """MN-06. Source: Chow 1959, as fluids.open_flow.n_lined_built has it."""
    metal = fluids.open_flow.n_lined_built["Metal"]
    rows = [
        row for name, row in metal.items() if "paint" in name.casefold() and "unpaint" not in name.casefold()
    ]
    assert [tuple(row) for row in rows] == [PAINTED_STEEL]


@pytest.mark.parametrize(
    ("radius", "slope", "n"), [(-1, 0.1, 0.013), (1, -0.1, 0.013), (1, 0.1, 0.008), (1, 0.1, 1)]
)
def test_what_makes_no_channel_is_refused(radius: float, slope: float, n: float) -> None:
    with pytest.raises(OutOfRangeError):
        velocity(radius, slope, n)
