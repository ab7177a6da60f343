"""Totals of the job: `Total gutter: 76-4`, `4 runs, 3 downpipes in all`, and what stands below `TOTALS`.

A total says nothing of any one run: it is kept to hold the sheet against. A number of a total whose word is
not understood is left unread, so that it is asked about and ends nowhere else.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from gutterance.reading.scanning import NUMBER_WORDS
from gutterance.sheet.models import Reading, Total

if TYPE_CHECKING:
    from gutterance.reading.discourse import Walk
    from gutterance.reading.items import Item

COUNTED = {"outlet": "outlets", "downpipe": "downpipes"}
"""What each kind of word counts, in the words of the sheet's totals."""
CORNERS = frozenset({"outside corner", "inside corner"})
"""Ends of runs that are counted."""
GUTTER_WORDS = frozenset(
    {"gutter", "guttering", "eavestrough", "eaves trough", "trough", "spouting", "rhone", "run"}
)
"""Words for a run that, beside a length, mean the gutter as a whole."""
LARGEST_COUNT = 60
"""A larger number than this counts no runs, corners or pipes of one house."""
FEWEST_IN_A_ROW = 2
"""So many things counted one after the other are totals."""
LENGTH = "gutter length"
"""The only total that is a length."""
PIPE_HEADING = re.compile(r"\bd\W?[sp]s?\b|pipe|spout|leader", re.IGNORECASE)
"""Headings of a column of outlets that speaks of the pipes below them."""
ROOFS = frozenset({"hip", "hipped", "hip roof", "roof", "all", "square", "rectangle", "box"})
"""Words before a count of corners that say how the house is."""
TIMES = re.compile(r"x ?\d{1,2}|\d{1,2} ?x", re.IGNORECASE)
"""`x4`: so many of what stands beside it."""
FARTHEST_AGAIN = 16
"""Within so many items behind a count the one stands that puts it right."""
OPENS_COUNT = frozenset({"filler", "break", "mark", "walk", "word", "total", "remark", "landmark", "all"})
"""Kinds of items that stand before and between two counts of the same things."""
ASIDE = "number of a total"
"""The kind of an item that is a number of a total, so that no other rule takes it."""


@dataclass(slots=True)
class _Noun:
    item: Item
    counts: str | None
    may_be_length: bool


def find_totals(items: list[Item], walk: Walk) -> None:
    """Put the totals of a line on the sheet, sentence by sentence, and set their words aside."""
    _counted_again(items, walk)
    sentence: list[Item] = []
    for item in items:
        sentence.append(item)
        if item.kind == "break" and item.strength >= 3:
            _totals_of(sentence, walk)
            sentence = []
    _totals_of(sentence, walk)


def _counted_again(items: list[Item], walk: Walk) -> None:
    """`So five downpipes, no, four now.`, `5 pipes... no, count 'em, 4`: the later count holds.

    A line that opens so, once pipes were told, counts those of the house; of one run it would name the run.
    """
    first = next((at for at, item in enumerate(items) if _is_number(item)), None)
    if first is None or first + 1 >= len(items) or not any(run.outlets for run in walk.runs):
        return
    what, noun = COUNTED.get(items[first + 1].kind), items[first + 1]
    if what is None or not _fits(items[first], "runs") or not noun.plural:
        return
    if not all(item.kind in OPENS_COUNT for item in items[:first]):
        return
    again = next((at for at in range(first + 2, len(items)) if _is_number(items[at])), None)
    if again is None or not _fits(items[again], "runs") or again - first > FARTHEST_AGAIN:
        return
    between = items[first + 2 : again]
    behind = next((item for item in items[again + 1 :] if item.kind not in ("filler", "walk", "mark")), None)
    if (
        not any(item.kind in ("fix", "no", "withdraw") for item in between)
        or any(item.kind not in (*OPENS_COUNT, "fix", "no", "withdraw", "count of") for item in between)
        or not (behind is None or behind.kind == "break")
    ):
        return
    old, new = items[first], items[again]
    was = walk.text(_count(old), old, noun)
    reading = walk.text(_count(new), new)
    reading.status, reading.was, reading.why = "corrected", [was], "corrected by the measurer"
    keep_total(what, reading, walk)
    for item in (old, new):
        item.kind = ASIDE
    for item in (noun, *between):
        if item.kind not in ("break", "word"):
            walk.use(item)
            item.marks["total"], item.kind = True, "filler"


def totals_of_cell(items: list[Item], column: str | None, heading: str, walk: Walk) -> None:
    """The totals in a cell of a table's total row; `column` is what its column is, `heading` its words."""
    numbers = [item for item in items if _is_number(item)]
    pairs = _paired(numbers, _nouns(items))
    for number, what in pairs:
        _put(number[0], what, walk, number[1:])
    if pairs or len(numbers) != 1:
        return
    of_column = {"length": LENGTH, "outlet": "outlets"}.get(column or "")
    if of_column == "outlets" and PIPE_HEADING.search(heading):
        of_column = "downpipes"
    if of_column is not None and _fits(numbers[0], of_column):
        _put(numbers[0], of_column, walk, [])


def _totals_of(sentence: list[Item], walk: Walk) -> None:
    _all_so_many(sentence, walk)
    _counts_in_a_row(sentence, walk)
    _corners_alone(sentence, walk)
    said = [item for item in sentence if item.kind == "total" or _says_total(item)]
    below_heading = walk.totals_from is not None and walk.run is None
    if not said and not below_heading:
        return
    if any(item.kind == "place" for item in sentence):
        return
    numbers = [item for item in sentence if _is_number(item)]
    nouns = _nouns(sentence)
    if not numbers or (below_heading and not said and not nouns):
        return
    run = walk.run
    if run is not None and "length" not in run.fields and not any(noun.counts for noun in nouns):
        return  # `the front ... 42 foot 6 in total`: the run's own
    pairs = _paired(numbers, nouns)
    for number, what in pairs:
        _put(number[0], what, walk, [*number[1:], *said])
    left = [item for item in numbers if not any(item is number[0] for number, _ in pairs)]
    if said and len(left) == 1 and not any(what == LENGTH for _, what in pairs) and _fits(left[0], LENGTH):
        _put(left.pop(), LENGTH, walk, said)
    for item in left:
        item.kind = ASIDE


def _all_so_many(sentence: list[Item], walk: Walk) -> None:
    """`all four downpipes are 9-4`: how many there are is told by the way; the rest of the words stand."""
    for place, item in enumerate(sentence):
        words = item.text.lower().split()
        if item.kind != "all" or words[0] != "all":
            continue
        behind = sentence[place + 1 :]
        if len(words) == 2 and words[1] in NUMBER_WORDS:
            number, behind = item, sentence[place + 1 :]
            count = NUMBER_WORDS[words[1]]
        elif behind and _is_number(behind[0]) and _fits(behind[0], "runs"):
            number, behind = behind[0], behind[1:]
            count = _count(number)
        else:
            continue
        what = next((noun.counts for noun in _nouns(behind[:1])), None)
        if what is None or any(item.kind in ("place", "side", "lr") for item in behind[1:3]):
            continue
        reading = walk.text(count, number)
        keep_total(what, reading, walk)
        if number is not item:
            number.kind = ASIDE


def _counts_in_a_row(sentence: list[Item], walk: Walk) -> None:
    """`Four runs and six downpipes.`: several things counted one after the other are of the whole job.

    Where a place is named in the sentence they may be of that place, unless it is runs that are counted.
    """
    named = any(item.kind == "place" for item in sentence)
    place = 0
    while place < len(sentence):
        row: list[tuple[Item, _Noun, str]] = []
        last = place
        while last + 1 < len(sentence):
            number, noun = sentence[last], _nouns(sentence[last + 1 : last + 2])
            pairs = _in_order([number], noun, noun_first=False) if _is_number(number) else []
            if not pairs or pairs[0][1] == LENGTH:
                break
            row.append((number, noun[0], pairs[0][1]))
            last += 2
            while last < len(sentence) and (
                sentence[last].text in (",", "&", "+") or sentence[last].text.lower() == "and"
            ):
                last += 1
        behind = [item.kind for item in sentence[last : last + 3] if item.kind != "filler"][:1]
        kinds = {what for _, _, what in row}
        if (
            len(kinds) >= FEWEST_IN_A_ROW
            and behind not in (["place"], ["side"], ["lr"])
            and ("runs" in kinds or not named)
        ):
            for number, noun_said, what in row:
                _put(number, what, walk, [noun_said.item])
        place = max(last, place + 1)


def _corners_alone(sentence: list[Item], walk: Walk) -> None:
    """`Four outside corners, no insides.`: a sentence that only counts corners counts them all."""
    said = [item for item in sentence if item.kind not in ("filler", "break", "mark", "walk")]
    commas = [at for at, item in enumerate(sentence) if item.text == ","]
    if commas and not any(_is_number(item) or item.kind == "place" for item in sentence[: commas[-1]]):
        # `Bungalow, gutter all the way round, 4 outside corners`
        said = [item for item in said if item.start > sentence[commas[-1]].start]
    while said and said[0].text.lower() in ROOFS:
        said = said[1:]
    rest = _counts_first(said)
    pairs: list[tuple[Item, Item]] = []
    while len(rest) >= 2 and rest[1].kind in ("end", "end word") and rest[1].value in CORNERS:
        number, noun = rest[0], rest[1]
        plural = noun.plural or TIMES.fullmatch(number.text) is not None or noun.text.isupper()
        if number.kind != "no" and not (_is_number(number) and _fits(number, "runs") and plural):
            return
        pairs.append((number, noun))
        rest = rest[2:]
    if rest or not pairs or not any(_is_number(number) for number, _ in pairs):
        return
    for number, noun in pairs:
        what = f"{noun.value}s"
        if number.kind == "no":
            keep_total(what, walk.text(0, number, noun), walk)
        else:
            keep_total(what, walk.text(_count(number), number, noun), walk)
        number.kind = ASIDE
        noun.marks["total"], noun.kind = True, "filler"


def _counts_first(said: list[Item]) -> list[Item]:
    """`OC x4`: as four of them."""
    if len(said) == 2 and TIMES.fullmatch(said[1].text) and said[1].text.lower().startswith("x"):
        return said[::-1]
    return said


def _says_total(item: Item) -> bool:
    """`Total gutter`, `linear feet`: words that say at once that it is a total, and of what."""
    return item.kind == "count of" and item.value == LENGTH


def _is_number(item: Item) -> bool:
    """Whether an item is a number that may count or measure: no price, no pitch."""
    found = item.found
    if item.kind not in ("measure", "count") or found is None:
        return False
    return found.kind != "other" or found.what == "count"


def _nouns(items: list[Item]) -> list[_Noun]:
    """The words that say what is counted or measured, in order."""
    nouns: list[_Noun] = []
    for number, item in enumerate(items):
        if item.kind in COUNTED:
            nouns.append(_Noun(item, COUNTED[item.kind], may_be_length=False))
        elif item.kind in ("end", "end word") and item.value in CORNERS:
            nouns.append(_Noun(item, f"{item.value}s", may_be_length=False))
        elif item.kind == "run noun":
            whole = item.text.lower() in GUTTER_WORDS
            counts = "runs" if item.text.lower() not in GUTTER_WORDS - {"run"} else None
            nouns.append(_Noun(item, counts, may_be_length=whole))
        elif item.kind == "count of":
            nouns.append(_Noun(item, None if item.value == LENGTH else item.value, item.value == LENGTH))
        elif item.kind == "cue" and item.value == "length":
            beside = items[number - 1] if number else None
            if beside is None or beside.kind != "run noun":
                nouns.append(_Noun(item, None, may_be_length=True))
    return nouns


def _paired(numbers: list[Item], nouns: list[_Noun]) -> list[tuple[list[Item], str]]:
    """Each number with its word, and what total that is; the order that pairs more of them is the note's."""
    orders = [_in_order(numbers, nouns, noun_first=first) for first in (False, True)]
    return max(orders, key=len)


def _in_order(numbers: list[Item], nouns: list[_Noun], *, noun_first: bool) -> list[tuple[list[Item], str]]:
    """The pairs where each word stands before its number, or each behind it."""
    pairs: list[tuple[list[Item], str]] = []
    for number in numbers:
        beside = [
            noun
            for noun in nouns
            if (noun.item.start < number.start) == noun_first
            and not any(
                other is not number
                and min(noun.item.start, number.start) < other.start < max(noun.item.start, number.start)
                for other in numbers
            )
        ]
        beside.sort(key=lambda noun: abs(noun.item.start - number.start))
        for noun in beside:
            what = next(
                (
                    what
                    for what in (noun.counts, LENGTH if noun.may_be_length else None)
                    if what and _fits(number, what)
                ),
                None,
            )
            if what is not None:
                pairs.append(([number, noun.item], what))
                break
    return pairs


def _fits(item: Item, what: str) -> bool:
    """Whether a number may be that total: a whole count, or a length in more than bare inches."""
    found = item.found
    assert found is not None
    if what == LENGTH:
        return found.kind == "length" or len(found.amounts) > 1 or (found.value or 0) > LARGEST_COUNT // 4
    value = item.value if item.kind == "count" else _times(item) or found.value
    return (
        value is not None
        and found.kind in ("bare", "other")
        and len(found.amounts) <= 1
        and value == int(value)
        and 0 <= value <= LARGEST_COUNT
    )


def _count(number: Item) -> int:
    """The whole number of a count."""
    assert number.found is not None
    return int(number.value if number.kind == "count" else _times(number) or number.found.value or 0)


def _times(item: Item) -> int | None:
    """The four of `x4`."""
    return int(item.text.lower().strip("x ")) if TIMES.fullmatch(item.text) else None


def _put(number: Item, what: str, walk: Walk, words: list[Item]) -> None:
    """Keep a total, and set its words aside."""
    reading: Reading[Any] | None
    if what == LENGTH:
        reading = walk.length(number, "length", words[:1])
    else:
        reading = walk.text(_count(number), number, *words[:1])
    if reading is None:
        return
    keep_total(what, reading, walk)
    number.kind = ASIDE
    for word in words:
        walk.use(word)
        word.marks["total"] = True
        if word.kind != "total":
            word.kind = "filler"


def keep_total(what: str, reading: Reading[Any], walk: Walk) -> None:
    """Put a total on the sheet; where another was told before, the later is doubtful."""
    known = next((total for total in walk.totals if total.what == what), None)
    if known is None:
        walk.totals.append(Total(what=what, value=reading))
    elif known.value.value == reading.value:
        known.value.source.extend(reading.source)
    else:
        reading.status, reading.why = "doubtful", "two totals of it were said"
        known.value = reading
