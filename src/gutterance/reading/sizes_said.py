"""Sizes, pitches, materials and colours said: what the gutter is, rather than how long it is."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

from gutterance.reading.discourse import KNOWN_PIPES, Scope
from gutterance.reading.places import THE_HOUSE
from gutterance.reading.shades import NO_SHADES, SHORTEST_WORD
from gutterance.reading.sizes import (
    gutter_width,
    pipe_size,
    pitch,
    profile_of,
    rainfall,
    spoken_hundred,
    thickness,
)
from gutterance.reading.stretch_words import StretchWords, settled_in_inches

if TYPE_CHECKING:
    from gutterance.reading.items import Item
    from gutterance.sheet.models import Reading

WIDEST_SURE_PIPE_MM = 90
"""A round or a square wider than this [mm] may be a gutter's width. Common practice, no source."""
ALSO_STUFF = frozenset(
    {"stone", "slate", "clay", "sand", "smoke", "rust", "pebble", "sandstone", "copper", "wood", "pearl",
     "green", "red"}
)  # fmt: skip
"""Colours that are also what a thing is made of, or part of its name: `stone pier`, `green door`."""
GUTTERS_OWN = frozenset({"finish", "colour", "color", "one", "gutters", "coil", "coat", "paint"})
"""Words behind a colour that is the gutter's, though `a` stands before it."""
OF_THIS_ONE = re.compile(
    r"\s*(?:on|for|at|is)?\s*(?:that|this) one\b|\s*(?:just |only )?here\b", re.IGNORECASE
)
"""`3x4 that one`: words behind a size by which it is of the pipe just told of."""
OF_THE_OTHERS = re.compile(
    r"\b(?:(?:all )?(?:the )?(?:others?|rest)|everything else)\s*(?:are|is|be|in|of them|:|-)?\s*\Z",
    re.IGNORECASE,
)
"""`the others 2x3`: words before a size by which it is of all other pipes."""
ONLY_GUTTERS = frozenset({"rhone", "rhones", "rone", "rones", "eavestrough", "trough", "spouting"})
"""Words for a run that are the gutter itself, never the eave: `rhones 150`."""
SENTENCE_ENDS = 3
"""A mark of this strength ends a sentence."""
MATERIAL_SIZES = frozenset({"gutter size", "material size", "pipe size", "thickness"})
"""What a number may be that tells of gutter or pipe itself."""
GUTTER_WIDTHS = frozenset({4, 5, 6, 7, 8, 100, 112, 115, 125, 150})
"""Widths that gutter is sold in, in inches and in millimetres. Common practice, no source."""
STEEPEST_IN_TWELVE = 14
"""A bare pitch above this is of degrees. Common practice, no source."""
LARGEST_WIDTH_IN_INCHES = 10
"""A bare gutter width below this is in inches, above it in millimetres."""


class SizesSaid(StretchWords):
    """What is said of the gutter itself: `5 inch K`, `3x4 pipe`, `6/12 pitch`, `.032`, `white aluminium`."""

    def _text_field(self, item: Item, name: str, cues: list[Item]) -> None:
        """A pitch, a thickness or a rainfall: kept as words in the sheet's spelling."""
        assert item.found is not None
        text = {"roof_pitch": pitch, "thickness": thickness, "rainfall": rainfall}[name](item)
        if name == "roof_pitch" and text is not None:
            text = self._in_degrees(text, item)
        if text is None:
            return
        reading = self.walk.text(text, item, *cues)
        doubts = [*item.found.doubts, *item.doubts]
        if doubts:
            reading.status, reading.why = "doubtful", "; ".join(doubts)
        if name == "roof_pitch" and self._of_this_run(item):
            self._put_in_runs(name, reading, item)
        else:
            self.walk.put(self.walk.defaults, name, reading, item)

    def _in_degrees(self, text: str, item: Item) -> str:
        """`pitch 23`: one number alone is of degrees on a metric job, and where it is too steep in 12."""
        rise = text.removesuffix("/12")
        alone = rise.isdigit() and item.found is not None and item.found.kind != "length"
        if not alone or "/" in item.text or "12" in item.text or "twelve" in item.text.lower():
            return text
        if not self.walk.metric and int(rise) <= STEEPEST_IN_TWELVE:
            return text
        if not self.walk.metric:
            item.doubts.append("degrees, or a rise in 12?")
        return f"{rise} degrees"

    def _of_this_run(self, item: Item) -> bool:
        """Whether a size or a pitch is said of the run named in this very sentence, not of the whole job."""
        near = self.items[max(0, self.number - 3) : self.number]
        if item.marks.get("of the runs"):
            return True
        if any(other.kind in ("landmark", "cue") and other.text.lower().startswith("roof") for other in near):
            return False
        if self.walk.run is None or item.marks.get("all"):
            return False
        return self._place_just_before() or self._place_behind()

    def _place_just_before(self) -> bool:
        """`porch is 4 inch`, `front 32-6, 6 inch K`: little but numbers and ends after the place."""
        for other in reversed(self.items[: self.number]):
            if other.kind == "place":
                return True
            if other.kind in ("outlet", "downpipe", "cue", "ends at", "remark", "all") or (
                other.kind == "break" and other.strength >= 3
            ):
                return False
        return False

    def _place_behind(self) -> bool:
        """`6 inch on the back`, at the end of what was said."""
        behind = [
            other for other in self.items[self.number + 1 :] if other.kind not in ("colour", "material")
        ]
        words = [other.text.lower() for other in behind[:3]]
        return (
            bool(words)
            and words[0] in ("on", "for", "at", "along")
            and any(other.kind == "place" for other in behind[1:3])
        )

    def _put_in_runs(self, name: str, reading: Reading[Any], item: Item) -> None:
        """Put a value into the run in focus, or each of its group."""
        walk = self.walk
        assert walk.run is not None
        for run in walk.group or [walk.run]:
            walk.put(run.fields, name, reading.model_copy(deep=True), item)

    def _is_gutter_width(self, item: Item) -> bool:
        """`five inch white`, `gutter 5"`, `6 inch gutter`: a width of gutter, though no profile is named."""
        found = item.found
        assert found is not None
        value = found.amounts[0].value if len(found.amounts) == 1 else spoken_hundred(item)
        if value not in GUTTER_WIDTHS:
            return False
        after = self._item_after()
        back = self.number - 1
        while back >= 0 and (
            self.items[back].kind == "colon" or self.items[back].text.lower() in ("is", "size", "'s")
        ):
            back -= 1
        before = self.items[back] if back >= 0 else None
        near = [other for other in (before, after) if other is not None]
        if any(other.kind == "profile" for other in near) or self._profile_past_comma():
            return True
        inches = found.kind == "length" and settled_in_inches(found.text)
        gutter_before = (
            before is not None
            and before.kind == "run noun"
            and ("gutter" in before.text.lower() or before.text.lower() in ONLY_GUTTERS)
        )
        gutter_after = (
            after is not None
            and after.kind == "run noun"
            and after.text.lower() in ("gutter", "gutters", "guttering", "eavestrough", "trough")
        )
        if gutter_after:
            return True
        if not inches and not (gutter_before and value < LARGEST_WIDTH_IN_INCHES):
            return False
        if inches and self._among_materials():
            return True
        return gutter_before or any(other.kind in ("colour", "material") for other in near)

    def _among_materials(self) -> bool:
        """`Almond. Five inch.`, `six inch, three by four pipe`: in a sentence of what the gutter is made of.

        A sentence that is the number alone takes what the sentence before or behind it on the line is of.
        """
        sentences: list[list[Item]] = [[]]
        here = 0
        for other in self.line.items:
            if other.kind == "break" and other.strength >= SENTENCE_ENDS:
                sentences.append([])
            elif other.kind not in ("filler", "mark", "break", "unknown", "walk"):
                sentences[-1].append(other)
            if other.start == self.items[self.number].start:
                here = len(sentences) - 1
        own = sentences[here]
        if len(own) > 1:
            return all(_of_material(other) for other in own) and any(
                not _is_plain_length(other) for other in own
            )
        near = [one for one in (*sentences[:here][-1:], *sentences[here + 1 : here + 2]) if one]
        return any(all(_of_material(other) and not _is_plain_length(other) for other in one) for one in near)

    def _part_behind(self) -> str | None:
        """The part that a size is said of: `5 on the porch`, `3 by 4s on the house`; or None."""
        behind = [*self.items[self.number + 1 :], *self.later]
        place = 0
        while place < len(behind) and behind[place].kind in (
            "profile",
            "colour",
            "material",
            "downpipe",
            "run noun",
        ):
            place += 1
        words = [other.text.lower() for other in behind[place : place + 2]]
        if not words or words[0] not in ("on", "for"):
            return None
        place += 2 if words[1:] == ["the"] else 1
        there = behind[place] if place < len(behind) else None
        if there is None:
            return None
        if there.text.lower() in ("house", "main house", "main roof", "hse"):
            return THE_HOUSE
        if there.kind in ("place", "ref") and there.value is not None and not there.value.direction:
            part: str | None = there.value.part or there.value.storey
            return part
        return None

    def _profile_past_comma(self) -> bool:
        """`half round, 112 mil`."""
        before = self.items[max(0, self.number - 2) : self.number]
        return (
            len(before) == 2
            and before[1].kind == "break"
            and before[1].strength == 1
            and before[0].kind == "profile"
        )

    def _gutter_size(self, item: Item) -> None:
        """The gutter's width, and its profile where the words name one."""
        walk = self.walk
        size = gutter_width(item)
        if size is None:
            return
        profile = profile_of(item)
        reading = walk.text(size, item)
        part = self._part_behind()
        if part is not None:
            walk.scopes.append(Scope("gutter_size", reading, part))
        elif self._of_this_run(item):
            self._put_in_runs("gutter_size", reading, item)
        else:
            walk.put(walk.defaults, "gutter_size", reading, item)
        if profile is not None and "gutter_profile" not in walk.defaults:
            walk.put(walk.defaults, "gutter_profile", walk.text(profile, item), item)

    def _pipe_size(self, item: Item) -> None:
        """The pipe's size, where something near says that it is a pipe's."""
        walk = self.walk
        size = pipe_size(item)
        if size is None:
            return
        nearby = self.items[max(0, self.number - 3) : self.number + 4]
        near_pipe = any(other.kind in ("downpipe", "outlet", "elbow") for other in nearby)
        if item.found is not None and item.found.what == "pipe size":
            # `112 half round, 68 round`: too narrow for a gutter
            near_pipe = near_pipe or (item.found.value or 0) <= WIDEST_SURE_PIPE_MM
        if not near_pipe and size not in KNOWN_PIPES:
            return
        if not near_pipe and any(
            other.kind == "word" or other.kind == "fascia"
            for other in self.items[max(0, self.number - 2) : self.number + 3]
        ):
            return
        reading = walk.text(size, item)
        part = self._part_behind() or self._storey_before()
        of_rest = OF_THE_OTHERS.search(self.line.text[: item.start]) is not None
        only_this = OF_THIS_ONE.match(self.line.text, item.end) is not None and not of_rest
        if part is not None:
            walk.scopes.append(Scope("size", reading, part))
        elif (
            walk.run is not None
            and walk.outlets
            and not item.marks.get("all")
            and not of_rest
            and (only_this or (self.new_run_here and "downpipe_size" in walk.defaults))
        ):
            for outlet in walk.outlets:
                walk.put(outlet.pipe.fields, "size", reading, item)
        else:
            walk.put(walk.defaults, "downpipe_size", reading, item)

    def _storey_before(self) -> str | None:
        """`ups 2x3, lowers 3x4`: the storey whose pipes have that size."""
        before = self._item_before()
        if before is None or before.kind != "place" or before.value.direction or before.value.part:
            return None
        storey: str | None = before.value.storey
        return storey

    def _pipe_size_name(self, item: Item) -> None:
        """`68s`, `eighties`: pipes called by their width, among what the gutter is made of."""
        words = [other.text.lower() for other in self.items[max(0, self.number - 2) : self.number]]
        kinds = {"gutter" if _is_gutter(other) else other.kind for other in self.items}
        of_the_job = kinds & {"profile", "material", "colour", "downpipe", "gutter"}
        if of_the_job and ("the" not in words or "downpipe" in kinds):
            self.walk.put(self.walk.defaults, "downpipe_size", self.walk.text(item.value, item), item)

    def _profile(self, item: Item) -> None:
        self._default("gutter_profile", item)

    def _material(self, item: Item) -> None:
        self._default("material", item)

    def _colour(self, item: Item) -> None:
        nxt = self._item_after()
        if item.text.lower() in ALSO_STUFF and nxt is not None and nxt.kind in ("word", "landmark"):
            self.strange.append(item.text)
            return
        last = self.items[self.number - 1] if self.number else None
        if (
            item.text.lower() in ALSO_STUFF
            and last is not None
            and last.found is not None
            and last.found.what == "angle"
        ):
            return  # `35 deg slate`: the roof's
        before = last.text.lower() if last is not None else ""
        if before in ("the", "a", "some", "any") and (nxt is None or nxt.kind == "break"):
            self.strange.append(item.text)  # `thanks for the coffee`
            return
        if before in ("a", "my", "some") and nxt is not None and not _takes_colour(nxt):
            self.strange.append(item.text)  # `I've got a coffee in the other hand`
            return
        self._name_whole_shade(item)
        self._default("colour", item)

    def _name_whole_shade(self, item: Item) -> None:
        """`royal brn`, `musk brn`: a word nobody knows right before a colour is a part of its name."""
        before = self._item_before()
        if (
            before is None
            or before.kind != "word"
            or not before.text.isalpha()
            or len(before.text) < SHORTEST_WORD
            or before.text.lower() in NO_SHADES
            or before.end != item.start - 1
            or self.walk.dialogue
        ):
            return
        whole = f"{before.text.lower()} {item.value}"
        reader = self.line.reader
        known = reader.by_phrase.get(whole) if reader is not None else None
        listed = known is not None and known.concept == "colour"
        if (
            listed or item.text.lower() != item.value
        ):  # a colour written out in a sentence has words before it
            item.value = whole
        if not listed and item.value == whole:
            item.doubts.append(f"{before.text!r} before it is not known: a part of its name?")

    def _default(self, name: str, item: Item) -> None:
        """Put what the gutter is made of into the job's defaults, or into a run's own."""
        walk = self.walk
        reading = walk.text(item.value, item)
        if item.doubts:
            reading.status, reading.why = "doubtful", "; ".join(item.doubts)
        if (
            name == "colour"
            and walk.run is not None
            and (self._place_just_before() or self._place_behind())
            and "colour" in walk.defaults
            and not item.marks.get("all")
        ):
            walk.put(walk.run.fields, name, reading, item)
        else:
            walk.put(walk.defaults, name, reading, item)


def _takes_colour(item: Item) -> bool:
    """Whether what stands behind a colour is the gutter's own: `a white gutter`, `a brown finish`."""
    return (
        item.kind in ("profile", "material", "run noun", "downpipe", "outlet", "measure", "colour", "end")
        or item.text.lower() in GUTTERS_OWN
    )


def _of_material(item: Item) -> bool:
    """Whether an item tells what gutter and pipe are made of, or how wide they are."""
    if item.kind == "measure" and item.found is not None:
        return item.found.kind != "other" or item.found.what in MATERIAL_SIZES
    return item.kind in ("profile", "material", "colour", "colour word", "downpipe")


def _is_plain_length(item: Item) -> bool:
    """Whether an item is a length, and no size by its own words."""
    return item.kind == "measure" and item.found is not None and item.found.kind != "other"


def _is_gutter(item: Item) -> bool:
    """Whether an item is a gutter's size."""
    return item.found is not None and item.found.what == "gutter size"
