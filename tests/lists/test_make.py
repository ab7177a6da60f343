"""The lists as data: one rounding, holds kept out of the order, each number with its why, both systems."""

from __future__ import annotations

from fractions import Fraction

import pytest
from houses import four_sides, outlet, pipe, reading, run, sheet

from gutterance.checking.findings import Finding
from gutterance.lists import Lists, UnknownListPath, explain, explanations, make_lists
from gutterance.measure.length import Length
from gutterance.shop import load_shop

SHOP = load_shop()


def test_a_clean_house_holds_nothing_and_orders_every_piece() -> None:
    lists = make_lists(four_sides(), [], SHOP)
    assert not lists.on_hold
    assert lists.machine_order == ["front-1", "right-side-1", "back-1", "left-side-1"]
    assert lists.drainage.outlets == []
    assert lists.drainage.missing[0].startswith("rainfall")


def test_what_is_on_hold_is_listed_and_marked_and_in_no_order_coil_or_stock() -> None:
    findings = [
        Finding(code="x", kind="doubt", about="runs.back.length", says="said twice", holds=["runs.back"]),
        Finding(
            code="x",
            kind="gap",
            about="downpipes.back-2.height",
            says="no height",
            holds=["downpipes.back-2"],
        ),
    ]
    lists = make_lists(four_sides(), findings, SHOP)
    assert lists.on_hold
    assert "back-1" in [piece.id for piece in lists.pieces]
    assert "back-1" not in lists.machine_order
    assert all("back-1" not in one.pieces for one in lists.coil_runs)
    assert not any("back-2" in of for cut in lists.pipe_cuts for of in cut.of)
    held = next(one for one in lists.hardware if one.item == "outlet 2x3")
    assert (held.count, held.on_hold) == (4, 2)


def test_rounding_is_told_and_ties_go_to_the_even_mark() -> None:
    # 3 5/32 on a 1/16 grid goes to 3 1/8: NIST Handbook 44, 10.3
    lists = make_lists(
        sheet([run("eave", "99 5/32 in")], [outlet("eave-1", "eave", "left", "30 in")]), [], SHOP
    )
    assert lists.pieces[0].back == Length(99 + Fraction(1, 8))
    assert any("rounded down" in one.says for one in lists.pieces[0].why if one.number == "back")


def test_hole_distances_add_up_to_the_back() -> None:
    lists = make_lists(four_sides(), [], SHOP)
    for piece in lists.pieces:
        for hole in piece.outlets:
            assert hole.from_left is not None
            assert hole.from_right is not None
            assert piece.back is not None
            assert hole.from_left.inches + hole.from_right.inches == piece.back.inches


def test_each_length_is_the_sum_of_its_reasons() -> None:
    house = sheet(
        [run("a", "1000 3/16 in", "out in", next_run="b"), run("b", "90 in", "in wall")],
        [outlet("a-1", "a", "right", "40 in"), outlet("b-1", "b")],
        [pipe("a-1"), pipe("b-1", "30 in")],
    )
    lists = make_lists(house, [], SHOP)
    for piece in lists.pieces:
        for number, length in (("back", piece.back), ("front", piece.front), ("coil", piece.coil)):
            amounts = [
                one.amount.inches for one in piece.why if one.number == number and one.amount is not None
            ]
            assert length is not None
            assert sum(amounts) == length.inches, (piece.id, number)
    for one in lists.downpipes:
        assert one.wall_pipe is not None
        assert sum(why.amount.inches for why in one.why if why.number == "wall_pipe" and why.amount) == (
            one.wall_pipe.inches
        )


def test_metric_lists_are_in_whole_millimetres() -> None:
    house = sheet(
        [run("front", "12950 mm", "out cap")],
        [outlet("front-1", "front")],
        [pipe("front-1", "610 mm", "2845 mm")],
        defaults={"units": "metric", "gutter_size": reading("125 mm")},
    )
    lists = make_lists(house, [], SHOP)
    piece, one = lists.pieces[0], lists.downpipes[0]
    # 12950 + 1.5875 at the one corner, and 125 more in front
    assert (piece.back, piece.front) == (Length.from_mm(12952), Length.from_mm(13077))
    assert one.gooseneck == Length.from_mm(508)  # 610 - 101.6 = 508.4
    lengths = [piece.back, piece.front, piece.coil, one.wall_pipe, *one.straps, *lists.hangers[0].at]
    assert all(
        length is not None and length.system == "metric" and length.mm.denominator == 1 for length in lengths
    )


def test_json_comes_back_the_same() -> None:
    lists = make_lists(four_sides(), [], SHOP)
    assert Lists.model_validate_json(lists.model_dump_json()) == lists


@pytest.mark.parametrize("piece", ["front-1", "right-side-1"])
def test_a_number_is_explained_down_to_the_sheet(piece: str) -> None:
    lists = make_lists(four_sides(), [], SHOP)
    found = explain(lists, f"pieces.{piece}.back")
    assert f"runs.{piece.removesuffix('-1')}.length" in found.sheet
    assert any("measured" in words for words in found.says)


def test_every_explained_path_is_its_own_and_has_a_why_or_a_hold() -> None:
    house = four_sides()
    house.runs[2].length.status = "doubtful"  # type: ignore[union-attr]
    found = list(explanations(make_lists(house, [], SHOP)))
    assert len({one.path for one in found}) == len(found)
    for one in found:
        assert one.says or one.hold, one.path


def test_straps_parts_and_cuts_of_a_downpipe_have_their_why() -> None:
    """Whatever is on the downpipe list can be asked for, also where two elbows meet with no gooseneck."""
    house = sheet(
        [run("eave", "510 in")],
        [outlet("a", "eave"), outlet("b", "eave", "right")],
        [pipe("a", height="150 in"), pipe("b", reach="6 1/8 in", ends_at="drain")],
    )
    lists = make_lists(house, [], SHOP)
    found = {one.path: one for one in explanations(lists)}
    for one in lists.downpipes:
        for name in ("straps", "parts"):
            assert found[f"downpipes.{one.id}.{name}"].says, (one.id, name)
    assert found["downpipes.a.wall_cuts"].shown == "10' 0\" + 1' 1 1/2\""
    assert "downpipes.a.ends_at" in found["downpipes.a.parts"].sheet
    assert lists.downpipes[1].gooseneck is None


def test_an_unknown_path_names_the_nearest() -> None:
    with pytest.raises(UnknownListPath, match=r"pieces\.front-1\.back"):
        explain(make_lists(four_sides(), [], SHOP), "pieces.front-1.bak")


def test_the_notes_hazards_come_before_the_usual_cautions() -> None:
    source = {"line": 3, "start": 0, "end": 10, "text": "power line"}
    house = four_sides(
        remarks=[{"kind": "hazard", "about": "front", "text": "power line over the front", "source": source}]
    )
    lists = make_lists(house, [], SHOP)
    assert lists.cautions[0].says == "power line over the front"
    assert any("1926.1053" in (one.source or "") for one in lists.cautions[1:])
    assert all(one.source for one in lists.cautions)


def test_nothing_on_the_sheet_gives_empty_lists() -> None:
    lists = make_lists(sheet([]), [], SHOP)
    assert not lists.pieces
    assert not lists.hardware
    assert not lists.on_hold


def test_a_half_round_gutter_hangs_in_brackets() -> None:
    house = four_sides(defaults={"gutter_profile": reading("half round")})
    parts = {one.item: one.count for one in make_lists(house, [], SHOP).hardware}
    assert parts["bracket"] == parts["hanger screw"] > 0
    assert "hidden hanger" not in parts


def test_corner_methods_bring_their_own_parts() -> None:
    parts = {}
    for method in ("hand mitre", "strip mitre", "box mitre"):
        shop = SHOP.model_copy(update={"corners": SHOP.corners.model_copy(update={"method": method})})
        parts[method] = {one.item: one.count for one in make_lists(four_sides(), [], shop).hardware}
    assert parts["strip mitre"]["outside corner strip"] == 4
    assert parts["box mitre"]["outside box mitre"] == 4
    assert not any("corner" in item or "mitre" in item for item in parts["hand mitre"])
