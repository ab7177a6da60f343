"""The whole layout: every outlet on one piece, holds where anything is open, and no sheet that breaks it."""

from __future__ import annotations

from fractions import Fraction

import pytest
from any_sheets import any_sheet
from houses import four_sides, outlet, pipe, reading, run, sheet
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from gutterance.checking.findings import Finding
from gutterance.layout import Layout, lay_out
from gutterance.shop import Shop, load_shop
from gutterance.shop.amounts import read_amount

SHOP = load_shop()
LAP = SHOP.pieces.lap.inches
GAP = SHOP.expansion.joint_gap.inches


def shop_of(**tables: dict[str, object]) -> Shop:
    """The defaults with some rules of some tables otherwise."""
    return SHOP.model_copy(
        update={name: getattr(SHOP, name).model_copy(update=rules) for name, rules in tables.items()}
    )


SHOPS = [
    SHOP,
    shop_of(corners={"method": "box mitre", "over_90": "turn"}, pieces={"crew": 1}),
    shop_of(corners={"method": "hand mitre", "tab_on": "upstream piece", "over_90": "between walls"}),
    shop_of(fall={"drop": read_amount("0 in")}, downpipes={"rule": "elbow geometry"}),
    shop_of(fall={"most": read_amount("1/8 in")}, pieces={"longest": read_amount("10 ft")}),
]
"""Shops that work otherwise, for what must hold in all of them."""


def pieces(layout: Layout) -> dict[str, tuple[Fraction | None, Fraction | None]]:
    return {piece.id: (piece.back, piece.front) for piece in layout.pieces}


def test_outside_to_outside_is_an_eighth_long_inside_to_inside_an_eighth_short_mixed_as_measured() -> None:
    # fit of 1/16 in a corner: common practice, no source
    for ends, more in (("out out", Fraction(1, 8)), ("in in", Fraction(-1, 8)), ("out in", Fraction(0))):
        layout = lay_out(sheet([run("eave", "240 in", ends)], [outlet("eave-1", "eave")]), [], SHOP)
        assert layout.pieces[0].back == 240 + more


def test_the_lips_of_a_plain_house_go_round_as_a_larger_rectangle() -> None:
    # geometry: the front lip of a rectangle's gutter is a rectangle 2 W longer on each side
    layout = lay_out(four_sides(), [], SHOP)
    assert pieces(layout)["front-1"] == (510 + Fraction(1, 8), 520 + Fraction(1, 8))
    assert pieces(layout)["left-side-1"] == (Fraction(2509, 8), Fraction(2589, 8))
    assert not any(piece.hold for piece in layout.pieces)


def test_coil_reaches_from_the_leftmost_to_the_rightmost_edge() -> None:
    # with one outside and one inside corner the lip is as long as the back, but slanted: the blank it is cut
    # from must be a gutter's width longer than either
    layout = lay_out(sheet([run("eave", "240 in", "out in")], [outlet("eave-1", "eave")]), [], SHOP)
    piece = layout.pieces[0]
    assert piece.back == piece.front == 240
    assert piece.coil == 240 + 5 + SHOP.pieces.squaring_trim.inches


def test_outlet_at_an_end_is_put_by_the_shop_and_said_to_be() -> None:
    layout = lay_out(four_sides(), [], SHOP)
    holes = {one.id: at for piece in layout.pieces for one, at in piece.holes}
    assert holes["front-1"] == 6 + Fraction(1, 16)
    assert holes["front-2"] == 504 + Fraction(1, 16)
    assert any("shop rule" in words for words in layout.assumed)


def test_a_bay_corner_said_on_one_run_counts_for_both() -> None:
    house = sheet(
        [
            run("bay left", "40 in", "wall out", right_angle=reading(45), next_run="bay front"),
            run("bay front", "80 in", "out cap"),
        ],
        [outlet("bay-1", "bay-left")],
    )
    layout = lay_out(house, [], SHOP)
    assert [piece.right_turn or piece.left_turn for piece in layout.pieces] == [45, 45]


@pytest.mark.parametrize("angle", [135, 120, 0, -45, 400])
def test_an_angle_that_could_be_two_things_is_asked_about(angle: int) -> None:
    house = sheet([run("eave", "240 in", "out cap", left_angle=reading(angle))], [outlet("eave-1", "eave")])
    piece = lay_out(house, [], SHOP).pieces[0]
    assert piece.hold
    assert piece.front is None


def test_a_finding_holds_what_it_names_and_nothing_else() -> None:
    finding = Finding(
        code="x",
        kind="doubt",
        about="runs.back.length",
        says="said twice",
        question="How long?",
        holds=["runs.back"],
    )
    layout = lay_out(four_sides(), [finding], SHOP)
    assert [piece.id for piece in layout.pieces if piece.hold] == ["back-1"]
    assert not any(one.hold for one in layout.pipes)


def test_an_assumption_holds_nothing() -> None:
    finding = Finding(code="x", kind="assumption", about="runs.back", says="taken so", holds=["runs.back"])
    assert not any(piece.hold for piece in lay_out(four_sides(), [finding], SHOP).pieces)


def test_a_hold_that_fits_nothing_is_not_lost() -> None:
    finding = Finding(code="x", kind="gap", about="runs.attic", says="no attic", holds=["runs.attic"])
    assert [one.code for one in lay_out(four_sides(), [finding], SHOP).findings] == ["hold-fits-nothing"]


@pytest.mark.parametrize("status", ["doubtful", "missing"])
@pytest.mark.parametrize("field", ["length", "left_end", "right_end"])
def test_a_value_not_settled_holds_its_run_though_no_finding_came(status: str, field: str) -> None:
    house = four_sides()
    getattr(house.runs[0], field).status = status
    assert {piece.run for piece in lay_out(house, [], SHOP).pieces if piece.hold} == {0}


@pytest.mark.parametrize("field", ["gutter_profile", "gutter_size", "colour"])
def test_a_doubt_about_the_whole_job_holds_every_piece(field: str) -> None:
    house = four_sides()
    getattr(house.defaults, field).status = "doubtful"
    assert all(piece.hold for piece in lay_out(house, [], SHOP).pieces)


@pytest.mark.parametrize("length", ["0 in", "-5 in", "99999999 in", "1/8 in", None])
def test_an_absurd_length_is_held_and_nothing_worked_out_from_it(length: str | None) -> None:
    layout = lay_out(sheet([run("eave", length, "in wall")], [outlet("eave-1", "eave", "right")]), [], SHOP)
    assert layout.pieces[0].hold
    assert layout.pieces[0].back is None or layout.pieces[0].front is None
    assert all(one is layout.pieces[0] for one in layout.pieces)


def test_a_profile_the_shop_does_not_know_gives_the_back_and_holds() -> None:
    house = sheet([run("eave", "240 in", "out cap")], [outlet("eave-1", "eave")])
    house.defaults.gutter_profile.value = "swan"  # type: ignore[union-attr]
    piece = lay_out(house, [], SHOP).pieces[0]
    assert piece.back == 240 + Fraction(1, 16)
    assert piece.front is None
    assert "[[profiles]]" in piece.hold[0].says


@pytest.mark.parametrize(
    "bad",
    [
        outlet("eave-1", "eave", "left", "999 in"),
        outlet("eave-1", "eave", "left", "0 in"),
        outlet("eave-1", "eave", None),
        outlet("eave-1", "eave", "centre", "12 in"),
        outlet("eave-1", "eave", "left", size=reading("9x9")),
    ],
)
def test_an_outlet_that_has_no_sure_place_holds_its_piece(bad: dict[str, object]) -> None:
    piece = lay_out(sheet([run("eave", "240 in")], [bad]), [], SHOP).pieces[0]
    assert piece.hold
    assert len(piece.holes) == 1


@pytest.mark.parametrize("place", ["left", "right"])
def test_an_outlet_that_comes_in_a_made_corner_is_listed_and_held(place: str) -> None:
    shop = SHOP.model_copy(update={"corners": SHOP.corners.model_copy(update={"method": "box mitre"})})
    house = sheet([run("eave", "240 in", "in in")], [outlet("eave-1", "eave", place, "5 in")])
    piece = lay_out(house, [], shop).pieces[0]
    assert [at for _, at in piece.holes] == [None]
    assert "does not fit" in piece.hold[0].says


def test_a_value_nobody_said_is_told_on_its_piece_and_its_pipe() -> None:
    house = four_sides()
    for reading_, status in (
        (house.runs[0].length, "inferred"),
        (house.runs[1].left_end, "assumed"),
        (house.downpipes[0].height, "assumed"),
    ):
        assert reading_ is not None
        reading_.status = status  # type: ignore[assignment]
    layout = lay_out(house, [], SHOP)
    assert layout.pieces[0].guesses == ["length worked out"]
    assert any(one.says.startswith("length worked out, 42'") for one in layout.pieces[0].why)
    assert layout.pieces[1].guesses == ["left end assumed"]
    assert "height assumed" in layout.pipes[0].says


def test_a_corner_in_doubt_joins_no_water() -> None:
    runs = [run("a", "240 in", "cap out", next_run="b"), run("b", "240 in", "out cap")]
    house = sheet(runs, [outlet("a-1", "a"), outlet("b-1", "b")])
    assert len(lay_out(house, [], SHOP).channels) == 1
    house.runs[0].right_end.status = "doubtful"  # type: ignore[union-attr]
    apart = lay_out(house, [], SHOP).channels
    assert [channel.runs for channel in apart] == [[0], [1]]
    assert all("not known" in " ".join(channel.says) for channel in apart)


def test_an_outlet_on_no_run_is_a_finding() -> None:
    layout = lay_out(
        sheet([run("eave", "240 in")], [outlet("x", "attic"), outlet("eave-1", "eave")]), [], SHOP
    )
    assert [one.code for one in layout.findings] == ["outlet-on-no-run"]


def test_two_runs_of_one_id_are_both_held_and_their_pieces_have_ids_of_their_own() -> None:
    house = sheet([run("eave", "240 in"), run("eave", "120 in")], [outlet("eave-1", "eave")])
    layout = lay_out(house, [], SHOP)
    assert [piece.id for piece in layout.pieces] == ["eave-1", "eave-2"]
    assert all(piece.hold for piece in layout.pieces)


def test_neighbours_that_tell_of_different_corners_are_both_held() -> None:
    house = sheet(
        [run("a", "240 in", "cap out", next_run="b"), run("b", "240 in", "in cap")],
        [outlet("a-1", "a"), outlet("b-1", "b")],
    )
    assert all(piece.hold for piece in lay_out(house, [], SHOP).pieces)


def test_the_piece_water_comes_from_lies_over() -> None:
    # metal that a joint is not wanted in at that length, so that the two pieces are lapped
    joints = [
        one.model_copy(update={"joint_over": read_amount("200 ft")}) if one.name == "aluminium" else one
        for one in SHOP.materials
    ]
    house = sheet([run("eave", "1000 in")], [outlet("eave-1", "eave", "right")])
    layout = lay_out(house, [], SHOP.model_copy(update={"materials": joints}))
    assert [(one.left_lap, one.right_lap) for one in layout.pieces] == [(None, "over"), ("under", None)]


def test_snow_in_the_note_brings_the_close_spacing() -> None:
    # 18 in where strength is wanted: common practice, no source
    house = sheet(
        [run("eave", "510 in")], [outlet("eave-1", "eave", "left", "30 in")], note=["lots of Snow here"]
    )
    layout = lay_out(house, [], SHOP)
    one = layout.hangers[0]
    gaps = [right - left for left, right in zip(one.at, one.at[1:], strict=False)]
    assert max(gaps) <= 18
    assert "snow" in one.why[0].says
    assert 'hangers 18" apart, close: the note speaks of snow, shop rule' in layout.assumed


@settings(max_examples=150, suppress_health_check=[HealthCheck.too_slow], deadline=None)
@given(any_sheet(), st.sampled_from(SHOPS))
def test_any_sheet_is_laid_out_with_every_outlet_on_one_piece_and_every_gap_held(
    house: object, shop: Shop
) -> None:
    layout = lay_out(house, [], shop)  # type: ignore[arg-type]
    for piece in layout.pieces:
        known = piece.back is not None and piece.front is not None and piece.coil is not None
        assert known or piece.hold
        for one, at in piece.holes:
            assert at is not None or one.hold or piece.hold
            if at is not None and piece.back is not None:
                assert 0 <= at <= piece.back
    by_run: dict[int, list[str]] = {}
    for piece in layout.pieces:
        by_run.setdefault(piece.run, []).extend(str(id(one)) for one, _ in piece.holes)
    for holes in by_run.values():
        assert len(holes) == len(set(holes))
    runs = {one.id for one in layout.runs}
    assert sum(map(len, by_run.values())) == sum(1 for one in house.outlets if one.run in runs)  # type: ignore[attr-defined]
    for i in {piece.run for piece in layout.pieces}:
        mine = [piece for piece in layout.pieces if piece.run == i]
        if all(piece.back is not None for piece in mine):
            last = mine[-1]
            # pieces overlap at a lap and stand apart at an expansion joint
            over = [LAP if piece.left == "lap" else -GAP for piece in mine[1:]]
            whole = sum(piece.back for piece in mine) - sum(over)  # type: ignore[misc]
            assert last.start + last.back - mine[0].start == whole  # type: ignore[operator]
    for one in layout.pipes:
        assert one.hold or (one.wall_pipe is not None and one.wall_pipe > 0)


def test_what_the_shop_cannot_make_is_asked_once_with_all_it_holds() -> None:
    house = sheet(
        [run("eave", "510 in"), run("back", "300 in")],
        [outlet("eave-1", "eave"), outlet("back-1", "back")],
        [pipe("eave-1", size=reading("7x9")), pipe("back-1", height="10 in")],
    )
    found = {one.says: one for one in lay_out(house, [], SHOP).findings}
    lacks = found.pop("The shop file has no pipe '7x9': add a [[pipes]] table for it.")
    assert (lacks.code, lacks.kind) == ("cannot-be-made", "gap")
    assert lacks.holds == ["runs.eave", "downpipes.eave-1"]
    (small,) = found.values()
    assert small.holds == ["downpipes.back-1"]
    assert "too small for its elbows" in small.says


@pytest.mark.parametrize(("rule", "front"), [("turn", "120.7"), ("between walls", "20.7")])
def test_a_shop_may_say_what_its_corners_of_over_90_degrees_mean(rule: str, front: str) -> None:
    # W tan(t/2) for W 5: 5 tan 67.5 = 12.07 at a turn of 135, 5 tan 22.5 = 2.07 at one of 45; ten times here
    shop = SHOP.model_copy(update={"corners": SHOP.corners.model_copy(update={"over_90": rule})})
    house = sheet([run("eave", "240 in", "cap out", right_angle=reading(135.0))], [outlet("eave-1", "eave")])
    piece = lay_out(house, [], shop).pieces[0]
    assert piece.front is not None
    assert piece.back is not None
    assert round(float(piece.front - piece.back) * 10, 1) == float(front)
    assert lay_out(house, [], SHOP).pieces[0].hold


@pytest.mark.parametrize("angle", [0.0, 180.0, 270.0, -45.0, float("inf"), float("nan")])
def test_an_angle_no_corner_can_have_is_asked_about(angle: float) -> None:
    house = sheet([run("eave", "240 in", "cap out", right_angle=reading(angle))], [outlet("eave-1", "eave")])
    piece = lay_out(house, [], SHOP).pieces[0]
    assert any("cannot be" in hold.says for hold in piece.hold)


def test_each_corner_has_one_number_and_one_tab() -> None:
    for tab_on in ("left end", "right end", "upstream piece"):
        corners = SHOP.corners.model_copy(update={"method": "hand mitre", "tab_on": tab_on})
        layout = lay_out(four_sides(), [], SHOP.model_copy(update={"corners": corners}))
        tabs: dict[int, int] = {}
        for piece in layout.pieces:
            for side, tab in (("left", piece.left_tab), ("right", piece.right_tab)):
                number = layout.corners[piece.run, side]  # type: ignore[index]
                tabs[number] = tabs.get(number, 0) + bool(tab)
        assert sorted(tabs.values()) == [1, 1, 1, 1]


def test_the_blank_is_square_and_holds_the_piece_its_lips_and_its_tab() -> None:
    corners = SHOP.corners.model_copy(update={"method": "hand mitre"})
    shop = SHOP.model_copy(update={"corners": corners})
    house = sheet([run("eave", "240 in", "out out")], [outlet("eave-1", "eave", "left", "20 in")])
    (piece,) = lay_out(house, [], shop).pieces
    # 5 in of lip at the left; 5 in of lip and 1 in of tab at the right
    assert (piece.blank_left, piece.blank_right) == (5, 6)
    assert piece.blank == 240 + Fraction(1, 8) + 11
    assert piece.coil == piece.blank + SHOP.pieces.squaring_trim.inches


@pytest.mark.parametrize(
    ("length", "says"),
    [("-5 in", "more than nothing"), ("0 in", "more than nothing"), ("9000 in", "limit of 500' 0\"")],
)
def test_a_length_that_cannot_be_says_why(length: str, says: str) -> None:
    layout = lay_out(sheet([run("eave", length)], [outlet("eave-1", "eave")]), [], SHOP)
    assert says in layout.pieces[0].hold[0].says
    (found,) = [one for one in layout.findings if one.code == "cannot-be-made"]
    assert found.holds == ["runs.eave"]
    assert found.question == "How long is eave?"


def test_an_outlet_outside_its_run_is_told_with_how_long_the_run_is() -> None:
    layout = lay_out(sheet([run("eave", "240 in")], [outlet("eave-1", "eave", "left", "999 in")]), [], SHOP)
    (found,) = [one for one in layout.findings if one.code == "cannot-be-made"]
    assert "does not fit on eave, which is 20' 0\" long" in found.says
    assert found.question == "Where on eave is outlet eave-1?"
