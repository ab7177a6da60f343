"""The checker: everything on a sheet that somebody must answer, confirm or know."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.checking.amended import find_misfits
from gutterance.checking.assumptions import find_assumptions
from gutterance.checking.broken_notes import find_broken_notes
from gutterance.checking.closure import Closure, closure_of
from gutterance.checking.conflicts import find_conflicts
from gutterance.checking.consistency import find_inconsistencies
from gutterance.checking.doubts import find_doubts
from gutterance.checking.gaps import find_gaps
from gutterance.checking.hazards import find_hazards
from gutterance.checking.house import House
from gutterance.checking.joints import find_joints
from gutterance.checking.plausibility import find_implausible

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gutterance.checking.findings import Finding, FindingKind
    from gutterance.sheet.amendments import Misfit
    from gutterance.sheet.models import Sheet

KIND_ORDER: tuple[FindingKind, ...] = ("conflict", "gap", "doubt", "hazard", "assumption")


def check_sheet(
    sheet: Sheet, misfits: Sequence[Misfit] = (), closure: Closure | None = None
) -> list[Finding]:
    """All findings on a sheet, what stops most first; `misfits` are amendments that no longer fit it.

    `closure` is the sheet's own where it was worked out before: it costs more than all the rest.

    Sorted by how many runs and downpipes each holds, then conflicts, gaps, doubts, hazards and assumptions,
    then as found. The sheet is not changed, and no suggestion is applied. The same sheet gives the same
    findings.
    """
    house = House(sheet)
    joints = find_joints(house)
    closure = closure_of(house, joints) if closure is None else closure
    findings = [
        *find_misfits(house, misfits),
        *find_conflicts(house, joints),
        *closure.findings,
        *find_gaps(house, joints),
        *find_doubts(house, joints),
        *find_broken_notes(house),
        *find_implausible(house),
        *find_inconsistencies(house),
        *find_hazards(house),
        *find_assumptions(house),
    ]
    for found in findings:
        known = {offer.value for offer in found.suggests}
        offers = list(closure.suggests.get(found.about, []))
        if found.code == "run-missing" and tuple(found.holds) in closure.sides_missing:
            offers.append(closure.sides_missing[tuple(found.holds)])
        found.suggests.extend(offer for offer in offers if offer.value not in known)
    return sorted(findings, key=lambda found: (-len(found.holds), KIND_ORDER.index(found.kind)))
