"""The drainage check as data: part of the file contract `gutterance-lists-1`.

Areas are square metres, flows litres a second, both as decimal numbers; lengths are exact text, as elsewhere.
"""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from gutterance.sheet.models import Model
from gutterance.sheet.values import LengthValue


class DrainedStrip(Model):
    """Roof along one piece of a run's gutter that drains to an outlet, and what the method counts of it."""

    run: str
    run_name: str = ""
    toward: Literal["left", "right"] = Field(description="the side of the outlet it lies on")
    length: LengthValue
    roof_run: LengthValue
    plan_m2: float
    counted_m2: float
    why: str


class PartCheck(Model):
    """A gutter side, outlet hole or downpipe: the flow it gets against what it can take, by one clause."""

    part: Literal["gutter", "outlet", "downpipe"]
    of: str = Field(description="the gutter or pipe, by the shop's name")
    toward: Literal["left", "right"] | None = None
    length: LengthValue | None = Field(default=None, description="from the high point or end to the outlet")
    flow_l_s: float
    capacity_l_s: float | None = None
    full_percent: int | None = Field(default=None, description="rounded up; over 100 is too much")
    method: str = Field(description="with its edition")
    clause: str
    why: str
    notes: list[str] = Field(default_factory=list)
    manning_l_s: float | None = Field(default=None, description="cross-check only: uniform flow, full")


class MendOffer(Model):
    """A change by which a part would do, or how near it would come, by the same method."""

    part: Literal["gutter", "outlet", "downpipe"]
    kind: Literal["bigger gutter", "bigger pipe", "one more outlet", "more fall"]
    says: str
    full_percent: int


class DrainedOutlet(Model):
    """What drains to one outlet and how full that makes its gutter, hole and pipe."""

    id: str
    stretch: str
    run: str
    run_name: str = ""
    at: LengthValue | None = None
    area_m2: float | None = None
    flow_l_s: float | None = None
    enough: bool | None = Field(default=None, description="null where a part could not be judged")
    strips: list[DrainedStrip] = Field(default_factory=list)
    checks: list[PartCheck] = Field(default_factory=list)
    mends: list[MendOffer] = Field(default_factory=list)
    missing: list[str] = Field(default_factory=list, description="what it could not be worked out without")
    rests_on: list[str] = Field(default_factory=list, description="values in doubt, assumed or worked out")
    says: list[str] = Field(default_factory=list)


class Drainage(Model):
    """The check of a job by one method, or what is missing for it."""

    method: str | None = None
    title: str | None = None
    rainfall: str | None = Field(default=None, description="as given")
    rainfall_mm_h: float | None = None
    rainfall_by: str | None = Field(
        default=None, description="who gave it: the user, the sheet, the shop, a file"
    )
    rainfall_storm: str | None = Field(default=None, description="its storm, where that is known")
    storm: str | None = Field(default=None, description="the storm the method is made for")
    fall: str | None = Field(default=None, description="the gutters' fall it was worked out with")
    missing: list[str] = Field(default_factory=list)
    says: list[str] = Field(default_factory=list)
    outlets: list[DrainedOutlet] = Field(default_factory=list)
