"""Hanger spacing where the note speaks of snow or ice."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from gutterance.checking.codes import finding
from gutterance.checking.wording import inches_shown

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gutterance.checking.findings import Finding
    from gutterance.checking.house import House
    from gutterance.checking.plausibility import Plausible

_SNOW = re.compile(r"\b(?:snow|ice|icy|icicles?|icing)\b(?! guards?| cleats?)", re.IGNORECASE)


def find_hangers_against_snow(house: House, limits: Plausible) -> Iterator[Finding]:
    """Told once: snow is spoken of, and hangers are set wide, or nobody said how wide."""
    remarks = [one for one in house.sheet.remarks if one.kind != "materials" and _SNOW.search(one.text)]
    if not remarks or not house.sheet.runs:
        return
    widest = limits.limit("hangers_in_snow")
    spacings = [(run.hanger_spacing or house.sheet.defaults.hanger_spacing, run) for run in house.sheet.runs]
    wide = [
        reading.value
        for reading, _ in spacings
        if reading is not None
        and reading.by is None
        and reading.value is not None
        and reading.value.inches > widest.inches
    ]
    unsaid = any(reading is None for reading, _ in spacings)
    if not wide and not unsaid:
        return
    told = (
        f"hangers are {inches_shown(max(wide, key=lambda one: one.inches))} apart"
        if wide
        else "no hanger spacing is said, so the shop's usual is taken"
    )
    defaults = house.sheet.defaults.hanger_spacing
    yield finding(
        "hangers-against-snow",
        "defaults.hanger_spacing",
        f"The note speaks of snow or ice, and {told}: {widest.why}.",
        "How far apart are the hangers to be, in inches?",
        source=[*(one.source for one in remarks), *([] if defaults is None else defaults.source)],
    )
