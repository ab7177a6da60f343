"""A clause of a lettered note rewritten in the reader's plain words (its run, left and right), and heard."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from gutterance.reading.items import Item, Line
from gutterance.reading.lettered.aliases import name_of, note_aliases
from gutterance.reading.lettered.asides import only_remark
from gutterance.reading.lettered.kinds import PLACES, THINGS
from gutterance.reading.lettered.meeting import closes_here, named_end, neighbour, says_where_it_goes
from gutterance.reading.lettered.pipes import copy_labelled, doubt_length, label_heard, name_pipe_fields
from gutterance.reading.lettered.roles import END_WORDS
from gutterance.reading.speech import hear_words

if TYPE_CHECKING:
    from gutterance.reading.discourse import Walk
    from gutterance.reading.lettered.ring import Ring


def hear_of(
    line: Line,
    items: list[Item],
    walk: Walk,
    ring: Ring,
    subject: tuple[Item, str] | None,
    *,
    labelled: bool = False,
) -> None:
    """Hear a clause about one run, or about the run told of before.

    `subject` is the item that names the run, and its letter or number; `labelled` where the clause opened
    with a pipe's label, which has brought that pipe into focus.
    """
    _Clause(line, items, walk, ring, subject).hear(labelled=labelled)


class _Clause:
    """One clause about one run, rewritten item by item."""

    def __init__(
        self, line: Line, items: list[Item], walk: Walk, ring: Ring, subject: tuple[Item, str] | None
    ) -> None:
        self.line, self.items, self.walk, self.ring, self.subject = line, items, walk, ring, subject
        self.out: list[Item] = []
        self.like = next((item for item in items if item.marks.get("like pipe")), None)
        self.like = self.like or _like_the_last(items, walk, ring)
        self.label: str | None = None
        self.remarked = only_remark(items)
        self.thing = self._told_of()
        if subject is not None:
            self._name(*subject)
        self.here = ring.subject if subject is not None or walk.run is not None else None

    def _told_of(self) -> Item | None:
        """The outlet or the pipe that the clause names; under a heading not one in an aside behind."""
        for item in self.items:
            if item.kind in THINGS or item.kind == "pipe label":
                return item
            if self.ring.topic != "runs" and (item.text == "(" or item.kind == "ends at"):
                return None
        return None

    def hear(self, *, labelled: bool) -> None:
        """Rewrite the clause, hear it, and do what its pipe's label asks for."""
        closes_here(self.items, self.here, self.ring)
        self._doubt_fewer()
        self._under_heading()
        for number, item in enumerate(self.items):
            self._rewrite(number, item)
        self.out = named_end(self.out, self.ring, self.here)
        self._settle_numbers(labelled=labelled)
        hear_words(Line(self.line.number, self.line.text, self.out), self.walk)
        if self.label is not None:
            label_heard(self.label, self.walk, self.ring)
        if self.like is not None:
            copy_labelled(self.like, self.walk, self.ring)

    def _doubt_fewer(self) -> None:
        """`E left and E right. No, just one on E`: which of those told before still stand?"""
        words = [item.text.lower() for item in self.items]
        fewer = any(first in ("just", "only") and second == "one" for first, second in pairwise(words))
        run = next((run for run in self.walk.runs if run.place.number == self.here), None)
        if not fewer or run is None:
            return
        for outlet in run.outlets:
            if outlet.place is not None and outlet.place.status == "read":
                outlet.place.status, outlet.place.why = "doubtful", "then 'just one' was said of this run"

    def _name(self, item: Item, name: str) -> None:
        """The run that the clause is about, as the place that its words begin with."""
        self.ring.subject = name
        note_aliases(self.items, name, self.walk, self.ring)
        place = Item(item.line, item.start, item.end, item.text, "place", name_of(name, self.walk, self.ring))
        place.marks.update(words=[item.text.lower()], settled=True, numbered=True)
        self.out.append(place)

    def _under_heading(self) -> None:
        """`Drops:` ... `A at F`: the word for an outlet or a pipe from the heading above."""
        head = self.ring.heading
        if self.subject is None or self.thing is not None or head is None or self.remarked:
            return
        if self.ring.topic != "runs":
            self.thing = Item(head.line, head.start, head.end, head.text, head.kind, head.value)
            self.out.append(self.thing)

    def _rewrite(self, number: int, item: Item) -> None:
        """One item in the plain words of the reader."""
        if item.kind == "pipe label":
            if not item.marks.get("like pipe"):
                self.label = item.value
                self._put(item, "downpipe", "downpipe")
        elif item.kind == "names" and item.marks.get("role") == "gutter":
            gutter = self.items[number + 1]
            words = self.line.text[item.start : gutter.end]
            self.out.append(Item(item.line, item.start, gutter.end, words, "ends at", "lower gutter"))
        elif item.kind == "names":
            neighbour(self.items, number, self.out, self.ring, self.here)
        elif item.kind == "end" and self.thing is not None and self._text_behind(number) in END_WORDS:
            # `A/cap end`: at the end that has the cap
            self.out += [Item(item.line, item.start, item.start, "at", "filler", ""), item]
        elif (item.kind in PLACES and self.subject is not None and not self.remarked) or (
            item.kind == "cue" and self.thing is None and says_where_it_goes(self.items, number)
        ):
            self._put(item, "filler", "")
        elif self.like is not None and item.kind == "same":
            return
        elif self.thing is not None and _one_of_them(item):
            self.walk.use(item)
            self.thing.marks.setdefault("with", []).append(item)
        else:
            self.out.append(item)

    def _put(self, item: Item, kind: str, value: str) -> None:
        self.out.append(Item(item.line, item.start, item.end, item.text, kind, value))

    def _text_behind(self, number: int) -> str:
        return self.items[number + 1].text.lower() if number + 1 < len(self.items) else ""

    def _settle_numbers(self, *, labelled: bool) -> None:
        """Which of the bare numbers is the run's length, and which are its pipe's."""
        thing, walk = self.thing, self.walk
        if thing is not None:
            own = self._tells_its_length(thing)
            at = next((number for number, item in enumerate(self.out) if item is thing), 0) if own else 0
            name_pipe_fields(self.out[at:], walk)
            if own:
                doubt_length(self.out[:at], walk)
            if (
                not own
                and thing.kind in THINGS
                and self.ring.topic != "pipes"
                and self._tells_of_a_pipe(thing)
            ):
                self.ring.topic, self.ring.heading = "pipes", thing
        elif (labelled and sum(item.kind == "measure" for item in self.out) > 1) or (
            self.subject is not None and _tells_of_pipes(self.out, self.subject[1], walk)
        ):
            name_pipe_fields(self.out, walk)
        elif self.subject is not None:
            _plain_words_before_length(self.out)

    def _tells_its_length(self, thing: Item) -> bool:
        """`Run one is fourteen foot with a drop at the left`: the run's own length, not its pipe's height."""
        if self.subject is None or self.ring.topic != "runs" or thing.kind == "pipe label":
            return False
        name = self.subject[1]
        run = next((run for run in self.walk.runs if run.place.number == name), None)
        return run is None or "length" not in run.fields

    def _tells_of_a_pipe(self, thing: Item) -> bool:
        """Whether a clause about an outlet tells how high its pipe is, or where it ends: so will the next."""
        if not any(item.kind == "measure" for item in self.out):
            return False
        return thing.kind == "downpipe" or any(
            item.marks.get("named field")
            or (item.kind == "cue" and item.value in ("height", "wall_to_fascia"))
            for item in self.out
        )


def _one_of_them(item: Item) -> bool:
    """`One on A`: the one that is counted, where its outlet is named already."""
    return item.text.lower() in ("one", "another") and item.kind in ("measure", "count", "filler", "word")


def _like_the_last(items: list[Item], walk: Walk, ring: Ring) -> Item | None:
    """`B left two six hundred ... B right the same`: of pipes, the same as the one before."""
    same = next((item for item in items if item.kind == "same"), None)
    if (
        same is None
        or ring.topic != "pipes"
        or len(walk.outlets) != 1
        or any(item.kind == "names" for item in items)
    ):
        return None
    if not any(item.kind in ("side", "lr") for item in items):
        return None
    ring.labelled["the one before"] = walk.outlets[0]
    return Item(same.line, same.start, same.end, same.text, "pipe label", "the one before")


def _tells_of_pipes(items: list[Item], name: str, walk: Walk) -> bool:
    """`Bravo's nine two and sixteen out`: with length and outlet known, what is told is its pipe's."""
    run = next((run for run in walk.runs if run.place.number == name), None)
    if run is None or "length" not in run.fields or not run.outlets:
        return False
    if any(item.kind in ("end", "end word", "same", "fix") for item in items):
        return False
    measures = [item for item in items if item.kind == "measure"]
    told = any(
        item.kind == "ends at" or (item.kind == "cue" and item.value in ("height", "wall_to_fascia", "down"))
        for item in items
    )
    return bool(measures) and (told or len(measures) > 1)


def _plain_words_before_length(items: list[Item]) -> None:
    """`run 2 - garage, door side - 8'0`: words between a run's name and its length only say where it is."""
    for number, item in enumerate(items[1:], start=1):
        if item.kind == "measure" and item.found is not None and item.found.kind != "other":
            for other in items[1:number]:
                if other.kind == "word":
                    other.kind = "filler"
            return
        if item.kind in ("remark", "cue", "end", "end word", "same", "fix", *THINGS):
            return
