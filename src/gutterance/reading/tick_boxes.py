"""Choices on a form: boxes ticked and left open, before their words or behind them."""

from __future__ import annotations

import re

BOX = re.compile(
    r"\[\s*(?P<square>[xX✓✔*vV]|[yY](?:es)?)\s*\]|\(\s*(?P<round>[xX✓✔*])\s*\)|(?P<full>[☑☒✓✔■◼◉●])"
    r"|\[\s*_?\s*\]|\(\s*_?\s*\)|[☐□◻○◯]"
)
"""A box: ticked where one of its groups has something."""
OPTION = re.compile(r"(?:[^/]|/(?=\d))+")
"""One of several options with strokes between them."""
RINGED = re.compile(r"\(\s[^()]+\s\)|\[\s?[^\[\]]+\s?\]|<[^<>]+>|\*[^*]+\*|\{[^{}]+\}")
"""An option with a ring drawn round it, as a typist does it."""
CHOICE = re.compile(r"\S+(?: \S+)*")
"""One of several choices with gaps between them."""
RINGED_CLOSE = re.compile(r"\(+ ?[^()]+ ?\)+")
"""... with a ring round it."""
LONGEST_CHOICE = 2
"""A choice in a row has no more words than this."""
FEWEST_OPTIONS = 2
"""Fewer options are no choice."""
GAP = re.compile(r" {2,}|\t")
"""What parts one option from the next, where the boxes stand behind their words."""


def has_boxes(text: str) -> bool:
    """Whether there are boxes to tick in a text."""
    return BOX.search(text) is not None


def chosen(text: str, start: int, end: int) -> list[tuple[int, int]]:
    """The stretches between two places of a text whose boxes are ticked; all of it where there are none.

    >>> line = "Left: [x] outside [ ] inside"
    >>> [line[first:last] for first, last in chosen(line, 5, len(line))]
    ['outside']
    >>> line = "Steel ( )  Zinc (X)"
    >>> [line[first:last] for first, last in chosen(line, 0, len(line))]
    ['Zinc']
    """
    boxes = list(BOX.finditer(text, start, end))
    if not boxes:
        return _ringed(text, start, end)
    behind = _stand_behind(text, boxes, start, end)
    kept: list[tuple[int, int]] = []
    for number, box in enumerate(boxes):
        if not any(box.groupdict().values()):
            continue
        if behind:
            first, last = boxes[number - 1].end() if number else start, box.start()
        else:
            first, last = box.end(), boxes[number + 1].start() if number + 1 < len(boxes) else end
        while first < last and text[first] in " \t,/|_":
            first += 1
        while last > first and text[last - 1] in " \t,/|_":
            last -= 1
        if first < last:
            kept.append((first, last))
    return kept


def _ringed(text: str, start: int, end: int) -> list[tuple[int, int]]:
    """Of options between strokes, the only one in brackets: `( 5" ) / 6"`; else all of the text."""
    options = [match.span() for match in OPTION.finditer(text, start, end)]
    ringed = [span for span in options if RINGED.fullmatch(text[slice(*span)].strip())]
    if len(options) < FEWEST_OPTIONS or len(ringed) != 1:
        return _ringed_in_row(text, start, end)
    return [_within(text, *ringed[0])]


def _ringed_in_row(text: str, start: int, end: int) -> list[tuple[int, int]]:
    """Of choices side by side, `(5")  6"   (K)  half round`, those with a ring, of each sort."""
    choices = [match.span() for match in CHOICE.finditer(text, start, end)]
    ringed = [span for span in choices if RINGED_CLOSE.fullmatch(text[slice(*span)])]
    if not ringed or len(choices) < FEWEST_OPTIONS or len(ringed) == len(choices):
        return [(start, end)]

    def number(span: tuple[int, int]) -> bool:
        return any(char.isdigit() for char in text[slice(*span)])

    left = [span for span in choices if span not in ringed]
    if any(len(text[slice(*span)].split()) > LONGEST_CHOICE for span in choices) or any(
        number(one) not in {number(span) for span in left} for one in ringed
    ):
        return [(start, end)]
    kept = [span for span in left if number(span) not in {number(one) for one in ringed}]
    return sorted([*kept, *(_within(text, *span) for span in ringed)])


def _within(text: str, first: int, last: int) -> tuple[int, int]:
    """A stretch without the ring round it."""
    while text[first] in " ([{<*\t":
        first += 1
    while text[last - 1] in " )]}>*\t":
        last -= 1
    return first, last


def _stand_behind(text: str, boxes: list[re.Match[str]], start: int, end: int) -> bool:
    """Whether the boxes stand behind their words: words before the first, and none behind the last."""
    before = text[start : boxes[0].start()].strip()
    after = text[boxes[-1].end() : end].strip(" \t._")
    return bool(before) and not after


def open_options(text: str, start: int, end: int) -> list[tuple[int, int]]:
    """The stretches between two places of a text that no tick chose."""
    kept = chosen(text, start, end)
    if kept == [(start, end)]:
        return []
    left: list[tuple[int, int]] = []
    here = start
    for first, last in [*kept, (end, end)]:
        if here < first:
            left.append((here, first))
        here = max(here, last)
    return left
