"""The sheet on the page: every value there is, each state told by a sign and a word of its own."""

from __future__ import annotations

from pathlib import Path

import pytest

from gutterance.checking import as_it_stands
from gutterance.reading import read_note
from gutterance.sheet.amendments import Amendment
from gutterance.sheet.models import Sheet
from gutterance.web.views.marks import KEY, marks_of
from gutterance.web.views.sheet import SheetPart, ShownValue, loose_words, sheet_parts

CORPUS = Path(__file__).parents[2] / "corpus"
NOTE = [
    "7 Heron Row",
    "Front 42-6 OSC both ends, drop left, w/f about 24, height nine four",
    "back same as the front but 40-6",
    "right side 28-0 ate caps both ends, 17",
    "Mind the power line",
]


def amended(path: str, value: str, was: str | None) -> Amendment:
    return Amendment(path=path, value=value, by="Ana", when="2026-03-09T14:02:00+00:00", why="rang", was=was)


def values_of(parts: list[SheetPart]) -> dict[str, ShownValue]:
    return {value.path: value for part in parts for value in part.all_values()}


def standing(note: list[str], *amendments: Amendment) -> tuple[Sheet, dict[str, ShownValue]]:
    stands = as_it_stands(read_note(note), list(amendments))
    return stands.sheet, values_of(sheet_parts(stands.sheet, stands.findings))


@pytest.mark.parametrize("path", sorted(CORPUS.glob("*.txt"))[::9], ids=lambda path: path.stem)
def test_every_reading_of_a_sheet_is_on_the_page_once(path: Path) -> None:
    stands = as_it_stands(read_note(path.read_text(encoding="utf-8").splitlines()))
    parts = sheet_parts(stands.sheet, stands.findings)
    shown = [value.path for part in parts for value in part.all_values()]
    assert len(shown) == len(set(shown))
    assert {at for at, _ in stands.sheet.readings()} <= set(shown)
    loose = loose_words(stands.sheet)
    assert len(loose) == len(stands.sheet.unread) + len(stands.sheet.remarks)


def test_signs_and_words_are_each_of_their_own() -> None:
    words = [mark.word for mark in KEY]
    assert len(set(words)) == len(words)
    signs = [mark.sign for mark in KEY if mark.kind not in ("read", "changed", "corrected")]
    assert len(set(signs)) == len(signs), "two states that differ by a word alone"
    assert all(mark.says for mark in KEY)


def test_read_doubtful_ditto_and_not_said_are_told_apart() -> None:
    _, shown = standing(NOTE)

    def words(path: str) -> list[str]:
        return [mark.word for mark in shown[path].marks]

    assert words("runs.front.length") == ["read"]
    assert words("downpipes.front-1.wall_to_fascia") == ["doubtful"]
    assert words("downpipes.back-1.wall_to_fascia") == ["doubtful", "ditto"]
    assert words("runs.back.left_end") == ["read", "ditto"]
    assert words("defaults.colour") == ["not said"]
    assert shown["defaults.colour"].text == ""


def test_accepted_changed_and_entered_by_hand_are_told_apart() -> None:
    _, shown = standing(
        NOTE,
        amended("downpipes.front-1.wall_to_fascia", "24 in", "24 in"),
        amended("runs.front.length", "512 in", "510 in"),
        amended("defaults.colour", "white", None),
    )
    marks = {path: shown[path].marks[0].word for path in shown if shown[path].by}
    assert marks == {
        "downpipes.front-1.wall_to_fascia": "accepted",
        "runs.front.length": "changed",
        "defaults.colour": "entered by hand",
    }
    assert shown["runs.front.length"].was == ("42' 6\"",)
    assert shown["runs.front.length"].text == "42' 8\""
    assert shown["runs.front.length"].lines == (2,), "the words it first came from are still led to"


def test_a_value_amended_twice_still_shows_what_the_note_says() -> None:
    sheet, shown = standing(
        NOTE,
        amended("runs.front.length", "512 in", "510 in"),
        amended("runs.front.length", "510 in", "510 in"),
    )
    assert shown["runs.front.length"].marks[0].word == "accepted"
    assert marks_of(sheet.reading_at("runs.front.length"))[0].sign == "✓"


def test_a_part_on_hold_says_why() -> None:
    stands = as_it_stands(read_note(NOTE))
    parts = {part.path: part for part in sheet_parts(stands.sheet, stands.findings)}
    assert parts["runs.front"].held
    front = parts["runs.front"].parts[0]
    assert front.kind == "outlet"
    assert front.parts[0].path == "downpipes.front-1"
    assert any("in doubt" in why for why in front.parts[0].held)


def test_strays_are_not_lost() -> None:
    sheet = Sheet.model_validate(
        {
            "runs": [{"id": "front", "name": "front"}],
            "outlets": [{"id": "x-1", "run": "nowhere", "from": "left"}],
            "downpipes": [{"id": "p", "outlet": None}, {"id": "q", "outlet": "gone"}],
        }
    )
    headings = [part.heading for part in sheet_parts(sheet)]
    assert "Outlet on no run (nowhere)" in headings
    assert "Downpipe with no outlet (p)" in headings
    assert "Downpipe with no outlet (q)" in headings


def test_hazards_come_before_other_remarks_and_after_what_was_not_understood() -> None:
    sheet, _ = standing(NOTE)
    loose = loose_words(sheet)
    assert [one.word for one in loose] == ["not understood", "hazard"]
    assert loose[1].sign == "!"
    assert loose[1].line == 5
