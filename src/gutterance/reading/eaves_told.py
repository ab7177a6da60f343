"""How far the wall stands back, in words of other meanings as well: `450 eave`, `18 inches to the wall`."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from fractions import Fraction

    from gutterance.reading.items import Item

EAVES = frozenset({"eave", "eaves"})
"""Words for the run itself, and for how far the roof stands out beyond the wall."""
WIDEST_INCHES, WIDEST_FEET = 48, 4
"""No wall stands farther back than this [in, ft]. Common practice, no source."""
NARROWEST_MM, WIDEST_MM = 25, 1200
"""A bare number of millimetres from the one to the other may be an eave. Common practice, no source."""
IS = frozenset({"is", "'s", "’s"})
OUTLETS = frozenset({"outlet", "downpipe"})


def eaves_told(items: list[Item]) -> None:
    """Make `eave` and `to the wall` the words for wall to fascia where a number there can be nothing else.

    An eave behind a number of feet is the run; one behind so many inches, or some hundreds of millimetres, is
    how far it stands out.
    """
    for at, item in enumerate(items):
        word = item.text.lower()
        if item.kind == "run noun" and word in EAVES:
            told_behind = at + 2 < len(items) and items[at + 1].text.lower() in IS
            if told_behind:
                own_cue = at + 3 < len(items) and items[at + 3].kind == "cue"
                if _measured(items, at + 2) and not own_cue:
                    _make_cue(item)
            elif _measured(items, at - 1) and not _measured(items, at + 1):
                _make_cue(item)
        elif item.kind in ("word", "end") and word == "wall" and _measured_to(items, at):
            _make_cue(item)


def _measured_to(items: list[Item], at: int) -> bool:
    """`18 inches to the wall`, behind a downpipe: the number and the wall, with a few words between them."""
    words = [item.text.lower() for item in items[max(0, at - 2) : at]]
    if words != ["to", "the"]:
        return False
    first = at - 3 if at > 2 and items[at - 3].text.lower() not in ("in", "back") else at - 4
    return _measured(items, first, bare=False) and any(item.kind in OUTLETS for item in items[:at])


def _measured(items: list[Item], at: int, *, bare: bool = True) -> bool:
    """Whether a number that stands there is as wide as an eave is, and no longer."""
    found = items[at].found if 0 <= at < len(items) and items[at].kind == "measure" else None
    if found is None or found.kind == "other" or not found.amounts:
        return False
    units = [amount.unit for amount in found.amounts]
    value = found.amounts[0].value
    if units == ["inch"]:
        return value <= WIDEST_INCHES
    if units == ["foot"]:
        return value <= WIDEST_FEET
    if units == ["millimetre"]:
        return value <= WIDEST_MM
    return bare and set(units) == {None} and _in_hundreds(found.amounts[0].value, len(units))


def _in_hundreds(value: Fraction, numbers: int) -> bool:
    """`450`, and `four fifty`: some hundreds of millimetres."""
    return NARROWEST_MM <= value <= WIDEST_MM if numbers == 1 else 1 <= value < WIDEST_MM // 100


def _make_cue(item: Item) -> None:
    item.kind, item.value = "cue", "wall_to_fascia"
