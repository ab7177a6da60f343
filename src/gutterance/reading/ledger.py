"""The account of the note's numbers: each one has a place on the sheet, or stands in `unread`. None is dropped."""

from __future__ import annotations

from gutterance.measure.numerals import every_numeral
from gutterance.reading.discourse import Walk
from gutterance.reading.items import Item, Line
from gutterance.sheet.models import Sheet, Unread

WHY = {
    "phone": "looks like a phone number",
    "date": "looks like a date",
    "time": "looks like a time of day",
    "price": "looks like a price",
    "duration": "a stretch of time, not a length",
    "percent": "a percentage, not a length",
    "count": "a count, not a length",
    "material size": "a size of material, not a length",
    "pitch": "a roof pitch, with nothing it belongs to",
    "angle": "an angle, with no corner beside it",
    "quantity": "a quantity that no field of the sheet asks for",
}


def list_unread(lines: list[Line], walk: Walk, sheet: Sheet) -> None:
    """Put every numeral that found no place into the sheet's `unread`, with its words and why."""
    for line in lines:
        used = walk.used.get(line.number, [])
        measures = [item for item in line.items if item.found is not None]
        listed: list[tuple[int, int]] = []
        for start, end in every_numeral(line.text):
            if any(first < end and start < last for first, last in used) or any(
                first < end and start < last for first, last in listed
            ):
                continue
            item = next((m for m in measures if m.start < end and start < m.end), None)
            source = line.source(*_with_neighbours(line, item, start, end))
            listed.append((source.start, source.end))
            sheet.unread.append(Unread(text=source.text, source=source, why=_why(item)))


def _with_neighbours(line: Line, item: Item | None, start: int, end: int) -> tuple[int, int]:
    del line
    return (item.start, item.end) if item is not None else (start, end)


def _why(item: Item | None) -> str:
    if item is not None and item.found is not None and item.found.kind == "other" and item.found.what:
        return WHY.get(item.found.what, f"a {item.found.what}, not a length")
    return "no field that this number answers was found in the words around it"
