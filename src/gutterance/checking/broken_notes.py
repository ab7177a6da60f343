"""Broken places in the note's files: words may be lost there, so what was told round them is asked about."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.checking.codes import finding
from gutterance.checking.house import House, run_path
from gutterance.checking.wording import either, of_run

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gutterance.checking.findings import Finding
    from gutterance.sheet.models import NoteDamage, Run


def find_broken_notes(house: House) -> Iterator[Finding]:
    """Each place where a file of the note is broken. It holds the runs told of just before and just after."""
    for number, damage in enumerate(house.sheet.damage, start=1):
        around = _told_around(damage, house)
        names = either([of_run(run) for run in around])
        yield finding(
            "note-damaged",
            f"damage.{number}",
            f"{damage.file} is broken at line {damage.line}: {damage.what}. Words may be lost there.",
            f"Was more said{f' of {names}' if names else ''} there ({damage.mend})?",
            holds=[run_path(run) for run in around],
        )


def _told_around(damage: NoteDamage, house: House) -> list[Run]:
    """The runs told of on the line before the damage, or last before it, and the one told of next."""
    before: dict[int, list[Run]] = {}
    after: dict[int, list[Run]] = {}
    for run in house.sheet.runs:
        lines = {source.line for source in run.source}
        lines.update(source.line for source in (run.length.source if run.length is not None else ()))
        for line in lines:
            (before if line <= damage.after else after).setdefault(line, []).append(run)
    last = before[max(before)] if before else []
    following = after[min(after)][:1] if after else []
    return [*last, *(run for run in following if all(run is not other for other in last))]
