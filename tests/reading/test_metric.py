"""Metric crews: millimetres without their unit, metres with a point or a comma, and mixed jobs."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from gutterance.measure.length import Length

if TYPE_CHECKING:
    from collections.abc import Callable


def test_plain_millimetres(read: Callable[..., Any]) -> None:
    seen = read(
        "Front 12400 stop ends both. Outlet 450 from right. Soffit 300. Height 2700 to the gully",
        "Back 9850 stop ends",
    )
    assert seen.sheet.defaults.units == "metric"
    seen.mm("runs.front.length", 12400, "12400")
    seen.mm("runs.back.length", 9850, "9850")
    seen.mm("outlets.front-1.distance", 450, "450")
    seen.mm("downpipes.front-1.wall_to_fascia", 300, "300")
    seen.mm("downpipes.front-1.height", 2700, "2700")
    seen.says("downpipes.front-1.ends_at", "drain", "gully")


@pytest.mark.parametrize(
    ("words", "mm"),
    [
        ("11.2 m", 11200),
        ("11,2 m", 11200),
        ("11 m 20", 11020),
        ("eleven metres two hundred", 11200),
        ("eleven metres twenty", 11200),
        ("eleven point two metres", 11200),
        ("11200mm", 11200),
        ("11 200 mm", 11200),
    ],
)
def test_ways_of_saying_a_length(read: Callable[..., Any], words: str, mm: int) -> None:
    seen = read(
        f"Front {words}, external corner left, stop end right, all metric",
        "Back 9.85 m, stop ends, 2.6 m down",
    )
    reading = seen.at("runs.front.length")
    if reading.status in ("read", "corrected") and words not in ("11 m 20", "eleven metres twenty"):
        seen.mm("runs.front.length", mm, words)
    elif reading.status == "read":
        # 11 m 20: twenty centimetres to most (11.20), twenty millimetres to some
        assert reading.value.inches * 254 in (112000, 110200)
    seen.ends("front", "outside corner", "end cap")


def test_one_breath_in_metric(read: Callable[..., Any]) -> None:
    seen = read(
        "rear is nine metres eight fifty stop ends both ends outlet at the left two point six metres down "
        "to the gully soffit three hundred mil then the left side four point two metres external angles"
    )
    seen.runs("back", "left-side")
    seen.mm("runs.back.length", 9850)
    assert seen.at("runs.left-side.length").value == Length.from_mm(4200)
    seen.mm("downpipes.back-1.height", 2600, "two point six metres")
    seen.mm("downpipes.back-1.wall_to_fascia", 300, "three hundred mil")


def test_a_mixed_job_keeps_each_unit(read: Callable[..., Any]) -> None:
    seen = read("Front 12' 4\" OSC both, drop left, w/f 300 mm, height 2.7 m, splash")
    assert seen.sheet.defaults.units == "mixed"
    seen.feet("runs.front.length", 12, 4)
    seen.mm("downpipes.front-1.wall_to_fascia", 300, "300 mm")
    seen.mm("downpipes.front-1.height", 2700, "2.7 m")


def test_metric_numbers_without_a_unit_anywhere_are_never_certain_feet(read: Callable[..., Any]) -> None:
    seen = read("Front 12.4, stop ends, outlet left, soffit 300, 2.7 down to gully")
    for path in ("runs.front.length", "downpipes.front-1.wall_to_fascia", "downpipes.front-1.height"):
        seen.asked_or_right(path, None)


def test_metric_sizes_are_names(read: Callable[..., Any]) -> None:
    seen = read("125 mm half round in zinc, 80 mm round downpipe", "Front 12400 mm stop ends both ends")
    assert seen.at("defaults.gutter_size").value.inches * 254 == 1250
    seen.says("defaults.gutter_profile", "half round")
    seen.says("defaults.material", "zinc")
    seen.says("defaults.downpipe_size", "80 mm round")
    seen.mm("runs.front.length", 12400)


def test_bare_metres_beside_millimetres(read: Callable[..., Any]) -> None:
    seen = read(
        "front 8.65 stop end left external right outlet left. right side 12.2 external both. back 8.65 "
        "stop end both, pop on the right. left side 12.2 external both. eaves 450 everywhere. heights 2.4 on "
        "the front and 2.9 on the back."
    )
    assert seen.sheet.defaults.units == "metric"
    seen.mm("runs.front.length", 8650)
    seen.mm("runs.right-side.length", 12200)
    seen.mm("downpipes.front-1.height", 2400)
