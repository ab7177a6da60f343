"""Same as, ditto, mirror of: the values come over, and each says that it came so."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from gutterance.measure.length import Length

if TYPE_CHECKING:
    from collections.abc import Callable

FRONT = "Front 30-2, cap left, OSC right, drop L, w/f 19, ht 8-10 splash"


@pytest.mark.parametrize(
    "line",
    [
        "Back same as front",
        "the back is the same as the front",
        "Rear ditto front",
        "Back: identical to the front",
        "back same as the front elevation",
    ],
)
def test_a_run_like_another(read: Callable[..., Any], line: str) -> None:
    seen = read(FRONT, line)
    seen.runs("front", "back")
    for path in ("runs.back.length", "runs.back.left_end", "downpipes.back-1.height"):
        reading = seen.at(path)
        assert reading.value == seen.at(path.replace("back", "front")).value
        assert "same as" in (reading.why or "")
        assert any(source.line == 2 for source in reading.source), "the words that copied it"
    assert "30-2" in [source.text for source in seen.at("runs.back.length").source]
    seen.outlets("back", "left")


@pytest.mark.parametrize("line", ["Back mirror of the front", "the back is a mirror image of the front"])
def test_a_mirrored_run_swaps_its_sides(read: Callable[..., Any], line: str) -> None:
    seen = read(FRONT, line)
    seen.says("runs.back.left_end", "outside corner")
    seen.says("runs.back.right_end", "end cap")
    seen.outlets("back", "right")
    seen.feet("runs.back.length", 30, 2)
    seen.inches("downpipes.back-1.wall_to_fascia", 19)


def test_the_same_with_an_exception(read: Callable[..., Any]) -> None:
    seen = read(FRONT, "Back same as the front except the height is 9-6")
    seen.feet("downpipes.back-1.height", 9, 6, "9-6")
    seen.inches("downpipes.back-1.wall_to_fascia", 19)
    seen.feet("downpipes.front-1.height", 8, 10, "8-10")


def test_the_same_with_its_outlet_elsewhere(read: Callable[..., Any]) -> None:
    seen = read(FRONT, "Back same as front but the drop is on the right")
    seen.outlets("back", "right")
    seen.outlets("front", "left")


def test_one_field_that_is_the_same(read: Callable[..., Any]) -> None:
    seen = read(FRONT, "Back 27-5 caps both, drop right, same height, w/f 14, drain")
    seen.feet("runs.back.length", 27, 5, "27-5")
    seen.feet("downpipes.back-1.height", 8, 10)
    seen.inches("downpipes.back-1.wall_to_fascia", 14, "14")


def test_a_copied_doubt_stays_a_doubt(read: Callable[..., Any]) -> None:
    seen = read("Front about 30 feet, caps both ends", "Back same as front")
    assert seen.at("runs.front.length").status == "doubtful"
    assert seen.at("runs.back.length").status == "doubtful"


def test_the_same_as_something_never_measured_gives_no_certain_value(read: Callable[..., Any]) -> None:
    seen = read("Back same as the side")
    assert not [path for path, reading in seen.sheet.readings() if reading.settled]


def test_a_correction_of_the_front_reaches_its_ditto_or_asks(read: Callable[..., Any]) -> None:
    seen = read("Front 30-2 caps both", "Back same as front", "Correction: front is 30-8")
    seen.feet("runs.front.length", 30, 8, status="corrected")
    seen.asked_or_right("runs.back.length", Length(368))


def test_same_again_for_the_other_side(read: Callable[..., Any]) -> None:
    seen = read("Left side 22-4, osc both, no drop", "Right side the same")
    seen.feet("runs.right-side.length", 22, 4)
    seen.ends("right-side", "outside corner", "outside corner")
    assert seen.sheet.outlets == []


@pytest.mark.parametrize(
    "line",
    [
        "the front is forty two six and the back is the same the sides are twenty six three each",
        "front 42 6 back same sides 26 3",
    ],
)
def test_the_sides_told_behind_a_ditto_are_not_the_run_that_is_the_same(
    read: Callable[..., Any], line: str
) -> None:
    seen = read(line)
    seen.asked_or_right("runs.back.length", Length(510))
    seen.asked_or_right("runs.left-side.length", Length(315))


@pytest.mark.parametrize(
    ("first", "overhang"),
    [
        ("Front 31-5 OSC both, drop left, w/f 22, ht 8-10, splash", 22),
        ("Front 31-5 OSC both, drop left, overhang 18, nine two to splash", 18),
        ("Front 31-5 OSC both", None),
    ],
)
@pytest.mark.parametrize(
    "line",
    [
        "Back 31-5 OSC both, drop right, nine foot one, same overhang",
        "back is 31 5 outside corners downpipe right nine foot one same overhang",
        "Back 31-5 OSC both. Drop right, same overhang, nine foot one.",
        "Back 31-5 OSC both, drop right, nine foot one and the same overhang",
    ],
)
def test_a_height_beside_the_same_overhang_is_no_overhang(
    read: Callable[..., Any], first: str, overhang: int | None, line: str
) -> None:
    seen = read(first, line)
    seen.feet("runs.back.length", 31, 5)
    for path, reading in seen.sheet.readings():
        if path.endswith("wall_to_fascia") and reading.settled:
            assert reading.value == Length(overhang or 0), f"{path}: {reading.value}"
    seen.asked_or_right("downpipes.back-1.height", Length(109))
    assert "nine foot one" in [source.text for source in seen.sheet.sources()]


def test_everything_the_same_as_one_pipe_is_of_the_pipe_in_hand(read: Callable[..., Any]) -> None:
    seen = read(
        "Front 29-3 caps, drop left, w/f 22 height 9-3 splash. Back 30-0 caps.",
        "Downpipe back right, everything same as the front one except it goes to the drain.",
    )
    seen.feet("downpipes.back-1.height", 9, 3)
    seen.inches("downpipes.back-1.wall_to_fascia", 22)
    seen.says("downpipes.back-1.ends_at", "drain")
    seen.says("downpipes.front-1.ends_at", "splash block")


@pytest.mark.parametrize("words", ["height's an inch less", "height two inches more"])
def test_the_same_with_a_difference_is_asked(read: Callable[..., Any], words: str) -> None:
    seen = read(
        "Front 26 foot, caps, drop left, wall to fascia 14, height eight and a half feet.",
        f"Back 26 foot, caps, drop left, wall to fascia the same, {words}.",
    )
    seen.asked("downpipes.back-1.height")


@pytest.mark.parametrize(
    "line",
    ["Left side same as the right.", "Left side, same as the right", "left side is the same as the right"],
)
def test_the_left_the_same_as_the_right(read: Callable[..., Any], line: str) -> None:
    seen = read("Front 31-9 OSC both", "Right side 26-2, OSC left, cap right", "Back 33-9 caps", line)
    seen.feet("runs.left-side.length", 26, 2)
    # as one faces it, or mirrored? The corner at the street is the other end of the other side
    seen.asked("runs.left-side.left_end")
    seen.asked("runs.left-side.right_end")


def test_the_same_but_for_where_the_outlet_is(read: Callable[..., Any]) -> None:
    seen = read(
        "Upper front 28-4, caps both. Outlets both ends. 14 inch wall to fascia, 16 foot 9 to the drain.",
        "Upper back is the same as the upper front except the outlet is only on the right.",
    )
    seen.outlets("upper-back", "right")
    seen.feet("downpipes.upper-back-1.height", 16, 9)
    seen.says("downpipes.upper-back-1.ends_at", "drain")
