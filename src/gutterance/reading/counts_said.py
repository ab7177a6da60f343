"""Counts and totals said: `4 downpipes`, `Total DPs: 2`, `two outside corners`."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.reading.stretch_words import StretchWords
from gutterance.sheet.models import Reading, Total

if TYPE_CHECKING:
    from gutterance.reading.items import Item

COUNT_OF = {"outlet": "outlets", "downpipe": "downpipes", "run noun": "runs"}
"""What a number before such a word counts, in the words of the sheet's totals."""


class CountsSaid(StretchWords):
    """What is counted, and which counts are totals of the job to check the sheet against."""

    def _count(self, item: Item) -> None:
        """A count: of outlets said here, or a total of the job."""
        nxt = self._next_said()
        walk = self.walk
        walk.use(item)
        if nxt is None or nxt.kind == "colon":
            self._total_named_before(item)
            return
        what = COUNT_OF.get(nxt.kind)
        if nxt.kind in ("end", "end word") and nxt.value in ("outside corner", "inside corner"):
            what = f"{nxt.value}s"
        if self._alone_in_line(item, nxt) and what is not None:
            nxt.marks["total"] = True
            self._add_total(what, item, nxt)
            return
        if what == "runs" and item.value <= 1 and self.total is None:
            return
        if what is None or nxt.marks.get("remark"):
            self._total_named_before(item)
            if nxt.kind in ("place", "side", "lr") or (nxt.text.lower() in ("on", "at")):
                self.walk.pipe_list = self.walk.pipe_list or self._list_of_outlets()
            return
        in_totals = self.total is not None or self._in_totals() or what == "runs"
        listed = "side" not in nxt.marks and self._counts_in_line() >= 2 and not self.new_run_here
        if in_totals or listed:
            nxt.marks["total"] = True
            self._add_total(what, item, nxt)

    def _downpipe_name(self, item: Item) -> None:
        """`Downpipe 2:`: the name of a row, which says that pipes are listed here."""
        self.walk.use(item)
        self.walk.pipe_list = True
        self.walk.pipe_named = item
        behind = [other for other in [*self.items[self.number + 1 :], *self.later] if other.kind != "colon"]
        if behind:
            behind[0].marks.setdefault("with", []).append(item)

    def _alone_in_line(self, item: Item, noun: Item) -> bool:
        """`3 dps`: a line that only counts."""
        return all(
            other is item or other is noun or other.kind in ("filler", "break", "mark", "colon")
            for other in self.line.items
        )

    def _list_of_outlets(self) -> bool:
        """`downpipes: one on the front at the left, one on ...`: outlets listed by place."""
        return any(
            other.kind in ("downpipe", "outlet") and other.plural for other in self.items[: self.number]
        )

    def _total_named_before(self, item: Item) -> None:
        """`Total DPs: 2`, `downpipes 3`."""
        if self.total is None and not self._in_totals():
            return
        for other in reversed(self.items[: self.number]):
            what = COUNT_OF.get(other.kind)
            if other.kind in ("end", "end word") and other.value in ("outside corner", "inside corner"):
                what = f"{other.value}s"
            if what is not None:
                other.marks["total"] = True
                self._add_total(what, item, other)
                return

    def _add_total(self, what: str, item: Item, noun: Item) -> None:
        """Put a total on the sheet."""
        value = Reading[int](value=item.value, source=[item.source(), noun.source()])
        self.walk.totals.append(Total(what=what, value=value))
        self.walk.use(noun)

    def _counts_in_line(self) -> int:
        """How many counts stand in this stretch."""
        return sum(other.kind == "count" and other.value > 0 for other in self.items)
