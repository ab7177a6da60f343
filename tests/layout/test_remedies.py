"""What mends a fall too great: each remedy is put into the sheet, laid out again, and does what it said."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from houses import outlet, reading, run, sheet
from hypothesis import given, settings
from hypothesis import strategies as st

from gutterance.layout import Layout, lay_out
from gutterance.layout.falls import Water
from gutterance.layout.legs import fall_over
from gutterance.layout.remedies import Remedies, room_for_fall
from gutterance.shop import load_shop

SHOP = load_shop()
MOST = SHOP.fall.most.inches


def deepest(layout: Layout) -> Fraction:
    return max(one.below or Fraction(0) for one in layout.falls if one.what.startswith("outlet"))


def test_one_outlet_on_100_ft_is_moved_or_given_a_second() -> None:
    # 1,194 in of leg at 1 in 480 is 2.4875 in, over the 2 in of the shop's most
    house = sheet([run("eave", "1200 in")], [outlet("eave-1", "eave")])
    layout = lay_out(house, [], SHOP)
    (found,) = layout.findings
    assert found.code == "fall-too-great"
    assert found.holds == ["runs.eave"]
    assert all(piece.hold for piece in layout.pieces)
    moved, more = found.suggests
    assert "two-way fall" in moved.value
    assert "one more outlet" in more.value
    assert "from the right end of eave" in more.value


def sites_of(house: Any) -> list[tuple[int, Fraction]]:
    """Where the remedies would put outlets, for the first leg that is too deep."""
    layout = lay_out(house, [], SHOP)
    (channel,) = layout.channels
    water = Water(channel, house, layout.runs, SHOP)
    marks = {one.run: one.at for one in layout.hangers}
    remedies = Remedies(water, house, SHOP, marks, {})
    sink = next(one for one in water.sinks if one.depth is not None and one.depth > MOST)
    leg = next(leg for leg, reach in water.reaches(sink.outlet) if fall_over(reach, SHOP) > MOST)
    sites, _ = remedies._sites(leg, MOST, sink.outlet.half_width)
    for site in sites:
        assert all(abs(mark - site.at) >= sink.outlet.half_width + 1 for mark in marks[site.run])
        length = layout.runs[site.run].length
        assert length is not None
        assert SHOP.outlets.from_end.inches <= site.at <= length - SHOP.outlets.from_end.inches
    return [(site.run, site.at) for site in sites]


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.integers(120, 1500), min_size=1, max_size=4),
    st.lists(st.tuples(st.integers(0, 3), st.integers(0, 1400)), min_size=1, max_size=3),
    st.booleans(),
)
def test_the_outlets_it_asks_for_mend_the_leg(
    lengths: list[int], places: list[tuple[int, int]], loop: bool
) -> None:
    sides = [lengths[0], lengths[-1]] * 2 if loop else lengths
    runs = []
    for number, length in enumerate(sides):
        last = number == len(sides) - 1
        left = "out" if loop or number else "cap"
        right = "out" if loop or not last else "cap"
        following = f"r{(number + 1) % len(sides)}" if loop or not last else None
        runs.append(
            run(
                f"r{number}",
                f"{length} in",
                f"{left} {right}",
                **({"next_run": following} if following else {}),
            )
        )
    where = sorted({(i % len(sides), at % (sides[i % len(sides)] - 40) + 20) for i, at in places})
    outlets = [outlet(f"o{i}-{at}", f"r{i}", "left", f"{at} in") for i, at in where]
    house = sheet(runs, outlets)
    for _ in range(8):
        layout = lay_out(house, [], SHOP)
        if len(layout.channels) != 1 or not any(one.code == "fall-too-great" for one in layout.findings):
            break
        before = sum(one.code == "fall-too-great" for one in layout.findings)
        sites = sites_of(house)
        assert sites
        outlets += [
            outlet(f"more{len(outlets)}-{n}", f"r{i}", "left", f"{at} in") for n, (i, at) in enumerate(sites)
        ]
        house = sheet(runs, outlets)
        assert sum(one.code == "fall-too-great" for one in lay_out(house, [], SHOP).findings) < before
    else:
        pytest.fail("eight remedies did not mend the stretch")


def test_a_high_point_said_off_the_middle_is_mended_by_letting_it_fall_both_ways() -> None:
    runs = [
        run("a", "1300 in", "cap out", next_run="b", high_point=reading("right")),
        run("b", "300 in", "out cap"),
    ]
    house = sheet(runs, [outlet("a-1", "a"), outlet("b-1", "b", "right")])
    (found,) = lay_out(house, [], SHOP).findings
    # the long way is 1,294 in, or 2.7 in of fall; from the middle it is 794 in, or 1.65 in
    assert found.suggests[0].value == "let it fall both ways from the middle of that leg"
    assert '1 11/16"' in found.suggests[0].why
    runs[0].pop("high_point")
    assert deepest(lay_out(sheet(runs, [outlet("a-1", "a"), outlet("b-1", "b", "right")]), [], SHOP)) == (
        fall_over(Fraction(794), SHOP)
    )


@pytest.mark.parametrize(
    ("fascia", "room"),
    [
        # 7 1/4 in of board less 3 1/2 in of gutter is 3 3/4, but never more than the gutter's own 3 1/2
        ("1x8", Fraction(7, 2)),
        ("1x6", Fraction(2)),
        ("1 x 4", Fraction(0)),
        ("6 in", Fraction(5, 2)),
        (None, MOST),
        ("painted", MOST),
    ],
)
def test_the_fascia_says_how_far_the_gutter_may_drop(fascia: str | None, room: Fraction) -> None:
    house = sheet([run("eave", "600 in", **({"fascia": reading(fascia)} if fascia else {}))])
    layout = lay_out(house, [], SHOP)
    assert room_for_fall(house.runs[0], layout.runs[0], SHOP)[0] == room


def test_a_stretch_without_an_outlet_is_told_where_one_would_drain_it() -> None:
    layout = lay_out(sheet([run("eave", "600 in")]), [], SHOP)
    (found,) = layout.findings
    assert (found.code, found.holds) == ("stretch-without-outlet", ["runs.eave"])
    assert "would drain it" in found.suggests[0].value
