"""What a check is asked with: rainfall given now, else on the sheet, else in the shop file; never a guess."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from gutterance.drainage.errors import RainError
from gutterance.drainage.rainfall import Rainfall
from gutterance.measure.rates import read_rate

if TYPE_CHECKING:
    from gutterance.drainage.atlas14 import PointFrequency
    from gutterance.drainage.method import Method
    from gutterance.measure.length import Length


@dataclass(frozen=True, slots=True)
class RainAsked:
    """What the user asks for: a method, and a rate in words or a saved point file, with minutes and years.

    `roof_run` and `roof_pitch` (`6/12`) are for runs whose sheet has none. Raises RateError for a rate that
    cannot be read, RainError where a rate and a file are both given.
    """

    method: str | None = None
    rainfall: str | None = None
    file: PointFrequency | None = None
    minutes: int | None = None
    years: int | None = None
    roof_run: Length | None = None
    roof_pitch: str | None = None

    def __post_init__(self) -> None:
        if self.rainfall is not None and self.file is not None:
            raise RainError("a rainfall and a rainfall file are both given: which is it? Give one of them")
        if self.rainfall is not None:
            read_rate(self.rainfall)

    @property
    def gives_rain(self) -> bool:
        """Whether it holds any rainfall."""
        return self.rainfall is not None or self.file is not None


def rainfall_asked(asked: RainAsked, method: Method) -> tuple[Rainfall | None, list[str]]:
    """The rainfall asked for, or None and what is missing. Raises RainError for a storm not the method's."""
    if asked.file is not None:
        return _from_file(asked, asked.file, method)
    if asked.rainfall is None:
        return None, []
    return rainfall_said(asked.rainfall, "as given", method, asked.minutes, asked.years), []


def _from_file(asked: RainAsked, file: PointFrequency, method: Method) -> tuple[Rainfall | None, list[str]]:
    storm = method.storm
    minutes = asked.minutes if asked.minutes is not None else next(iter(storm.minutes), None)
    years = asked.years if asked.years is not None else next(iter(storm.years), None)
    missing = [
        f"the storm's {what}: {method.name} leaves it to national rules"
        for what, value in (("duration", minutes), ("return period", years))
        if value is None
    ]
    if minutes is None or years is None:
        return None, missing
    storm.check(method.name, minutes, years)
    return file.rainfall(minutes, years), []


def rainfall_said(
    words: str, by: str, method: Method, minutes: int | None = None, years: int | None = None
) -> Rainfall:
    """A rate in words, with its storm held against the method's. Raises RateError or RainError."""
    rate = read_rate(words)
    for what, said, asked in (("minutes", rate.minutes, minutes), ("years", rate.years, years)):
        if said is not None and asked is not None and said != asked:
            raise RainError(f"rainfall {words!r} speaks of {said} {what}, and {asked} were asked for: which?")
    rain = Rainfall(
        rate.mm_per_hour,
        rate.text,
        by,
        rate.minutes if rate.minutes is not None else minutes,
        rate.years if rate.years is not None else years,
    )
    method.storm.check(method.name, rain.minutes, rain.years)
    return rain
