"""The lists as they are ticked: what to make in the machine's order, what is made and hung, what waits."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

from gutterance.jobs.making import made_by, other_numbers, things_to_make
from gutterance.jobs.ticking import ticks_in
from gutterance.lists.models import Piece
from gutterance.render.cutlist import coil_words, end_words
from gutterance.render.downpipelist import bend_words
from gutterance.render.plain import cut, short, tape

if TYPE_CHECKING:
    from gutterance.jobs.listing import JobLists
    from gutterance.jobs.ticking import Tick
    from gutterance.lists.models import DownpipeList, Hold


@dataclass(frozen=True, slots=True)
class ToMake:
    """A piece or a downpipe as the operator needs it: the number to run first, then what else to know.

    `first` is what is measured off: the back of a piece, the wall pipe of a downpipe. `run_off` is what the
    machine runs, square at both ends, where that differs. `lines` are the rest, a label and a value each;
    `says` are words to it, each with its sign. `numbers` vouch for what is ticked.
    """

    path: str
    name: str
    what: str
    first_label: str
    first: str
    run_off: str
    lines: tuple[tuple[str, str], ...]
    says: tuple[tuple[str, str], ...]
    numbers: str
    meanwhile: str
    holds: tuple[tuple[str, str], ...]
    made: Tick | None
    hung: Tick | None

    @property
    def made_as(self) -> tuple[str, str] | None:
        """Where it was made by other numbers than the list has now: what differs, then and now."""
        ticked = self.made or self.hung
        if ticked is None or ticked.numbers == self.numbers:
            return None
        return other_numbers(ticked.numbers, self.numbers)

    @property
    def state(self) -> str:
        """`on hold`, `look at it`, `hung`, `made`, or `to make`."""
        if self.holds and self.made is None:
            return "on hold"
        if self.holds or self.made_as:
            return "look at it"
        return "hung" if self.hung is not None else "made" if self.made is not None else "to make"


@dataclass(frozen=True, slots=True)
class ListsShown:
    """All that the lists page and the crew's view show of a job at one revision."""

    id: str
    title: str
    revision: int
    code: str
    pieces: list[ToMake]
    pipes: list[ToMake]
    held: list[ToMake]
    coils: list[str]
    rounding: str
    hazards: list[tuple[str, str]]
    rules: list[tuple[str, str]]
    assumed: list[str]
    hardware: list[tuple[str, str]]

    @property
    def ready(self) -> list[ToMake]:
        """Everything that may be made, pieces first."""
        return [*self.pieces, *self.pipes]

    def count(self, state: str) -> int:
        """How many pieces and pipes, those on hold among them, are in a state."""
        return Counter(one.state for one in (*self.ready, *self.held))[state]


def lists_shown(found: JobLists) -> ListsShown:
    """The lists of a job, in the machine's order; what is on hold stands apart."""
    lists = found.lists
    ticks = ticks_in(found.stands.events)
    meanwhile = {one.piece: ", ".join(one.hang) for one in lists.machine_steps}
    rows = {}
    for path, thing in things_to_make(lists):
        made, hung = ticks.get((path, "made")), ticks.get((path, "hung"))
        rows[path] = (
            _piece(path, thing, made, hung, meanwhile.get(thing.id, ""))
            if isinstance(thing, Piece)
            else _pipe(path, thing, made, hung)
        )
    in_order = [f"pieces.{one}" for one in lists.machine_order]
    return ListsShown(
        found.stands.job.id,
        found.stands.sheet.title or found.stands.job.title,
        found.stands.job.revision,
        found.code,
        [rows[path] for path in in_order],
        [rows[path] for path in rows if path.startswith("downpipes.") and not rows[path].holds],
        [row for row in rows.values() if row.holds],
        [coil_words(one) for one in lists.coil_runs],
        lists.rounding,
        [(one.says, one.source or "") for one in lists.cautions if one.about is not None],
        [(one.says, one.source or "") for one in lists.cautions if one.about is None],
        list(lists.assumed),
        [(one.item, f"{one.count} {one.unit}" + (f" and {one.spare} spare" if one.spare else ""))
         for one in lists.hardware],
    )  # fmt: skip


def _piece(path: str, piece: Piece, made: Tick | None, hung: Tick | None, meanwhile: str) -> ToMake:
    lines = [("front", tape(piece.front))]
    run_off = tape(piece.blank) if piece.blank is not None and piece.blank != piece.back else ""
    if run_off:
        lines.append(("run off, square", run_off))
    lines += [("left end", end_words(piece, "left")), ("right end", end_words(piece, "right"))]
    for hole in piece.outlets:
        size = f"hole {hole.size}" if hole.size else "hole"
        where = f"{tape(hole.from_left)} from left, {tape(hole.from_right)} from right"
        lines.append((size, where))
        if run_off and hole.blank_from_left is not None:
            on_blank = f"{tape(hole.blank_from_left)} from left, {tape(hole.blank_from_right)} from right"
            lines.append(("on what was run off", on_blank))
    for side, tab in (("left", piece.left_tab), ("right", piece.right_tab)):
        if tab is not None:
            lines.append((f"{side} tab", short(tab)))
    says = [("~", one) for one in piece.guesses]
    if piece.carriers is not None and piece.carriers > 1:
        says.append(("", f"{piece.carriers} to carry"))
    if piece.of > 1:
        says.append(("", f"piece {piece.number} of {piece.of} of {piece.run_name}"))
    what = ", ".join(one for one in (piece.size, piece.profile, piece.colour) if one)
    return ToMake(
        path, piece.id, what, "back", tape(piece.back), run_off, tuple(lines), tuple(says), made_by(piece),
        meanwhile, _holds(piece.hold), made, hung,
    )  # fmt: skip


def _pipe(path: str, pipe: DownpipeList, made: Tick | None, hung: Tick | None) -> ToMake:
    lines = []
    if pipe.gooseneck is not None:
        lines.append(("gooseneck", f"{cut(pipe.gooseneck)}, drop {short(pipe.drop)}"))
    if len(pipe.wall_cuts) > 1:
        lines.append(("in lengths", f"{' + '.join(cut(one) for one in pipe.wall_cuts)}, top first"))
    lines += [(bend.what, bend_words(bend)) for bend in pipe.bends]
    if pipe.tail is not None:
        lines.append(("tail", cut(pipe.tail)))
    if pipe.parts:
        lines.append(("parts", ", ".join(f"{part.count} {part.what}" for part in pipe.parts)))
    if pipe.straps:
        lines.append(("straps up from its foot", ", ".join(tape(one) for one in pipe.straps)))
    if pipe.ends_at:
        lines.append(("ends at", pipe.ends_at))
    what = ", ".join(one for one in (pipe.size, pipe.colour, pipe.place) if one)
    return ToMake(
        path, pipe.id, what, "wall pipe", cut(pipe.wall_pipe), "", tuple(lines),
        tuple(("~", one) for one in pipe.says), made_by(pipe),
        "", _holds(pipe.hold), made, hung,
    )  # fmt: skip


def _holds(holds: list[Hold]) -> tuple[tuple[str, str], ...]:
    return tuple(dict.fromkeys((one.says, one.question or "") for one in holds))
