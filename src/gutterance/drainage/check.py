"""One outlet's share of a roof against its gutter, hole and downpipe, by one method."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from gutterance.drainage.errors import OutOfRangeError
from gutterance.drainage.judging import judge_pipe, judge_side
from gutterance.drainage.mending import mends

if TYPE_CHECKING:
    from gutterance.drainage.judging import Judged
    from gutterance.drainage.mending import Mend, Offers
    from gutterance.drainage.method import Counted, Method
    from gutterance.drainage.rainfall import Rainfall
    from gutterance.drainage.share import Share, Strip


@dataclass(slots=True)
class Outcome:
    """What came of one share: what was counted of each strip, and each part judged; or why none of it."""

    counted: list[tuple[Strip, Counted]] = field(default_factory=list)
    area: float = 0.0
    flow: float = 0.0
    judged: list[Judged] = field(default_factory=list)
    mends: list[Mend] = field(default_factory=list)
    lacks: str | None = None


def percent(full: float) -> int:
    """How full, in whole per cent, rounded up, so that nothing over full ever reads 100 %.

    >>> percent(0.731), percent(1.0001)
    (74, 101)
    """
    return math.ceil(full * 100 - 1e-9)


def judge(share: Share, rain: Rainfall, method: Method, offers: Offers, roughness: float) -> Outcome:
    """Judge an outlet's share by one method. What the method does not reach gets no capacity and says why."""
    outcome = Outcome()
    try:
        for side in share.sides:
            outcome.counted += [(strip, method.area(strip.rise)) for strip in side.strips]
    except OutOfRangeError as error:
        outcome.lacks = str(error)
        return outcome
    outcome.area = sum(strip.plan * counted.factor for strip, counted in outcome.counted)
    outcome.flow = method.flow(outcome.area, rain)
    for side in share.sides:
        if side.length > 0:
            outcome.judged.append(judge_side(side, share, rain, method, roughness))
    if share.pipe is not None:
        outcome.judged += judge_pipe(share.gutter, share.pipe, outcome.flow, method)
    for one in outcome.judged:
        if one.full is None or one.full > 1:
            outcome.mends += list(mends(one, share, rain, method, offers))
    return outcome
