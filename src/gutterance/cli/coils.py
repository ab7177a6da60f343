"""What is left on a coil: measures in tape language, the length they come to, and how."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, Any

from gutterance.cli.lengths import phrase_of
from gutterance.cli.refusals import Refusal
from gutterance.cli.showing import show, show_json
from gutterance.measure.length import MM_PER_INCH, Length
from gutterance.measure.tape import find_lengths, settle
from gutterance.stock.coil_left import (
    POUND_IN_KG,
    CoilError,
    length_by_diameters,
    length_by_weight,
    to_count_on,
    weight_of,
    wraps,
)
from gutterance.stock.metals import Metal, MetalError, metal_of

if TYPE_CHECKING:
    from gutterance.measure.length import System

_POUNDS = {
    "lb": Fraction(1), "lbs": Fraction(1), "pound": Fraction(1), "pounds": Fraction(1), "#": Fraction(1),
    "kg": 1 / POUND_IN_KG, "kgs": 1 / POUND_IN_KG, "kilo": 1 / POUND_IN_KG, "kilos": 1 / POUND_IN_KG,
    "kilogram": 1 / POUND_IN_KG, "kilograms": 1 / POUND_IN_KG,
}  # fmt: skip
_NO_CORE = "the metal alone: core and pallet are to be taken off before"
_FOOT, _TENTH_METRE = Fraction(12), Fraction(100) / MM_PER_INCH
_APART = Fraction(5, 100)


@dataclass(frozen=True, slots=True)
class Asked:
    """The measures as given; None for one that was not."""

    outer: str | None
    inner: str | None
    thickness: str | None
    weight: str | None
    width: str | None
    metal: str | None
    metric: bool


def tell_coil(asked: Asked, shop_file: str | None, *, as_json: bool) -> None:
    """Print what is left on the coil. Raises Refusal where the measures are not enough or cannot be."""
    from gutterance.shop import load_shop

    shop = load_shop(Path(shop_file) if shop_file else None)
    loose = Fraction(str(shop.coil.loose_percent))
    try:
        ways = _ways(asked)
    except (CoilError, MetalError) as error:
        raise Refusal(str(error)) from None
    system: System = "metric" if asked.metric else "imperial"
    least = min(way.length for way in ways)
    count_on = Length(to_count_on(least, loose), system).rounded(
        _TENTH_METRE if asked.metric else _FOOT, "down"
    )
    if as_json:
        show_json({"ways": [way.data(system) for way in ways], "loose_percent": float(loose),
                   "count_on": count_on.file_text()})  # fmt: skip
        return
    lines = [line for way in ways for line in way.lines(system)]
    if len(ways) > 1:
        longer = max(way.length for way in ways)
        if longer - least > longer * _APART:
            apart = f"{float((longer - least) / longer * 100):.0f} %"
            lines.append(f"The two are {apart} apart: measure again, or is the metal or thickness another?")
    lines += [
        f"COUNT ON {_feet(count_on)}: {float(loose):g} % less for paint and air between the wraps",
        "  (coil.loose_percent in the shop file; common practice is 1 to 3, no source), rounded down",
        "In the shop file:",
        "  [[coils]]",
        '  name = "give it one"',
        '  colour = "its colour"',
        f'  width = "{_width_words(asked, system)}"',
        f'  left = "{_file_words(count_on)}"',
    ]
    show("\n".join(lines))


@dataclass(frozen=True, slots=True)
class _Way:
    by: str
    length: Fraction
    says: list[str]

    def lines(self, system: System) -> list[str]:
        return [
            f"BY {self.by.upper()} {_feet(_short(self.length, system))}",
            *(f"  {one}" for one in self.says),
        ]

    def data(self, system: System) -> dict[str, Any]:
        return {"by": self.by, "length": _short(self.length, system).file_text(), "says": self.says}


def _ways(asked: Asked) -> list[_Way]:
    if asked.thickness is None:
        raise Refusal("the metal's thickness is missing: give --thickness, like 0.032 in or 0.7 mm")
    thickness = _length(asked.thickness, "--thickness", metric=asked.metric)
    width = _length(asked.width, "--width", metric=asked.metric) if asked.width is not None else None
    metal = metal_of(asked.metal or "aluminium")
    ways = []
    if asked.outer is not None or asked.inner is not None:
        ways.append(_by_diameters(asked, thickness, width, metal))
    if asked.weight is not None:
        if width is None:
            raise Refusal("to go by weight the coil's width is needed too: give --width, like 11 7/8")
        pounds = _pounds(asked.weight)
        length = length_by_weight(pounds, width, thickness, metal.density)
        says = (
            f"{_weight(pounds)} of {metal.name}, {_inches(width)} wide and {_inches(thickness)} thick, "
            f"at {float(metal.density):g} lb/in3"
        )
        ways.append(_Way("weight", length, [says, f"density: {_source(metal)}", _NO_CORE]))
    if not ways:
        raise Refusal("nothing to go by: give --outer and --inner, or --weight and --width")
    return ways


def _by_diameters(asked: Asked, thickness: Fraction, width: Fraction | None, metal: Metal) -> _Way:
    if asked.outer is None or asked.inner is None:
        missing = "--outer" if asked.outer is None else "--inner"
        raise Refusal(f"to go by diameters both are needed: give {missing} too")
    outer = _length(asked.outer, "--outer", metric=asked.metric)
    inner = _length(asked.inner, "--inner", metric=asked.metric)
    length = length_by_diameters(outer, inner, thickness)
    says = [
        f"outer {_inches(outer)}, inner {_inches(inner)}, {_inches(thickness)} thick, wound solid: "
        f"{float(wraps(outer, inner, thickness)):.0f} wraps",
        f"pi x ({float(outer):g}² - {float(inner):g}²) / (4 x {float(thickness):.5g}) in",
    ]
    if width is not None:
        weight = weight_of(length, width, thickness, metal.density)
        says.append(f"as {metal.name} {_inches(width)} wide it would weigh {_weight(weight)}")
        says.append(f"density: {_source(metal)}")
    return _Way("diameters", length, says)


def _length(text: str, option: str, *, metric: bool) -> Fraction:
    """A measure in tape language [in]; a bare number is inches, with --metric millimetres."""
    phrase = phrase_of([text])
    if phrase.strip().startswith(("-", "−")):
        raise Refusal(f"{option} {phrase!r} is below nothing: no measure of a coil is")
    if re.search(r"\b(?:ga|gauge)\b", phrase, re.IGNORECASE):
        raise Refusal(
            f"{option} {phrase!r}: a gauge is another thickness in each metal: give inches or millimetres, "
            "like 0.027 in or 0.7 mm"
        )
    found = find_lengths(phrase)
    if len(found) != 1:
        raise Refusal(f"{option} {phrase!r} is not one length: write it like 11 7/8 in, 0.032 in or 300 mm")
    one = found[0]
    if one.kind == "length":
        settled = settle(one, "none", metric=metric)
        if settled is not None and not settled.doubts:
            return settled.length.inches
        doubt = f" ({'; '.join(settled.doubts)})" if settled is not None else ""
        raise Refusal(f"{option} {phrase!r} cannot be told for certain{doubt}: write it like 11 7/8 in")
    if one.value is None or one.doubts or one.what not in (None, "thickness"):
        raise Refusal(f"{option} {phrase!r} is not one length: write it like 11 7/8 in, 0.032 in or 300 mm")
    return one.value / MM_PER_INCH if metric else one.value


def _pounds(text: str) -> Fraction:
    phrase = phrase_of([text])
    if phrase.strip().startswith(("-", "−")):
        raise Refusal(f"--weight {phrase!r} is below nothing: no coil's weight is")
    found = find_lengths(phrase)
    match = re.search(r"([a-zA-Z]+|#)\.?\s*\Z", phrase.strip())
    unit = match[1].lower() if match else ""
    if len(found) != 1 or found[0].value is None or unit not in _POUNDS:
        raise Refusal(f"--weight {phrase!r} is not one weight: write it like 588 lb or 267 kg")
    return found[0].value * _POUNDS[unit]


def _source(metal: Metal) -> str:
    known = metal.source != "from memory"
    return metal.source if known else f"{metal.name}'s density is from memory, not confirmed: weigh a piece"


def _short(length: Fraction, system: System) -> Length:
    """To the inch or the centimetre below: finer would only look exact."""
    step = 10 / MM_PER_INCH if system == "metric" else Fraction(1)
    return Length(length, system).rounded(step, "down")


def _feet(length: Length) -> str:
    return f"{float(length.mm / 1000):,.2f} m" if length.system == "metric" else length.tape_text()


def _file_words(length: Length) -> str:
    return length.file_text() if length.system == "metric" else f"{length.inches // 12} ft"


def _inches(inches: Fraction) -> str:
    return f"{float(inches):.5g} in ({float(inches * MM_PER_INCH):.5g} mm)"


def _weight(pounds: Fraction) -> str:
    return f"{float(pounds):.1f} lb ({float(pounds * POUND_IN_KG):.1f} kg)"


def _width_words(asked: Asked, system: System) -> str:
    if asked.width is None:
        return "its width"
    return Length(_length(asked.width, "--width", metric=asked.metric), system).file_text()
