"""Notes told in long grammatical sentences: which run each clause is about, and what its number measures."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable

OPENING = (
    "Dear Sirs, as I promised your foreman when he rang on Thursday evening I have gone over the "
    "whole of the "
    "house again with a steel tape, and I have tried to leave out nothing that the men who are to "
    "hang the work "
    "could possibly want to know about it, so that they need not come twice. "
)
"""Words enough that a note is one of long sentences."""


def letter(*sentences: str) -> str:
    """A letter of one paragraph."""
    return OPENING + " ".join(sentences)


def test_a_run_measured_at_the_end_of_its_sentence(read: Callable[..., Any]) -> None:
    seen = read(
        letter(
            "The front, which looks over the valley and has caught every gale for a hundred years, "
            "runs from a "
            "stop end at the left to an outside corner on the right and measures, along the foot of "
            "the slates, "
            "11.38 metres."
        )
    )
    seen.mm("runs.front.length", 11380)
    seen.ends("front", "end cap", "outside corner")


@pytest.mark.parametrize(
    "told",
    [
        "it has a single pipe at the left, which drops 4.83 metres into a gully, the board standing out from "
        "the wall by 290 millimetres",
        "there is one downpipe on it, at the left-hand end, of which the height is 4.83 metres and "
        "the overhang "
        "290 millimetres, and which discharges into the drain",
        "its pipe is at the left, is 4.83 metres from the outlet to the ground, goes to a soakaway, "
        "and stands "
        "under a fascia that projects 290 millimetres",
    ],
)
def test_a_pipe_told_in_clauses(read: Callable[..., Any], told: str) -> None:
    seen = read(letter(f"The back measures 9.4 metres with an outside corner at each end, and {told}."))
    seen.mm("runs.back.length", 9400)
    seen.outlets("back", "left")
    seen.mm("downpipes.back-1.height", 4830)
    seen.mm("downpipes.back-1.wall_to_fascia", 290)
    seen.says("downpipes.back-1.ends_at", "drain")


def test_next_door_s_line_is_a_stop_end_and_the_other_side_is_one_s_own(read: Callable[..., Any]) -> None:
    seen = read(
        letter(
            "Ours is the right-hand one of the pair, so the front stops at the party wall on the "
            "left, where there "
            "is a stop end, and turns an outside corner at the right on to the side, and it comes to "
            "6.05 metres.",
            "The side has no pipe and, from the corner at the front to the one at the back, is 7.9 metres.",
        )
    )
    seen.ends("front", "end cap", "outside corner")
    seen.mm("runs.right-side.length", 7900)
    seen.says("runs.right-side.right_end", "outside corner")
    assert not seen.sheet.outlets


def test_three_sides_of_a_porch(read: Callable[..., Any]) -> None:
    seen = read(
        letter(
            "Over the door is a porch with a gutter round it, the two returns coming out from the "
            "house wall to the "
            "corners and being 705 millimetres each, and the face of it, corner to corner, 1.92 metres."
        )
    )
    for side in ("left", "right"):
        seen.mm(f"runs.porch-{side}-side.length", 705)
    seen.mm("runs.porch-front.length", 1920)
    seen.ends("porch-left-side", "wall", "outside corner")
    seen.ends("porch-right-side", "outside corner", "wall")
    seen.ends("porch-front", "outside corner", "outside corner")


def test_two_runs_told_respectively(read: Callable[..., Any]) -> None:
    seen = read(
        letter(
            "The east and west eaves are 8.31 and 8.36 metres respectively, with stop ends at both ends, "
            "and neither of them has a pipe."
        )
    )
    seen.mm("runs.east.length", 8310)
    seen.mm("runs.west.length", 8360)
    seen.ends("west", "end cap", "end cap")


def test_a_height_for_each_end(read: Callable[..., Any]) -> None:
    seen = read(
        letter(
            "The front is 12.1 metres with a stop end at each end and has two pipes, one at each "
            "end, with heights of "
            "3.35 metres at the left and 3.6 at the right, both going into the drain."
        )
    )
    seen.outlets("front", "left", "right")
    seen.mm("downpipes.front-1.height", 3350)
    seen.mm("downpipes.front-2.height", 3600)


def test_measures_of_other_things_are_no_run_s(read: Callable[..., Any]) -> None:
    seen = read(
        letter(
            "The front is 8.4 metres with stop ends at both ends.",
            "The passage beside it is only 950 millimetres wide, and the cherry tree in front of it "
            "is 5.5 metres "
            "tall, so bring the short ladders.",
        )
    )
    seen.mm("runs.front.length", 8400)
    seen.runs("front")
    assert not seen.sheet.downpipes


def test_what_is_not_followed_is_asked_about(read: Callable[..., Any]) -> None:
    seen = read(
        letter(
            "The front is 8.4 metres with stop ends at both ends.",
            "The back is 8.42 metres with stop ends at both ends too.",
            "The dairy is 3.1 metres, with a stop end at each end.",
            "The left side, no wait, I mean what you would call the right side, comes to 6.2 metres "
            "and it has a "
            "stop end at each end of it.",
        )
    )
    seen.mm("runs.back.length", 8420)
    for run in ("left-side", "right-side"):
        seen.asked(f"runs.{run}.length")


def test_what_it_is_made_of_and_what_is_said_beside(read: Callable[..., Any]) -> None:
    seen = read(
        "Dear Edda,",
        "",
        letter("The back eave at 31 Weir Lane is 8.4 metres with stop ends at both ends."),
        "",
        "We should like it in half round, 125 wide, of zinc, with round pipes of 80.",
        "",
        "There is a hornets' nest under the back eave, and I would ask you not to come before 9:15 as my "
        "father sleeps badly.",
    )
    assert seen.sheet.title == "31 Weir Lane"
    seen.says("defaults.gutter_profile", "half round")
    seen.mm("defaults.gutter_size", 125)
    seen.says("defaults.material", "zinc")
    seen.says("defaults.downpipe_size", "80 mm round")
    seen.remark("hazard", "hornets", "back")
    seen.remark("customer", "before 9:15")
    seen.never_a_value("9:15")


def test_clipped_notes_are_left_as_they_were(read: Callable[..., Any]) -> None:
    seen = read("front 42-6 osc/osc\nback same, drop L 9-4 sb")
    seen.feet("runs.front.length", 42, 6)


def test_a_height_told_by_where_it_goes_from_and_to(read: Callable[..., Any]) -> None:
    seen = read(
        letter(
            "The front is 10.6 metres long with a stop end at each end.",
            "It has one pipe at the right, and from the underside of the guttering down to the gravel "
            "there I read 2.71 metres, and it goes to the drain.",
        )
    )
    seen.mm("runs.front.length", 10600)
    seen.outlets("front", "right")
    seen.mm("downpipes.front-1.height", 2710)


def test_a_run_has_one_length(read: Callable[..., Any]) -> None:
    seen = read(
        letter(
            "The back is 7.4 metres long with a stop end at each end and a pipe at each end.",
            "Behind the house the ground falls away: at the back it is 3.15 at the left and 2.6 at the right"
            ".",
        )
    )
    seen.mm("runs.back.length", 7400)
    seen.mm("downpipes.back-1.height", 3150)
    seen.mm("downpipes.back-2.height", 2600)


def test_the_distance_of_one_pipe_is_not_the_other_ones(read: Callable[..., Any]) -> None:
    seen = read(
        letter(
            "The back is 44 feet long and capped at both ends.",
            "There are two downspouts on it, one 5 feet in from the right end and the other at the left end, "
            "and each of them drops 9 feet 2 inches to a splash block.",
        )
    )
    seen.outlets("back", "right", "left")
    seen.inches("outlets.back-1.distance", 60)
    assert "outlets.back-2.distance" not in dict(seen.sheet.readings())


def test_a_part_passed_on_the_way_is_not_what_is_measured(read: Callable[..., Any]) -> None:
    seen = read(
        letter("At the back, where I could stand on the deck without a ladder, I made it 38 feet 3 inches.")
    )
    seen.inches("runs.back.length", 459)


def test_water_that_leaves_at_an_end_is_a_pipe(read: Callable[..., Any]) -> None:
    seen = read(
        letter(
            "The front is 26 feet long and is capped at both ends.",
            "The water at the front should leave on the right, and it is 8 feet 5 inches from the eave to "
            "the dirt.",
        )
    )
    seen.outlets("front", "right")


def test_a_second_pipe_of_the_same_run(read: Callable[..., Any]) -> None:
    seen = read(
        letter(
            "The rear measures 16.2 metres and is stopped at both ends.",
            "It has a downpipe at the right end, 3.4 metres down to a gully, and another at the left end, "
            "3.7 metres, which empties into a water butt.",
        )
    )
    seen.outlets("back", "right", "left")
    seen.mm("downpipes.back-1.height", 3400)
    seen.mm("downpipes.back-2.height", 3700)
    seen.says("downpipes.back-2.ends_at", "barrel")


def test_an_end_is_not_copied_over_words_that_tell_another(read: Callable[..., Any]) -> None:
    seen = read(
        letter(
            "The garage front is 5.2 metres with a stop end on its right end and its left end hitting the "
            "house wall."
        )
    )
    left = dict(seen.sheet.readings()).get("runs.garage-front.left_end")
    assert left is None or left.value != "end cap" or left.status == "doubtful"


def test_pipes_as_a_sum_and_then_by_their_runs(read: Callable[..., Any]) -> None:
    seen = read(
        letter(
            "The front is 12.1 metres long and the back is 12.3 metres long.",
            "There will be four pipes, two on the back and two on the front, one at each end of both.",
            "From the gutter to the path at the back is 2.4 metres at both ends, and both go to the drain.",
        )
    )
    seen.outlets("front", "left", "right")
    seen.outlets("back", "left", "right")
    seen.mm("downpipes.back-2.height", 2400)


def test_the_same_at_another_run(read: Callable[..., Any]) -> None:
    seen = read(
        letter(
            "The front is 9.1 metres long with a pipe at the left, and the rear is 9.3 metres long with a "
            "pipe at the right.",
            "The board is 260 mm from the wall at the front and the same at the rear.",
        )
    )
    seen.mm("downpipes.front-1.wall_to_fascia", 260)
    seen.mm("downpipes.back-1.wall_to_fascia", 260)


def test_no_run_is_made_for_what_is_said_of_a_roof(read: Callable[..., Any]) -> None:
    seen = read(
        letter(
            "The back is 14.2 metres long and is stopped at both ends, with a pipe at the right.",
            "The garage front is 5.1 metres long and is stopped at both ends, with a pipe at the left.",
            "The porch roof overhangs by 150 mm and the garage overhangs by 210 mm.",
        )
    )
    seen.runs("back", "garage-front")
    seen.mm("downpipes.garage-front-1.wall_to_fascia", 210, status="doubtful")
    assert "150 mm" in [one.text for one in seen.sheet.unread]


def test_the_side_of_a_reason_is_of_no_end(read: Callable[..., Any]) -> None:
    seen = read(
        letter(
            "The back is 13 metres long, because the scullery sticks out on the left, and it has stop ends."
        )
    )
    seen.ends("back", "end cap", "end cap")


def test_where_words_and_grammar_differ_it_is_asked() -> None:
    from gutterance.reading import read_note
    from gutterance.reading.prose.choosing import SECOND_READING

    sheet = read_note(
        [
            "My daughter held the other end of the tape for me, and so here is my bungalow, 12 Curlew Walk. "
            "If you stand in the road and look at it, the gutter along the front goes from the left hand "
            "corner, where it carries on round the side, to the chimney on the right, where it stops, and "
            "that is 8.15 metres. Along the back it is 8.30 metres and it stops with a cap at the end by the "
            "greenhouse, "
            "which is the left as you look at the back. The front has its pipe by the chimney, 2.35 metres, "
            "and that one goes in the flower bed. The side has not got a pipe at all."
        ]
    )
    right = dict(sheet.readings()).get("runs.back.right_end")
    assert right is None or right.status == "doubtful"
    assert right is None or SECOND_READING in (right.why or "")
