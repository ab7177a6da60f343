"""A sheet as it stands: the note's reading, the amendments on top, what follows from them, its findings."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from gutterance.checking.check import check_sheet
from gutterance.checking.inferring import inferred_and_closed
from gutterance.checking.kept_pipes import without_kept_pipes
from gutterance.checking.straight_pipes import with_straight_pipes
from gutterance.sheet.amendments import apply_amendments

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gutterance.checking.findings import Finding
    from gutterance.sheet.amendments import Amendment
    from gutterance.sheet.models import Sheet


@dataclass(frozen=True, slots=True)
class Standing:
    """The sheet to show and to make lists from, and everything found on it."""

    sheet: Sheet
    findings: list[Finding]


def as_it_stands(read: Sheet, amendments: Sequence[Amendment] = ()) -> Standing:
    """The sheet `read` from a note, amendments put on top and what follows from them worked out; and checked.

    `read` is not changed.
    """
    amended = apply_amendments(read, amendments)
    sheet, closure = inferred_and_closed(with_straight_pipes(without_kept_pipes(amended.sheet)))
    return Standing(sheet, check_sheet(sheet, amended.misfits, closure))
