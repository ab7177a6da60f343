"""Recordings: when words were said reaches the sheet, and what was not surely heard is asked about."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import pytest

from gutterance.notes import decode_note, walk_round
from gutterance.reading import read_note
from gutterance.reading.hearing import limits, limits_from

if TYPE_CHECKING:
    from collections.abc import Callable

# As whisper.cpp, faster-whisper and their like write it: a space before each word, hours left out or not.
SPLIT = """WEBVTT

00:01.000 --> 00:03.400
front fifty eight

00:03.400 --> 00:06.000
foot six outside corners both ends

00:06.200 --> 00:09.900
drop left wall to fascia twenty four height nine foot two
"""


def segment(said: str, start: float = 0.0, **low: float) -> dict[str, Any]:
    """A segment with its words, half a second each; `low` gives a word another probability than 0.95."""
    words = [
        {
            "word": f" {word}",
            "start": start + at / 2,
            "end": start + at / 2 + 0.4,
            "probability": low.get(word, 0.95),
        }
        for at, word in enumerate(said.split())
    ]
    return {"start": start, "end": words[-1]["end"], "text": f" {said}", "words": words}


def transcript(*segments: dict[str, Any]) -> str:
    return json.dumps({"text": " ".join(one["text"].strip() for one in segments), "segments": list(segments)})


def test_a_number_split_over_captions_is_one_and_its_times_reach_the_source(listen: Callable) -> None:
    seen = listen(SPLIT)
    reading = seen.feet("runs.front.length", 58, 6, "fifty eight foot six")
    # Both cues are touched; the cue is all the time a word of it has.
    assert reading.source[0].seconds == (1.0, 6.0)
    assert seen.at("downpipes.front-1.height").source[0].seconds == (6.2, 9.9)


def test_a_word_knows_its_own_time(listen: Callable) -> None:
    seen = listen(transcript(segment("front fifty eight foot six end caps both ends", start=10.0)))
    assert seen.at("runs.front.length").source[0].seconds == (10.5, 12.4)
    assert seen.at("runs.front.length").source[0].heard() == "0:10.5 to 0:12.4"


def test_a_typed_note_has_no_times(read: Callable) -> None:
    assert all(source.seconds is None for source in read("Front 42-6 end caps both ends").sheet.sources())


@pytest.mark.parametrize(
    ("said", "low", "path"),
    [
        ("front is fifty eight foot six end caps both ends", {"fifty": 0.4}, "runs.front.length"),
        ("the back measures 31 foot 8 with end caps both ends", {"8": 0.35}, "runs.back.length"),
        # The unit is as much of a number as its figures: `foot` may have been `and four`.
        ("the back measures 31 foot 8 with end caps both ends", {"foot": 0.3}, "runs.back.length"),
        ("front 42 foot 6 outside corner left inside corner right", {"inside": 0.3}, "runs.front.right_end"),
        ("front 42 foot 6 end caps drop on the left", {"left": 0.2}, "outlets.front-1.place"),
        ("front 42 foot 6 end caps both ends", {"front": 0.2}, "runs.front.length"),
    ],
)
def test_what_rests_on_a_word_hardly_heard_is_doubtful(
    listen: Callable, said: str, low: dict[str, float], path: str
) -> None:
    plain = listen(transcript(segment(said)))
    assert plain.at(path).status == "read"
    (word, probability), *_ = low.items()
    seen = listen(transcript(segment(said, **low)))
    assert seen.at(path).value == plain.at(path).value
    assert seen.at(path).status == "doubtful"
    assert f"{word!r} was heard with a probability of {probability:.2f} only" in seen.at(path).why


def test_words_that_nothing_rests_on_cast_no_doubt(listen: Callable) -> None:
    said = "okay so the front is 42 foot 6 with end caps both ends"
    seen = listen(transcript(segment(said, okay=0.1, so=0.1, the=0.1, **{"with": 0.1})))
    assert {reading.status for _, reading in seen.sheet.readings()} == {"read"}


def test_the_same_words_heard_surely_elsewhere_settle_it(listen: Callable) -> None:
    first = segment("front is 42 foot 6 end caps both ends", **{"6": 0.3})
    again = segment("yes the front is 42 foot 6", start=12.0)
    assert listen(transcript(first)).at("runs.front.length").status == "doubtful"
    assert listen(transcript(first, again)).at("runs.front.length").status == "read"


@pytest.mark.parametrize(("mean", "status"), [(-0.3, "read"), (-0.9, "read"), (-1.2, "doubtful")])
def test_a_segment_counts_by_its_mean_where_its_words_do_not(
    listen: Callable, mean: float, status: str
) -> None:
    # The limit is openai/whisper's own, `logprob_threshold` of transcribe.py: under -1 a segment has failed.
    one = {"start": 0.0, "end": 4.0, "text": " front 42 foot 6 end caps both ends", "avg_logprob": mean}
    assert listen(json.dumps({"segments": [one]})).at("runs.front.length").status == status


def test_a_rest_within_a_number_makes_it_doubtful(listen: Callable) -> None:
    gap = SPLIT.replace("00:03.400 --> 00:06.000", "00:05.400 --> 00:06.000")
    seen = listen(gap)
    seen.asked("runs.front.length")
    assert "was said in two parts, 2.0 seconds apart" in (seen.at("runs.front.length").why or "")


def test_voices_of_a_transcript_make_a_talk(listen: Callable) -> None:
    said = [("A", "Front is 42 foot 6."), ("B", "Drops?"), ("A", "One, on the left."), ("B", "Splash block?")]
    cues = [
        f"00:{at:02}.000 --> 00:{at:02}.900\n<v {who}>{what}\n"
        for at, (who, what) in enumerate(said, start=1)
    ]
    seen = listen("WEBVTT\n\n" + "\n".join(cues))
    seen.outlets("front", "left")
    # Asked, and not answered.
    assert seen.sheet.reading_at("downpipes.front-1.ends_at") is None


def test_a_second_file_goes_on_where_the_first_stopped_and_sources_name_their_file() -> None:
    first = decode_note(b"Front 42-6 OSC both ends\nRight side 28-3", "front.txt")
    second = decode_note(b"OSC both ends, drop right\nBack 42-6 OSC both ends", "back.txt")
    sheet = read_note(walk_round([first, second]))
    end = sheet.reading_at("runs.right-side.left_end")
    assert end is not None
    assert end.value == "outside corner"
    assert (end.source[0].line, end.source[0].where()) == (3, "back.txt, line 1")
    length = sheet.reading_at("runs.right-side.length")
    assert length is not None
    assert length.source[0].where() == "front.txt, line 2"
    assert [outlet.run for outlet in sheet.outlets] == ["right-side"]


def test_damage_reaches_the_sheet() -> None:
    sheet = read_note(decode_note(SPLIT[: SPLIT.index("00:09.900")].encode(), "walk.vtt"))
    assert [(one.file, one.line) for one in sheet.damage] == [("walk.vtt", 9)]


def test_limits_are_data_and_are_checked() -> None:
    assert 0.5 <= limits().number <= 0.9
    assert limits().word < limits().number
    with pytest.raises(ValueError, match="loud: no limit is called so"):
        limits_from("number = 0.5\nword = 0.4\nsegment = 0.3\npause = 1\nloud = 3")
