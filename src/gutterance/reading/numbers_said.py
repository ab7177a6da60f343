"""Every number of a stretch on its way to its field: offsets, numbers by side, with a cue, sizes, bare."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.reading.bare_numbers import BareNumbers
from gutterance.reading.outlets_said import OutletsSaid
from gutterance.reading.sizes import rainfall

if TYPE_CHECKING:
    from gutterance.reading.builder import RunDraft
    from gutterance.reading.items import Item


class NumbersSaid(BareNumbers, OutletsSaid):
    """Sends each number to the rule for its kind."""

    def _measure(self, item: Item) -> None:
        """A number: an offset, one for a side, or one by its cue or its kind."""
        if item.marks.get("struck"):
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
        elif found.what == "quantity" and rainfall(item) is not None:
            self._text_field(item, "rainfall", [])
