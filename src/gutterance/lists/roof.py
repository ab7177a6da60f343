"""The roof behind each run: its roof run and pitch, from the note or the shop, and what of it is in doubt."""

from __future__ import annotations

from collections import defaultdict
from fractions import Fraction
from typing import TYPE_CHECKING

from gutterance.layout.holding import guessed, unsettled
from gutterance.layout.wording import listed
from gutterance.measure.pitches import rise_in_12

if TYPE_CHECKING:
    from gutterance.drainage.asked import RainAsked
    from gutterance.drainage.method import Method
    from gutterance.layout import Layout
    from gutterance.layout.values import Channel
    from gutterance.measure.length import Length
    from gutterance.sheet.models import Sheet, TextReading
    from gutterance.shop import Shop

_BEARS_NOT = frozenset({"colour", "material", "thickness", "high_point", "fascia", "hanger_spacing"})
"""Fields of a run that its rain does not rest on."""


class Roof:
    """The roofs of a sheet, as far as a method needs them."""

    def __init__(self, sheet: Sheet, layout: Layout, shop: Shop, method: Method, asked: RainAsked) -> None:
        self.sheet = sheet
        self.layout = layout
        self.shop = shop
        self.asked = asked
        self.needs_pitch = method.needs_pitch()
        self._holds: dict[int, list[str]] = defaultdict(list)
        for piece in layout.pieces:
            for hold in piece.hold:
                if hold.about.rpartition(".")[2] not in _BEARS_NOT:
                    self._holds[piece.run].append(hold.says)

    def run(self, i: int) -> Fraction:
        """The roof run [in] of run i; 0 where it is missing."""
        return self._run(i) or Fraction(0)

    def _run(self, i: int) -> Fraction | None:
        reading = self.sheet.runs[i].roof_run
        if reading is not None:
            return reading.value.inches if reading.value is not None else None
        usual = self._usual_run()
        return usual[0].inches if usual is not None else None

    def _usual_run(self) -> tuple[Length, str] | None:
        """The roof run for runs whose note has none, and whose word that is."""
        if self.asked.roof_run is not None:
            return self.asked.roof_run, "given for this check"
        return (self.shop.rain.roof_run, "shop rule") if self.shop.rain.roof_run is not None else None

    def rise(self, i: int) -> Fraction | None:
        """The rise in 12 of the roof of run i, where the method needs it and it can be read."""
        said = self._pitch_words(i)
        return rise_in_12(said) if self.needs_pitch and said is not None else None

    def _pitch_words(self, i: int) -> str | None:
        reading = self._pitch(i)
        return reading.value if reading is not None else self.asked.roof_pitch

    def _pitch(self, i: int) -> TextReading | None:
        own = self.sheet.runs[i].roof_pitch
        return own if own is not None else self.sheet.defaults.roof_pitch

    def missing(self, runs: list[int]) -> list[str]:
        """What these runs' areas cannot be worked out without, each told once with the runs that lack it."""
        told = _Told()
        for i in runs:
            name, roof_run = self.layout.runs[i].name, self._run(i)
            if roof_run is None:
                told.add("the roof run (eave to ridge, on plan)", name)
            elif not 0 <= roof_run <= self.shop.limits.run.inches:
                told.add("a roof run that can be right", name)
            if self.needs_pitch and self.rise(i) is None:
                said = self._pitch_words(i)
                told.add(
                    "the roof pitch" if said is None else f"a roof pitch that can be read, not {said!r},",
                    name,
                )
            if self.layout.runs[i].gutter.profile is None:
                told.add("in the shop file, the shape of the gutter", name)
        return told.lines(" of ")

    def rests_on(self, runs: list[int], channel: Channel) -> list[str]:
        """Values that these runs' water rests on and that are in doubt, assumed or worked out."""
        told = _Told()
        doubts: list[str] = []
        for i in runs:
            run = self.sheet.runs[i]
            for path, reading, what in (
                (f"runs.{run.id}.length", run.length, "length"),
                (f"runs.{run.id}.roof_run", run.roof_run, "roof run"),
                (f"runs.{run.id}.gutter_size", run.gutter_size, "gutter size"),
            ):
                doubts += [hold.says for hold in unsettled(path, reading, f"the {what} of {run.name}")]
                told.add_all(guessed(reading, what), run.name)
            if self.needs_pitch:
                pitch = self._pitch(i)
                doubts += [hold.says for hold in unsettled("roof_pitch", pitch, f"the pitch of {run.name}")]
                told.add_all(guessed(pitch, "roof pitch"), run.name)
                if pitch is None and self.asked.roof_pitch is not None:
                    told.add(f"roof pitch {self.asked.roof_pitch} not said, given for this check", run.name)
            usual = self._usual_run()
            if run.roof_run is None and usual is not None:
                told.add(f"roof run {usual[0].tape_text()} not said, {usual[1]}", run.name)
            doubts += self._holds[i]
        for i, side in channel.open_ends:
            name = self.layout.runs[i].name
            if i in runs:
                doubts.append(f"what meets {name} at its {side} end is not known: it counts as closed")
        return list(dict.fromkeys(doubts)) + told.lines(": ")


class _Told:
    """Words that hold for several runs, each said once with the runs' names."""

    def __init__(self) -> None:
        self._names: dict[str, list[str]] = {}

    def add(self, words: str, name: str) -> None:
        names = self._names.setdefault(words, [])
        if name not in names:
            names.append(name)

    def add_all(self, words: list[str], name: str) -> None:
        for one in words:
            self.add(one, name)

    def lines(self, joint: str) -> list[str]:
        return [f"{words}{joint}{listed(names)}" for words, names in self._names.items()]
