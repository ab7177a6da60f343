"""What a note says beside its values: gutter that is to spill, gutter already there, pipes down a post."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from gutterance.checking import as_it_stands
from gutterance.checking.said_beside import SaidFileError, phrases, read_phrases
from gutterance.lists import make_lists
from gutterance.reading import read_note
from gutterance.shop import load_shop

if TYPE_CHECKING:
    from collections.abc import Callable

    from gutterance.sheet.models import Sheet

HOUSE = [
    "5 inch K-style, white, 2x3 downpipes",
    "Front 42-6 end caps both ends, drop left, w/f 24, height 9-4, splash.",
]


def codes(*lines: str) -> list[str]:
    return [found.code for found in as_it_stands(read_note([*HOUSE, *lines])).findings]


def test_gutter_that_is_to_spill_is_not_asked_about_and_is_made_without_a_hole() -> None:
    lines = [*HOUSE, "Shed front 11-10, end caps both ends, no drop, just let it spill"]
    stands = as_it_stands(read_note(lines))
    assert [found.code for found in stands.findings] == ["no-outlet-wanted"]
    assert "“no drop”" in stands.findings[0].says
    made = make_lists(stands.sheet, stands.findings, load_shop(None))
    (piece,) = [one for one in made.pieces if one.run == "shed-front"]
    assert piece.outlets == []
    assert piece.hold == []


def test_words_of_one_run_settle_nothing_of_another() -> None:
    found = codes("Shed front 11-10 end caps both ends, no drop", "Shed back 11-10 end caps both ends")
    assert found.count("outlet-missing") == 1


def test_words_told_of_two_runs_at_once_are_told_of_both() -> None:
    found = codes("Dormer left and dormer right 6-10 each, end caps both ends, no downspout")
    assert found == ["no-outlet-wanted"] * 2


def test_a_pipe_down_a_post_has_no_throw() -> None:
    lines = [*HOUSE, "Porch front 22-0 end caps both ends, drop left, down the post, height 8-0, splash"]
    stands = as_it_stands(read_note(lines))
    (porch,) = [pipe for pipe in stands.sheet.downpipes if pipe.id.startswith("porch")]
    assert porch.wall_to_fascia is not None
    assert porch.wall_to_fascia.value is not None
    assert porch.wall_to_fascia.value.inches == 0
    assert porch.wall_to_fascia.status == "inferred"
    assert [found.code for found in stands.findings] == ["value-inferred"]
    # read again, the same sheet gives the same
    assert as_it_stands(stands.sheet).sheet == stands.sheet


def test_a_pipe_too_short_for_two_elbows_drops_straight_onto_the_roof_below() -> None:
    short = "Dormer front 6-0 end caps both ends, drop left, height 10 inches, to the lower roof"
    assert "wall-to-fascia-missing" not in codes(short)
    assert "wall-to-fascia-missing" in codes(short.replace("10 inches", "3-0"))


def test_existing_gutter_round_a_corner_is_told_and_not_asked() -> None:
    lines = [
        "Back 33-2 OSC both ends, drop centre, w/f 14, height 9-8, splash",
        "Left side 27-0 OSC both ends",
    ]
    told = "We meet the existing gutter at the front corner and at the right side corner"
    found = {one.code for one in as_it_stands(read_note([*lines, told])).findings}
    assert "gutter-beyond" in found
    assert "run-missing" not in found
    assert "run-missing" in {one.code for one in as_it_stands(read_note(lines)).findings}


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("[[said", "not TOML"),
        ("[[told]]\nwords = []", "rows are"),
        ('[[said]]\nsettles = "colour"\nwords = ["red"]', "row 1"),
        ('[[said]]\nsettles = "outlet"\nwords = []', "row 1: words must be"),
        ('[[said]]\nsettles = "outlet"\nwords = ["no drop"]', "add one"),
    ],
)
def test_a_broken_file_is_named_by_its_row(text: str, says: str) -> None:
    with pytest.raises(SaidFileError, match=says):
        read_phrases(text, "said.toml")


def test_a_star_stands_for_up_to_four_words() -> None:
    beyond = phrases()["gutter beyond"]
    assert beyond.search("where we tie into the old white existing trough")
    assert beyond.search("ties existing")
    assert not beyond.search("tie the ladder off well before you take down any of the existing")


def test_a_short_pipe_that_ends_on_no_roof_is_asked_about(sheet_of: Callable[..., Sheet]) -> None:
    pipe = {"id": "front-1", "outlet": "front-1", "wall_to_fascia": None, "height": {"value": "10 in"}}
    found = [one.code for one in as_it_stands(sheet_of({"front": (510, "C", "C")}, pipes=[pipe])).findings]
    assert "wall-to-fascia-missing" in found
