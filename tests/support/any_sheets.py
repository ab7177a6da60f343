"""Field sheets of every odd kind, for properties that must hold on all of them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from houses import outlet, pipe, reading, run, sheet
from hypothesis import strategies as st

if TYPE_CHECKING:
    from gutterance.sheet.models import Sheet

ENDS = st.sampled_from(["out", "in", "cap", "wall", "lap", "-"])
LENGTHS = st.one_of(
    st.none(),
    st.integers(-10, 3000).map(lambda number: f"{number} in"),
    st.integers(1, 48000).map(lambda number: f"{number // 16} {number % 16}/16 in"),
    st.integers(0, 40000).map(lambda number: f"{number} mm"),
)
WAYS = st.sampled_from(["out", "out and back", "sideways", "over the moon"])
STATUSES = st.sampled_from(["read", "read", "read", "assumed", "doubtful", "missing"])


@st.composite
def any_sheet(draw: st.DrawFn) -> Sheet:
    names = draw(
        st.lists(st.sampled_from(["front", "back", "left side", "right side", "porch", "a b"]), max_size=6)
    )
    runs = []
    for name in names:
        one = run(name, draw(LENGTHS), f"{draw(ENDS)} {draw(ENDS)}")
        for field in ("length", "left_end", "right_end"):
            if field in one:
                one[field]["status"] = draw(STATUSES)
        if draw(st.booleans()):
            one["left_angle"] = reading(draw(st.sampled_from([45, 90, 22.5, 135, 179.9, 0, -3])))
        if draw(st.booleans()):
            one["next_run"] = draw(st.sampled_from([*names, "nowhere"]))
        if draw(st.booleans()):
            one["high_point"] = reading(draw(st.sampled_from(["left", "centre", "right end", "the ridge"])))
        if draw(st.booleans()):
            one["fascia"] = reading(draw(st.sampled_from(["1x6", "1x4", "8 in", "rotten", "0 in"])))
        runs.append(one)
    ids = [one["id"] for one in runs] or ["attic"]
    outlets = [
        outlet(f"o{draw(st.integers(0, 5))}", draw(st.sampled_from([*ids, "attic"])),
               draw(st.sampled_from(["left", "right", "centre", None])),
               draw(st.one_of(st.none(), LENGTHS)))
        for _ in range(draw(st.integers(0, 6)))
    ]  # fmt: skip
    pipes = [
        pipe(f"o{draw(st.integers(0, 7))}", draw(LENGTHS), draw(LENGTHS),
             draw(st.sampled_from(["drain", "ground", "lower roof", "lower gutter", None])),
             offsets=[reading(one) for one in draw(st.lists(LENGTHS, max_size=2))],
             offset_heights=[reading(one) for one in draw(st.lists(LENGTHS, max_size=2))],
             offset_ways=[reading(one) for one in draw(st.lists(WAYS, max_size=2))],
             also_takes=[f"o{draw(st.integers(0, 7))}"] if draw(st.booleans()) else [])
        for _ in range(draw(st.integers(0, 4)))
    ]  # fmt: skip
    units = draw(st.sampled_from(["imperial", "metric", "mixed"]))
    material = draw(st.sampled_from(["aluminium", "zinc", "lead"]))
    return sheet(runs, outlets, pipes, defaults={"units": units, "material": reading(material)})
