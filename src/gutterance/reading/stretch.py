"""One stretch of a line about one run: each item acted on in order, and put where it belongs."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from gutterance.measure.length import Length
from gutterance.reading.builder import OutletDraft, RunDraft, UnsidedEnd, by_ditto
from gutterance.reading.discourse import FIELD_KIND, KNOWN_PIPES, OPPOSITE, PIPE_CUES, Scope, Walk
from gutterance.reading.ditto import copied, copy_same
from gutterance.reading.items import Item, Line
from gutterance.reading.places import PlaceName
from gutterance.reading.roles import assign_roles
from gutterance.reading.sizes import gutter_width, pipe_size, pitch, profile_of, rainfall, thickness
from gutterance.sheet.models import Reading, Total

STRANGE_WORDS_BORNE = 2
"""With more unknown words than this between a number and its cue, the number is doubtful."""
LONGEST_WAIT = 2
"""How many lines later a number may still answer a question asked aloud."""
CHATTER = frozenset({"actually", "sorry", "hang on", "hold on", "wait", "rather", "no", "nope", "oops"})
"""Correcting words that are often said in passing, and that alone cast no doubt."""
SHORT_LINE = 4
SHORTEST_BARE_RUN = 3
SHORTEST_IN_INCHES = 36
UNSURE = frozenset({"not sure", "unsure", "to check", "to confirm", "to be confirmed", "tbc"})
ALSO_STUFF = frozenset(
    {
        "stone",
        "slate",
        "clay",
        "sand",
        "smoke",
        "rust",
        "pebble",
        "sandstone",
        "copper",
        "wood",
        "pearl",
        "green",
        "red",
    }
)
"""Colours that are also what a thing is made of, or part of its name: `stone pier`, `green door`."""
LONGEST_HEADING = 12
GUTTER_WIDTHS = frozenset({4, 5, 6, 7, 8, 100, 112, 115, 125, 150})
COUNT_OF = {"outlet": "outlets", "downpipe": "downpipes", "run noun": "runs"}


class Stretch:
    """One stretch of a line about one run, acted on item by item."""

    def __init__(self, line: Line, items: list[Item], walk: Walk, later: list[Item]) -> None:
        self.line = line
        self.items = items
        self.walk = walk
        self.later = later
        self.question = False
        self.number = 0
        self.negative: Item | None = None
        self.strange: list[str] = []
        self.last_thing: Item | None = None
        self.same: Item | None = None
        self.side_field: str | None = None
        self.total = next(
            (item for item in items if item.kind == "total" and not item.marks.get("remark")), None
        )

    @property
    def new_run_here(self) -> bool:
        """Whether the run in focus was named in this line."""
        return self.walk.focus_line == self.line.number

    # ------------------------------------------------------------------ the whole stretch

    def act(self) -> None:
        """Give roles, then act on each item in order."""
        assign_roles([item for item in self.items if not item.marks.get("remark")])
        self._answer_question()
        if self.question:
            self._ask()
            return
        heading = self._heading()
        named = any(item.kind == "place" for item in self.items)
        for item in self.items:
            item.marks["of the run" if named else "new sentence"] = True
        # a place comes first, though its words may stand behind what is said of it: `dp on the front, left`
        for number, item in enumerate(self.items):
            if item.kind == "place":
                self.number = number
                self._place(item)
                break
        for number, item in enumerate(self.items):
            self.number = number
            if heading or item.kind == "place" or (item.marks.get("remark") and not self._wanted(item)):
                continue
            handler = getattr(self, "_" + item.kind.replace(" ", "_"), None)
            if handler is not None:
                handler(item)
            elif item.kind == "word":
                self.strange.append(item.text)
        if self.same is not None:
            copy_same(self, self.same)
        self._leave_question()
        self._leave_correction()

    def _leave_correction(self) -> None:
        """A correcting word with nothing to correct by the end of its line, or the next: the value before it is in doubt."""
        walk = self.walk
        fixing = walk.fixing
        if fixing is None or self.later or fixing.line == self.line.number:
            return
        walk.fixing = None
        doubt_unfixed(walk, fixing)

    def _wanted(self, item: Item) -> bool:
        """`they want 5 inch K in white`: what a customer asks for is what the gutter is made of."""
        if item.marks.get("remark") not in ("customer", "materials"):
            return False
        if item.kind == "measure" and item.found is not None:
            return item.found.what in ("gutter size", "material size", "pipe size") or self._is_gutter_width(item)
        return item.kind in ("profile", "colour", "material")

    def _answer_question(self) -> None:
        """A field asked for aloud, and not answered by what comes next, is missing only where nobody answers at all."""
        asked = self.walk.asked
        if asked is None:
            return
        if self.line.number - asked.line > LONGEST_WAIT and any(
            item.kind == "measure" for item in self.items
        ):
            self.walk.asked = None
            return
        if any(item.kind == "place" for item in self.items) or any(
            item.kind == "measure" and "cue" in item.marks and item.marks["cue"].value == asked.value
            for item in self.items
        ):
            self.walk.asked = None

    def _leave_question(self) -> None:
        """`how high is it` with no number in the line: the next bare number answers it."""
        if any(
            item.kind == "measure" and not item.marks.get("remark") and "offset" not in item.marks
            for item in self.items
        ):
            open_cues = [
                i
                for i in self.items[self._last_measure() + 1 :]
                if i.kind == "cue" and not i.marks.get("used")
            ]
        else:
            open_cues = [i for i in self.items if i.kind == "cue" and not i.marks.get("used")]
        if not open_cues or any(item.kind in ("unknown", "same") and item.text != "?" for item in self.items):
            return
        cue = open_cues[-1]
        place = self.items.index(cue)
        if any(
            other.text.lower() in ("no", "theres no", "there's no", "without")
            for other in self.items[max(0, place - 2) : place]
        ):
            return
        if self.later and self.later[0].kind == "place":
            # `heights: front 9-2, back 9-8`: one cue for the numbers of all the runs of the line
            self.walk.header, self.walk.header_line = open_cues[-1], self.line.number
        else:
            self.walk.asked = open_cues[-1] if self._ends_with(place) or self.walk.dialogue else None

    def _ends_with(self, place: int) -> bool:
        return all(
            other.kind in ("filler", "colon", "mark", "break", "unknown", "word")
            for other in self.items[place + 1 :]
        )

    def _last_measure(self) -> int:
        return max((n for n, item in enumerate(self.items) if item.kind == "measure"), default=-1)

    def _ask(self) -> None:
        """A question aloud: what it names comes into focus, and nothing is put on the sheet."""
        for number, item in enumerate(self.items):
            self.number = number
            if item.kind == "place":
                self._place(item)
            elif item.kind == "cue":
                self.walk.asked = item
            elif item.kind in ("outlet", "downpipe"):
                self.walk.asked_outlet = item
            elif item.kind in ("side", "lr") and item.value in OPPOSITE:
                self.walk.asked_side = item
            self.walk.use(item)

    def _heading(self) -> bool:
        """`Downpipes:`, `Totals`: a line that only says what the next lines are about."""
        if len(self.line.items) > LONGEST_HEADING:
            return False
        said = [item for item in self.line.items if item.kind not in ("filler", "mark", "colon", "break")]
        if not said or any(item.kind not in ("downpipe", "outlet", "heading", "total") for item in said):
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
        if said[0].kind == "total":
            self.walk.totals_from = self.line.number
            self.walk.run, self.walk.outlets = None, []
            self.walk.context = None
            return True
        return False

    # ------------------------------------------------------------------ places

    def _place(self, item: Item) -> None:
        name: PlaceName = item.value
        self.walk.use(item)
        if item.marks.get("remark"):
            return
        if self._only_heading(item):
            self.walk.context = PlaceName(storey=name.storey, part=name.part)
            self.walk.pipe_list = False
        if self._is_alias(item):
            return
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
            self.walk.outlets = [self.walk.outlet_at(side, item, self.walk.text(side, item), None)]

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
        at = self.items.index(item)
        if at + 1 < len(self.items) and self.items[at + 1].text.lower() in ("one", "ones", "pipe", "pipes"):
            return True
        if self.walk.header is not None and self.walk.header_line == self.line.number:
            return True
        if name.direction is not None and name.part is None and not any(
            other.kind in ("cue", "downpipe") for other in self.items
        ):  # fmt: skip
            return False
        if any(other.kind in ("unknown", "end", "end word") for other in self.items):
            return False
        for other in self.items[self.items.index(item) + 1 :]:
            if other.kind in ("end", "end word"):
                return False
            if other.kind == "measure":
                found = other.found
                if found is not None and found.kind == "other":
                    continue
                return "cue" in other.marks or self._is_small(other)
        return True

    def _is_small(self, item: Item) -> bool:
        """Whether a number is a few inches: no run's length."""
        found = item.found
        return (
            found is not None
            and found.kind == "length"
            and settled_in_inches(found.text)
            and len(found.amounts) == 1
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
        name: PlaceName = item.value
        if name.direction or not (name.part or name.storey):
            return False
        quiet = ("place", "part", "storey", "direction", "colon", "mark", "break", "filler", "run noun")
        first = next((other for other in self.line.items if other.kind not in ("mark", "break")), None)
        if first is not None and first.kind == "filler":
            return False
        return all(other.kind in quiet for other in self.line.items)

    # ------------------------------------------------------------------ numbers

    def _measure(self, item: Item) -> None:
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
        found = item.found
        assert found is not None
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

    def _field(self, item: Item, name: str, cue: Item | None) -> None:
        """A number whose field is known."""
        walk = self.walk
        cues = [cue] if cue is not None and cue.kind == "cue" else []
        if name in ("roof_pitch", "thickness", "rainfall"):
            self._text_field(item, name, cues)
            return
        strange = item.marks.get("strange") or []
        if len(strange) > STRANGE_WORDS_BORNE:
            item.doubts.append(
                f"the words {' '.join(strange)!r} stand between the number and what it answers"
            )
        reading = walk.length(item, name, cues)
        if reading is None:
            return
        if item.marks.get("all") and name in ("wall_to_fascia", "height", "hanger_spacing", "roof_run"):
            self._for_all(name, reading, item)
        elif name in ("wall_to_fascia", "height"):
            self._pipe_field(name, reading, item)
        elif name == "offset":
            self._pipe_offset(reading, item)
        elif name == "hanger_spacing" and (walk.run is None or not self.new_run_here):
            walk.put(walk.defaults, name, reading, item)
        elif name == "length" and (
            self._in_totals() or (self.total is not None and not self._run_wants_length())
        ):
            walk.totals.append(Total(what="gutter length", value=reading))
        elif walk.run is None:
            walk.give_back(item)
        else:
            walk.put(walk.run.fields, name, reading, item)

    def _in_totals(self) -> bool:
        return self.walk.totals_from is not None and self.walk.run is None

    def _run_wants_length(self) -> bool:
        run = self.walk.run
        return run is not None and self.new_run_here and "length" not in run.fields

    def _for_all(self, name: str, reading: Reading[Any], item: Item) -> None:
        self.walk.all_line = item.line
        reading.why = f"said of all; {reading.why}" if reading.why else "said of all"
        if name == "hanger_spacing":
            self.walk.put(self.walk.defaults, name, reading, item)
        else:
            self.walk.scopes.append(Scope(name, reading, item.marks.get("all of")))
            self.walk.scope_cue = item.marks.get("cue") or Item(
                item.line, item.start, item.end, item.text, "cue", name
            )

    def _pipe_field(self, name: str, reading: Reading[Any], item: Item) -> None:
        walk = self.walk
        if walk.run is None:
            self._for_all(name, reading, item)
            return
        side: Item | None = item.marks.get("near side")
        here = [o for o in walk.run.outlets if side is not None and o.side == side.value]
        if here and len(walk.run.outlets) > 1:
            # `nine seven at the left`: of the two pipes, the one there
            everywhere, walk.outlets = walk.outlets, here
            walk.pipe_value(name, reading, item)
            walk.outlets = everywhere if len(everywhere) > 1 else list(walk.run.outlets)
            return
        walk.pipe_value(name, reading, item)

    def _pipe_offset(self, reading: Reading[Any], item: Item) -> None:
        walk = self.walk
        if walk.run is None:
            walk.give_back(item)
            return
        targets = walk.outlets or walk.run.outlets[-1:]
        if not targets:
            walk.run.pending_offsets.append(reading)
        for outlet in targets:
            outlet.pipe.offsets.append(reading)

    def _text_field(self, item: Item, name: str, cues: list[Item]) -> None:
        """A pitch, a thickness or a rainfall: kept as words in the sheet's spelling."""
        assert item.found is not None
        text = {"roof_pitch": pitch, "thickness": thickness, "rainfall": rainfall}[name](item)
        if text is None:
            return
        reading = self.walk.text(text, item, *cues)
        if item.found.doubts:
            reading.status, reading.why = "doubtful", "; ".join(item.found.doubts)
        if name == "roof_pitch" and self._of_this_run(item):
            self._put_in_runs(name, reading, item)
        else:
            self.walk.put(self.walk.defaults, name, reading, item)

    def _of_this_run(self, item: Item) -> bool:
        """Whether a size or a pitch is said of the run named in this very sentence, not of the whole job."""
        near = self.items[max(0, self.number - 3) : self.number]
        if any(other.kind in ("landmark", "cue") and other.text.lower().startswith("roof") for other in near):
            return False
        return (
            self.walk.run is not None
            and any(i.kind == "place" for i in self.items)
            and not item.marks.get("all")
        )

    def _put_in_runs(self, name: str, reading: Reading[Any], item: Item) -> None:
        walk = self.walk
        assert walk.run is not None
        for run in walk.group or [walk.run]:
            walk.put(run.fields, name, reading.model_copy(deep=True), item)

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

    def _is_gutter_width(self, item: Item) -> bool:
        """`five inch white`, `gutter 5"`, `6 inch gutter`: a width of gutter, though no profile is named."""
        found = item.found
        assert found is not None
        value = found.amounts[0].value if len(found.amounts) == 1 else None
        if value not in GUTTER_WIDTHS:
            return False
        after = self.items[self.number + 1] if self.number + 1 < len(self.items) else None
        back = self.number - 1
        while back >= 0 and (self.items[back].kind == "colon" or self.items[back].text.lower() in ("is", "size", "'s")):
            back -= 1
        before = self.items[back] if back >= 0 else None
        near = [other for other in (before, after) if other is not None]
        if any(other.kind == "profile" for other in near) or self._profile_past_comma():
            return True
        inches = found.kind == "length" and settled_in_inches(found.text)
        gutter_before = before is not None and before.kind == "run noun" and "gutter" in before.text.lower()
        gutter_after = (
            after is not None
            and after.kind == "run noun"
            and after.text.lower() in ("gutter", "gutters", "guttering", "eavestrough", "trough")
        )
        if gutter_after:
            return True
        if not inches and not (gutter_before and value < 10):
            return False
        return gutter_before or any(other.kind in ("colour", "material") for other in near)

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
        walk = self.walk
        size = gutter_width(item)
        if size is None:
            return
        profile = profile_of(item)
        reading = walk.text(size, item)
        if self._of_this_run(item):
            self._put_in_runs("gutter_size", reading, item)
        else:
            walk.put(walk.defaults, "gutter_size", reading, item)
        if profile is not None and "gutter_profile" not in walk.defaults:
            walk.put(walk.defaults, "gutter_profile", walk.text(profile, item), item)

    def _pipe_size(self, item: Item) -> None:
        walk = self.walk
        size = pipe_size(item)
        if size is None:
            return
        nearby = self.items[max(0, self.number - 3) : self.number + 4]
        near_pipe = any(other.kind in ("downpipe", "outlet", "elbow") for other in nearby)
        if not near_pipe and size not in KNOWN_PIPES:
            return
        if not near_pipe and any(
            other.kind == "word" or other.kind == "fascia"
            for other in self.items[max(0, self.number - 2) : self.number + 3]
        ):
            return
        reading = walk.text(size, item)
        if (
            walk.run is not None
            and walk.outlets
            and self.new_run_here
            and not item.marks.get("all")
            and "downpipe_size" in walk.defaults
        ):
            for outlet in walk.outlets:
                walk.put(outlet.pipe.fields, "size", reading, item)
        else:
            walk.put(walk.defaults, "downpipe_size", reading, item)

    def _bare_length(self, item: Item) -> None:
        """A number with no cue: what it answers follows from what was just said."""
        walk = self.walk
        run = walk.run
        if (
            walk.asked_side is not None
            and run is not None
            and walk.last is not None
            and walk.last[1] in ("wall_to_fascia", "height")
        ):
            side, walk.asked_side = walk.asked_side, None
            walk.outlets = [walk.outlet_at(side.value, side, walk.text(side.value, side), None)]
            self._field(item, walk.last[1], None)
            return
        if walk.asked is not None:
            asked, walk.asked = walk.asked, None
            self._field(item, "height" if asked.value == "down" else asked.value, asked)
            return
        if (
            self._is_small(item)
            and found_value(item) in GUTTER_WIDTHS
            and any(i.marks.get("except") for i in self.items)
            and (walk.scope_cue is None or walk.scope_cue.line != item.line)
        ):
            self._gutter_size(item)
            return
        if (
            walk.header is not None
            and (walk.header_line == item.line or self._goes_on_with_header(item))
            and run is not None
            and ("length" in run.fields or walk.group)
        ):
            self._field(item, "height" if walk.header.value == "down" else walk.header.value, walk.header)
            return
        if self._in_totals() or (self.total is not None and not self._run_wants_length()):
            reading = walk.length(item, "length")
            if reading is not None and self._is_long(item) and self._names_a_total():
                walk.totals.append(Total(what="gutter length", value=reading))
            else:
                walk.give_back(item)
            return
        if self._same_value(item):
            return
        if walk.fixing is not None and run is not None and self.new_run_here and self._just_named():
            self._length_of_run(item, run)
            return
        if self.walk.group and self._is_small(item) and found_value(item) in GUTTER_WIDTHS:
            self._gutter_size(item)
            return
        if walk.fixing is not None and walk.last is not None and not self._run_wants_length():
            fields, name, _ = walk.last
            if name not in FIELD_KIND and run is not None and "length" in run.fields and self._is_long(item):
                fields, name = run.fields, "length"
            if name in FIELD_KIND:
                reading = walk.length(item, name)
                if reading is not None:
                    walk.put(fields, name, reading, item)
                return
        if self._added_fraction(item):
            return
        if run is None or self._is_bare_angle(item):
            walk.give_back(item)
        elif (
            "length" not in run.fields or run.fields["length"].value is None or by_ditto(run.fields["length"])
        ):
            self._length_of_run(item, run)
        else:
            self._after_length(item, run)

    def _goes_on_with_header(self, item: Item) -> bool:
        """`ht 8 10 front`, and on the next line `9 6 back`."""
        return self.walk.header_line == item.line - 1 and len(self.line.items) <= SHORT_LINE

    def _names_a_total(self) -> bool:
        """Whether the words beside a number in the totals say that it is of the gutter."""
        return self.total is not None or any(
            other.kind in ("run noun", "count of", "cue", "colon") for other in self.items[: self.number + 3]
        )

    def _is_long(self, item: Item) -> bool:
        found = item.found
        return found is not None and (
            found.kind == "length" or len(found.amounts) > 1 or (found.value or 0) > 12
        )

    def _same_value(self, item: Item) -> bool:
        """`same fourteen`: the number that was said before for some field, so it answers that field again."""
        before = self.items[self.number - 1] if self.number else None
        run = self.walk.run
        if before is None or before.kind != "same" or run is None:
            return False
        for other in reversed(self.walk.runs):
            for outlet in other.outlets:
                for name, old in outlet.pipe.fields.items():
                    if name not in ("wall_to_fascia", "height"):
                        continue
                    reading = self.walk.length(item, name)
                    if reading is not None and reading.value == old.value:
                        reading.why = (
                            f"the same as the {other.place.name}'s {name.replace('_', ' ')}; {reading.why}"
                        )
                        self.walk.pipe_value(name, reading, item)
                        before.marks["used"] = True
                        self.same = None
                        return True
        self.walk.give_back(item)
        return False

    def _added_fraction(self, item: Item) -> bool:
        """`thirty six four` ... `and a half`: the fraction that belongs to the number said just before."""
        found = item.found
        walk = self.walk
        assert found is not None
        if walk.last is None or found.value is None or found.value >= 1 or found.kind != "bare":
            return False
        if not item.text.lower().startswith("and") and not (
            self.number and self.items[self.number - 1].text.lower() == "and"
        ):
            return False
        fields, name, _ = walk.last
        old = fields.get(name)
        if old is None or not isinstance(old.value, Length) or old.value.inches.denominator != 1:
            return False
        walk.use(item)
        new = old.model_copy(deep=True)
        new.value = Length(old.value.inches + Fraction(found.value), old.value.system)
        new.source = [*old.source, item.source()]
        new.why = (
            f"{old.why}; the fraction was added after it" if old.why else "the fraction was added after it"
        )
        fields[name] = new
        return True

    def _length_of_run(self, item: Item, run: RunDraft) -> None:
        walk = self.walk
        value = found_value(item)
        if self._is_tiny(item) or (self._is_small(item) and value is not None and value < SHORTEST_IN_INCHES):
            item.doubts.append("short for a run")
        strange = [word for word in self.strange if word.isalpha()]
        named = next((other for other in self.items if other.kind == "place"), None)
        if named is not None and named.marks.get("unknown_name"):
            item.doubts.append(
                f"{run.place.part!r} is not a place that the reader knows: taken as the run's name"
            )
        if strange:
            item.doubts.append(f"the words {' '.join(strange[-3:])!r} before it are not known")
        if (run.outlets or run.pending) and not self._just_named():
            item.doubts.append("said with no word of what it measures, after other things of this run")
        reading = walk.length(item, "length")
        if reading is None:
            return
        if run.source and run.source[0].line == item.line:
            reading.source.append(run.source[0])
        walk.put(run.fields, "length", reading, item)

    def _is_bare_angle(self, item: Item) -> bool:
        """`every corner on the bay is a forty-five`: an angle, though no corner stands beside it."""
        return found_value(item) in (45, 135) and any(other.kind in ("corner", "end", "end word") for other in self.items)

    def _is_tiny(self, item: Item) -> bool:
        """`two`: a bare number that would be a run of under three feet."""
        found = item.found
        return (
            found is not None and found.kind == "bare" and len(found.amounts) == 1 and not self.walk.metric
            and found.amounts[0].value < SHORTEST_BARE_RUN
        )  # fmt: skip

    def _just_named(self) -> bool:
        """Whether the run was named right before this number."""
        for other in reversed(self.items[: self.number]):
            if other.kind == "place":
                return True
            if other.kind not in (
                "filler",
                "colon",
                "word",
                "walk",
                "break",
                "run noun",
                "mark",
                "fix",
                "was",
            ):
                return False
        return False

    def _after_length(self, item: Item, run: RunDraft) -> None:
        """A number with no cue after the run's length is known: said again, or a pipe's, or nobody knows."""
        walk = self.walk
        if self._just_named() and self.new_run_here:
            reading = walk.length(item, "length")
            if reading is not None:
                walk.put(run.fields, "length", reading, item)
            return
        if self._said_again(item, run):
            return
        if self._chained():
            left = run.unsided[-1] if run.unsided else None
            new = walk.focus(PlaceName(number=walk.next_number()), item)
            walk.focus_line = self.line.number
            new.joined = True
            if left is not None:
                new.unsided.append(UnsidedEnd(left.item, True, "from", left.angle))
            self._length_of_run(item, new)
            return
        if walk.outlets or run.pending or run.outlets:
            name = self._likely_pipe_field(item)
            outlets = walk.outlets or run.outlets
            taken = outlets[-1].pipe.fields if outlets else run.pending
            if name not in taken:
                if not (self._plainly_height(name, taken, item) or self._plainly_wall(name, item)):
                    item.doubts.append(
                        f"said with no word of what it measures; taken as {name.replace('_', ' ')}"
                    )
                self._field(item, name, None)
                return
        walk.give_back(item)

    def _plainly_wall(self, name: str, item: Item) -> bool:
        """`DP L, 22", 9'3"`: inches right behind a pipe, and then its height; or a wall to fascia known from before."""
        if name != "wall_to_fascia" or self.strange:
            return False
        known = [o.pipe.fields.get(name) for run in self.walk.runs for o in run.outlets]
        reading = self.walk.length(item, name)
        if reading is not None and any(old is not None and old.status == "read" and old.value == reading.value for old in known):
            return True
        if not self._is_small(item):
            return False
        after = next((other for other in self.items[self.number + 1 :] if other.kind not in ("filler", "break", "mark")), None)
        return after is not None and after.kind == "measure" and self._likely_pipe_field(after) == "height"

    def _plainly_height(self, name: str, taken: dict[str, Reading[Any]], item: Item) -> bool:
        """`22 inches wall to fascia, nine foot eight, splash block`: after the one, the number in feet is the other."""
        if name != "height":
            return False
        before = next(
            (other for other in reversed(self.items[: self.number]) if other.kind != "filler"), None
        )
        if before is not None and before.kind in ("all", "downpipe") and item.marks.get("all"):
            return True
        wall = taken.get("wall_to_fascia")
        return (
            wall is not None and any(source.line == item.line for source in wall.source) and not self.strange
        )

    def _said_again(self, item: Item, run: RunDraft) -> bool:
        """Whether a number only repeats one that is known: the run's length, or what was said last."""
        walk = self.walk
        known = [(run.fields, "length")]
        if walk.last is not None:
            known.append((walk.last[0], walk.last[1]))
        known += [
            (outlet.pipe.fields, name) for outlet in walk.outlets for name in ("wall_to_fascia", "height")
        ]
        for fields, name in known:
            old = fields.get(name)
            if old is None or name not in FIELD_KIND:
                continue
            again = walk.length(item, name)
            if again is not None and again.value == old.value:
                old.source = [*old.source, item.source()]
                return True
        walk.give_back(item)
        return False

    def _chained(self) -> bool:
        """`... to an inside corner then 12 foot 3 to an outside corner`: another run without a name."""
        before = self.items[: self.number]
        walked = any(other.kind == "walk" for other in before[-4:])
        return walked and any(
            other.kind in ("end", "end word") and "side" not in other.marks for other in before[-6:]
        )

    def _likely_pipe_field(self, item: Item) -> str:
        found = item.found
        assert found is not None
        if len(found.amounts) >= 2 or (found.kind == "length" and not settled_in_inches(found.text)):
            return "height"
        return "wall_to_fascia"

    def _downpipe_name(self, item: Item) -> None:
        """`Downpipe 2:`: the name of a row, which says that pipes are listed here."""
        self.walk.use(item)
        self.walk.pipe_list = True

    def _count(self, item: Item) -> None:
        nxt = next((other for other in self.items[self.number + 1 :] if other.kind != "filler"), None)
        walk = self.walk
        walk.use(item)
        if nxt is None or nxt.kind == "colon":
            self._total_named_before(item)
            return
        what = COUNT_OF.get(nxt.kind)
        if nxt.kind in ("end", "end word") and nxt.value in ("outside corner", "inside corner"):
            what = f"{nxt.value}s"
        if self._alone_in_line(item, nxt) and what is not None:
            nxt.marks["total"] = True
            self._add_total(what, item, nxt)
            return
        if what == "runs" and item.value <= 1 and self.total is None:
            return
        if what is None or nxt.marks.get("remark"):
            self._total_named_before(item)
            if nxt.kind in ("place", "side", "lr") or (nxt.text.lower() in ("on", "at")):
                self.walk.pipe_list = self.walk.pipe_list or self._list_of_outlets()
            return
        in_totals = self.total is not None or self._in_totals() or what == "runs"
        listed = "side" not in nxt.marks and self._counts_in_line() >= 2 and not self.new_run_here
        if in_totals or listed:
            nxt.marks["total"] = True
            self._add_total(what, item, nxt)

    def _alone_in_line(self, item: Item, noun: Item) -> bool:
        """`3 dps`: a line that only counts."""
        return all(
            other is item or other is noun or other.kind in ("filler", "break", "mark", "colon")
            for other in self.line.items
        )

    def _list_of_outlets(self) -> bool:
        """`downpipes: one on the front at the left, one on ...`: outlets listed by place."""
        return any(
            other.kind in ("downpipe", "outlet") and other.plural for other in self.items[: self.number]
        )

    def _total_named_before(self, item: Item) -> None:
        """`Total DPs: 2`, `downpipes 3`."""
        if self.total is None and not self._in_totals():
            return
        for other in reversed(self.items[: self.number]):
            what = COUNT_OF.get(other.kind)
            if other.kind in ("end", "end word") and other.value in ("outside corner", "inside corner"):
                what = f"{other.value}s"
            if what is not None:
                other.marks["total"] = True
                self._add_total(what, item, other)
                return

    def _add_total(self, what: str, item: Item, noun: Item) -> None:
        value = Reading[int](value=item.value, source=[item.source(), noun.source()])
        self.walk.totals.append(Total(what=what, value=value))  # type: ignore[arg-type]
        self.walk.use(noun)

    def _counts_in_line(self) -> int:
        return sum(other.kind == "count" and other.value > 0 for other in self.items)

    # ------------------------------------------------------------------ ends

    def _end(self, item: Item) -> None:
        walk = self.walk
        run = walk.run
        if item.marks.get("total") or self._total_end(item):
            return
        if item.marks.get("end ref") or self._is_end_reference(item):
            if walk.outlets:
                walk.outlets[-1].at_end = (item.value, item)
            walk.use(item)
            return
        if item.marks.get("all") and "side" not in item.marks:
            walk.scopes.append(
                Scope("ends", walk.text(item.value, item, why="said of all"), item.marks.get("all of"))
            )
            return
        if run is None:
            return
        if self.negative is not None:
            self.negative = None
            walk.use(item)
            return
        side: Item | None = item.marks.get("side") or walk.asked_side
        walk.asked_side = None
        angle: Reading[Any] | None = None
        if "angle" in item.marks:
            angle = walk.text(item.marks["angle"], item.marks["angle item"])
        self.last_thing = item
        if side is not None:
            for which in self._which_sides(side):
                self._set_end(run, which, item, side, angle)
        elif item.value == "wall" and self._both_near():
            self._wall_of_both(item, angle)
        elif item.plural or item.marks.get("count") == 2 or self._both_near():
            self._set_end(run, "left", item, None, angle)
            self._set_end(run, "right", item, None, angle)
        else:
            run.unsided.append(UnsidedEnd(item, "length" not in run.fields, self._joined_by(), angle))
            walk.use(item)
            walk.last_side_from = None

    _end_word = _end

    def _wall_of_both(self, item: Item, angle: Reading[Any] | None) -> None:
        """`porch left 6-2, porch right 6-2, both die into the wall`: one end of each of the two runs said last."""
        said = [run for run in self.walk.runs if run.has_data][-2:]
        for run in said:
            run.unsided.append(UnsidedEnd(item, False, "", angle))
        self.walk.use(item)

    def _total_end(self, item: Item) -> bool:
        return self._in_totals() and item.kind == "end"

    def _both_near(self) -> bool:
        nxt = self.items[self.number + 1] if self.number + 1 < len(self.items) else None
        before = self.items[self.number - 1] if self.number else None
        return (
            nxt is not None
            and nxt.kind == "all"
            and nxt.text.lower() in ("both", "each", "all", "both of them")
        ) or (before is not None and before.kind == "all" and before.text.lower() in ("both", "all"))

    def _is_end_reference(self, item: Item) -> bool:
        """`drop at the cap`: the end only says where the outlet is."""
        if "side" in item.marks:
            return False
        words = []
        place = self.number - 1
        while place >= 0 and self.items[place].kind in ("filler", "place"):
            words.append(self.items[place].text.lower())
            place -= 1
        return (
            bool({"at", "by", "near", "on"} & set(words))
            and place >= 0
            and self.items[place].kind in ("outlet", "downpipe")
            and "side" not in self.items[place].marks
        )

    def _joined_by(self) -> str:
        """The word that ties an end to its run: `from a cap`, `to an outside corner`."""
        place = self.number - 1
        while place >= 0 and self.items[place].kind in ("filler", "walk", "word", "mark"):
            word = self.items[place].text.lower()
            if word in (
                "from",
                "begins",
                "beginning",
                "starts",
                "starting",
                "start",
                "starting at",
                "start at",
            ):
                return "from"
            if word in (
                "to",
                "into",
                "ends",
                "ending",
                "finishes",
                "finishing",
                "finish",
                "then",
                "meets",
                "turns",
            ):
                return "to"
            place -= 1
        after = next(
            (
                item
                for item in [*self.items[self.number + 1 :], *self.later]
                if item.kind not in ("filler", "break", "mark")
            ),
            None,
        )
        if after is not None and after.kind in ("walk", "place"):
            return "to"
        return ""

    def _which_sides(self, side: Item) -> list[str]:
        self.walk.use(side)
        if side.value == "both":
            return ["left", "right"]
        if side.value in OPPOSITE:
            return [side.value]
        last = self._last_side()
        if side.kind == "far end" and last in OPPOSITE:
            return [OPPOSITE[last]]
        if side.kind == "near end" and last in OPPOSITE:
            return [last]
        return []

    def _last_side(self) -> str:
        for other in reversed(self.items[: self.number]):
            if other.kind in ("side", "lr") and other.value in OPPOSITE:
                value: str = other.value
                return value
        return ""

    def _set_end(
        self, run: RunDraft, which: str, item: Item, side: Item | None, angle: Reading[Any] | None
    ) -> None:
        extra = [side] if side is not None else []
        self.walk.put(run.fields, f"{which}_end", self.walk.text(item.value, item, *extra), item)
        if angle is not None and angle.value != 90:
            self.walk.put(run.fields, f"{which}_angle", angle.model_copy(deep=True), item)

    # ------------------------------------------------------------------ outlets and pipes

    def _outlet(self, item: Item) -> None:
        walk = self.walk
        if item.marks.get("total") or self._in_totals() or self._only_its_size(item):
            return
        walk.use(item)
        run = walk.run
        if self.negative is not None or item.marks.get("count") == 0 or self._none_follows():
            self.negative = None
            if run is not None:
                run.no_outlet = item.source()
            return
        if run is None or item.marks.get("all"):
            return
        side: Item | None = item.marks.get("side")
        if side is None:
            self._unplaced_outlet(item, run, item.marks.get("count", 1))
        elif side.kind == "measure":
            self._offset(side, item)
        else:
            drafts = []
            old = [o for o in run.outlets if any(was.value == o.side for was in side.was)]
            if old and side.value in (*OPPOSITE, "centre"):
                # `the dp is right, not left`
                walk.outlets = old[-1:]
                self._move_side(side)
                self.last_thing = item
                return
            if (
                walk.fixing is not None
                and side.value in (*OPPOSITE, "centre")
                and run.outlets
                and not self._said_new()
            ):
                walk.outlets = [run.outlets[-1]]
                self._move_side(side)
                self.last_thing = item
                return
            for place in self._places_of(side):
                reading = walk.text(place, item, side) if place is not None else None
                if reading is not None and item.plural and side.value in OPPOSITE and "count" not in item.marks:
                    reading.status, reading.why = "doubtful", "more than one was spoken of, and one side"
                if reading is not None and side.was:
                    reading.status, reading.why = "corrected", "corrected by the measurer"
                    reading.was = [walk.text(old.value, old) for old in side.was]
                drafts.append(
                    walk.outlet_at(place, item, reading, None, new=self._said_new() and place is None)
                )
            if side.value == "named" and drafts:
                walk.use(side)
                drafts[-1].place = Reading[Any](
                    value=None, status="doubtful", source=[item.source(), side.source()],
                    why=f"said to be at the end by {side.marks['named'].name}: not known which end that is",
                )  # fmt: skip
            walk.outlets = drafts
        self.last_thing = item
        walk.list_thing = item

    _downpipe = _outlet

    def _only_its_size(self, item: Item) -> bool:
        """`2x3 downpipe`, `Downpipe: 3x4`: the words name a size, not a pipe that stands somewhere."""
        del item
        near = [
            *self.items[max(0, self.number - 2) : self.number],
            *self.items[self.number + 1 : self.number + 3],
        ]
        return (
            any(
                other.kind == "measure"
                and other.found is not None
                and other.found.what in ("material size", "pipe size")
                for other in near
            )
            and "side" not in self.items[self.number].marks
        )

    def _none_follows(self) -> bool:
        """`Outlet: none`, `drops - no`."""
        for other in self.items[self.number + 1 : self.number + 4]:
            if other.kind == "no" and other.text.lower() in ("none", "nil", "0", "zero"):
                return True
            if other.kind == "count":
                return bool(other.value == 0)
            if other.kind not in ("colon", "break", "filler", "mark"):
                return False
        return False

    def _said_new(self) -> bool:
        words = [other.text.lower() for other in self.items[max(0, self.number - 2) : self.number]]
        return any(word in ("another", "a", "second", "one more") for word in words)

    def _places_of(self, side: Item) -> list[str | None]:
        if side.value == "centre":
            self.walk.use(side)
            return ["centre"]
        sides: list[str | None] = list(self._which_sides(side))
        return sides or [None]

    def _unplaced_outlet(self, item: Item, run: RunDraft, count: int) -> None:
        walk = self.walk
        if count >= 2 and any(other.kind == "place" for other in self.later):
            # `4 ds, both ends of front and both ends of back`: listed behind
            walk.list_thing = item
            walk.outlets = []
        elif count >= 2:
            run.outlets += [OutletDraft(source=[item.source()]) for _ in range(count - len(run.outlets))]
            walk.outlets = list(run.outlets)
        elif (item.plural or self._both_near()) and run.outlets:
            walk.outlets = list(run.outlets)
        elif (item.plural or self._both_near()) and self._speaks_of_others():
            everyone = [outlet for other in walk.runs for outlet in other.outlets]
            walk.outlets = everyone[-2:] if self._both_near() else everyone
            walk.all_line = item.line
        elif self._both_near():
            run.outlets += [OutletDraft(source=[item.source()]) for _ in range(2)]
            walk.outlets = list(run.outlets)
        elif run.outlets:
            if not walk.outlets or self._said_new():
                walk.outlets = [run.outlets[-1]]
        else:
            walk.outlets = [walk.outlet_at(None, item, None, None)]

    def _speaks_of_others(self) -> bool:
        """`Both pipes are nine foot six`: said with no run named, when the run in focus has no outlet and others have."""
        return not any(other.kind == "place" for other in self.items) and any(
            run.outlets for run in self.walk.runs
        )

    def _offset(self, item: Item, thing: Item | None = None) -> None:
        """An outlet so far from an end."""
        walk = self.walk
        run = walk.run
        if item.marks.get("placed") or run is None:
            return
        item.marks["placed"] = True
        target: Item = item.marks["offset"]
        reading = walk.length(item, "distance")
        if reading is None:
            return
        walk.use(target)
        side = (
            target.value
            if target.kind in ("side", "lr") and target.value in ("left", "right", "centre")
            else None
        )
        if target.kind == "far end":
            side = OPPOSITE.get(self._last_side())
        if (
            side is None
            and target.kind in ("corner", "end word", "end")
            and walk.outlets
            and walk.outlets[-1].side in OPPOSITE
        ):
            side = walk.outlets[-1].side
        if target.value == "both":
            walk.outlets = [
                walk.outlet_at(which, item, walk.text(which, target), reading.model_copy(deep=True))
                for which in ("left", "right")
            ]
            return
        place = walk.text(side, target) if side is not None else None
        if (
            thing is None
            and walk.outlets
            and walk.outlets[-1].distance is None
            and walk.outlets[-1].side in (side, None)
        ):
            outlet = walk.outlets[-1]
            outlet.distance = reading
            if outlet.place is None:
                outlet.place = place
        else:
            outlet = walk.outlet_at(side, item, place, reading)
            walk.outlets = [outlet]
        if side is None and target.kind == "end":
            outlet.at_end = (target.value, target)

    def _side(self, item: Item) -> None:
        """A side that belongs to nothing beside it: `... and one in the middle`, `left one w/f 24`."""
        walk = self.walk
        run = walk.run
        if item.marks.get("used") or run is None:
            return
        thing = self.last_thing
        if run.no_outlet is not None and not run.outlets and thing is None:
            return
        asked = walk.asked_outlet
        if asked is not None and item.line - asked.line > LONGEST_WAIT:
            asked = walk.asked_outlet = None
        if walk.fixing is not None and walk.last is not None and thing is None:
            self._move_side(item)
            return
        if item.value == "both" and walk.outlets and all(outlet.side is None for outlet in walk.outlets):
            self._place_both(item, run)
            return
        if asked is not None and item.value in ("left", "right", "centre", "both"):
            walk.outlets = [
                walk.outlet_at(place, item, walk.text(place, item, asked), None)
                for place in self._places_of(item)
                if place is not None
            ]
            self.last_thing = asked
            return
        if item.value == "both" and self._listed_here(item):
            walk.outlets = [walk.outlet_at(which, item, walk.text(which, item), None) for which in ("left", "right")]
            return
        if item.value not in ("left", "right", "centre"):
            return
        unplaced = next((o for o in run.outlets if o.side is None and o.at_end is None), None)
        known = next((o for o in run.outlets if o.side == item.value), None)
        if known is not None:
            walk.outlets = [known]
            walk.use(item)
        elif unplaced is not None:
            unplaced.place = walk.text(item.value, item)
            walk.outlets = [unplaced]
        elif (
            self._another_of(thing)
            or walk.pipe_list
            or (thing is None and self._pipe_words_follow() and not run.outlets)
        ):
            walk.outlets = [walk.outlet_at(item.value, item, walk.text(item.value, item), None, new=True)]
        elif self._listed_here(item):
            place = walk.text(item.value, item)
            if not self._said_one():
                place.status = "doubtful"
                place.why = "an outlet was spoken of before, and only a side here"
            walk.outlets = [walk.outlet_at(item.value, item, place, None, new=True)]

    def _said_one(self) -> bool:
        """Whether `one` or `another` stands in the words right before this side."""
        before = self.items[max(0, self.number - 6) : self.number]
        return any(other.kind == "count" or other.text.lower() in ("another", "one") for other in before)

    def _listed_here(self, item: Item) -> bool:
        """`one outlet at the left of the front and one at the right of the back`: the second, where its run is named."""
        listed = self.walk.list_thing
        return (
            listed is not None and listed.line == item.line and any(other.kind == "place" for other in self.items)
            and not any(other.kind in ("end", "end word", "outlet", "downpipe") for other in self.items)
        )  # fmt: skip

    def _another_of(self, thing: Item | None) -> bool:
        """`a drop at the left and another at the right`: one more of the thing said before."""
        if thing is None or thing.kind not in ("outlet", "downpipe") or thing not in self.items:
            return False
        between = self.items[self.items.index(thing) + 1 : self.number]
        words = {other.text.lower() for other in between}
        return bool(words & {"and", "another", "one", "&", "+", "plus"}) and not any(
            other.kind == "word" for other in between
        )

    def _place_both(self, item: Item, run: RunDraft) -> None:
        """`two drops ... one each end`."""
        walk = self.walk
        first = walk.outlets[0]
        kept = [outlet for outlet in run.outlets if not any(outlet is other for other in walk.outlets)]
        walk.outlets = [
            OutletDraft(
                place=walk.text(which, item),
                pipe=first.pipe if which == "left" else OutletDraft().pipe,
                source=list(first.source),
            )
            for which in ("left", "right")
        ]
        walk.outlets[1].pipe.fields.update(
            {name: reading.model_copy(deep=True) for name, reading in first.pipe.fields.items()}
        )
        run.outlets[:] = [*kept, *walk.outlets]

    def _pipe_words_follow(self) -> bool:
        for other in [*self.items[self.number + 1 :], *self.later]:
            if other.kind == "cue":
                return other.value in PIPE_CUES
            if other.kind == "measure" and "cue" in other.marks and other.marks["cue"].kind == "cue":
                return other.marks["cue"].value in PIPE_CUES
            if other.kind == "ends at":
                return True
            if other.kind in ("end", "place"):
                return False
        return False

    def _move_side(self, item: Item) -> None:
        """`drop right, sorry, the left`: the side just said is taken back."""
        walk = self.walk
        if walk.outlets and item.value in ("left", "right", "centre"):
            outlet = walk.outlets[-1]
            new = walk.text(item.value, item)
            if outlet.place is not None and outlet.place.value != item.value:
                new.was = [outlet.place]
                new.status, new.why = "corrected", "corrected by the measurer"
            outlet.place = new
        if walk.fixing is not None:
            walk.use(walk.fixing)
            walk.fixing = None

    def _ends_at(self, item: Item) -> None:
        walk = self.walk
        run = walk.run
        if item.text.lower() == "sb" and self._measure_follows():
            walk.fixing = item
            return
        before = self.items[self.number - 1] if self.number else None
        if item.text.lower() == "ground" and before is not None and before.text.lower() == "the":
            # `because the ground falls away`
            return
        reading = walk.text(item.value, item)
        if item.was:
            reading.status, reading.why = "corrected", "corrected by the measurer"
        if "at side" in item.marks and run is not None:
            side: Item = item.marks["at side"]
            everywhere = walk.outlets
            walk.outlets = [walk.outlet_at(side.value, side, walk.text(side.value, side), None)]
            walk.pipe_value("ends_at", reading, item)
            walk.outlets = everywhere
            return
        if item.marks.get("all"):
            walk.all_line = item.line
            reading.why = "said of all"
            walk.scopes.append(Scope("ends_at", reading, item.marks.get("all of")))
        elif run is None:
            if walk.pipe_list or not walk.runs:
                reading.why = "said of all"
                walk.scopes.append(Scope("ends_at", reading))
        elif (
            walk.outlets or run.outlets or run.pending
            or any(i.kind in ("cue", "measure") for i in self.items)
            or (item.marks.get("new sentence") and any(other.outlets for other in walk.runs))
        ):  # fmt: skip
            walk.pipe_value("ends_at", reading, item)

    def _measure_follows(self) -> bool:
        nxt = self.items[self.number + 1] if self.number + 1 < len(self.items) else None
        return nxt is not None and nxt.kind == "measure"

    # ------------------------------------------------------------------ cues without numbers, and the rest

    def _cue(self, item: Item) -> None:
        if item.marks.get("used"):
            return
        self.walk.use(item)
        if any(other.kind == "unknown" and not self.question for other in self.items):
            self._missing(item)

    def _missing(self, cue: Item) -> None:
        walk = self.walk
        name = "height" if cue.value == "down" else cue.value
        why = self.line.source(self.items[0].start, self.items[-1].end)
        reading = Reading[Any](value=None, status="missing", source=[why], why=f"the note says: {why.text}")
        if walk.run is None:
            return
        if name in ("wall_to_fascia", "height"):
            walk.pipe_value(name, reading, cue)
        elif name in ("length", "roof_run"):
            walk.put(walk.run.fields, name, reading, cue)

    def _unknown(self, item: Item) -> None:
        """`didn't get the back`, `42-6?`: a field said to be missing, or a number in doubt."""
        walk = self.walk
        walk.use(item)
        before = self.items[self.number - 1] if self.number else None
        if item.text.startswith("?") and before is not None and before.kind == "measure":
            self._doubt_last(before)
            return
        if any(other.kind == "cue" and not other.marks.get("used") for other in self.items):
            return
        if walk.last is not None and walk.last[2] in self.items[: self.number] and item.text.lower() in UNSURE:
            self._doubt_last(walk.last[2])
            return
        if walk.header is not None and walk.header_line == item.line and walk.run is not None:
            self._missing(walk.header)
            return
        run = walk.run
        if item.text.startswith("?") and walk.dialogue:
            return
        if run is not None and self.new_run_here and "length" not in run.fields and not run.outlets:
            why = self.line.source(self.items[0].start, self.items[-1].end)
            reading = Reading[Any](
                value=None, status="missing", source=[why], why=f"the note says: {why.text}"
            )
            walk.put(run.fields, "length", reading, item)

    def _doubt_last(self, before: Item) -> None:
        last = self.walk.last
        if last is None or last[2] is not before:
            return
        reading = last[0].get(last[1])
        if reading is not None:
            reading.status = "doubtful"
            reading.why = (
                f"{reading.why}; the measurer put a question mark"
                if reading.why
                else "the measurer put a question mark"
            )

    def _no(self, item: Item) -> None:
        asked, self.walk.asked_outlet = self.walk.asked_outlet, None
        if (
            asked is not None
            and item.text.lower() in ("none", "no", "nil")
            and self.walk.run is not None
            and not self.walk.run.outlets
        ):
            self.walk.run.no_outlet = item.source()
            self.walk.use(item)
            return
        nxt = next((other for other in self.items[self.number + 1 :] if other.kind != "filler"), None)
        if nxt is not None and nxt.kind in ("outlet", "downpipe", "end"):
            self.negative = item
            self.walk.use(item)
        elif nxt is None or nxt.kind in ("break", "side", "measure", "place", "word", "remark"):
            self.walk.fixing = item

    def _fix(self, item: Item) -> None:
        self.walk.fixing = item
        self.walk.fixed_last = self.walk.last
        self.walk.fixed_outlets = list(self.walk.outlets)

    def _same(self, item: Item) -> None:
        walk = self.walk
        walk.use(item)
        asked, walk.asked_side = walk.asked_side, None
        if asked is not None and walk.run is not None:
            # `right? same`: the other end's value again
            other = walk.run.fields.get(f"{OPPOSITE[asked.value]}_end")
            if other is not None:
                walk.run.fields[f"{asked.value}_end"] = copied(
                    other, "same as", f"the {OPPOSITE[asked.value]} end", item
                )
                return
        self.same = item

    _mirror = _same

    def _profile(self, item: Item) -> None:
        self._default("gutter_profile", item)

    def _material(self, item: Item) -> None:
        self._default("material", item)

    def _colour(self, item: Item) -> None:
        nxt = self.items[self.number + 1] if self.number + 1 < len(self.items) else None
        if item.text.lower() in ALSO_STUFF and nxt is not None and nxt.kind in ("word", "landmark"):
            self.strange.append(item.text)
            return
        self._default("colour", item)

    def _default(self, name: str, item: Item) -> None:
        walk = self.walk
        reading = walk.text(item.value, item)
        if (
            name == "colour"
            and walk.run is not None
            and self.new_run_here
            and "colour" in walk.defaults
            and not item.marks.get("all")
        ):
            walk.put(walk.run.fields, name, reading, item)
        else:
            walk.put(walk.defaults, name, reading, item)

    def _high_point(self, item: Item) -> None:
        walk = self.walk
        if walk.run is None:
            return
        words = item.text.lower()
        place = "centre" if "mid" in words or "cent" in words else None
        if place is None:
            side = next(
                (
                    other
                    for other in self.items[self.number + 1 : self.number + 4]
                    if other.kind in ("side", "lr")
                ),
                None,
            )
            if side is None:
                return
            side.marks["used"] = True
            place = side.value
            walk.use(side)
        walk.put(walk.run.fields, "high_point", walk.text(place, item), item)

    def _falls_to(self, item: Item) -> None:
        side = next(
            (
                other
                for other in self.items[self.number + 1 : self.number + 3]
                if other.kind in ("side", "lr")
            ),
            None,
        )
        walk = self.walk
        if side is None or walk.run is None or side.value not in OPPOSITE:
            return
        side.marks["used"] = True
        reading = walk.text(OPPOSITE[side.value], item, side, why="falls away from it")
        walk.put(walk.run.fields, "high_point", reading, item)

    def _clockwise(self, item: Item) -> None:
        self.walk.clockwise = item.value == "clockwise"
        self.walk.use(item)


def found_value(item: Item) -> Fraction | None:
    """The number of a measure that has only one."""
    found = item.found
    return found.amounts[0].value if found is not None and len(found.amounts) == 1 else None


def settled_in_inches(text: str) -> bool:
    """Whether the words of a measure say inches, and no feet."""
    words = text.lower()
    return any(mark in words for mark in ('"', "”", "″", "in", "''")) and not any(
        mark in words for mark in ("ft", "foot", "feet")
    )


def doubt_unfixed(walk: Walk, fixing: Item) -> None:
    """A correcting word to which no new value was found: what was said before it is in doubt."""
    if fixing.text.lower() in CHATTER:
        return
    readings = [outlet.place for outlet in walk.fixed_outlets]
    if walk.fixed_last is not None:
        readings.append(walk.fixed_last[0].get(walk.fixed_last[1]))
    for reading in readings:
        if reading is not None and reading.status in ("read", "corrected") and reading.value is not None:
            reading.status = "doubtful"
            why = f"{fixing.text!r} was said after it"
            reading.why = f"{why}; {reading.why}" if reading.why else why
