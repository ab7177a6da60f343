"""What stands on each label: one for a piece, one for each cut of pipe; more where outlets need more room."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from gutterance.lists.pipe_cutting import cuts_of
from gutterance.render.plain import cut, tape

if TYPE_CHECKING:
    from gutterance.lists.models import DownpipeList, Hold, Hole, Lists, Piece

OUTLETS_A_LABEL = 3
UNKNOWN = "length ?"
LONGEST_WHY = 62
"""More characters than this would be too small to read on a label."""


@dataclass(frozen=True, slots=True)
class LabelFacts:
    """The words of one label. `piece` is drawn with its ends where there is one."""

    job: str
    code: str
    name: str
    length: str
    beside: tuple[str, ...] = ()
    below: tuple[str, ...] = ()
    held: str = ""
    piece: Piece | None = None
    part: str = field(default="")
    """Which kind of pipe part it is, for its picture: gooseneck, wall pipe, tail, or another."""


def label_facts(lists: Lists, code: str) -> list[LabelFacts]:
    """Labels in the order things are made: pieces in machine order, then pipe; then what is on hold."""
    ready = {one.id: one for one in lists.pieces if not one.hold}
    order = [ready.pop(one) for one in lists.machine_order if one in ready]
    job = lists.title or ""
    made = [*order, *ready.values()]
    out = [
        label
        for number, piece in enumerate(made, start=1)
        for label in _piece(piece, f"{number} of {len(made)} off the machine", job, code)
    ]
    out += [label for pipe in lists.downpipes if not pipe.hold for label in _pipe(pipe, job, code)]
    out += [label for piece in lists.pieces if piece.hold for label in _piece(piece, "", job, code)]
    out += [label for pipe in lists.downpipes if pipe.hold for label in _pipe(pipe, job, code)]
    return out


def _piece(piece: Piece, order: str, job: str, code: str) -> list[LabelFacts]:
    """Its label, and one more for each few outlets beyond those that have room on it."""
    kind = " ".join(one for one in (piece.size, piece.profile, piece.colour) if one)
    beside = [f"front {tape(piece.front)}", f"run off {tape(piece.coil)}"]
    holes = [_hole(one) for one in piece.outlets]
    groups = [holes[at : at + OUTLETS_A_LABEL] for at in range(0, len(holes), OUTLETS_A_LABEL)] or [[]]
    labels = []
    for number, group in enumerate(groups, start=1):
        which = f"label {number} of {len(groups)}" if len(groups) > 1 else ""
        top = [one for one in (piece.run_name, kind, order, which) if one]
        labels.append(
            LabelFacts(
                job=job,
                code=code,
                name=piece.id,
                length=tape(piece.back) if piece.back is not None else UNKNOWN,
                beside=(*beside, " · ".join(top)),
                below=_below(group or ["no outlet in it"], piece.hold),
                held="ON HOLD: DO NOT MAKE" if piece.hold else "",
                piece=piece,
            )
        )
    return labels


def _which(part: str, pipe: DownpipeList) -> str:
    """Which of several lengths of wall pipe a part is."""
    number = part.rpartition(" wall pipe ")[2]
    many = len(pipe.wall_cuts)
    return f"{number} of {many} from the top" if many > 1 and number.isdigit() else ""


def _below(says: list[str], hold: list[Hold]) -> tuple[str, ...]:
    """The lines below the picture, with the reason of a hold where it can be read there."""
    why = [f"? {one.says}" for one in hold[:1]]
    if why and len(why[0]) > LONGEST_WHY:
        why = ["? why: see the office summary"]
    return tuple([*says, *why][:OUTLETS_A_LABEL])


def _hole(hole: Hole) -> str:
    size = f" {hole.size}" if hole.size else ""
    return f"outlet{size} {hole.id}: {tape(hole.from_left)} from left"


def _pipe(pipe: DownpipeList, job: str, code: str) -> list[LabelFacts]:
    """A label for each cut; for a pipe on hold whose cuts are not known, one that says so."""
    kind = " ".join(one for one in (pipe.size, pipe.colour) if one)
    place = " · ".join(one for one in (pipe.place, kind) if one)
    held = "ON HOLD: DO NOT CUT" if pipe.hold else ""
    cuts = [(cut(length), part) for length, part in cuts_of(pipe)]
    if pipe.hold and not cuts:
        cuts = [(UNKNOWN, f"{pipe.id} pipe")]
    below = _below([f"ends at {pipe.ends_at}"] if pipe.ends_at else [], pipe.hold)
    return [
        LabelFacts(
            job=job,
            code=code,
            name=part,
            length=length,
            beside=("downpipe", _which(part, pipe), place),
            below=below,
            held=held,
            part=part.removeprefix(pipe.id).strip(),
        )
        for length, part in cuts
    ]
