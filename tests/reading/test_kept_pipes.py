"""Outlets for which no downpipe is made: the old one stays, or a chain hangs there."""

from __future__ import annotations

import pytest

from gutterance.checking import as_it_stands
from gutterance.lists import make_lists
from gutterance.reading import read_note
from gutterance.reading.kept_pipes import KeptPipesFileError, emptied_into, read_phrases
from gutterance.render.downpipelist import downpipe_list
from gutterance.shop import load_shop

BACK = "Back 42-6 end caps both ends, drop right w/f 18 h 9-4 splash"


@pytest.mark.parametrize(
    ("front", "into"),
    [
        ("Front 42-6 end caps both ends, drop left onto the existing downpipe", "existing downpipe"),
        ("Front 42-6 caps both ends, outlet left, existing pipe stays", "existing downpipe"),
        ("Front 42-6 caps both ends. Drop left, reuse the old downspout there.", "existing downpipe"),
        ("Front 42-6 caps both ends, drop left, no new pipe", "existing downpipe"),
        ("Front 42-6 caps both ends, drop left into a rain chain", "rain chain"),
    ],
)
def test_no_pipe_is_made_and_none_asked_about(front: str, into: str) -> None:
    sheet = read_note([front, BACK])
    outlet = sheet.outlet("front-1")
    assert outlet is not None
    assert outlet.into is not None
    assert outlet.into.value == into
    (source,) = outlet.into.source
    assert front[source.start : source.end] == source.text
    assert [pipe.id for pipe in sheet.downpipes] == ["back-1"]
    assert not [one for one in as_it_stands(sheet).findings if "front-1" in one.about]


@pytest.mark.parametrize(
    "front",
    [
        "Front 42-6 end caps both ends, drop left w/f 18 h 9-4 splash, replace the existing downpipe",
        "Front 42-6 end caps both ends, drop left w/f 18 h 9-4 splash, don't keep the old pipe",
        "Front 42-6 end caps both ends, drop left w/f 18 h 9-4 splash, old downpipe is rusted through",
    ],
)
def test_words_about_an_old_pipe_that_goes_leave_the_new_one(front: str) -> None:
    sheet = read_note([front, BACK])
    assert [pipe.id for pipe in sheet.downpipes] == ["front-1", "back-1"]
    assert all(outlet.into is None for outlet in sheet.outlets)


def test_the_run_that_is_named_has_its_old_pipes_kept() -> None:
    sheet = read_note(
        [
            "Front 42-6 caps both ends, drop left w/f 18 h 9-4 splash",
            "Back 42-6 caps both ends, drop each end",
            "No new downpipes at the back.",
        ]
    )
    assert [pipe.id for pipe in sheet.downpipes] == ["front-1"]
    assert {one.id: one.into and one.into.value for one in sheet.outlets} == {
        "front-1": None,
        "back-1": "existing downpipe",
        "back-2": "existing downpipe",
    }


def test_a_pipe_that_was_measured_all_the_same_is_asked_about_and_held() -> None:
    sheet = read_note(
        ["Front 42-6 caps both ends, drop left w/f 18 h 9-4 splash onto the existing downpipe", BACK]
    )
    stands = as_it_stands(sheet)
    (finding,) = [one for one in stands.findings if one.about == "outlets.front-1.into"]
    assert finding.holds == ["downpipes.front-1"]
    assert [one.value for one in finding.suggests] == ["existing downpipe", "new downpipe"]
    assert [pipe.id for pipe in stands.sheet.downpipes] == ["front-1", "back-1"]


def test_which_of_two_outlets_is_asked() -> None:
    sheet = read_note(
        ["Front 42-6 caps both ends, drop left, drop right", "reuse the existing downpipe", BACK]
    )
    assert {one.into and one.into.status for one in sheet.outlets_of("front")} == {"doubtful"}
    assert len(sheet.downpipes) == 3


def test_the_downpipe_list_says_what_takes_the_water() -> None:
    shop = load_shop()
    stands = as_it_stands(read_note(["Front 42-6 caps both ends, drop left into a rain chain", BACK]))
    lists = make_lists(stands.sheet, stands.findings, shop)
    assert [pipe.id for pipe in lists.downpipes] == ["back-1"]
    assert "NO DOWNPIPE MADE\n  front-1: front, left end; rain chain" in downpipe_list(lists, shop)


def test_words_alone() -> None:
    assert emptied_into("leave the existing leaders") == "existing downpipe"
    assert emptied_into("9-4, w/f 18, splash") is None


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("pipe = [", "x.toml: not TOML"),
        (
            'pipe = ["a"]\nold = ["b"]\nnot_after = ["c"]',
            "x.toml: it holds pipe, old, not_after and [[kept]]",
        ),
        ('pipe = []\nold = ["b"]\nnot_after = ["c"]\nkept = []', "x.toml: pipe must be a list of words"),
        (
            'pipe = ["a"]\nold = ["b"]\nnot_after = ["c"]\n[[kept]]\ninto = ""\nwords = ["d"]',
            "x.toml, [[kept]] row 1: a row has into",
        ),
    ],
)
def test_a_data_file_that_cannot_be_used_is_refused(text: str, says: str) -> None:
    with pytest.raises(KeptPipesFileError) as refused:
        read_phrases(text, "x.toml")
    assert says in str(refused.value)


def test_words_about_a_later_run_do_not_reach_back_to_another() -> None:
    sheet = read_note(
        ["Front 42-6 caps both ends, drop left w/f 18 h 9-4", "Back 42-6 caps", "onto the existing downpipe"]
    )
    assert all(outlet.into is None for outlet in sheet.outlets_of("front"))
