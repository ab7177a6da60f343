"""What is on hold: from findings, and from any value the note leaves open though no finding came."""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING, Any

from gutterance.checking.findings import HOLDING
from gutterance.layout.values import Hold

if TYPE_CHECKING:
    from collections.abc import Iterable

    from gutterance.checking.findings import Finding
    from gutterance.sheet.models import Reading, Sheet


class HoldBook:
    """The holds that findings put on runs and downpipes, by id; `dry` are runs told to lack an outlet,
    `spilling` those that are to have none."""

    def __init__(self, sheet: Sheet, findings: Iterable[Finding]) -> None:
        self.runs: dict[str, list[Hold]] = defaultdict(list)
        self.pipes: dict[str, list[Hold]] = defaultdict(list)
        self.nowhere: list[tuple[str, Finding]] = []
        self.dry: set[str] = set()
        self.spilling: set[str] = set()
        runs = {run.id for run in sheet.runs}
        pipes = {pipe.id for pipe in sheet.downpipes}
        outlets = {outlet.id: outlet.run for outlet in sheet.outlets}
        for finding in findings:
            if finding.code == "no-outlet-wanted":
                self.spilling.add(finding.about.removeprefix("runs."))
            if finding.kind not in HOLDING:
                continue
            hold = Hold(finding.about, finding.says, finding.question)
            for path in finding.holds:
                kind, _, part = path.partition(".")
                run = outlets.get(part, "") if kind == "outlets" else part if kind == "runs" else path
                if kind in ("runs", "outlets") and run in runs:
                    self.runs[run].append(hold)
                    if finding.code == "outlet-missing":
                        self.dry.add(run)
                elif kind == "downpipes" and part in pipes:
                    self.pipes[part].append(hold)
                elif not part and (path in runs or path in pipes):
                    # a bare id: hold whatever bears it, rather than let the hold fall through
                    if path in runs:
                        self.runs[path].append(hold)
                    if path in pipes:
                        self.pipes[path].append(hold)
                else:
                    self.nowhere.append((path, finding))


def unsettled(path: str, reading: Reading[Any] | None, what: str) -> list[Hold]:
    """A hold where a reading may not be rested on; none where it is settled or was never spoken of."""
    if reading is None or reading.settled:
        return []
    says = f"{what} is missing" if reading.value is None else f"{what} is in doubt"
    if reading.why:
        says += f": {reading.why}"
    return [Hold(path, says, f"What is {what}?")]


_GUESSED = {"assumed": "assumed", "inferred": "worked out"}
_SAID = {"read": "as said", "corrected": "as corrected", "assumed": "assumed", "inferred": "worked out"}
_HAD = {
    "read": "measured",
    "corrected": "measured, as corrected,",
    "assumed": "length assumed,",
    "inferred": "length worked out,",
    "doubtful": "length in doubt,",
}


def guessed(reading: Reading[Any] | None, what: str) -> list[str]:
    """Words for a value that stands, though nobody said it: assumed, or worked out from others."""
    if reading is None or reading.value is None or reading.status not in _GUESSED:
        return []
    why = f": {reading.why}" if reading.why else ""
    return [f"{what} {_GUESSED[reading.status]}{why}"]


def said(reading: Reading[Any]) -> str:
    """How a value was come by, after it: `as said`, `assumed`, `worked out`, `in doubt`."""
    return _SAID.get(reading.status, "in doubt")


def length_had(reading: Reading[Any] | None) -> str:
    """How a run's length was come by, to begin a piece's reasons: `measured`, `length assumed,`."""
    return _HAD.get(reading.status, "length missing,") if reading is not None else "measured"


def merged(*groups: Iterable[Hold]) -> list[Hold]:
    """All holds in order, those about the same path told once: the first to speak of it is the fullest."""
    seen: set[str] = set()
    out: list[Hold] = []
    for group in groups:
        for hold in group:
            if hold.about not in seen:
                seen.add(hold.about)
                out.append(hold)
    return out
