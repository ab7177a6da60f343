"""What is taken back: the last value meant stands, and the one before is kept in `was`."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from gutterance.measure.length import Length

if TYPE_CHECKING:
    from collections.abc import Callable


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("Back is 31' 5\", no sorry, 31' 8\", outside corners.", "31' 8\""),
        ("back thirty one five make that thirty one eight outside corners", "thirty one eight"),
        ("Back 31-5 scratch that 31-8 OSC both", "31-8"),
        ("Back ~~31-5~~ 31-8 OSC both", "31-8"),
        ("Back 31-5, I mean 31-8, caps", "31-8"),
        ("Back was 31-5 now 31-8, caps", "31-8"),
        ("Back 31-5 correction 31-8, caps", "31-8"),
        ("back 31 foot 5 wait no 31 foot 8 end caps both ends", "31 foot 8"),
        ("Back 31-8 not 31-5, caps both", "31-8"),
        ("Back 31-5 -> 31-8, caps both", "31-8"),
        ("Back 31-8 (was 31-5), caps both", "31-8"),
    ],
)
def test_a_corrected_length(read: Callable[..., Any], line: str, words: str) -> None:
    seen = read(line)
    reading = seen.feet("runs.back.length", 31, 8, words, status="corrected")
    assert [old.value for old in reading.was] == [Length(31 * 12 + 5)]


def test_a_note_of_what_it_should_be_is_right_or_asked_about(read: Callable[..., Any]) -> None:
    seen = read("Back 31-5 sb 31-8, caps both")
    seen.asked_or_right("runs.back.length", Length(380))
    assert "31-5" in [source.text for was in seen.at("runs.back.length").was for source in was.source] or any(
        other.value == Length(377) for other in seen.at("runs.back.length").could_be
    )


def test_the_words_taken_back_are_kept(read: Callable[..., Any]) -> None:
    seen = read("Front 33-7 caps", "Back ~~27-4~~ 28-4 OSC both")
    (old,) = seen.at("runs.back.length").was
    assert old.source[0].text == "27-4"
    assert (old.source[0].line, old.source[0].start) == (2, 7)


def test_a_correction_two_deep(read: Callable[..., Any]) -> None:
    seen = read("Back 31-5, no 31-6, no 31-8, caps both")
    reading = seen.feet("runs.back.length", 31, 8, "31-8", status="corrected")
    assert {old.value for old in reading.was} == {Length(377), Length(378)}


def test_an_end_taken_back(read: Callable[..., Any]) -> None:
    seen = read("Front 33-7, outside corner on the left, no, on the right, cap on the left")
    seen.asked_or_right("runs.front.right_end", "outside corner")
    seen.asked_or_right("runs.front.left_end", "end cap")


def test_the_side_of_an_outlet_taken_back(read: Callable[..., Any]) -> None:
    seen = read("Front 33-7 caps, drop on the left, sorry, the right, w/f 18, 9-2 splash")
    (outlet,) = seen.sheet.outlets
    assert outlet.from_ == "right"
    seen.feet(f"downpipes.{outlet.id}.height", 9, 2, "9-2")


def test_a_pipe_value_taken_back_stays_with_its_pipe(read: Callable[..., Any]) -> None:
    seen = read("Front 33-7 caps, drop left, w/f 18 no 19, height 9-2 make that 9-4, splash")
    seen.inches("downpipes.front-1.wall_to_fascia", 19, "19", status="corrected")
    seen.feet("downpipes.front-1.height", 9, 4, "9-4", status="corrected")
    seen.feet("runs.front.length", 33, 7, "33-7")


def test_going_back_to_an_earlier_run(read: Callable[..., Any]) -> None:
    seen = read("Front 33-7 caps both", "Back 30-2 caps both", "Correction: front is 33-9")
    seen.feet("runs.front.length", 33, 9, "33-9", status="corrected")
    assert [old.value for old in seen.at("runs.front.length").was] == [Length(33 * 12 + 7)]
    seen.feet("runs.back.length", 30, 2, "30-2")


def test_two_values_with_no_word_of_correction_are_asked_about(read: Callable[..., Any]) -> None:
    seen = read("Front 42-6 OSC both", "Front 40-6")
    reading = seen.at("runs.front.length")
    assert reading.status == "doubtful"
    values = {reading.value, *(other.value for other in reading.could_be)}
    assert {Length(510), Length(486)} <= values


def test_a_plain_no_before_a_thing_takes_nothing_back(read: Callable[..., Any]) -> None:
    seen = read("Front 33-7, OSC both, no drop. Back 30-2, OSC both.")
    seen.feet("runs.front.length", 33, 7, "33-7")
    seen.feet("runs.back.length", 30, 2, "30-2")


@pytest.mark.parametrize(
    "line",
    [
        "Back {}, not {}, caps both ends",
        "The back is {}, not {}. Caps both ends.",
        "back {} and not {}, caps both ends",
    ],
)
@pytest.mark.parametrize(("new", "old"), [("31' 8\"", "31' 5\""), ("31-8", "31-5")])
def test_a_value_denied_is_kept(read: Callable[..., Any], line: str, new: str, old: str) -> None:
    seen = read(line.format(new, old))
    seen.asked_or_right("runs.back.length", Length(380))
    kept = [was.source[0].text for was in seen.at("runs.back.length").was]
    assert old in kept or seen.shown(old), "the value denied is on the sheet nowhere"


def test_a_denial_of_a_value_said_lines_before(read: Callable[..., Any]) -> None:
    seen = read("Front 33-7 caps", "Back 31-5 caps", "", "Changes:", "- The back is 31-8, not 31-5.")
    seen.feet("runs.back.length", 31, 8, "31-8", status="corrected")
    kept = [source.line for was in seen.at("runs.back.length").was for source in was.source]
    assert 2 in kept


def test_an_outlet_that_is_actually_elsewhere(read: Callable[..., Any]) -> None:
    seen = read("Front 42-6 OSC both, drop left", "front drop is actually on the right")
    certain = [one.from_ for one in seen.sheet.outlets if one.place is not None and one.place.settled]
    assert certain in ([], ["right"])


@pytest.mark.parametrize("fix", ["no sorry,", "no wait,", "scratch that,"])
def test_an_end_that_a_correction_moves_does_not_stand_at_both(read: Callable[..., Any], fix: str) -> None:
    seen = read(f"Back 26-2, cap at the right end, {fix} cap at the left end")
    seen.asked("runs.back.right_end")


def test_a_correction_finds_its_field_by_the_old_number(read: Callable[..., Any]) -> None:
    seen = read(
        "back 28 foot 4 caps drop left 14 wall to fascia 8 foot 7 splash front 30 even caps drop right "
        "14 wall to fascia 10 foot 2 drain and on the back I said 8 foot 7 make that 8 foot 9"
    )
    seen.feet("runs.back.length", 28, 4)
    seen.feet("downpipes.back-1.height", 8, 9, status="corrected")
    seen.feet("downpipes.front-1.height", 10, 2)


@pytest.mark.parametrize(
    "excuse", ["I was reading it upside down it's", "the tape was twisted so it's", "bad light in here, it's"]
)
def test_words_that_say_why_stand_before_the_number_that_holds(read: Callable[..., Any], excuse: str) -> None:
    seen = read(f"garage front is 21 7 scratch that {excuse} 24 7 cap both ends drop left")
    seen.feet("runs.garage-front.length", 24, 7, status="corrected")
    seen.ends("garage-front", "end cap", "end cap")


def test_a_small_number_behind_a_correcting_word_is_no_length(read: Callable[..., Any]) -> None:
    seen = read("the back is 32 foot 8 caps drop right actually put two on there, one each end")
    seen.feet("runs.back.length", 32, 8)
