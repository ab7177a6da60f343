"""What is no measurement but must be seen: hazards, repairs, access, the customer's wishes."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable

FRONT, BACK = "Front 30-6 OSC both, drop left, w/f 20, 9-4 splash", "Back 30-6 OSC both"


@pytest.mark.parametrize(
    ("line", "kind", "words"),
    [
        ("Watch the power line at the left corner", "hazard", "power line"),
        ("wasps' nest under the soffit", "hazard", "wasps"),
        ("fascia is rotten by the downpipe", "repair", "rotten"),
        ("Beware of the dog, it's loose in the yard", "hazard", "dog"),
        ("gate is locked, key under the mat", "access", "gate"),
    ],
)
def test_a_remark_on_its_own_line(read: Callable[..., Any], line: str, kind: str, words: str) -> None:
    seen = read(FRONT, line, BACK)
    seen.remark(kind, words)
    seen.runs("front", "back")
    seen.feet("runs.front.length", 30, 6, "30-6")
    seen.feet("downpipes.front-1.height", 9, 4, "9-4")


def test_a_remark_belongs_to_the_run_it_was_made_on(read: Callable[..., Any]) -> None:
    seen = read(
        "Front 30-6 OSC both. Fascia board is rotten.", "Back 28-1 OSC both. Power line over the corner."
    )
    seen.remark("repair", "rotten", about="front")
    seen.remark("hazard", "Power line", about="back")


def test_numbers_in_a_remark_do_not_become_the_run(read: Callable[..., Any]) -> None:
    seen = read("Front 30-6 caps both. Rotten fascia on the left third, maybe 6 feet of it.", BACK)
    seen.feet("runs.front.length", 30, 6, "30-6")
    assert seen.shown("6 feet") or any("6 feet" in s.text for _, r in seen.sheet.readings() for s in r.source)


def test_a_remark_does_not_swallow_a_measurement_behind_it(read: Callable[..., Any]) -> None:
    seen = read("Front 30-6 caps both, rotten fascia, drop left, w/f 18, height 8-7, splash")
    seen.outlets("front", "left")
    seen.inches("downpipes.front-1.wall_to_fascia", 18, "18")
    seen.feet("downpipes.front-1.height", 8, 7, "8-7")


def test_an_outlets_place_wished_for_is_read_or_asked_about(read: Callable[..., Any]) -> None:
    seen = read("Garage front 20' 6\" cap both ends. She wants the drop sixteen inches off the right end.")
    for outlet in seen.sheet.outlets:
        assert outlet.from_ in ("right", None)
    assert seen.sheet.outlets
    assert seen.shown("sixteen inches") or seen.sheet.reading_at("outlets.garage-front-1.distance")


def test_what_a_hazard_hangs_over_belongs_to_its_words(read: Callable[..., Any]) -> None:
    """The crew reads the hazard on the install sheet: it must not end before the place."""
    seen = read(FRONT, "Careful of the cable over the carport, and 2 foot of soft fascia by the tap", BACK)
    assert any("over the carport" in remark.text for remark in seen.sheet.remarks if remark.kind == "hazard")
