"""Several houses in one note: each has runs of its own."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable


@pytest.mark.parametrize(
    ("first", "second"), [("number 11", "number 13"), ("unit 2", "unit 3"), ("House 4.", "house five")]
)
def test_runs_are_of_the_house_named_last(read: Callable[..., Any], first: str, second: str) -> None:
    seen = read(
        f"{first} front 17-2 wall both ends drop left 12 out 15-6 down drain back 17-2 wall left cap right. "
        f"{second} front 17-4 wall left, cap right, drop right 12 out 15-9 down drain"
    )
    assert len(seen.sheet.runs) == 3
    ids = [run.id for run in seen.sheet.runs]
    assert ids[0].endswith("-front")
    assert ids[2].endswith("-front")
    assert ids[0] != ids[2]
    seen.feet(f"runs.{ids[0]}.length", 17, 2)
    seen.feet(f"runs.{ids[2]}.length", 17, 4)
    seen.feet(f"downpipes.{ids[2]}-1.height", 15, 9)
    assert not [one for one in seen.sheet.unread if one.text.isdecimal()]


def test_one_house_with_a_number_is_one_house(read: Callable[..., Any]) -> None:
    seen = read("This is number 14 Quarry Lane.", "Front 40-2 caps both, drop left, by number 16")
    seen.runs("front")
