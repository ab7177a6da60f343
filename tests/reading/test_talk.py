"""How people talk while they walk and measure: what a run meets, what is said of a part, bays in a breath."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Any

import pytest

from gutterance.measure.length import Length

if TYPE_CHECKING:
    from collections.abc import Callable

BAY = ("bay-left-side", "bay-front", "bay-right-side")


@pytest.mark.parametrize(
    "told",
    [
        "cap on the left, dies into the porch on the right. one drop, 14 inches in from that end",
        "stop end left and it butts up against the garage on the right, one outlet, 14 inches in from "
        "that end",
    ],
)
def test_what_a_run_dies_into_gets_no_outlet(read: Callable[..., Any], told: str) -> None:
    seen = read(f"front 31 4 {told}", "left side 22-6 caps both")
    seen.runs("front", "left-side")
    seen.ends("front", "end cap", "wall")
    seen.outlets("front", "right")
    seen.inches("outlets.front-1.distance", 14)


def test_so_far_in_with_no_end_named_is_asked(read: Callable[..., Any]) -> None:
    seen = read("front 31 4 cap on the left, dies into the porch on the right. one drop, 14 inches in")
    seen.runs("front")
    seen.inches("outlets.front-1.distance", 14)
    assert seen.at("outlets.front-1.place").status == "doubtful"


def test_the_other_corner_over_to_a_wing_is_no_wing(read: Callable[..., Any]) -> None:
    seen = read("Front, left corner over to the wing, twenty-six four, outside left, inside right")
    seen.runs("front")
    seen.feet("runs.front.length", 26, 4)


@pytest.mark.parametrize(
    ("said", "house", "shop"),
    [
        ("soffit sixteen on the house, overhang on the shop is ten", 16, 10),
        ("sixteen inch overhang on the house, ten inch overhang on the shop", 16, 10),
        ("overhang sixteen all round, but the overhang on the shop is just ten inches", 16, 10),
    ],
)
def test_an_overhang_of_the_house_and_of_a_part(
    read: Callable[..., Any], said: str, house: int, shop: int
) -> None:
    seen = read(
        "south forty caps pipe left nine foot two drain, north forty caps pipe right nine foot two drain, "
        f"shop south twenty-two foot caps pipe left seven foot ten ground. {said}"
    )
    for pipe in ("south-1", "north-1"):
        seen.asked_or_right(f"downpipes.{pipe}.wall_to_fascia", Length(house))
        assert seen.at(f"downpipes.{pipe}.wall_to_fascia").value == Length(house)
    seen.inches("downpipes.shop-south-1.wall_to_fascia", shop)
    seen.runs("south", "north", "shop-south")


def test_an_overhang_of_a_part_against_the_one_told_there(read: Callable[..., Any]) -> None:
    seen = read("garage front 20 foot caps, drop left, overhang 12", "overhang ten on the garage")
    seen.asked("downpipes.garage-front-1.wall_to_fascia")


@pytest.mark.parametrize(
    "said", ["six twelve pitch", "pitch on the house is six twelve", "pitch is six in twelve"]
)
def test_the_x_of_six_is_no_sign(read: Callable[..., Any], said: str) -> None:
    seen = read(f"front forty foot caps drop left. {said}")
    seen.says("defaults.roof_pitch", "6/12")
    seen.runs("front")


def test_the_ends_of_a_part_by_the_compass(read: Callable[..., Any]) -> None:
    seen = read("south forty caps drop left. garage south 24 foot caps pipe west end seven ten ground")
    seen.outlets("garage-south", "left")


def test_a_likeness_is_named_close_behind(read: Callable[..., Any]) -> None:
    seen = read(
        "south forty foot caps, north the same pipe west end ten foot drain, mind the shop gable, "
        "shop south twenty-two foot caps"
    )
    seen.asked_or_right("runs.north.length", Length(480))


def test_a_run_the_same_with_its_caps_said_is_asked(read: Callable[..., Any]) -> None:
    seen = read("shed south twenty-two foot caps. shed north same, caps")
    seen.asked_or_right("runs.shed-north.length", Length(264))


@pytest.mark.parametrize(
    "told",
    [
        "there's a bay on the right side its three foot then six foot then three foot with forty fives "
        "and it "
        "dies into the wall both ends",
        "bay at the front, three foot each side and six foot across the face, forty-five corners, ends "
        "against "
        "the wall",
        "the bay, which is three little ones. Left piece of the bay, three foot, comes off the house "
        "wall. Front "
        "of the bay, six foot. Right piece, three foot again, and ends in the wall. Both bay corners are "
        "forty-fives",
    ],
)
def test_a_bay_told_in_one_sentence(read: Callable[..., Any], told: str) -> None:
    seen = read(f"front is 40 foot outside corner both ends drop left then {told}. back 40 foot caps")
    for run, feet in zip(BAY, (3, 6, 3), strict=True):
        assert seen.at(f"runs.{run}.length").value == Length(feet * 12)
        for side in ("left", "right"):
            seen.asked_or_right(f"runs.{run}.{side}_end", _end_of(run, side))
    seen.feet("runs.front.length", 40)
    seen.ends("front", "outside corner", "outside corner")
    assert {run.id for run in seen.sheet.runs} == {"front", "back", *BAY}


def _end_of(run: str, side: str) -> str:
    return "wall" if run == f"bay-{side}-side" else "outside corner"


def test_a_run_of_a_bay_called_by_its_length(read: Callable[..., Any]) -> None:
    seen = read(
        "bay window, 3 foot, 6 foot, 3 foot, 45s, wall both ends, drop in the middle of the six foot bit"
    )
    seen.outlets("bay-front", "centre")
    assert len(seen.sheet.outlets) == 1


def test_a_bay_with_another_name(read: Callable[..., Any]) -> None:
    seen = read(
        "kitchen bay, its three pieces, two foot eight, six foot, two foot eight, 45s, wall at both ends"
    )
    seen.runs("kitchen-bay-left-side", "kitchen-bay-front", "kitchen-bay-right-side")


@pytest.mark.parametrize(
    "said",
    [
        "pipes are 8 foot 7 on the front and 9 foot 3 round the back, front ones to the drain, back on to "
        "splash blocks",
        "heights 8 7 at the front and 9 3 at the back, front to the drain and the back one to a splash block",
    ],
)
def test_places_without_numbers_behind_a_row_of_pipes(read: Callable[..., Any], said: str) -> None:
    seen = read("front 40 foot caps both, drop left. back 40 foot caps both drop right", said)
    seen.feet("downpipes.front-1.height", 8, 7)
    seen.feet("downpipes.back-1.height", 9, 3)
    seen.says("downpipes.front-1.ends_at", "drain")
    seen.says("downpipes.back-1.ends_at", "splash block")
    seen.feet("runs.front.length", 40)


def test_a_walker_who_starts_at_the_right(read: Callable[..., Any]) -> None:
    seen = read(
        "115 quad, gutter the whole way round the house and then the carport.",
        "Along the front, twelve thousand two hundred. External corner both ends. One pipe back where I "
        "started, at "
        "the right, and one here at the left where I've pulled up. The right one's 2430 down, this left "
        "one's 2460, "
        "both go in the stormwater drain.",
        "And that brings me back to the carport. Flat, skillion thing, one gutter along the front of it, "
        "five thousand "
        "nine hundred, stop end each end, pipe at the left hand end, 2210 onto the ground.",
    )
    seen.outlets("front", "left", "right")
    seen.says("downpipes.front-1.ends_at", "drain")
    seen.says("downpipes.front-2.ends_at", "drain")
    seen.mm("runs.carport-front.length", 5900)
    assert "skillion" not in " ".join(run.id for run in seen.sheet.runs)


def test_both_numbers_by_side_are_heights_where_one_is(read: Callable[..., Any]) -> None:
    seen = read("south forty foot caps pipe both ends left nine right nine four splash")
    seen.feet("downpipes.south-1.height", 9)
    seen.feet("downpipes.south-2.height", 9, 4)


@pytest.mark.parametrize("said", ["five inch k oh 32 aluminum", "five inch k oh two seven aluminum"])
def test_thousandths_behind_an_oh(read: Callable[..., Any], said: str) -> None:
    seen = read(f"{said}, front forty foot caps drop left, over hang is two feet all the way around")
    assert seen.at("defaults.thickness").value in ("0.032 in", "0.027 in")
    seen.inches("downpipes.front-1.wall_to_fascia", 24)


def test_a_cup_of_coffee_is_no_colour(read: Callable[..., Any]) -> None:
    seen = read("I've got a coffee in the other hand so bear with me", "front forty foot caps drop left")
    assert seen.sheet.reading_at("defaults.colour") is None


@pytest.mark.parametrize(
    ("said", "title"),
    [("Thirty-three Alder Trail", "33 Alder Trail"), ("twelve oh five Sumac Road", "1205 Sumac Road")],
)
def test_house_numbers_in_words(read: Callable[..., Any], said: str, title: str) -> None:
    assert read(f"{said} five inch k white", "front forty foot caps").sheet.title == title


def test_an_outlet_taken_away_again_is_asked_about(read: Callable[..., Any]) -> None:
    seen = read(
        "Front, thirty foot, caps. Pipes on the front, one each end. Actually no, she's having the left "
        "one taken away"
    )
    for outlet in seen.sheet.outlets:
        seen.asked(f"outlets.{outlet.id}.place")


def test_a_value_that_holds_now(read: Callable[..., Any]) -> None:
    seen = read(
        "Front thirty foot caps, drop left. Back thirty foot caps, drop right.",
        "Overhang fourteen. Fourteen was before they clad it, it's twelve now. Twelve all round.",
    )
    for pipe in ("front-1", "back-1"):
        assert seen.at(f"downpipes.{pipe}.wall_to_fascia").value == Length(12)


def test_an_older_length_quoted_and_measured_again(read: Callable[..., Any]) -> None:
    seen = read(
        "Right side, twenty-two foot and a half inch, caps. Back forty foot caps.",
        "Back up, right side, I said twenty-two and a half inch. Ran it again and it's twenty-two foot "
        "and five "
        "eighths of an inch. So five eighths.",
    )
    assert seen.at("runs.right-side.length").value == Length(Fraction(2117, 8))
    seen.feet("runs.back.length", 40)
    assert not seen.sheet.unread


def test_hanger_spacings_that_differ_are_asked(read: Callable[..., Any]) -> None:
    seen = read("Front forty foot caps drop left. Hangers every 24. It's snow country up here. Every 18.")
    seen.asked("defaults.hanger_spacing")
    assert not seen.shown("18")


def test_heights_of_two_pipes_the_other_way_about(read: Callable[..., Any]) -> None:
    seen = read(
        "Back thirty foot caps, drop each end. Left side ten foot caps. Right side ten foot caps.",
        "Heights. Back, left one nine even, right one nine four. Other way about, so left is nine six and "
        "right is "
        "nine even.",
    )
    seen.asked_or_right("downpipes.back-1.height", Length(114))
    seen.asked_or_right("downpipes.back-2.height", Length(108))
    seen.feet("runs.left-side.length", 10)
    seen.feet("runs.right-side.length", 10)


def test_one_pipe_where_the_run_is_the_same_as_one_with_two(read: Callable[..., Any]) -> None:
    seen = read(
        "Front forty foot caps, drop each end, left one nine two, right one nine five, splash blocks.",
        "Back same as the front, forty foot. One pipe, at the left.",
    )
    seen.outlets("back", "left")
    seen.asked_or_right("downpipes.back-1.height", None)


def test_the_inches_behind_a_comma_and_an_echo(read: Callable[..., Any]) -> None:
    seen = read(
        "- Front?",
        "- Eleven foot, seven and an eighth, caps.",
        "- Seven and an eighth?",
        "- Seven and an eighth. Back.",
        "- How long?",
        "- I get thirty-nine and, hang on. Thirty-nine seven.",
        "- Caps?",
        "- Caps both ends.",
    )
    seen.asked_or_right("runs.front.length", Length(Fraction(1113, 8)))
    assert seen.at("runs.front.length").value == Length(Fraction(1113, 8))
    assert seen.at("runs.back.length").value == Length(475)


def test_a_note_half_of_whose_numbers_are_lost_is_not_sure(read: Callable[..., Any]) -> None:
    seen = read(
        "Front forty foot two caps.",
        "blah 12 fizz 13 bump 14 whack 15 thud 16 clang 17 crump 18 tock 19",
    )
    seen.asked("runs.front.length")
