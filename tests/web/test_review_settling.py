"""What is to be settled: each question once, with answers that one key gives, and each does what it says."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from gutterance.checking import as_it_stands, open_questions
from gutterance.checking.findings import HOLDING
from gutterance.jobs.decisions import Decision
from gutterance.jobs.questions import choices, finding_id
from gutterance.reading import read_note
from gutterance.sheet.amendments import Amendment
from gutterance.sheet.paths import find_place
from gutterance.web.views.settling import to_know, to_settle
from gutterance.web.views.wanted import example

if TYPE_CHECKING:
    from collections.abc import Iterator

CORPUS = Path(__file__).parents[2] / "corpus"
NOTE = [
    "7 Heron Row",
    "Front 42-6 OSC both ends, drop left, w/f about 24, height nine four",
    "back same as the front but 40-6",
    "right side 28-0 ate caps both ends, 17",
    "Mind the power line",
]


def notes() -> Iterator[list[str]]:
    for path in sorted(CORPUS.glob("*.txt"))[::11]:
        yield path.read_text(encoding="utf-8").splitlines()


def test_every_open_question_is_there_once_with_an_id_of_its_own() -> None:
    for note in notes():
        stands = as_it_stands(read_note(note))
        rows = to_settle(stands.sheet, stands.findings)
        assert [row.asks for row in rows] == [
            one.text for one in open_questions(stands.sheet, stands.findings)
        ]
        assert len({row.id for row in rows}) == len(rows)
        assert all(row.sign and row.word and row.says for row in rows)


def test_every_offer_can_be_put_on_the_sheet_and_settles_or_changes_something() -> None:
    """Each change an offer would make leads to a place on the sheet and fits there."""
    tried = 0
    for note in notes():
        read = read_note(note)
        stands = as_it_stands(read)
        for row in to_settle(stands.sheet, stands.findings):
            for offer in row.offers:
                if not offer.changes:
                    continue
                tried += 1
                amendments = [
                    Amendment(path=path, value=value, by="t", when="2026-01-01", why="t")
                    for path, value in offer.changes
                ]
                assert all(find_place(stands.sheet, path) is not None for path, _ in offer.changes)
                after = as_it_stands(read, amendments)
                assert not any(one.code == "amendment-unreadable" for one in after.findings)
    assert tried > 40


def test_offers_have_the_keys_1_to_9_in_order() -> None:
    stands = as_it_stands(read_note(["Front 42-6 OSC right, drop left, w/f 24, height 9-4"]))
    rows = {row.about: row for row in to_settle(stands.sheet, stands.findings)}
    ends = rows[("runs.front.left_end",)]
    assert [(one.key, one.value) for one in ends.offers] == [
        ("1", "outside corner"), ("2", "inside corner"), ("3", "end cap"), ("4", "wall"), ("5", "splice"),
    ]  # fmt: skip


def test_a_doubtful_value_is_confirmed_by_yes_or_typed_anew() -> None:
    stands = as_it_stands(read_note(NOTE))
    row = next(
        row
        for row in to_settle(stands.sheet, stands.findings)
        if "wall_to_fascia" in row.about[0] and row.confirms
    )
    assert row.confirms == '24"'
    assert row.wanted == "24"
    assert (2, "about 24") in row.words


def test_words_not_understood_may_be_struck_out() -> None:
    stands = as_it_stands(read_note(NOTE))
    row = next(row for row in to_settle(stands.sheet, stands.findings) if "unread-number" in row.codes)
    assert row.offers[-1].value == "strike out"
    assert row.offers[-1].changes == (("unread.1", "none"),)


def test_only_what_has_values_may_be_left_as_it_stands() -> None:
    """A gap has nothing that could stand; a doubt or a conflict has."""
    for note in notes():
        stands = as_it_stands(read_note(note))
        kinds = {(one.about, one.code): one.kind for one in stands.findings}
        for row in to_settle(stands.sheet, stands.findings):
            own = {kinds[about, code] for about in row.about for code in row.codes if (about, code) in kinds}
            assert row.stands == ("gap" not in own)


def test_what_the_crew_was_asked_comes_last() -> None:
    stands = as_it_stands(read_note(NOTE))
    first = to_settle(stands.sheet, stands.findings)[0]
    own = next(one for one in stands.findings if one.about == first.about[0] and one.code in first.codes)
    asked = {finding_id(own): Decision("asked", "Ana", "2026-03-09T14:02", "rang Jo")}
    rows = to_settle(stands.sheet, stands.findings, asked)
    assert rows[-1].id == first.id
    assert rows[-1].asked == asked[finding_id(own)]


def test_what_to_know_has_hazards_first_and_what_was_seen_last() -> None:
    stands = as_it_stands(read_note(NOTE))
    rows = to_know(stands.findings)
    assert rows[0].word == "hazard"
    assert len(rows) == sum(one.kind not in HOLDING for one in stands.findings)
    again = to_know(stands.findings, {rows[0].id: Decision("seen", "Ana", "2026-03-09T14:02", "")})
    assert again[-1].id == rows[0].id


@pytest.mark.parametrize("field", ["length", "height", "left_end", "place", "ends_at", "colour"])
def test_the_example_shown_is_itself_an_answer(field: str) -> None:
    from gutterance.reading.answers import read_answer

    group = {"place": "outlets", "height": "downpipes", "ends_at": "downpipes"}.get(field, "runs")
    path = f"{group}.front.{field}" if field != "colour" else "defaults.colour"
    for metric in (False, True):
        answers = read_answer(example(path, metric=metric), [path], metric=metric)
        assert [one.reading.status for one in answers] == ["read"], (field, metric)


def test_choices_are_those_of_the_sheet() -> None:
    assert choices("runs.front.left_end")[:2] == ("outside corner", "inside corner")
    assert choices("runs.front.length") == ()
