"""A shop's own words: they are read like built-in ones, tell what they were taken for, and cannot clash."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from gutterance.reading import read_note
from gutterance.reading.lexicon import LexiconError
from gutterance.reading.own_words import load_own_words, own_words_from

if TYPE_CHECKING:
    from pathlib import Path

    from gutterance.sheet.models import Reading

OWN = """
[[word]]
say = ["snout", "snouts"]
means = "outlet"

[[word]]
say = ["brick edge"]
means = "dies into wall"

[[word]]
say = ["chuck"]
means = "wall to fascia"

[[misheard]]
heard = ["out sight corner", "out sight corners"]
means = "outside corner"

[[misheard]]
heard = ["fore"]
means = "4"

[[misheard]]
heard = ["sticks"]
means = "6"

[[colour]]
say = ["harbour mist"]

[[part]]
say = ["gazebo lodge"]
"""


def at(note: str, path: str) -> Reading[Any]:
    reading = read_note(note.splitlines(), own=own_words_from(OWN, "words.toml")).reading_at(path)
    assert reading is not None
    return reading


@pytest.mark.parametrize(
    ("note", "path", "value", "why"),
    [
        ("Front 42-6 caps both ends, snout left", "outlets.front-1.place", "left", None),
        ("Back 18-2. Two snouts, one each end", "outlets.back-2.place", "right", None),
        ("Front 42-6 cap left, brick edge right", "runs.front.right_end", "wall", "shop's word for 'wall'"),
        ("Front 42-6 out sight corner left", "runs.front.left_end", "outside corner",
         "'out sight corner' was taken for 'outside corner'"),
        ("Back 18-2 caps both ends, harbour mist", "defaults.colour", "harbour mist", "the shop's word"),
    ],
)  # fmt: skip
def test_own_words_are_read_and_told(note: str, path: str, value: str, why: str | None) -> None:
    plain = read_note(note.splitlines()).reading_at(path)
    assert plain is None or plain.value != value or plain.status == "doubtful"
    reading = at(note, path)
    assert (reading.value, reading.status) == (value, "read")
    assert why is None or why in (reading.why or "")


def test_a_number_goes_to_the_field_that_an_own_word_names() -> None:
    reading = at(
        "Front 42-6 caps both ends, drop left, chuck 24, height 9-4", "downpipes.front-1.wall_to_fascia"
    )
    assert reading.value.inches == 24  # fmt: skip


def test_a_part_of_the_house_of_its_own() -> None:
    sheet = read_note(["Gazebo lodge front 12-6, caps both ends"], own=own_words_from(OWN, "words.toml"))
    assert [run.id for run in sheet.runs] == ["gazebo-lodge-front"]


@pytest.mark.parametrize(
    ("note", "inches"),
    [
        ("Front is forty two foot fore end caps both ends", 508),
        ("Front is forty two foot sticks end caps both ends", 510),
    ],
)
def test_words_heard_for_a_number_are_put_right_and_asked_about(note: str, inches: int) -> None:
    reading = at(note, "runs.front.length")
    assert reading.value.inches == inches
    assert reading.status == "doubtful"
    assert "was taken for" in (reading.why or "")


def test_words_heard_for_a_number_stay_words_in_other_company() -> None:
    sheet = read_note(["Front 42-6, mind the sticks on the lawn"], own=own_words_from(OWN, "words.toml"))
    length = sheet.reading_at("runs.front.length")
    assert length is not None
    assert length.value.inches == 510
    assert not sheet.unread


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ('[[word]]\nsay = ["Downspout"]\nmeans = "outlet"',
         ["line 1, word 1", "'Downspout'", "for 'outlet'", "for 'downpipe' (downpipes)"]),
        ('[[word]]\nsay = ["snout"]\nmeans = "outlet"\n\n[[word]]\nsay = ["SNOUT"]\nmeans = "drop"',
         ["line 5, word 2", "'SNOUT' is given already, at line 1, word 1"]),
        ('[[word]]\nsay = ["snout"]\nmeans = "outlett"',
         ["line 1, word 1", "'outlett'", "did you mean 'outlet'"]),
        ('[[word]]\nsay = ["snout"]', ["means is missing"]),
        ('[[word]]\nsay = ["snout"]\nmeans = "outlet"\nnote = "x"', ["unknown key 'note'"]),
        ('[[word]]\nsay = []\nmeans = "outlet"', ["say must be a list of words"]),
        ('[[word]]\nsay = [4]\nmeans = "outlet"', ["say must be a list of words"]),
        ('[[word]]\nsay = ["two hole"]\nmeans = "outlet"', ["'two hole' has a number"]),
        ('[[word]]\nsay = ["foot"]\nmeans = "outlet"', ["'foot' has a number or a unit"]),
        ('[[word]]\nsay = ["the"]\nmeans = "outlet"', ["'the' stands in almost every sentence"]),
        ('[[word]]\nsay = ["--"]\nmeans = "outlet"', ["'--' is no word"]),
        ('[[misheard]]\nheard = ["downspout"]\nmeans = "4"', ["'downspout'", "the number '4'", "downpipe"]),
        ('[[misheard]]\nheard = ["so"]\nmeans = "1234"', ["'so'"]),
        ('[[words]]\nsay = ["x"]', ["'words' is no table", "[[word]]"]),
        ('word = 3', ["'word' is no table"]),
        ('word = [3]', ["word 1", "is not a table"]),
        ('[[word]\n', ["not TOML"]),
    ],
)  # fmt: skip
def test_what_is_wrong_is_named_with_file_line_and_row(text: str, says: list[str]) -> None:
    with pytest.raises(LexiconError) as error:
        own_words_from(text, "words.toml")
    assert all(words in str(error.value) for words in ["words.toml", *says]), str(error.value)


def test_the_same_meaning_again_is_no_clash() -> None:
    assert own_words_from('[[word]]\nsay = ["downspout"]\nmeans = "downpipe"', "words.toml").terms == ()


def test_files_that_cannot_be_used(tmp_path: Path) -> None:
    for name, data in (("folder", None), ("latin.toml", b"# caf\xe9"), ("none.toml", b"")):
        path = tmp_path / name
        if data is None:
            path.mkdir()
        elif data:
            path.write_bytes(data)
        with pytest.raises(LexiconError) as error:
            load_own_words(path)
        assert str(path) in str(error.value)


LABELS = """
[[label]]
say = ["Spread", "tread"]
means = "length"

[[label]]
say = ["brow"]
means = "overhang"
"""
TABLE = ["Eave | Spread | L | R | Outlet | Brow | Height | To",
         "front | 42-6 | osc | cap | left | 18 | 9-4 | drain",
         "back | 31-0 | cap | cap | right | 16 | 9-8 | drain"]  # fmt: skip


def test_a_shops_own_labels_head_a_table() -> None:
    sheet = read_note(TABLE, own=own_words_from(LABELS, "words.toml"))
    length, out = sheet.reading_at("runs.back.length"), sheet.reading_at("downpipes.back-1.wall_to_fascia")
    assert length is not None
    assert (length.value.tape_text(), length.status) == ("31' 0\"", "read")
    assert "'Spread' is the shop's label for 'length'" in (length.why or "")
    assert out is not None
    assert out.value.tape_text() == "1' 4\""
    plain = read_note(TABLE)
    guessed = plain.reading_at("downpipes.back-1.wall_to_fascia")
    assert guessed is not None
    assert guessed.status == "doubtful"  # known only where the file is in use


def test_a_shops_own_labels_stand_on_a_form() -> None:
    note = ["Form", "FRONT", "Tread: 42-6", "Left end: cap", "Right end: outside corner", "Outlet: right",
            "Brow (in): 18", "Height: 9-4"]  # fmt: skip
    sheet = read_note(note, own=own_words_from(LABELS, "words.toml"))
    length, out = sheet.reading_at("runs.front.length"), sheet.reading_at("downpipes.front-1.wall_to_fascia")
    assert length is not None
    assert length.value.tape_text() == "42' 6\""
    assert out is not None
    assert out.value.tape_text() == "1' 6\""


@pytest.mark.parametrize(
    ("row", "said"),
    [
        ('say = ["Drop"]\nmeans = "length"', ("line 1, label 1", "'Drop'", "'length'", "'height'")),
        ('say = ["spread"]\nmeans = "lenght"', ("label 1", "'lenght'", "did you mean 'length'")),
        ('say = "ab"\nmeans = "ht"\n[[label]]\nsay = "A.B."\nmeans = "length"', ("'A.B.'", "line 1")),
        ('say = ["spread 2"]\nmeans = "length"', ("'spread 2'", "number")),
        ('say = ["spread"]\nmeans = 4', ("means must be",)),
        ('say = ["spread"]', ("means is missing",)),
    ],
)  # fmt: skip
def test_a_label_that_cannot_be_used_is_told_with_its_row(row: str, said: tuple[str, ...]) -> None:
    with pytest.raises(LexiconError) as error:
        own_words_from(f"[[label]]\n{row}", "words.toml")
    assert all(words in str(error.value) for words in ("words.toml", *said))


def test_another_spelling_of_a_known_label_is_no_clash() -> None:
    own = own_words_from('[[label]]\nsay = ["HGT"]\nmeans = "ht"', "words.toml")
    assert own.labels == ()
