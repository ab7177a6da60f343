"""A note told in sentences, read by their grammar and as clipped words: which reading understood it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from gutterance.reading.builder import TWO_VALUES
from gutterance.reading.caution import doubt
from gutterance.reading.ledger import NO_FIELD
from gutterance.sheet.models import Alternative
from gutterance.sheet.values import CERTAIN

if TYPE_CHECKING:
    from collections.abc import Callable

    from gutterance.sheet.models import Sheet

HowSentences = Literal["whole", "half", "words"]
"""A sentence is told whole or not at all, also by halves, or as clipped words."""
AT_A_LOSS = 2
"""A grammar that leaves so many times as much open as the words says nothing against them."""
SECOND_READING = "read as a sentence it says otherwise"
UNPLACED, MISPLACED, NO_LENGTH, NO_RUN = 2, 3, 4, 8
"""How heavily weigh a number with no place, one on another's place, a run with no length, and no run."""


def read_by_sentences(read: Callable[[HowSentences], tuple[Sheet, bool]]) -> Sheet:
    """The reading that leaves least open: by grammar, by grammar with half sentences, or by words.

    `read` gives the sheet for 'whole', 'half' or 'words', and whether the note is told in sentences at all;
    one that is not is read by its words, whatever is asked for.
    """
    grammar, in_sentences = read("whole")
    if not in_sentences:
        return grammar
    (halves, _), (words, _) = read("half"), read("words")
    best = min((grammar, halves, words), key=left_open)
    if best is words and left_open(grammar) < AT_A_LOSS * (left_open(words) + 2):
        _ask_where_grammar_differs(words, grammar)
    return best


def _ask_where_grammar_differs(words: Sheet, grammar: Sheet) -> None:
    """Ask about each value of the clipped words that the grammar has otherwise, and ends that it has not."""
    told = dict(grammar.readings())
    for path, reading in words.readings():
        if reading.status not in CERTAIN or not path.startswith(("runs.", "outlets.", "downpipes.")):
            continue
        second = told.get(path)
        if second is None:
            if path.endswith("_end"):
                doubt(reading, SECOND_READING)
        elif second.value != reading.value:
            doubt(reading, SECOND_READING)
            if second.value is not None:
                reading.could_be = [
                    Alternative(value=second.value, why="the sentence read by its grammar"),
                    *reading.could_be,
                ]


def left_open(sheet: Sheet) -> int:
    """How much of a note its sheet leaves open, by what stands on it and not by what the reader thinks."""
    unplaced = sum(number.why == NO_FIELD for number in sheet.unread)
    doubts = sum(
        MISPLACED if reading.why and TWO_VALUES in reading.why else 1
        for _, reading in sheet.readings()
        if reading.status in ("doubtful", "missing")
    )
    bare = sum(run.length is None for run in sheet.runs)
    ends = sum((run.left_end is None) + (run.right_end is None) for run in sheet.runs)
    return UNPLACED * unplaced + doubts + NO_LENGTH * bare + ends + (0 if sheet.runs else NO_RUN)
