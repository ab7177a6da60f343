"""Reads one line of the note into the walk: opening, places, remarks, what is said of all, stretches."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from gutterance.reading.bays import name_sides_of_bays
from gutterance.reading.clipped_pipes import endings_of_pipes, pipes_at_named_ends
from gutterance.reading.corrections import merge_corrections
from gutterance.reading.described_heads import settle_described_heads
from gutterance.reading.eaves_said import eaves_as_cues
from gutterance.reading.either_side import name_either_side
from gutterance.reading.focus import settle_places
from gutterance.reading.line_openings import (
    CORRECTIONS_HEADING,
    FEWEST_LETTERS,
    all_but,
    both_house_sides,
    correcting_line,
    correcting_mark,
    drops_of_pipes,
    jogs_of_pipes,
    left_for_lf,
    list_marker,
    lower_roofs,
    name_letters,
    named_heading,
    part_and_its_side,
    part_of_line,
    storey_heading,
    two_initials,
    unknown_name,
    wall_at_a_side,
)
from gutterance.reading.met_walls import fold_met_walls
from gutterance.reading.named_behind import name_first
from gutterance.reading.named_besides import join_part_and_side, refer_besides
from gutterance.reading.open_corrections import doubt_unfixed
from gutterance.reading.outlet_lists import fold_outlet_lists
from gutterance.reading.outlet_rows import hear_outlet_row
from gutterance.reading.part_openings import open_part
from gutterance.reading.parting import part_into_stretches
from gutterance.reading.pieces_said import name_pieces
from gutterance.reading.pipe_rows import hear_pipe_row, note_listed_pipes, sentence_of_pipes
from gutterance.reading.places import fold_places
from gutterance.reading.remarks import find_remarks
from gutterance.reading.said_of_all import count_all, find_scopes, mark_alone, mark_counted_ending
from gutterance.reading.several_houses import give_houses
from gutterance.reading.side_lists import fold_side_lists
from gutterance.reading.sides_of_parts import tell_sides_of_part
from gutterance.reading.stretch import Stretch
from gutterance.reading.totals_said import find_totals
from gutterance.reading.two_pieces import name_two_pieces
from gutterance.reading.values_of_parts import find_values_of_parts

if TYPE_CHECKING:
    from gutterance.reading.discourse import Walk
    from gutterance.reading.items import Item, Line
    from gutterance.reading.places import PlaceName

YES = re.compile(
    r"\A\W*(?:yes|yeah|yep|yup|aye|correct|right|that's it|thats it|uh huh|mm hm|mhm|ok|okay|sure"
    r"|it does|they do)\b",
    re.IGNORECASE,
)
"""A line that opens so answers a question with yes: what was asked holds."""
LONGEST_QUESTION = 8
"""With more items than this before the question mark, it is no question of one thing."""
MOST_BESIDE = 2
"""A thing asked for with no question mark stands with no more words than make this many."""
LOOK_AHEAD = 3
"""How many stretches of the line ahead an item may look to see what follows it."""


def hear(line: Line, walk: Walk) -> None:
    """Read one line into the walk."""
    if walk.offered is not None and YES.match(line.text):
        walk.offered.question = False
        walk.offered.act()
    walk.offered = None
    if storey_heading(line, walk):
        return
    open_part(line, walk)
    if CORRECTIONS_HEADING.match(line.text):
        walk.correcting = True
        walk.run, walk.outlets = None, []
        return
    list_marker(line, walk)
    named_heading(line)
    part_and_its_side(line)
    wall_at_a_side(line)
    left_for_lf(line)
    drops_of_pipes(line, walk)
    endings_of_pipes(line)
    pipes_at_named_ends(line)
    lower_roofs(line)
    all_but(line)
    jogs_of_pipes(line)
    tell_sides_of_part(line, walk)
    both_house_sides(line)
    two_initials(line)
    correcting_line(line, walk)
    if not walk.dialogue:
        unknown_name(line)
    hear_words(line, walk)


def hear_words(line: Line, walk: Walk) -> None:
    """Read the words of a line, or of a part of one, behind what may open a line."""
    outer = walk.context
    part = part_of_line(line)
    if part is not None:
        walk.context = part
    known = walk.named_sides | {(run.place.part, run.place.direction) for run in walk.runs}
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
    if len(letters) >= FEWEST_LETTERS and walk.ring is None:
        name_letters(line, letters)
    items = settle_described_heads(fold_places(line.items, line.text, known, own_names))
    if line.number in walk.named_behind:
        items = name_first(items)
    items = join_part_and_side(items, line.text)
    items = name_either_side(line, name_pieces(line, items, walk), walk)
    items = name_two_pieces(line, items, walk)
    items = name_sides_of_bays(line, items, walk)
    items = fold_side_lists(line, fold_met_walls(items))
    items = merge_corrections(items)
    walk.keep_symbols(line.number, items)
    while (later := sentence_of_pipes(items)) is not None:
        here = walk.context
        _hear_items(line, items[:later], walk, outer)
        items, walk.context = items[later:], here
    _hear_items(line, items, walk, outer)


def _hear_items(line: Line, items: list[Item], walk: Walk, outer: PlaceName | None) -> None:
    """Read the items of a line, or of its sentences up to one about several pipes."""
    items = hear_pipe_row(line, hear_outlet_row(items, walk), walk)
    if not items:
        walk.context = outer
        return
    items = fold_outlet_lists(line, items, listed=walk.pipe_list or line.number in walk.pipe_lines)
    refer_besides(items)
    settle_places(items, walk)
    give_houses(line, items, walk.houses)
    eaves_as_cues(items)
    walk.context = outer
    count_all(items, walk)
    find_totals(items, walk)
    find_remarks(line, items, walk)
    find_scopes(items)
    find_values_of_parts(items, walk)
    mark_alone(items)
    mark_counted_ending(items, sum(len(run.outlets) for run in walk.runs))
    _answer_by_place(items, walk, line)
    stretches = part_into_stretches(items, walk)
    correcting_mark(items, walk)
    for number, stretch in enumerate(stretches):
        later = [item for other in stretches[number + 1 : number + 1 + LOOK_AHEAD] for item in other]
        act = Stretch(line, stretch, walk, later)
        act.question = _is_question(stretch, walk)
        act.act()
        if act.question:
            walk.offered = act
    note_listed_pipes(line, walk)
    _forget_old_correction(items, walk)
    walk.line_ends_with = items[-1] if items else None


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
        doubt_unfixed(walk, fixing)


def _answer_by_place(items: list[Item], walk: Walk, line: Line) -> None:
    """`heights?` ... `8 foot front, 8 foot 3 back`: the field asked for goes to each number."""
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


def _asked_without_mark(stretch: list[Item], walk: Walk) -> bool:
    """`okay drop`, `any drops on that`, as a phone writes what one of two people asks."""
    said = [item for item in stretch if item.kind not in ("filler", "mark")]
    things = [item for item in said if item.kind in ("outlet", "downpipe")]
    return (
        walk.labelled
        and len(things) == 1
        and len(said) <= MOST_BESIDE
        and all(item.kind in ("outlet", "downpipe", "word", "walk") for item in said)
        and not any("count" in item.marks for item in things)
        and walk.run is not None
        and not walk.run.outlets
    )


def _is_question(stretch: list[Item], walk: Walk) -> bool:
    """`Drops?`, `splash block?`: asked aloud, and said only if the answer is yes."""
    if not stretch or not walk.dialogue:
        return False
    if stretch[-1].text != "?":
        return _asked_without_mark(stretch, walk)
    said = [item for item in stretch if item.kind not in ("filler", "mark", "break")]
    return len(said) <= LONGEST_QUESTION and not any(item.kind == "measure" for item in said)
