"""High points that the note puts somewhere: kept where water reaches an outlet, asked about where not."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.checking.findings import Finding
from gutterance.layout.legs import Leg, Place, between

if TYPE_CHECKING:
    from collections.abc import Callable
    from fractions import Fraction

    from gutterance.layout.values import Channel, LaidRun
    from gutterance.sheet.models import Sheet

_MIDDLE = ("cent", "middle", "mid", "halfway", "half way")
_DO_WITHOUT = "the falls shown do without it"


class SaidHighs:
    """The high points said for the runs of one stretch, set on its legs; `findings` and `doubted` runs."""

    def __init__(
        self, channel: Channel, sheet: Sheet, runs: list[LaidRun], place: Callable[..., Place]
    ) -> None:
        self.channel = channel
        self.sheet = sheet
        self.runs = runs
        self.findings: list[Finding] = []
        self.doubted: set[int] = set()
        self._highs: list[tuple[Place, int]] = []
        for i in channel.runs:
            self._read(i, place)
        self._highs.sort()

    def _read(self, i: int, place: Callable[..., Place]) -> None:
        reading = self.sheet.runs[i].high_point
        if reading is None or not reading.settled or reading.value is None:
            return
        word, length = reading.value.casefold(), self.runs[i].length
        if "left" in word:
            self._highs.append((place(i, 0), i))
        elif length is not None and "right" in word:
            self._highs.append((place(i, length), i))
        elif length is not None and any(name in word for name in _MIDDLE):
            self._highs.append((place(i, length / 2), i))
        elif length is not None:
            says = f"the high point {reading.value!r} on {self.runs[i].name} is not understood"
            self._ask(i, code="high-point-unclear", says=f"{says}; {_DO_WITHOUT}")

    def _ask(self, i: int, *, code: str, says: str) -> None:
        run = self.runs[i]
        self.doubted.add(i)
        self.findings.append(
            Finding(
                code=code,
                kind="doubt",
                about=f"runs.{run.id}.high_point",
                says=f"{says[:1].upper()}{says[1:]}.",
                question=f"Where is the high point of {run.name}?",
            )
        )

    def set_on(self, legs: list[Leg], end: Place) -> None:
        """Put each high point on the leg it lies on. Two on one leg would hold water between them."""
        for leg in legs:
            inside = [
                (along, i)
                for place, i in self._highs
                if (along := _along(leg, place, end, wraps=self.channel.loop and leg is legs[-1])) is not None
            ]
            self._set(leg, inside, legs)

    def _set(self, leg: Leg, inside: list[tuple[Fraction, int]], legs: list[Leg]) -> None:
        assert leg.length is not None or not inside
        within = [(along, i) for along, i in inside if 0 < along < (leg.length or 0)]
        if leg.left is None or leg.right is None:
            for _, i in within:
                name = self.runs[i].name
                says = f"the high point said for {name} would lead water to an end with no outlet"
                self._ask(i, code="water-to-an-end", says=f"{says}; {_DO_WITHOUT}")
            if len(inside) > len(within):
                self._ask_of_far_end(leg, inside, legs)
        elif len({along for along, _ in within}) > 1:
            names = " and ".join(dict.fromkeys(self.runs[i].name for _, i in within))
            says = f"the high points said for {names} have no outlet between them: water would stand there"
            self._ask(within[0][1], code="low-spot", says=f"{says}; {_DO_WITHOUT}")
            self.doubted.update(i for _, i in within)
        elif within:
            leg.high, leg.said = within[0][0], True

    def _ask_of_far_end(self, leg: Leg, inside: list[tuple[Fraction, int]], legs: list[Leg]) -> None:
        """High at the end beside the only outlet: the long leg on its other side would fall away from it."""
        if len(legs) != 2 or self.channel.loop:
            return
        other = legs[1] if leg is legs[0] else legs[0]
        if leg.length is None or other.length is None or other.length <= 2 * leg.length:
            return
        closed = leg.length if leg.right is None else 0
        for along, i in inside:
            if along == closed:
                name = self.runs[i].name
                says = (
                    f"the high point said for {name} is beside its only outlet, so its far end would lie low"
                )
                self._ask(i, code="water-to-an-end", says=f"{says}; {_DO_WITHOUT}")


def _along(leg: Leg, place: Place, end: Place, *, wraps: bool) -> Fraction | None:
    """How far along a leg [in] a place lies, its ends counted in; None where it is not on it."""
    if leg.length is None:
        return None
    along = between(leg.start, place)
    if wraps and place < leg.start:
        head, tail = between(leg.start, end), between((0, end[1] - end[1]), place)
        along = head + tail if head is not None and tail is not None else None
    return along if along is not None and 0 <= along <= leg.length else None
