"""What marked notes teach: for each thing to decide about a symbol, what was to be seen and what is right."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from gutterance.reading.trained.features import around, before
from gutterance.reading.trained.listening import act, has_sentences
from gutterance.reading.trained.telling import (
    END_KINDS,
    FOCUS,
    NAMING,
    NONE,
    NUMBERS,
    OF_PIPES,
    OUTLET_THERE,
    SIDES,
    Telling,
    run_key,
    task_of,
)

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gutterance.reading.trained.symbols import Symbol
    from gutterance.scoring.marked_words import MarkedWords

DITTO = {
    "length": "L", "left_end": "E", "right_end": "E", "outlet": "O",
    "height": "H", "wall_to_fascia": "W", "ends_at": "A",
}  # fmt: skip
ENDS_OF_ALL = 2
"""Both ends told at once of so many runs are told of the whole house."""
SAME_PHRASE = 3
"""So near, two symbols of one marked phrase (`drop each end`) tell one thing: the first tells it."""


@dataclass(slots=True)
class Examples:
    """For each task the features of every example and the right action, row by row. `unnamed` are runs whose
    names no action makes, with the words there."""

    features: dict[str, list[list[str]]] = field(default_factory=lambda: defaultdict(list))
    actions: dict[str, list[str]] = field(default_factory=lambda: defaultdict(list))
    unnamed: list[tuple[str, str]] = field(default_factory=list)

    def add(self, task: str, features: list[str], action: str) -> None:
        """One more example."""
        self.features[task].append(features)
        self.actions[task].append(action)


def examples_of(symbols: list[Symbol], marks: Sequence[MarkedWords], *, metric: bool, into: Examples) -> None:
    """Add what one note teaches: the telling is led by what is right, so that each decision is seen."""
    telling = Telling(metric=metric)
    sentences = has_sentences(symbols)
    by_line: dict[int, list[MarkedWords]] = defaultdict(list)
    for mark in marks:
        by_line[mark.line].append(mark)
    told_before: tuple[int, str] | None = None
    for at, symbol in enumerate(symbols):
        task = task_of(symbol)
        if task is None:
            continue
        here = [mark for mark in by_line[symbol.line] if mark.start < symbol.end and symbol.start < mark.end]
        action, name = _right_action(task, symbols, at, here, telling)
        if task == "end" and action == NONE:
            action = _as_beside(symbols, at, by_line[symbol.line], telling)
        if task == "outlet" and action in (*SIDES, "both"):
            if told_before is not None and told_before[1] == action and at - told_before[0] <= SAME_PHRASE:
                told_before, action = (at, action), NONE
            else:
                told_before = at, action
        features = around(symbols, at, metric=metric, sentences=sentences) + before(symbols, at, telling)
        if task == "place":
            telling.pass_place(symbol)
        if action in NAMING and name is not None and not _names(telling, symbols, at, action, name):
            into.unnamed.append((name, symbol.text))
            telling.focus(symbol, at, name, 1.0)
            continue
        into.add(task, features, action)
        scope = ""
        if action in OF_PIPES or (task == "ends at" and action != NONE):
            scope = _right_scope(here, telling) or ""
            if scope:
                into.add("scope", features, scope)
        act(telling, symbols, at, action, scope, 1.0)


def _names(telling: Telling, symbols: list[Symbol], at: int, action: str, name: str) -> bool:
    """Whether an action about a place names that run."""
    made = telling.name_of(symbols, at, action)
    return made is not None and run_key(made) == run_key(name)


def _as_beside(symbols: list[Symbol], at: int, marks: list[MarkedWords], telling: Telling) -> str:
    """The action of an end whose words are not marked, but those beside it that tell of the same end.

    `dies into` and `the wall` tell one thing, and so do `end cap` and `at both ends`.
    """
    symbol = symbols[at]
    for step in (1, 2, 3, 4, -1, -2, -3):
        place = at + step
        if not 0 <= place < len(symbols) or symbols[place].line != symbol.line:
            continue
        other = symbols[place]
        between = symbols[min(place, at) + 1 : max(place, at)]
        same_end = other.kind in END_KINDS and other.value == symbol.value
        if (same_end or other.kind in ("side", "all", "lr")) and all(one.soft for one in between):
            here = [mark for mark in marks if mark.start < other.end and other.start < mark.end]
            action = _end_action(here, telling)
            if action != NONE:
                return action
    return NONE


def _end_action(marks: list[MarkedWords], telling: Telling) -> str:
    """Which ends of the run spoken of the words tell: one, both; or both of all of the house's runs."""
    ends: dict[tuple[str, ...], set[str]] = defaultdict(set)
    for mark in marks:
        if mark.how in ("told", "again") and mark.field in ("left_end", "right_end"):
            ends[run_key(mark.run)].add(mark.field)
    if sum(len(fields) == 2 for fields in ends.values()) >= ENDS_OF_ALL:
        return "all"
    here = ends.get(run_key(telling.current), set()) if telling.current is not None else set()
    return "both" if len(here) == 2 else next(iter(here)).removesuffix("_end") if here else NONE


def _right_action(
    task: str, symbols: list[Symbol], at: int, marks: list[MarkedWords], telling: Telling
) -> tuple[str, str | None]:
    """The right action about a symbol, and the run that comes into focus."""
    symbol = symbols[at]
    focus = next((mark.run for mark in marks if mark.how == "focus"), None)
    told = [mark for mark in marks if mark.how in ("told", "again")]
    fields = {mark.field for mark in told}
    sides = {mark.side for mark in told if mark.field == "outlet"}
    if task == "place" or (task == "outlet" and focus is not None and symbol.kind == "lr"):
        if focus is not None:
            ways = (way for way in NAMING if _names(telling, symbols, at, way, focus))
            return next(ways, FOCUS), focus
        if sides and telling.side_there(symbol) in sides:
            return OUTLET_THERE, None
        return NONE, None
    if task == "number":
        return next((name for name in NUMBERS if name in fields), NONE), None
    if task == "end":
        action = _end_action(marks, telling)
        if action == NONE and sides and telling.side_there(symbol) in sides:
            return OUTLET_THERE, None
        return action, None
    if task == "outlet":
        return ("both" if sides >= {"left", "right"} else next(iter(sides)) or NONE if sides else NONE), None
    if task == "ends at":
        return ("yes" if "ends_at" in fields else NONE), None
    return "".join(sorted({DITTO[name] for name in fields if name in DITTO})), None


def _right_scope(marks: list[MarkedWords], telling: Telling) -> str | None:
    """Of which pipes the words tell: the `last` told, all of the `run`, `all`, or one by its side."""
    pipes = {
        (run_key(mark.run), mark.side)
        for mark in marks
        if mark.field in OF_PIPES and mark.how in ("told", "again")
    }
    if len({run for run, _ in pipes}) > 1:
        return "all"
    if telling.current is None or not pipes:
        return None
    here = {side for run, side in pipes if run == run_key(telling.current)}
    if not here:
        return None
    if here == set(telling.outlets):
        return "last"
    if here == set(telling.told(telling.current).outlets):
        return "run"
    side = next(iter(here))
    return side if len(here) == 1 and side in SIDES else None
