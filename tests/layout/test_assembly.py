"""Short returns go together on the ground: which ones, and with whom (common practice, no source)."""

from __future__ import annotations

from houses import outlet, run, sheet

from gutterance.layout import Layout, lay_out
from gutterance.shop import load_shop

SHOP = load_shop()


def joined(layout: Layout) -> list[list[str]]:
    return [[piece.id for piece in one.pieces] for one in layout.assemblies]


def jog(front: str, back: str, depth: str = "24 in") -> Layout:
    runs = [
        run("front", front, "cap in", next_run="jog"),
        run("jog", depth, "in out", next_run="garage"),
        run("garage", back, "out cap"),
    ]
    return lay_out(sheet(runs, [outlet("front-1", "front")]), [], SHOP)


def test_a_jog_goes_with_the_shorter_of_its_neighbours() -> None:
    layout = jog("300 in", "200 in")
    assert joined(layout) == [["jog-1", "garage-1"]]
    assert "short return" in layout.assemblies[0].says
    # 18' 8" in all: one pair of hands for each 20 ft
    assert layout.assemblies[0].carriers == 1
    assert joined(jog("200 in", "300 in")) == [["front-1", "jog-1"]]


def test_a_return_of_over_the_shops_most_hangs_by_itself() -> None:
    assert joined(jog("300 in", "200 in", "80 in")) == []


def test_a_return_whose_neighbours_are_too_long_to_carry_with_it_is_hung_in_its_place() -> None:
    assert joined(jog("690 in", "695 in", "60 in")) == []


def test_the_sides_of_a_bay_go_together() -> None:
    ends = ["cap in", "in out", "out out", "out in", "in cap"]
    names = ["left", "side a", "face", "side b", "right"]
    lengths = ["200 in", "40 in", "60 in", "40 in", "300 in"]
    runs = [
        run(name, length, end, **({"next_run": names[n + 1].replace(" ", "-")} if n < 4 else {}))
        for n, (name, length, end) in enumerate(zip(names, lengths, ends, strict=True))
    ]
    layout = lay_out(sheet(runs, [outlet("left-1", "left"), outlet("right-1", "right", "right")]), [], SHOP)
    assert joined(layout) == [["left-1", "side-a-1", "face-1", "side-b-1"]]


def test_round_a_loop_a_row_of_returns_is_not_cut_in_two() -> None:
    runs = [
        run("a", "40 in", "in out", next_run="b"),
        run("b", "300 in", "out out", next_run="c"),
        run("c", "300 in", "out out", next_run="d"),
        run("d", "260 in", "out out", next_run="e"),
        run("e", "260 in", "out in", next_run="f"),
        run("f", "40 in", "in in", next_run="a"),
    ]
    assert joined(lay_out(sheet(runs, [outlet("b-1", "b")]), [], SHOP)) == [["e-1", "f-1", "a-1"]]
