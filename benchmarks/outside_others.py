"""What general-purpose recognisers read in texts, for `outside_lengths.py --beside`, in their environment.

Texts come as a JSON list on standard input; out comes, for each library that imports there, a list with
`{"lengths": [inches, ...], "numbers": [value, ...]}` for each text. Nothing of gutterance is imported. Make
the environment with

    python -m venv others
    others/bin/pip install quantulum3 pint "emoji<2" recognizers-text-suite
"""

from __future__ import annotations

import json
import sys
import warnings
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Callable

Read = dict[str, list[float]]
# Inches to the units these libraries name. NIST SP 811 (2008), appendix B.8: the inch is 25.4 mm exactly.
INCHES = {
    "inch": 1, "inches": 1, "foot": 12, "feet": 12, "yard": 36, "mile": 63360,
    "millimetre": 1 / 25.4, "millimeter": 1 / 25.4, "centimetre": 10 / 25.4, "centimeter": 10 / 25.4,
    "decimetre": 100 / 25.4, "decimeter": 100 / 25.4, "metre": 1000 / 25.4, "meter": 1000 / 25.4,
    "kilometre": 1e6 / 25.4, "kilometer": 1e6 / 25.4,
}  # fmt: skip


def by_quantulum3() -> Callable[[str], Read]:
    """quantulum3's parser: quantities with their units."""
    from quantulum3 import parser  # type: ignore[import-untyped]

    def read(text: str) -> Read:
        found = parser.parse(text)
        return {
            "lengths": [
                one.value * INCHES[one.unit.name.lower()] for one in found if one.unit.name.lower() in INCHES
            ],
            "numbers": [one.value for one in found],
        }

    return read


def by_pint() -> Callable[[str], Read]:
    """pint's parser: it reads a whole text as one expression, or nothing."""
    import pint

    units = pint.UnitRegistry()

    def read(text: str) -> Read:
        made: Any = units.parse_expression(text)
        quantity = made if isinstance(made, units.Quantity) else units.Quantity(made)
        if quantity.check("[length]"):
            value = float(quantity.to("inch").magnitude)
            return {"lengths": [value], "numbers": [float(quantity.magnitude)]}
        return {"lengths": [], "numbers": [float(quantity.magnitude)] if quantity.dimensionless else []}

    return read


def by_recognizers_text() -> Callable[[str], Read]:
    """Recognizers-Text: its recogniser of dimensions and its recogniser of numbers."""
    from recognizers_number import Culture, recognize_number  # type: ignore[import-untyped]
    from recognizers_number_with_unit import recognize_dimension  # type: ignore[import-untyped]

    def read(text: str) -> Read:
        lengths = []
        for one in recognize_dimension(text, Culture.English):
            unit = str((one.resolution or {}).get("unit", "")).lower()
            if unit in INCHES:
                lengths.append(float(one.resolution["value"]) * INCHES[unit])
        numbers = [
            float(one.resolution["value"])
            for one in recognize_number(text, Culture.English)
            if one.resolution and one.resolution.get("value") is not None
        ]
        return {"lengths": lengths, "numbers": numbers}

    return read


LIBRARIES: dict[str, Callable[[], Callable[[str], Read]]] = {
    "quantulum3": by_quantulum3,
    "pint": by_pint,
    "Recognizers-Text": by_recognizers_text,
}


def main() -> None:
    """Read the texts with each library there is; a text that a library fails on is read as nothing."""
    warnings.simplefilter("ignore")
    texts: list[str] = json.load(sys.stdin)
    out: dict[str, Any] = {}
    for name, make in LIBRARIES.items():
        try:
            read = make()
        except Exception as error:  # whatever its import raises, the others are still to be run
            out[name] = f"{type(error).__name__}: {error}"
            continue
        answers = []
        for text in texts:
            try:
                answers.append(read(text))
            except Exception:  # a text that is no expression is no failure of the benchmark
                answers.append({"lengths": [], "numbers": []})
        out[name] = answers
    json.dump(out, sys.stdout)


if __name__ == "__main__":
    main()
