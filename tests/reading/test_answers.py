"""Answers read in the context of their question."""

from __future__ import annotations

from typing import Any

import pytest

from gutterance.reading.answers import is_yes, read_answer

HEIGHTS = ["downpipes.a.height", "downpipes.b.height"]
REACH = "downpipes.a.wall_to_fascia"
ENDS = ["runs.f.left_end", "runs.f.right_end"]


def answered(text: str, *paths: str, metric: bool = False) -> dict[str, Any]:
    found = read_answer(text, paths, metric=metric)
    assert all(one.text == text[one.start : one.end] for each in found for one in each.reading.source)
    assert all(each.reading.source for each in found)
    return {
        one.path.rpartition(".")[2] if len(paths) == 1 else one.path: one.reading.value.file_text()
        if hasattr(one.reading.value, "file_text")
        else one.reading.value
        for one in found
    }


@pytest.mark.parametrize(
    ("text", "path", "value"),
    [
        ("9 2", HEIGHTS[0], "110 in"),
        ("nine two", HEIGHTS[0], "110 in"),
        ("it's nine foot two", HEIGHTS[0], "110 in"),
        ("9 2", "runs.f.length", "110 in"),
        ("24", REACH, "24 in"),
        ("2 foot", REACH, "24 in"),
        ("forty two six", "runs.f.length", "510 in"),
        ("6", "outlets.f-1.distance", "6 in"),
        ("18", "defaults.hanger_spacing", "18 in"),
        ("outside", "runs.f.left_end", "outside corner"),
        ("osc", "runs.f.right_end", "outside corner"),
        ("it dies into the wall", "runs.f.right_end", "wall"),
        ("cap", "runs.f.left_end", "end cap"),
        ("right", "outlets.f-1.place", "right"),
        ("into the drain", "downpipes.a.ends_at", "drain"),
        ("45", "runs.f.left_angle", 45.0),
        ("three", "totals.outlets", 3),
        ("white", "defaults.colour", "white"),
        ("3 by 4", "defaults.downpipe_size", "3x4"),
    ],
)
def test_a_few_words_after_their_question(text: str, path: str, value: Any) -> None:
    assert answered(text, path)[path.rpartition(".")[2]] == value


def test_a_metric_job_is_answered_in_millimetres() -> None:
    assert answered("2800", HEIGHTS[0], metric=True) == {"height": "2800 mm"}


def test_one_answer_for_several_questions() -> None:
    assert answered("9-4 and 8-10", *HEIGHTS) == {HEIGHTS[0]: "112 in", HEIGHTS[1]: "106 in"}
    assert answered("9-4 all round", *HEIGHTS) == {}
    assert answered("9-4 all", *HEIGHTS) == dict.fromkeys(HEIGHTS, "112 in")
    assert answered("9-4", *HEIGHTS) == {}  # of which?
    assert answered("osc both", *ENDS) == dict.fromkeys(ENDS, "outside corner")
    assert answered("cap left, inside corner right", *ENDS) == {ENDS[0]: "end cap", ENDS[1]: "inside corner"}


def test_a_distance_that_comes_with_a_place() -> None:
    found = {one.path: one.reading.value for one in read_answer("6 in from the right", ["outlets.f-1.place"])}
    assert found["outlets.f-1.place"] == "right"
    assert found["outlets.f-1.distance"].file_text() == "6 in"


@pytest.mark.parametrize(
    ("text", "path"),
    [
        ("", HEIGHTS[0]),
        ("don't know", HEIGHTS[0]),
        ("back 9 2", HEIGHTS[0]),  # of another place
        ("9 2 to the drain", HEIGHTS[0]),  # says more than was asked
        ("42-6 and 28-3", "runs.f.length"),
        ("blue", "runs.f.left_end"),
        ("3 1/2", "totals.outlets"),
        ("9 2", "defaults.nothing"),
    ],
)
def test_what_is_no_answer_is_none(text: str, path: str) -> None:
    assert read_answer(text, [path]) == []


def test_an_answer_that_leaves_room_says_so() -> None:
    (about,) = read_answer("about 9 2", [HEIGHTS[0]])
    assert about.reading.status == "doubtful"


@pytest.mark.parametrize("text", ["yes", "Yep.", "ok", "that's right", "correct!"])
def test_words_of_plain_agreement(text: str) -> None:
    assert is_yes(text)


@pytest.mark.parametrize("text", ["no", "yes but 9 3", "right side", ""])
def test_words_that_do_not_agree(text: str) -> None:
    assert not is_yes(text)
