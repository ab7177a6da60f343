"""What was done to a job, in words: who, when, from what, to what, why; and what of it can be undone."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from gutterance.checking.house import House
from gutterance.checking.wording import start
from gutterance.jobs.decisions import still_done
from gutterance.jobs.telling import told_path, value_told
from gutterance.sheet.amendments import TAKEN_OUT

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from gutterance.sheet.models import Sheet

_DONE = {
    "stands": "left as it stands",
    "asked": "crew asked",
    "seen": "seen",
    "made": "made",
    "hung": "hung",
    "not made": "no longer made",
    "not hung": "no longer hung",
    "measured": "measuring done",
    "measuring again": "measuring goes on",
    "line taken back": "line taken back",
    "archived": "archived",
    "unarchived": "taken out of the archive",
    "renamed": "renamed",
}


@dataclass(frozen=True, slots=True)
class Done:
    """One step: its events told in words, who, when, why. `undone` where it stands no more."""

    id: str
    revision: int
    at: str
    by: str
    role: str
    says: tuple[str, ...]
    why: str
    undone: bool
    undoes: bool
    path: str


def done_steps(events: Sequence[Mapping[str, Any]], sheet: Sheet) -> list[Done]:
    """Every step of a job's history, the latest first; events kept together are one step."""
    standing = {event["id"] for event in still_done(events)}
    by_id = {event["id"]: event for event in events}
    steps: dict[int, list[Mapping[str, Any]]] = {}
    for event in events:
        steps.setdefault(event["revision"], []).append(event)
    house = House(sheet)
    return [_step(step, standing, by_id, house) for _, step in sorted(steps.items(), reverse=True)]


def _step(
    step: Sequence[Mapping[str, Any]],
    standing: set[str],
    by_id: Mapping[str, Mapping[str, Any]],
    house: House,
) -> Done:
    first = step[0]
    return Done(
        first["id"],
        first["revision"],
        first["at"],
        first["by"],
        first["role"],
        tuple(dict.fromkeys(start(_says(event, by_id, house)) for event in step)),
        first["why"] or "",
        first["id"] not in standing,
        bool(first["undoes"]),
        first["path"] or "",
    )


def _says(event: Mapping[str, Any], by_id: Mapping[str, Mapping[str, Any]], house: House) -> str:
    if event["undoes"]:
        undone = by_id.get(event["undoes"])
        return f"undone: {_says(undone, by_id, house)}" if undone is not None else "undone"
    what, path = event["what"], event["path"] or ""
    if what == "amended":
        told = told_path(path, house)
        if event["after"] == TAKEN_OUT:
            return f"{told} taken off the sheet"
        to = value_told(event["after"], path)
        if event["before"] == event["after"]:
            return f"{told}: {to}, as the note says"
        before = (
            f"the note says {value_told(event['before'], path)}" if event["before"] else "the note gives none"
        )
        return f"{told}: {to} ({before})"
    if what in ("made", "hung", "not made", "not hung"):
        numbers = f" ({event['after']})" if event["after"] and what == "made" else ""
        return f"{path.partition('.')[2]} {_DONE[what]}{numbers}"
    if what in ("stands", "asked", "seen"):
        return f"{_DONE[what]}: {event['before']}"
    if what == "line taken back":
        return f"line taken back: “{event['before']}”"
    if what == "renamed":
        return f"renamed from “{event['before']}” to “{event['after']}”"
    return _DONE.get(what, str(what))
