"""Notes whose runs are named by letters or numbers from a sketch, and corners by the runs that meet.

Sides follow from geometry: facing each wall from outside, the right end of a run meets the left end of the
next one anticlockwise round the house.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from gutterance.reading.lettered.naming import find_naming

if TYPE_CHECKING:
    from collections.abc import Callable


@pytest.fixture
def told(read: Callable[..., Any]) -> Callable[[str], Any]:
    """A note of several lines, read."""
    return lambda note: read(*note.splitlines())


SQUARE = "A 30-0\nB 20-0\nC 30-0\nD 20-0\n"


@pytest.mark.parametrize(
    ("note", "names"),
    [
        ("A 31-6\nB 12-0\nC 18-4", ["a", "b", "c"]),
        ("Alpha is forty foot two. Bravo's nine six, outside both", ["a", "b"]),
        ("wall one is twenty foot and wall two is nine foot", ["1", "2"]),
        ("R1 9.2\nR2 4.1\nR3 9.2", ["1", "2", "3"]),
        ("#1 31'4\" caps\n#2 12' caps", ["1", "2"]),
        ("side A 7200, side B 4100", ["a", "b"]),
        ("run a is 24 6 then run b is 12 foot and run c is 9 foot", ["a", "b", "c"]),
        ("run 1 is 20 foot, run 2 is 12 foot, run for is 9 foot, run three is 8 foot", ["1", "2", "3", "4"]),
        ("Wall A 32-4 cap L, wall R\nWall B 18-0 caps", ["a", "b"]),
    ],
)
def test_letters_and_numbers_that_name_runs(note: str, names: list[str]) -> None:
    naming = find_naming(note.splitlines())
    assert naming is not None
    assert naming.order == names


@pytest.mark.parametrize(
    "note",
    [
        "F 40-2\nR 26-0\nB 40-2\nL 26-0",
        "N 32-0 osc both\nE 18-6\nS 32-0\nW 18-6",
        "A: what's the front?\nB: forty two six\nA: and the back?\nB: the same\nA: heights?\nB: nine four",
        "front 42-6, 2 drops, A/C unit under the left drop",
        "A drop at the left of the front, 42-6. Back 38 feet",
        "garage is 24 foot, run 2 drops off it",
        "#1 Front 30-6 OSC both\n#2 Back 28-3 OSC both\n#3 Left 22-4 OSC both",
    ],
)
def test_initials_speakers_and_counts_name_no_runs(note: str) -> None:
    assert find_naming(note.splitlines()) is None


@pytest.mark.parametrize(
    "said",
    [
        "A-B inside, rest outside",
        "A to B's an inside. All the rest outside",
        "corner A/B   inside\nothers outside",
    ],
)
def test_a_corner_named_by_its_two_runs_is_of_both(told: Callable[[str], Any], said: str) -> None:
    seen = told(f"letters go round in order\n{SQUARE}{said}")
    assert seen.at("runs.run-a.right_end").value == "inside corner"
    assert seen.at("runs.run-b.left_end").value == "inside corner"
    for end in ("run-b.right_end", "run-c.left_end", "run-d.right_end", "run-a.left_end"):
        assert seen.at(f"runs.{end}").value == "outside corner"


@pytest.mark.parametrize(("way", "side"), [("counterclockwise", "right"), ("clockwise", "left")])
def test_the_way_the_letters_go_tells_left_from_right(
    told: Callable[[str], Any], way: str, side: str
) -> None:
    seen = told(f"lettered {way} from the street\n{SQUARE}drops: A at B, C both ends")
    seen.outlets("run-a", side)
    seen.outlets("run-c", "left", "right")


@pytest.mark.parametrize(
    "said",
    [
        "drops: B end of A",
        "Drops\nA at B",
        "DP1 A at B  9-2  22 out  splash",
        "one drop on A at the B end",
        "outlet at the A/B corner of A",
        "drop AB on A",
    ],
)
def test_an_outlet_at_the_end_toward_another_run(told: Callable[[str], Any], said: str) -> None:
    seen = told(f"{SQUARE}\n{said}")
    seen.outlets("run-a", "right")


def test_a_list_of_pipes_apart_goes_to_the_outlets(told: Callable[[str], Any]) -> None:
    seen = told(f"{SQUARE}drops: A at D, C at D\n\nP1 A at D   9-2  22  splash\nP2 C at D   10-4  18  drain")
    seen.outlets("run-a", "left")
    seen.outlets("run-c", "right")
    seen.feet("downpipes.run-a-1.height", 9, 2)
    seen.inches("downpipes.run-a-1.wall_to_fascia", 22)
    seen.says("downpipes.run-c-1.ends_at", "drain")
    seen.feet("downpipes.run-c-1.height", 10, 4)


def test_two_pipe_numbers_that_could_each_be_either_are_asked(told: Callable[[str], Any]) -> None:
    seen = told(f"{SQUARE}drops: A left\n\npipes\nA  9  12  splash")
    reading = seen.sheet.reading_at("downpipes.run-a-1.height")
    assert reading is None or reading.status == "doubtful"


def test_a_pipe_same_as_another_by_its_label(told: Callable[[str], Any]) -> None:
    note = "run 1 30-0 caps\nrun 2 20-0 caps\nP1 on run 1 L  9'2  16 out  4\" offset at ledge  drain"
    seen = told(f"{note}\nP2 on run 2 R  9'6  same as P1")
    seen.feet("downpipes.run-2-1.height", 9, 6)
    assert seen.at("downpipes.run-2-1.ends_at").value == "drain"
    assert (
        seen.at("downpipes.run-2-1.wall_to_fascia").value == seen.at("downpipes.run-1-1.wall_to_fascia").value
    )


@pytest.mark.parametrize("names", ["5 and 6 same as 1", "5-6 same as 1", "#5 & #6 same as #1"])
def test_listed_runs_same_as_another(told: Callable[[str], Any], names: str) -> None:
    lines = [f"#{number} {10 + number}-0 caps" for number in range(1, 5)]
    names = names if "#" in names else f"#{names}"
    seen = told("\n".join([*lines, names]))
    for run in ("run-5", "run-6"):
        assert seen.at(f"runs.{run}.length").value == seen.at("runs.run-1.length").value


def test_a_value_for_each_list_of_runs(told: Callable[[str], Any]) -> None:
    seen = told("run 1 30-0 caps\nrun 2 12-0 caps\nrun 3 30-0 caps\neave to ridge 14' on 1 & 3, 9'6 on 2")
    seen.feet("runs.run-1.roof_run", 14)
    seen.feet("runs.run-3.roof_run", 14)
    seen.feet("runs.run-2.roof_run", 9, 6)


def test_spoken_without_punctuation(told: Callable[[str], Any]) -> None:
    seen = told(
        "wall one is forty foot outside corner both ends wall two is twenty six three outside at three "
        "wall three is nineteen and a half feet inside at four wall four is eight foot even outside at five "
        "wall five is twenty foot cap at the right"
    )
    seen.feet("runs.run-2.length", 26, 3)
    assert seen.at("runs.run-2.right_end").value == "outside corner"
    assert seen.at("runs.run-3.right_end").value == "inside corner"
    assert seen.at("runs.run-4.left_end").value == "inside corner"
    assert seen.at("runs.run-5.right_end").value == "end cap"


def test_a_letter_that_is_also_a_side_keeps_its_letter(told: Callable[[str], Any]) -> None:
    seen = told("A is the front, 42-6, caps. B is the back, 38-0, caps. C is the porch, 12-0, caps")
    assert [run.id for run in seen.sheet.runs] == ["run-a", "run-b", "run-c"]


def test_a_side_told_of_later_is_the_letter_it_was_given(told: Callable[[str], Any]) -> None:
    seen = told(
        "Run one is the front, 42-6, caps, drop left. Run two is the back, 38-0, caps, drop right."
        "\nthe back is 9-8 high"
    )
    seen.feet("downpipes.run-2-1.height", 9, 8)
    assert [run.id for run in seen.sheet.runs] == ["run-1", "run-2"]


def test_lengths_that_are_added_up_are_no_runs(told: Callable[[str], Any]) -> None:
    seen = told(f"{SQUARE}A and C make sixty foot between them")
    seen.feet("runs.run-a.length", 30)
    seen.feet("runs.run-c.length", 30)


def test_runs_that_meet_out_of_order_at_the_ends_that_are_left(told: Callable[[str], Any]) -> None:
    seen = told("A 30-0 cap left\nB 20-0 caps\nC 8-0 cap right\nA/C inside\nno special order to the letters")
    assert seen.at("runs.run-a.right_end").value == "inside corner"
    assert seen.at("runs.run-c.left_end").value == "inside corner"


def test_runs_that_meet_out_of_order_at_no_known_end_are_asked_about(told: Callable[[str], Any]) -> None:
    seen = told("A 30-0\nB 20-0 caps\nC 8-0\nA/C inside\nno order to the letters")
    ends = [seen.at(f"runs.{run}.{side}_end") for run in ("run-a", "run-c") for side in ("left", "right")]
    assert all(end.status == "missing" for end in ends)


def test_a_side_against_the_order_is_asked_about(told: Callable[[str], Any]) -> None:
    seen = told(
        "lettered anticlockwise\nA 30-0 cap right, outside left into B\nB 20-0 cap left, outside right"
    )
    assert seen.at("runs.run-a.left_end").status == "doubtful"


def test_a_corner_is_shared_by_the_order_of_letters(told: Callable[[str], Any]) -> None:
    seen = told("lettered in order round the house\nA 30-0 cap left, outside right\nB 20-0 cap right")
    assert seen.at("runs.run-b.left_end").value == "outside corner"
    assert seen.at("runs.run-b.left_end").status == "inferred"
    seen = told("A 30-0 cap left, outside right\nB 20-0 cap right\nC 9-0 caps")
    assert seen.at("runs.run-b.left_end").status == "doubtful"


def test_an_open_chain_does_not_close(told: Callable[[str], Any]) -> None:
    seen = told("A 30-0 outside right\nB 20-0 outside right\nC 30-0 cap right\nlettered in order")
    assert seen.sheet.reading_at("runs.run-a.left_end") is None


def test_what_stands_by_a_run_is_a_remark_on_it(told: Callable[[str], Any]) -> None:
    seen = told(f"{SQUARE}oil tank hard up against C\nlow branch over D")
    assert {(remark.about, remark.kind) for remark in seen.sheet.remarks} == {
        ("run-c", "hazard"),
        ("run-d", "hazard"),
    }


def test_a_pipe_that_falls_into_the_gutter_of_another_run(told: Callable[[str], Any]) -> None:
    seen = told(f"{SQUARE}drops: A left, C left\nDPs\nA  9-2  16  splash\nC  5-6  16  dumps in A gutter")
    seen.says("downpipes.run-c-1.ends_at", "lower gutter")


def test_a_pitch_for_each_storey(told: Callable[[str], Any]) -> None:
    seen = told("UPPER\nA 30-0 caps\nB 30-0 caps\nLOWER\nC 12-0 caps\n\npitch up 9/12, low 3/12")
    assert seen.at("runs.run-b.roof_pitch").value == "9/12"
    assert seen.at("runs.run-c.roof_pitch").value == "3/12"


def test_a_run_of_pipe_height_beside_an_outlet_is_asked_about(told: Callable[[str], Any]) -> None:
    seen = told("run 1 30-0 caps\nrun 2 9-4 drop left")
    assert seen.at("runs.run-2.length").status == "doubtful"


@pytest.mark.parametrize(
    ("note", "pitch"),
    [("A 7200 caps\nB 7200 caps\npitch 35", "35 degrees"), ("front 42-6 caps\n\npitch 6", "6/12")],
)
def test_a_bare_pitch_is_of_degrees_on_a_metric_job(
    told: Callable[[str], Any], note: str, pitch: str
) -> None:
    assert told(note).at("defaults.roof_pitch").value == pitch


def test_a_number_of_a_pipe_that_nobody_placed_is_unread(told: Callable[[str], Any]) -> None:
    seen = told("A 30-0 caps\nB 20-0 caps\ndrops: A left, B left\n\npipe 7, 4 in over the plinth")
    seen.unread("4 in")
    assert all(pipe.wall_to_fascia is None for pipe in seen.sheet.downpipes)


def test_which_of_two_corners_is_not_told_by_numbers_with_a_slash_alone(told: Callable[[str], Any]) -> None:
    seen = told("run 1 30-0 cap L\nrun 2 20-0 cap R\n1/2 corner is inside")
    assert seen.at("runs.run-1.right_end").value == "inside corner"
    assert seen.at("runs.run-2.left_end").value == "inside corner"


def test_a_yard_drain_is_no_measure_of_yards(told: Callable[[str], Any]) -> None:
    seen = told("A 30-0 caps\nB 20-0 caps\nDPs\nA left  8-9  12  yard drain")
    seen.inches("downpipes.run-a-1.wall_to_fascia", 12)
    seen.feet("downpipes.run-a-1.height", 8, 9)


def test_a_line_that_fixes_a_letter_corrects_it(told: Callable[[str], Any]) -> None:
    seen = told("A 30-0 caps\nB 20-0 caps\n\nfix B: 22-0")
    seen.feet("runs.run-b.length", 22, status="corrected")
    seen = told("A 30-0 caps\nB 20-0 caps\n\nfix B: 22-0\nun-fix B, the tape was caught")
    assert seen.at("runs.run-b.length").status == "doubtful"


def test_fewer_outlets_than_were_told_are_asked_about(told: Callable[[str], Any]) -> None:
    seen = told("A 30-0 caps\nB 20-0 caps\n\ndrops\nA left and A right. No, just one on A, in the middle")
    assert all(
        outlet.place.status == "doubtful"
        for outlet in seen.sheet.outlets_of("run-a")
        if outlet.from_ in ("left", "right")
    )


def test_a_list_by_number_below_a_table_of_the_runs(told: Callable[[str], Any]) -> None:
    seen = told(
        "runs numbered on the sketch\n\n#   length   left   right\n1   38-0     OSC    OSC\n"
        "2   24-8     OSC    cap\n3   14-0     cap    cap\n\noutlets\n#1 left\n#3 centre"
    )
    seen.outlets("run-1", "left")
    seen.outlets("run-3", "centre")
