"""Heat and cold: how far a straight run grows, and where it gets a joint that lets it."""

from __future__ import annotations

import itertools
from fractions import Fraction
from typing import TYPE_CHECKING

from gutterance.layout.values import Movement, Reason
from gutterance.layout.wording import note_once, shown

if TYPE_CHECKING:
    from gutterance.layout.values import LaidRun
    from gutterance.sheet.models import Sheet
    from gutterance.shop import Shop
    from gutterance.shop.models import Material

ADVICE = "published advice asks for a joint in a straight run over 40 ft"


def movement(length: Fraction, growth: Fraction, swing: Fraction) -> Fraction:
    """How far [in] a straight `length` [in] grows: length x growth x swing.

    `growth` per degree and `swing` in degrees, both of one scale. Equation: dL = a L dT (thermal expansion).
    60 ft of aluminium, 13 millionths per degree F (Aluminum Association average, 68 to 212 degrees F), over
    100 degrees F:

    >>> movement(Fraction(720), Fraction(13, 1_000_000), Fraction(100))
    Fraction(117, 125)
    """
    return length * growth * swing


def material_of(sheet: Sheet, shop: Shop) -> tuple[Material | None, str]:
    """The job's material by the shop's table, and its name; None where the table lacks it."""
    said = sheet.defaults.material.value if sheet.defaults.material is not None else None
    name = said or shop.usual.material
    return shop.material(name), name


def joint_laps(laps: list[Fraction], ends: tuple[Fraction, Fraction], joint_over: Fraction) -> list[Fraction]:
    """Those of a run's laps that are made as expansion joints, so that no stretch between is over the most.

    `laps` [in] are middles, `ends` the run's two ends, `joint_over` [in] the longest stretch between
    joints; each piece is at most that long. Fewest joints: each as far along as it may be.

    >>> joint_laps([Fraction(300), Fraction(600)], (Fraction(0), Fraction(1000)), Fraction(720))
    [Fraction(600, 1)]
    """
    out: list[Fraction] = []
    begins = ends[0]
    for here, after in itertools.pairwise([*laps, ends[1]]):
        if after - begins > joint_over:
            out.append(here)
            begins = here
    return out


def movement_of(
    i: int, run: LaidRun, joints: list[Fraction], sheet: Sheet, shop: Shop, assumed: list[str]
) -> Movement | None:
    """How far a run moves, where it is long enough to be told of: its longest stretch between joints."""
    if run.length is None or (run.length <= shop.expansion.tell_over.inches and not joints):
        return None
    material, name = material_of(sheet, shop)
    if material is None:
        note_once(
            assumed, f"how far {name} moves is not known: the shop file has no [[materials]] table for it"
        )
        return None
    if sheet.defaults.material is None:
        note_once(assumed, f"material {name}: not said, shop rule, for how far long runs move")
    posts = [Fraction(0), *joints, run.length]
    longest = max(right - left for left, right in itertools.pairwise(posts))
    swing = Fraction(shop.expansion.swing_degrees_f)
    moves = movement(longest, material.growth, swing)
    says = (
        f"{shown(longest, run.system)} x {material.millionths_per_degree_f} millionths x {swing} degrees F "
        f"({material.name}: {material.source})"
    )
    why = [Reason("moves", says, moves)]
    over = material.joint_over.inches
    return Movement(i, material.name, moves, over, joints, material.source, why)
