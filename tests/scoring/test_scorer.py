"""The scorer judged on sheets made by hand: each outcome, once for each way to come by it."""

from __future__ import annotations

from typing import Any

import pytest

from gutterance.checking.findings import Finding
from gutterance.scoring import Gold, Score, add_up, details, score_note, score_table
from gutterance.sheet.models import Sheet

GOLD = {
    "voice": "made by hand",
    "runs": {
        "front": {"length": "42' 6\"", "left_end": "outside corner", "right_end": "end cap"},
        "left-side": {"length": "28' 3 1/4\""},
    },
    "outlets": [{"run": "front", "from": "left"}],
    "downpipes": [{"run": "front", "from": "left", "wall_to_fascia": '24"', "height": "9' 4\""}],
}


def sheet_with(**changes: Any) -> Sheet:
    data: dict[str, Any] = {
        "runs": [
            {
                "id": "front",
                "name": "front",
                "length": {"value": "510 in"},
                "left_end": {"value": "outside corner"},
                "right_end": {"value": "end cap"},
            },
            {"id": "left", "name": "left", "length": {"value": "339 1/4 in"}},
        ],
        "outlets": [{"id": "front-1", "run": "front", "from": "left"}],
        "downpipes": [
            {
                "id": "front-1",
                "outlet": "front-1",
                "wall_to_fascia": {"value": "24 in"},
                "height": {"value": "112 in"},
            }
        ],
    }
    data.update(changes)
    return Sheet.model_validate(data)


def gold_with(**changes: Any) -> Gold:
    return Gold.model_validate({**GOLD, **changes})


def outcomes(score: Score) -> dict[str, str]:
    return {mark.path: mark.outcome for mark in score.marks}


def test_a_sheet_like_its_gold_is_right_throughout() -> None:
    score = score_note(gold_with(), sheet_with(), [])
    assert set(outcomes(score).values()) == {"right"}
    assert len(score.marks) == 10
    assert score.needless == 0


@pytest.mark.parametrize(
    ("length", "outcome", "needless"),
    [
        ({"value": "510 in"}, "right", 0),
        ({"value": "509 in"}, "wrong", 0),
        ({"value": "510 1/64 in"}, "wrong", 0),
        ({"value": "510 in", "status": "doubtful"}, "asked", 1),
        ({"value": "509 in", "status": "doubtful"}, "asked", 0),
        ({"value": "509 in", "status": "assumed"}, "wrong", 0),
        ({"value": None, "status": "missing"}, "asked", 0),
        (None, "missed", 0),
    ],
)
def test_a_length_is_right_asked_missed_or_wrong(
    length: dict[str, Any] | None, outcome: str, needless: int
) -> None:
    runs = sheet_with().model_dump(by_alias=True)["runs"]
    runs[0]["length"] = length
    score = score_note(gold_with(), sheet_with(runs=runs), [])
    assert outcomes(score)["runs.front.length"] == outcome
    assert score.needless == needless


def test_a_finding_about_the_very_path_counts_as_asking_and_no_other_does() -> None:
    runs = sheet_with().model_dump(by_alias=True)["runs"]
    runs[0]["length"] = {"value": "500 in"}
    asking = Finding(code="length-conflict", kind="conflict", about="runs.front.length", says="two lengths")
    elsewhere = asking.model_copy(update={"about": "runs.front"})
    known = asking.model_copy(update={"kind": "hazard"})
    sheet = sheet_with(runs=runs)
    assert outcomes(score_note(gold_with(), sheet, [asking]))["runs.front.length"] == "asked"
    assert outcomes(score_note(gold_with(), sheet, [elsewhere]))["runs.front.length"] == "wrong"
    assert outcomes(score_note(gold_with(), sheet, [known]))["runs.front.length"] == "wrong"


def test_a_value_kept_among_the_unread_is_asked_and_an_idle_unread_is_needless() -> None:
    runs = sheet_with().model_dump(by_alias=True)["runs"]
    del runs[1]["length"]
    source = {"line": 2, "start": 0, "end": 10, "text": "28-3-1/4"}
    unread = [
        {"text": "28' 3 1/4\"", "source": source, "why": "no run"},
        {"text": "77", "source": source, "why": "?"},
    ]
    asked = Finding(code="unread-number", kind="doubt", about="unread.2", says="?", question="What is “77”?")
    score = score_note(gold_with(), sheet_with(runs=runs, unread=unread), [asked])
    assert outcomes(score)["runs.left-side.length"] == "asked"
    assert score.idle == ("unread: 77",)
    assert score.needless == 1
    # one that nobody is asked about, such as a telephone number, is no question
    assert score_note(gold_with(), sheet_with(runs=runs, unread=unread), []).idle == ()


def test_what_gold_does_not_have_is_wrong_when_certain_and_needless_when_doubted() -> None:
    runs = sheet_with().model_dump(by_alias=True)["runs"]
    runs[1]["left_end"] = {"value": "wall"}
    runs.append({"id": "porch", "name": "porch", "length": {"value": "96 in"}})
    score = score_note(gold_with(), sheet_with(runs=runs), [])
    assert outcomes(score)["runs.left-side.left_end"] == "wrong"
    assert outcomes(score)["runs.porch"] == "wrong"
    runs[1]["left_end"]["status"] = runs[2]["length"]["status"] = "doubtful"
    score = score_note(gold_with(), sheet_with(runs=runs), [])
    assert "wrong" not in outcomes(score).values()
    assert score.needless == 2


def test_an_assumed_corner_angle_of_ninety_is_no_invention() -> None:
    runs = sheet_with().model_dump(by_alias=True)["runs"]
    runs[0]["left_angle"] = {"value": 90.0}
    assert "wrong" not in outcomes(score_note(gold_with(), sheet_with(runs=runs), [])).values()
    runs[0]["left_angle"] = {"value": 45.0}
    assert "wrong" in outcomes(score_note(gold_with(), sheet_with(runs=runs), [])).values()


def test_what_gold_would_ask_is_right_when_asked_silent_when_not_and_wrong_when_invented() -> None:
    gold = gold_with(ask=["runs.front.length", "downpipes.front.left.ends_at"])
    sheet = sheet_with()
    score = score_note(gold, sheet, [])
    assert add_up([score]).total.silent == 1
    assert outcomes(score)["downpipes.front.left.ends_at"] == "missed"

    data = sheet.model_dump(by_alias=True)
    data["runs"][0]["length"]["status"] = "doubtful"
    data["downpipes"][0]["ends_at"] = {"value": None, "status": "missing"}
    score = score_note(gold, Sheet.model_validate(data), [])
    assert set(outcomes(score).values()) == {"right"}
    assert score.needless == 0

    data["downpipes"][0]["ends_at"] = {"value": "drain"}
    score = score_note(gold, Sheet.model_validate(data), [])
    assert outcomes(score)["downpipes.front.left.ends_at"] == "wrong"


def test_outlets_and_pipes_are_paired_by_run_and_place() -> None:
    gold = gold_with(
        outlets=[{"run": "front", "from": "left"}, {"run": "front", "from": "right", "distance": '12"'}],
        downpipes=[
            {"run": "front", "from": "left", "height": "9' 4\""},
            {"run": "front", "from": "right", "height": "10'"},
        ],
    )
    sheet = sheet_with(
        outlets=[
            {"id": "b", "run": "front", "from": "right", "distance": {"value": "12 in"}},
            {"id": "a", "run": "front", "from": "left"},
        ],
        downpipes=[
            {"id": "y", "outlet": "b", "height": {"value": "120 in"}},
            {"id": "x", "outlet": "a", "height": {"value": "112 in"}},
        ],
    )
    assert set(outcomes(score_note(gold, sheet, [])).values()) == {"right"}
    swapped = sheet.model_copy(deep=True)
    swapped.downpipes[0].outlet, swapped.downpipes[1].outlet = "a", "b"
    met = outcomes(score_note(gold, swapped, []))
    assert met["downpipes.front.left.height"] == met["downpipes.front.right.height"] == "wrong"


def test_an_outlet_at_the_wrong_end_is_wrong() -> None:
    sheet = sheet_with(outlets=[{"id": "front-1", "run": "front", "from": "right"}])
    assert outcomes(score_note(gold_with(), sheet, []))["outlets.front.left"] == "wrong"


def test_words_that_are_no_measurement_may_not_become_one() -> None:
    gold = gold_with(not_measurements=["555 0142"])
    runs = sheet_with().model_dump(by_alias=True)["runs"]
    note = ["ring 555 0142 first"]
    sheet = sheet_with(runs=runs, note=note)
    assert outcomes(score_note(gold, sheet, []))["not a measurement"] == "right"
    runs[0]["length"]["source"] = [{"line": 1, "start": 5, "end": 8, "text": "555"}]
    sheet = sheet_with(runs=runs, note=note)
    assert outcomes(score_note(gold, sheet, []))["not a measurement"] == "wrong"


def test_remarks_are_met_by_their_words_kind_and_run() -> None:
    gold = gold_with(remarks=[{"kind": "hazard", "about": "left-side", "words": "power line"}])
    source = {"line": 3, "start": 0, "end": 20, "text": "Power line over left"}
    remark = {"kind": "hazard", "about": "left", "text": "Power  line over left", "source": source}
    score = score_note(gold, sheet_with(remarks=[remark]), [])
    assert [mark.outcome for mark in score.marks if mark.field.startswith("remarks")] == ["right"] * 3
    score = score_note(gold, sheet_with(), [])
    assert [mark.outcome for mark in score.marks if mark.field.startswith("remarks")] == ["missed"]


def test_the_table_counts_what_the_marks_say() -> None:
    runs = sheet_with().model_dump(by_alias=True)["runs"]
    runs[0]["length"] = {"value": "509 in"}
    scores = [score_note(gold_with(), sheet_with(runs=runs), [], note="a")]
    total = add_up(scores).total
    assert (total.values, total.right, total.wrong) == (10, 9, 1)
    assert "wrong but shown as certain 1" in score_table(add_up(scores))
    assert "runs.front.length: gold 42' 6\"; got 42' 5\"" in details(scores)
    assert "-1" in score_table(add_up(scores), before={**total.as_dict(), "wrong": 2})


def test_a_pipe_that_the_checker_asks_for_is_asked_not_missed() -> None:
    sheet = sheet_with(downpipes=[])
    assert outcomes(score_note(gold_with(), sheet, []))["downpipes.front.left"] == "missed"
    gap = Finding(code="outlet-downpipe-missing", kind="gap", about="outlets.front-1", says="has no downpipe")
    assert outcomes(score_note(gold_with(), sheet, [gap]))["downpipes.front.left"] == "asked"
