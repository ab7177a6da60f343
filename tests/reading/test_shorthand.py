"""Clipped shorthand: cells, legends, pairs of ends, rows about several pipes, how numbers are written."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from gutterance.reading.lexicon import LexiconError, short_ends_from_toml

if TYPE_CHECKING:
    from collections.abc import Callable

FOUR = ("F 40-2  oc/oc", "R 24-0  oc/oc", "B 40-2  oc/oc", "L 24-0  oc/oc")


def test_blanks_part_numbers_that_must_not_join(read: Callable[..., Any]) -> None:
    seen = read("5K wht", "BK   31 6   cap-cap   dp R   w/f 12   9 8 splash")
    seen.feet("runs.back.length", 31, 6)
    seen.inches("downpipes.back-1.wall_to_fascia", 12)
    seen.feet("downpipes.back-1.height", 9, 8)


def test_two_blanks_by_accident_part_nothing(read: Callable[..., Any]) -> None:
    read("front 42  6 osc both ends").feet("runs.front.length", 42, 6)


def test_a_legend_holds_above_and_below_it(read: Callable[..., Any]) -> None:
    seen = read(
        "front 33-0  M/M  q L",
        "M = inside mitre   q=downspout",
        "back 21-4  M/M  q R",
    )
    seen.ends("front", "inside corner", "inside corner")
    seen.ends("back", "inside corner", "inside corner")
    seen.outlets("front", "left")
    seen.outlets("back", "right")


def test_a_legend_says_where_pipes_end(read: Callable[..., Any]) -> None:
    seen = read(
        "G = gully", "front 9.200 s/e-s/e, outlet right, 300 wall to fascia, 2.6 down G", "68 rd pipes"
    )
    seen.says("downpipes.front-1.ends_at", "drain")


def test_a_number_defined_as_a_cue(read: Callable[..., Any]) -> None:
    seen = read(
        "600=soffit   all mm",
        "N  9.4  ex/ex  dp @E  600  2.75 tank",
        "S  9.4  ex/ex  dp @W  600  2.8 gully",
    )
    seen.mm("downpipes.north-1.wall_to_fascia", 600)
    seen.outlets("north", "left")
    seen.mm("downpipes.south-1.wall_to_fascia", 600)
    seen.outlets("south", "left")


def test_an_equation_of_sides_is_no_legend(read: Callable[..., Any]) -> None:
    seen = read("front 30-0 cap cap", "left = gable, nothing there", "back 30-0 cap cap")
    seen.runs("front", "back")


@pytest.mark.parametrize(
    ("pair", "left", "right"),
    [
        ("w-e", "wall", "end cap"),
        ("se/w", "end cap", "wall"),
        ("ex-in", "outside corner", "inside corner"),
        ("ic/oc", "inside corner", "outside corner"),
        ("cap-osc", "end cap", "outside corner"),
        ("w/osc", "wall", "outside corner"),
    ],
)
def test_pairs_of_ends_are_left_then_right(
    read: Callable[..., Any], pair: str, left: str, right: str
) -> None:
    read(f"back 24-6 {pair} dp L").ends("back", left, right)


def test_letters_of_the_compass_are_no_pair_of_ends(read: Callable[..., Any]) -> None:
    seen = read("house faces W/E, ridge N-S", "front 30-0 cap cap")
    seen.ends("front", "end cap", "end cap")
    seen.runs("front")


def test_hangers_centre_to_centre_are_no_ends(read: Callable[..., Any]) -> None:
    seen = read("front 9.6 stop ends", "back 9.65 stop ends", "112 half round, brackets 750 c/c")
    seen.mm("defaults.hanger_spacing", 750)


def test_rows_in_the_order_of_the_pipes_listed(read: Callable[..., Any]) -> None:
    seen = read(*FOUR, "DP  F-L   B-R", "o/h  14 - 20", "ht  8-11 - 10-0", "to  drn - spl")
    seen.inches("downpipes.front-1.wall_to_fascia", 14)
    seen.inches("downpipes.back-1.wall_to_fascia", 20)
    seen.feet("downpipes.front-1.height", 8, 11)
    seen.feet("downpipes.back-1.height", 10, 0)
    seen.says("downpipes.front-1.ends_at", "drain")
    seen.says("downpipes.back-1.ends_at", "splash block")


def test_a_row_with_too_few_values_is_asked_about(read: Callable[..., Any]) -> None:
    seen = read(*FOUR, "DP  F-L   B-L  B-R", "ht  8-11 - 10-0")
    for pipe in ("front-1", "back-1", "back-2"):
        seen.asked(f"downpipes.{pipe}.height")


def test_a_row_by_place(read: Callable[..., Any]) -> None:
    seen = read(
        "hse F  40-0 cap/cap ds ctr",
        "hse B  40-0 cap/cap ds R",
        "gar front 22-0 cap/cap ds L",
        "proj hse 18, gar 10",
        "dn hse 9-4 both   gar 8-1",
        "all to splash exc gar > drn",
    )
    for pipe in ("front-1", "back-1"):
        seen.inches(f"downpipes.{pipe}.wall_to_fascia", 18)
        seen.feet(f"downpipes.{pipe}.height", 9, 4)
        seen.says(f"downpipes.{pipe}.ends_at", "splash block")
    seen.inches("downpipes.garage-front-1.wall_to_fascia", 10)
    seen.feet("downpipes.garage-front-1.height", 8, 1)
    seen.says("downpipes.garage-front-1.ends_at", "drain")


def test_a_row_whose_values_stand_before_their_places_is_no_row(read: Callable[..., Any]) -> None:
    seen = read(*FOUR, "drops front left, back left, back right", "ht: front 9-6, back 10-1 at the left")
    seen.asked_or_right("downpipes.back-2.height", None)


def test_heights_go_to_the_sides_in_the_order_of_the_list(read: Callable[..., Any]) -> None:
    seen = read(
        "FR  38 0  cap-cap  dp L+R  w/f 16   9 2 splash, 9 8 drain",
        "BK  38 0  cap-cap  dp R  w/f 16  9 0 drain",
    )
    seen.feet("downpipes.front-1.height", 9, 2)
    seen.feet("downpipes.front-2.height", 9, 8)
    seen.says("downpipes.front-1.ends_at", "splash block")
    seen.says("downpipes.front-2.ends_at", "drain")


def test_feet_and_inches_with_a_point_between(read: Callable[..., Any]) -> None:
    seen = read("3 Alder Row     ft.in", "front 41.10 cap/cap, dp R, o/h 1.6, dn 9.0", "5K .032 alum")
    seen.feet("runs.front.length", 41, 10)
    seen.inches("downpipes.front-1.wall_to_fascia", 18)
    seen.feet("downpipes.front-1.height", 9, 0)
    seen.says("defaults.thickness", "0.032 in")


def test_a_point_that_cannot_be_inches_is_still_asked_about(read: Callable[..., Any]) -> None:
    read("ft.in", "front 41.75 cap/cap").asked("runs.front.length")


def test_all_inches(read: Callable[..., Any]) -> None:
    seen = read("all dims in inches", "front 463 cap/cap ds L", "ht 104, w/f 16")
    seen.feet("runs.front.length", 38, 7)
    seen.inches("downpipes.front-1.height", 104)
    seen.inches("downpipes.front-1.wall_to_fascia", 16)


def test_pipes_at_corners_by_compass(read: Callable[..., Any]) -> None:
    seen = read(
        "5K wht, 2x3",
        "N 30-0 osc/osc  --",
        "E 44-0 osc/osc  dp NE, SE",
        "S 30-0 osc/osc  --",
        "hts: NE 9-2  SE 9-10",
    )
    seen.outlets("east", "left", "right")
    heights = {
        seen.sheet.outlet(pipe.outlet).from_: pipe.height.value.tape_text() for pipe in seen.sheet.downpipes
    }
    assert heights == {"right": "9' 2\"", "left": "9' 10\""}


def test_sizes_by_storey(read: Callable[..., Any]) -> None:
    seen = read(
        "ups 2x3, lowers 3x4",
        "UP F 30-0 cap/cap dp L, ht 18-0",
        "PCH F 22-0 cap/cap dp R, ht 8-0",
    )
    seen.says("downpipes.upper-front-1.size", "2x3")
    seen.says("downpipes.porch-front-1.size", "3x4")


def test_two_places_with_one_length_each(read: Callable[..., Any]) -> None:
    seen = read("front 30-0 cap/cap", "dorm L, dorm R 7-2 ea c/c no ds")
    for run in ("dormer-left-side", "dormer-right-side"):
        seen.feet(f"runs.{run}.length", 7, 2)
        seen.ends(run, "end cap", "end cap")


def test_a_short_end_must_say_one_of_the_ends() -> None:
    with pytest.raises(LexiconError, match="short_end 1: 'door' is no end"):
        short_ends_from_toml('[[short_end]]\nvalue = "door"\nwords = ["d"]\n', "own.toml")


def test_a_note_that_goes_by_labels_not_followed_is_asked_about(read: Callable[..., Any]) -> None:
    seen = read(
        "A: the long one, front 30-0, caps. then",
        "B: goes with A, back 30-0 caps both ends.",
        "C: by B, left 20-0 caps both ends. D: by C",
        "pipes A left. B right. C and D none",
    )
    if not any(run.id.startswith("run-") for run in seen.sheet.runs):
        for run in seen.sheet.runs:
            seen.asked(f"runs.{run.id}.length")


def test_a_row_with_a_letter_that_names_no_pipe_is_asked_about(read: Callable[..., Any]) -> None:
    seen = read(
        "ogee 125 ali, all dims mm",
        "E eave 5410, stop end L, ext mitre R, outlet left",
        "W eave 5405, ext mitre L, stop end R",
        "porch front 1860, stop ends, outlet right",
        "heights E 4780, W 4815, porch 2140",
    )
    seen.asked("downpipes.east-1.height")
    seen.asked("downpipes.porch-front-1.height")


def test_where_a_part_stands_is_no_side_of_it(read: Callable[..., Any]) -> None:
    seen = read("front 30-0 caps both ends", "the dairy on the back, that's 12-6 caps both ends, drop right")
    seen.feet("runs.dairy.length", 12, 6)
    seen.outlets("dairy", "right")


def test_a_number_said_of_some_part_is_asked_about(read: Callable[..., Any]) -> None:
    seen = read(
        "front 30-0 caps, drop left, 9-4 down", "back 30-0 caps, drop right, 9-4 down",
        "overhang is a foot and a half on the tall part",
    )  # fmt: skip
    seen.asked("downpipes.front-1.wall_to_fascia")


def test_the_size_of_the_leaders_begins_no_list_of_them(read: Callable[..., Any]) -> None:
    seen = read(
        "LEADERS: 2x3", "front left 12-8 cap, inside corner right", "front right 14-2 inside corner left, cap"
    )
    assert not seen.sheet.outlets


@pytest.mark.parametrize(
    "line",
    [
        "Frt 42-6 crnrs bth ends outsd, drps L R",
        "frnt 42' 6\" OS/OS  otlts lft & rgt",
        "FRONT 42-6 OSC both, DO @ L, DO @ R",
    ],
)
def test_words_with_their_vowels_left_out(read: Callable[..., Any], line: str) -> None:
    seen = read(line)
    seen.feet("runs.front.length", 42, 6)
    assert len(seen.sheet.outlets) == 2


def test_an_abbreviation_that_could_be_two_words_stays_unknown() -> None:
    from gutterance.reading.abbreviations import Abbreviations
    from gutterance.reading.lexicon import Term

    short = Abbreviations([Term("barrel", "ends at", "barrel"), Term("burlee", "colour", "burl")])
    assert short.term_of("brl") is None
    assert short.term_of("brrel") is None
    assert Abbreviations([Term("barrel", "ends at", "barrel")]).term_of("brl") is not None


@pytest.mark.parametrize("word", ["under", "grid", "line", "dry", "mrs", "court", "hydro"])
def test_english_words_are_no_abbreviations(word: str) -> None:
    from gutterance.reading.pipeline import pipeline

    (item,) = pipeline().line(1, word).items
    assert "short for" not in item.marks


def test_downpipes_counted_in_shorthand(read: Callable[..., Any]) -> None:
    seen = read("Fr 38-6 osc both, 1dn ctr", "Bk 38-6 osc both, 2 dns L R")
    seen.outlets("front", "centre")
    seen.outlets("back", "left", "right")


def test_two_marks_alike_are_no_metres(read: Callable[..., Any]) -> None:
    seen = read("N 40-2 m/m, drop L", "E 26-0 m/m")
    seen.feet("runs.north.length", 40, 2)
    seen.feet("runs.east.length", 26)


def test_a_gutter_called_half_round_in_shorthand(read: Callable[..., Any]) -> None:
    seen = read("front 31-4 cap/cap drop R", '6" half rnd copper')
    seen.says("defaults.gutter_profile", "half round")
    seen.says("defaults.material", "copper")
    assert not seen.sheet.unread


@pytest.mark.parametrize("line", ["wf 14", "14 OH", "o/h: 14"])
def test_a_value_on_a_line_of_its_own_below_the_runs_is_offered_for_every_pipe(
    read: Callable[..., Any], line: str
) -> None:
    seen = read("front 30-0 osc both drop L", "back 30-0 osc both drop R", line)
    seen.inches("downpipes.front-1.wall_to_fascia", 14, status="doubtful")
    offered = seen.at("downpipes.front-1.wall_to_fascia").value
    assert seen.at("downpipes.back-1.wall_to_fascia").value == offered


def test_values_told_run_by_run_are_not_offered_to_others(read: Callable[..., Any]) -> None:
    seen = read("front 30-0 osc both drop L", "wf 12", "back 30-0 osc both drop R", "ht 9-2")
    assert seen.sheet.reading_at("downpipes.back-1.wall_to_fascia") is None


@pytest.mark.parametrize("head", ["dp: FL FR BL", "downspouts FL, FR, BL"])
def test_heights_follow_the_order_in_which_the_pipes_were_listed(read: Callable[..., Any], head: str) -> None:
    seen = read("front 31 caps both", "back 31 caps both", head, "ht 9-2, 9-4, 10-1")
    seen.feet("downpipes.front-1.height", 9, 2)
    seen.feet("downpipes.front-2.height", 9, 4)
    seen.feet("downpipes.back-1.height", 10, 1)


def test_drops_at_the_ends_with_their_count_in_brackets(read: Callable[..., Any]) -> None:
    seen = read("fr 44-2 ends capped, spouts @ ends (2)")
    seen.outlets("front", "left", "right")
    assert seen.sheet.reading_at("downpipes.front-1.wall_to_fascia") is None
