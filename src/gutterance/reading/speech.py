"""Reads a line's items into the walk: finds remarks and what is said of all, and parts the line into stretches."""

from __future__ import annotations

import re
from copy import deepcopy
from typing import TYPE_CHECKING

from gutterance.reading.corrections import merge_corrections
from gutterance.reading.focus import settle_places
from gutterance.reading.items import Item, Line
from gutterance.reading.places import PlaceName, fold_places
from gutterance.reading.stretch import Stretch

if TYPE_CHECKING:
    from gutterance.reading.discourse import Walk

LIST_MARKER = re.compile(r"\A\s*(?:[-*•#>]+\s*)?(?P<number>\d{1,2})\s?[.):](?=\s|\Z)")
CORRECTIONS_HEADING = re.compile(
    r"\A[\W_]*(?:corrections?|changes|fixes|amendments|revisions)[\W_]*\Z", re.IGNORECASE
)
YES = re.compile(
    r"\A\W*(?:yes|yeah|yep|yup|aye|correct|right|that's it|thats it|uh huh|mm hm|mhm|ok|okay|sure|it does|they do)\b",
    re.IGNORECASE,
)
STRUCTURE = frozenset({"measure", "end", "end word", "outlet", "downpipe", "cue", "ends at", "count"})
LOCAL_ALL = frozenset({"both", "each", "both of them", "each one"})
SCOPED = frozenset(
    {
        "outlet",
        "downpipe",
        "end",
        "end word",
        "corner",
        "cue",
        "colour",
        "profile",
        "material",
        "measure",
        "count",
        "run noun",
        "ends at",
        "fix",
        "same",
    }
)
"""What an `all` must stand before to be said of the job."""
BACKWARD_ALL = frozenset(
    {"everywhere", "throughout", "all round", "all around", "all the way round", "all the way around", "across the board",
     "all over", "typical", "typ", "typ.", "all of them", "whole house", "whole job", "the lot"}
)  # fmt: skip
OF_THE_OLD = frozenset({"old", "existing", "currently", "at the moment"})
LENGTH_OF_THEIR_OWN = frozenset({"ladder", "ladders", "fence", "extension"})
LONGEST_QUESTION = 8
LONGEST_NAME = 2
LOOK_AHEAD = 3
LARGEST_SMALL_COUNT = 4
FEWEST_LETTERS = 2
REACH_OF_BOTH = 8
LONGEST_REMARK_BEFORE = 5
LONGEST_REMARK_AFTER = 10
STOREY_HEADING = re.compile(
    r"\A[\W_]*(?:(?P<up>up|upper|uppers|upstairs|upper (?:level|storey|story|floor|runs)|top|top floor|second (?:storey|story|floor))"
    r"|(?P<low>low|lower|lowers|downstairs|lower (?:level|storey|story|floor|runs)|ground floor|first storey))[\W_]*\Z",
    re.IGNORECASE,
)


def hear(line: Line, walk: Walk) -> None:
    """Read one line into the walk."""
    if walk.offered is not None and YES.match(line.text):
        walk.offered.question = False
        walk.offered.act()
    walk.offered = None
    if _storey_heading(line, walk):
        return
    if CORRECTIONS_HEADING.match(line.text):
        walk.correcting = True
        walk.run, walk.outlets = None, []
        return
    _list_marker(line, walk)
    _both_house_sides(line)
    _correcting_line(line, walk)
    if not walk.dialogue:
        _unknown_name(line)
    known = frozenset((run.place.part, run.place.direction) for run in walk.runs)
    own_names = {
        run.place.part.split()[0]: run.place
        for run in walk.runs
        if run.place.part and run.place.direction is None and run.place.own
    }
    letters = {
        run.place.number.lower(): run.place
        for run in walk.runs
        if run.place.number and run.place.number.isalpha()
    }
    if len(letters) >= FEWEST_LETTERS:
        _name_letters(line, letters)
    items = fold_places(line.items, known, own_names)
    items = merge_corrections(items)
    settle_places(items, walk)
    _find_remarks(line, items, walk)
    _find_scopes(items, walk, line)
    _answer_by_place(items, walk, line)
    stretches = _stretches(items, walk)
    _correcting_mark(items, walk)
    for number, stretch in enumerate(stretches):
        later = [item for other in stretches[number + 1 : number + 1 + LOOK_AHEAD] for item in other]
        act = Stretch(line, stretch, walk, later)
        act.question = _is_question(stretch, walk)
        act.act()
        if act.question:
            walk.offered = act
    _forget_old_correction(items, walk)


def _name_letters(line: Line, letters: dict[str, PlaceName]) -> None:
    """`A on the left, C on the right`: where runs have letters, a capital letter alone is one of them."""
    for item in line.items:
        if (
            len(item.text) == 1
            and item.text.isupper()
            and item.text.lower() in letters
            and item.kind in ("word", "filler", "initial")
        ):
            item.kind, item.value = "numbered", letters[item.text.lower()].number


def _correcting_mark(items: list[Item], walk: Walk) -> None:
    """`*24-6`: a line that opens with a star and a number puts the number before it right."""
    said = [item for item in items if item.kind != "mark"]
    if len(said) >= 2 and said[0].text == "*" and said[1].kind in ("measure", "cue"):
        walk.fixing = Item(said[0].line, said[0].start, said[0].end, "*", "fix")


def _both_house_sides(line: Line) -> None:
    """`sides 34 2 osc both`: the left and the right side of the house, each."""
    said = [
        item
        for item in line.items
        if item.kind not in ("mark", "break") and item.text.lower() not in ("the", "both")
    ]
    if len(said) < 2 or said[0].text.lower() != "sides":
        return
    if said[1].kind != "measure" and said[1].text.lower() not in ("are", ":"):
        return
    first = said[0]
    places = []
    for direction in ("left side", "right side"):
        place = Item(first.line, first.start, first.end, first.text, "place", PlaceName(direction=direction))
        place.marks.update(words=[direction], nouns=True, settled=True)
        places.append(place)
    joint = Item(first.line, first.end, first.end, "and", "filler")
    line.items = [places[0], joint, places[1], *[item for item in line.items if item.start >= first.end]]


def _correcting_line(line: Line, walk: Walk) -> None:
    """`Correction: the front is ...`: the whole line corrects. A correcting word left over from before needs its number first."""
    said = [item for item in line.items if item.kind not in ("filler", "mark", "break")]
    if not said:
        return
    if said[0].kind == "fix" and said[0].text.lower().startswith(("correct", "amend", "revis", "change")):
        walk.correct_line = line.number
    if (
        walk.fixing is not None
        and walk.fixing.line < line.number
        and said[0].kind not in ("measure", "side", "lr", "cue")
    ):
        walk.fixing = None


def _forget_old_correction(items: list[Item], walk: Walk) -> None:
    """A correcting word reaches into the next line only from the end of its own."""
    fixing = walk.fixing
    if fixing is None:
        return
    behind = [
        item for item in items if item.start > fixing.start and item.kind not in ("filler", "break", "mark")
    ]
    if items and fixing.line == items[0].line and len(behind) > 2:
        walk.fixing = None


def _storey_heading(line: Line, walk: Walk) -> bool:
    """`UP`, `Lower:`, `DORMERS`: the runs that follow are of that storey."""
    match = STOREY_HEADING.match(line.text)
    if match is None:
        return False
    storey = "lower" if match["low"] else "upper"
    walk.context = PlaceName(storey=storey)
    walk.pipe_list = False
    for item in line.items:
        walk.use(item)
    return True


def _unknown_name(line: Line) -> None:
    """`playhouse 12-4 caps both`: a line that opens with a name nobody knows and a length is a run of that name."""
    if any(
        item.kind in ("place", "direction", "part", "storey", "initial", "quarter", "remark", "next run")
        for item in line.items
    ):
        return
    items = [item for item in line.items if item.kind not in ("mark", "break")]
    names = 0
    while names < len(items) and items[names].kind == "word" and items[names].text.isalpha():
        names += 1
    if not 1 <= names <= LONGEST_NAME:
        return
    after = names
    while after < len(items) and (
        items[after].kind in ("colon", "run noun") or items[after].text.lower() in ("side", "is")
    ):
        names = after + 1 if items[after].text.lower() == "side" else names
        after += 1
    if after >= len(items) or items[after].kind != "measure":
        return
    found = items[after].found
    if found is None or found.kind == "other" or not (len(found.amounts) > 1 or found.kind == "length"):
        return
    if not any(item.kind in ("end", "end word", "outlet", "downpipe") for item in items[after:]):
        return
    words = line.text[items[0].start : items[names - 1].end]
    place = Item(
        line.number, items[0].start, items[names - 1].end, words, "place", PlaceName(part=words.lower())
    )
    place.marks.update(words=[words.lower()], nouns=False, settled=True)
    place.value = PlaceName(part=words.lower(), own=True)
    items[after].doubts.append(f"{words!r} is not a place that the reader knows: taken as the run's name")
    line.items = [place, *[item for item in line.items if item.start >= place.end]]


def _answer_by_place(items: list[Item], walk: Walk, line: Line) -> None:
    """`heights?` ... `8 foot front, 8 foot 3 back`: the question's field goes to each number of the answer."""
    if walk.asked is None or line.number - walk.asked.line > 2:
        return
    places = [item for item in items if item.kind == "place"]
    measures = [
        item
        for item in items
        if item.kind == "measure" and item.found is not None and item.found.kind != "other"
    ]
    if places and len(measures) > len(places):
        for item in measures:
            item.doubts.append("more numbers than places answer one question")
    if places and measures and len(measures) <= len(places) and not any(item.kind == "cue" for item in items):
        walk.header, walk.header_line = walk.asked, line.number
        walk.asked = None
        for place in places:
            place.marks["refers"] = True


def _list_marker(line: Line, walk: Walk) -> None:
    """`1. Front: ...`: the number of the list's row, not of the house; `1) 42-6 ...`: the name of the run."""
    match = LIST_MARKER.match(line.text)
    if match is None or not line.items:
        return
    inside = [item for item in line.items if item.start < match.end()]
    rest = [item for item in line.items if item.start >= match.end()]
    if any(item.end > match.end() for item in inside):
        return
    first = next((item for item in rest if item.kind not in ("filler", "break", "mark")), None)
    if first is None:
        return
    walk.used.setdefault(line.number, []).append((match.start("number"), match.end("number")))
    line.items = rest
    if first.kind == "measure" and first.found is not None and first.found.kind != "other":
        marker = Item(
            line.number,
            match.start("number"),
            match.end("number"),
            match["number"],
            "place",
            PlaceName(number=match["number"]),
        )
        marker.marks.update(words=[match["number"]], nouns=False, settled=True)
        line.items = [marker, *rest]


# ---------------------------------------------------------------- remarks


def _find_remarks(line: Line, items: list[Item], walk: Walk) -> None:
    """Mark the items that belong to a remark, and keep the remark with the run it is about."""
    number = 0
    while number < len(items):
        item = items[number]
        if item.kind != "remark" or item.marks.get("remark"):
            number += 1
            continue
        first = last = number
        while first > 0 and not _remark_begins_after(items, first - 1):
            first -= 1
        if item.text.lower() in OF_THE_OLD:
            # `the existing brackets are 30 inches apart`: nothing in it is measured for the new gutter
            while last + 1 < len(items) and items[last + 1].kind not in ("break", "place"):
                last += 1
        while last + 1 < len(items) and not _remark_stops_before(items, last + 1):
            last += 1
        if not any(other.kind == "break" for other in items):
            # words with no punctuation: a remark does not run on for ever
            first = max(first, number - LONGEST_REMARK_BEFORE)
            last = min(last, number + LONGEST_REMARK_AFTER)
        about = _about(items, first, last) or _focus_before(items, first)
        for other in items[first : last + 1]:
            other.marks["remark"] = item.value
        walk.remark(
            line,
            items[first].start,
            items[last].end,
            item.value,
            about or (walk.run.place if walk.run else None),
        )
        number = last + 1


def _remark_begins_after(items: list[Item], number: int) -> bool:
    item = items[number]
    if item.kind == "measure" and item.found is not None and item.found.kind == "length":
        return items[number + 1].text.lower() not in LENGTH_OF_THEIR_OWN
    if item.kind == "break":
        return item.strength >= 1
    if item.kind == "place":
        return _place_has_own_words(items, number)
    if item.kind in ("side", "lr"):
        return bool(number) and items[number - 1].kind in STRUCTURE
    return item.kind in STRUCTURE or item.kind in ("same", "unknown", "no")


def _remark_stops_before(items: list[Item], number: int) -> bool:
    item = items[number]
    if item.kind == "break":
        return item.strength >= 3 or (item.strength >= 1 and _structure_soon(items, number + 1))
    if item.kind == "measure":
        found = item.found
        nxt = items[number + 1] if number + 1 < len(items) else None
        return (
            found is not None and found.kind != "other" and nxt is not None and nxt.kind in ("cue", "ends at")
        )
    if item.kind == "place":
        return _place_has_own_words(items, number)
    if item.kind == "walk":
        return _structure_soon(items, number + 1, within=4)
    if item.kind in ("end", "outlet") and any(
        other.kind in ("side", "lr", "measure") for other in items[number + 1 : number + 5]
    ):  # fmt: skip
        return True
    if item.kind in ("end", "outlet", "downpipe", "cue", "ends at", "same", "unknown"):
        return not any(other.kind == "break" for other in items) or _structure_soon(
            items, number + 1, within=3
        )
    return item.kind == "count" and _structure_soon(items, number + 1, within=3)


def _structure_soon(items: list[Item], start: int, within: int = 5) -> bool:
    for item in items[start : start + within]:
        if item.kind == "break" and item.strength >= 1:
            return False
        if item.kind in ("remark", "word"):
            return False
        if item.kind in STRUCTURE or item.kind == "place":
            return True
    return False


def _place_has_own_words(items: list[Item], number: int) -> bool:
    """Whether a place is followed by something to measure before the words break off."""
    for item in items[number + 1 : number + 7]:
        if item.kind == "break" and item.strength >= 3:
            return False
        if item.kind in ("remark", "word", "landmark"):
            return False
        if item.kind in STRUCTURE or item.kind in ("same", "mirror", "unknown"):
            return True
    return False


def _about(items: list[Item], first: int, last: int) -> PlaceName | None:
    for item in items[first : last + 1]:
        if item.kind in ("place", "ref") and isinstance(item.value, PlaceName):
            return item.value
    return None


def _focus_before(items: list[Item], first: int) -> PlaceName | None:
    for item in reversed(items[:first]):
        if item.kind == "place":
            value: PlaceName = item.value
            return value
    return None


# ---------------------------------------------------------------- said of all


def _find_scopes(items: list[Item], walk: Walk, line: Line) -> None:
    """Mark the items that speak of the whole job: `all the downpipes are nine four`, `w/f 24 everywhere`."""
    for number, item in enumerate(items):
        if item.kind != "all" or item.marks.get("remark"):
            continue
        if item.text.lower() in LOCAL_ALL:
            if item.text.lower() in ("both", "both of them"):
                _mark_both(items, number)
            continue
        part = None
        if (
            number + 1 < len(items)
            and items[number + 1].kind == "place"
            and not items[number + 1].value.direction
        ):
            part = items[number + 1].value.part or items[number + 1].value.storey
            items[number + 1].kind = "ref"
        if _is_local(items, number, walk, line) and part is None:
            continue
        ahead = next((other for other in items[number + 1 :] if other.kind != "filler"), None)
        if ahead is not None and ahead.text.lower() in ("one", "the way", "that", "right"):
            continue
        if (
            part is None
            and ahead is not None
            and ahead.kind not in (*SCOPED, "break", "place")
            and item.text.lower() not in BACKWARD_ALL
        ):
            continue
        backward = (
            item.text.lower() in BACKWARD_ALL
            or ahead is None
            or (ahead.kind == "break" and ahead.strength >= 1)
        )
        reach = _backward(items, number) if backward else _forward(items, number)
        for other in items[reach[0] : reach[1]]:
            other.marks["all"] = True
            if part is not None:
                other.marks["all of"] = part


def _mark_both(items: list[Item], number: int) -> None:
    """Mark the numbers and endings of the clause that `both` speaks of: `20 inches on both`, `both 9 4 down`."""
    ahead = next((other for other in items[number + 1 :] if other.kind != "filler"), None)
    before = items[number - 1].text.lower() if number else ""
    step = -1 if ahead is None or ahead.kind == "break" or before in ("on", "for") else 1
    place = number + step
    if step > 0 and ahead is not None and ahead.kind == "place":
        # `both on run seven are ten foot two`
        place = next(at for at in range(number, len(items)) if items[at] is ahead) + 1
    while 0 <= place < len(items) and abs(place - number) <= REACH_OF_BOTH:
        item = items[place]
        if item.kind == "place" or (item.kind == "break" and item.strength >= 3 and step > 0):
            break
        item.marks["both"] = True
        place += step


def _is_local(items: list[Item], number: int, walk: Walk, line: Line) -> bool:
    """`front 40, three drops, all 9-4 high`: all of that run's, not of the house."""
    del line
    start = max(
        (n for n, item in enumerate(items[:number]) if item.kind == "break" and item.strength >= 4),
        default=-1,
    )
    before = items[start + 1 : number]
    if not any(item.kind == "place" for item in before):
        return False
    ahead = next((item for item in items[number + 1 :] if item.kind != "filler"), None)
    if ahead is not None and ahead.kind in ("colour", "profile", "material"):
        return False
    last = next((item for item in reversed(before) if item.kind != "filler"), None)
    if last is not None and last.kind in ("downpipe", "outlet"):
        return False
    ahead = next((other for other in items[number + 1 :] if other.kind != "filler"), None)
    plural_outlets = any(
        item.kind in ("outlet", "downpipe") and (item.plural or item.marks.get("count", 1) > 1)
        for item in before
    )
    del walk
    return plural_outlets and not (ahead is not None and ahead.kind in ("downpipe", "outlet"))


def _backward(items: list[Item], number: int) -> tuple[int, int]:
    first = number
    seen_measure = False
    while first > 0:
        item = items[first - 1]
        if item.kind == "place" or (item.kind == "break" and item.strength >= 3):
            break
        if item.kind == "break" and seen_measure:
            break
        if item.kind == "measure":
            if seen_measure:
                break
            seen_measure = True
        first -= 1
    return first, number + 1


def _forward(items: list[Item], number: int) -> tuple[int, int]:
    last = number + 1
    measured = False
    while last < len(items):
        item = items[last]
        if item.kind == "place" or (item.kind == "break" and item.strength >= 3):
            break
        if measured and item.kind in ("end", "end word", "outlet"):
            break
        measured = measured or item.kind == "measure"
        last += 1
    return number, last


# ---------------------------------------------------------------- stretches


def _stretches(items: list[Item], walk: Walk) -> list[list[Item]]:
    """The items parted where another run comes into focus, and where a sentence ends.

    A place at the end of its clause takes along what was said before it: `42 6 on the front`, `wf 12 front, wf 14 back`.
    """
    stretches: list[list[Item]] = [[]]
    for number, item in enumerate(items):
        if item.kind == "place" and not item.marks.get("remark"):
            current = stretches[-1]
            start = _taken_along(items, number, current, walk)
            moved = current[start:] if start is not None else []
            if start is not None:
                del current[start:]
            stretches.append([*moved, item])
            continue
        stretches[-1].append(item)
        if (item.kind == "break" and item.strength >= 4) or (
            item.text == "?" and not _asks_of_number(items, number)
        ):
            stretches.append([])
    return _shared_by_two([stretch for stretch in stretches if stretch])


def _shared_by_two(stretches: list[list[Item]]) -> list[list[Item]]:
    """`front and wing front all 9-2`: what is said of two places is said of each."""
    out: list[list[Item]] = []
    for number, stretch in enumerate(stretches):
        words = [item for item in stretch if item.text.lower() not in ("the", ",")]
        follows = stretches[number + 1] if number + 1 < len(stretches) else []
        only_and = len(words) == 2 and words[0].kind == "place" and words[1].text.lower() in ("and", "&", "+")
        if (
            only_and
            and follows
            and follows[0].kind == "place"
            and any(item.kind in STRUCTURE for item in follows)
        ):
            out.append([words[0], *(deepcopy(item) for item in follows[1:])])
        else:
            out.append(stretch)
    return out


def _asks_of_number(items: list[Item], number: int) -> bool:
    """`42-6?`: a doubt about the number before it."""
    return number > 0 and items[number - 1].kind == "measure"


def _taken_along(items: list[Item], number: int, current: list[Item], walk: Walk) -> int | None:
    """From where on the words before a place belong to it, or None."""
    after = next((item for item in items[number + 1 :] if item.kind != "filler"), None)
    ends_clause = after is None or after.kind == "break"
    place = len(current) - 1
    said_on = False
    while place >= 0 and current[place].kind == "filler":
        said_on = said_on or current[place].text.lower() in (
            "on",
            "along",
            "across",
            "for",
            "at",
            "of",
            "that's",
            "thats",
        )
        place -= 1
    if place < 0:
        return None
    piped = any(run.outlets for run in walk.runs) or any(
        item.kind in ("outlet", "downpipe") for item in items[:number]
    )
    if said_on and current[place].kind == "ends at" and piped:
        return place
    if (
        said_on
        and current[place].kind == "measure"
        and place
        and current[place].found is not None
        and current[place].found.kind != "other"
    ):
        before = next((item for item in reversed(current[:place]) if item.kind != "filler"), None)
        if before is not None and before.kind == "cue" and not ends_clause:
            walk.header, walk.header_line = before, items[number].line
            items[number].marks["took"] = True
            return place
        earlier = next((item for item in reversed(current[:place]) if item.kind == "place"), None)
        if earlier is not None and earlier.marks.get("took"):
            items[number].marks["took"] = True
            return place
    clause = place
    while clause >= 0 and not (current[clause].kind == "break" and current[clause].strength >= 1):
        clause -= 1
    words = current[clause + 1 : place + 1]
    if items[number].marks.get("except"):
        return None
    of_it = any(item.text.lower() == "of" for item in current[place + 1 :])
    if current[place].kind in ("side", "lr") and of_it:
        return _thing_before_side(current, place)
    if any(item.kind == "place" for item in words):
        # `9 2 on the front and 9 8 on the back`
        tail = _measure_run(current, place)
        return tail if said_on and tail is not None and ends_clause else None
    measures = [item for item in words if _may_be_length(item)]
    if current[place].kind in ("side", "lr") and said_on and not measures:
        return _thing_before_side(current, place)
    if current[place].kind in ("outlet", "downpipe") and place == len(current) - 1 and not measures:
        return place
    if (
        said_on
        and current[place].kind == "measure"
        and walk.run is not None
        and "length" in walk.run.fields
        and len(measures) == 1
    ):
        return place
    if said_on and any(item.kind in ("outlet", "downpipe", "count") for item in words) and not measures:
        return clause + 1
    if not measures:
        return None
    if ends_clause:
        return clause + 1
    if (
        said_on
        and current[place].kind == "measure"
        and (walk.run is None or not any(i.kind == "place" for i in current))
    ):
        return place
    return None


def _may_be_length(item: Item) -> bool:
    """Whether a number may measure something, rather than count it: not the `one` of `one at each end`."""
    found = item.found
    if item.kind != "measure" or found is None:
        return False
    return (
        found.kind != "bare"
        or len(found.amounts) > 1
        or found.value is None
        or found.value > LARGEST_SMALL_COUNT
    )


def _thing_before_side(current: list[Item], place: int) -> int:
    """`one outlet at the left end of the front`: from where on the words belong to the place behind them."""
    start = place
    while start and (
        current[start - 1].kind in ("filler", "count", "outlet", "downpipe")
        or (current[start - 1].kind == "measure" and not _may_be_length(current[start - 1]))
    ):
        start -= 1
    return start


def _measure_run(current: list[Item], place: int) -> int | None:
    if current[place].kind == "measure":
        return place
    if current[place].kind == "cue" and place > 0 and current[place - 1].kind == "measure":
        return place - 1
    return None


def _is_question(stretch: list[Item], walk: Walk) -> bool:
    """`Drops?`, `splash block?`: asked aloud, and said only if the answer is yes."""
    if not stretch or stretch[-1].text != "?" or not walk.dialogue:
        return False
    said = [item for item in stretch if item.kind not in ("filler", "mark", "break")]
    return len(said) <= LONGEST_QUESTION and not any(item.kind == "measure" for item in said)
