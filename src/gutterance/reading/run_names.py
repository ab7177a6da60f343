"""Which run the words of a heading, a cell or an answer name."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from gutterance.reading.discourse import OPPOSITE
from gutterance.reading.items import Item
from gutterance.reading.neighbours import in_context
from gutterance.reading.places import LR_SIDE, PlaceName, fold_places

if TYPE_CHECKING:
    from gutterance.reading.discourse import Walk
    from gutterance.reading.written_answers import Answer

RUN_NOUN = re.compile(r"\A(?:run|side|eave|wall|elevation|no\.?|number|#|ref\.?)\s*", re.IGNORECASE)
"""A noun before a run's number."""


EXTENSION = frozenset({"ext", "extn", "exten"})
"""What an extension is called for short."""
LONGEST_OWN_NAME = 3
"""A name that the reader does not know has no more words than this."""


def _words_before(answer: Answer, place: Item) -> str | None:
    """`Cart house, east`: words nobody knows, and a comma, before a direction: they are part of the name."""
    name = place.value
    words = answer.line.text[answer.start : place.start].rstrip()
    if name.direction is None or name.part is not None or not words.endswith(","):
        return None
    words = words.strip(" ,.")
    unknown = any(item.kind == "word" and item.start < place.start for item in answer.items)
    plain = re.fullmatch(r"[A-Za-z][A-Za-z'’ -]+", words) is not None
    return words.lower() if unknown and plain and len(words.split()) <= LONGEST_OWN_NAME else None


def _with_extensions(items: list[Item]) -> list[Item]:
    """`Ext. rear`: in the name of a run it is short for an extension, and no external corner."""
    named: list[Item] = []
    for item in items:
        if item.kind in ("end", "end word") and item.text.lower() in EXTENSION:
            item.kind, item.value = "part", "extension"
        elif item.kind == "break" and item.text == "." and named and named[-1].value == "extension":
            continue
        named.append(item)
    return named


def _with_place_behind(place: Item, folded: list[Item], answer: Answer) -> Item:
    """`Garage, front`, `south, garage part`, `back, upper`: one name in two parts, a comma between."""
    at = folded.index(place)
    behind = next((item for item in folded[at + 1 :] if item.kind == "place"), None)
    if behind is None or not re.fullmatch(r"\s*[,;/–-]?\s*", answer.line.text[place.end : behind.start]):
        return place
    if (
        re.match(r"\s*(?:side|end|corner)\b", answer.line.text[behind.end :])
        and behind.value.direction is None
    ):
        return place  # `front, garage side`: that end of the front
    first, second = place.value, behind.value
    for name in ("storey", "part", "direction", "number", "house"):
        if getattr(first, name) is not None and getattr(second, name) is not None:
            return place
    both = replace(
        first,
        storey=first.storey or second.storey,
        part=first.part or second.part,
        direction=first.direction or second.direction,
        own=first.own or second.own,
    )
    return Item(
        place.line, place.start, behind.end, answer.line.text[place.start : behind.end], "place", both
    )


@dataclass(slots=True)
class RunNames:
    """The names of runs, with those known from before: `aliases` by number or letter, `letters` as names."""

    walk: Walk
    aliases: dict[str, PlaceName]
    letters: bool

    def name_in(self, answer: Answer, *, measured: bool) -> tuple[PlaceName | None, Item | None]:
        """The run that an answer names, and the side of it where it says one.

        `measured` says that lengths are told beside the names, so that `front left` is a run of its own and
        not an outlet's place.
        """
        if answer.is_empty and not answer.text.isalnum():
            return None, None
        alias = self._by_alias(answer)
        if alias is not None:
            return alias
        if self.letters and len(answer.plain) == 1 and answer.plain.isalpha():
            return PlaceName(number=answer.plain), None
        known = frozenset((run.place.part, run.place.direction) for run in self.walk.runs)
        items = _with_extensions([item for item in answer.items if item.kind != "mark"])
        initial = len(items) == 1 and items[0].kind == "initial"
        if initial:
            return in_context(PlaceName(direction=items[0].value), self.walk), None
        words = [item.text.lower() for item in items]
        own = self._own_name(answer)
        if own is not None:
            return own, None
        folded = fold_places(items, answer.line.text, known)
        place = next((item for item in folded if item.kind == "place"), None)
        if place is not None:
            both = _with_place_behind(place, folded, answer)
            if measured or any(run.place == both.value for run in self.walk.runs):
                place = both
        quarter = next((item for item in folded if item.kind == "quarter"), None)
        sides = [item for item in folded if item.kind in ("lr", "side") and item.value in OPPOSITE]
        if place is not None and quarter is None:
            before = _words_before(answer, place)
            if before is not None:
                return replace(place.value, part=before), None
        if quarter is not None:
            direction, which = quarter.value.split()
            if measured or (None, quarter.value) in known:
                return in_context(PlaceName(direction=quarter.value), self.walk), None
            side = Item(answer.line.number, quarter.start, quarter.end, quarter.text, "side", which)
            return in_context(PlaceName(direction=direction), self.walk), side
        if place is not None and place.value.direction is None and place.value.part is None and sides:
            # `right, main`: a side of the main house
            storey = place.value.storey if place.value.storey != "main" else None
            return in_context(PlaceName(storey=storey, direction=LR_SIDE[sides[0].value]), self.walk), None
        if place is not None:
            return self._with_side(place, sides, words, measured=measured, known=known)
        if sides and (measured or len(words) == 1):
            return in_context(PlaceName(direction=LR_SIDE[sides[0].value]), self.walk), None
        number = RUN_NOUN.sub("", answer.text.strip(" .:#")).strip(" .:#")
        if re.fullmatch(r"\d{1,3}|[A-Za-z]", number):
            return PlaceName(number=number.lower()), None
        named = re.sub(r"\s+", " ", re.sub(r"\([^)]*\)", " ", answer.plain)).strip()
        return (PlaceName(part=named, own=True), None) if re.search(r"[a-z]", named) else (None, None)

    def _by_alias(self, answer: Answer) -> tuple[PlaceName, Item | None] | None:
        """A run by its number or letter: `2`, `run 2`, `A, left`."""
        number = RUN_NOUN.sub("", answer.plain)
        if number in self.aliases:
            return self.aliases[number], None
        match = re.match(r"(?P<name>[a-z]|\d{1,2})\b\s*[,:;/-]?\s*(?P<rest>\D.*)\Z", number)
        if match is None or (match["name"] not in self.aliases and not self.letters):
            return None
        side = next((item for item in answer.of("lr", "side") if item.value in OPPOSITE), None)
        if side is not None and side.start == answer.start:
            return None
        return self.aliases.get(match["name"], PlaceName(number=match["name"])), side

    def _own_name(self, answer: Answer) -> PlaceName | None:
        """`Inner west`, `gable porch`: words nobody knows before a place are part of its name."""
        items = [item for item in answer.items if item.kind not in ("mark", "filler", "break")]
        if len(items) != 2 or not all(item.text.isalpha() for item in items):
            return None
        first, second = items
        if first.kind not in ("word", "landmark"):
            return None
        if second.kind == "direction":
            return PlaceName(part=first.text.lower(), direction=second.value)
        if second.kind == "part":
            return PlaceName(part=f"{first.text.lower()} {second.value}")
        return None

    def _with_side(
        self,
        place: Item,
        sides: list[Item],
        words: list[str],
        *,
        measured: bool,
        known: frozenset[tuple[str | None, str | None]],
    ) -> tuple[PlaceName, Item | None]:
        """A named place with a side behind it: half of the front, a side of the bay, or an outlet's place."""
        name: PlaceName = place.value
        if not sides:
            return in_context(name, self.walk), None
        side = sides[0]
        alone = len(words) == 2
        if name.direction in ("front", "back") and name.part is None and alone:
            half = replace(name, direction=f"{name.direction} {side.value}")
            if measured or (None, half.direction) in known:
                return in_context(half, self.walk), None
        if name.part is not None and name.direction is None:
            of_part = replace(name, direction=LR_SIDE[side.value])
            if measured or (name.part, LR_SIDE[side.value]) in known:
                return in_context(of_part, self.walk), sides[1] if len(sides) > 1 else None
        return in_context(name, self.walk), side
