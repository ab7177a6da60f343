"""The hardware list: each count from the layout, its spares by the shop's rule, its why."""

from __future__ import annotations

import pytest
from houses import four_sides, outlet, pipe, reading, run, sheet
from hypothesis import given
from hypothesis import strategies as st

from gutterance.lists import make_lists
from gutterance.lists.items import spares
from gutterance.shop import Shop, load_shop
from gutterance.shop.amounts import read_amount

SHOP = load_shop()


def items(house: object, shop: Shop = SHOP) -> dict[str, tuple[int, int]]:
    """Count and spares of each item."""
    return {one.item: (one.count, one.spare) for one in make_lists(house, [], shop).hardware}  # type: ignore[arg-type]


def with_corners(**more: object) -> Shop:
    return SHOP.model_copy(update={"corners": SHOP.corners.model_copy(update=more)})


def test_screws_by_kind_and_spares_by_the_shops_rule() -> None:
    found = items(four_sides())
    hangers, more = found["hidden hanger"]
    # 5 percent of hangers, 10 of screws, any part of one is one: shop rules, common practice, no source
    assert more == -(-hangers * 5 // 100)
    assert found["hanger screw"] == (hangers, -(-hangers // 10))
    # four pipes with three straps of two screws; five joints each of two screws
    assert found["strap screw"] == (24, 3)
    assert found["pipe screw"] == (40, 4)
    assert found["elbow 2x3, front (A)"] == (12, 0)
    assert all(one.why for one in make_lists(four_sides(), [], SHOP).hardware)


@given(st.integers(0, 5000), st.integers(0, 100))
def test_spares_are_never_under_their_percent_nor_one_over(count: int, percent: int) -> None:
    assert 0 <= spares(count, percent) * 100 - count * percent < 100


def test_a_corner_is_one_strip_though_two_pieces_meet_there() -> None:
    runs = [
        run("a", "240 in", "cap out", next_run="b"),
        run("b", "120 in", "out in", next_run="c"),
        run("c", "240 in", "in out"),
    ]
    found = items(sheet(runs, [outlet("a-1", "a")]))
    # the last run's corner meets nothing on the sheet, but needs its strip all the same
    assert found["outside corner strip"][0] == 2
    assert found["inside corner strip"][0] == 1


def test_strips_and_boxes_are_told_apart_by_their_angle() -> None:
    runs = [
        run("a", "240 in", "cap in", next_run="b", right_angle=reading(45.0)),
        run("b", "60 in", "in out", next_run="c", left_angle=reading(45.0)),
        run("c", "240 in", "out cap"),
    ]
    house = sheet(runs, [outlet("a-1", "a"), outlet("c-1", "c", "right")])
    assert {"inside corner strip, 45°", "outside corner strip"} <= set(items(house))
    boxes = items(house, with_corners(method="box mitre"))
    assert {"inside corner strip, 45°", "outside box mitre"} <= set(boxes)
    hand = items(house, with_corners(method="box mitre", without_box="hand mitre"))
    assert not any("strip" in item for item in hand)


def test_what_is_on_hold_is_counted_and_said_to_be() -> None:
    house = four_sides()
    house.runs[2].length.status = "doubtful"  # type: ignore[union-attr]
    found = {one.item: one for one in make_lists(house, [], SHOP).hardware}
    assert found["outlet 2x3"].on_hold == 2
    assert found["outside corner strip"].on_hold == 2
    assert 0 < found["rivet"].on_hold < found["rivet"].count
    assert 0 < found["hidden hanger"].on_hold < found["hidden hanger"].count


def test_an_expansion_joint_is_loaded() -> None:
    found = items(sheet([run("eave", "1000 in")], [outlet("eave-1", "eave", "centre", None)]))
    assert found["expansion joint"][0] == 1
    # the two pieces have end caps at the run's ends only: the joint closes the others
    assert (found["end cap, left"][0], found["end cap, right"][0]) == (1, 1)


@pytest.mark.parametrize(("lap", "beads"), [("4 in", 28)])
def test_sealant_is_the_beads_over_what_a_tube_gives(lap: str, beads: int) -> None:
    pieces = SHOP.pieces.model_copy(update={"longest": read_amount("20 ft"), "lap": read_amount(lap)})
    house = sheet([run("eave", "460 in")], [outlet("eave-1", "eave")])
    found = {
        one.item: one for one in make_lists(house, [], SHOP.model_copy(update={"pieces": pieces})).hardware
    }
    # two end caps and an outlet of 12 in each, one lap of two beads: 64 in, at 25 ft a tube
    assert found["sealant"].count == 1
    assert "5' 4\"" in found["sealant"].why
    assert 3 * 12 + beads == 64


def test_cuts_of_arms_and_offsets_are_cut_from_stock_too() -> None:
    house = sheet(
        [run("eave", "240 in")],
        [outlet("eave-1", "eave"), outlet("eave-2", "eave", "left", "54 in")],
        [
            pipe(
                "eave-1", also_takes=["eave-2"], offsets=[reading("10 in")], offset_heights=[reading("40 in")]
            )
        ],
    )
    lists = make_lists(house, [], SHOP)
    assert not lists.on_hold
    of = [name for cut in lists.pipe_cuts for name in cut.of]
    assert "eave-1 arm from eave-2" in of
    assert "eave-1 gooseneck of arm from eave-2" in of
    assert "eave-1 offset 1" in of
