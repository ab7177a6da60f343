"""Numbers with no word of what they measure: which field each answers follows from what was just said."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Any

from gutterance.measure.length import Length
from gutterance.reading.builder import RunDraft, UnsidedEnd, by_ditto
from gutterance.reading.discourse import FIELD_KIND
from gutterance.reading.fields_said import FieldsSaid
from gutterance.reading.numbers_again import NumbersAgain
from gutterance.reading.places import PlaceName
from gutterance.reading.sizes_said import GUTTER_WIDTHS
from gutterance.reading.stretch_words import found_value, settled_in_inches
from gutterance.reading.unexplained import everyday_words
from gutterance.reading.unnamed_runs import UnnamedRuns
from gutterance.sheet.models import Reading, Total

if TYPE_CHECKING:
    from gutterance.measure.found import Found
    from gutterance.reading.items import Item

NEAR_LINES = 4
"""A correction with no words stands so many lines below what it puts right at most."""
SHORT_LINE = 4
"""A line of no more items than this may go on with the column heading of the line before."""
SAID_BACK = 1
"""What one said, another says back within so many lines."""
INCHES_A_FOOT = 12
INCHES_OUT = (4, 48)
"""A bare number between these [in] before a height, in a list of pipes, is how far the wall stands back."""
SHORTEST_BARE_RUN = 3
"""A bare number smaller than this [ft] is doubtful as the length of a run."""
LOWEST_HEIGHT, HIGHEST_HEIGHT = 60, 480
"""A downpipe goes down so far [in] at least and at most, where nothing says that a number is its height."""
NARROWEST_EAVE = 2
"""No wall stands back less than this [in] behind a gutter that has a pipe."""
LOWEST_EAVE = 55
"""On a metric job a height is more than this [in], a wall to fascia less. Common practice, no source."""
SHORTEST_SURE = 18
"""A run shorter than this [in] is asked about, however its number was said."""
SHORTEST_IN_INCHES = 36
"""A number of inches smaller than this [in] is doubtful as the length of a run."""


class BareNumbers(FieldsSaid, NumbersAgain, UnnamedRuns):
    """Numbers without a cue: `front 42-6`, `... and a half`, `no, 28`, `DP L, 22", 9'3"`."""

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
            and (any(other.kind == "place" for other in self.items) or self._goes_on_with_header(item))
            and (walk.header_line == item.line or self._goes_on_with_header(item))
            and run is not None
            and ("length" in run.fields or walk.group or any(o.marks.get("except") for o in self.items))
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
        if self._same_value(item) or self._by_old_value(item) or self._told_again(item):
            return
        if item.marks.get("all") and self._said_of_all_again(item):
            return
        named = run is not None and self.new_run_here and self._just_named()
        if walk.fixing is not None and run is not None and named and self._is_long(item):
            self._length_of_run(item, run)
            return
        if self.walk.group and self._is_small(item) and found_value(item) in GUTTER_WIDTHS:
            self._gutter_size(item)
            return
        if self._corrects_what_is_of_all(item):
            return
        if walk.fixing is not None and walk.last is not None and not self._run_wants_length():
            fields, name, _ = self._like_it(item) or walk.last
            if name not in FIELD_KIND and run is not None and "length" in run.fields and self._is_long(item):
                fields, name = run.fields, "length"
            if name in FIELD_KIND and (name != "length" or self._may_be_run(item)):
                reading = walk.length(item, name)
                if reading is not None:
                    walk.put(fields, name, reading, item)
                return
        if self._added_fraction(item) or self._inches_of_last_line(item):
            return
        if run is None or self._is_bare_angle(item):
            walk.give_back(item)
        elif self._of_pipe() and (walk.outlets or run.outlets):
            self._after_length(item, run)
        elif (
            "length" not in run.fields
            or run.fields["length"].value is None
            or (by_ditto(run.fields["length"]) and self._may_replace_copy(item))
        ):
            self._length_of_run(item, run)
        else:
            self._after_length(item, run)

    def _said_of_all_again(self, item: Item) -> bool:
        """`Overhang's eighteen. Eighteen all round.`: what was told last, of every pipe."""
        walk = self.walk
        if (
            walk.last is None
            or walk.last[1] not in ("wall_to_fascia", "height")
            or walk.last[2].line != item.line
        ):
            return False
        fields, name, _ = walk.last
        reading, old = walk.length(item, name), fields.get(name)
        if reading is None or old is None or reading.value != old.value:
            walk.give_back(item)
            return False
        self._for_all(name, reading, item)
        return True

    def _corrects_what_is_of_all(self, item: Item) -> bool:
        """`soffit 18 all round. make it 17 1/2`: what was said of every pipe is put right."""
        walk = self.walk
        scope = walk.scopes[-1] if walk.scopes else None
        if walk.fixing is None or scope is None or scope.item is None or scope.field not in FIELD_KIND:
            return False
        told = scope.item
        last = walk.last[2] if walk.last is not None else None
        if not 0 <= item.line - told.line <= 1 or any(other.kind == "place" for other in self.items):
            return False
        if last is not None and (last.line, last.start) > (told.line, told.start):
            return False
        reading = walk.length(item, scope.field)
        if reading is None:
            return False
        reading.was = [*reading.was, scope.reading.model_copy(update={"was": []}), *scope.reading.was]
        if reading.status == "read":
            reading.status = "corrected"
        reading.why = f"said of all; {reading.why}; corrected by the measurer"
        scope.reading, scope.item = reading, item
        walk.use(walk.fixing)
        walk.fixing = None
        return True

    def _of_pipe(self) -> bool:
        """Whether a number stands behind a quarter, or in a list of pipes behind a run that has one."""
        run = self.walk.run
        listed = self.walk.pipe_list and run is not None and bool(run.outlets) and "length" in run.fields
        return self._of_quarter() or (
            listed and not any(other.kind in ("end", "end pair") for other in self.items)
        )

    def _of_quarter(self) -> bool:
        """`FL 24 / 9-4`, `the front one is 9-4`: what stands behind is its downpipe's."""
        said = [place for place, other in enumerate(self.items[: self.number]) if other.kind == "place"]
        if not said:
            return False
        run = self.walk.run
        follower = self.items[said[-1] + 1]
        one_of_it = (
            follower.text.lower() in ("one", "ones", "one's") and follower is not self.items[self.number]
        )
        known = run is not None and bool(run.outlets) and "length" in run.fields
        return "quarter side" in self.items[said[-1]].marks or (one_of_it and known)

    def _goes_on_with_header(self, item: Item) -> bool:
        """`ht 8 10 front`, and on the next line `9 6 back`."""
        return self.walk.header_line == item.line - 1 and len(self.line.items) <= SHORT_LINE

    def _names_a_total(self) -> bool:
        """Whether the words beside a number in the totals say that it is of the gutter."""
        return self.total is not None or any(
            other.kind in ("run noun", "count of", "cue", "colon") for other in self.items[: self.number + 3]
        )

    def _may_be_run(self, item: Item) -> bool:
        """Whether a number behind a correcting word can be a run's length: no count, and no few inches."""
        value = found_value(item)
        in_metres = value is not None and value.denominator != 1
        return (self._is_long(item) or in_metres) and not self._is_small(item)

    def _is_long(self, item: Item) -> bool:
        """Whether a number is too large for anything but a length or a height."""
        found = item.found
        return found is not None and (
            found.kind == "length" or len(found.amounts) > 1 or (found.value or 0) > 12
        )

    def _same_value(self, item: Item) -> bool:
        """`same fourteen`: the number that was said before for some field, so it answers that field again."""
        before = self._item_before()
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

    def _by_old_value(self, item: Item) -> bool:
        """`the back I said nine one, make that nine three`: the field that the old number stands in."""
        walk = self.walk
        if not item.was or walk.run is None:
            return False
        named = any(other.kind == "place" for other in self.items)
        near = [walk.run, *(run for run in reversed(walk.runs) if run is not walk.run)]
        for run in near[:1] if named else near:
            fields = [(run.fields, "length")]
            fields += [(o.pipe.fields, name) for o in run.outlets for name in ("height", "wall_to_fascia")]
            meant = [(held, name) for held, name in fields if self._holds(held, name, item.was)]
            if len(meant) == 1:
                held, name = meant[0]
                reading = walk.length(item, name)
                if reading is not None:
                    walk.put(held, name, reading, item)
                    return True
            if meant:
                return False
        return False

    def _holds(self, fields: dict[str, Reading[Any]], name: str, said: list[Item]) -> bool:
        """Whether a field holds one of the numbers that were taken back."""
        old = fields.get(name)
        if old is None or old.value is None:
            return False
        readings = [self.walk.length(one, name) for one in said]
        return any(reading is not None and reading.value == old.value for reading in readings)

    def _like_it(self, item: Item) -> tuple[dict[str, Reading[Any]], str, Item] | None:
        """`3.41, gully again` and `*3.14`: the length told last, where its figures are those put right."""
        last = self.walk.last_length
        if last is None or self.walk.last is last or item.line - last[2].line > NEAR_LINES:
            return None
        figures = ["".join(sign for sign in one.text if sign.isdigit()) for one in (last[2], item)]
        return last if sorted(figures[0]) == sorted(figures[1]) else None

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

    def _inches_of_last_line(self, item: Item) -> bool:
        """`front is twenty seven foot` / `six and a quarter outside`: a length cut in two by a line's end."""
        walk = self.walk
        found = item.found
        assert found is not None
        if walk.last is None or found.kind != "bare" or len(found.amounts) != 1 or found.value is None:
            return False
        fields, name, before = walk.last
        if (
            before.line != self.line.number - 1
            or found.value >= INCHES_A_FOOT
            or before is not walk.line_ends_with
        ):
            return False
        if any(other.kind not in ("filler", "mark") for other in self.items[: self.number]):
            return False
        old = fields.get(name)
        feet_only = (
            before.found is not None
            and len(before.found.amounts) == 1
            and before.found.amounts[0].unit == "foot"
            and before.found.amounts[0].is_whole
        )
        if old is None or not isinstance(old.value, Length) or not feet_only:
            return False
        walk.use(item)
        new = old.model_copy(deep=True)
        new.value = Length(old.value.inches + Fraction(found.value), old.value.system)
        new.source = [*old.source, item.source()]
        new.why = (
            f"{old.why}; its inches stand on the next line"
            if old.why
            else "its inches stand on the next line"
        )
        fields[name] = new
        return True

    def _length_of_run(self, item: Item, run: RunDraft) -> None:
        """The length of the run in focus, with what casts doubt on it."""
        walk = self.walk
        value = found_value(item)
        if self._is_tiny(item) or (self._is_small(item) and value is not None and value < SHORTEST_IN_INCHES):
            item.doubts.append("short for a run")
        strange = [word for word in self.strange if word.isalpha() and word.lower() not in everyday_words()]
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
        if reading.value is not None and reading.value.inches < SHORTEST_SURE and reading.status == "read":
            reading.status, reading.why = "doubtful", f"short for a run; {reading.why}"
        if run.source and run.source[0].line == item.line:
            reading.source.append(run.source[0])
        walk.put(run.fields, "length", reading, item)

    def _is_bare_angle(self, item: Item) -> bool:
        """`every corner on the bay is a forty-five`: an angle, though no corner stands beside it."""
        return found_value(item) in (45, 135) and any(
            other.kind in ("corner", "end", "end word") for other in self.items
        )

    def _is_tiny(self, item: Item) -> bool:
        """`two`: a bare number that would be a run of under three feet."""
        found = item.found
        return (
            found is not None
            and found.kind == "bare"
            and len(found.amounts) == 1
            and not self.walk.metric
            and found.amounts[0].value < SHORTEST_BARE_RUN
        )

    def _after_length(self, item: Item, run: RunDraft) -> None:
        """A number with no cue after the run's length is known: said again, or a pipe's, or nobody knows."""
        walk = self.walk
        if walk.correct_line == item.line and len(walk.outlets) == 1 and self._sided(item):
            name = self._likely_pipe_field(item)
            if name in walk.outlets[0].pipe.fields:
                self._field(item, name, None)  # `those two backwards: left is 9-0, right is 9-5`
                return
        if self._quoted(item, run):
            return
        named_now = self._just_named() and self.new_run_here and not self._pipe_before_place()
        if named_now and not self._of_pipe() and self._is_long(item):
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
            if left is not None:
                new.unsided.append(UnsidedEnd(left.item, True, "from", left.angle))
            self._length_of_run(item, new)
            return
        if self._opens_unnamed_run(item, run):
            self._length_of_run(item, self._focus_unnamed(item))
            return
        if walk.outlets or run.pending or run.outlets:
            name = self._field_before(item) or self._likely_pipe_field(item)
            outlets = walk.outlets or run.outlets
            taken = outlets[-1].pipe.fields if outlets else run.pending
            if name in taken and self._excepted():
                # `9-6 to the drain, except the right one, 10-2`
                reading = walk.length(item, name)
                if reading is not None:
                    reading.why = f"{reading.why}; an exception to what was said of both"
                    for outlet in outlets[-1:]:
                        outlet.pipe.fields[name] = reading
                    walk.last = (outlets[-1].pipe.fields, name, item)
                return
            if (
                name in taken
                and name == "height"
                and self._may_be_eave(item)
                and "wall_to_fascia" not in taken
            ):
                name = "wall_to_fascia"  # `two nine hundred, ..., three twenty as well`
                item.doubts.append("said with no word of what it measures; taken as wall to fascia")
                self._field(item, name, None)
                return
            if name == "wall_to_fascia" and self._bracketed_count(item):
                walk.give_back(item)
                return
            if name not in taken:
                if not (self._plainly_height(name, taken, item) or self._plainly_wall(name, item)):
                    item.doubts.append(
                        f"said with no word of what it measures; taken as {name.replace('_', ' ')}"
                    )
                self._field(item, name, None)
                return
        walk.give_back(item)

    def _sided(self, item: Item) -> bool:
        """Whether a side stands right before a number: `left is 9-0`."""
        before = next((o for o in reversed(self.items[: self.number]) if o.kind != "filler"), None)
        return "at side" in item.marks or (before is not None and before.kind in ("side", "lr"))

    def _pipe_before_place(self) -> bool:
        """`one pipe on the right piece, eight foot three`: of a run whose length is known."""
        named = next((at for at, other in enumerate(self.items) if other.kind == "place"), 0)
        return any(other.kind in ("outlet", "downpipe") for other in self.items[:named])

    def _bracketed_count(self, item: Item) -> bool:
        """`drops both ends (2)`: how many, and no measure."""
        value = found_value(item)
        before = self.items[self.number - 1] if self.number else None
        return value is not None and value < INCHES_OUT[0] and before is not None and before.text == "("

    def _may_replace_copy(self, item: Item) -> bool:
        """`back same as front, 38-4`: a length of its own, not the inches behind its outlet."""
        pipe_said = any(other.kind in ("outlet", "downpipe") for other in self.items[: self.number])
        return self._is_long(item) and not self._is_small(item) and not pipe_said

    def _excepted(self) -> bool:
        """Whether an exception was begun in this stretch, and the outlet in focus is a single one."""
        return len(self.walk.outlets) == 1 and any(
            other.kind == "except" for other in self.items[: self.number]
        )

    def _may_be_eave(self, item: Item) -> bool:
        """Whether a bare number on a metric job can be some hundreds of millimetres."""
        if not self.walk.metric or item.found is None or item.found.kind != "bare":
            return False
        reading = self.walk.length(item, "wall_to_fascia")
        self.walk.give_back(item)
        return reading is not None and reading.value is not None and reading.value.inches < LOWEST_EAVE

    def _field_before(self, item: Item) -> str | None:
        """`front one is 9 2, back one is 10`: the second of two answers what the first one did."""
        if self.walk.last is None or not self._of_quarter():
            return None
        _, name, before = self.walk.last
        return name if before.line == item.line and name in ("wall_to_fascia", "height") else None

    def _plainly_wall(self, name: str, item: Item) -> bool:
        """`DP L, 22", 9'3"`: inches right behind a pipe, then its height; or a wall to fascia known."""
        if name != "wall_to_fascia" or self.strange:
            return False
        if self._one_of_a_pair() or self._behind_heights(item):
            return True
        known = [o.pipe.fields.get(name) for run in self.walk.runs for o in run.outlets]
        reading = self.walk.length(item, name)
        if reading is not None and any(
            old is not None and old.status == "read" and old.value == reading.value for old in known
        ):
            return True
        value = found_value(item)
        of_list = self._of_quarter() and value is not None and INCHES_OUT[0] <= value <= INCHES_OUT[1]
        if not self._is_small(item) and not of_list:
            return False
        after = next(
            (
                other
                for other in self.items[self.number + 1 :]
                if other.kind not in ("filler", "break", "mark", "all", "side", "lr")
            ),
            None,
        )
        return after is not None and after.kind == "measure" and self._likely_pipe_field(after) == "height"

    def _one_of_a_pair(self) -> bool:
        """`dp L, 9-2, 20", splash`, `dp L 2.7 (450)`: two numbers of a pipe, one of them plainly its height.

        The other is plainly how far the wall stands back, and nothing else is measured beside them. Two bare
        whole numbers of millimetres are not so plain.
        """
        told_here = any(
            source.line == self.line.number for outlet in self.walk.outlets for source in outlet.source
        )
        if self.strange or not (
            told_here or any(o.kind in ("outlet", "downpipe") for o in self.items[: self.number])
        ):
            return False
        first = last = self.number
        while first and self._joins_values(self.items[first - 1]):
            first -= 1
        while last + 1 < len(self.items) and self._joins_values(self.items[last + 1]):
            last += 1
        pair = [other for other in self.items[first : last + 1] if other.kind == "measure"]
        if len(pair) != 2:
            return False
        if all(other.found is not None and _whole_and_bare(other.found) for other in pair):
            return False
        kinds = [self._height_or_wall(other) for other in pair]
        told = all(
            "cue" not in other.marks or _by_ending(other) or other.marks["cue"].value == kind
            for other, kind in zip(pair, kinds, strict=True)
        )
        return told and set(kinds) == {"height", "wall_to_fascia"}

    def _behind_heights(self, item: Item) -> bool:
        """`9' 4" L, 9' 10" R, 14" both`: inches behind the heights of all the pipes in focus, and of both."""
        heights = [outlet.pipe.fields.get("height") for outlet in self.walk.outlets]
        return (
            self._is_small(item)
            and self._both_near()
            and len(heights) > 1
            and all(
                height is not None and any(source.line == item.line for source in height.source)
                for height in heights
            )
        )

    def _joins_values(self, item: Item) -> bool:
        """Whether an item is one of a pipe's numbers, or a mark between them."""
        if item.kind == "measure":
            found = item.found
            return (
                found is not None and found.kind != "other" and not item.doubts and "offset" not in item.marks
            )
        return item.kind == "break" and item.strength <= 1

    def _height_or_wall(self, item: Item) -> str | None:
        """Which of a pipe's two lengths a number can only be."""
        found = item.found
        assert found is not None
        reading = self.walk.length(item, "height") if not self._is_small(item) else None
        inches = reading.value.inches if reading is not None and reading.value is not None else None
        self.walk.give_back(item)
        bare = len(found.amounts) == 1 and found.kind == "bare"
        if not self.walk.metric:
            if not bare and inches is not None and LOWEST_HEIGHT <= inches <= HIGHEST_HEIGHT:
                return "height"
            value = found_value(item)
            small = (bare or self._is_small(item)) and value is not None
            return "wall_to_fascia" if small and INCHES_OUT[0] <= (value or 0) <= INCHES_OUT[1] else None
        if inches is None or reading is None or reading.value is None or reading.value.system != "metric":
            return None
        if inches >= LOWEST_HEIGHT:
            return "height"
        return "wall_to_fascia" if NARROWEST_EAVE <= inches <= INCHES_OUT[1] else None

    def _plainly_height(self, name: str, taken: dict[str, Reading[Any]], item: Item) -> bool:
        """`22 inches wall to fascia, nine foot eight, splash block`: after the one, feet are the other."""
        if name != "height":
            return False
        before = next(
            (other for other in reversed(self.items[: self.number]) if other.kind != "filler"), None
        )
        if before is not None and before.kind in ("all", "downpipe") and item.marks.get("all"):
            return True
        if self._one_of_a_pair() or self._right_behind_its_place(item):
            return True
        listed = self.walk.pipe_list or item.line in self.walk.pipe_lines
        if listed and self._of_quarter() and not self.strange and not taken:
            return True  # `Front left: 9-1, to the drain`, below a heading of downpipes
        wall = taken.get("wall_to_fascia")
        return (
            wall is not None and any(source.line == item.line for source in wall.source) and not self.strange
        )

    def _right_behind_its_place(self, item: Item) -> bool:
        """`downspout at the left end, nine foot two`: feet, right behind where the pipe is.

        Feet or metres that a pipe can go down, of a run whose length is known. One number alone with no unit
        is not so plain, nor one of two pipes, behind words that nobody knows, or beside words that take back.
        """
        run, found = self.walk.run, item.found
        if run is None or "length" not in run.fields or found is None or self.strange or item.doubts:
            return False
        if len(self.walk.outlets) > 1 and not self._both_near():
            return False
        if _whole_and_bare(found) or any(other.kind in ("fix", "withdraw", "no") for other in self.items):
            return False
        reading = self.walk.length(item, "height")
        self.walk.give_back(item)
        if reading is None or reading.value is None or reading.status != "read":
            return False
        if not LOWEST_HEIGHT <= reading.value.inches <= HIGHEST_HEIGHT:
            return False
        told_here = any(
            source.line == self.line.number for outlet in self.walk.outlets for source in outlet.source
        )
        before = next(
            (
                other
                for other in reversed(self.items[: self.number])
                if other.kind not in ("filler", "mark", "break", "ends at")
            ),
            None,
        )
        return told_here and before is not None and before.kind == "side"

    def _said_again(self, item: Item, run: RunDraft) -> bool:
        """Whether a number only repeats one that is known: the run's length, or what was said last."""
        walk = self.walk
        known = [(run.fields, "length")]
        if walk.last is not None and "at side" not in item.marks:
            known.append((walk.last[0], walk.last[1]))
        known += [
            (outlet.pipe.fields, name) for outlet in walk.outlets for name in ("wall_to_fascia", "height")
        ]
        if walk.dialogue:
            known += self._told_right_before(item, run)
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

    def _told_right_before(self, item: Item, run: RunDraft) -> list[tuple[dict[str, Reading[Any]], str]]:
        """`Left nine eight, right ten even` / `Nine eight and ten foot`: what another says back."""
        return [
            (outlet.pipe.fields, name)
            for outlet in run.outlets
            for name, old in outlet.pipe.fields.items()
            if any(0 <= item.line - source.line <= SAID_BACK for source in old.source)
        ]

    def _chained(self) -> bool:
        """`... to an inside corner then 12 foot 3 to an outside corner`: another run without a name."""
        before = self.items[: self.number]
        walked = any(other.kind == "walk" for other in before[-4:])
        return walked and any(
            other.kind in ("end", "end word") and "side" not in other.marks for other in before[-6:]
        )

    def _likely_pipe_field(self, item: Item) -> str:
        """Which field of a pipe a bare number answers: feet are a height, inches a wall to fascia."""
        found = item.found
        assert found is not None
        reading = self.walk.length(item, "height") if self.walk.metric and found.kind == "bare" else None
        if reading is not None and reading.value is not None and reading.value.system == "metric":
            self.walk.give_back(item)
            return "height" if reading.value.inches >= LOWEST_EAVE else "wall_to_fascia"
        if len(found.amounts) >= 2 or (found.kind == "length" and not settled_in_inches(found.text)):
            return "height"
        return "wall_to_fascia"


def _whole_and_bare(found: Found) -> bool:
    """Whether a number is one whole number with no unit."""
    return found.kind == "bare" and len(found.amounts) == 1 and found.amounts[0].is_whole


def _by_ending(item: Item) -> bool:
    """`9-4 splash`, `dp 9-4`: a number that only the pipe, or what it ends at, shows to be a height."""
    cue = item.marks.get("cue")
    return cue is not None and cue.kind in ("ends at", "downpipe")
