"""Closure against polygons drawn by shapely: houses that close, slips, lengths left out, crossings."""

from __future__ import annotations

import importlib.util
from fractions import Fraction
from pathlib import Path
from random import Random
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from polygon_houses import MARK, Wall, drawn, told, turned, walls_of
from shapely.geometry import LinearRing

from gutterance.checking import check_sheet, closures, inferred_lengths, with_inferred_lengths

if TYPE_CHECKING:
    from collections.abc import Callable

    from gutterance.sheet.models import Sheet

    Build = Callable[..., Sheet]

SEEDS = st.integers(0, 2**32)
CLOSURE = {
    "walls-do-not-close",
    "walls-nearly-close",
    "walls-cross",
    "turns-off",
    "run-missing",
    "corner-mismatch",
    "corner-angle-mismatch",
}


def closing(sheet: Sheet) -> list[str]:
    return [found.code for found in check_sheet(sheet) if found.code in CLOSURE]


@given(seed=SEEDS, bays=st.booleans(), clockwise=st.booleans(), next_said=st.booleans())
def test_a_house_drawn_as_a_polygon_closes(
    sheet_of: Build, seed: int, bays: bool, clockwise: bool, next_said: bool
) -> None:
    random = Random(seed)
    walls = turned(walls := walls_of(drawn(random, bays=bays)), random.randrange(len(walls)))
    sheet = sheet_of(told(walls, clockwise=clockwise, next_said=next_said))
    assert closing(sheet) == []
    (line,) = closures(sheet)
    assert "closes" in line


@given(seed=SEEDS, bays=st.booleans())
def test_a_length_left_out_is_worked_out_to_the_mark(sheet_of: Build, seed: int, bays: bool) -> None:
    random = Random(seed)
    walls = walls_of(drawn(random, bays=bays))
    square = all(abs(wall.right) == 90 for wall in walls)
    one, other = random.randrange(len(walls)), random.randrange(len(walls))
    first, last = sorted((one, other))
    if sum(wall.right for wall in walls[first:last]) % 180 == 0:
        other = one  # two that run the same way cannot be told apart
    runs = told(walls)
    for at in {one, other}:
        runs[walls[at].name] = (None, *runs[walls[at].name][1:])
    sheet = with_inferred_lengths(sheet_of(runs))
    for at in {one, other}:
        length = sheet.run(walls[at].name).length  # type: ignore[union-attr]
        assert length is not None
        assert length.status == "inferred"
        assert length.value is not None
        # Bays are measured to a sixteenth like the rest, so what follows from them is out by as much.
        assert abs(length.value.inches - walls[at].length) <= (0 if square else MARK)
    asked = [found.about for found in check_sheet(sheet) if found.code == "length-worked-out"]
    assert sorted(asked) == sorted({f"runs.{walls[at].name}.length" for at in (one, other)})
    assert with_inferred_lengths(sheet) == sheet


def test_two_that_run_the_same_way_are_not_worked_out(box: Build) -> None:
    assert inferred_lengths(box(front=None, back=None)) == {}


def test_a_length_worked_out_goes_when_it_follows_no_more(box: Build) -> None:
    sheet = with_inferred_lengths(box(back=None))
    assert sheet.runs[2].length is not None
    sheet.runs[0].length.status = "doubtful"  # type: ignore[union-attr]
    again = with_inferred_lengths(sheet)
    assert again.runs[2].length is None or again.runs[2].length.value is None


def test_no_length_is_worked_out_that_would_be_nothing(sheet_of: Build) -> None:
    # The walls one way reach further than the wall opposite already: whatever the step is, they are out.
    runs = {
        "one": (480, "O", "O"),
        "two": (240, "O", "O"),
        "three": (500, "O", "I"),
        "four": (100, "I", "O"),
        "five": (None, "O", "O"),
        "six": (340, "O", "O"),
    }
    sheet = sheet_of(runs)
    assert inferred_lengths(sheet) == {}
    says = [found.says for found in check_sheet(sheet) if found.code == "walls-do-not-close"]
    assert "leave no room for it" in says[0]


@given(seed=SEEDS)
def test_walls_that_cross_are_told_as_shapely_tells_them(sheet_of: Build, seed: int) -> None:
    """Two houses of one outline but for a notch that may be deeper than the house."""
    random = Random(seed)
    width, depth = random.randint(30, 60) * 12, random.randint(15, 30) * 12
    left, gap = random.randint(5, 10) * 12, random.randint(4, 10) * 12
    notch = random.choice([depth // 2, depth + random.randint(3, 100)])
    lengths = [width, depth, width - left - gap, notch, gap, notch, left, depth]
    corners = "OOOIIOOO"
    walls = {name: (lengths[at], corners[at - 1], corners[at]) for at, name in enumerate("abcdefgh")}
    x = y = 0
    points = []
    heading = (1, 0)
    for length, corner in zip(lengths, corners, strict=True):
        points.append((x, y))
        x, y = x + heading[0] * length, y + heading[1] * length
        dx, dy = heading
        heading = (-dy, dx) if corner == "O" else (dy, -dx)
    assert (x, y) == (0, 0)
    assert ("walls-cross" in closing(sheet_of(walls))) is not LinearRing(points).is_simple


def test_the_benchmark_finds_the_true_repair_in_most_houses() -> None:
    path = Path(__file__).parents[2] / "benchmarks" / "closure_repairs.py"
    spec = importlib.util.spec_from_file_location("closure_repairs", path)
    assert spec is not None
    assert spec.loader is not None
    benchmark: Any = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(benchmark)
    made, right, _ = benchmark.score(len(benchmark.SLIPS) * 25, seed=7)
    assert right.total() / made.total() >= 0.95
    counts = benchmark.unslipped(200, seed=8)
    assert counts["found open"] == 0
    assert counts["whole 1 exact"] == counts["whole 1 missing"] > 0
    assert counts["whole 2 exact"] == counts["whole 2 missing"] > 0
    assert counts["rounded 1 more"] == counts["rounded 2 more"] == 0


def test_a_long_walk_that_no_one_slip_closes_says_how_far_was_looked(sheet_of: Build) -> None:
    """A stair of 32 walls, two of them wrong by odd amounts: two changes at once are not looked for."""
    rises = [(30 + at, 40 + at % 7) for at in range(15)]
    runs: dict[str, tuple[Any, ...]] = {"bottom": (sum(going for going, _ in rises), "O", "O")}
    runs["side"] = (sum(rise for _, rise in rises), "O", "O")
    for at, (going, rise) in enumerate(rises):
        runs[f"going-{at}"] = (going + (Fraction(37, 4) if at == 3 else 0), "O" if at == 0 else "I", "O")
        runs[f"rise-{at}"] = (rise, "O", "I" if at < len(rises) - 1 else "O")
    (found,) = [one for one in check_sheet(sheet_of(runs)) if one.code == "walls-do-not-close"]
    assert found.suggests == []
    assert "looked for in walks of up to 24 runs, and this has 32" in found.says


def test_a_slip_that_only_two_changes_settle(box: Build) -> None:
    """Front told a foot long and back fifty for fifteen: no one change settles it, two do."""
    sheet = box(front=Fraction(16 * 12), back=Fraction(50 * 12))
    (found,) = [one for one in check_sheet(sheet) if one.code == "walls-do-not-close"]
    pairs = [sorted(change.value for change in offer.changes) for offer in found.suggests]
    assert sorted(["180 in", "180 in"]) in pairs or ["180 in"] in pairs


def test_a_wall_measured_at_the_wrong_face_is_offered_with_its_overhang(box: Build) -> None:
    sheet = box(back=510 - 2 * 24)  # the one pipe's wall to fascia is 24 inches
    (found,) = [one for one in check_sheet(sheet) if one.code == "walls-do-not-close"]
    offers = {offer.value: offer.why for offer in found.suggests}
    assert 'twice the 24" overhang' in offers["back 42' 6\""]


def test_the_misclosure_ratio_is_shown(box: Build) -> None:
    (found,) = [one for one in check_sheet(box(back=474)) if one.code == "walls-do-not-close"]
    # 36 in of 510 + 339 + 474 + 339 in: 1 in 46
    assert "1 in 46 of the way round" in found.says
    assert closures(box())[0].startswith("The walk round the front, the right side")


def test_sums_are_told_where_walls_jog(sheet_of: Build) -> None:
    walls: list[Wall] = [
        Wall("front", Fraction(480), 90, 90),
        Wall("right-side", Fraction(240), 90, 90),
        Wall("back", Fraction(240), 90, -90),
        Wall("jog", Fraction(60), -90, 90),
        Wall("back-2", Fraction(204), 90, 90),
        Wall("left-side", Fraction(300), 90, 90),
    ]
    found = [one for one in check_sheet(sheet_of(told(walls))) if one.code == "walls-do-not-close"]
    assert "The front and the back differ by 3' 0\" after the jogs" in found[0].says
    assert "front 40' 0\", against back 20' 0\" + back 2 17' 0\"" in found[0].says


@pytest.mark.parametrize("angle", [0.0, 180.0, 200.0, -45.0])
def test_a_corner_that_is_no_corner_is_asked_about(sheet_of: Build, angle: float) -> None:
    runs = {"front": (510, "O", "O", {"right_angle": {"value": angle}}), "right-side": (339, "O", "C")}
    codes = {found.code for found in check_sheet(sheet_of(runs))}
    assert "value-implausible" in codes
