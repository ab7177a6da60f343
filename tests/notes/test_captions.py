"""WebVTT and SubRip, whole and broken.

WebVTT rules are from W3C, "WebVTT: The Web Video Text Tracks Format" (section 4, syntax; section 6, parsing).
SubRip has no standard: common practice, no source.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gutterance.notes import Note, NoteError, decode_note


def vtt(*blocks: str, header: str = "WEBVTT") -> Note:
    return decode_note("\n\n".join((header, *blocks)).encode(), "walk.vtt")


def srt(text: str) -> Note:
    return decode_note(text.encode(), "walk.srt")


def times(note: Note) -> list[tuple[float, float] | None]:
    return [note.seconds_of(number, 0, len(line.text)) for number, line in enumerate(note.lines, start=1)]


@pytest.mark.parametrize(
    ("timing", "seconds"),
    [
        # WebVTT timestamp: hours optional and two digits or more, then mm:ss.ttt (section 4.1)
        ("00:01.000 --> 00:02.500", (1.0, 2.5)),
        ("01:02:03.004 --> 01:02:04.000", (3723.004, 3724.0)),
        ("100:00:00.000 --> 100:00:01.000", (360000.0, 360001.0)),
        ("00:01.000\t-->\t00:02.500", (1.0, 2.5)),
        # cue settings follow the times (section 4.4)
        (
            "00:01.000 --> 00:02.500 vertical:rl line:-1 position:10%,line-left size:35% align:start",
            (1.0, 2.5),
        ),
        # SubRip's comma, and its screen places: common practice, no source
        ("00:00:01,000 --> 00:00:02,500", (1.0, 2.5)),
        ("00:00:01,000 --> 00:00:02,500 X1:63 X2:223 Y1:43 Y2:58", (1.0, 2.5)),
        # what hands and mending programs make of it
        ("0:01.5 -> 0:02.5", (1.5, 2.5)),
        ("00:01 --> 00:02", (1.0, 2.0)),
    ],
)
def test_times_with_and_without_hours_with_comma_or_dot(timing: str, seconds: tuple[float, float]) -> None:
    for note in (vtt(f"{timing}\nFront 42-6"), srt(f"1\n{timing}\nFront 42-6\n")):
        assert note.lines_text() == ("Front 42-6",)
        assert times(note) == [seconds]
        assert note.damage == ()


@pytest.mark.parametrize(
    "timing", ["00:61.000 --> 00:62.000", "00:05.000 --> 00:02.000", "00:75:00.000 --> 00:76:00.0"]
)
def test_an_impossible_time_costs_the_time_and_not_the_words(timing: str) -> None:
    # Section 6.1, "collect a WebVTT timestamp": minutes and seconds are at most 59; 4.1: the end is later.
    note = vtt(f"{timing}\nFront 42-6")
    assert note.lines_text() == ("Front 42-6",)
    assert times(note) == [None]
    assert [(one.line, one.what) for one in note.damage] == [(3, f"the time cannot be right: {timing}")]


@pytest.mark.parametrize(
    "block",
    [
        "NOTE 17 is what I counted",  # section 4.1, WebVTT comment block
        "NOTE\n17 is\nwhat I counted",
        "STYLE\n::cue { font-size: 17px }",  # section 4.1, style block
        "REGION\nid:fred width:17%",  # section 4.1, region definition block
    ],
)
def test_comments_styles_and_regions_are_no_words_of_the_note(block: str) -> None:
    note = vtt(
        block,
        "00:01.000 --> 00:02.000\nFront 42-6.",
        block if block[0] == "N" else "",
        "00:03.000 --> 00:04.000\nBack 3.",
    )
    assert note.lines_text() == ("Front 42-6.", "Back 3.")
    assert note.damage == ()


def test_a_spoken_word_that_begins_like_a_comment_stays() -> None:
    # Section 6.1: a comment is NOTE alone or before a space, at the beginning of a block only.
    note = vtt("00:01.000 --> 00:02.000\nNOTE the dog\nNOTEBOOK 17")
    assert note.lines_text() == ("NOTE the dog NOTEBOOK 17",)


def test_header_text_metadata_and_names_of_cues_are_no_words() -> None:
    # Sections 4.1 (text after WEBVTT) and 6.1 (header lines up to the blank line; a cue identifier).
    note = vtt("front-42\n00:01.000 --> 00:02.000\nFront 3.", "17\n00:03.000 --> 00:04.000\nBack 3.",
               header="WEBVTT - take 12\nKind: captions\nLanguage: en")  # fmt: skip
    assert note.lines_text() == ("Front 3.", "Back 3.")
    assert note.damage == ()


def test_tags_voices_and_escapes_are_taken_out_and_what_is_no_tag_stays() -> None:
    # Sections 4.2.2 (cue spans c, i, b, u, ruby, rt, v, lang; timestamps) and 6.4 (character references).
    note = vtt(
        "00:01.000 --> 00:04.000\n<v.loud Measurer 1><i>Front</i> <c.big>42</c>-6 &amp; "
        "<lang en-GB>OSC</lang> <00:00:02.000>w/f <24 in> &lt;25&nbsp;in <b>x</b>"
    )
    assert note.lines_text() == ("Front 42-6 & OSC w/f <24 in> <25\u00a0in x",)
    assert note.lines[0].speaker == "Measurer 1"
    assert note.seconds_of(1, 0, 5) == (1.0, 2.0)
    assert note.seconds_of(1, 17, 20) == (2.0, 4.0)


def test_font_tags_and_places_of_subrip_are_taken_out() -> None:
    note = srt('1\n00:00:01,000 --> 00:00:02,000\n{\\an8}<font color="#ff0042">Front</font> <B>42-6</B>\n')
    assert note.lines_text() == ("Front 42-6",)


def test_two_voices_in_one_cue_and_dashes_are_lines_of_their_own() -> None:
    note = vtt("00:01.000 --> 00:02.000\n<v Mate>how high\n<v Measurer>nine two")
    assert [(line.text, line.speaker, line.number) for line in note.lines] == [
        ("how high", "Mate", 4),
        ("nine two", "Measurer", 5),
    ]
    assert srt("1\n00:00:01,000 --> 00:00:02,000\n- how high\n- nine two\n").lines_text() == (
        "- how high",
        "- nine two",
    )


def test_cues_that_overlap_stay_in_the_order_of_the_file_each_with_its_time() -> None:
    note = vtt(
        "00:01.000 --> 00:06.000\n<v A>Front 42-6",
        "00:02.000 --> 00:03.000\n<v B>dog in the yard",
        "00:02.500 --> 00:04.000\n<v A>Back 3",
    )
    assert note.lines_text() == ("Front 42-6", "dog in the yard", "Back 3")
    assert times(note) == [(1.0, 6.0), (2.0, 3.0), (2.5, 4.0)]
    assert note.damage == ()


def test_captions_that_roll_up_are_read_once() -> None:
    # Each line is shown in two cues, the second time above the next: common practice, no source.
    note = vtt(
        "00:00.000 --> 00:02.000\n \nfront<00:00:00.500><c> forty</c>",
        "00:02.000 --> 00:02.010\nfront forty\n ",
        "00:02.010 --> 00:04.000\nfront forty\ntwo<00:00:03.000><c> foot</c>",
        "00:04.000 --> 00:04.010\ntwo foot\n ",
        "00:04.010 --> 00:06.000\ntwo foot\nsix",
    )
    assert note.lines_text() == ("front forty two foot six",)
    assert note.seconds_of(1, 6, 11) == (0.5, 2.0)
    assert note.seconds_of(1, 12, 20) == (2.01, 4.0)
    assert note.remarks == ("walk.vtt: 4 lines shown again as the captions roll up were read once",)


def test_what_is_said_twice_stays_twice() -> None:
    note = vtt(
        "00:00.000 --> 00:02.000\nnine four",
        "00:02.000 --> 00:04.000\nnine four",
        "00:04.000 --> 00:05.000\ndrop",
    )
    assert note.text.count("nine four") == 2
    assert note.remarks == ()


def test_a_file_that_is_not_closed_gives_its_last_words() -> None:
    for text in ("WEBVTT\n\n00:01.000 --> 00:02.000\nFront 42", "1\n00:00:01,000 --> 00:00:02,000\nFront 42"):
        assert decode_note(text.encode(), "-").lines_text() == ("Front 42",)


def test_blank_lines_left_out_cost_no_word_and_add_none() -> None:
    note = srt(
        "1\n00:00:01,000 --> 00:00:02,000\nFront 42-6.\n2\n00:00:02,000 --> 00:00:03,000\nBack 12.\n"
        "7\n00:00:04,000 --> 00:00:05,000\nPorch 3.\n"
    )
    # The 2 counts the cues; a 7 after it may have been said.
    assert note.lines_text() == ("Front 42-6.", "Back 12. 7", "Porch 3.")


def test_words_after_a_blank_line_within_a_cue_are_kept_and_told() -> None:
    note = vtt("00:01.000 --> 00:02.000\nFront", "forty two foot six", "00:03.000 --> 00:04.000\nBack 3")
    assert "forty two foot six" in note.text
    assert [(one.line, one.near) for one in note.damage] == [(6, 2)]
    assert str(note.damage[0]).startswith("walk.vtt, line 6: words without a time: forty two foot six: ")


@pytest.mark.parametrize(
    ("text", "line", "what"),
    [
        ("WEBVTT\n\n00:01.000 --> 00:02.000\nFront 3\n\n00:03.000 --> 00:0", 6, "the time cannot be right"),
        (
            "WEBVTT\n\n00:01.000 --> 00:02.000\nFront 3\n\n00:03.000 --",
            6,
            "the time cannot be read: 00:03.000 --",
        ),
        ("WEBVTT\n\n00:01.000 --> 00:02.000\nFront 3\n\n00:03.000 --> 00:04.000", 6, "the file ends before"),
        ("1\n00:00:01,000 --> 00:00:02,000\nFront 3\n\n2", 5, "cue 2 has no time and no words"),
        (
            "1\n00:00:01,000 --> 00:00:02,000\nFront 3\n\n5\n00:00:03,000 --> 00:00:04,000\nBack",
            5,
            "cue 5 follows",
        ),
    ],
)
def test_damage_names_its_line(text: str, line: int, what: str) -> None:
    note = decode_note(text.encode(), "walk")
    assert note.lines_text()[0].startswith("Front 3")
    assert any(one.line == line and one.what.startswith(what) for one in note.damage), note.damage


def test_a_file_without_its_header_is_read_by_its_name() -> None:
    note = decode_note(b"ont\n\n00:03.000 --> 00:04.000\nBack 3", "walk.vtt")
    assert note.lines_text() == ("ont", "Back 3")
    assert note.damage[0].what == "the first line, WEBVTT, is missing"


def test_captions_without_a_word_are_refused() -> None:
    with pytest.raises(NoteError, match=r"walk\.vtt holds no spoken words"):
        vtt("NOTE nothing here")


SPOKEN = (
    "Front forty two foot six.",
    "Drop left, height 9-4.",
    "Back 28' 3\", inside corner.",
    "Porch twelve six.",
)
WHOLE_VTT = "WEBVTT\n\nNOTE walk\n\n" + "\n".join(
    f"{number}\n00:0{number}.000 --> 00:0{number}.900 align:start\n{said}\n"
    for number, said in enumerate(SPOKEN, start=1)
)
WHOLE_SRT = "\n".join(
    f"{number}\n00:00:0{number},000 --> 00:00:0{number},900\n{said}\n"
    for number, said in enumerate(SPOKEN, start=1)
)


@pytest.mark.parametrize("whole", [WHOLE_VTT, WHOLE_SRT], ids=["vtt", "srt"])
def test_cut_anywhere_no_word_before_the_cut_is_lost(whole: str) -> None:
    spoken = [(whole.index(said), said) for said in SPOKEN]
    name = "walk.vtt" if whole is WHOLE_VTT else "walk.srt"
    for cut in range(spoken[0][0] + 1, len(whole)):
        note = decode_note(whole[:cut].encode(), name)
        left = " ".join(said[: cut - start] for start, said in spoken if start < cut).split()
        told = " ".join(one.what for one in note.damage)
        words = note.text.split()
        assert words[: len(left)] == left, cut
        # what is read beyond these is a piece of a cut time or number, and is told
        assert all(word in told for word in words[len(left) :]), (cut, words)


@pytest.mark.parametrize("whole", [WHOLE_VTT, WHOLE_SRT], ids=["vtt", "srt"])
def test_whichever_line_is_lost_the_words_of_the_others_stay(whole: str) -> None:
    lines = whole.splitlines()
    name = "walk.vtt" if whole is WHOLE_VTT else "walk.srt"
    for lost in range(len(lines)):
        note = decode_note("\n".join(lines[:lost] + lines[lost + 1 :]).encode(), name)
        for said in SPOKEN:
            assert said in note.text or lines[lost] == said, lost


@given(st.lists(st.sampled_from([*WHOLE_VTT.splitlines(), *WHOLE_SRT.splitlines(), "-->", "STYLE", "12"])))
def test_any_order_of_lines_gives_a_note_that_keeps_every_spoken_line(lines: list[str]) -> None:
    text = "\n".join(["1", "00:00:01,000 --> 00:00:02,000", "said", *lines])
    note = decode_note(text.encode(), "walk.srt")
    for said in SPOKEN:
        assert note.text.count(said) == lines.count(said)


@given(st.text(max_size=300))
def test_any_text_by_a_caption_name_is_a_note_or_a_plain_refusal(text: str) -> None:
    for name in ("walk.vtt", "walk.srt"):
        try:
            note = decode_note(text.encode("utf-8", "replace"), name)
        except NoteError as error:
            assert str(error).startswith(name)  # noqa: PT017 - a refusal is as good as a note
        else:
            for line in note.lines:
                assert line.text.strip()
                assert all(0 <= word.start < word.end <= len(line.text) for word in line.words)
