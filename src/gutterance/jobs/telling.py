"""Places and values of a sheet as a sentence names them, from how files and events hold them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.checking.wording import of_outlet, of_path, of_pipe, of_run
from gutterance.measure.length import Length, LengthTextError
from gutterance.render.plain import harmless
from gutterance.render.readback import shown_value
from gutterance.sheet.models import Downpipe, Outlet, Run
from gutterance.sheet.paths import field_of, find_place

if TYPE_CHECKING:
    from gutterance.checking.house import House


def told_path(path: str, house: House) -> str:
    """A place on the sheet as a sentence names it: `the length of the front`; else the path itself."""
    place = find_place(house.sheet, path)
    if place is None:
        return path
    part = place.holder if isinstance(place.holder, Run | Outlet | Downpipe) else None
    if place.kind == "unread":
        return f"“{place.holder.text}”"
    if place.kind == "part":
        return _part(part, house)
    return of_path(path, field_of(path), part, house)


def _part(part: Run | Outlet | Downpipe | None, house: House) -> str:
    if isinstance(part, Run):
        return of_run(part)
    return of_outlet(part, house) if isinstance(part, Outlet) else of_pipe(part, house) if part else ""


def value_told(value: str | None, path: str) -> str:
    """A value as events hold it, for people.

    >>> value_told("518 in", "runs.front.length"), value_told(None, "defaults.colour")
    ('43\\' 2"', 'nothing')
    """
    if value is None:
        return "nothing"
    try:
        return shown_value(Length.from_file_text(value), field_of(path))
    except LengthTextError:
        return harmless(value)
