"""Pieces onto the coils at hand, so that none runs short, and what has to be ordered."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import combinations
from typing import TYPE_CHECKING

from gutterance.stock.clock import Clock
from gutterance.stock.completion import pack
from gutterance.stock.cutting import check_length
from gutterance.stock.longest_left import keep_longest
from gutterance.stock.whole_numbers import Job, job_of, used

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gutterance.stock.filling import Plan

MOST_WEIGHED = 6
"""Of more coils of one kind than this, the longest are weighed against each other."""
_STEPS = 60_000


@dataclass(frozen=True, slots=True)
class Coil:
    """A coil at hand and what is left on it [in]."""

    name: str
    left: Fraction


@dataclass(frozen=True, slots=True)
class CoilPiece:
    """A piece to run and the coil it takes [in], its squaring trim included."""

    id: str
    length: Fraction

    def __post_init__(self) -> None:
        check_length(self.length, f"the coil for {self.id}")


@dataclass(slots=True)
class CoilUse:
    """What is run off one coil; `coil` None is coil to be ordered. Pieces stand in the order given."""

    coil: Coil | None
    pieces: list[CoilPiece] = field(default_factory=list)
    lost: Fraction = Fraction(0)

    @property
    def total(self) -> Fraction:
        """What the pieces take [in]."""
        return sum((one.length for one in self.pieces), Fraction(0))

    @property
    def left_over(self) -> Fraction | None:
        """What is left on the coil after them and the loss [in]; None for coil to be ordered."""
        return None if self.coil is None else self.coil.left - self.total - self.lost


def onto_coils(
    pieces: Sequence[CoilPiece],
    coils: Sequence[Coil],
    lost_each: Fraction = Fraction(0),
    change_worth: Fraction = Fraction(0),
) -> list[CoilUse]:
    """Which piece is run off which coil of one colour and width; what none can give comes last, to order.

    Each coil loaded loses `lost_each` [in]. No piece is begun on a coil that cannot finish it. Where the
    coils at hand can give all, those are loaded that leave the longest coil longest, a coil loaded counting
    as much as `change_worth` [in]: a remnant is used where it serves, and no coil is changed for a trifle.

    >>> pieces = [CoilPiece("a", Fraction(40)), CoilPiece("b", Fraction(25))]
    >>> coils = [Coil("full", Fraction(300)), Coil("remnant", Fraction(45))]
    >>> [(use.coil.name, [one.id for one in use.pieces]) for use in onto_coils(pieces, coils)]
    [('full', ['b']), ('remnant', ['a'])]
    >>> [use.coil.name for use in onto_coils(pieces, coils, change_worth=Fraction(60))]
    ['full']
    """
    if not pieces:
        return []
    usable = [one for one in coils if one.left > lost_each]
    found = _all_at_hand(pieces, usable, lost_each, change_worth)
    if found is None:
        found = _what_fits(pieces, usable, lost_each, change_worth)
    ranks = {one.id: rank for rank, one in enumerate(pieces)}
    for use in found:
        use.pieces.sort(key=lambda one: ranks[one.id])
    return found


def _all_at_hand(
    pieces: Sequence[CoilPiece], coils: Sequence[Coil], lost: Fraction, change_worth: Fraction
) -> list[CoilUse] | None:
    """The uses that leave the longest coil most, less what changes are worth; None where none give all."""
    total = sum((one.length for one in pieces), Fraction(0))
    weighed = sorted(coils, key=lambda one: -one.left)[:MOST_WEIGHED]
    best: tuple[Fraction, list[CoilUse]] | None = None
    for count in range(1, len(weighed) + 1):
        for some in combinations(weighed, count):
            room = sum((one.left - lost for one in some), Fraction(0))
            if room < total:
                continue
            idle = max((one.left for one in weighed if one not in some), default=Fraction(0))
            most = max(idle, min(some[0].left, room - total))
            if best is not None and change_worth * count - most >= best[0]:
                continue
            uses = _arranged(pieces, some, lost)
            if uses is None:
                continue
            longest = max([idle, *(use.left_over or Fraction(0) for use in uses)])
            score = change_worth * count - longest
            if best is None or score < best[0]:
                best = score, uses
    return best[1] if best is not None else None


def _arranged(pieces: Sequence[CoilPiece], coils: Sequence[Coil], lost: Fraction) -> list[CoilUse] | None:
    """All pieces on just these coils, as much left on one of them as can be; None where they do not fit."""
    job = _job(pieces, coils, lost)
    if job.total > sum(job.at_hand):
        return None
    plan = pack(job.sizes, job.wanted, job.at_hand, _STEPS)
    if isinstance(plan, str):
        return None
    kept = keep_longest(job, plan, job.at_hand, Clock.of(0, solver=False))
    return _named(kept.plan, job, pieces, coils, lost)


def _what_fits(
    pieces: Sequence[CoilPiece], coils: Sequence[Coil], lost: Fraction, change_worth: Fraction
) -> list[CoilUse]:
    """As much as the coils at hand can give, each filled in turn, and the rest to be ordered."""
    best: list[CoilUse] | None = None
    for order in (sorted(coils, key=lambda one: -one.left), sorted(coils, key=lambda one: one.left)):
        uses, rest = [], list(pieces)
        for coil in order:
            own = _fullest(rest, coil, lost)
            if own and sum((one.length for one in own), Fraction(0)) >= change_worth:
                uses.append(CoilUse(coil, own, lost))
                ids = {one.id for one in own}
                rest = [one for one in rest if one.id not in ids]
        if rest:
            uses.append(CoilUse(None, rest, lost))
        if best is None or _to_order(uses) < _to_order(best):
            best = uses
    return best or []


def _to_order(uses: Sequence[CoilUse]) -> Fraction:
    return sum((use.total for use in uses if use.coil is None), Fraction(0))


def _fullest(pieces: Sequence[CoilPiece], coil: Coil, lost: Fraction) -> list[CoilPiece]:
    """The pieces that use up most of a coil."""
    if not pieces:
        return []
    job = _job(pieces, [coil], lost)
    room = job.at_hand[0]
    if job.too_fine or sum(one.length for one in pieces) <= coil.left - lost:
        # in order, as far as it goes
        out, left = [], coil.left - lost
        for piece in pieces:
            if piece.length <= left:
                out.append(piece)
                left -= piece.length
        return out
    lengths = [int(one.length / job.unit) for one in pieces]
    sums = [1]
    for length in lengths:
        sums.append(sums[-1] | (sums[-1] << length) & ((1 << (room + 1)) - 1))
    left_of = sums[-1].bit_length() - 1
    out = []
    for at in range(len(pieces) - 1, -1, -1):
        if not sums[at] >> left_of & 1:
            out.append(pieces[at])
            left_of -= lengths[at]
    return out


def _job(pieces: Sequence[CoilPiece], coils: Sequence[Coil], lost: Fraction) -> Job:
    return job_of([one.length for one in pieces], [one.left - lost for one in coils], [], Fraction(0))


def _named(
    plan: Plan, job: Job, pieces: Sequence[CoilPiece], coils: Sequence[Coil], lost: Fraction
) -> list[CoilUse]:
    by_size: dict[int, list[CoilPiece]] = defaultdict(list)
    for piece in reversed(pieces):
        by_size[int(piece.length / job.unit)].append(piece)
    by_room: dict[int, list[Coil]] = defaultdict(list)
    for coil in reversed(coils):
        by_room[int((coil.left - lost) / job.unit)].append(coil)
    uses = []
    for bar, filling in plan:
        if used(job.sizes, filling):
            own = [
                by_size[size].pop()
                for size, count in zip(job.sizes, filling, strict=True)
                for _ in range(count)
            ]
            uses.append(CoilUse(by_room[bar].pop(), own, lost))
    return sorted(uses, key=lambda use: -(use.coil.left if use.coil is not None else Fraction(0)))
