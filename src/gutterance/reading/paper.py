"""A note on paper, in tables and forms: what is carried from one line to the next."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from gutterance.reading.items import Item
from gutterance.reading.outlet_answers import no_outlet, outlets
from gutterance.reading.pipe_answers import (
    pipe_ending,
    pipe_length,
    pipe_offset,
    pipe_size_answer,
    pipes_same_as_above,
)
from gutterance.reading.run_answers import (
    gutter_size,
    high_point,
    note,
    remark_behind,
    roof_pitch,
    run_end,
    run_ends,
    run_length,
    same_as_above,
)
from gutterance.reading.run_names import RunNames
from gutterance.reading.start_ends import doubt_start, settle_starts
from gutterance.reading.written_answers import Answer, read_answer

if TYPE_CHECKING:
    from collections.abc import Callable

    from gutterance.reading.builder import RunDraft
    from gutterance.reading.discourse import Walk
    from gutterance.reading.places import PlaceName

SAME_WORDS = re.compile(
    r"\A\W*(?:the\s+)?(?:same|ditto|do\.?|as|like|copy)\b(?:\s+(?:as|of|for|the|on|run|no\.?))*\s*",
    re.IGNORECASE,
)
"""Words before the run that an answer is the same as."""
ORDER = (
    "length", "left", "right", "start", "finish", "ends", "count", "outlet", "at", "wall_to_fascia", "height",
    "ends_at", "pipe_size", "offset", "roof_run", "run_roof_pitch", "run_gutter_size", "high_point", "note",
)  # fmt: skip
"""The fields of a run in the order in which a row of a table is to be read."""
OF_PIPES = frozenset({"outlet", "at", "count", "wall_to_fascia", "height", "ends_at", "pipe_size", "offset"})
"""Fields of a run's outlets and pipes."""
WITH_REMARKS = frozenset(
    {"length", "left", "right", "start", "finish", "outlet", "wall_to_fascia", "height", "ends_at"}
)
"""Fields whose answers may have a remark behind them."""


def replace_items(answer: Answer) -> Answer | None:
    """The run named in `same as front`, as an answer of its own."""
    line, start, end = answer.pieces[0]
    match = SAME_WORDS.match(line.text[start:end])
    if match is None or not line.text[start + match.end() : end].strip():
        return None
    return read_answer([(line, start + match.end(), end)])


def unknown_of(answer: Answer) -> Answer:
    """An answer that points to what is not there, as one that is not known."""
    line, start, _ = answer.pieces[0]
    return Answer(answer.pieces, [Item(line.number, start, start, "?", "unknown", "unknown")], answer.label)


@dataclass(slots=True)
class Paper:
    """What the tables and forms of a note have in common.

    `legend` has what its key says of each abbreviation; `aliases` are the names of runs by their number or
    letter; `starts_left` says whether the note tells that runs start at their left end.
    """

    walk: Walk
    legend: dict[str, Item] = field(default_factory=dict)
    aliases: dict[str, PlaceName] = field(default_factory=dict)
    letters: bool = False
    starts_left: bool | None = None
    run: RunDraft | None = None
    last: RunDraft | None = None
    form_of_runs: bool = False
    started: bool = False
    after_speech: bool = False
    parts: list[RunDraft] = field(default_factory=list)
    """The runs of the part of the house that the last block told piece by piece."""
    page: bool = False
    """Whether the layout of the note shows it to be a form, so that no label of a run is words said."""
    deferred: list[Callable[[], None]] = field(default_factory=list)

    # -------------------------------------------------------------- runs

    def focus(self, name: PlaceName, answer: Answer) -> RunDraft:
        """Bring the run of that name into focus."""
        walk = self.walk
        if self.run is None or self.run.place != name:
            self.last = self.run or self.last
            self.started = False
        run = walk.focus(name, None)
        run.tabled = True
        for line, start, end in answer.pieces:
            source = line.source(start, end)
            run.source.append(source)
            walk.use_source(source)
        walk.focus_line = answer.line.number
        self.run = run
        return run

    def name_in(self, answer: Answer, *, measured: bool) -> tuple[PlaceName | None, Item | None]:
        """The run that an answer names, and the side of it where it says one (see `RunNames.name_in`)."""
        return RunNames(self.walk, self.aliases, self.letters).name_in(answer, measured=measured)

    # -------------------------------------------------------------- answers

    def put(self, what: str, answer: Answer, *, above: RunDraft | None = None) -> None:
        """Put one answer about the run in focus on the sheet."""
        run, walk = self.run, self.walk
        if run is None:
            return
        answer.legend = self.legend
        walk.run = run
        walk.used.setdefault(answer.line.number, [])
        if answer.is_ditto and above is not None:
            if what in OF_PIPES:
                pipes_same_as_above(what, answer, walk, run, above)
            else:
                same_as_above(what, answer, walk, run, above)
            return
        if answer.of("same", "mirror") and self._same_as_named(what, answer, run):
            return
        if answer.is_empty:
            said = what in ("outlet", "count") or re.search(r"\w", answer.text)
            if what in ("outlet", "at", "count") and said and answer.text.strip() and not run.outlets:
                no_outlet(answer, walk, run)
            return
        self._put(what, answer, run, above)
        if what in WITH_REMARKS:
            remark_behind(answer, walk, run)

    def _same_as_named(self, what: str, answer: Answer, run: RunDraft) -> bool:
        """`same as front`, `ditto 2`: the answer told of another run. One not found is asked about."""
        rest = replace_items(answer)
        name = None if rest is None else self.name_in(rest, measured=False)[0]
        other = next((one for one in self.walk.runs if name is not None and one.place == name), None)
        if name is None or (name.own and other is None):
            return False
        if other is None or other is run or answer.of("mirror"):
            self.put(what, unknown_of(answer))
        elif what in OF_PIPES:
            pipes_same_as_above(what, answer, self.walk, run, other, f"the {other.place.name}")
        else:
            same_as_above(what, answer, self.walk, run, other, f"the {other.place.name}")
        return True

    def _put(self, what: str, answer: Answer, run: RunDraft, above: RunDraft | None) -> None:
        walk = self.walk
        match what:
            case "length" | "roof_run":
                run_length(answer, walk, run, what)
            case "left" | "right":
                run_end(answer, walk, run, what)
            case "start" | "finish":
                self._start_or_finish(what, answer, run)
            case "ends":
                run_ends(answer, walk, run, above)
            case "outlet" | "at" | "count":
                outlets(answer, walk, run)
            case "wall_to_fascia" | "height":
                pipe_length(answer, walk, run, what)
            case "ends_at":
                pipe_ending(answer, walk, run)
            case "pipe_size":
                pipe_size_answer(answer, walk, run)
            case "offset":
                pipe_offset(answer, walk, run)
            case "run_roof_pitch":
                roof_pitch(answer, walk, run.fields)
            case "run_gutter_size":
                gutter_size(answer, walk, run.fields)
            case "high_point":
                high_point(answer, walk, run)
            case "note":
                note(answer, walk, run)

    def _start_or_finish(self, what: str, answer: Answer, run: RunDraft) -> None:
        """The end where a run starts is its left one as the walk goes; where nobody says so it is asked."""
        left = self.starts_left is not False
        which = "left" if (what == "start") == left else "right"
        run_end(answer, self.walk, run, which)
        reading = run.fields.get(f"{which}_end")
        if self.starts_left is None and reading is not None and reading.status == "read":
            doubt_start(reading, what, which)

    def finish(self) -> None:
        """What could only be put once all runs were told: first of all which end a run starts at."""
        for act in self.deferred:
            act()
        self.deferred = []
        settle_starts(self.walk.runs)
