"""Hazards: what the measurer said that somebody must know before going up."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.checking.codes import finding
from gutterance.checking.wording import of_run, start

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gutterance.checking.findings import Finding
    from gutterance.checking.house import House


def find_hazards(house: House) -> Iterator[Finding]:
    """Each remark of kind hazard, with the run the note ties it to, if any. It holds nothing."""
    for remark in house.sheet.remarks:
        if remark.kind != "hazard":
            continue
        run = house.run(remark.about) if remark.about else None
        where = f"{start(of_run(run))}: " if run is not None else ""
        yield finding(
            "hazard",
            f"runs.{run.id}" if run is not None else "remarks",
            f"{where}{remark.text.strip() or remark.source.text.strip() or 'a hazard, without words'}",
            source=[remark.source],
        )
