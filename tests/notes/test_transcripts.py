"""JSON transcripts as recognisers write them (common practice, no source), whole and broken (RFC 8259)."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gutterance.notes import Note, NoteError, decode_note
from gutterance.notes.broken_json import LINE, parse_json

EXAMPLES = Path(__file__).parents[2] / "examples"


def read(value: Any, name: str = "walk.json") -> Note:
    return decode_note((value if isinstance(value, str) else json.dumps(value)).encode(), name)


def word(
    text: str, start: float, end: float, probability: float | None = None, key: str = "word"
) -> dict[str, Any]:
    sure = {} if probability is None else {"probability": probability}
    return {key: text, "start": start, "end": end, **sure}


WORDS = [word(" Front", 0.0, 0.4, 0.99), word(" fifty", 0.4, 0.8, 0.41), word(" two", 0.8, 1.0, 0.9)]


def test_segments_with_words_give_times_and_probabilities() -> None:
    note = read({"segments": [{"start": 0.0, "end": 2.0, "text": " Front fifty two feet", "words": WORDS}]})
    assert note.lines_text() == ("Front fifty two feet",)
    assert note.seconds_of(1, 6, 15) == (0.4, 1.0)
    assert note.probability_of(1, 6, 15) == 0.41
    assert note.probability_of(1, 12, 15) == 0.9
    # `feet` is in the text and among no words: it was said in the segment's time, how surely is not known.
    assert note.seconds_of(1, 16, 20) == (0.0, 2.0)
    assert note.probability_of(1, 16, 20) is None


@pytest.mark.parametrize(
    "value",
    [
        WORDS,
        {"words": WORDS},
        {"segments": [{"words": WORDS}]},
        {"segments": [{"start": 0, "end": 1, "text": "Front fifty two"}], "words": WORDS},
        [{"start": 0, "end": 1, "text": " Front fifty two", "words": WORDS}],
        [{"text": one["word"].strip(), "start": one["start"], "end": f"00:00:0{one['end']}",
          "confidence": one["probability"]} for one in WORDS],
    ],
    ids=["words", "in an object", "in a segment", "beside segments", "list of segments", "text, confidence"],
)  # fmt: skip
def test_every_shape_gives_the_same_words(value: Any) -> None:
    note = read(value)
    assert note.lines_text() == ("Front fifty two",)
    assert note.seconds_of(1, 6, 11) == (0.4, 0.8)
    assert note.probability_of(1, 0, 15) == 0.41
    assert note.damage == ()


def test_words_are_put_together_by_their_own_spaces_and_never_fused() -> None:
    pieces = [word(" 42", 0, 1), word("-6", 1, 2), word('"', 2, 2.1), word(" OSC", 2.1, 3), word("24", 3, 4)]
    note = read(pieces)
    assert note.lines_text() == ('42-6" OSC 24',)
    assert note.remarks == ("walk.json: 1 words that stand without a space between them were read apart",)
    assert read([word("42", 0, 1), word("6", 1, 2), word(",", 2, 2), word("wall", 2, 3)]).text == "42 6, wall"


def test_a_pause_ends_a_line_but_not_a_number() -> None:
    said = [
        word("drop", 0, 1),
        word("left", 1, 2),
        word("front", 5, 6),
        word("forty", 6, 7),
        word("six", 10, 11),
    ]
    assert read(said).lines_text() == ("drop left", "front forty six")


def test_speakers_are_kept_apart() -> None:
    note = read({"segments": [{"text": "how high", "speaker": "A"}, {"text": "nine two", "speaker": "B"}]})
    assert [(line.text, line.speaker) for line in note.lines] == [("how high", "A"), ("nine two", "B")]


def test_each_line_says_where_it_stands_in_its_file() -> None:
    note = read('{"segments": [\n {"text": "Front 42-6."},\n {"text": "Back 3."}\n]}')
    assert [note.where(number) for number in (1, 2)] == ["walk.json, line 2", "walk.json, line 3"]


def test_probabilities_in_per_cent_are_read_so_and_said_so_and_others_are_told() -> None:
    note = read([{"text": "nine two", "confidence": 46}, {"text": "feet up", "confidence": -3}])
    assert note.probability_of(1, 0, 8) == 0.46
    assert note.remarks == ("walk.json: 1 probabilities above 1 were read as per cent",)
    assert [one.what for one in note.damage] == ["the confidence '-3' is none from 0 to 1"]


@pytest.mark.parametrize("time", ["soon", -1, [1], True, 1e400])
def test_a_time_that_is_none_costs_the_time_only(time: Any) -> None:
    note = read([{"text": "nine two", "start": time, "end": 3}])
    assert note.lines_text() == ("nine two",)
    assert note.seconds_of(1, 0, 4) is None
    assert note.damage[0].what.startswith("the time cannot be right")


def test_what_only_the_whole_text_has_is_not_lost() -> None:
    cut = (
        '{"text": "Front 42-6. Back 28-3.", "segments": [{"start": 0, "end": 2, "text": " Front 42-6."}, {"s'
    )
    note = read(cut)
    assert note.lines_text() == ("Front 42-6.", "Back 28-3.")
    assert note.seconds_of(2, 0, 4) is None
    other = read({"text": "Front 52-6", "segments": [{"text": "Front 42-6"}]})
    assert other.damage[0].what == "words of the file's text that none of its segments has: 52-6"


def test_words_that_are_not_in_their_text_are_told() -> None:
    note = read({"segments": [{"text": "Front 42", "words": [word("Front", 0, 1), word("52", 1, 2)]}]})
    assert note.damage[0].what == "words that are not in the text beside them: 52"


@pytest.mark.parametrize(
    ("text", "says", "fault"),
    [
        ('{"segments": [{"text": "Front 42" 6"}, {"text": "Back 3"}]}', 'Front 42" 6', "quotation mark"),
        (
            '{"segments": [{"start": 0 "text": "Front 42"}, {"text": "Back 3"}]}',
            "Front 42",
            "comma is missing",
        ),
        (
            '{"segments": [{"text": "Front 42" "start": 0}, {"text": "Back 3"}]}',
            "Front 42",
            "comma is missing",
        ),
        ('{"segments": [{"text" "Front 42"}, {"text": "Back 3"}]}', "Front 42", "colon is missing"),
        ('{"segments": [{"text": "Front\n42"}, {"text": "Back 3"}]}', "Front 42", "over the end of a line"),
        ('{"segments": [{"text": "Front 42"}, {"text": "Back 3"}', "Front 42", "ends before it is complete"),
        ('{"segments": [{"text": "Front 42"}, {"text": "Back 3"}}', "Front 42", "where a ] should be"),
        ('{"segments": [{"text": "Front 42"}, {"text": "Back 3"}]} 17', "Front 42", "after the end"),
        (
            '{"segments": [{"text": "Front 42", "id": x7}, {"text": "Back 3"}]}',
            "Front 42",
            "'x7' is no value",
        ),
    ],
)
def test_broken_json_is_read_around_the_fault_and_the_fault_told(text: str, says: str, fault: str) -> None:
    note = read(text)
    assert note.text.split() == [*says.split(), "Back", "3"]
    assert any(fault in one.what for one in note.damage), note.damage


@pytest.mark.parametrize(
    "text",
    [
        "[Front] 42-6, OSC",
        "[ ] call back\n[x] Front 42-6",
        '{"a": [1, 2]}',
        "[1, 2]",
        "[]",
        '{"format": "gutterance-sheet-1"}',
    ],
)
def test_what_is_no_transcript_stays_plain_text(text: str) -> None:
    assert read(text, "job.txt").lines_text() == tuple(text.split("\n"))


def test_a_transcript_without_a_word_is_refused() -> None:
    with pytest.raises(NoteError, match="holds no spoken words"):
        read({"segments": [{"text": " "}]})


def test_depth_does_no_harm() -> None:
    deep = '{"segments": [{"text": "Front 42"}, {"confidence": ' + "[" * 100_000
    assert read(deep).lines_text() == ("Front 42",)


def test_the_example_reads_the_same_as_captions_and_as_json() -> None:
    captions = decode_note((EXAMPLES / "3-alder-walk.vtt").read_bytes(), "a.vtt")
    transcript = decode_note((EXAMPLES / "3-alder-walk.json").read_bytes(), "a.json")
    assert captions.lines_text() == transcript.lines_text()
    assert captions.damage == transcript.damage == ()
    (at,) = [number for number, line in enumerate(transcript.lines, start=1) if "fourteen" in line.text]
    start = transcript.lines[at - 1].text.index("fourteen")
    assert transcript.probability_of(at, start, start + 8) == 0.46
    assert transcript.seconds_of(at, start, start + 8) == (12.95, 13.27)
    assert captions.seconds_of(at, start, start + 8) == (12.0, 15.8)


def test_the_example_cut_anywhere_loses_no_word_before_the_cut() -> None:
    whole = (EXAMPLES / "3-alder-walk.json").read_text(encoding="utf-8")
    segments = json.loads(whole)["segments"]
    spoken = [(whole.index(json.dumps(one["text"])) + 1, one["text"]) for one in segments]
    for cut in range(spoken[0][0] + 2, len(whole), 7):
        note = read(whole[:cut])
        left = " ".join(text[: cut - start] for start, text in spoken if start < cut).split()
        assert note.text.split() == left, cut
        assert note.damage


@pytest.mark.parametrize("sign", ["", '"', "{", "}", "]", ":", ","])
def test_one_sign_lost_or_added_anywhere_loses_no_word(sign: str) -> None:
    whole = (EXAMPLES / "3-alder-walk.json").read_text(encoding="utf-8")
    said = " ".join(one["text"] for one in json.loads(whole)["segments"]).split()
    for at in range(whole.index("[") + 1, len(whole) - 3, 41):
        note = read(whole[:at] + sign + whole[at + (sign == "") :])
        words = note.text.split()
        # The changed sign stands in two words at most: in one, or where two are parted.
        assert sum(word not in words for word in said) <= 2, at
        assert len(words) >= len(said) - 1, at


def test_the_text_of_the_whole_is_not_read_twice_where_the_name_of_its_segments_is_broken() -> None:
    note = read('{"text": "Front 42-6. Back 3.", "segm: [{"text": "Front 42-6."}, {"text": "Back 3."}]}')
    assert note.text.split() == ["Front", "42-6.", "Back", "3."]


def _plain(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: _plain(inner) for key, inner in value.items() if key != LINE}
    return [_plain(inner) for inner in value] if isinstance(value, list) else value


JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False, allow_infinity=False) | st.text(),
    lambda inner: st.lists(inner) | st.dictionaries(st.text(), inner),
)


@given(JSON, st.booleans(), st.sampled_from([None, 1]))
def test_whole_json_is_read_as_the_standard_library_reads_it(
    value: Any, ascii_only: bool, indent: int | None
) -> None:
    text = json.dumps(value, ensure_ascii=ascii_only, indent=indent)
    parsed = parse_json(text)
    assert _plain(parsed.value) == json.loads(text)
    assert parsed.faults == ()


@given(st.text('{}[]",:\\ \n42atex') | st.text())
def test_any_text_is_a_note_or_a_plain_refusal(text: str) -> None:
    for start in ("{", '[{"text": "Front 42"}', '{"segments": [{"text": "Front 42"}, '):
        try:
            note = read((start + text).encode("utf-8", "replace").decode())
        except NoteError as error:
            assert str(error).startswith("walk.json")  # noqa: PT017 - a refusal is as good as a note
        else:
            assert "42" in note.text or start == "{"
