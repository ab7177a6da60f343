"""Times as caption files write them."""

from __future__ import annotations

import math
import re
from typing import Any

_TIME = r"(?:(?P<{0}h>\d+):)?(?P<{0}m>\d{{1,2}}):(?P<{0}s>\d{{1,2}})(?:[.,:](?P<{0}f>\d{{1,9}}))?"
_ONE = re.compile(_TIME.format("a") + r"\Z")
_ARROW = r"[ \t]*(?:-+[ \t]?>|–>|—>|→)[ \t]*"
TIMING = re.compile(
    r"\s*" + _TIME.format("a") + _ARROW + _TIME.format("b") + r"(?:[ \t]+(?P<settings>.*))?\s*\Z"
)
"""A cue's timing line, with what follows the times. WebVTT wants a dot and SubRip a comma; both are taken."""
STARTED_TIMING = re.compile(r"\s*\d+:\d{2}(?::[\d.,]*|[.,]\d{3})\s*(?:[-–—→].*)?\Z")
"""A timing line that was cut short or spoilt: it begins with a time and has nothing else before an arrow."""
_MOST = 59


def seconds_in(text: str) -> float | None:
    """The seconds in a time `hh:mm:ss.fff`, hours and fraction optional; None for what is no time.

    W3C WebVTT, "collect a WebVTT timestamp": minutes and seconds are at most 59.

    >>> seconds_in("01:02.500"), seconds_in("1:00:00,250"), seconds_in("00:61.000")
    (62.5, 3600.25, None)
    """
    match = _ONE.match(text.strip())
    return seconds_of_match(match, "a") if match else None


def seconds_of_match(match: re.Match[str], which: str) -> float | None:
    """The time that a match of the patterns here holds under `which` (`a` the first, `b` the second) [s]."""
    minutes, seconds = int(match[f"{which}m"]), int(match[f"{which}s"])
    if minutes > _MOST or seconds > _MOST or len(match[f"{which}h"] or "") > 6:
        return None
    whole = int(match[f"{which}h"] or 0) * 3600 + minutes * 60 + seconds
    fraction = match[f"{which}f"]
    return float(f"{whole}.{fraction}") if fraction else float(whole)


def as_seconds(value: Any) -> float | None:
    """Seconds from a value of a JSON transcript: a number, a number as text (`"12.4"`), or a time.

    >>> as_seconds(12), as_seconds("12.4s"), as_seconds("00:00:12,400"), as_seconds(True), as_seconds(-1)
    (12.0, 12.4, 12.4, None, None)
    """
    if isinstance(value, str):
        plain = value.strip().removesuffix("s").strip()
        if ":" in plain:
            return seconds_in(plain)
        try:
            value = float(plain)
        except ValueError:
            return None
    if isinstance(value, bool) or not isinstance(value, int | float):
        return None
    try:
        number = float(value)
    except OverflowError:
        return None
    return number if math.isfinite(number) and number >= 0 else None
