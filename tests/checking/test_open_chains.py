"""Gables: eaves that are compared, added up, or walked round a hip; and a side left out of a house."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from gutterance.checking import Finding, as_it_stands, check_sheet
from gutterance.sheet.amendments import Amendment

if TYPE_CHECKING:
    from collections.abc import Callable

    from gutterance.sheet.models import Sheet

    Build = Callable[..., Sheet]


def differing(sheet: Sheet) -> list[Finding]:
    return [found for found in check_sheet(sheet) if found.code == "opposite-eaves-differ"]


def stepped(back: int) -> dict[str, tuple[Any, ...]]:
    """A front that steps by 4 ft, and the back eave across."""
    return {
        "front-left": (240, "C", "O"),
        "front-step": (48, "O", "I"),
        "front-right": (276, "I", "C"),
        "back": (back, "C", "C"),
    }


def test_stepped_eaves_are_added_up(sheet_of: Build) -> None:
    assert differing(sheet_of(stepped(516))) == []
    (found,) = differing(sheet_of(stepped(396)))  # ten feet
    assert "make together 43' 0\"" in found.says
    assert "differ by 10' 0\"" in found.says
    assert "back 43' 0\"" in [offer.value for offer in found.suggests]
    assert "runs.front-step" not in found.holds


def hip(back: int) -> dict[str, tuple[Any, ...]]:
    """Eaves on three sides, a gable on the left."""
    return {"front": (510, "C", "O"), "right-side": (339, "O", "O"), "back": (back, "O", "C")}


def test_eaves_round_a_hip_end_level_at_the_gable(sheet_of: Build) -> None:
    assert differing(sheet_of(hip(510))) == []
    (found,) = differing(sheet_of(hip(522)))
    assert found.holds == ["runs.front", "runs.back"]
    assert {"front 43' 6\"", "back 42' 6\""} <= {offer.value for offer in found.suggests}


def test_eaves_that_somebody_confirmed_are_not_asked_about_again(sheet_of: Build) -> None:
    sheet = sheet_of(
        {"front": (504, "C", "C"), "back": (288, "C", "C")}, [("front", "left"), ("back", "left")]
    )
    (found,) = differing(sheet)
    as_told = found.suggests[-1]
    assert as_told.value == "as told"
    agreed = [
        Amendment(path=one.path, value=one.value, by="Ann", when="2026-05-04", why="seen", was=one.value)
        for one in as_told.changes
    ]
    assert as_it_stands(sheet, agreed).findings == []


def test_each_storey_and_building_by_itself(sheet_of: Build) -> None:
    runs = {
        "upper-front": (400, "C", "C", {"storey": "upper"}),
        "upper-back": (400, "C", "C", {"storey": "upper"}),
        "front": (510, "C", "C", {"storey": "lower"}),
        "back": (390, "C", "C", {"storey": "lower"}),
    }
    (found,) = differing(sheet_of(runs))
    assert set(found.holds) == {"runs.front", "runs.back"}


@pytest.mark.parametrize(("right", "left"), [(339, None), (None, 339)])
def test_the_length_of_a_side_left_out_is_offered(
    sheet_of: Build, right: int | None, left: int | None
) -> None:
    runs: dict[str, tuple[Any, ...]] = {"front": (510, "O", "O"), "back": (510, "O", "O")}
    runs |= {"right-side": (right, "O", "O")} if right else {}
    runs |= {"left-side": (left, "O", "O")} if left else {}
    (found,) = [one for one in check_sheet(sheet_of(runs)) if one.code == "run-missing"]
    name = "left side" if right else "right side"
    assert [offer.value for offer in found.suggests] == [f"{name} 28' 3\""]
