"""The hangers of each run: how far apart by the note, the snow or the shop, and what they keep clear of."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import TYPE_CHECKING

from gutterance.layout.hangers import hanger_places
from gutterance.layout.holding import merged, said, unsettled
from gutterance.layout.outlets import blocked_zones, merged_zones
from gutterance.layout.pieces import lap_middles
from gutterance.layout.values import Hold, LaidHangers, LaidPiece, PlacedOutlet, Reason
from gutterance.layout.wording import note_once, shown

if TYPE_CHECKING:
    from gutterance.layout.values import Layout
    from gutterance.sheet.models import Run, Sheet
    from gutterance.shop import Shop

_WORD = re.compile(r"[^\W\d_]+")
_NOT = frozenset({"no", "not", "never", "without", "little", "hardly", "isn", "doesn"})
_BEYOND_CORNER = Fraction(2)
"""The first hanger beyond the other gutter's width at an inside corner [in]; common practice, no source."""


class Hanging:
    """Places hangers on one house by one shop's rules."""

    def __init__(self, sheet: Sheet, shop: Shop, layout: Layout) -> None:
        self.sheet = sheet
        self.shop = shop
        self.layout = layout
        self.close = close_words(sheet, shop)

    def lay(
        self, i: int, outlets: list[PlacedOutlet], pieces: list[LaidPiece], run_hold: list[Hold]
    ) -> LaidHangers:
        """The hangers of one run."""
        run, laid = self.sheet.runs[i], self.layout.runs[i]
        spacing, path, out = self._spacing(i, run, run_hold)
        if laid.length is None:
            return out
        first, last = (self._from_end(i, end.value if end else None) for end in (run.left_end, run.right_end))
        blocked = self._blocked(i, run, outlets, pieces)
        rounding = self.shop.rounding
        step = (rounding.metric_step if laid.system == "metric" else rounding.step).inches
        places = hanger_places(laid.length, first, last, spacing, blocked, step)
        if places is None:
            says = f"hangers {shown(spacing, laid.system, feet=False)} apart cannot be set on {run.name}"
            out.hold.append(Hold(path, says, f"How far apart are the hangers on {run.name}?"))
            return out
        out.at, out.known = places, True
        out.why.append(Reason("below", "each by how far up its outlet's fall it lies, rounded down"))
        return out

    def _spacing(self, i: int, run: Run, run_hold: list[Hold]) -> tuple[Fraction, str, LaidHangers]:
        rules, laid = self.shop.hangers, self.layout.runs[i]
        reading, at = run.hanger_spacing, f"runs.{run.id}.hanger_spacing"
        if reading is None:
            reading, at = self.sheet.defaults.hanger_spacing, "defaults.hanger_spacing"
        out = LaidHangers(
            i, hold=merged(run_hold, unsettled(at, reading, f"the hanger spacing of {run.name}"))
        )
        close = self.close.get(run.id, self.close.get(""))
        if reading is not None and reading.value is not None:
            spacing = reading.value.inches
            says = f"{shown(spacing, laid.system, feet=False)} {said(reading)}"
            out.why.append(Reason("spacing", says, spacing, at))
        elif close is not None:
            spacing = rules.close_spacing.inches
            apart = shown(spacing, laid.system, feet=False)
            out.why.append(Reason("spacing", f"{apart}, close, for {close}: shop rule", spacing))
            where = f" on {run.name}" if run.id in self.close else ""
            note_once(
                self.layout.assumed,
                f"hangers {apart} apart{where}, close: the note speaks of {close}, shop rule",
            )
        else:
            spacing = rules.spacing.inches
            says = f"{shown(spacing, laid.system, feet=False)}: shop rule"
            out.why.append(Reason("spacing", says, spacing))
        return spacing, at, out

    def _from_end(self, i: int, end: str | None) -> Fraction:
        """From an inside corner the first hanger stands clear of the other gutter's width."""
        usual = self.shop.hangers.from_end.inches
        profile = self.layout.runs[i].gutter.profile
        if end == "inside corner" and profile is not None:
            return max(usual, profile.top_width.inches + _BEYOND_CORNER)
        return usual

    def _blocked(
        self, i: int, run: Run, outlets: list[PlacedOutlet], pieces: list[LaidPiece]
    ) -> list[tuple[Fraction, Fraction]]:
        rules, laid = self.shop.hangers, self.layout.runs[i]
        assert laid.length is not None
        zones = blocked_zones(outlets, rules.clear_of_outlet.inches)
        half = self.shop.pieces.lap.inches / 2 + rules.clear_of_lap.inches
        zones += [(lap - half, lap + half) for lap in lap_middles(pieces, self.shop)]
        width = laid.gutter.profile.top_width.inches if laid.gutter.profile is not None else Fraction(0)
        if run.left_end is not None and run.left_end.value == "inside corner":
            zones.append((Fraction(-1), width))
        if run.right_end is not None and run.right_end.value == "inside corner":
            zones.append((laid.length - width, laid.length + 1))
        return merged_zones(zones)


def close_words(sheet: Sheet, shop: Shop) -> dict[str, str]:
    """The word (`snow`) that asks for the close spacing, by run id; under "" where it is for the whole job.

    A line of which a remark says that it is about one run counts for that run alone. `no snow here` does not
    count, nor does the title of the job.
    """
    wanted = {word.casefold(): word for word in shop.hangers.close_where_said}
    about = {remark.source.line: remark.about for remark in sheet.remarks if remark.about}
    runs = {run.id for run in sheet.runs}
    out: dict[str, str] = {}
    lines = [(number, text) for number, text in enumerate(sheet.note, start=1)]
    lines += [(remark.source.line, remark.text) for remark in sheet.remarks]
    for number, text in lines:
        plain = text.casefold()
        if sheet.title and plain.strip().startswith(sheet.title.casefold()):
            continue
        words = _WORD.findall(plain)
        for place, word in enumerate(words):
            if word in wanted and not _NOT.intersection(words[max(0, place - 3) : place]):
                where = about.get(number)
                out.setdefault(where if where in runs else "", wanted[word])
    return out
