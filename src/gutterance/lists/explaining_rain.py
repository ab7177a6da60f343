"""Why a figure of the drainage check is what it is."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.lists.rain_words import area_text, flow_text, rate_text

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gutterance.lists.drainage_models import DrainedOutlet, PartCheck
    from gutterance.lists.models import Lists
    from gutterance.measure.length import System


def drained(lists: Lists) -> Iterator[tuple[str, str, list[str], list[str], list[str]]]:
    """Path, figure as shown, steps, what is in doubt, and readings, of each figure of the check."""
    drainage = lists.drainage
    system: System = "metric" if lists.units == "metric" else "imperial"
    if drainage.rainfall_mm_h is None:
        return
    sheet = ["defaults.rainfall"] if drainage.rainfall_by == "from the sheet" else []
    said = [f"{drainage.rainfall}, {drainage.rainfall_by}", *drainage.says]
    yield "drainage.rainfall", rate_text(drainage.rainfall_mm_h, system), said, [], sheet
    for one in drainage.outlets:
        at, doubts = f"drainage.{one.id}", [*one.missing, *one.rests_on]
        if one.area_m2 is None or one.flow_l_s is None:
            yield f"{at}.flow", "not known", [], doubts, []
            continue
        steps, readings = _roof(one, system)
        yield f"{at}.area", area_text(one.area_m2, system), steps, doubts, readings
        rate = rate_text(drainage.rainfall_mm_h, system)
        flow = flow_text(one.flow_l_s, system)
        yield f"{at}.flow", flow, [f"{area_text(one.area_m2, system)} at {rate}"], doubts, sheet
        for check in one.checks:
            side = f".{check.toward}" if check.toward else ""
            yield f"{at}.{check.part}{side}", _full(check), _steps(check, system), doubts, []


def _roof(one: DrainedOutlet, system: System) -> tuple[list[str], list[str]]:
    steps = [
        f"{strip.run_name}, to the {strip.toward}: {strip.length.tape_text()} x roof run "
        f"{strip.roof_run.tape_text()} = {area_text(strip.plan_m2, system)}, counts "
        f"{area_text(strip.counted_m2, system)}: {strip.why}"
        for strip in one.strips
    ]
    runs = dict.fromkeys(strip.run for strip in one.strips)
    return steps, [f"runs.{run}.{field}" for run in runs for field in ("length", "roof_run", "roof_pitch")]


def _full(check: PartCheck) -> str:
    return "not known" if check.full_percent is None else f"{check.full_percent} % full"


def _steps(check: PartCheck, system: System) -> list[str]:
    can = "not known" if check.capacity_l_s is None else flow_text(check.capacity_l_s, system)
    return [
        f"{check.of}: {flow_text(check.flow_l_s, system)} of {can}",
        f"{check.method}, {check.clause}: {check.why}",
        *check.notes,
    ]
