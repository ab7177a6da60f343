"""Coils and the machine's order, as the lists tell it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from any_sheets import any_sheet
from houses import four_sides, outlet, pipe, run, sheet
from hypothesis import HealthCheck, given, settings

from gutterance.checking.findings import Finding
from gutterance.lists import make_lists
from gutterance.render.cutlist import cut_list
from gutterance.shop import ShopError, load_shop

if TYPE_CHECKING:
    from pathlib import Path

    from gutterance.sheet.models import Sheet

COIL = '[[coils]]\nname = "{0}"\ncolour = "{1}"\nwidth = "{2}"\nleft = "{3}"\n'


def shop_file(tmp_path: Path, *coils: tuple[str, str, str, str]) -> Path:
    path = tmp_path / "shop.toml"
    path.write_text("".join(COIL.format(*one) for one in coils), encoding="utf-8")
    return path


def test_with_no_coil_at_hand_the_list_says_how_much_to_have() -> None:
    lists = make_lists(four_sides(), [], load_shop())
    (one,) = lists.coil_runs
    # each piece: its back, 1/8 for two outside corners, 5 in of lip at each, 1 in trim; 24 in lost in loading
    total = 2 * (510 + 313 + 0.5) + 4 * 0.125 + 8 * 5 + 4
    assert float(one.total.inches) == total
    assert one.order is not None
    assert float(one.order.inches) == total + 24
    assert one.left_over is None
    assert "one coil, no change" in cut_list(lists)


def test_pieces_go_onto_the_coils_at_hand_and_the_rest_is_to_be_ordered(tmp_path: Path) -> None:
    path = shop_file(
        tmp_path,
        ("old white", "white", "11 3/4 in", "46 ft"),
        ("brown", "brown", "11 3/4 in", "900 ft"),
        ("wide white", "white", "15 in", "900 ft"),
    )
    lists = make_lists(four_sides(), [], load_shop(path))
    at_hand = next(one for one in lists.coil_runs if one.coil == "old white")
    assert at_hand.left_over is not None
    assert at_hand.left_over.inches >= 0
    assert len(at_hand.pieces) == 1
    ordered = next(one for one in lists.coil_runs if one.order is not None)
    assert ordered.coil == 'white, 11 3/4", to order'
    assert len(ordered.pieces) == 3
    assert "have" in cut_list(lists)
    assert "load coil" in cut_list(lists)


def test_two_coils_of_one_name_are_refused(tmp_path: Path) -> None:
    twice = ("white", "white", "11 3/4 in", "46 ft")
    with pytest.raises(ShopError, match="name of its own"):
        load_shop(shop_file(tmp_path, twice, twice))


@pytest.mark.parametrize("left", ["-1 ft", "46", "inf ft", "nan in"])
def test_a_coil_of_no_length_is_refused_by_its_line(tmp_path: Path, left: str) -> None:
    with pytest.raises(ShopError, match=r"line 5: coils\.1\.left"):
        load_shop(shop_file(tmp_path, ("white", "white", "11 3/4 in", left)))


def test_the_order_starts_at_an_outlet_and_says_why() -> None:
    house = sheet(
        [run("front", "400 in", "cap out", next_run="side"), run("side", "300 in", "out cap")],
        [outlet("a", "side", "right")],
        [pipe("a")],
    )
    lists = make_lists(house, [], load_shop())
    assert lists.machine_order == ["side-1", "front-1"]
    assert [one.why for one in lists.machine_steps] == ["starts at an outlet", "meets side-1"]
    assert [one.hang for one in lists.machine_steps] == [[], ["side-1"]]
    assert "front-1: meets side-1. Hang side-1 meanwhile." in cut_list(lists)
    assert "Then hang front-1." in cut_list(lists)


def test_what_is_on_hold_is_in_no_step_and_on_no_coil() -> None:
    held = [Finding(code="x", kind="doubt", about="runs.back.length", says="twice", holds=["runs.back"])]
    lists = make_lists(four_sides(), held, load_shop())
    assert "back-1" not in lists.machine_order
    assert all("back-1" not in one.pieces for one in lists.coil_runs)
    assert lists.machine_order == ["front-1", "left-side-1", "right-side-1"]


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(any_sheet())
def test_any_sheet_runs_each_piece_once_and_off_one_coil(house: Sheet) -> None:
    lists = make_lists(house, [], load_shop())
    free = sorted(piece.id for piece in lists.pieces if not piece.hold)
    assert sorted(lists.machine_order) == free
    assert [one.piece for one in lists.machine_steps] == lists.machine_order
    assert sorted(piece for one in lists.coil_runs for piece in one.pieces) == free
    assert cut_list(lists)
