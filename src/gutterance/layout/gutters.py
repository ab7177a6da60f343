"""Which gutter each run gets: from the note, else the shop's usual one, which is then listed as assumed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.layout.holding import guessed, unsettled
from gutterance.layout.values import Gutter, Hold, Reason
from gutterance.layout.wording import note_once

if TYPE_CHECKING:
    from gutterance.sheet.models import Run, Sheet
    from gutterance.shop import Shop


def gutter_of(run: Run, sheet: Sheet, shop: Shop, assumed: list[str]) -> Gutter:
    """The gutter of one run. A doubt about its profile, size, material, thickness or colour is a hold."""
    defaults = sheet.defaults
    path = f"runs.{run.id}"
    hold: list[Hold] = []
    for at, reading, what in (
        ("defaults.gutter_profile", defaults.gutter_profile, "the gutter's profile"),
        ("defaults.material", defaults.material, "the material"),
        ("defaults.thickness", defaults.thickness, "the thickness"),
    ):
        hold += unsettled(at, reading, what)
    size_at, size = f"{path}.gutter_size", run.gutter_size
    if size is None:
        size_at, size = "defaults.gutter_size", defaults.gutter_size
    hold += unsettled(size_at, size, "the gutter's size")
    colour_at, colour = f"{path}.colour", run.colour
    if colour is None:
        colour_at, colour = "defaults.colour", defaults.colour
    hold += unsettled(colour_at, colour, "the colour")

    said_profile = defaults.gutter_profile.value if defaults.gutter_profile is not None else None
    name = said_profile or shop.usual.gutter_profile
    length = size.value if size is not None and size.value is not None else shop.usual.gutter_size
    if defaults.gutter_profile is None:
        note_once(assumed, f"gutter profile {name}: not said, shop rule")
    if size is None:
        note_once(assumed, f"gutter size {length.inch_text()}: not said, shop rule")
    profile = shop.profile(name, length)
    why = [
        Reason("size", f"{length.inch_text()} {name}", length.inches, size_at if size is not None else None)
    ]
    if profile is None:
        says = f"the shop file has no {length.inch_text()} {name}: add a [[profiles]] table for it"
        hold.append(Hold(size_at, says, f"Is {length.inch_text()} {name} the right gutter?"))
    guesses = [
        *guessed(defaults.gutter_profile, "gutter profile"),
        *guessed(size, "gutter size"),
        *guessed(colour, "colour"),
        *guessed(defaults.material, "material"),
        *guessed(defaults.thickness, "thickness"),
    ]
    return Gutter(
        name=name,
        size_text=length.inch_text(),
        colour=colour.value if colour is not None else None,
        profile=profile,
        why=why,
        hold=hold,
        guesses=guesses,
    )
