"""Small field sheets for tests: a house in a few words."""

from __future__ import annotations

from typing import Any

from gutterance.sheet.models import Sheet

CORNERS = {"out": "outside corner", "in": "inside corner", "cap": "end cap", "wall": "wall", "lap": "splice"}


def reading(value: Any, status: str = "read", **more: Any) -> dict[str, Any]:
    """A reading as a sheet's file holds it."""
    return {"value": value, "status": status, **more}


def run(name: str, length: str | None, ends: str = "cap cap", **more: Any) -> dict[str, Any]:
    """A run: `run("front", "510 in", "out in")`. An end of `-` was not said."""
    left, right = ends.split()
    out: dict[str, Any] = {"id": name.replace(" ", "-"), "name": name}
    if length is not None:
        out["length"] = reading(length)
    if left != "-":
        out["left_end"] = reading(CORNERS[left])
    if right != "-":
        out["right_end"] = reading(CORNERS[right])
    return {**out, **more}


def outlet(
    name: str, on: str, place: str | None = "left", distance: str | None = None, **more: Any
) -> dict[str, Any]:
    """An outlet at an end, or `distance` from it."""
    out: dict[str, Any] = {"id": name, "run": on}
    if place is not None:
        out["from"] = place
    if distance is not None:
        out["distance"] = reading(distance)
    return {**out, **more}


def pipe(
    name: str,
    reach: str | None = "24 in",
    height: str | None = "112 in",
    ends_at: str | None = "splash block",
    **more: Any,
) -> dict[str, Any]:
    """A downpipe for the outlet of the same name."""
    out: dict[str, Any] = {"id": name, "outlet": name}
    for field, value in (("wall_to_fascia", reach), ("height", height), ("ends_at", ends_at)):
        if value is not None:
            out[field] = reading(value)
    return {**out, **more}


def sheet(
    runs: list[dict[str, Any]],
    outlets: list[dict[str, Any]] | None = None,
    pipes: list[dict[str, Any]] | None = None,
    **more: Any,
) -> Sheet:
    """A field sheet of a 5 in white K-style gutter with 2x3 pipes."""
    defaults = {
        "gutter_profile": reading("K-style"),
        "gutter_size": reading("5 in"),
        "colour": reading("white"),
        "downpipe_size": reading("2x3"),
        **more.pop("defaults", {}),
    }
    return Sheet.model_validate(
        {
            "title": "31 Dunmarrow Street",
            "defaults": defaults,
            "runs": runs,
            "outlets": outlets or [],
            "downpipes": pipes or [],
            **more,
        }
    )


def four_sides(**more: Any) -> Sheet:
    """A plain house: front and back 42' 6", sides 26' 1 1/2", an outlet at each end of front and back."""
    return sheet(
        [
            run("front", "510 in", "out out"),
            run("right side", "313 1/2 in", "out out"),
            run("back", "510 in", "out out"),
            run("left side", "313 1/2 in", "out out"),
        ],
        [
            outlet("front-1", "front", "left"),
            outlet("front-2", "front", "right"),
            outlet("back-1", "back", "left"),
            outlet("back-2", "back", "right"),
        ],
        [pipe("front-1"), pipe("front-2"), pipe("back-1"), pipe("back-2")],
        **more,
    )
