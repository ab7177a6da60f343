"""Messages copied out of a chat, and answers written on dots or lines."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from gutterance.reading import read_note
from gutterance.reading.chat_lines import chat_lines

if TYPE_CHECKING:
    from collections.abc import Callable

SAID = ["front 36-5 caps both ends", "drop right, 9-2 down to a splash block", "overhang?", "18"]
WHO = ["Ty", "Ty", "Office", "Ty"]
TIMES = ["9:02", "9:04", "9:05", "9:07"]


@pytest.mark.parametrize(
    "front",
    [
        "{who} {time}  {said}",
        "{who}, {time} AM: {said}",
        "{who} ({time}): {said}",
        "[14/10/2026, 0{time}:11] {who}: {said}",
        "14/10/26, 0{time} - {who}: {said}",
        "{time} am {who}: {said}",
        "Oct 14, {time} AM - {who}: {said}",
        "{who} Wed {time}\n{said}",
    ],
)
def test_names_and_times_are_no_part_of_what_is_told(read: Callable[..., Any], front: str) -> None:
    lines = [
        front.format(who=who, time=time, said=said) for who, time, said in zip(WHO, TIMES, SAID, strict=True)
    ]
    seen = read(*"\n".join(lines).split("\n"))
    seen.runs("front")
    seen.feet("runs.front.length", 36, 5, "36-5")
    seen.feet("downpipes.front-1.height", 9, 2, "9-2")
    seen.feet("downpipes.front-1.wall_to_fascia", 1, 6)
    assert len([one for one in seen.sheet.unread if one.why == "looks like a time of day"]) == len(SAID)


def test_runs_with_lengths_like_times_are_no_chat() -> None:
    assert chat_lines(["Front 9:02 caps", "Back 9:04 caps", "Left 7:01 caps", "Right 7:01 caps"]) is None


def test_a_message_that_goes_on_belongs_to_who_began_it(read: Callable[..., Any]) -> None:
    seen = read(
        "Mo 10:14: the back is 28-3",
        "caps both ends",
        "drop left 9-4, w/f 18",
        "Mo 10:16: front is the same",
        "Al 10:20: same drop?",
        "Mo 10:21: yes",
    )
    seen.runs("back", "front")
    seen.feet("runs.front.length", 28, 3)


@pytest.mark.parametrize("leader", ["..", "....", "__", "_____"])
def test_answers_on_dots_and_lines(leader: str) -> None:
    sheet = read_note(
        [
            f"Side: {leader}front{leader}     Length: {leader}24' 7\"{leader}",
            f"Left end: {leader}outside corner{leader}    Right end: {leader}cap{leader}",
            f"Side: {leader}back{leader}      Length: {leader}30' even{leader}",
            f"Left end: {leader}cap{leader}    Right end: {leader}outside corner{leader}",
        ]
    )
    lengths = {run.id: run.length.value.inches for run in sheet.runs if run.length and run.length.value}
    assert lengths == {"front": 24 * 12 + 7, "back": 360}
    for path, reading in sheet.readings():
        for source in reading.source:
            assert sheet.note[source.line - 1][source.start : source.end] == source.text, path


def test_dots_of_a_speaker_who_thinks_are_left(read: Callable[..., Any]) -> None:
    seen = read("front is... thirty six five... caps both ends", "back is... the same")
    seen.feet("runs.front.length", 36, 5)
    seen.feet("runs.back.length", 36, 5)


def test_a_foot_with_no_number_before_it(read: Callable[..., Any]) -> None:
    seen = read("front 36-5 caps both ends, drop right 9-2, overhang foot even")
    seen.feet("downpipes.front-1.wall_to_fascia", 1, 0, "foot even")


def test_the_length_of_each_is_no_count(read: Callable[..., Any]) -> None:
    seen = read("Porch front 12-0 osc both ends", "porch left and porch right 7'10 ea, wall and osc")
    seen.feet("runs.porch-left-side.length", 7, 10)
    seen.feet("runs.porch-right-side.length", 7, 10)


def test_behind_a_porch_the_back_is_the_houses(read: Callable[..., Any]) -> None:
    seen = read(
        "front 36-5 caps", "Porch:", "front 12-0 osc both ends", "back 36-5 caps both ends, drop left 9-1"
    )
    seen.runs("front", "porch-front", "back")
