"""Runs and pipes that a note gives codes of its own."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Callable


def test_a_code_stands_for_the_place_told_behind_it(read: Callable[..., Any]) -> None:
    seen = read(
        "G1  Front       22' 6\"   LH external angle   RH stop end",
        "G2  Left side   36' 1\"   LH stop end         RH external angle",
        'D1  G1, LH      height 17\' 4"   eaves 9"   to drain',
    )
    seen.runs("front", "left-side")
    seen.feet("runs.front.length", 22, 6)
    seen.feet("downpipes.front-1.height", 17, 4)
    assert {one.why for one in seen.sheet.unread} == {"a code of the note's own, not a length"}
    for path, reading in seen.sheet.readings():
        for source in reading.source:
            assert seen.sheet.note[source.line - 1][source.start : source.end] == source.text, path


def test_codes_with_colons_and_one_used_again_at_the_start_of_a_line(read: Callable[..., Any]) -> None:
    seen = read(
        "E1: North eave, 14.26 m, caps both ends",
        "E2: South eave, 14.31 m, caps both ends",
        "E2 drop left, 2710 down, 450 out",
    )
    seen.runs("north", "south")
    assert seen.at("downpipes.south-1.height").value.tape_text() == "2710 mm"


def test_codes_that_name_no_places_stay_what_they_were(read: Callable[..., Any]) -> None:
    seen = read("R1 30-6 caps both ends", "R2 28-4 caps both ends", "R1 drop left")
    assert len(seen.sheet.runs) == 2
    assert not [one for one in seen.sheet.unread if "code of the note's own" in one.why]
