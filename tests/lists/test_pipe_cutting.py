"""Downpipes from stock, as the lists tell it: leftovers first, sizes and colours apart, no cut lost."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

import pytest
from any_sheets import any_sheet
from houses import four_sides, outlet, pipe, reading, run, sheet
from hypothesis import HealthCheck, given, settings

from gutterance.lists import make_lists
from gutterance.lists.models import Bend
from gutterance.lists.pipe_cutting import cut_pipes, cuts_of
from gutterance.lists.rounding import Rounder
from gutterance.render.downpipelist import downpipe_list
from gutterance.render.hardwarelist import hardware_list
from gutterance.shop import load_shop
from gutterance.stock.codes import STOCK_CODES

if TYPE_CHECKING:
    from pathlib import Path

    from gutterance.sheet.models import Sheet
    from gutterance.shop import Shop


@pytest.fixture
def shop_of(tmp_path: Path):  # type: ignore[no-untyped-def]
    def made(text: str) -> Shop:
        path = tmp_path / "shop.toml"
        path.write_text(text, encoding="utf-8")
        return load_shop(path)

    return made


def test_four_pipes_take_four_lengths_and_it_is_proven() -> None:
    # each a wall pipe of 94 in (112 - 12 - 6) and a gooseneck of 20 in (24 - 4): 114 1/8 in of 120
    lists = make_lists(four_sides(), [], load_shop())
    (need,) = lists.pipe_need
    assert (need.lengths, need.at_least, need.proven_fewest, need.from_leftovers) == (4, 4, True, 0)
    assert [(one.stock.inches, one.count) for one in need.bought] == [(120, 4)]
    assert need.longest_left is not None
    # a wall pipe leaves room for one gooseneck, and there are as many: 120 - 94 - 20 - 2/8 on each
    assert need.longest_left.inches == Fraction(23, 4)
    text = downpipe_list(lists)
    assert "2x3 white: 4 of 10' 0\", the fewest that will do, proven." in text


def test_leftovers_of_the_same_size_and_colour_come_first(shop_of) -> None:  # type: ignore[no-untyped-def]
    shop = shop_of(
        '[[leftovers]]\nsize = "2 x 3"\ncolour = "White"\nlength = "95 in"\ncount = 2\n'
        '[[leftovers]]\nsize = "2x3"\ncolour = "brown"\nlength = "95 in"\n'
        '[[leftovers]]\nsize = "3x4"\ncolour = "white"\nlength = "95 in"\n'
    )
    lists = make_lists(four_sides(), [], shop)
    (need,) = lists.pipe_need
    # two wall pipes from the leftovers; two on new lengths with two goosenecks; two goosenecks more: a third
    assert (need.lengths, need.from_leftovers, need.proven_fewest) == (3, 2, True)
    assert [one.at_hand for one in lists.pipe_cuts].count(True) == 2
    assert "with 2 leftovers" in downpipe_list(lists)
    assert "leftover of 7' 11\"" in downpipe_list(lists)
    assert "downpipe leftover 2x3 white" in hardware_list(lists)


def test_sizes_and_colours_are_cut_apart() -> None:
    house = sheet(
        [run("front", "400 in"), run("porch", "200 in", colour=reading("brown"))],
        [outlet("a", "front"), outlet("b", "front", "right"), outlet("c", "porch")],
        [pipe("a"), pipe("b", size=reading("3x4")), pipe("c")],
    )
    lists = make_lists(house, [], load_shop())
    assert {(one.size, one.colour) for one in lists.pipe_need} == {
        ("2x3", "white"),
        ("3x4", "white"),
        ("2x3", "brown"),
    }
    assert sum(len(one.cuts) for one in lists.pipe_cuts) == 6


def test_several_lengths_to_buy_are_told_apart(shop_of) -> None:  # type: ignore[no-untyped-def]
    lists = make_lists(four_sides(), [], shop_of('[downpipes]\nalso_bought = ["20 ft"]\n'))
    (need,) = lists.pipe_need
    # 4 x 114 in and saw cuts fit two of 20 ft
    assert [(one.stock.inches, one.count) for one in need.bought] == [(240, 2)]
    assert [one.unit for one in lists.hardware if one.item == "downpipe 2x3 white"] == ["length of 20' 0\""]


def test_a_cut_longer_than_any_stock_is_held_with_a_mend(shop_of) -> None:  # type: ignore[no-untyped-def]
    house = sheet([run("front", "400 in")], [outlet("a", "front")], [pipe("a", "60 in")])
    lists = make_lists(house, [], shop_of('[downpipes]\nstock = "4 ft"\n'))
    (found,) = [one for one in lists.findings if one.code in STOCK_CODES]
    assert "also_bought" in found.says
    assert "a gooseneck is 4' 8\"" in found.says.lower()
    assert found.holds == ["downpipes.a"]
    assert lists.downpipes[0].hold
    assert lists.on_hold
    assert not lists.pipe_cuts
    assert all(one.on_hold == one.count for one in lists.hardware if one.item.startswith("elbow"))
    # and a leftover that is long enough frees it
    text = '[downpipes]\nstock = "4 ft"\n[[leftovers]]\nsize = "2x3"\ncolour = "white"\nlength = "60 in"\n'
    assert not make_lists(house, [], shop_of(text)).on_hold


def test_leftovers_worth_keeping_are_marked() -> None:
    house = sheet([run("front", "400 in")], [outlet("a", "front")], [pipe("a", "10 in", "60 in")])
    (one,) = make_lists(house, [], load_shop()).pipe_cuts
    assert one.left_over.inches > 24
    assert one.keep


@settings(max_examples=80, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(any_sheet())
def test_every_cut_of_every_pipe_is_in_the_plan_once(house: Sheet) -> None:
    """Also where two of them bear one name: both cuts of an offset, two pipes of one id."""
    lists = make_lists(house, [], load_shop())
    wanted = [(cut.inches, of) for one in lists.downpipes if not one.hold for cut, of in cuts_of(one)]
    planned = [(cut.inches, of) for one in lists.pipe_cuts for cut, of in zip(one.cuts, one.of, strict=True)]
    assert sorted(planned) == sorted(wanted)


def test_both_cuts_of_an_offset_are_cut() -> None:
    house = sheet([run("front", "400 in")], [outlet("a", "front")], [pipe("a")])
    (one,) = make_lists(house, [], load_shop()).downpipes
    bend = Bend(
        what="ledge", way="out and back", throw=one.wall_pipe, cuts=[one.gooseneck] * 2, drop=one.wall_pipe
    )
    one = one.model_copy(update={"bends": [bend]})
    cuts, _, findings = cut_pipes([one], load_shop(), Rounder(load_shop()), "imperial")
    assert sum(len(length.cuts) for length in cuts) == 4
    assert not findings
