"""Answers of a form that go on in the lines below them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from gutterance.reading.form_fields import Field, fields_of
from gutterance.reading.form_marks import ENUMERATOR
from gutterance.reading.form_strips import ASKEW
from gutterance.reading.tick_boxes import has_boxes

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gutterance.reading.form_strips import Strip

REMARKS = frozenset({"note", "remark"})
"""What may be answered by several things, a line each."""
WRAP_SLACK = 12
"""A line within so many characters of the widest was full."""

Part = str | tuple[int, int, int] | tuple[int, int, int, int, str]
"""Of a line as read: words put between, a stretch of a given line, or words written for a stretch."""


@dataclass(slots=True)
class Host:
    """The line above: its strip, labels and parts, how many parts each answer ends behind, and its place."""

    strip: Strip
    fields: list[Field]
    parts: list[Part]
    ends: list[int]
    at: int


def answer_above(host: Host | None, strip: Strip, texts: Sequence[str]) -> int | None:
    """Which answer of the line above a strip goes on with, or None."""
    if host is None or not host.fields or host.strip.number == strip.number:
        return None
    text = texts[strip.number - 1]
    words = text[strip.start : strip.end]
    indent = len(words) - len(words.lstrip())
    if not indent or has_boxes(words) or _opens(strip, indent, texts):
        return None
    columns = [field.answer - host.strip.start for field in host.fields]
    below = [at for at, column in enumerate(columns) if abs(indent - column) < ASKEW]
    if below:
        at = below[0]
        behind = host.fields[at + 1 :]
        # `left 10' 2"   right is over the steps`: one answer that only looks like two
        return len(host.fields) - 1 if behind and not any(one.parted for one in behind) else at
    last = host.fields[-1]
    return len(columns) - 1 if last.start - host.strip.start + ASKEW < indent < columns[-1] else None


def _opens(strip: Strip, indent: int, texts: Sequence[str]) -> bool:
    """Whether a strip opens with a label of its own."""
    text = texts[strip.number - 1]
    begin = strip.start + indent
    match = ENUMERATOR.match(text, begin, strip.end)
    if match is not None and match["mark"] is not None:
        begin = match.end()
    own = fields_of(text, begin, len(text[: strip.end].rstrip()))
    if not own or own[0].start != begin:
        return False
    return (
        own[0].parted
        or own[0].marked
        or len(own) > 1
        or text[own[0].answer : own[0].answer + 1] in "-_0123456789"
    )


def is_wrapped(strip: Strip, field: Field, texts: Sequence[str]) -> bool:
    """Whether the line above was full, so that its words go on here; remarks may stand line by line."""
    if field.label is None or not any(meaning.field in REMARKS for meaning in field.label.meanings):
        return True
    above = strip.number - 2
    widths = [len(texts[above].rstrip())]
    for text in texts[strip.number - 1 :]:
        if not text[:1].isspace() or not text.strip():
            break
        widths.append(len(text.rstrip()))
    return widths[0] + WRAP_SLACK >= max(widths)
