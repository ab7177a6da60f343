"""Amendments that no longer fit: each is told, and holds what it was made for."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.checking.codes import finding
from gutterance.checking.findings import Change, Suggestion
from gutterance.checking.house import House, pipe_path, run_path
from gutterance.checking.wording import shown
from gutterance.measure.length import Length, LengthTextError

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from gutterance.checking.findings import Finding
    from gutterance.sheet.amendments import Amendment, Misfit

_CODE = {"path": "amendment-fits-nothing", "value": "amendment-unreadable", "note": "amendment-overtaken"}


def find_misfits(house: House, misfits: Iterable[Misfit]) -> Iterator[Finding]:
    """Each amendment that no longer fits the sheet."""
    for misfit in misfits:
        one = misfit.amendment
        who = f"{one.by} ({one.when[:10]}: {one.why})"
        put = f"{one.path} to {_text(one.value)}"
        if misfit.kind == "path":
            says = f"{who} amended {put}, but the sheet has no such place any more."
            question = f"What is {one.path} called now, or does the amendment go?"
        elif misfit.kind == "value":
            says = f"{who} amended {put}, which cannot stand there."
            question = f"What should {one.path} be?"
        else:
            was = f"said {_text(one.was)}" if one.was is not None else "did not say"
            now = f"says {_text(misfit.now)}" if misfit.now is not None else "does not say"
            says = f"{who} amended {put}, when the note {was}; now the note {now}."
            question = f"Which is right for {one.path}: {_text(one.value)} or {_text(misfit.now)}?"
        yield finding(
            _CODE[misfit.kind],
            one.path,
            says,
            question,
            holds=_held(house, one),
            suggests=_offers(misfit),
        )


def _offers(misfit: Misfit) -> list[Suggestion]:
    one = misfit.amendment
    values = ((one.value, f"as {one.by} amended it"), (misfit.now, "as the note says now"))
    return [
        Suggestion(value=_text(value), why=why, changes=[Change(path=one.path, value=value)])
        for value, why in values
        if misfit.kind == "note" and value is not None
    ]


def _held(house: House, one: Amendment) -> list[str]:
    """What the amendment was made for; where that is gone, everything of its kind: any may be meant."""
    for placed in house.placed:
        if placed.path == one.path:
            return house.rests_on(placed)
    group = one.path.partition(".")[0]
    runs = [run_path(run) for run in house.sheet.runs]
    pipes = [pipe_path(pipe) for pipe in house.sheet.downpipes]
    own = [path for path in (*runs, *pipes) if one.path == path or one.path.startswith(f"{path}.")]
    if own:
        return own
    return {"runs": runs, "outlets": [*runs, *pipes], "downpipes": pipes}.get(group, [])


def _text(value: str | None) -> str:
    if value is None:
        return "nothing"
    try:
        return shown(Length.from_file_text(value))
    except LengthTextError:
        return value
