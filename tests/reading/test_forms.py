"""Filled-in forms: labels with their answers, boxes to tick, questions, and blocks of a run each."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from gutterance.reading.labels import labels_from_toml, read_label
from gutterance.reading.lexicon import LexiconError

if TYPE_CHECKING:
    from collections.abc import Callable

BLOCK = {
    "Length": "52' 3\"",
    "Left end": "outside",
    "Right end": "cap",
    "Downspout": "left",
    "Overhang": '24"',
    "Height": "8' 10\"",
    "Lands on": "splash",
}


def block(heading: str, join: str, **other: str) -> list[str]:
    """A run's block under a heading, its labels joined to their answers by a mark."""
    answers = {**BLOCK, **{key.replace("_", " "): value for key, value in other.items()}}
    return ["", heading, *(f"  {label}{join}{answer}" for label, answer in answers.items())]


@pytest.mark.parametrize("join", [": ", " ....... ", "\t", "      ", " = ", " . . . . ", ": __"])
@pytest.mark.parametrize("heading", ["--- FRONT ---", "RUN: Front", "[2] Front", "## Front elevation"])
def test_blocks_of_a_run_each(read: Callable[..., Any], heading: str, join: str) -> None:
    seen = read("GUTTER FORM", *block(heading, join), *block("--- BACK ---", join, Downspout="none"))
    assert seen.sheet.run("front") is not None
    seen.feet("runs.front.length", 52, 3)
    seen.ends("front", "outside corner", "end cap")
    seen.outlets("front", "left")
    seen.inches("downpipes.front-1.wall_to_fascia", 24)
    seen.feet("downpipes.front-1.height", 8, 10)
    seen.says("downpipes.front-1.ends_at", "splash block")
    seen.ends("back", "outside corner", "end cap")
    assert not seen.sheet.outlets_of("back") or seen.sheet.outlets_of("back")[0].from_ is None


@pytest.mark.parametrize(
    ("ends", "outlet"),
    [
        ("[x] outside  [ ] inside  [ ] cap", "[ ] left  [X] right"),
        ("☑outside ☐inside ☐cap", "☐ left ☐ centre ☑ right"),
        ("outside (X)   inside ( )   cap ( )", "left ( )   right (x)"),
    ],
)
def test_only_what_is_ticked_is_read(read: Callable[..., Any], ends: str, outlet: str) -> None:
    lines = block("FRONT", ": ", Left_end=ends, Downspout=outlet)
    seen = read("Gauge:  [ ] .027   [x] .032", *lines)
    seen.ends("front", "outside corner", "end cap")
    seen.outlets("front", "right")
    seen.says("defaults.thickness", "0.032 in", ".032")


def test_a_box_left_open_everywhere_says_nothing(read: Callable[..., Any]) -> None:
    seen = read(*block("FRONT", ": ", Lands_on="[ ] splash  [ ] drain"))
    assert seen.sheet.reading_at("downpipes.front-1.ends_at") is None


def test_a_choice_ringed_with_brackets_is_asked_about(read: Callable[..., Any]) -> None:
    seen = read("Pipe: 2x3 / ( 3x4 )", *block("FRONT", ": "))
    seen.says("defaults.downpipe_size", "3x4", status="doubtful")
    seen = read("Pipe: 2x3 / 3x4", *block("FRONT", ": "))
    seen.asked("defaults.downpipe_size")


@pytest.mark.parametrize("height", ["L 8' 10\"   R 9' 1\"", "left 8' 10\", right 9' 1\"", "8' 10\" / 9' 1\""])
def test_each_side_has_its_own_number(read: Callable[..., Any], height: str) -> None:
    seen = read(*block("FRONT", ":   ", Downspout="left, right", Height=height))
    seen.feet("downpipes.front-1.height", 8, 10)
    seen.feet("downpipes.front-2.height", 9, 1)


def test_what_was_crossed_out_was(read: Callable[..., Any]) -> None:
    seen = read(*block("FRONT", " ..... ", Length="XX 32'4 XX  34'2"))
    seen.feet("runs.front.length", 34, 2, status="corrected")
    assert seen.at("runs.front.length").was


def test_labels_side_by_side_on_a_line(read: Callable[..., Any]) -> None:
    seen = read(
        "run: FRONT    len: 29-11   LE: OSC   RE: cap",
        "   ds1: L     w/f: 20      ht: 9-6    to: splash",
        "   ds2: 4-0 from R     w/f: 18      ht: 9-9    to: drain",
        "run: SHED     len: 10-2    LE: cap   RE: cap",
        "   ds1: none",
    )
    seen.runs("front", "shed")
    seen.outlets("front", "left", "right")
    seen.feet("outlets.front-2.distance", 4)
    seen.inches("downpipes.front-2.wall_to_fascia", 18)
    seen.says("downpipes.front-1.ends_at", "splash block")


def test_numbered_questions_name_their_run(read: Callable[..., Any]) -> None:
    seen = read(
        "Q1. Where is it?  Lot 2, Bog Lane",
        "Q2. What gutter?  125 seamless ogee, aluminium, 0.9",
        "Q3. Front eave, how long?  13.42 m",
        "Q4. What's at each end of it?  stop end both",
        "Q5. Garage front, how long?  5.65 m",
        "Q6. What's at each end of it?  wall on the left, stop end on the right",
        "Q7. Where do the downpipes go?  front left, garage front right",
        "Q8. How far is fascia from wall?  400 house, 300 garage",
        "Q9. Gutter to bottom, each?  2.55 for the house ones, 2.35 garage",
        "Q10. Bottom goes into?  all to the drain bar garage, that's a water butt",
    )
    seen.mm("defaults.gutter_size", 125)
    seen.says("defaults.thickness", "0.9 mm")
    seen.ends("front", "end cap", "end cap")
    seen.ends("garage-front", "wall", "end cap")
    seen.outlets("front", "left")
    seen.outlets("garage-front", "right")
    seen.mm("downpipes.front-1.wall_to_fascia", 400)
    seen.mm("downpipes.garage-front-1.wall_to_fascia", 300)
    seen.mm("downpipes.garage-front-1.height", 2350)
    seen.says("downpipes.front-1.ends_at", "drain")
    seen.says("downpipes.garage-front-1.ends_at", "barrel")


def test_questions_with_their_answers_below(read: Callable[..., Any]) -> None:
    seen = read(
        "Q: Front: length?", "A: 40' 6\"",
        "Q: Front: left end / right end?", "A: end cap / outside corner",
        "Q: Front: downspout position?", "A: right end",
        "Q: Front: gutter to ground?", "A: don't know, there is a deck",
        "Q: Back: length?", "A: same as front",
        "Q: Back: ends?", "A: capped both",
    )  # fmt: skip
    seen.feet("runs.front.length", 40, 6, "40' 6\"")
    seen.ends("front", "end cap", "outside corner")
    seen.outlets("front", "right")
    seen.asked("downpipes.front-1.height")
    seen.feet("runs.back.length", 40, 6)


def test_sides_by_letter_share_their_corners(read: Callable[..., Any]) -> None:
    seen = read(
        "Side A (the door)        38 ft 0",
        "   corner A/B            outside",
        "Side B                   21 ft 6",
        "   corner B/C            inside",
        "Side C                   11 ft 9",
        "   corner C/A            outside",
    )
    seen.ends("run-a", "outside corner", "outside corner")
    seen.ends("run-b", "outside corner", "inside corner")
    seen.ends("run-c", "inside corner", "outside corner")


def test_the_number_of_a_run_is_another_name_for_it(read: Callable[..., Any]) -> None:
    seen = read(
        "Eave no. _1_   Where: _front, left of door_",
        " Length _18'-3\"_   Left: _end cap_   Right: _butts porch wall_",
        ' Spout: _left_   Overhang: _15"_   Height: _9\'-0"_   Goes to: _splash_',
        "Eave no. _2_   Where: _rear_",
        " Length _41'-2\"_   Left: _end cap_   Right: _end cap_",
        ' Spout: _left_   Overhang: _15"_   Height: _ditto 1_   Goes to: _drain_',
    )
    seen.runs("front-left", "back")
    seen.feet("runs.front-left.length", 18, 3)
    seen.feet("downpipes.back-1.height", 9, 0)


def test_start_and_end_of_a_block(read: Callable[..., Any]) -> None:
    lines = [
        "RUN #1 . . . Garage front",
        " Measure . . . 20 ft 0 in",
        " Start . . . cap",
        " End . . . outside mitre",
        " Outlet? (Y/N) . . Y    Which end? . . right",
    ]
    seen = read("Start = left, End = right", *lines)
    seen.ends("garage-front", "end cap", "outside corner")
    seen.outlets("garage-front", "right")
    read(*lines).asked("runs.garage-front.left_end")


def test_answers_in_doubt_are_asked_about(read: Callable[..., Any]) -> None:
    seen = read(
        *block(
            "FRONT",
            ": ",
            Length="3,600? might be 3,060",
            Lands_on="dry well - check w/ owner",
            Height="n/a, 9-2",
        )
    )
    seen.asked("runs.front.length")
    seen.asked("downpipes.front-1.height")
    seen.asked("downpipes.front-1.ends_at")


@pytest.mark.parametrize("answer", ["river, by chute", "zigzag"])
def test_an_answer_nobody_knows_is_asked_about(read: Callable[..., Any], answer: str) -> None:
    seen = read(*block("FRONT", ": ", Lands_on=answer, Left_end=answer))
    seen.asked("downpipes.front-1.ends_at")
    seen.asked("runs.front.left_end")


def test_a_label_nobody_listed_is_asked_about(read: Callable[..., Any]) -> None:
    lines = [line.replace("Length", "Zorp") for line in block("FRONT", ": ")]
    seen = read(*lines)
    seen.unread("52' 3\"")


def test_what_a_form_asks_besides_is_no_measurement(read: Callable[..., Any]) -> None:
    seen = read(
        "Date: 6/14     Crew: 2     Phone: 555 0123",
        *block("FRONT", ": "),
        "",
        "Lift needed: no, 28 footer does it",
        "Remarks: Wire over the front. Bees in the meter box. Key from no. 5.",
    )
    seen.never_a_value("28 footer")
    seen.never_a_value("555 0123")
    seen.remark("hazard", "Wire over the front", about="front")
    seen.remark("hazard", "Bees")


def test_words_below_a_form_still_correct_it(read: Callable[..., Any]) -> None:
    seen = read(*block("FRONT", ": "), "", "Front remeasured, it is 51-2, not 52-3.")
    seen.feet("runs.front.length", 51, 2, status="corrected")


def test_people_talking_are_no_form(read: Callable[..., Any]) -> None:
    seen = read(
        "front length? sixty one foot two",
        "what's it do at the left? outside corner",
        "right? same",
        "how many drops on it? two, one each end",
        "and how high is it? nine seven at the left",
        "and the right? ten one",
    )
    seen.feet("runs.front.length", 61, 2)
    seen.feet("downpipes.front-1.height", 9, 7)


@pytest.mark.parametrize(
    ("label", "field", "unit"),
    [
        ("W/F (in)", "wall_to_fascia", "inch"),
        ("w-f", "wall_to_fascia", None),
        ("Length, mm", "length", "millimetre"),
        ("Bracket centres", "hanger_spacing", None),
        ("DOWN TO OUTFALL, LEFT", "height", None),
    ],
)
def test_spelling_makes_no_other_label(label: str, field: str, unit: str | None) -> None:
    read_as = read_label(label)
    assert read_as is not None
    assert read_as.meanings[0].field == field
    assert read_as.sure
    assert read_as.unit == unit


def test_a_guess_is_no_known_label() -> None:
    guess = read_label("approx eave height by eye")
    assert guess is not None
    assert not guess.sure
    assert read_label("zorp") is None


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ('[[label]]\nfield = "lenth"\nof = "run"\nwords = ["long"]', "own.toml, label 1"),
        ('[[label]]\nfield = "length"\nof = "run"\nwords = []', "own.toml, label 1"),
        (
            '[[answer]]\nfield = "end"\nvalue = "cap"\nwords = ["x"]\n'
            '[[answer]]\nfield = "end"\nvalue = "wall"\nwords = ["X"]',
            "own.toml, answer 2",
        ),
        ("[[label]", "own.toml"),
    ],
)
def test_a_file_of_labels_that_is_wrong_names_its_row(text: str, says: str) -> None:
    with pytest.raises(LexiconError, match=says):
        labels_from_toml(text, "own.toml")
