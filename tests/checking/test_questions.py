"""The next question: each once, in the fewest words, first what frees most."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Any

from gutterance.checking import HOLDING, check_sheet, open_questions
from gutterance.checking.answering import settle_answer
from gutterance.checking.wording import shown
from gutterance.measure.length import Length

if TYPE_CHECKING:
    from collections.abc import Callable

    from gutterance.checking.questions import Question
    from gutterance.sheet.models import Sheet

    Build = Callable[..., Sheet]

GABLE = {"front": (510, "C", "C"), "back": (510, "C", "C")}
BOTH = [("front", "left"), ("back", "right")]


def asked(sheet: Sheet) -> list[Question]:
    return open_questions(sheet, check_sheet(sheet))


def pipe(outlet: str, **rest: Any) -> dict[str, Any]:
    return {"id": outlet, "outlet": outlet, **rest}


def test_nothing_open_nothing_asked(box: Build) -> None:
    assert asked(box()) == []


def test_heights_missing_at_several_pipes_are_one_question(sheet_of: Build) -> None:
    pipes = [pipe("front-1", height=None), pipe("back-1", height=None)]
    (question,) = asked(sheet_of(GABLE, outlets=BOTH, pipes=pipes))
    assert question.text == (
        "How high is each downpipe, outlet to end, in feet and inches: front left and back right?"
    )
    assert question.holds == ["downpipes.front-1", "downpipes.back-1"]
    assert question.about == ["downpipes.front-1.height", "downpipes.back-1.height"]


def test_one_height_missing_is_asked_by_its_place(sheet_of: Build) -> None:
    (question,) = asked(sheet_of(GABLE, outlets=BOTH, pipes=[pipe("front-1", height=None), pipe("back-1")]))
    assert question.text == (
        "How far down is it from the outlet to the end of the downpipe at the left end of the front, "
        "in feet and inches?"
    )


def test_both_ends_of_a_run_are_one_question(sheet_of: Build) -> None:
    (question,) = asked(sheet_of({"front": (510, None, None)}))
    assert question.text == (
        "What is at each end of the front: outside corner, inside corner, end cap or wall?"
    )
    assert question.about == ["runs.front.left_end", "runs.front.right_end"]


def test_a_corner_two_runs_share_is_asked_once(sheet_of: Build) -> None:
    sheet = sheet_of({"front": (510, "C", None, {"next_run": "porch"}), "porch": (96, None, "C")})
    (question,) = asked(sheet)
    assert question.text == ("What is between the front and the porch: outside corner or inside corner?")
    assert question.holds == ["runs.front", "runs.porch"]


def test_metric_jobs_are_asked_in_millimetres(sheet_of: Build) -> None:
    sheet = sheet_of({"front": (None, "C", "C")}, defaults={"units": "metric"})
    assert asked(sheet)[0].text == "How long is the front, in millimetres?"


def test_what_frees_most_comes_first(sheet_of: Build) -> None:
    sheet = sheet_of(
        {
            "front": (510, "C", "C"),
            "porch-left": (96, "W", "O"),
            "porch-front": (144, "O", "O"),
            "porch-right": (96, "O", "W"),
            "back": (None, "C", "C"),
        },
        outlets=[("front", "left"), ("back", "left")],
    )
    questions = asked(sheet)
    assert [len(question.holds) for question in questions] == [3, 1]
    assert questions[0].codes == ["outlet-missing"]


def test_a_run_that_waits_for_several_counts_less_to_each(sheet_of: Build) -> None:
    # The back waits for its length and both ends; the front only for its length: that one frees a piece now.
    sheet = sheet_of({"back": (None, None, None), "front": (None, "C", "C")}, outlets=BOTH)
    assert asked(sheet)[0].text == "How long is the front, in feet and inches?"


def test_only_what_holds_is_asked(sheet_of: Build) -> None:
    sheet = sheet_of({"front": (510, "C", "C")}, defaults={})
    findings = check_sheet(sheet)
    assert findings
    assert all(found.kind not in HOLDING for found in findings)
    assert open_questions(sheet, findings) == []


def test_a_long_offset_is_asked_about_in_feet_as_it_is_read_back() -> None:
    assert shown(Length(Fraction(24), "imperial"), "wall_to_fascia") == '24"'
    assert shown(Length(Fraction(168), "imperial"), "distance") == "14' 0\""
    assert shown(Length(Fraction(2041, 4), "imperial"), "wall_to_fascia") == "42' 6 1/4\""


def test_a_value_said_once_for_no_pipe_in_particular_is_one_question() -> None:
    from gutterance.reading import read_note

    sheet = read_note(["front 30-0 osc both drops L R", "back 30-0 osc both drop R", "wf 14"])
    asked = [one for one in open_questions(sheet, check_sheet(sheet)) if "wall to fascia" in one.text]
    assert [one.text for one in asked] == ['Is the wall to fascia 14" at each downpipe that was given none?']
    assert len(asked[0].about) == 2
    settled = settle_answer(asked[0], "yes", sheet)
    assert settled is not None
    assert len(settled.changes) == 2
