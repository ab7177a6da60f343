"""Amendments: on top of the note's reading, kept through a new reading, and told where they fit no more."""

from __future__ import annotations

from typing import Any

import pytest
from houses import four_sides, reading, run, sheet
from hypothesis import given
from hypothesis import strategies as st

from gutterance.sheet.amendments import Amendment, apply_amendments, of_note, standing
from gutterance.sheet.models import Sheet
from gutterance.sheet.paths import find_place, paths_that_can_be_amended


def amended(
    path: str, value: str | None, was: str | None = None, when: str = "2026-05-04T09:30"
) -> Amendment:
    return Amendment(path=path, value=value, was=was, by="Ann", when=when, why="measured again")


def value_at(of: Sheet, path: str) -> Any:
    at = of.reading_at(path)
    assert at is not None
    return at.value.file_text() if hasattr(at.value, "file_text") else at.value


@pytest.mark.parametrize(
    ("path", "value"),
    [
        ("runs.front.length", "509 1/4 in"),
        ("runs.front.length", "12940 mm"),
        ("runs.front.left_end", "inside corner"),
        ("runs.front.left_angle", "45"),
        ("outlets.front-1.place", "centre"),
        ("outlets.front-1.distance", "6 in"),
        ("downpipes.front-1.height", "113 in"),
        ("defaults.colour", "brown"),
    ],
)
def test_an_amendment_stands_on_top_and_what_was_is_kept(path: str, value: str) -> None:
    note = four_sides()
    before = note.reading_at(path)
    after = apply_amendments(note, [amended(path, value, None if before is None else value_at(note, path))])
    at = after.sheet.reading_at(path)
    assert after.misfits == []
    assert at is not None
    assert (at.status, at.by) == ("corrected", "Ann")
    assert str(value_at(after.sheet, path)).removesuffix(".0") == value
    assert at.was == ([] if before is None else [before])
    assert note == four_sides()  # the reading itself is untouched


def test_an_outlet_amended_in_place_is_there_for_the_layout() -> None:
    after = apply_amendments(four_sides(), [amended("outlets.front-1.place", "centre")]).sheet
    assert after.outlets[0].from_ == "centre"
    assert Sheet.model_validate_json(after.model_dump_json(by_alias=True)) == after


def test_a_later_amendment_wins_and_the_earlier_is_kept() -> None:
    path = "runs.front.length"
    made = [amended(path, "511 in", "510 in"), amended(path, "512 in", "510 in")]
    at = apply_amendments(four_sides(), made).sheet.reading_at(path)
    assert at is not None
    assert [one.value.file_text() for one in (at, *at.was, *at.was[0].was)] == ["512 in", "511 in", "510 in"]
    assert of_note(at).value.file_text() == "510 in"  # type: ignore[union-attr]


def test_a_withdrawal_takes_back_the_last_one_only() -> None:
    path = "runs.front.length"
    made = [amended(path, "511 in"), amended(path, "512 in"), amended(path, None)]
    assert [one.value for one in standing(made)] == ["511 in"]
    assert value_at(apply_amendments(four_sides(), made).sheet, path) == "511 in"
    assert standing([*made, amended(path, None), amended(path, None)]) == []


def test_a_sheet_saved_with_its_amendments_takes_them_again_without_change() -> None:
    made = [amended("runs.front.length", "511 in", "510 in"), amended("runs.back.left_angle", "45")]
    once = apply_amendments(four_sides(), made).sheet
    again = apply_amendments(once, made)
    assert again.sheet == once
    assert again.misfits == []
    withdrawn = apply_amendments(once, [*made, amended("runs.front.length", None)]).sheet
    assert value_at(withdrawn, "runs.front.length") == "510 in"


def test_reading_a_longer_note_keeps_amendments() -> None:
    longer = four_sides()
    longer.runs.append(sheet([run("porch", "96 in")]).runs[0])
    after = apply_amendments(longer, [amended("runs.front.length", "511 in", "510 in")])
    assert value_at(after.sheet, "runs.front.length") == "511 in"
    assert after.misfits == []


@pytest.mark.parametrize(
    ("made", "kind", "stands"),
    [
        (amended("runs.rear.length", "511 in", "510 in"), "path", None),
        (amended("runs.front.length", "long", "510 in"), "value", "510 in"),
        (amended("runs.front.length", "-", "510 in"), "value", "510 in"),
        (amended("runs.front.length", "511 in", "508 in"), "note", "511 in"),
        (amended("runs.front.length", "511 in", None), "note", "511 in"),
        (amended("runs.front", "511 in"), "value", "510 in"),
        (amended("nothing.at.all", "511 in"), "path", None),
    ],
)
def test_one_that_no_longer_fits_is_told(made: Amendment, kind: str, stands: str | None) -> None:
    after = apply_amendments(four_sides(), [made])
    assert [(one.kind, one.amendment) for one in after.misfits] == [(kind, made)]
    if stands is not None:
        assert value_at(after.sheet, "runs.front.length") == stands


def test_a_note_that_now_says_what_was_amended_is_no_misfit() -> None:
    assert apply_amendments(four_sides(), [amended("runs.front.length", "510 in", "500 in")]).misfits == []


def test_a_part_taken_off_is_told_in_a_remark_with_its_length() -> None:
    told = four_sides()
    after = apply_amendments(told, [amended("runs.back", "none", "run back (42' 6\")")])
    assert [one.id for one in after.sheet.runs] == ["front", "right-side", "left-side"]
    assert {one.run for one in after.sheet.outlets} == {"front"}
    assert {one.outlet for one in after.sheet.downpipes} == {"front-1", "front-2"}
    assert "run back (42' 6\")" in after.sheet.remarks[-1].text
    assert after.misfits == []


def test_something_unread_is_found_where_it_has_moved_to() -> None:
    def unread(text: str, line: int) -> dict[str, Any]:
        source = {"line": line, "start": 0, "end": len(text), "text": text}
        return {"text": text, "source": source, "why": "no field"}

    told = four_sides(unread=[unread("9", 1), unread("17", 2)])
    after = apply_amendments(told, [amended("unread.1", "none", "17")])
    assert [one.text for one in after.sheet.unread] == ["9"]
    assert "“17”" in after.sheet.remarks[-1].text


def test_an_inferred_length_is_nobodys_word() -> None:
    note = sheet([run("front", None, "out out")])
    note.runs[0].length = reading_of("510 in", "inferred")
    place = find_place(note, "runs.front.length")
    assert place is not None
    assert place.reading is not None
    assert of_note(place.reading) is None


def reading_of(value: str, status: str) -> Any:
    from gutterance.sheet.models import LengthReading

    return LengthReading.model_validate(reading(value, status))


@given(
    path=st.sampled_from(sorted(paths_that_can_be_amended(four_sides()))) | st.text(max_size=20),
    value=st.sampled_from(["510 in", "45", "left", "none", "white", "outside corner", ""])
    | st.text(max_size=9),
)
def test_no_amendment_whatever_brings_the_sheet_down_or_is_lost(path: str, value: str) -> None:
    made = amended(path, value)
    after = apply_amendments(four_sides(), [made])
    place = find_place(after.sheet, path)
    taken_off = value == "none" and place is None
    stands = place is not None and not after.misfits
    assert stands or taken_off or after.misfits[0].amendment is made
    Sheet.model_validate_json(after.sheet.model_dump_json(by_alias=True))
