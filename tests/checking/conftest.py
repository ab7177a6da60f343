"""A short way to write sheets down in tests."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Any

import pytest

from gutterance.sheet.models import Sheet

if TYPE_CHECKING:
    from collections.abc import Callable

ENDS = {"O": "outside corner", "I": "inside corner", "C": "end cap", "W": "wall", "S": "splice"}
ALL_SAID = {
    "gutter_profile": {"value": "K-style"},
    "gutter_size": {"value": "5 in"},
    "colour": {"value": "white"},
    "downpipe_size": {"value": "2x3"},
}


def source(line: int, text: str = "words") -> dict[str, Any]:
    """Words on a line, as a source."""
    return {"line": line, "start": 0, "end": len(text), "text": text}


def make_sheet(
    runs: dict[str, tuple[Any, ...]],
    outlets: list[tuple[Any, ...]] | None = None,
    pipes: list[dict[str, Any]] | None = None,
    **rest: Any,
) -> Sheet:
    """A sheet in which nothing is left open but what the test leaves open.

    `runs`: id to (length, left end, right end, more fields); a length is inches or text; ends are O I C W S
    or None. `outlets`: (run, side, distance); left out, the first run has one on the left. `pipes`: left
    out, each outlet has a full one.
    """
    sheet: dict[str, Any] = {"defaults": ALL_SAID, **rest, "runs": [], "outlets": []}
    for line, (run_id, (length, left, right, *more)) in enumerate(runs.items(), start=1):
        run: dict[str, Any] = {
            "id": run_id,
            "name": run_id.replace("-", " "),
            "source": [source(line, run_id)],
        }
        if length is not None:
            text = length if isinstance(length, str) else f"{Fraction(length)} in"
            run["length"] = {"value": text, "source": [source(line, text)]}
        for side, end in (("left_end", left), ("right_end", right)):
            if end is not None:
                run[side] = {"value": ENDS[end], "source": [source(line, ENDS[end])]}
        run.update(more[0] if more else {})
        sheet["runs"].append(run)
    if outlets is None:
        outlets = [(next(iter(runs)), "left")] if runs else []
    counts: dict[str, int] = {}
    for run_id, side, *distance in outlets:
        counts[run_id] = counts.get(run_id, 0) + 1
        outlet = {"id": f"{run_id}-{counts[run_id]}", "run": run_id, "from": side}
        if distance:
            outlet["distance"] = {"value": distance[0]}
        sheet["outlets"].append(outlet)
    if pipes is None:
        pipes = [{"id": outlet["id"], "outlet": outlet["id"]} for outlet in sheet["outlets"]]
    full = {
        "wall_to_fascia": {"value": "24 in"},
        "height": {"value": "108 in"},
        "ends_at": {"value": "splash block"},
    }
    sheet["downpipes"] = [
        {key: value for key, value in {**full, **pipe}.items() if value is not None} for pipe in pipes
    ]
    return Sheet.model_validate(sheet)


@pytest.fixture(scope="session")
def sheet_of() -> Callable[..., Sheet]:
    """`make_sheet`, for tests."""
    return make_sheet


@pytest.fixture(scope="session")
def box() -> Callable[..., Sheet]:
    """A plain hipped house: front, right, back and left in inches, and what else `make_sheet` takes."""

    def build(front: Any = 510, right: Any = 339, back: Any = 510, left: Any = 339, **rest: Any) -> Sheet:
        return make_sheet(
            {
                "front": (front, "O", "O"),
                "right-side": (right, "O", "O"),
                "back": (back, "O", "O"),
                "left-side": (left, "O", "O"),
            },
            **rest,
        )

    return build
