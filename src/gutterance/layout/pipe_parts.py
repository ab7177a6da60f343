"""The parts of a downpipe: elbows by kind, branches, what its ending needs, and how many joints there are."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from gutterance.layout.bends import ROUND, SIDEWAYS
from gutterance.layout.pipe_words import elbow_name
from gutterance.layout.values import ElbowKind, LaidPipe, Reason

if TYPE_CHECKING:
    from fractions import Fraction

    from gutterance.shop import Shop


def count_parts(laid: LaidPipe, reach: Fraction | None, path: str, shop: Shop) -> None:
    """Put the parts and the joints between them on a pipe. Straps are counted with its wall pipe."""
    elbows: Counter[ElbowKind] = Counter()
    others: Counter[str] = Counter()
    reasons: list[Reason] = []
    if reach != 0:
        elbows["front"] += 2
        reasons.append(Reason("parts", "2 elbows at the top", None, f"{path}.wall_to_fascia"))
    for bend in laid.bends:
        if bend.way == "arm":
            elbows["side"] += 1
            elbows["front"] += 2 if reach != 0 else 0
            others[shop.downpipes.branch] += 1
            at_top = "2 elbows at its top, " if reach != 0 else ""
            reasons.append(
                Reason("parts", f"{at_top}1 elbow and 1 {shop.downpipes.branch} for the {bend.what}")
            )
            continue
        count = 4 if bend.way == ROUND else 2
        elbows["side" if bend.way == SIDEWAYS else "front"] += count
        reasons.append(Reason("parts", f"{count} elbows at {bend.what}, {bend.way}"))
    if laid.ending is not None:
        elbows["front"] += laid.ending.elbows
        if laid.ending.extra:
            others[laid.ending.extra] += 1
        words = f"{laid.ending.elbows or 'no'} elbow{'' if laid.ending.elbows == 1 else 's'}"
        extra = f", 1 {laid.ending.extra}" if laid.ending.extra else ""
        reasons.append(Reason("parts", f"{words}{extra} at the end: {laid.ends_at}", None, f"{path}.ends_at"))
    named: Counter[str] = Counter()
    for kind in ("front", "side"):
        if elbows[kind]:
            named[elbow_name(laid, kind)] += elbows[kind]
    laid.parts = [*named.items(), *others.items(), *laid.parts]
    laid.why += reasons
    lengths = len(laid.wall_cuts) + (laid.gooseneck is not None) + (laid.tail is not None)
    arms = sum(1 for bend in laid.bends if bend.way == "arm")
    lengths += sum(len(bend.cuts) for bend in laid.bends)
    lengths += arms if laid.gooseneck is not None else 0
    # a pipe cut on site has a part above and a part below each offset
    lengths += sum(1 for bend in laid.bends if bend.way != "arm" and bend.above_foot is None)
    # each part is joined to the one above it, and the topmost to its outlet
    laid.joints = sum(elbows.values()) + lengths + arms if laid.wall_pipe is not None else 0
