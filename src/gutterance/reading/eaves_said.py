"""Eaves and fascias behind which a small number says how far the wall stands back: `eave 0.45`."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.reading.lexicon import Term

if TYPE_CHECKING:
    from gutterance.reading.items import Item

EAVES = frozenset({"eave", "eaves", "fascia", "facia"})
"""Words behind which a small number says how far the wall stands back."""
EAVE = Term("eave", "cue", "wall_to_fascia", "before")
"""Such a word as a cue."""


def eaves_as_cues(items: list[Item]) -> None:
    """`downpipe left, eave 0.45`, `fascia only 60 off the wall`: how far the wall stands back.

    A number that is long enough for a run, or eaves that name one, are left as they are.
    """
    for place, item in enumerate(items):
        if item.text.lower() not in EAVES or item.kind not in ("run noun", "fascia"):
            continue
        before = items[place - 1] if place else None
        if before is not None and before.kind in ("place", "ref", "same", "measure", "total"):
            continue
        measure = next(
            (at for at in range(place + 1, min(place + 5, len(items))) if items[at].kind == "measure"), None
        )
        if measure is None or not _may_stand_out(items[measure]):
            continue
        between = items[place + 1 : measure]
        outs = [other for other in between if other.kind == "cue" and other.text.lower() == "out"]
        if any(other.kind not in ("filler", "word", "colon") and other not in outs for other in between):
            continue
        if item.kind == "fascia" and not _off_something(items, place, measure):
            continue
        item.kind, item.value, item.term = "cue", "wall_to_fascia", EAVE
        for out in outs:
            out.kind, out.value = "filler", ""  # `eaves out 300`


def _may_stand_out(measure: Item) -> bool:
    """Whether a number can only be how far an eave stands out: some inches, or less than a metre or so."""
    found = measure.found
    if found is None or found.kind == "other" or len(found.amounts) != 1:
        return False
    amount = found.amounts[0]
    least, most = {
        "inch": (2, 48),
        "millimetre": (50, 1200),
        "metre": (0, 1.2),
        "centimetre": (5, 120),
        None: (0, 1000),
    }.get(amount.unit, (1, 0))
    return least <= amount.value <= most


def _off_something(items: list[Item], place: int, measure: int) -> bool:
    """`fascia 0.1 off the post`, `fascia stands off the wall 60`."""
    words = [other.text.lower() for other in items[place + 1 : measure + 4]]
    return any(word.split()[-1] in ("off", "from") or word.startswith(("off ", "from ")) for word in words)
