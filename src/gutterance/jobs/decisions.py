"""What people decided of a finding without a new value: it stands as it is, the crew is asked, it was seen.

A decision is kept with the finding's id, which changes with its words: when the values behind a finding
change, it is another finding, and nobody has decided it yet.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal, get_args

from gutterance.checking.findings import HOLDING
from gutterance.jobs.questions import finding_id

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence
    from typing import Any

    from gutterance.checking import Finding

Decided = Literal["stands", "asked", "seen"]
DECIDED: tuple[Decided, ...] = get_args(Decided)


@dataclass(frozen=True, slots=True)
class Decision:
    """A decision: what, by whom, when (ISO 8601), and why."""

    what: str
    by: str
    at: str
    why: str


def still_done(events: Iterable[Mapping[str, Any]]) -> list[Mapping[str, Any]]:
    """The events that stand, in their order: those undone are left out, and so is an undoing that was undone.

    An undoing is an event of its own and comes after what it undoes.
    """
    kept = []
    undone: set[str] = set()
    for event in reversed(list(events)):
        if event["id"] in undone:
            continue
        if event["undoes"]:
            undone.add(event["undoes"])
        kept.append(event)
    return kept[::-1]


def decisions_in(events: Iterable[Mapping[str, Any]]) -> dict[str, Decision]:
    """The last decision on each finding, by the finding's id."""
    return {
        str(event["after"]): Decision(event["what"], event["by"], event["at"], event["why"] or "")
        for event in still_done(events)
        if event["what"] in DECIDED
    }


def let_stand(findings: Sequence[Finding], decisions: Mapping[str, Decision]) -> list[Finding]:
    """The findings, those left as they stand no longer holding anything: they are told, with who and why.

    Only doubts and conflicts can be left: a gap has nothing that could stand.
    """
    told = []
    for found in findings:
        decision = decisions.get(finding_id(found))
        if decision is not None and decision.what == "stands" and found.kind in HOLDING - {"gap"}:
            says = f"{found.says} Left as it stands by {decision.by}, {decision.at[:10]}: {decision.why}"
            told.append(found.model_copy(update={"kind": "assumption", "says": says, "holds": []}))
        else:
            told.append(found)
    return told
