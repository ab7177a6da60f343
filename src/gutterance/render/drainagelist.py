"""The drainage check on paper: what drains to each outlet, how full that makes it, and what would mend it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.lists.rain_words import area_text, flow_text, rate_text
from gutterance.render.plain import columns, harmless, heading, page, tape, wrapped

if TYPE_CHECKING:
    from gutterance.lists.drainage_models import Drainage, DrainedOutlet, DrainedStrip, PartCheck
    from gutterance.lists.models import Lists
    from gutterance.measure.length import System
    from gutterance.shop import Shop

CAUTION = (
    "This is arithmetic by a published method, not a design. Sizes are checked against the local code, with "
    "rainfall for the place, by a person licensed to do so where the law asks for one."
)


def drainage_check(lists: Lists, shop: Shop | None = None) -> str:
    """Outlet by outlet; or, where rainfall or a method is missing, that and nothing else."""
    del shop
    drainage = lists.drainage
    lines = heading("DRAINAGE CHECK", lists.title)
    if drainage.missing:
        lines += ["Not worked out. Missing:"]
        lines += [line for one in drainage.missing for line in wrapped(harmless(one), "  - ", "    ")]
        return page(lines)
    system: System = "metric" if lists.units == "metric" else "imperial"
    lines += _head(drainage, system)
    for outlet in drainage.outlets:
        lines += ["", *_outlet(outlet, system)]
    lines += _arithmetic(drainage, system)
    lines += ["", *wrapped(CAUTION)]
    return page(lines)


def _head(drainage: Drainage, system: System) -> list[str]:
    lines = wrapped(f"Method: {drainage.title}", "", "  ")
    rate = rate_text(drainage.rainfall_mm_h or 0.0, system)
    of = f", {drainage.rainfall_storm}" if drainage.rainfall_storm else ""
    by = f"{harmless(drainage.rainfall_by or '')} ({harmless(drainage.rainfall or '')})"
    lines += wrapped(f"Rainfall: {rate}{of}, {by}", "", "  ")
    if drainage.storm:
        lines += wrapped(f"Made for: {drainage.storm}", "", "  ")
    for why in dict.fromkeys(strip.why for one in drainage.outlets for strip in one.strips):
        lines += wrapped(f"Roofs count: {harmless(why)}", "", "  ")
    lines += wrapped(f"Gutters at the shop's fall, {drainage.fall}.", "", "  ")
    for one in drainage.says:
        lines += wrapped(f"~ {harmless(one)}", "", "  ")
    over = [one.id for one in drainage.outlets if one.enough is False]
    open_ones = [one.id for one in drainage.outlets if one.enough is None]
    if over:
        lines += wrapped(f"TOO MUCH RAIN: {harmless(', '.join(over))}", "", "  ")
    if open_ones:
        lines += wrapped(f"Not known: {harmless(', '.join(open_ones))}", "", "  ")
    if drainage.outlets and not over and not open_ones:
        doubt = any(one.rests_on for one in drainage.outlets)
        proviso = ", if what is marked ? holds" if doubt else ""
        lines.append(f"Every outlet can take its rain by this method{proviso}.")
    return lines


def _outlet(one: DrainedOutlet, system: System) -> list[str]:
    verdict = {True: "enough", False: "TOO MUCH RAIN", None: "not known"}[one.enough]
    place = f", {tape(one.at)} from its left" if one.at is not None else ""
    stretch = one.stretch.removeprefix("stretch-")
    title = f"OUTLET {harmless(one.id)}: {harmless(one.run_name)}{place}, stretch {stretch}   {verdict}"
    lines = wrapped(title, "", "  ")
    for says in one.missing:
        lines += wrapped(f"? missing: {harmless(says)}", "  ", "    ")
    for toward in ("left", "right"):
        lines += _roofs([strip for strip in one.strips if strip.toward == toward], toward, system)
    if one.area_m2 is not None and one.flow_l_s is not None:
        lines.append(f"  in all {area_text(one.area_m2, system)}: {flow_text(one.flow_l_s, system)}")
    if one.checks:
        rows = [["", "", "rain", "can take", "full", "by"]]
        rows += [_row(check, system) for check in one.checks]
        lines += columns(rows, "  ")
    for mend in one.mends:
        lines += wrapped(f"> {_part(mend.part)}: {harmless(mend.says)}", "  ", "    ")
    for says in one.rests_on:
        lines += wrapped(f"? rests on this: {harmless(says)}", "  ", "    ")
    for says in one.says:
        lines += wrapped(f"~ {harmless(says)}", "  ", "    ")
    return lines


def _roofs(strips: list[DrainedStrip], toward: str, system: System) -> list[str]:
    if not strips:
        return []
    parts = " + ".join(
        f"{harmless(one.run_name)} {tape(one.length)} x roof run {tape(one.roof_run)}" for one in strips
    )
    plan, counted = sum(one.plan_m2 for one in strips), sum(one.counted_m2 for one in strips)
    counts = f", counts {area_text(counted, system)}" if counted != plan else ""
    return wrapped(f"from the {toward}: {parts} = {area_text(plan, system)}{counts}", "  ", "    ")


def _part(part: str) -> str:
    return "outlet hole" if part == "outlet" else part


def _row(check: PartCheck, system: System) -> list[str]:
    side = f" {check.toward}" if check.toward else ""
    length = f" {tape(check.length)}" if check.length is not None else ""
    full = f"{check.full_percent} %" if check.full_percent is not None else "?"
    capacity = flow_text(check.capacity_l_s, system) if check.capacity_l_s is not None else "not known"
    return [
        f"{_part(check.part)}{side}",
        f"{harmless(check.of)}{length}",
        flow_text(check.flow_l_s, system),
        capacity,
        full,
        f"{check.method}, {check.clause}",
    ]


def _arithmetic(drainage: Drainage, system: System) -> list[str]:
    """How each capacity comes, told once for all parts that share it, and Manning's figure for gutters."""
    said: dict[str, list[str]] = {}
    for outlet in drainage.outlets:
        for check in outlet.checks:
            side = f" {check.toward}" if check.toward else ""
            words = f"{_part(check.part)}, {harmless(check.of)}: {harmless(check.why)}"
            if check.capacity_l_s is not None:
                words += f": {flow_text(check.capacity_l_s, system)}"
            words += "".join(f"; {harmless(note)}" for note in check.notes)
            said.setdefault(words, []).append(f"{harmless(outlet.id)}{side}")
    if not said:
        return []
    lines = ["", "HOW THE CAPACITIES COME"]
    for words, where in said.items():
        lines += wrapped(f"{words}  [{', '.join(where)}]", "  ", "    ")
    full = {
        harmless(check.of): flow_text(check.manning_l_s, system)
        for outlet in drainage.outlets
        for check in outlet.checks
        if check.manning_l_s is not None
    }
    if full:
        told = ", ".join(f"{of} {flow}" for of, flow in full.items())
        lines += wrapped(
            f"Cross-check, no capacity: Manning's formula at that fall, running full: {told}. It leaves out "
            "the water that joins along the way, and so it is no capacity of a nearly level gutter.",
            "  ",
            "    ",
        )
    return lines
