"""Places said: which run comes into focus, which are only referred to, and headings of what follows."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.reading.ditto import copied
from gutterance.reading.neighbours import is_length_like
from gutterance.reading.open_corrections import doubt_outlets
from gutterance.reading.places import THE_HOUSE, PlaceName
from gutterance.reading.stretch_words import StretchWords

if TYPE_CHECKING:
    from gutterance.reading.items import Item

LONGEST_HEADING = 12
"""A line of more items than this is no heading."""


class PlacesSaid(StretchWords):
    """What a place does to the walk: `front`, `upper back too`, `Run six, that's the right`, `Downpipes:`."""

    def _place(self, item: Item) -> None:
        """A place comes into focus, or is referred to."""
        name: PlaceName = item.value
        self.walk.use(item)
        if item.marks.get("remark"):
            return
        if self._only_heading(item):
            # `HOUSE`, `main house`: the house itself adds nothing to the names below it
            part = None if name.part == THE_HOUSE else name.part
            self.walk.context = PlaceName(storey=name.storey, part=part) if part or name.storey else None
            self.walk.pipe_list = False
        if self._is_alias(item):
            return
        if self.walk.fixing is not None and self.walk.run is not None:
            # `no wait, the left side one and the back right one ...`: of which outlet was it?
            doubt_outlets(self.walk, self.walk.fixing)
        outlets_before = list(self.walk.outlets)
        if self._refers(item, name):
            self.walk.refer(name, item)
        else:
            self.walk.focus(name, item)
        self.walk.focus_line = self.line.number
        if not item.marks.get("quarter side"):
            self.walk.asked = None
        self.strange = []
        if self._too(item):
            return
        side = item.marks.get("quarter side")
        if side is not None:
            self.walk.pipes_before = outlets_before or self.walk.pipes_before
            sides = ("left", "right") if side == "both" else (side,)
            self.walk.outlets = [
                self.walk.outlet_at(one, item, self.walk.text(one, item), None) for one in sides
            ]
            for outlet in self.walk.outlets if item.marks.get("either") else ():
                if outlet.place is not None:
                    outlet.place.status, outlet.place.why = (
                        "doubtful",
                        "this one or another: `or` stands between",
                    )
        elif item.marks.get("listed"):
            self._unplaced(item)

    def _unplaced(self, item: Item) -> None:
        """`one on the porch`: an outlet of a list whose end was not said."""
        run = self.walk.run
        assert run is not None
        while len(run.outlets) < item.marks["outlets"]:
            self.walk.outlet_at(None, item, None, None, new=True)
        self.walk.outlets = list(run.outlets)

    def _too(self, item: Item) -> bool:
        """`upper back too`: what was just said of another run, said of this one."""
        behind = [
            other for other in self.items[self.items.index(item) + 1 :] if other.kind not in ("break", "mark")
        ]
        walk = self.walk
        if (
            not behind
            or behind[0].text.lower() not in ("too", "also")
            or len(behind) > 1
            or walk.last is None
            or walk.run is None
        ):
            return False
        fields, name, _ = walk.last
        reading = fields.get(name)
        if reading is None or name not in ("length",):
            return False
        same = behind[0]
        walk.put(walk.run.fields, name, copied(reading, "same as", "the one before", same), same)
        put_value = walk.run.fields[name]
        if put_value.status == "doubtful":
            put_value.status = "corrected"
        return True

    def _refers(self, item: Item, name: PlaceName) -> bool:
        """Whether a short name is said of runs measured before, rather than of a new one."""
        if item.marks.get("except"):
            if self.walk.scope_cue is not None:
                self.walk.header, self.walk.header_line = self.walk.scope_cue, self.line.number
            return True
        if item.marks.get("refers"):
            return True
        if not self.walk.like_named(name):
            return False
        if name.storey and not (name.part or name.direction or name.number):
            # `every corner up top`: of the runs up there, and no run of its own
            return True
        at = self.items.index(item)
        if name.part is None and self.line.text[: item.start].rstrip().lower().endswith("house"):
            return False  # `house front`: no front of a garage told before
        if at + 1 < len(self.items) and self.items[at + 1].text.lower() in ("one", "ones", "pipe", "pipes"):
            return True
        if self.walk.header is not None and self.walk.header_line == self.line.number:
            return not self._measured_as_run(at)
        if self._measured_as_run(at):
            return False
        if (
            name.direction is not None
            and name.part is None
            and not any(other.kind in ("cue", "downpipe") for other in self.items)
        ):
            return False
        if any(other.kind in ("unknown", "end", "end word") for other in self.items):
            return False
        if self.walk.pipe_list and not any(other.kind == "end pair" for other in self.items):
            return any(run.outlets for run in self.walk.like_named(name))
        for other in self.items[self.items.index(item) + 1 :]:
            if other.kind in ("end", "end word"):
                return False
            if other.kind == "measure":
                found = other.found
                if found is not None and found.kind == "other":
                    continue
                return "cue" in other.marks or self._is_small(other)
        return True

    def _measured_as_run(self, at: int) -> bool:
        """`and the left side is 32 foot`: another run, though a wing with a left side was told before."""
        name: PlaceName = self.items[at].value
        behind = self.items[at + 1 :]
        follower = next((other for other in behind if other.kind not in ("filler", "colon")), None)
        told = any(run.place == name and "length" in run.fields for run in self.walk.runs)
        return (
            name.direction is not None
            and not told
            and is_length_like(follower)
            and follower is not None
            and follower.found is not None
            and (len(follower.found.amounts) > 1 or follower.found.kind == "length")
            and "is" in {other.text.lower() for other in behind[:2]}
            and not any(other.kind == "cue" for other in behind[:4])
        )

    def _is_alias(self, item: Item) -> bool:
        """`Run six, that's the right side of the house`: another name for the run just numbered."""
        name: PlaceName = item.value
        run = self.walk.run
        if run is None or run.place.number is None or name.number is not None or not self.new_run_here:
            return False
        if "length" in run.fields or run.unsided or run.outlets:
            return False
        words = self.line.text[: item.start].rstrip().lower()
        return words.endswith(("that's the", "thats the", "is the", "the", ",", "(", "that's", "is"))

    def _only_heading(self, item: Item) -> bool:
        """Whether a line only names a part or a storey: `Garage:`."""
        name: PlaceName = item.value
        if name.direction or not (name.part or name.storey):
            return False
        quiet = ("place", "part", "storey", "direction", "colon", "mark", "break", "filler", "run noun")
        first = next((other for other in self.line.items if other.kind not in ("mark", "break")), None)
        if first is not None and first.kind == "filler":
            return False
        return all(other.kind in quiet for other in self.line.items)

    def _heading(self) -> bool:
        """`Downpipes:`, `Totals`: a line that only says what the next lines are about."""
        if len(self.line.items) > LONGEST_HEADING:
            return False
        said = [item for item in self.line.items if item.kind not in ("filler", "mark", "colon", "break")]
        if said and said[0].kind == "total" and not any(item.found is not None for item in said):
            self.walk.totals_from = self.line.number
            self.walk.run, self.walk.outlets = None, []
            self.walk.context = None
            return True
        if len(said) == len(("dps", "4 no.")) and said[0].kind == "downpipe" and _is_count(said[1]):
            # `dps 4 no.`: how many, and below it one by one
            self.walk.pipe_list = True
        if not said or any(item.kind not in ("downpipe", "outlet", "heading") for item in said):
            return False
        if len(said) == 1 and said[0].kind in ("downpipe", "outlet", "heading"):
            ends_with_colon = self.line.text.rstrip().endswith((":", "-"))
            if not (
                ends_with_colon
                or said[0].plural
                or said[0].kind == "heading"
                or self.line.text.lstrip().startswith("#")
            ):
                return False
            self.walk.pipe_list = True
            self.walk.outlets = []
            self.walk.context = None
            return True
        return False

    def _open_list(self) -> None:
        """`Pipes. Front has one on the right ...`: behind the runs, a list of them begins."""
        opens = self.walk.dialogue and any(o.kind in ("downpipe", "outlet") for o in self.items[:3])
        told = sum("length" in run.fields for run in self.walk.runs) > 1
        if opens and told and _opens_with_pipes(self.line.items) and not self.walk.pipe_list:
            self.walk.pipe_list = True
            self.walk.outlets = []

    def _clockwise(self, item: Item) -> None:
        """The way the walk goes."""
        self.walk.clockwise = item.value == "clockwise"
        self.walk.use(item)


def _opens_with_pipes(items: list[Item]) -> bool:
    """`Pipes. How many?`: a first sentence of nothing but a word for all of them."""
    said = [item for item in items if item.kind not in ("filler", "mark") and item.text not in ("-", "–")]
    return (
        len(said) > 1
        and said[0].kind in ("downpipe", "outlet")
        and said[0].plural
        and (said[1].strength >= 4 or said[1].kind == "colon")
    )


def _is_count(item: Item) -> bool:
    """Whether an item says how many: `4 no.`, `4`; not the size of `leaders 2x3`."""
    found = item.found
    return item.kind == "count" or (
        item.kind == "measure" and found is not None and (found.what == "count" or found.kind == "bare")
    )
