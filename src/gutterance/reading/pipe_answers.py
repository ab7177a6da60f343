"""Answers about a run's downpipes, put on the sheet."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

from gutterance.reading.builder import by_ditto
from gutterance.reading.ditto import copied
from gutterance.reading.endings import endings_by_side
from gutterance.reading.items import Item
from gutterance.reading.outlet_answers import PLACES, no_outlet
from gutterance.reading.run_answers import length_reading, missing, settle_doubt, settled
from gutterance.reading.sizes import pipe_size
from gutterance.reading.stretch_words import found_value
from gutterance.reading.written_answers import Answer, is_one_meaning, meaning_of

if TYPE_CHECKING:
    from gutterance.reading.builder import OutletDraft, RunDraft
    from gutterance.reading.discourse import Walk
    from gutterance.sheet.models import Reading

ROUND = re.compile(r"\b(?:rd|rnd|round|dia|diam(?:eter)?|circ|ø)\b|ø", re.IGNORECASE)
"""Words that make one number the size of a round pipe."""
SQUARE = re.compile(r"\b(?:sq|square|box)\b", re.IGNORECASE)
"""Words that make one number the size of a square pipe."""
SMALLEST_PIPE_IN_MM = 40
"""A bare pipe size from here on is in millimetres."""


def pipe_length(answer: Answer, walk: Walk, run: RunDraft, name: str) -> None:
    """A height or a wall to fascia: one for all of the run's pipes, one for each, or each with its side."""
    walk.run = run
    measures = answer.measures
    if not measures:
        if answer.of("unknown") or answer.in_doubt:
            _to_pipes(name, missing(answer, walk), answer, walk, run)
        return
    sides = answer.sides_of(measures)
    here = _focused(answer, walk, run)
    answer.marked_apart = len(measures) > 1 and (all(sides) or len(measures) == len(here))
    if any(sides):
        for item, side in zip(measures, sides, strict=True):
            reading = length_reading(item, name, answer, walk)
            if reading is None:
                continue
            walk.outlets = [_outlet_on(side, walk, run)] if side is not None else here
            _to_pipes(name, reading, answer, walk, run, item)
        walk.outlets = here or list(run.outlets)
        return
    if len(measures) > 1 and len(measures) == len(here):
        for outlet, item in zip(_in_order(here), measures, strict=True):
            reading = length_reading(item, name, answer, walk)
            if reading is not None:
                walk.outlets = [outlet]
                _to_pipes(name, reading, answer, walk, run, item)
        walk.outlets = here
        return
    item = settled(answer)
    reading = length_reading(item, name, answer, walk)
    if reading is not None:
        _to_pipes(name, reading, answer, walk, run, item)


def _focused(answer: Answer, walk: Walk, run: RunDraft) -> list[OutletDraft]:
    """The outlets an answer is about: those its label names, those told just before, or all of the run."""
    label = answer.label
    if label is not None and label.side is not None:
        walk.outlets = [_outlet_on(_side_item(label.side, answer), walk, run)]
    elif not [outlet for outlet in walk.outlets if outlet in run.outlets]:
        walk.outlets = list(run.outlets)
    return walk.outlets


def _side_item(side: str, answer: Answer) -> Item:
    """A side named in a label, as an item that stands where its answer does."""
    item = answer.as_item
    return Item(item.line, item.start, item.end, item.text, "side", side)


def _outlet_on(side: Item, walk: Walk, run: RunDraft) -> OutletDraft:
    """The run's outlet on that side, made where there is none."""
    walk.run = run
    known = next((outlet for outlet in run.outlets if outlet.side == side.value), None)
    return known or walk.outlet_at(side.value, side, walk.text(side.value, side), None)


def _in_order(outlets_told: list[OutletDraft]) -> list[OutletDraft]:
    """Outlets from left to right, where their sides are told and no two are on one."""
    order = {"left": 0, "centre": 1, "right": 2}
    if len({outlet.side for outlet in outlets_told}) < len(outlets_told):
        return outlets_told
    return sorted(outlets_told, key=lambda outlet: order.get(outlet.side or "", 1))


def _to_pipes(
    name: str, reading: Reading[Any], answer: Answer, walk: Walk, run: RunDraft, item: Item | None = None
) -> None:
    """Put a pipe's value to the outlets in focus, or keep it for the one to come."""
    item = item or answer.as_item
    if not [outlet for outlet in walk.outlets if outlet in run.outlets]:
        walk.outlets = list(run.outlets)
    if not walk.outlets:
        walk.put(run.pending, name, reading, item)
        return
    for number, outlet in enumerate(walk.outlets):
        copy = reading if number == 0 else reading.model_copy(deep=True)
        old = outlet.pipe.fields.get(name)
        if copy.value is None and old is not None:
            if by_ditto(old):
                outlet.pipe.fields[name] = copy
            continue
        walk.put(outlet.pipe.fields, name, copy, item)


def pipe_ending(answer: Answer, walk: Walk, run: RunDraft) -> None:
    """Where the run's pipes end."""
    walk.run = run
    parts = [part for part in answer.parts(re.compile(r"\s*(?:/|;|,|\+|&|\band\b)\s*")) if part.text]
    told: list[tuple[Answer, Reading[Any]]] = []
    for part in parts:
        ending = _ending_of(part, walk)
        if ending is not None:
            told.append((part, ending))
    here = _focused(answer, walk, run)
    if _endings_by_side(answer, walk, run):
        return
    if len(told) == 1 and len(here) > 1 and _ending_of_one_side(parts, told[0], walk, run):
        walk.outlets = here
        return
    one_thing = is_one_meaning(answer, "ends_at")  # `s/w drain`
    whole = _ending_of(answer, walk) if one_thing or len(told) != len(here) or len(told) < 2 else None
    if whole is None and len(told) > 1 and len(told) == len(here):
        for number, (part, reading) in enumerate(told):
            side = next((item for item in part.of("side", "lr") if item.value in PLACES), None)
            walk.outlets = [_outlet_on(side, walk, run) if side is not None else _in_order(here)[number]]
            _to_pipes("ends_at", reading, part, walk, run)
        walk.outlets = here
        return
    several = len({reading.value for _, reading in told}) > 1 and not one_thing
    if whole is not None and several and whole.status == "read":
        whole.status = "doubtful"
        whole.why = f"several endings stand in one answer, and {len(here) or 'no'} pipes beside it"
    if whole is not None:
        _to_pipes("ends_at", whole, answer, walk, run)
    elif answer.in_doubt or answer.of("unknown") or re.search(r"[A-Za-z]{2}", answer.text):
        reading = missing(answer, walk)
        reading.why = f"an ending the reader does not know: {answer.text}"
        _to_pipes("ends_at", reading, answer, walk, run)


def _ending_of_one_side(
    parts: list[Answer], told: tuple[Answer, Reading[Any]], walk: Walk, run: RunDraft
) -> bool:
    """`left splash block, right see above`: one pipe's ending, and none the reader can find for the other."""
    sides = [[item for item in part.of("side", "lr") if item.value in PLACES] for part in parts]
    if any(len(one) > 1 for one in sides) or not sides[parts.index(told[0])]:
        return False
    for part, side in zip(parts, sides, strict=True):
        if not side:
            continue
        walk.outlets = [_outlet_on(side[0], walk, run)]
        reading = told[1]
        if part is not told[0]:
            reading = missing(part, walk)
            reading.why = f"an ending the reader does not know: {part.text}"
        _to_pipes("ends_at", reading, part, walk, run)
    return True


def _endings_by_side(answer: Answer, walk: Walk, run: RunDraft) -> bool:
    """`drain (L) splash (R)`: each pipe's ending with its side. False where the answer is not so."""
    items = [item for item in answer.items if item.kind not in ("filler", "mark", "break", "colon")]
    endings_by_side(answer.items)
    told = [item for item in items if item.kind == "ends at" and "at side" in item.marks]
    if not told or any(item.kind not in ("ends at", "lr", "side") for item in items):
        return False
    here = walk.outlets
    for item in told:
        walk.outlets = [_outlet_on(item.marks["at side"], walk, run)]
        walk.use(item.marks["at side"])
        _to_pipes("ends_at", walk.text(item.value, item), answer, walk, run, item)
    walk.outlets = here
    return True


def _ending_of(answer: Answer, walk: Walk) -> Reading[Any] | None:
    """The ending that an answer tells."""
    key = answer.legend.get(answer.plain)
    if key is not None and key.kind == "ends at":
        return walk.text(key.value, answer.as_item, why=f"the key says: {key.text}")
    known = meaning_of(answer, "ends_at")
    if known is not None:
        reading = walk.text(known[0], answer.as_item)
        if not known[1]:
            reading.status = "doubtful"
            reading.why = f"the letter {answer.text!r} alone was taken for {known[0]}"
        settle_doubt(reading, answer)
        return reading
    named = answer.of("ends at")
    if named:
        reading = walk.text(named[0].value, named[0])
        if len({item.value for item in named}) > 1:
            reading.status, reading.why = "doubtful", "two endings stand in one answer"
        settle_doubt(reading, answer)
        return reading
    onto = re.fullmatch(
        r"(?:on ?to |on |over |in ?to )?(?:the )?[a-z'. -]+ (?P<what>roof|gutter)", answer.plain
    )
    if onto is not None:
        return walk.text(f"lower {onto['what']}", answer.as_item)
    return None


def pipe_size_of(answer: Answer) -> tuple[str, Item] | None:
    """The size of pipe that an answer tells: `2x3`, `80 rd`, `76 mm round`, `75 square`, `4"`."""
    for item in answer.numbers:
        found = item.found
        assert found is not None
        value = found_value(item) if found.amounts else found.value
        if (
            found.what == "pipe size"
            or value is None
            or (found.kind == "other" and found.what != "gutter size")
        ):
            size = pipe_size(item)
            if size is not None:
                return size, item
            continue
        unit = "mm" if "mm" in item.text.lower() or value >= SMALLEST_PIPE_IN_MM else "in"
        number = _plain_number(value)
        if found.what == "gutter size" and not re.search(
            r"\d\W*(?:inch|in|mm)?\W*(?:rd|rnd|round)\b", item.text, re.IGNORECASE
        ):
            continue
        if ROUND.search(answer.text) or found.what == "gutter size":
            return f"{number} {unit} round", item
        if SQUARE.search(answer.text):
            return f"{number} {unit} square", item
    return None


def _plain_number(value: Any) -> str:
    """A number as the sheet writes it in the name of a size."""
    from gutterance.measure.length import decimal_or_mixed

    return decimal_or_mixed(value)


def pipe_size_answer(answer: Answer, walk: Walk, run: RunDraft) -> None:
    """The size of the pipes told just before."""
    read = pipe_size_of(answer)
    if read is None:
        return
    size, item = read
    reading = walk.text(size, item)
    settle_doubt(reading, answer)
    walk.run = run
    _focused(answer, walk, run)
    _to_pipes("size", reading, answer, walk, run, item)


def pipe_offset(answer: Answer, walk: Walk, run: RunDraft) -> None:
    """How far a pipe is set over."""
    targets = _focused(answer, walk, run)
    for item in answer.measures[:1]:
        reading = length_reading(item, "offset", answer, walk)
        if reading is not None:
            for outlet in targets:
                outlet.pipe.offsets.append(reading)
            if not targets:
                run.pending_offsets.append(reading)


def pipes_same_as_above(
    field: str, answer: Answer, walk: Walk, run: RunDraft, last: RunDraft, words: str | None = None
) -> None:
    """Copy an answer about the pipes of the run above, or of the one that `words` name."""
    item = answer.as_item
    same = Item(item.line, item.start, item.end, item.text, "same")
    words = words or f"the {last.place.name}, the row above"
    walk.run = run
    if field in ("outlet", "at", "count"):
        if last.no_outlet is not None:
            no_outlet(answer, walk, run)
        walk.outlets = [
            walk.outlet_at(
                outlet.place.value, same, copied(outlet.place, "same as", words, same), outlet.distance
            )
            for outlet in last.outlets
            if outlet.place is not None
        ]
        walk.use(same)
        return
    name = {"pipe_size": "size"}.get(field, field)
    if not last.outlets:
        return
    origin = last.outlets[-1].pipe.fields.get(name)
    if origin is not None:
        _focused(answer, walk, run)
        reading = copied(origin, "same as", words, same)
        if len({str(outlet.pipe.fields.get(name)) for outlet in last.outlets}) > 1:
            reading.status, reading.why = "doubtful", f"{words} has several that differ"
        _to_pipes(name, reading, answer, walk, run, same)
        walk.use(same)
