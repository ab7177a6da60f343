"""Every number of a stretch on its way to its field: offsets, numbers by side, with a cue, sizes, bare."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from gutterance.reading.bare_numbers import BareNumbers
from gutterance.reading.outlets_said import OutletsSaid
from gutterance.reading.sizes import rainfall
from gutterance.reading.sizes_said import GUTTER_WIDTHS

if TYPE_CHECKING:
    from gutterance.reading.builder import RunDraft
    from gutterance.reading.items import Item

FLATTEST_ROOF, STEEPEST_ROOF, CORNER = 5, 65, 45
"""Angles [degrees] that a roof has, and the one that may be a bay's corner. Common practice, no source."""

THINNEST_MM, THICKEST_MM = Fraction(4, 10), Fraction(12, 10)
"""Sheet that gutter is folded of [mm]. Common practice, no source."""
ROOFING = frozenset(
    {"slate", "slates", "slated", "tile", "tiles", "tiled", "shingle", "shingles", "roof", "roofs", "thatch"}
)
"""Words for a roof, behind its angle: `35 deg slate`."""


class NumbersSaid(BareNumbers, OutletsSaid):
    """Sends each number to the rule for its kind."""

    def _measure(self, item: Item) -> None:
        """A number: an offset, one for a side, or one by its cue or its kind."""
        if item.marks.get("struck") or item.marks.get("of offset"):
            return
        if "offset" in item.marks:
            self._offset(item)
            return
        if "at side" in item.marks and self.walk.run is not None:
            self._measure_at_side(item, self.walk.run)
            return
        self._measure_of(item)

    def _measure_at_side(self, item: Item, run: RunDraft) -> None:
        """A number given for one side of the run: it goes to the outlet there."""
        walk = self.walk
        side: Item = item.marks["at side"]
        everywhere = walk.outlets
        walk.outlets = [walk.outlet_at(side.value, side, walk.text(side.value, side), None)]
        if self.side_field is not None and "cue" not in item.marks:
            self._field(item, self.side_field, None)
        else:
            self._measure_of(item)
            if (
                walk.last is not None
                and walk.last[2] is item
                and walk.last[1] in ("wall_to_fascia", "height")
            ):
                self.side_field = walk.last[1]
        kept = [outlet for outlet in everywhere if any(outlet is other for other in run.outlets)]
        walk.outlets = kept if len(kept) > 1 else list(run.outlets)

    def _measure_of(self, item: Item) -> None:
        """A number by its cue or its kind."""
        found = item.found
        assert found is not None
        if any("difference from something else" in doubt for doubt in found.doubts):
            # `an inch longer than the front`: left unread, so that it is asked about
            return
        cue: Item | None = item.marks.get("cue")
        if cue is not None:
            name = "height" if cue.kind in ("ends at", "downpipe") or cue.value == "down" else cue.value
            self._field(item, name, cue)
        elif found.kind == "other":
            self._other(item)
        elif self._is_gutter_width(item):
            self._gutter_size(item)
        elif self._is_thickness(item):
            self._text_field(item, "thickness", [])
        else:
            self._bare_length(item)

    def _other(self, item: Item) -> None:
        """A number that is surely no length: a size, a pitch, a price."""
        found = item.found
        assert found is not None
        if found.what == "gutter size":
            self._gutter_size(item)
        elif found.what in ("material size", "pipe size"):
            self._pipe_size(item)
        elif found.what in ("pitch", "thickness"):
            self._text_field(item, {"pitch": "roof_pitch", "thickness": "thickness"}[found.what], [])
        elif found.what == "angle" and self._is_roof_angle(item):
            self._text_field(item, "roof_pitch", [])
        elif found.what == "quantity" and rainfall(item) is not None:
            self._text_field(item, "rainfall", [])

    def _is_thickness(self, item: Item) -> bool:
        """`Zinc half round 125, 0.7`: behind the gutter's width on a metric job, too thin for all else."""
        found, number = item.found, self.number
        told = self.items[max(0, number - 2) : number]
        if found is None or found.value is None or len(told) < 2 or not self.walk.metric:
            return False
        size, comma = told
        return (
            THINNEST_MM <= found.value <= THICKEST_MM
            and "." in found.text
            and comma.kind == "break"
            and comma.strength == 1
            and size.found is not None
            and (size.found.what == "gutter size" or size.found.value in GUTTER_WIDTHS)
            and any(other.kind in ("material", "profile") for other in self.items[:number])
        )

    def _is_roof_angle(self, item: Item) -> bool:
        """`quad 115 galv / 22.5°`: beside what the gutter is made of, an angle is the roof's."""
        found = item.found
        angle = found.value if found is not None else None
        kinds = {other.kind for other in self.items}
        behind = self.items[self.number + 1].text.lower() if self.number + 1 < len(self.items) else ""
        if angle is not None and FLATTEST_ROOF <= angle <= STEEPEST_ROOF and behind in ROOFING:
            return True
        return (
            angle is not None
            and FLATTEST_ROOF <= angle <= STEEPEST_ROOF
            and angle != CORNER
            and bool(kinds & {"profile", "material"})
            and not kinds & {"corner", "end", "end word", "place"}
        )
