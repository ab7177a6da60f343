"""Where a path leads on a sheet: `runs.front.length`, `downpipes.back-1.offsets.2`, `defaults.colour`."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Literal, get_args, get_origin

from gutterance.sheet.models import (
    Downpipe,
    LengthReading,
    Model,
    Outlet,
    Reading,
    Run,
    Sheet,
    Source,
    Total,
    Unread,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

_NOT_AMENDED = frozenset({"id", "source", "units"})


@dataclass(slots=True)
class Place:
    """One place on a sheet: a value, a plain word (`next_run`), a whole part, or something unread."""

    sheet: Sheet
    kind: Literal["reading", "text", "part", "unread"]
    holder: Any
    field: str = ""
    number: int | None = None

    @property
    def reading(self) -> Reading[Any] | None:
        """The reading that stands there, or None."""
        held = getattr(self.holder, self.field)
        if self.number is None:
            return held  # type: ignore[no-any-return]
        return held[self.number - 1] if 0 < self.number <= len(held) else None

    @property
    def text(self) -> str | None:
        """What stands there, where it is no reading."""
        if self.kind == "text":
            return getattr(self.holder, self.field)  # type: ignore[no-any-return]
        return self.holder.text if isinstance(self.holder, Unread) else self.told

    @property
    def told(self) -> str:
        """The part in a few words, for those who take it off."""
        part = self.holder
        if isinstance(part, Unread):
            return f"“{part.text}”"
        if isinstance(part, Run):
            length = part.length.value.tape_text() if part.length and part.length.value else "no length"
            return f"run {part.name} ({length})"
        what = "outlet" if isinstance(part, Outlet) else "downpipe"
        return f"{what} {part.id}"

    @property
    def source(self) -> Source | None:
        """The first words the part came from."""
        if isinstance(self.holder, Unread):
            return self.holder.source
        own = getattr(self.holder, "source", None) or [
            words
            for name in type(self.holder).model_fields
            if isinstance(reading := getattr(self.holder, name), Reading)
            for words in reading.source
        ]
        return own[0] if own else None

    def put(self, value: Any) -> None:
        """Put a reading (or a plain word) there; None leaves nothing."""
        if self.number is not None:
            held = getattr(self.holder, self.field)
            if value is None:
                return
            held[self.number - 1 : self.number] = [value]
            return
        setattr(self.holder, self.field, value)
        if isinstance(self.holder, Outlet) and self.field == "place":
            self.holder.from_ = None if value is None else value.value

    def reading_of(self, text: str) -> Reading[Any]:
        """The reading of a value as files hold it. Raises pydantic's ValidationError where none can be."""
        return reading_type(self.holder, self.field).model_validate({"value": text})

    def take_out(self) -> None:
        """Take the part off the sheet, with the outlets and downpipes that were only its own."""
        sheet, part = self.sheet, self.holder
        if isinstance(part, Unread):
            sheet.unread = [one for one in sheet.unread if one is not part]
            return
        gone = {part.id} if isinstance(part, Outlet) else set()
        if isinstance(part, Run):
            sheet.runs = [one for one in sheet.runs if one is not part]
            gone = {one.id for one in sheet.outlets if one.run == part.id}
        sheet.outlets = [one for one in sheet.outlets if one.id not in gone]
        sheet.downpipes = [one for one in sheet.downpipes if one is not part and one.outlet not in gone]


def find_place(sheet: Sheet, path: str, was: str | None = None) -> Place | None:
    """The place a path leads to, or None. `was`: the text of something unread, which may have moved."""
    group, _, rest = path.partition(".")
    if group == "defaults":
        return _in_part(sheet, sheet.defaults, rest)
    if group == "totals":
        total = next((one for one in sheet.totals if one.what == rest), None)
        return None if total is None else Place(sheet, "reading", total, "value")
    if group == "unread":
        return _unread(sheet, rest, was)
    for part in _parts(sheet, group):
        if rest == part.id:
            return Place(sheet, "part", part)
        if rest.startswith(f"{part.id}."):
            found = _in_part(sheet, part, rest.removeprefix(f"{part.id}."))
            if found is not None:
                return found
    return None


def reading_type(holder: Model, field: str) -> type[Reading[Any]]:
    """The kind of reading that a field of a part holds."""
    if isinstance(holder, Total):
        return LengthReading if holder.what == "gutter length" else Reading[int]
    kinds = _kinds(type(holder).model_fields[field].annotation)
    return next(kind for kind in kinds if isinstance(kind, type) and issubclass(kind, Reading))


def paths_that_can_be_amended(sheet: Sheet) -> Iterator[str]:
    """Every path of the sheet that an amendment may name, said or not."""
    yield from (f"defaults.{field}" for field in type(sheet.defaults).model_fields if field != "units")
    for group in ("runs", "outlets", "downpipes"):
        for part in _parts(sheet, group):
            yield f"{group}.{part.id}"
            yield from (
                f"{group}.{part.id}.{field}"
                for field in type(part).model_fields
                if _in_part(sheet, part, field) is not None
            )
    yield from (f"totals.{total.what}" for total in sheet.totals)
    yield from (f"unread.{number}" for number in range(1, len(sheet.unread) + 1))


def field_of(path: str) -> str:
    """The field a path names, without the number of one among several.

    >>> field_of("downpipes.back-1.offsets.2"), field_of("runs.front.length")
    ('offsets', 'length')
    """
    parts = path.split(".")
    return parts[-2] if parts[-1].isdecimal() and len(parts) > 3 else parts[-1]


def _parts(sheet: Sheet, group: str) -> list[Run] | list[Outlet] | list[Downpipe]:
    parts: dict[str, Any] = {"runs": sheet.runs, "outlets": sheet.outlets, "downpipes": sheet.downpipes}
    return parts.get(group, [])  # type: ignore[no-any-return]


def _in_part(sheet: Sheet, part: Model, field: str) -> Place | None:
    name, _, number = field.partition(".")
    name = "place" if isinstance(part, Outlet) and name == "from" else name
    info = type(part).model_fields.get(name)
    if info is None or name in _NOT_AMENDED:
        return None
    kinds = _kinds(info.annotation)
    of_readings = any(isinstance(kind, type) and issubclass(kind, Reading) for kind in kinds)
    if get_origin(info.annotation) is list:
        return (
            Place(sheet, "reading", part, name, int(number)) if of_readings and number.isdecimal() else None
        )
    if number:
        return None
    if of_readings:
        return Place(sheet, "reading", part, name)
    return Place(sheet, "text", part, name) if str in kinds else None


def _kinds(annotation: Any) -> list[Any]:
    """The types in an annotation: of `Reading[str] | None`, both; of a list, those of its items."""
    inner = get_args(annotation)
    if not inner:
        return [annotation]
    return [kind for one in inner for kind in _kinds(one)]


def _unread(sheet: Sheet, number: str, was: str | None) -> Place | None:
    at = int(number) - 1 if number.isdecimal() else -1
    if 0 <= at < len(sheet.unread) and was in (None, sheet.unread[at].text):
        return Place(sheet, "unread", sheet.unread[at])
    moved = [one for one in sheet.unread if was is not None and one.text == was]
    return Place(sheet, "unread", moved[0]) if len(moved) == 1 else None
