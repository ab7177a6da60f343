"""The trained reader beside the rules: what it claims, and what it may do to their sheet."""

from __future__ import annotations

from pathlib import Path

import pytest

from gutterance.measure.length import Length
from gutterance.notes import open_note
from gutterance.reading import read_by_rules, read_note
from gutterance.reading.trained.agreeing import AGREED, OTHERWISE, hold_against
from gutterance.reading.trained.listening import listen
from gutterance.reading.trained.telling import Telling, opposite, run_key
from gutterance.scoring.marked_words import MarkedWordsError, load_marked_words

# a house told in plain sentences, put together for this test and in no corpus
PLAIN = (
    "The front is 38 foot 4, end cap on the left and end cap on the right.",
    "One downspout at the left end, 9 foot 2 down to a splash block, overhang 14 inches.",
    "The back is 38 foot 6, end caps both ends.",
    "Downspout at the right end, 10 foot 1 to the drain, overhang 12 inches.",
)
MARKED = Path(__file__).parents[2] / "corpus" / "marked"


def test_it_claims_what_plain_sentences_say() -> None:
    _, heard = read_by_rules(PLAIN)
    claims = {
        (claim.field, claim.run, claim.side): claim.value for claim in listen(heard.symbols, metric=False)
    }
    assert claims["length", "front", None] == Length.from_feet(38, 4)
    assert claims["length", "back", None] == Length.from_feet(38, 6)
    assert claims["left_end", "back", None] == "end cap"
    assert claims["height", "front", "left"] == Length.from_feet(9, 2)
    assert claims["ends_at", "back", "right"] == "drain"


def test_a_certain_value_that_it_reads_otherwise_is_asked_about() -> None:
    sheet, heard = read_by_rules(PLAIN)
    run = sheet.run("front")
    assert run is not None
    assert run.length is not None
    run.length.value = Length.from_feet(83, 4)
    hold_against(sheet, heard)
    assert run.length.status == "doubtful"
    assert run.length.why is not None
    assert run.length.why.startswith(OTHERWISE)
    assert [one.value for one in run.length.could_be] == [Length.from_feet(38, 4)]


@pytest.mark.parametrize(
    ("why", "status"),
    [
        ("9 of the note's 26 numbers found no place: was all of it understood?", "read"),
        ("'about': said as about, not as measured", "doubtful"),
        ("two different values were said, with no word of correction", "doubtful"),
    ],
)
def test_only_a_doubt_about_how_words_hang_together_is_lifted(why: str, status: str) -> None:
    sheet, heard = read_by_rules(PLAIN)
    run = sheet.run("back")
    assert run is not None
    assert run.length is not None
    run.length.status, run.length.why = "doubtful", why
    hold_against(sheet, heard)
    assert run.length.status == status
    assert (AGREED in (run.length.why or "")) == (status == "read")


def test_nothing_that_it_alone_found_is_shown_as_certain() -> None:
    notes = sorted(MARKED.glob("*-messy-corrections-1.txt"))
    assert len(notes) > 5
    added = 0
    for path in notes:
        note = open_note(path)
        by_rules = {at for at, _ in read_by_rules(note)[0].readings()}
        for at, reading in read_note(note).readings():
            if at not in by_rules:
                added += 1
                assert reading.status == "doubtful", (path.name, at)
    assert added


def test_what_a_place_names_and_a_ditto_turns_round() -> None:
    assert run_key("garage-left-side") == run_key("left garage")
    assert opposite("east") == "west"
    assert Telling().known("front") is None


def test_marked_words_that_are_not_there_are_named(tmp_path: Path) -> None:
    path = tmp_path / "x.words.json"
    path.write_text('[{"line": 1, "words": "forty", "is": ["runs.front.length"]}]', encoding="utf-8")
    with pytest.raises(MarkedWordsError, match=r"x\.words\.json, entry 1: the words 'forty'"):
        load_marked_words(path, ["front 42 6"])
