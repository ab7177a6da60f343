"""The drainage check of a job: the layout's stretches put before the method that was asked for."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.checking.findings import Finding
from gutterance.drainage.asked import RainAsked, rainfall_asked, rainfall_said
from gutterance.drainage.errors import RainError
from gutterance.drainage.method import RainRules
from gutterance.drainage.methods import method_named, method_names
from gutterance.drainage.rainfall import Rainfall
from gutterance.lists.drainage_models import Drainage
from gutterance.lists.drained_outlets import OutletChecker
from gutterance.measure.rates import RateError

if TYPE_CHECKING:
    from gutterance.drainage.method import Method
    from gutterance.layout import Layout
    from gutterance.sheet.models import Sheet
    from gutterance.shop import Shop

FINDING_CODES: dict[str, str] = {
    "gutter-overfull": "more rain comes along a gutter to its outlet than it can carry, by the method chosen",
    "outlet-overfull": "more rain comes to an outlet than its hole lets through, by the method chosen",
    "downpipe-overfull": "more rain comes to an outlet than its downpipe can carry, by the method chosen",
}
"""The findings of the drainage check, each with what it means. Told of in docs/lists.md."""

NO_METHOD = "a method: name one with --rain-method or in the shop file's [rain] table ({})"
NO_RAINFALL = (
    "rainfall: the design rate for the place, by the local code, with --rainfall, a saved NOAA Atlas 14 "
    "point file with --rain-file, in the note, or in the shop file's [rain] table"
)


def drain(sheet: Sheet, layout: Layout, shop: Shop, asked: RainAsked | None = None) -> Drainage:
    """Check every outlet of a layout by the method asked for, or say what is missing for that.

    Raises RainError or RateError for what was asked for now or stands in the shop file and cannot be used;
    what cannot be used on the sheet is said to be missing.
    """
    asked = asked or RainAsked()
    name = asked.method or shop.rain.method
    given = asked.gives_rain or shop.rain.rainfall is not None or _sheet_rainfall(sheet) is not None
    if name is None:
        missing = [NO_METHOD.format(", ".join(method_names()))]
        return Drainage(missing=missing if given else [NO_RAINFALL, *missing])
    rules = RainRules(shop.rain.wind, shop.rain.strainers, shop.rain.pipe_filling, shop.rain.manning_n)
    method = method_named(name, rules)
    rain, missing = _rainfall(sheet, shop, asked, method)
    out = Drainage(method=method.name, title=method.title, missing=missing)
    if method.storm.says():
        out.storm = f"{method.storm.says()} ({method.storm.source})"
    if rain is None:
        if not missing:
            out.missing = [NO_RAINFALL + (f"; {method.name} asks for {out.storm}" if out.storm else "")]
        return out
    out.rainfall, out.rainfall_mm_h = rain.given, round(float(rain.mm_per_hour), 4)
    out.rainfall_by, out.rainfall_storm = rain.by, rain.storm
    fall = shop.fall
    out.fall = f"{fall.drop.inch_text()} in {fall.over.tape_text()}"
    out.says = _about_rain(rain, method)
    said = _sheet_rainfall(sheet)
    if asked.gives_rain and said is not None and said != asked.rainfall:
        out.says.append(f"the sheet says {said}: not used, for another was given now")
    checker = OutletChecker(sheet, layout, shop, method, rain, asked)
    for number, channel in enumerate(layout.channels, start=1):
        out.outlets += checker.channel(channel, f"stretch-{number}")
        if not channel.outlets:
            names = ", ".join(layout.runs[i].name for i in channel.runs)
            out.says.append(f"no outlet on stretch {number} ({names}): nothing can be said of it")
    return out


def findings_of(drainage: Drainage) -> list[Finding]:
    """A finding for each outlet with a part that gets more than it can take."""
    out = []
    for one in drainage.outlets:
        worst = [check for check in one.checks if (check.full_percent or 0) > 100]
        for part in dict.fromkeys(check.part for check in worst):
            full = max(check.full_percent or 0 for check in worst if check.part == part)
            mends = [mend.says for mend in one.mends if mend.part == part]
            mend = f" Would mend it: {'; '.join(mends)}." if mends else ""
            what = {"gutter": "gutter", "outlet": "outlet hole", "downpipe": "downpipe"}[part]
            out.append(
                Finding(
                    code=f"{part}-overfull",
                    kind="doubt",
                    about=f"outlets.{one.id}",
                    says=f"The {what} at {one.id} on {one.run_name} would be {full} % full, "
                    f"by {drainage.method} at {drainage.rainfall}.{mend}",
                    question=f"What is done about the rain at {one.id}?",
                )
            )
    return out


def _sheet_rainfall(sheet: Sheet) -> str | None:
    reading = sheet.defaults.rainfall
    return reading.value if reading is not None else None


def _rainfall(
    sheet: Sheet, shop: Shop, asked: RainAsked, method: Method
) -> tuple[Rainfall | None, list[str]]:
    if asked.gives_rain:
        return rainfall_asked(asked, method)
    reading = sheet.defaults.rainfall
    if reading is not None and reading.value is not None:
        try:
            rain = rainfall_said(reading.value, "from the sheet", method, asked.minutes, asked.years)
        except (RateError, RainError) as error:
            return None, [f"a rainfall that can be used: the sheet's {error}"]
        if reading.settled:
            return rain, []
        why = f": {reading.why}" if reading.why else ""
        return Rainfall(
            rain.mm_per_hour,
            rain.given,
            rain.by,
            rain.minutes,
            rain.years,
            f"it is in doubt on the sheet{why}",
        ), []
    if shop.rain.rainfall is not None:
        return rainfall_said(shop.rain.rainfall, "from the shop file", method, asked.minutes, asked.years), []
    return None, []


def _about_rain(rain: Rainfall, method: Method) -> list[str]:
    says = []
    if rain.doubt is not None:
        says.append(f"everything here rests on the rainfall, and {rain.doubt}")
    wanted = method.storm
    if (wanted.minutes and rain.minutes is None) or (wanted.years and rain.years is None):
        says.append(
            f"make sure that {rain.given} is {wanted.says()} rain: {method.name} is made for no other"
        )
    elif not wanted.minutes and rain.storm is None:
        says.append(
            f"make sure that {rain.given} is of the storm your national rules ask for: "
            f"{method.name} leaves it to them"
        )
    return says
