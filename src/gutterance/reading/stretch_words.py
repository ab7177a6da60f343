"""The words of one stretch of a line, and what is asked of them on the way: which number, side or run."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from gutterance.reading.discourse import OPPOSITE, Walk
from gutterance.reading.said_of_all import BOTH

if TYPE_CHECKING:
    from fractions import Fraction

    from gutterance.reading.items import Item, Line

INCH_MARK = re.compile(r"[\"”″]|''|(?<![a-z])in(?:s|ch|ches|chs)?(?![a-z])", re.IGNORECASE)
FOOT_WORD = re.compile(r"ft|foot|feet", re.IGNORECASE)
LONGEST_WAIT = 2
"""How many lines later a number, or a side, may still answer a question asked aloud."""


class StretchWords:
    """One stretch of a line about one run: its items, its walk, and where the reading of it stands.

    `number` is the place in `items` of the item acted on; `later` are the items of the next stretches.
    """

    def __init__(self, line: Line, items: list[Item], walk: Walk, later: list[Item]) -> None:
        self.line = line
        self.items = items
        self.walk = walk
        self.later = later
        self.question = False
        self.turned = False
        self.number = 0
        self.negative: Item | None = None
        self.strange: list[str] = []
        self.last_thing: Item | None = None
        self.same: Item | None = None
        self.side_field: str | None = None
        self.total = next(
            (item for item in items if item.kind == "total" and not item.marks.get("remark")), None
        )

    @property
    def new_run_here(self) -> bool:
        """Whether the run in focus was named in this line."""
        return self.walk.focus_line == self.line.number

    def _item_after(self) -> Item | None:
        """The item right behind the one acted on, or None at the end."""
        return self.items[self.number + 1] if self.number + 1 < len(self.items) else None

    def _item_before(self) -> Item | None:
        """The item right before the one acted on, or None at the beginning."""
        return self.items[self.number - 1] if self.number else None

    def _next_said(self) -> Item | None:
        """The next item behind the one acted on that is no little word, or None."""
        return next((other for other in self.items[self.number + 1 :] if other.kind != "filler"), None)

    def _in_totals(self) -> bool:
        """Whether the line stands below a heading of totals, with no run in focus."""
        return self.walk.totals_from is not None and self.walk.run is None

    def _run_wants_length(self) -> bool:
        """Whether the run in focus was named in this line and has no length yet."""
        run = self.walk.run
        return run is not None and self.new_run_here and "length" not in run.fields

    def _is_small(self, item: Item) -> bool:
        """Whether a number is a few inches: no run's length."""
        found = item.found
        return (
            found is not None
            and found.kind == "length"
            and settled_in_inches(found.text)
            and len(found.amounts) == 1
        )

    def _just_named(self) -> bool:
        """Whether the run was named right before this number."""
        for other in reversed(self.items[: self.number]):
            if other.kind == "place":
                return True
            if other.kind not in (
                "filler",
                "colon",
                "word",
                "walk",
                "break",
                "run noun",
                "mark",
                "fix",
                "was",
            ):
                return False
        return False

    def _both_near(self) -> bool:
        """Whether `both` or `each` stands right beside: `caps both`, `both caps`."""
        behind = [other for other in self.items[self.number + 1 :][:2] if other.kind != "angle"]
        nxt = behind[0] if behind else None  # `ext 90 both`
        before = self._item_before()
        return (nxt is not None and nxt.kind == "all" and nxt.text.lower() in BOTH | {"each", "all"}) or (
            before is not None and before.kind == "all" and before.text.lower() in BOTH | {"all"}
        )

    def _last_side(self, *, of_ends: bool = True) -> str:
        """The side said last in this stretch, or nothing; not `of_ends`, only where it is no end's own."""
        ends = [other.marks.get("side") for other in self.items if other.kind in ("end", "end word")]
        for other in reversed(self.items[: self.number]):
            if other.kind in ("side", "lr") and other.value in OPPOSITE:
                if not of_ends and any(side is other for side in ends):
                    return ""
                value: str = other.value
                return value
        return ""

    def _which_sides(self, side: Item, *, of_ends: bool = True) -> list[str]:
        """The sides that a word for a side means: one, both, or the far or near end of the one said last.

        `OSC left and a cap right, pipe at the far end` is told from where somebody stands, not from the cap:
        for an outlet, a side that an end has taken for its own (not `of_ends`) counts for nothing.
        """
        self.walk.use(side)
        if "sides" in side.marks:
            return list(side.marks["sides"])
        if side.value == "both":
            return ["left", "right"]
        if side.value in OPPOSITE:
            return [side.value]
        last = self._last_side(of_ends=of_ends)
        if side.kind == "far end" and last in OPPOSITE:
            return [OPPOSITE[last]]
        if side.kind == "near end" and last in OPPOSITE:
            return [last]
        return []


def found_value(item: Item) -> Fraction | None:
    """The number of a measure that has only one."""
    found = item.found
    return found.amounts[0].value if found is not None and len(found.amounts) == 1 else None


def settled_in_inches(text: str) -> bool:
    """Whether the words of a measure say inches, and no feet."""
    return INCH_MARK.search(text) is not None and FOOT_WORD.search(text) is None
