"""Terse old hands' typed shorthand: counts against letters, sides alone, short ends, bare rows."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable


@pytest.mark.parametrize(
    "words", ["d2 ends", "2d ends", "2 ds ends", "dp2 cnrs", "2dn @ corners", "2 drops corners"]
)
def test_counted_pipes_at_the_ends(read: Callable[..., Any], words: str) -> None:
    read(f"rear 38 oc oc {words}", "lt 22 oc oc").outlets("back", "left", "right")


def test_a_count_behind_a_letter(read: Callable[..., Any]) -> None:
    seen = read("frt 41-2 ec oc ds1 L", "bk 41-2 oc ec d2")
    seen.outlets("front", "left")
    assert len(seen.sheet.outlets_of("back")) == 2
    seen.asked("outlets.back-1.place")


def test_a_count_behind_a_letter_that_may_be_another_word(read: Callable[..., Any]) -> None:
    seen = read("1) 28-4 oc/oc s1 R", "2) 16 oc/ec", "ht 9-2")
    seen.says("outlets.run-1-1.place", "right", status="doubtful")


@pytest.mark.parametrize(
    ("words", "end"), [("2OC", "outside corner"), ("2EC", "end cap"), ("osc's", "outside corner")]
)
def test_counted_ends_are_no_inches(read: Callable[..., Any], words: str, end: str) -> None:
    seen = read(f"BK 33 {words} 1 DS LT")
    seen.feet("runs.back.length", 33)
    seen.ends("back", end, end)


def test_whose_it_is_makes_no_plural(read: Callable[..., Any]) -> None:
    seen = read("back is 31-4, the osc's on the left, cap's on the right")
    seen.ends("back", "outside corner", "end cap")


def test_sides_behind_both_ends_are_outlets_that_are_asked_about(read: Callable[..., Any]) -> None:
    seen = read("S 36-4 oc/oc LR", "E 22-0 oc/oc", "N 36-4 oc/oc R", "up frt 40 ec ec 1 l 18-6")
    for place, side in (("south-1", "left"), ("south-2", "right"), ("north-1", "right")):
        seen.says(f"outlets.{place}.place", side, status="doubtful")
    seen.says("outlets.upper-front-1.place", "left", status="doubtful")
    assert not seen.sheet.outlets_of("east")


def test_a_side_that_an_end_needs_is_no_outlet(read: Callable[..., Any]) -> None:
    assert not read("front 26-2 cap, inside corner right").sheet.outlets
    assert not read("front 26-2 outside corners both ends").sheet.outlets


@pytest.mark.parametrize(
    ("words", "left", "right"),
    [
        ("se se", "end cap", "end cap"),
        ("SE both", "end cap", "end cap"),
        ("wl ec", "wall", "end cap"),
        ("oc wl", "outside corner", "wall"),
        ("c w", "end cap", "wall"),
        ("em/im", "outside corner", "inside corner"),
    ],
)
def test_short_words_for_both_ends(read: Callable[..., Any], words: str, left: str, right: str) -> None:
    read(f"Bk 9-4 {words} rwp lh").ends("back", left, right)


def test_ft_is_the_front_where_it_stands_for_a_side(read: Callable[..., Any]) -> None:
    seen = read("ft 41-3 caps ds L", "rr 41-3 caps ds R", "hts 9'4 ft 10'1 rr", "soff 16 ft, 24 rr")
    seen.feet("runs.front.length", 41, 3)
    seen.feet("downpipes.front-1.height", 9, 4)
    seen.feet("downpipes.back-1.height", 10, 1)
    seen.inches("downpipes.front-1.wall_to_fascia", 16)
    seen.inches("downpipes.back-1.wall_to_fascia", 24)


def test_ft_is_a_unit_everywhere_else(read: Callable[..., Any]) -> None:
    seen = read("front 41 ft caps ds L 9 ft 6", "back 22 ft caps")
    seen.feet("runs.front.length", 41)
    seen.feet("runs.back.length", 22)


def test_est_is_the_east_beside_other_directions(read: Callable[..., Any]) -> None:
    seen = read("Nth 14.2m se/se", "Est 8.1m se/ext", "Sth 14.2m se/se")
    seen.mm("runs.east.length", 8100)
    read("front 42 est, caps ds L").asked("runs.front.length")


def test_rows_that_no_cue_leads_are_asked_about(read: Callable[..., Any]) -> None:
    seen = read("fr 38 oc oc ds L", "bk 38 ec ec ds R", "f 9 b 11")
    seen.feet("downpipes.front-1.height", 9, status="doubtful")
    seen.feet("downpipes.back-1.height", 11, status="doubtful")
    assert not seen.sheet.unread


def test_the_house_beside_its_garage(read: Callable[..., Any]) -> None:
    seen = read(
        "front 52 caps, drops both ends",
        "gar frnt 22 caps drop lft",
        "eaves 16 house 12 gar",
        "ht 9-2 hse 8-1 gar",
    )
    seen.inches("downpipes.front-2.wall_to_fascia", 16, status="doubtful")
    seen.inches("downpipes.garage-front-1.wall_to_fascia", 12, status="doubtful")
    seen.feet("downpipes.front-1.height", 9, 2)
    seen.feet("downpipes.garage-front-1.height", 8, 1)


def test_a_cue_behind_the_first_number_of_a_row(read: Callable[..., Any]) -> None:
    seen = read("frt 30 ec ec dp L", "bk 30 ec ec dp R", "20 oh frt, 14 bk", "drops 10-2 F, 13-6 B")
    seen.inches("downpipes.front-1.wall_to_fascia", 20)
    seen.inches("downpipes.back-1.wall_to_fascia", 14)
    seen.feet("downpipes.front-1.height", 10, 2)
    seen.feet("downpipes.back-1.height", 13, 6)


def test_numbers_of_runs_are_no_row_of_heights(read: Callable[..., Any]) -> None:
    seen = read("front 38 caps, ds L", "F 38-0, B 22-0")
    assert seen.sheet.reading_at("downpipes.front-1.height") is None
    seen.feet("runs.back.length", 22, status="doubtful")


def test_a_bare_length_with_its_ends_behind_an_unknown_name_is_a_run_of_its_own(
    read: Callable[..., Any],
) -> None:
    seen = read(
        "gar frt 24 oc/ic. dn R 8'", "in leg 12 ic/ec", "rear 62 ec/oc. dn both 9-6", "end 28 oc/oc no dn"
    )
    seen.ends("garage-front", "outside corner", "inside corner")
    seen.outlets("back", "left", "right")
    for run, feet in (("in-leg", 12), ("end", 28)):
        seen.feet(f"runs.{run}.length", feet, status="doubtful")


@pytest.mark.parametrize("words", ["18/9-2 both", "9'2, 18", "18 9-2 ea"])
def test_a_pair_of_numbers_below_the_runs_is_of_every_pipe(read: Callable[..., Any], words: str) -> None:
    seen = read("fr 38 oc/oc ds L", "bk 38 ec/ec ds R", words)
    for pipe in ("front-1", "back-1"):
        seen.inches(f"downpipes.{pipe}.wall_to_fascia", 18, status="doubtful")
        seen.feet(f"downpipes.{pipe}.height", 9, 2, status="doubtful")


def test_a_word_before_a_colour_is_not_dropped(read: Callable[..., Any]) -> None:
    read("5K royal brn 2x3 blks", "bk 22 ec/ec").says("defaults.colour", "royal brown")
    read("5K husk brn 2x3", "bk 22 ec/ec").says("defaults.colour", "husk brown", status="doubtful")


def test_a_cue_on_a_line_of_its_own_has_the_number_behind_it(read: Callable[..., Any]) -> None:
    seen = read("fr 38 oc/oc ds L", "bk 38 ec/ec ds R", "ht 9-2, 10-1", "out 14")
    seen.feet("downpipes.back-1.height", 10, 1)
    assert seen.at("downpipes.front-1.wall_to_fascia").value.inches == 14


def test_both_sides_of_the_house_in_short(read: Callable[..., Any]) -> None:
    seen = read("frt 26-6 osc's", "sds 41-2 osc's", "bk 26-6 osc's")
    seen.feet("runs.left-side.length", 41, 2)
    seen.feet("runs.right-side.length", 41, 2)


def test_dashes_and_letters_between_a_count_and_its_side(read: Callable[..., Any]) -> None:
    seen = read("FRONT 61 EC/OC 2-DS LT & RT", "rear 44-6 c/c do l r", "gar 22-1 oc/oc, dp ea cor")
    for run in ("front", "back", "garage"):
        seen.outlets(run, "left", "right")
    assert not seen.sheet.unread


def test_counts_against_sides_are_asked_about(read: Callable[..., Any]) -> None:
    seen = read("frt 42-8 osc/osc 1L 1R", "bk 42-8 osc/osc")
    seen.says("outlets.front-1.place", "left", status="doubtful")
    seen.says("outlets.front-2.place", "right", status="doubtful")


def test_three_bare_numbers_are_no_pair(read: Callable[..., Any]) -> None:
    seen = read("fr 38 oc/oc ds L", "bk 38 ec/ec ds R", "9 9 10")
    seen.asked("downpipes.front-1.wall_to_fascia")
    assert seen.sheet.reading_at("downpipes.front-1.height") is None


def test_two_directions_told_at_once(read: Callable[..., Any]) -> None:
    seen = read("N: 51-2 oc/oc", "E/W: 28-0 ea", "S: 51-2 oc/oc")
    seen.feet("runs.east.length", 28)
    seen.feet("runs.west.length", 28)
