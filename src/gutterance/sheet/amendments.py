"""Amendments: what somebody put right after the note was read, kept beside it and put on top of its reading.

The note is never edited. An amendment says which value (a sheet path), what it is now, who said so, when and
why, and what the note said then. Reading the note again keeps every amendment; one that no longer fits is a
`Misfit`, for the checker to tell of.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Literal

from pydantic import ValidationError

from gutterance.measure.length import Length
from gutterance.sheet.models import Model, Reading, Remark, Sheet, Source
from gutterance.sheet.paths import Place, find_place

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

AMENDMENT_FORMAT = "gutterance-amendment-1"
TAKEN_OUT = "none"
"""The value of an amendment that takes a part, or something unread, off the sheet."""


class Amendment(Model):
    """One amendment. `value` is as files hold it (`510 in`, `outside corner`); None withdraws the one before.

    `was` is what the note said at `path` when it was amended, None where it said nothing. `said` are the
    words it was given in. `when` is an ISO 8601 date and time.
    """

    format: Literal["gutterance-amendment-1"] = "gutterance-amendment-1"
    path: str
    value: str | None
    by: str
    when: str
    why: str
    was: str | None = None
    said: str | None = None


@dataclass(frozen=True, slots=True)
class Misfit:
    """An amendment that no longer fits: its path is gone, its value cannot be one, or the note has changed.

    `now` is what the note says at its path today.
    """

    amendment: Amendment
    kind: Literal["path", "value", "note"]
    now: str | None = None


@dataclass(slots=True)
class Amended:
    """A sheet with the amendments on top, and those that do not fit."""

    sheet: Sheet
    misfits: list[Misfit] = field(default_factory=list)


def standing(amendments: Iterable[Amendment]) -> list[Amendment]:
    """The amendments that stand: each withdrawal takes back the last one before it on its path."""
    kept: list[Amendment] = []
    for one in amendments:
        if one.value is not None:
            kept.append(one)
            continue
        last = next((at for at in range(len(kept) - 1, -1, -1) if kept[at].path == one.path), None)
        if last is not None:
            kept.pop(last)
    return kept


def apply_amendments(sheet: Sheet, amendments: Sequence[Amendment]) -> Amended:
    """A copy of the sheet with the amendments put on top, in their order; the sheet itself is not changed.

    A sheet that carries some of them already (saved after it was amended) gives the same. What does not fit
    is left off, except that an amendment whose note has changed since stands all the same.
    """
    if not amendments:
        return Amended(sheet)
    amended = Amended(sheet.model_copy(deep=True))
    for path in dict.fromkeys(one.path for one in amendments):
        place = find_place(amended.sheet, path)
        if place is not None and place.kind == "reading" and place.reading is not None:
            place.put(of_note(place.reading))
    changed = {one.path: one for one in standing(amendments)[::-1]}
    for one in standing(amendments):
        place = find_place(amended.sheet, one.path, one.was)
        if place is None:
            if not (one.value == TAKEN_OUT and one.path.count(".") == 1):
                amended.misfits.append(Misfit(one, "path"))
            continue
        now = text_at(place)
        try:
            _put(amended.sheet, place, one)
        except (ValidationError, ValueError):
            amended.misfits.append(Misfit(one, "value"))
            continue
        if changed[one.path] is one and now not in (one.was, one.value):
            amended.misfits.append(Misfit(one, "note", now))
    return amended


def of_note(reading: Reading[Any]) -> Reading[Any] | None:
    """What the note itself says, under the amendments and what was worked out; None where it says nothing."""
    # An end told on the run round its corner is the note's too; a length worked out is nobody's word.
    while reading.by is not None or (reading.status == "inferred" and isinstance(reading.value, Length)):
        if not reading.was:
            return None
        reading = reading.was[0]
    return reading


def text_at(place: Place) -> str | None:
    """What stands at a place, as files hold it: None where nothing does."""
    if place.kind != "reading":
        return place.text
    value = None if place.reading is None else place.reading.value
    return None if value is None else file_value(value)


def file_value(value: Any) -> str:
    """A value of the sheet as an amendment holds it: `510 in`, `45`, `outside corner`."""
    if isinstance(value, Length):
        return value.file_text()
    if isinstance(value, float) and value.is_integer():
        return str(int(value))
    return str(value)


def _put(sheet: Sheet, place: Place, one: Amendment) -> None:
    why = f"{one.by}, {one.when[:16].replace('T', ' ')}: {one.why}"
    if one.value == TAKEN_OUT and place.kind in ("part", "unread"):
        sheet.remarks.append(
            Remark(
                kind="other",
                text=f"taken off the sheet: {place.told} ({why})",
                source=place.source or Source(line=1, start=0, end=0, text=""),
            )
        )
        place.take_out()
        return
    if place.kind in ("part", "unread"):
        raise ValueError("only 'none' can stand for a whole part")
    if place.kind == "text":
        place.put(one.value)
        return
    before = place.reading
    made = place.reading_of(one.value or "")
    made.status, made.why, made.by = "corrected", why, one.by
    made.was = [] if before is None else [before]
    place.put(made)
