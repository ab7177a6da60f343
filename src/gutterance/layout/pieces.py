"""The pieces of a run: back, front and coil lengths, laps, holes, and how many people carry each."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from typing import TYPE_CHECKING

from gutterance.layout.corners import CORNER_ENDS, SQUARE, EndTakeUp
from gutterance.layout.expansion import joint_laps
from gutterance.layout.holding import merged
from gutterance.layout.outlets import blocked_zones
from gutterance.layout.splitting import lap_places
from gutterance.layout.values import Hold, LaidPiece, LaidRun, PieceEnd, PlacedOutlet, Reason
from gutterance.layout.wording import shown, signed
from gutterance.measure.length import MM_PER_INCH

if TYPE_CHECKING:
    from gutterance.shop import Shop
    from gutterance.shop.models import Material

_NOTHING = Fraction(0)
_GRID = {"imperial": Fraction(1), "metric": 10 / MM_PER_INCH}


@dataclass(slots=True)
class RunWork:
    """All that the pieces of one run are made from."""

    index: int
    run: LaidRun
    path: str
    left: EndTakeUp
    right: EndTakeUp
    outlets: list[PlacedOutlet]
    hold: list[Hold]
    length_had: str = "measured"
    guesses: list[str] = field(default_factory=list)
    material: Material | None = None
    highs: list[Fraction] = field(default_factory=list)
    joints: list[Fraction] = field(default_factory=list)


def lay_pieces(work: RunWork, shop: Shop, number_from: int = 0) -> list[LaidPiece]:
    """The pieces of one run, left to right. `number_from` is how many pieces already bear this run's id.

    back = measured + fit at each end; front = back + mitre at each corner; coil = from the leftmost to the
    rightmost edge of either + tab + squaring trim. At a lap each piece goes half the lap beyond its middle;
    at an expansion joint it stops half the joint's gap short of it. The joints put in are left in
    `work.joints`.
    """
    run, left, right = work.run, work.left, work.right
    if run.length is None or left.back is None or right.back is None:
        return [_unknown_piece(work, number_from)]
    start, end = -left.back, run.length + right.back
    if end <= start:
        says = f"{run.name}: {shown(run.length, run.system)} is too short for its two ends"
        work.hold.append(Hold(f"{work.path}.length", says, f"How long is {run.name}?"))
        return [_unknown_piece(work, number_from)]
    reach = (start - max(left.front or _NOTHING, _NOTHING), end + max(right.front or _NOTHING, _NOTHING))
    zones = blocked_zones(work.outlets, _NOTHING)
    most = work.material.joint_over.inches if work.material is not None else None
    needs_joint = most is not None and run.length > most
    limit = min(shop.longest_piece(), most) if needs_joint and most is not None else shop.longest_piece()
    laps = lap_places(reach, (start, end), zones, shop, _GRID[run.system], limit, work.highs)
    if laps is None:
        longest = shown(limit, run.system)
        says = (
            f"{run.name} is over {longest} and has no place for a lap that is clear of its outlets and ends"
        )
        work.hold.append(Hold(f"{work.path}.lap", says, f"Where may {run.name} be lapped?"))
        laps = []
    work.joints = joint_laps(laps, (start, end), most) if needs_joint and most is not None else []
    beyond = [_beyond(lap, work, shop) for lap in laps]
    edges = [start, *laps, end]
    count = len(edges) - 1
    pieces = []
    for number in range(count):
        first, last = number == 0, number == count - 1
        low = start if first else edges[number] - beyond[number - 1]
        high = end if last else edges[number + 1] + beyond[number]
        piece = LaidPiece(
            id=f"{run.id}-{number_from + number + 1}",
            run=work.index,
            number=number + 1,
            of=count,
            left=left.piece_end if first else _join(edges[number], work),
            right=right.piece_end if last else _join(edges[number + 1], work),
            start=low,
            back=high - low,
            left_turn=left.turn if first and left.turn != SQUARE and left.piece_end in CORNER_ENDS else None,
            right_turn=right.turn
            if last and right.turn != SQUARE and right.piece_end in CORNER_ENDS
            else None,
        )
        piece.why += run.gutter.why
        piece.why += _back_reasons(work, piece, laps, beyond, limit)
        _add_front_and_coil(piece, left if first else None, right if last else None, work, shop)
        _add_holes(piece, work.outlets, run, alone=count == 1)
        piece.hold = merged(work.hold, piece.hold, run.gutter.hold, *_hole_holds(piece, work.outlets, number))
        here = [one for one, _ in piece.holes]
        piece.guesses = [
            *work.guesses,
            *run.gutter.guesses,
            *(words for one in here for words in one.guesses),
        ]
        pieces.append(piece)
    _hold_lost_outlets(pieces, work)
    return pieces


def _join(at: Fraction, work: RunWork) -> PieceEnd:
    return "expansion joint" if at in work.joints else "lap"


def _beyond(lap: Fraction, work: RunWork, shop: Shop) -> Fraction:
    """How far [in] both pieces go beyond the middle of a lap; below nothing at an expansion joint."""
    return -shop.expansion.joint_gap.inches / 2 if lap in work.joints else shop.pieces.lap.inches / 2


def _hold_lost_outlets(pieces: list[LaidPiece], work: RunWork) -> None:
    """An outlet off the ends of every piece (in a made corner, say) is listed all the same, and held."""
    holes = {id(one) for piece in pieces for one, _ in piece.holes}
    for one in work.outlets:
        piece = min(pieces, key=lambda each: _off(each, one.at))
        if id(one) not in holes:
            piece.holes.append((one, None))
        elif one.at is None or _off(piece, one.at) + one.half_width <= 0:
            continue
        says = f"outlet {one.id} does not fit on a piece of {work.run.name}: it comes at an end or a corner"
        question = f"Where on {work.run.name} is outlet {one.id}?"
        piece.hold = merged(piece.hold, [Hold(f"outlets.{one.id}.distance", says, question)])


def _off(piece: LaidPiece, at: Fraction | None) -> Fraction:
    """How far [in] a point of the run lies off the ends of a piece; below nothing where it lies within."""
    if at is None or piece.start is None or piece.back is None:
        return _NOTHING
    return max(piece.start - at, at - piece.start - piece.back)


def lap_middles(pieces: list[LaidPiece], shop: Shop) -> list[Fraction]:
    """Where the laps and joints between the pieces of one run are: their middles [in from its left end]."""
    lap, gap = shop.pieces.lap.inches / 2, -shop.expansion.joint_gap.inches / 2
    return [
        piece.start + (lap if piece.left == "lap" else gap) for piece in pieces[1:] if piece.start is not None
    ]


def _unknown_piece(work: RunWork, number_from: int) -> LaidPiece:
    piece = LaidPiece(
        id=f"{work.run.id}-{number_from + 1}",
        run=work.index,
        number=1,
        of=1,
        left=work.left.piece_end,
        right=work.right.piece_end,
        start=-work.left.back if work.left.back is not None else None,
        back=None,
    )
    fit = work.left.back
    piece.holes = [(one, None if one.at is None or fit is None else one.at + fit) for one in work.outlets]
    piece.why = [reason for one in work.outlets for reason in one.why]
    piece.hold = merged(work.hold, work.run.gutter.hold, *(one.hold for one in work.outlets))
    piece.guesses = [
        *work.guesses,
        *work.run.gutter.guesses,
        *(g for one in work.outlets for g in one.guesses),
    ]
    if not piece.hold:
        piece.hold = [Hold(work.path, f"{work.run.name} cannot be worked out", None)]
    return piece


_JOINED: dict[PieceEnd, str] = {"lap": "lap", "expansion joint": "joint"}
_HALF: dict[PieceEnd, str] = {"lap": "half the lap", "expansion joint": "half the joint's gap"}


def _back_reasons(
    work: RunWork, piece: LaidPiece, laps: list[Fraction], beyond: list[Fraction], limit: Fraction
) -> list[Reason]:
    run = work.run
    assert run.length is not None
    first, last = piece.number == 1, piece.number == piece.of
    measured = f"{work.length_had} {shown(run.length, run.system)}"
    if piece.of == 1:
        why = [Reason("back", measured, run.length, f"{work.path}.length")]
    else:
        longest = shown(limit, run.system)
        says = f"{measured}, over {longest}: piece {piece.number} of {piece.of}"
        why = [Reason("back", says, run.length if last else None, f"{work.path}.length")]
        if not last:
            to, half = laps[piece.number - 1], beyond[piece.number - 1]
            what = _JOINED[piece.right]
            why.append(Reason("back", f"to a {what}'s middle at {shown(to, run.system)}", to))
            why.append(Reason("back", f"{signed(half, run.system)} {_HALF[piece.right]}, right", half))
        if not first:
            off, half = laps[piece.number - 2], beyond[piece.number - 2]
            what = _JOINED[piece.left]
            why.append(Reason("back", f"less the {shown(off, run.system)} up to a {what}'s middle", -off))
            why.append(Reason("back", f"{signed(half, run.system)} {_HALF[piece.left]}, left", half))
    ends = ([work.left] if first else []) + ([work.right] if last else [])
    return why + [one for end in ends for one in end.why if one.number == "back"]


def _add_front_and_coil(
    piece: LaidPiece, left: EndTakeUp | None, right: EndTakeUp | None, work: RunWork, shop: Shop
) -> None:
    ends = [one for one in (left, right) if one is not None]
    assert piece.back is not None
    if any(one.front is None for one in ends):
        return
    lips = [one.front or _NOTHING for one in ends]
    piece.front = piece.back + sum(lips, _NOTHING)
    system = work.run.system
    piece.why.append(Reason("front", f"back {shown(piece.back, system)}", piece.back))
    piece.why += [reason for one in ends for reason in one.why if reason.number == "front"]
    if piece.front <= 0:
        says = f"{piece.id} is too short for its mitres: its front would be nothing"
        piece.hold.append(Hold(f"{work.path}.length", says, f"How long is {work.run.name}?"))
        piece.front = None
        return
    # an end whose front lip is longer reaches beyond the back; one whose lip is shorter does not reach less
    beyond = sum((max(lip, _NOTHING) for lip in lips), _NOTHING)
    tab = sum((one.tab for one in ends), _NOTHING)
    trim = shop.pieces.squaring_trim.inches
    piece.left_tab = left.tab if left is not None else _NOTHING
    piece.right_tab = right.tab if right is not None else _NOTHING
    piece.blank_left = piece.left_tab + max((left.front if left is not None else None) or _NOTHING, _NOTHING)
    piece.blank_right = piece.right_tab + max(
        (right.front if right is not None else None) or _NOTHING, _NOTHING
    )
    piece.coil = piece.back + beyond + tab + trim
    piece.why.append(Reason("coil", f"back {shown(piece.back, system)}", piece.back))
    if beyond:
        says = f"{signed(beyond, system)} where the front reaches beyond the back"
        piece.why.append(Reason("coil", says, beyond))
    piece.why += [reason for one in ends for reason in one.why if reason.number == "coil"]
    piece.why.append(
        Reason("coil", f"{signed(trim, system)} squaring trim: each piece starts from a square cut", trim)
    )
    piece.why.append(Reason("blank", f"back {shown(piece.back, system)}", piece.back))
    for side, beyond_it in (("left", piece.blank_left), ("right", piece.blank_right)):
        if beyond_it:
            says = f"{signed(beyond_it, system)} beyond the back at the {side}: lip and tab"
            piece.why.append(Reason("blank", says, beyond_it))
    piece.carriers = max(1, int(-((piece.back + beyond) // -shop.pieces.carry_each.inches)))


def _add_holes(piece: LaidPiece, outlets: list[PlacedOutlet], run: LaidRun, *, alone: bool) -> None:
    assert piece.start is not None
    assert piece.back is not None
    for one in outlets:
        if one.at is None:
            # listed on the first piece, so that it is not lost; the hold says its place is open
            if alone or piece.number == 1:
                piece.holes.append((one, None))
            continue
        from_left = one.at - piece.start
        if 0 <= from_left <= piece.back:
            piece.holes.append((one, from_left))
            piece.why += one.why
            if piece.start != 0:
                says = f"{signed(-piece.start, run.system)} from the run's left end to the piece's"
                piece.why.append(Reason(f"outlets.{one.id}", says, -piece.start))


def _hole_holds(piece: LaidPiece, outlets: list[PlacedOutlet], number: int) -> list[list[Hold]]:
    """Holds of the outlets on this piece, and of any outlet that could be on it."""
    here = {id(one) for one, _ in piece.holes}
    return [one.hold for one in outlets if id(one) in here or (one.at is None and number >= 0)]
