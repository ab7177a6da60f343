"""What a method of the check can be asked: what it counts of a roof, the flow, what parts can take."""

from __future__ import annotations

from abc import ABC, abstractmethod
from dataclasses import dataclass
from typing import TYPE_CHECKING

from gutterance.drainage.units import roof_flow

if TYPE_CHECKING:
    from fractions import Fraction

    from gutterance.drainage.areas import Wind
    from gutterance.drainage.rainfall import Rainfall, Storm
    from gutterance.drainage.sections import GutterSection, PipeSection

MM_PER_METRE = 1000


@dataclass(frozen=True, slots=True)
class RainRules:
    """The choices that methods leave to national rules or to the shop."""

    wind: Wind = "26 degrees"
    strainers: bool = False
    filling: float = 0.33
    roughness: float = 0.013


@dataclass(frozen=True, slots=True)
class Counted:
    """What a method counts of a plan area: the factor, and in words why."""

    factor: float
    why: str


@dataclass(frozen=True, slots=True)
class Capacity:
    """What a part can take [l/s] by one clause, with its arithmetic; None, and why, where none is given."""

    flow: float | None
    clause: str
    why: str = ""
    notes: tuple[str, ...] = ()

    def full(self, flow: float) -> float | None:
        """How full [-] a flow [l/s] makes it; None where the capacity is not known."""
        return None if self.flow is None else flow / self.flow


@dataclass(frozen=True, slots=True)
class Reach:
    """Gutter from its high point to the outlet: length [in], fall [-], changes of direction on the way."""

    length: Fraction
    slope: Fraction
    bends: int = 0

    @property
    def slope_mm(self) -> float:
        """The fall [mm/m]."""
        return float(self.slope * MM_PER_METRE)

    @property
    def slope_per_foot(self) -> Fraction:
        """The fall [in/ft]."""
        return self.slope * 12


@dataclass(frozen=True)
class Method(ABC):
    """A published method: one check uses its storm, area, flow and capacities, and no other's.

    What most share stands here: plan area, all rain runs off, no outlet rule, no table of falls. Every
    function may raise OutOfRangeError where the published method does not reach. Rises are in 12.
    """

    name: str
    title: str
    storm: Storm
    rules: RainRules

    def needs_pitch(self) -> bool:
        """Whether its area needs the roof's pitch."""
        return False

    def area(self, rise: Fraction | None) -> Counted:
        """What it counts of a roof of that rise in 12: the plan area itself."""
        del rise
        return Counted(1.0, "plan area")

    def flow(self, area: float, rain: Rainfall) -> float:
        """The flow [l/s] off a counted area [m²]."""
        return roof_flow(area, float(rain.mm_per_hour))

    @abstractmethod
    def gutter(self, section: GutterSection, reach: Reach) -> Capacity:
        """What a gutter can carry to its outlet from one side."""

    def outlet(self, section: GutterSection, pipe: PipeSection) -> Capacity | None:
        """What the outlet lets through; None where the method has no rule for it."""
        del section, pipe
        return None

    @abstractmethod
    def pipe(self, pipe: PipeSection) -> Capacity:
        """What a downpipe can carry."""

    def limits(self, length: Fraction) -> list[str]:
        """What the method says besides of an outlet that serves so much gutter [in]."""
        del length
        return []

    def slopes(self, reach: Reach) -> list[Fraction]:
        """Steeper falls [-] worth trying, where the method goes by a table of them."""
        del reach
        return []
