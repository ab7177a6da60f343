"""What is weak whatever the words: unexplained words, names at odds with other names, corrections too far."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from gutterance.reading.unexplained import everyday_words

if TYPE_CHECKING:
    from collections.abc import Callable


def certain(seen: Any, start: str) -> list[str]:
    """The paths below `start` that are shown as certain."""
    return [path for path, one in seen.sheet.readings() if path.startswith(start) and one.settled]


@pytest.mark.parametrize(
    ("lines", "path"),
    [
        (["Front 30-6 caps both, drop left", "Back quorn 28-4 caps both, drop left"], "runs.back.length"),
        (
            ["Front 30-6 caps both, drop left thrummock, wf 12, 9-4 down to the splash block"],
            "outlets.front-1.place",
        ),
        (
            ["Front 30-6 caps both, drop left, 9-4 down to the drain sallow"],
            "downpipes.front-1.ends_at",
        ),
    ],
)
def test_a_word_that_nothing_explains_casts_doubt_beside_it(
    read: Callable[..., Any], lines: list[str], path: str
) -> None:
    assert read(*lines).at(path).status == "doubtful"


def test_everyday_talk_casts_no_doubt(read: Callable[..., Any]) -> None:
    seen = read("Front obviously is 30-6, caps both, drop left honestly, 9-4 down to the drain")
    assert seen.at("runs.front.length").settled
    assert seen.at("outlets.front-1.place").settled


def test_everyday_talk_and_the_trades_words_are_two_lists() -> None:
    from gutterance.reading.lexicon import built_in_terms

    assert not everyday_words() & {term.phrase.lower() for term in built_in_terms()}


@pytest.mark.parametrize(
    ("lines", "run"),
    [
        (
            ["Upper front 30-0 caps both", "Upper back 30-0 caps both", "Upstairs 18 out, outside corners"],
            "runs.upper.",
        ),
        (["Upper front 30-0 caps both", "Front 22-0 caps both, drop left"], "runs.front"),
        (["F 21-0 caps both", "S 28-9 caps both", "Right side 21-0 caps both"], "runs.south"),
        (["Front 30-6 caps both, drop left", "quernal back 28-4, caps both ends"], "runs.back"),
    ],
)
def test_a_name_at_odds_with_the_others_is_asked_about(
    read: Callable[..., Any], lines: list[str], run: str
) -> None:
    assert certain(read(*lines), run) == []


def test_names_of_one_kind_are_certain(read: Callable[..., Any]) -> None:
    seen = read("Upper front 30-0 caps both", "Lower front 22-0 caps both", "Garage front 12-0 caps both")
    assert certain(seen, "runs.lower-front")
    assert certain(seen, "runs.garage-front")


def test_a_correction_by_more_than_a_slip_is_asked_about(read: Callable[..., Any]) -> None:
    seen = read("Front 30-6, no wait, make that 11-2, caps both ends, drop left")
    assert seen.at("runs.front.length").status == "doubtful"
    seen = read("Front 30-6, no wait, make that 31-2, caps both ends, drop left")
    assert seen.at("runs.front.length").settled


def test_corners_of_the_house_are_not_those_of_its_bay(read: Callable[..., Any]) -> None:
    seen = read("Outside corners all round.", "Front 30-6, drop left", "Carport front 12-0, drop right")
    assert seen.at("runs.front.left_end").settled
    end = seen.sheet.reading_at("runs.carport-front.left_end")
    assert end is None or not end.settled


def test_an_ending_denied_is_none(read: Callable[..., Any]) -> None:
    seen = read("Front 30-6 caps both, drop left, wf 12, 9-4 down onto the grass, there's no drain there")
    ending = seen.sheet.reading_at("downpipes.front-1.ends_at")
    assert ending is None or ending.value != "drain" or not ending.settled


@pytest.mark.parametrize(
    "line", ["Dear Mrs Quorn,", "3 sides. street side first", "2 storey job", "Fay: go ahead"]
)
def test_words_of_talk_and_counts_are_no_title(read: Callable[..., Any], line: str) -> None:
    assert read(line, "Front 30-6 caps both, drop left").sheet.title is None
