"""What an answer settles, from the open question to a sheet on which nothing is open."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from gutterance.checking import as_it_stands, open_questions
from gutterance.checking.answering import could_answer, settle_answer
from gutterance.sheet.amendments import Amendment, file_value

if TYPE_CHECKING:
    from collections.abc import Callable

    from gutterance.checking.settled import Settled
    from gutterance.sheet.models import Sheet

    Build = Callable[..., Sheet]


def first(sheet: Sheet, text: str) -> Settled | None:
    stands = as_it_stands(sheet)
    return settle_answer(open_questions(stands.sheet, stands.findings)[0], text, stands.sheet)


def after(sheet: Sheet, settled: Settled | None) -> list[str]:
    """The codes left once the changes are amended."""
    assert settled is not None
    made = []
    for one in settled.changes:
        told = sheet.reading_at(one.path)
        was = None if told is None or told.value is None else file_value(told.value)
        made.append(
            Amendment(path=one.path, value=one.value, by="Ann", when="2026-05-04", why="answer", was=was)
        )
    return [found.code for found in as_it_stands(sheet, made).findings]


def changes(settled: Settled | None) -> dict[str, str]:
    assert settled is not None
    return {one.path: one.value for one in settled.changes}


def test_a_height_is_settled_by_its_number(sheet_of: Build) -> None:
    pipes: list[dict[str, Any]] = [{"id": "front-1", "outlet": "front-1", "height": None}]
    sheet = sheet_of({"front": (510, "C", "C")}, pipes=pipes)
    settled = first(sheet, "9 2")
    assert changes(settled) == {"downpipes.front-1.height": "110 in"}
    assert after(sheet, settled) == []


def test_yes_confirms_a_length_worked_out(box: Build) -> None:
    sheet = box(back=None)
    settled = first(sheet, "yes")
    assert changes(settled) == {"runs.back.length": "510 in"}
    assert after(sheet, settled) == []
    assert changes(first(sheet, "the back is 42-6")) == {"runs.back.length": "510 in"}


def test_a_letter_takes_the_offer_of_that_letter(box: Build) -> None:
    sheet = box(front=50 * 12, back=15 * 12)
    assert changes(first(sheet, "(b)")) in ({"runs.back.length": "600 in"}, {"runs.front.length": "180 in"})
    assert after(sheet, first(sheet, "a")) == []
    nothing = first(sheet, "h")
    assert nothing is not None
    assert nothing.not_enough


def test_one_of_several_walls_is_named_in_the_answer(box: Build) -> None:
    sheet = box(back=474)
    assert changes(first(sheet, "back 42-6")) == {"runs.back.length": "510 in"}
    assert first(sheet, "right side 28-3") is None  # not one of those asked about


def test_an_utterance_is_no_answer(sheet_of: Build) -> None:
    sheet = sheet_of({"front": (None, "C", "C")})
    assert first(sheet, "Back 42-6 end caps both ends") is None
    assert first(sheet, "dog in the yard") is None


def test_an_answer_that_leaves_room_is_not_enough(sheet_of: Build) -> None:
    settled = first(sheet_of({"front": (None, "C", "C")}), "about 42")
    assert settled is not None
    assert settled.changes == ()
    assert settled.not_enough


def test_where_an_outlet_is_goes_into_the_note(sheet_of: Build) -> None:
    sheet = sheet_of({"front": (510, "C", "C"), "back": (510, "C", "C")})
    settled = first(sheet, "left end")
    assert settled is not None
    assert settled.say == "back: drop left end"


def test_right_is_a_place_and_no_agreement_where_the_question_is_where(sheet_of: Build) -> None:
    settled = first(sheet_of({"front": (510, "C", "C"), "back": (510, "C", "C")}), "right")
    assert settled is not None
    assert settled.say == "back: drop right"


def test_a_plausible_value_confirmed_is_not_asked_again(sheet_of: Build) -> None:
    sheet = sheet_of({"front": (4, "C", "C")})
    assert after(sheet, first(sheet, "yes")) == []


def test_the_run_that_comes_next_is_named(sheet_of: Build) -> None:
    sheet = sheet_of({"front": (510, "C", "O", {"next_run": "lean-to"}), "shed-side": (96, "O", "C")})
    assert changes(first(sheet, "the shed side")) == {"runs.front.next_run": "shed-side"}


def test_no_gutter_on_a_side_leaves_open_what_its_corners_are(sheet_of: Build) -> None:
    sheet = sheet_of({"front": (510, "O", "O"), "right-side": (339, "O", "O"), "back": (510, "O", "O")})
    settled = first(sheet, "no")
    assert settled is not None
    assert settled.not_enough is not None
    assert "end cap or wall" in settled.not_enough
    assert first(sheet, "9 4") is None  # the walls tell 28' 3": that is something else's
    by_letter, by_words = first(sheet, "a"), first(sheet, "left side 28-3")
    assert by_letter is not None
    assert by_letter.say == "left side 28' 3\", left end outside corner, right end outside corner"
    assert by_words is not None
    assert by_words.say == "left side 28-3, left end outside corner, right end outside corner"


def test_that_a_run_ends_there_is_not_enough(sheet_of: Build) -> None:
    settled = first(sheet_of({"front": (510, "C", "O")}), "it ends there")
    assert settled is not None
    assert settled.not_enough is not None
    assert "end cap, or against a wall" in settled.not_enough
    assert changes(first(sheet_of({"front": (510, "C", "O")}), "wall")) == {"runs.front.right_end": "wall"}


def test_a_value_that_could_not_be_is_no_choice(sheet_of: Build) -> None:
    """42-6 is a length, and no height of a pipe."""
    sheet = sheet_of(
        {"front": (None, "C", "C")}, pipes=[{"id": "front-1", "outlet": "front-1", "height": None}]
    )
    stands = as_it_stands(sheet)
    asked = open_questions(stands.sheet, stands.findings)
    assert [choice.question.codes for choice in could_answer(asked, "42-6", sheet)] == [["length-missing"]]
    assert len(could_answer(asked, "9-4", sheet)) == 2
    assert could_answer(asked, "yes", sheet) == could_answer(asked, "a", sheet) == []


def test_an_outlet_may_empty_into_something_else_than_a_new_pipe(sheet_of: Build) -> None:
    sheet = sheet_of({"front": (510, "C", "C")}, pipes=[])
    assert not sheet.downpipes
    assert sheet.outlets
    for answer, into in {
        "no": "no downpipe",
        "none wanted": "no downpipe",
        "the old ones": "existing downpipe",
        "keep the existing downpipes": "existing downpipe",
        "a rain chain": "rain chain",
    }.items():
        settled = first(sheet, answer)
        assert changes(settled) == {f"outlets.{one.id}.into": into for one in sheet.outlets}, answer
        assert after(sheet, settled) == []
