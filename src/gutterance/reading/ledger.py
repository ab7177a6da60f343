"""The account of the note's numbers: each has a place on the sheet or in `unread`. None is dropped."""

from __future__ import annotations

from bisect import bisect_right
from typing import TYPE_CHECKING

from gutterance.measure.numerals import every_numeral
from gutterance.measure.quantities import read_quantity
from gutterance.measure.tape import find_lengths
from gutterance.sheet.models import Sheet, Unread

if TYPE_CHECKING:
    from gutterance.reading.discourse import Walk
    from gutterance.reading.items import Item, Line
    from gutterance.sheet.models import Source

NO_FIELD = "no field that this number answers was found in the words around it"
"""Why a number that means something is on the sheet nowhere."""
COUNTED_WITH = "a small number that a sentence counts with"
"""Why `two` of `the two cheeks` is unread where its sentence was understood."""
WHY = {
    "phone": "looks like a phone number",
    "date": "looks like a date",
    "time": "looks like a time of day",
    "price": "looks like a price",
    "duration": "a stretch of time, not a length",
    "percent": "a percentage, not a length",
    "count": "a count, not a length",
    "count in a sentence": COUNTED_WITH,
    "material size": "a size of material, not a length",
    "pitch": "a roof pitch, with nothing it belongs to",
    "angle": "an angle, with no corner beside it",
    "quantity": "a quantity that no field of the sheet asks for",
}
"""Why a number that is no length is on no field of the sheet, by its kind."""


MOST_OVER = 16
"""How many items back from a place one is looked for that reaches it: items hardly ever lie over others."""


def list_unread(lines: list[Line], walk: Walk, sheet: Sheet) -> None:
    """Put every numeral that found no place into the sheet's `unread`, with its words and why.

    The account is made from the sheet as it will be shown, not from what the rules thought they had used.
    """
    shown: dict[int, list[tuple[int, int]]] = {}
    names = [source for run in sheet.runs for source in run.source]
    names += [source for pipe in sheet.downpipes for source in pipe.source]
    named = {id(source) for source in names}
    for source in sheet.sources():
        if id(source) not in named:
            shown.setdefault(source.line, []).append((source.start, source.end))
    by_number = {line.number: line for line in lines}
    for source in names:
        line = by_number.get(source.line)
        spans = [(source.start, source.end)] if line is None else _without_measures(line, source)
        shown.setdefault(source.line, []).extend(spans)
    if walk.title_source is not None:
        title = walk.title_source
        shown.setdefault(title.line, []).append((title.start, title.end))
    for source in walk.shown:
        shown.setdefault(source.line, []).append((source.start, source.end))
    for source, why in walk.aside:
        shown.setdefault(source.line, []).append((source.start, source.end))
        sheet.unread.append(Unread(text=source.text, source=source, why=why))
    for line in lines:
        accounted = bytearray(len(line.text))
        for first, last in shown.get(line.number, []):
            accounted[first:last] = b"\x01" * (min(last, len(line.text)) - first)
        for start, end in every_numeral(line.text):
            if any(accounted[start:end]):
                continue
            beneath = _number_at(line, start)
            source = line.source(*((beneath.start, beneath.end) if beneath is not None else (start, end)))
            accounted[source.start : source.end] = b"\x01" * (source.end - source.start)
            sheet.unread.append(Unread(text=source.text, source=source, why=_why(beneath)))


def _without_measures(line: Line, source: Source) -> list[tuple[int, int]]:
    """The stretches of the words that name a part, but for measures among them: those name nothing.

    `Front 22' 6"` told as one name would else hide its length.
    """
    at, spans = source.start, []
    for found in find_lengths(line.text) if source.end > source.start else ():
        measures = found.kind == "length" or (found.kind == "bare" and len(found.amounts) > 1)
        if measures and found.start >= at and found.end <= source.end:
            spans.append((at, found.start))
            at = found.end
    return [*spans, (at, source.end)]


def _number_at(line: Line, place: int) -> Item | None:
    """The number whose words stand at a place of the line; the last of them where several do."""
    behind = bisect_right(line.items, place, key=lambda item: item.start)
    near = reversed(line.items[max(0, behind - MOST_OVER) : behind])
    return next((item for item in near if item.found is not None and place < item.end), None)


def _why(item: Item | None) -> str:
    if item is not None and item.kind == "count":
        return WHY["count"]
    if item is not None and item.found is not None and item.found.what == "quantity":
        quantity = read_quantity(item.found)
        if quantity is not None and quantity.kind is not None:
            return f"a {quantity.kind} in {quantity.unit}: no field of the sheet asks for it"
    if item is not None and item.found is not None and item.found.kind == "other" and item.found.what:
        return WHY.get(item.found.what, f"a {item.found.what}, not a length")
    return NO_FIELD
