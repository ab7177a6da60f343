"""Assumptions: what was taken without being said, told once for each kind and not for each run."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.checking.codes import finding
from gutterance.checking.doubts import worked_out
from gutterance.checking.house import House, Placed, pipe_path
from gutterance.checking.wording import (
    FIELD_WORDS,
    listed,
    of_outlet,
    of_path,
    of_pipe,
    of_run,
    shown,
    start,
)
from gutterance.sheet.models import Downpipe, Outlet, Run

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gutterance.checking.findings import Finding

_SAME_KIND = {"left_end": "ends", "right_end": "ends", "left_angle": "angles", "right_angle": "angles"}


def find_assumptions(house: House) -> Iterator[Finding]:
    """Values marked assumed or inferred, and what the shop's own rules fill in."""
    kinds: dict[tuple[str, str, str], list[Placed]] = {}
    for placed in house.placed:
        status = placed.reading.status
        if status in ("assumed", "inferred") and placed.reading.value is not None and not worked_out(placed):
            kind: tuple[str, str, str] = (status, placed.group, _SAME_KIND.get(placed.field, placed.field))
            kinds.setdefault(kind, []).append(placed)
    for several in kinds.values():
        yield _taken(several, house)
    yield from _shop_defaults(house)


def _taken(several: list[Placed], house: House) -> Finding:
    first = several[0]
    status = first.reading.status
    values = listed(list(dict.fromkeys(shown(placed.reading.value, placed.field) for placed in several)), 4)
    reasons = list(dict.fromkeys(placed.reading.why for placed in several if placed.reading.why))
    if len(several) == 1:
        name = of_path(first.path, first.field, first.part, house)
    else:
        name = f"{FIELD_WORDS.get(first.field, first.field)} in {len(several)} places"
        if first.field in _SAME_KIND:
            name = f"{len(several)} {_SAME_KIND[first.field]}"
        name += f" ({listed(list(dict.fromkeys(_part_name(placed, house) for placed in several)), 4)})"
    was = "was" if len(several) == 1 else "were"
    how = "assumed to be" if status == "assumed" else "worked out as"
    why = f": {reasons[0]}" if len(reasons) == 1 else ""
    return finding(
        "value-assumed" if status == "assumed" else "value-inferred",
        first.path,
        f"{start(name)} {was} {how} {values}{why}.",
        f"Is it right that {name} {'is' if len(several) == 1 else 'are'} {values}?",
        source=[words for placed in several for words in placed.reading.source],
    )


def _part_name(placed: Placed, house: House) -> str:
    part = placed.part
    if isinstance(part, Run):
        return of_run(part)
    if isinstance(part, Outlet):
        return of_outlet(part, house)
    if isinstance(part, Downpipe):
        return of_pipe(part, house)
    return "the whole job"


def _shop_defaults(house: House) -> Iterator[Finding]:
    sheet = house.sheet
    defaults = sheet.defaults
    if not sheet.runs:
        return
    if defaults.gutter_profile is None:
        yield _default("gutter_profile", "What profile is the gutter?")
    if defaults.gutter_size is None and any(run.gutter_size is None for run in sheet.runs):
        yield _default("gutter_size", "What size is the gutter?")
    if defaults.downpipe_size is None and any(pipe.size is None for pipe in sheet.downpipes):
        yield _default("downpipe_size", "What size are the downpipes?")
    if defaults.colour is None and any(run.colour is None for run in sheet.runs):
        yield finding(
            "default-used",
            "defaults.colour",
            "No colour was said: the pieces are listed without one.",
            "What colour is the gutter?",
        )
    unended = [pipe for pipe in sheet.downpipes if pipe.ends_at is None]
    if unended:
        names = listed([of_pipe(pipe, house) for pipe in unended], 4)
        yield finding(
            "ending-not-said",
            f"{pipe_path(unended[0])}.ends_at",
            f"Nothing says where {names} {'ends' if len(unended) == 1 else 'end'}: "
            "the shop's usual ending is taken.",
            f"Where does {names} end: splash block, drain, ground?"
            if len(unended) == 1
            else f"Where do these end (splash block, drain, ground): {names}?",
            source=[words for pipe in unended for words in pipe.source],
        )


def _default(field: str, question: str) -> Finding:
    return finding(
        "default-used",
        f"defaults.{field}",
        f"The {FIELD_WORDS[field]} was not said: the shop's usual one is taken.",
        question,
    )
