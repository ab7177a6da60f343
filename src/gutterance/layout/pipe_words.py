"""The words and parts of a downpipe: where it is, why its gooseneck is so long, its elbows by kind."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.layout.holding import unsettled
from gutterance.layout.values import ElbowKind, Hold, LaidPipe, LaidRun, Reason
from gutterance.layout.wording import shown, signed

if TYPE_CHECKING:
    from fractions import Fraction

    from gutterance.layout.elbows import Return
    from gutterance.measure.length import System
    from gutterance.sheet.models import LengthReading, Outlet
    from gutterance.shop import PipeShape

_KINDS: dict[ElbowKind, str] = {"front": "front (A)", "side": "side (B)"}


def elbow_name(laid: LaidPipe, kind: ElbowKind) -> str:
    """What the parts list calls an elbow: a rectangular one bends to its front (A) or its side (B).

    The letters are common trade words; a pipe's front is its broad face, which lies along the wall, so a
    front elbow turns towards the wall or away from it. Round elbows turn any way.
    """
    return _elbow(laid.size, kind, laid.shape)


def elbow_names(size: str, shape: PipeShape) -> list[str]:
    """The names of every kind of elbow that a pipe has."""
    return list(dict.fromkeys(_elbow(size, kind, shape) for kind in _KINDS))


def _elbow(size: str | None, kind: ElbowKind, shape: PipeShape | None) -> str:
    name = f"elbow {size}" if size else "elbow"
    return name if shape is not None and shape.is_round else f"{name}, {_KINDS[kind]}"


def way_reasons(way: Return, field_less: Fraction, laid: LaidPipe, system: System) -> list[Reason]:
    if way.rule == "field rule":
        return [
            Reason("gooseneck", f"{signed(-field_less, system)} field rule", -field_less),
            Reason("drop", f"{shown(way.drop, system, feet=False)} field rule", way.drop),
        ]
    shape = laid.shape
    assert shape is not None
    turn = f"{shape.elbow_turn:g}°"
    straight = 2 * (shape.leg_b.inches - shape.slip.inches)
    return [
        Reason("gooseneck", f"/ sin {turn}, {signed(-straight, system)} two elbow legs less slip", -straight),
        Reason(
            "drop",
            f"two elbow legs, {shown(2 * shape.leg_a.inches, system, feet=False)}, + throw x cot {turn}",
            way.drop,
        ),
    ]


def place_words(outlet: Outlet | None, run: LaidRun | None, system: System) -> str | None:
    if outlet is None:
        return None
    name = run.name if run is not None else outlet.run
    if outlet.from_ is None:
        return name
    if outlet.from_ == "centre":
        return f"{name}, centre"
    distance = inches_of(outlet.distance)
    if distance is None:
        return f"{name}, {outlet.from_} end"
    return f"{name}, {shown(distance, system)} from the {outlet.from_} end"


def open_value(reading: LengthReading | None, path: str, what: str) -> list[Hold]:
    if reading is None:
        return [Hold(path, f"{what} was not said", f"What is {what}?")]
    return unsettled(path, reading, what)


def inches_of(reading: LengthReading | None) -> Fraction | None:
    return reading.value.inches if reading is not None and reading.value is not None else None
