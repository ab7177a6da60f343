"""Text as programs and phones mangle it: odd spaces and digits, endless lines, transcripts cut short."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from title_words import places_of_title

from gutterance.measure.numerals import every_numeral
from gutterance.notes import NoteError, decode_note
from gutterance.reading import read_note, readable_lines
from gutterance.reading.readable_lines import ReadableLines

if TYPE_CHECKING:
    from collections.abc import Callable

    from gutterance.sheet.models import Sheet

QUICK = settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
EXAMPLES = Path(__file__).parents[2] / "examples"

HOUSE = (
    "Front 42' 6\" OSC L cap R, drop L, w/f 24, ht 9-4 splash",
    "Back forty two foot six and a quarter, caps both ends, drop R, w/f 18, ht 10-4 to drain",
)
WIDE = str.maketrans("0123456789", "０１２３４５６７８９")


def values(sheet: Sheet) -> dict[str, object]:
    """Every settled value of a sheet, as its file would hold it."""
    return {path: str(reading.value) for path, reading in sheet.readings() if reading.settled}


def shown(sheet: Sheet) -> dict[int, set[int]]:
    """The characters of each line that stand somewhere on the sheet."""
    places: dict[int, set[int]] = {}
    for source in sheet.sources():
        places.setdefault(source.line, set()).update(range(source.start, source.end))
    return places


def lost(lines: list[str], sheet: Sheet) -> list[str]:
    """Numerals that the sheet shows nowhere."""
    places = shown(sheet)
    return [
        line[start:end]
        for number, line in enumerate(lines, start=1)
        for start, end in every_numeral(line)
        if not (places.get(number, set()) | places_of_title(line, sheet.title)) & set(range(start, end))
    ]


@pytest.mark.parametrize(
    "change",
    [
        lambda line: line.replace(", ", ",\t"),
        lambda line: line.replace(" ", "\u00a0"),
        lambda line: line.replace(" ", "\u2009"),
        lambda line: line.replace(" ", "\u3000"),
        lambda line: line.translate(WIDE),
        lambda line: f"\u202b{line}\u202c",
        lambda line: line.replace("Front", "\u200fFront\u200e").replace(", ", ",\u200b "),
        lambda line: f"\ufeff{line}",
        lambda line: f"{line} \U0001f44d\U0001f3fd",
        lambda line: f"\U0001f3e0 {line}",
        lambda line: line.replace("'", "\u2019").replace('"', "\u201d"),
        lambda line: line.replace("'", "\u2032").replace('"', "\u2033"),
        lambda line: line.replace("-", "\u2013"),
        lambda line: line.replace("-", "\u2011"),
        lambda line: line.upper(),
        lambda line: line + "\u0000",
    ],
    ids=["tabs behind commas", "no-break spaces", "thin spaces", "wide spaces", "full-width digits",
         "right-to-left embedding",
         "direction marks and zero-width spaces", "a byte-order mark", "emoji behind", "emoji before",
         "curly quotes", "primes", "dashes", "no-break hyphens", "capitals", "a NUL"],
)  # fmt: skip
def test_mangled_text_has_the_values_of_the_plain(change: Callable[[str], str]) -> None:
    lines = [change(line) for line in HOUSE]
    sheet = read_note(lines)
    assert values(sheet) == values(read_note(HOUSE))
    assert lost(lines, sheet) == []
    for source in sheet.sources():
        assert lines[source.line - 1][source.start : source.end] == source.text


ODD = st.text(
    st.one_of(
        st.sampled_from("0123456789½¼/'\"-.,: \t\u00a0\u200e\u200f\u202b\ufeff０５９\u0665²③Ⅳ\U0001f600"),
        st.characters(exclude_categories=["Cs"], exclude_characters="\r\n"),
    ),
    max_size=60,
)


@given(st.lists(st.one_of(ODD, st.sampled_from(HOUSE)), max_size=4))
@QUICK
def test_no_number_is_lost_in_any_odd_text(lines: list[str]) -> None:
    sheet = read_note(lines)
    assert lost(lines, sheet) == []
    assert read_note(lines) == sheet
    for source in sheet.sources():
        assert lines[source.line - 1][source.start : source.end] == source.text


@given(st.integers(0, len(HOUSE)), st.sampled_from(("thanks for the coffee", "", "see you all tomorrow")))
def test_an_unrelated_line_anywhere_changes_no_value(place: int, line: str) -> None:
    with_it = [*HOUSE[:place], line, *HOUSE[place:]]
    assert values(read_note(with_it)) == values(read_note(HOUSE))


# A line longer than is read whole is read in parts: the limits are made small here to see many cuts.


def test_a_long_line_is_cut_at_sentences_and_its_sources_stand_where_they_were(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(readable_lines, "LONGEST", 120)
    monkeypatch.setattr(readable_lines, "LOOK_BACK", 80)
    line = " ".join(f"{part}." for part in HOUSE)
    sheet = read_note([line])
    assert len(ReadableLines([line]).lines) > 1
    assert values(sheet) == values(read_note(list(HOUSE)))
    assert sheet.note == [line]
    for source in sheet.sources():
        assert line[source.start : source.end] == source.text


def test_no_number_is_cut_in_two(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(readable_lines, "LONGEST", 60)
    monkeypatch.setattr(readable_lines, "LOOK_BACK", 50)
    said = "front is forty two foot six and a quarter outside corners both ends drop left "
    for shift in range(40):
        line = "so " * shift + said
        assert "forty two foot six and a quarter" in " / ".join(ReadableLines([line]).lines)


@given(st.text(st.sampled_from("ab 42-6.;½\t"), max_size=400))
@QUICK
def test_parts_put_together_are_the_line_and_lose_no_number(text: str) -> None:
    before = readable_lines.LONGEST, readable_lines.LOOK_BACK
    try:
        readable_lines.LONGEST, readable_lines.LOOK_BACK = 50, 30
        assert "".join(ReadableLines([text]).lines) == text
        sheet = read_note([text])
        assert lost([text], sheet) == []
        for source in sheet.sources():
            assert text[source.start : source.end] == source.text
    finally:
        readable_lines.LONGEST, readable_lines.LOOK_BACK = before


def test_a_very_long_line_and_very_many_runs_lose_no_number() -> None:
    # benchmarks/reading_scaling.py goes up to a million characters; this is enough to be cut several times.
    lines = [
        "mind the step 42-6 " * 2000,
        *(f"{chr(97 + n % 26)}{n}ville eave 42-6 caps" for n in range(450)),
    ]
    sheet = read_note(lines)
    assert lost(lines, sheet) == []


@pytest.mark.parametrize("form", ["vtt", "json"])
@given(data=st.data())
@settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))
def test_a_transcript_cut_anywhere_gives_a_sheet_and_says_that_it_is_cut(
    form: str, data: st.DataObject
) -> None:
    whole = (EXAMPLES / f"3-alder-walk.{form}").read_bytes()
    cut = whole[: data.draw(st.integers(1, len(whole) - 2))]
    try:
        note = decode_note(cut, f"walk.{form}")
    except NoteError:
        return
    sheet = read_note(note)
    assert lost(list(note.lines_text()), sheet) == []
    assert [(one.file, one.line) for one in sheet.damage] == [(one.file, one.line) for one in note.damage]
    # What is left of a file may be too little to know it for a transcript; then it stands there as it is.
    assert form == "vtt" or sheet.damage or sheet.note[0].startswith("{")


@given(st.binary(max_size=300))
@QUICK
def test_any_bytes_give_a_sheet_or_a_refusal(data: bytes) -> None:
    try:
        note = decode_note(data, "note")
    except NoteError:
        return
    sheet = read_note(note)
    assert lost(list(note.lines_text()), sheet) == []
    assert json.loads(sheet.model_dump_json(by_alias=True))["note"] == list(note.lines_text())


def test_half_a_sign_is_read_over(read: Callable[..., Any]) -> None:
    seen = read("front 42-6 \ud83c osc both, drop left")
    seen.feet("runs.front.length", 42, 6)
    assert "\ufffd" in seen.sheet.model_dump_json()
