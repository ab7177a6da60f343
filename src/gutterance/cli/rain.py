"""Rainfall from the command line: a rate in words or a saved point file, and the drainage check alone."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from gutterance.cli.refusals import Refusal
from gutterance.cli.statuses import ExitStatus

if TYPE_CHECKING:
    from gutterance.checking import Standing
    from gutterance.drainage.asked import RainAsked
    from gutterance.drainage.atlas14 import PointFrequency
    from gutterance.lists import Lists
    from gutterance.measure.length import Length

_YEARS = re.compile(r"\s*(\d{1,4})\s*-?\s*(?:y(?:ea)?rs?|y)?\s*\Z", re.IGNORECASE)
_MINUTES = re.compile(
    r"\s*(\d{1,4})\s*-?\s*(?P<unit>m(?:in(?:ute)?s?)?|h(?:(?:ou)?rs?)?)?\s*\Z", re.IGNORECASE
)


def rain_asked(
    rainfall: str | None,
    rain_file: str | None,
    return_period: str | None,
    duration: str | None,
    method: str | None,
    roof_run: str | None = None,
    roof_pitch: str | None = None,
) -> RainAsked | None:
    """The options of a command as what is asked of the check; None where none is given.

    Raises Refusal, RateError or RainError for what cannot be used.
    """
    given = (rainfall, rain_file, return_period, duration, method, roof_run, roof_pitch)
    if all(one is None for one in given):
        return None
    from gutterance.drainage.asked import RainAsked
    from gutterance.drainage.methods import method_named

    return RainAsked(
        method_named(method).name if method is not None else None,
        rainfall,
        _point_file(rain_file) if rain_file is not None else None,
        _minutes(duration),
        _count(return_period, _YEARS, "--return-period", "years, as in 100"),
        _roof_run(roof_run),
        _roof_pitch(roof_pitch),
    )


def _minutes(text: str | None) -> int | None:
    count = _count(text, _MINUTES, "--duration", "minutes, as in 5 or 60")
    unit = _MINUTES.match(text or "")
    hours = unit is not None and (unit["unit"] or "").lower().startswith("h")
    return count * 60 if count is not None and hours else count


def _count(text: str | None, pattern: re.Pattern[str], option: str, how: str) -> int | None:
    if text is None:
        return None
    match = pattern.match(text)
    if match is None or int(match[1]) == 0:
        raise Refusal(f"{option} {text!r} cannot be read: give {how}")
    return int(match[1])


def _point_file(path: str) -> PointFrequency:
    from gutterance.drainage.atlas14 import LARGEST_FILE, read_point_frequency
    from gutterance.notes import NoteError, decode_text, read_bytes
    from gutterance.notes.opening import name_of

    name = name_of(path)
    try:
        text = decode_text(read_bytes(path, limit=LARGEST_FILE), name, limit=LARGEST_FILE).text
    except NoteError as error:
        what, _, mend = str(error).partition(": ")
        if "folder" not in what and "found" not in what and "may not" not in what:
            mend = "give the CSV that NOAA's Atlas 14 page saves for a point"
        raise Refusal(f"{what}: {mend}") from error
    return read_point_frequency(text, name)


def _roof_run(text: str | None) -> Length | None:
    if text is None:
        return None
    from gutterance.measure.tape import read_lengths

    found = read_lengths(text, "run")
    if len(found) != 1 or found[0].doubts or found[0].length.inches <= 0 or text.lstrip().startswith("-"):
        raise Refusal(f"--roof-run {text!r} is not one sure length: write it like 14-6, '14 ft' or '4.2 m'")
    return found[0].length


def _roof_pitch(text: str | None) -> str | None:
    if text is None:
        return None
    from gutterance.measure.pitches import rise_in_12

    if rise_in_12(text) is None:
        raise Refusal(f"--roof-pitch {text!r} cannot be read: write it like 6/12 or '26 degrees'")
    return text


def check_rain(
    stands: Standing, shop_file: str | None, asked: RainAsked | None, *, as_json: bool
) -> ExitStatus:
    """Print the drainage check alone; whether anything in it is open or too small."""
    from gutterance.cli import work
    from gutterance.cli.showing import show, show_json
    from gutterance.render.text import drainage_check

    lists, shop = work.lists_of(stands.sheet, stands.findings, shop_file, asked)
    if as_json:
        show_json(lists.drainage.model_dump(mode="json", exclude_none=True))
    else:
        show(drainage_check(lists, shop))
    return rain_status(lists)


def rain_status(lists: Lists) -> ExitStatus:
    """DONE only where every outlet was worked out and can take its rain."""
    drainage = lists.drainage
    fine = bool(drainage.outlets) and all(one.enough for one in drainage.outlets)
    return ExitStatus.DONE if fine and not drainage.missing else ExitStatus.ON_HOLD
