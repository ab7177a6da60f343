"""What a telling has come to: the run that is spoken of, its outlets, and what an action adds to them."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Literal

from gutterance.measure.tape import settle

if TYPE_CHECKING:
    from gutterance.measure.length import Length
    from gutterance.measure.tape import FieldKind
    from gutterance.reading.trained.symbols import Symbol

Task = Literal["place", "number", "end", "outlet", "ends at", "ditto"]
NONE = ""
"""The action that does nothing."""
FOCUS, OF_PART, WITH_SIDE = "focus", "side of the part", "with its side"
"""A place becomes what is spoken of: by its own name, as a side of the part before it, with a side behind."""
NAMING = (FOCUS, OF_PART, WITH_SIDE)
OUTLET_THERE = "outlet there"
"""An outlet is at the place, or at the end, that a symbol names: `at the west end`, `by the cap`."""
SIDE_WITHIN = 3
"""How far behind a place its side may stand: `back left`, `back, on the left`."""
NUMBERS: dict[str, FieldKind] = {
    "length": "run",
    "height": "height",
    "wall_to_fascia": "wall to fascia",
    "distance": "offset",
    "roof_run": "run",
}
"""The fields a number may answer, and how their lengths are read."""
OF_PIPES = ("height", "wall_to_fascia", "ends_at")
SIDES = ("left", "centre", "right")
OUTLET_KINDS = frozenset(
    {"lr", "side", "outlet", "downpipe", "all", "near end", "far end", "centre", "direction", "both", "count"}
)
COMPASS = ("north", "east", "south", "west")
"""The points of the compass, each with the next on its left as one sees it who faces that side's wall."""
END_KINDS = frozenset({"end", "end word", "corner", "end pair"})
END_FIELDS = {"left": ("left_end",), "right": ("right_end",), "both": ("left_end", "right_end")}
END_VALUES = {"corner": "outside corner", "inside": "inside corner", "outside": "outside corner"}
UNSAID = "unsaid"
"""The side of a pipe whose outlet has not been told."""
WHOLE_HOUSE = "the house"
"""What is spoken of before any run is."""
DITTO_LOOK = (6, 4)
"""How far ahead and back of a ditto the run is looked for that it names."""
OTHER_SIDE = {
    "left": "right", "right": "left", "left_end": "right_end", "right_end": "left_end", "front": "back",
    "back": "front", "north": "south", "south": "north", "east": "west", "west": "east",
}  # fmt: skip
"""What lies opposite."""


def run_key(name: str) -> tuple[str, ...]:
    """A run's name without `side` and without order of words.

    >>> run_key("garage-left-side") == run_key("left garage")
    True
    """
    return tuple(sorted(word for word in re.split(r"[-_\s]+", name.lower()) if word and word != "side"))


def task_of(symbol: Symbol) -> Task | None:
    """What there is to decide about a symbol, or None."""
    kind = symbol.kind
    if kind in ("place", "initial", "quarter", "other side"):
        return "place"
    if kind == "measure":
        return "number"
    if kind in END_KINDS:
        return "end"
    if kind == "ends at":
        return "ends at"
    if kind in ("same", "mirror"):
        return "ditto"
    return "outlet" if kind in OUTLET_KINDS else None


def opposite(run: str) -> str:
    """The run on the other side of the house or of its part.

    >>> opposite("porch-left-side"), opposite("front")
    ('porch-right-side', 'back')
    """
    words = run.split("-")
    return "-".join(OTHER_SIDE.get(word, word) for word in words)


@dataclass(frozen=True, slots=True)
class Claim:
    """That words say a value: `field` of a run, or of its outlet or downpipe on `side`.

    `symbols` are the symbol that gives the value and the place that names the run; `sure` the probability
    that all the decisions behind it are right.
    """

    field: str
    run: str
    side: str | None
    value: Length | str
    symbols: tuple[Symbol, ...]
    sure: float


@dataclass(slots=True)
class Told:
    """What has been told of one run: how often its length and its ends, and each outlet's pipe fields."""

    lengths: int = 0
    left: int = 0
    right: int = 0
    outlets: dict[str, set[str]] = field(default_factory=dict)


@dataclass(slots=True)
class Telling:
    """The state of a telling. `acts` are the last things done, `said` the values told, in turn."""

    metric: bool = False
    runs: dict[str, Told] = field(default_factory=dict)
    current: str | None = None
    place: Symbol | None = None
    since: int = 0
    outlets: list[str] = field(default_factory=list)
    part: str | None = None
    naming: float = 1.0
    acts: list[str] = field(default_factory=lambda: ["-", "-", "-"])
    said: list[tuple[str, object, str | None]] = field(default_factory=list)
    claims: list[Claim] = field(default_factory=list)
    ends: list[tuple[str, str, str]] = field(default_factory=list)
    for_all: dict[str, tuple[Symbol, Length | str, float]] = field(default_factory=dict)

    def told(self, run: str) -> Told:
        """What has been told of a run, begun where nothing has."""
        return self.runs.setdefault(run, Told())

    def known(self, name: str) -> str | None:
        """The name by which a run was named before, or None."""
        key = run_key(name)
        return next((run for run in self.runs if run_key(run) == key), None)

    def name_of(self, symbols: list[Symbol], at: int, action: str) -> str | None:
        """The run that a place names by an action, or None where it cannot."""
        symbol = symbols[at]
        if symbol.kind == "other side":
            return opposite(self.current) if self.current is not None else None
        if symbol.name is None:
            return None
        if action == OF_PART:
            return f"{self.part}-{symbol.name}" if self.part else None
        if action == WITH_SIDE:
            behind = (
                other for other in symbols[at + 1 : at + 1 + SIDE_WITHIN] if other.kind in ("lr", "side")
            )
            side = next((other.value for other in behind if other.value in ("left", "right", "centre")), None)
            return f"{symbol.name}-{'middle' if side == 'centre' else side}" if side else None
        return symbol.name

    def side_there(self, symbol: Symbol) -> str | None:
        """The side of the run spoken of that a symbol names: by its end, a compass side, or itself."""
        if self.current is None:
            return None
        if symbol.kind in END_KINDS:
            value = END_VALUES.get(symbol.value, symbol.value)
            ends = {name: of for name, of, run in self.ends if run == self.current}
            sides = [side for side in ("left", "right") if ends.get(f"{side}_end") == value]
            return sides[0] if len(sides) == 1 else None
        name = symbol.name or ""
        if name.removesuffix("-side") in ("left", "right"):
            return name.removesuffix("-side")
        here = next((point for point in COMPASS if point in run_key(self.current)), None)
        if here is None or name not in COMPASS:
            return None
        step = (COMPASS.index(name) - COMPASS.index(here)) % 4
        return {1: "right", 3: "left"}.get(step)

    # ------------------------------------------------------------------ actions

    def focus(self, symbol: Symbol, at: int, name: str, sure: float) -> None:
        """Speak of a run from here on."""
        self.current = self.known(name) or name
        self.told(self.current)
        self.place, self.since, self.naming = symbol, at, sure
        self.outlets = []
        self.acts.append("F")

    def pass_place(self, symbol: Symbol) -> None:
        """A place is told, whether it is spoken of or not: its part may be what later sides belong to."""
        if symbol.place is not None and symbol.place[1]:
            self.part = symbol.place[1].replace(" ", "-")

    def number(self, symbol: Symbol, action: str, scope: str, sure: float) -> None:
        """A number answers a field of the run spoken of, or of its pipes."""
        assert symbol.found is not None
        if self.current is None:
            if scope != "all":
                return
            self.current = WHOLE_HOUSE
            self.told(WHOLE_HOUSE)
        read = settle(symbol.found, NUMBERS[action], metric=self.metric)
        if read is None:
            return
        self.said.append((action, read.length.inches, self.current))
        told = self.told(self.current)
        if action in OF_PIPES:
            self._to_pipes(symbol, action, read.length, scope, sure)
        else:
            if action == "length":
                told.lengths += 1
            side = self.outlets[-1] if action == "distance" and self.outlets else None
            self._claim(action, self.current, side, read.length, symbol, sure)
        self.acts.append({"length": "L", "roof_run": "R", "distance": "D"}.get(action, action[0].upper()))

    def end(self, symbol: Symbol, action: str, sure: float) -> None:
        """Words say what one end or both ends of the run are, or of every run."""
        value = END_VALUES.get(symbol.value, symbol.value)
        if action == "all":
            for name in END_FIELDS["both"]:
                self.for_all[name] = (symbol, value, sure)
            self.acts.append("E")
            return
        if self.current is None:
            return
        told = self.told(self.current)
        self.said.append(("end", value, self.current))
        for name in END_FIELDS[action]:
            told.left += name == "left_end"
            told.right += name == "right_end"
            self.ends.append((name, value, self.current))
            self._claim(name, self.current, None, value, symbol, sure)
        self.acts.append("E")

    def outlet(self, symbol: Symbol, action: str, sure: float) -> None:
        """Words say where one outlet or two are."""
        if self.current is None:
            return
        told = self.told(self.current)
        self.outlets = ["left", "right"] if action == "both" else [action]
        for side in self.outlets:
            told.outlets.setdefault(side, set())
            self._claim("outlet", self.current, side, side, symbol, sure)
        self.acts.append("O")

    def ends_at(self, symbol: Symbol, scope: str, sure: float) -> None:
        """Words say where pipes end."""
        if self.current is None:
            if scope != "all":
                return
            self.current = WHOLE_HOUSE
            self.told(WHOLE_HOUSE)
        self._to_pipes(symbol, "ends_at", symbol.value, scope, sure)
        self.acts.append("A")

    def _to_pipes(self, symbol: Symbol, name: str, value: Length | str, scope: str, sure: float) -> None:
        assert self.current is not None
        told = self.told(self.current)
        if scope == "all":
            self.for_all[name] = (symbol, value, sure)
            for run, one in self.runs.items():
                for side in one.outlets:
                    one.outlets[side].add(name)
                    self._claim(name, run, side, value, symbol, sure)
            return
        if scope in SIDES:
            sides = [scope]
            self.outlets = sides
        elif scope == "run":
            sides = list(told.outlets)
        else:
            sides = self.outlets or list(told.outlets)
        for side in sides or [UNSAID]:
            told.outlets.setdefault(side, set()).add(name)
            self._claim(name, self.current, side, value, symbol, sure)

    def ditto(self, symbol: Symbol, fields: str, other: str | None, sure: float) -> None:
        """Words say that fields are as another run's: `L` length, `E` ends, `O` outlets, `H W A` pipes."""
        if self.current is None or other is None:
            return
        told, of_other = self.told(self.current), self.told(other)
        mirrored = symbol.kind == "mirror"
        copied = [claim for claim in self.claims if claim.run == other]
        for claim in copied:
            name, side, value = claim.field, claim.side, claim.value
            letter = _LETTERS.get(name, "")
            whole = letter in ("L", "E", "O") or "O" in fields
            if letter not in fields or not letter or not whole:
                continue
            if mirrored:
                name, side = OTHER_SIDE.get(name, name), OTHER_SIDE.get(side or "", side)
                value = side if name == "outlet" and side else value
            if side is not None:
                self.told(self.current).outlets.setdefault(side, set())
            self._claim(name, self.current, side, value, symbol, sure * claim.sure)
        for name in OF_PIPES:
            last = next((claim for claim in reversed(copied) if claim.field == name), None)
            if last is not None and _LETTERS[name] in fields and "O" not in fields:
                for side in self.outlets or list(told.outlets) or [UNSAID]:
                    told.outlets.setdefault(side, set()).add(name)
                    self._claim(name, self.current, side, last.value, symbol, sure * last.sure)
        told.lengths += "L" in fields
        told.left += "E" in fields
        told.right += "E" in fields
        if "O" in fields:
            for side in of_other.outlets:
                told.outlets.setdefault(OTHER_SIDE.get(side, side) if mirrored else side, set())
        self.acts.append(f"={fields}")

    def run_of_ditto(self, symbols: list[Symbol], at: int) -> str | None:
        """The run that a ditto names near it, or the one told before this."""
        ahead, back = DITTO_LOOK
        near = [*range(at + 1, min(at + ahead + 1, len(symbols))), *range(at - 1, max(at - back - 1, 0), -1)]
        for place in near:
            name = symbols[place].name
            if name is not None and symbols[place].kind in ("place", "initial", "quarter"):
                run = self.known(name)
                if run is not None and run != self.current:
                    return run
        others = [run for run in self.runs if run not in (self.current, WHOLE_HOUSE)]
        return others[-1] if others else None

    def close(self) -> None:
        """What was said of all pipes holds for those told later, too."""
        for name, (symbol, value, sure) in self.for_all.items():
            for run, told in self.runs.items():
                if run == WHOLE_HOUSE:
                    continue
                if name in END_FIELDS["both"]:
                    if not (told.left if name == "left_end" else told.right):
                        self._claim(name, run, None, value, symbol, sure)
                    continue
                for side, has in told.outlets.items():
                    if name not in has:
                        self._claim(name, run, side, value, symbol, sure)

    def _claim(
        self, name: str, run: str, side: str | None, value: Length | str, symbol: Symbol, sure: float
    ) -> None:
        symbols = (symbol,) if self.place is None else (symbol, self.place)
        self.claims.append(Claim(name, run, side, value, symbols, sure * self.naming))


_LETTERS = {
    "length": "L", "left_end": "E", "right_end": "E", "outlet": "O", "distance": "O",
    "height": "H", "wall_to_fascia": "W", "ends_at": "A",
}  # fmt: skip
"""What a ditto's letters stand for."""
