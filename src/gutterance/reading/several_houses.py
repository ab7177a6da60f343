"""Several houses in one note: `number 4 front 18-3 ..., number 6 front 18-5`, each with runs of its own.

A landlord's row, or two jobs on one walk. From where a house is named on, the runs told are its runs.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from gutterance.measure.numerals import read_numbers
from gutterance.reading.items import Item
from gutterance.reading.places import PlaceName

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gutterance.reading.discourse import Walk
    from gutterance.reading.items import Line

NUMBER = (
    r"\d{1,4}[a-d]?|(?:one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|\w+teen"
    r"|(?:twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety)"
    r"(?:[ -](?:one|two|three|four|five|six|seven|eight|nine))?)"
)
"""The number of a house, written or spoken."""
HOUSE = re.compile(
    r"(?<!run )(?<!pipe )(?<!spout )(?<!drop )(?<!outlet )(?<!phone )(?<!gauge )"
    rf"\b(?:number|no\.|house|unit|flat|plot|cabin|villa)\s+(?P<number>{NUMBER})\b"
    r"(?!\s*(?:foot|feet|ft|inch|inches|mm|mil|metres?|point|and a|[.]\d|\d|one|two|three|four|five|six|seven"
    r"|eight|nine|ten|eleven|twelve|\w+teen|twenty|thirty|forty|fifty))",
    re.IGNORECASE,
)
"""A house by its number."""
SIDE_BEHIND = re.compile(
    r"\s*(?:[.,:;]\s*|'s\s+)?(?:the\s+|is\s+)?(?:front|back|rear|left|right|north|south|east|west)\b",
    re.IGNORECASE,
)
"""A side of the house right behind its number."""


@dataclass(frozen=True, slots=True)
class Houses:
    """Where each house of a note is named: (line, start, end) in order, and its name at each."""

    spots: tuple[tuple[int, int, int], ...] = ()
    names: tuple[str, ...] = ()

    def at(self, line: int, start: int) -> str | None:
        """The house that was named last before a spot, or None."""
        place = bisect_right([spot[:2] for spot in self.spots], (line, start)) - 1
        return self.names[place] if place >= 0 else None


def find_houses(texts: Sequence[str]) -> Houses:
    """The houses of a note that tells of two or more, by number; else none."""
    spots, names, with_sides = [], [], set()
    for number, text in enumerate(texts, start=1):
        for match in HOUSE.finditer(text):
            figures = re.match(r"\d+[a-d]?", match["number"].lower())
            spoken = read_numbers(match["number"])
            name = figures.group() if figures else str(spoken[0].value) if len(spoken) == 1 else ""
            if not name:
                continue
            spots.append((number, match.start(), match.end()))
            names.append(f"number {name}")
            if SIDE_BEHIND.match(text, match.end()):
                with_sides.add(name)
    return Houses(tuple(spots), tuple(names)) if len(set(names)) > 1 and with_sides else Houses()


def name_houses(lines: Sequence[Line], houses: Houses, walk: Walk) -> None:
    """Each house's number as an item that is no measure."""
    for at, start, end in houses.spots:
        line = next((line for line in lines if line.number == at), None)
        if line is None or not any(item.start < end and start < item.end for item in line.items):
            continue
        named = Item(at, start, end, line.text[start:end], "house number")
        walk.use(named)
        walk.shown.append(named.source())
        kept = [item for item in line.items if item.end <= start or item.start >= end]
        line.items = sorted([*kept, named], key=lambda item: item.start)


def give_houses(line: Line, items: list[Item], houses: Houses) -> None:
    """Give each run named its house."""
    for item in items if houses.spots else ():
        if item.kind in ("place", "ref") and isinstance(item.value, PlaceName) and item.value.house is None:
            item.value = replace(item.value, house=houses.at(line.number, item.start))
