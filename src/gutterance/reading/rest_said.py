"""`the other three the same`: what was told of one run, or of one pipe, said of the others."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.reading.ditto import copied, copy_run
from gutterance.reading.places import PlaceName
from gutterance.reading.scanning import NUMBER_WORDS
from gutterance.reading.stretch_words import StretchWords

if TYPE_CHECKING:
    from gutterance.reading.builder import RunDraft
    from gutterance.reading.items import Item

SIDES_OF_A_HOUSE = ("front", "right side", "back", "left side")
"""The sides of a house, as one walks round it."""
PIPE_FIELDS = ("wall_to_fascia", "height", "ends_at")
"""What one pipe may have the same as another."""


class RestSaid(StretchWords):
    """What is the same of all the others."""

    def _rest(self, item: Item) -> None:
        """`the other three the same`: the pipes that have nothing yet, else the sides that were not told."""
        if not any(other.kind == "same" for other in self.items[self.number + 1 : self.number + 5]):
            return
        said = next(word for word in [*item.text.lower().split(), ""] if word in NUMBER_WORDS or not word)
        number = NUMBER_WORDS.get(said)
        if self._pipes_the_same(item, number) or self._sides_the_same(item, number):
            self.walk.use(item)
            for other in self.items[self.number + 1 :]:
                if other.kind == "same":
                    other.kind = "filler"

    def _pipes_the_same(self, item: Item, number: int | None) -> bool:
        """The rest of each pipe of which nothing was said, if there are as many as were counted."""
        outlets = [outlet for run in self.walk.runs for outlet in run.outlets]
        bare = [outlet for outlet in outlets if not outlet.pipe.fields]
        told = [outlet for outlet in outlets if outlet.pipe.fields]
        if not told or not bare or (number is not None and number != len(bare)):
            return False
        for outlet in bare:
            for name in PIPE_FIELDS:
                if name in told[-1].pipe.fields:
                    outlet.pipe.fields[name] = copied(
                        told[-1].pipe.fields[name], "same as", "the one before", item
                    )
        return True

    def _sides_the_same(self, item: Item, number: int | None) -> bool:
        """The sides of the house that were not told, each like the run told last."""
        walk = self.walk
        told = [run for run in walk.runs if run.has_data and "length" in run.fields]
        sides = {
            run.place.direction: run for run in told if run.place.part is None and run.place.storey is None
        }
        left = [side for side in SIDES_OF_A_HOUSE if side not in sides]
        if len(sides) != len(told) or not told or not left or (number is not None and number != len(left)):
            return False
        if any(side not in SIDES_OF_A_HOUSE for side in sides):
            return False
        like: RunDraft = told[-1]
        for side in left:
            run = walk.focus(PlaceName(direction=side), item)
            copy_run(run, like, item, f"the {like.place.name}")
        return True
