"""One stretch of a line about one run: each item acted on in order, and put where it belongs."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.reading.counts_said import CountsSaid
from gutterance.reading.discourse import OPPOSITE
from gutterance.reading.ditto import (
    copied,
    copy_length_now,
    copy_same,
    doubt_guessed,
    leave_open,
    side_behind,
    side_of_the_house,
)
from gutterance.reading.doubts_said import DoubtsSaid
from gutterance.reading.ends_said import EndsSaid
from gutterance.reading.numbers_said import NumbersSaid
from gutterance.reading.open_corrections import OpenCorrections
from gutterance.reading.questions_said import QuestionsSaid
from gutterance.reading.rest_said import RestSaid
from gutterance.reading.roles import assign_roles
from gutterance.reading.sides_said import SidesSaid
from gutterance.reading.walking_way import WalkingWay

if TYPE_CHECKING:
    from collections.abc import Callable

    from gutterance.reading.items import Item


TURNED = frozenset(
    {"other way about", "other way round", "other way around", "wrong way round", "backwards", "mixed up"}
)
"""Words for two values that change places."""


class Stretch(
    NumbersSaid,
    SidesSaid,
    EndsSaid,
    CountsSaid,
    QuestionsSaid,
    DoubtsSaid,
    RestSaid,
    OpenCorrections,
    WalkingWay,
):
    """One stretch of a line about one run, acted on item by item."""

    def act(self) -> None:
        """Give roles, then act on each item in order."""
        self._forget_ways()
        assign_roles([item for item in self.items if not item.marks.get("remark")])
        self._answer_question()
        if self.question:
            self._ask()
            return
        heading = self._heading()
        self._open_list()
        named = any(item.kind == "place" for item in self.items)
        for item in self.items:
            item.marks["of the run" if named else "new sentence"] = True
        # a place comes first, though its words may stand behind what is said of it: `dp on the front, left`
        for number, item in enumerate(self.items):
            if item.kind == "place":
                self.number = number
                self._place(item)
                break
        self._hear_way()
        self._turn_about()
        for number, item in enumerate(self.items):
            self.number = number
            if heading or item.kind == "place" or (item.marks.get("remark") and not self._wanted(item)):
                continue
            handler = HANDLERS.get(item.kind)
            if handler is not None:
                handler(self, item)
            elif item.kind == "word":
                self.strange.append(item.text)
        if self.same is not None:
            copy_same(self, self.same)
            doubt_guessed(self, self.same)
            leave_open(self, self.same)
        self._leave_question()
        self._leave_correction()
        if self.turned:
            self.walk.correct_line = 0

    def _turn_about(self) -> None:
        """`Other way about, so left is ten nine and right is ten even`: both are told anew."""
        turned = next((o for o in self.items if o.kind == "withdraw" and o.text.lower() in TURNED), None)
        anew = [other for other in self.items if other.kind == "measure" and "at side" in other.marks]
        if turned is not None and not self.walk.correct_line and self._told_anew_behind():
            self.walk.use(turned)
            self.walk.fixing, self.walk.correct_line = None, self.line.number
            for other in self.items:
                if other.kind in ("fix", "measure"):  # `sorry, those two`
                    self.walk.use(other)
                    other.kind = "filler"
        elif turned is not None and len(anew) > 1 and not self.walk.correct_line:
            self.turned = True
            self.walk.use(turned)
            self.walk.correct_line = self.line.number

    def _told_anew_behind(self) -> bool:
        """`I got those two backwards, back left is 9-0 and back right is 9-5`: each is told anew."""
        if any(other.kind == "measure" and "at side" in other.marks for other in self.items):
            return False
        behind = [
            other
            for other in self.later
            if other.line == self.line.number and other.kind not in ("filler", "mark")
        ]
        told = [at for at, other in enumerate(behind) if other.kind == "measure" and _is_a_length(other)]
        sided = [at for at in told if at and behind[at - 1].kind in ("side", "lr")]
        return len(told) == len(sided) == 2

    def _house(self, item: Item) -> None:
        """`number 6 ...`: another house, so that no run of the one before is in focus."""
        walk = self.walk
        walk.use(item)
        if self.same is None:
            walk.run, walk.outlets, walk.asked, walk.header = None, [], None, None

    def _wanted(self, item: Item) -> bool:
        """`they want 5 inch K in white`: what a customer asks for is what the gutter is made of."""
        if item.marks.get("remark") not in ("customer", "materials"):
            return False
        if item.kind == "measure" and item.found is not None:
            return item.found.what in ("gutter size", "material size", "pipe size") or self._is_gutter_width(
                item
            )
        return item.kind in ("profile", "colour", "material")

    def _same(self, item: Item) -> None:
        """`same`, `ditto`, `mirror`: the other end's value again, or a copy made once the stretch is read."""
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
        other_side = side_of_the_house(self, item)
        if other_side is not None:
            other_side.marks["used"] = True
        likened = next((o for o in self.items[self.number + 1 :] if o.kind == "ref" and o.value), None)
        if likened is not None:
            copy_length_now(self, item)
            side_behind(self, likened)  # `same as the upper right`: the right is part of that name


def _is_a_length(item: Item) -> bool:
    return item.found is not None and item.found.kind != "other"


HANDLERS: dict[str, Callable[[Stretch, Item], None]] = {
    "clockwise": Stretch._clockwise,
    "colour": Stretch._colour,
    "count": Stretch._count,
    "cue": Stretch._cue,
    "downpipe": Stretch._outlet,
    "downpipe name": Stretch._downpipe_name,
    "end": Stretch._end,
    "end pair": Stretch._end_pair,
    "end word": Stretch._end,
    "ends at": Stretch._ends_at,
    "falls to": Stretch._falls_to,
    "far end": Stretch._far_end,
    "fix": Stretch._fix,
    "house number": Stretch._house,
    "high point": Stretch._high_point,
    "material": Stretch._material,
    "measure": Stretch._measure,
    "mirror": Stretch._same,
    "no": Stretch._no,
    "outlet": Stretch._outlet,
    "part angle": Stretch._part_angle,
    "pipe size": Stretch._pipe_size_name,
    "profile": Stretch._profile,
    "rest": Stretch._rest,
    "same": Stretch._same,
    "side": Stretch._side,
    "unknown": Stretch._unknown,
}
"""What is done with each kind of item. A kind that is not here says nothing by itself."""
