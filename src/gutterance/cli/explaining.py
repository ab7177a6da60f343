"""A value's way back to the words of the note, through each correction and each step of arithmetic."""

from __future__ import annotations

import difflib
import unicodedata
from typing import TYPE_CHECKING, Any

from gutterance.cli.refusals import Refusal
from gutterance.measure.length import Length

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from gutterance.lists import Lists
    from gutterance.sheet.models import Reading, Sheet, Source

_WIDEST = 96
"""Characters of a note's line that are shown round the words in question."""


def explain_sheet(sheet: Sheet, path: str) -> list[str] | None:
    """The lines that trace the reading at `path`, or all those below it; None where nothing is."""
    found = [(at, reading) for at, reading in sheet.readings() if at == path or at.startswith(f"{path}.")]
    if not found:
        return None
    lines: list[str] = []
    for at, reading in found:
        lines += ["", *trace(at, reading, sheet.note)] if lines else trace(at, reading, sheet.note)
    return lines


def trace(path: str, reading: Reading[Any], note: Sequence[str]) -> list[str]:
    """One reading: value and status, why it is so, its words marked in their line, what it was before."""
    return list(_traced(path, reading, note, ""))


def explain_lists(lists: Lists, sheet: Sheet, path: str) -> list[str] | None:
    """The lines that trace a number of the lists (`pieces.front-1.back`); None where nothing is there.

    A part (`pieces.front-1`) traces all its numbers, and the readings they rest on once.
    """
    from gutterance.lists import explanations

    lines: list[str] = []
    readings: dict[str, None] = {}
    held: dict[str, None] = {}
    for found in explanations(lists):
        if found.path != path and not found.path.startswith(f"{path}."):
            continue
        lines.append(f"{found.path}: {found.shown}")
        lines += [f"  {step}" for step in found.says]
        readings.update(dict.fromkeys(found.sheet))
        held.update(dict.fromkeys(found.hold))
    if not lines:
        return None
    lines += [f"  on hold: {reason}" for reason in held]
    for at in readings:
        reading = sheet.reading_at(at)
        if reading is not None:
            lines += ["", *trace(at, reading, sheet.note)]
    return lines


def paths_of(sheet: Sheet, lists: Lists | None) -> Iterator[tuple[str, str]]:
    """Every path that can be explained, with its value as shown."""
    for path, reading in sheet.readings():
        yield path, _value(reading)
    if lists is None:
        return
    from gutterance.lists import explanations

    for found in explanations(lists):
        yield found.path, found.shown


def no_such_path(path: str, paths: Sequence[str], name: str) -> Refusal:
    """The refusal of a path that leads nowhere, with those most like it."""
    near = difflib.get_close_matches(path, paths, n=3)
    mend = f"did you mean {' or '.join(near)}?" if near else "give no path to see all there are"
    return Refusal(f"{name} has nothing at {path}: {mend}")


def _traced(path: str, reading: Reading[Any], note: Sequence[str], indent: str) -> Iterator[str]:
    yield f"{indent}{path}: {_value(reading)} ({reading.status})"
    if reading.why:
        yield f"{indent}  why: {reading.why}"
    for line in marked_lines(reading.source, note):
        yield f"{indent}  {line}"
    if not reading.source:
        yield f"{indent}  no words of the note: {_no_words(reading)}"
    for other in reading.could_be:
        yield f"{indent}  could be: {_plain(other.value)} ({other.why})"
    for before in reading.was:
        yield from _traced("was", before, note, indent + "  ")


def marked_lines(sources: Sequence[Source], note: Sequence[str]) -> list[str]:
    """Each line of the note that the words stand in, shortened round them, with the words marked beneath."""
    lines: list[str] = []
    together: list[Source] = []
    for source in sorted(sources, key=lambda one: (one.line, one.start)):
        if together and (
            source.line != together[0].line
            or max(source.end, together[-1].end) - together[0].start > _WIDEST
            or source.seconds != together[0].seconds
        ):
            lines += _marked(together, note)
            together = []
        together.append(source)
    return lines + (_marked(together, note) if together else [])


def _marked(sources: Sequence[Source], note: Sequence[str]) -> list[str]:
    head = f"{sources[0].where()}: "
    heard = sources[0].heard()
    time = f" (heard at {heard})" if heard else ""
    line = note[sources[0].line - 1] if sources[0].line <= len(note) else None
    if line is None or any(line[one.start : one.end] != one.text for one in sources):
        said = head + ", ".join(f'"{one.text}"' for one in sources) + time
        return [said, "(the note kept with this sheet has no such words there)"] if note else [said]
    start, end = sources[0].start, max(one.end for one in sources)
    first = max(0, min(start - _WIDEST // 3, len(line) - _WIDEST))
    last = max(end, min(len(line), first + _WIDEST))
    left, right = "…" if first else "", "…" if last < len(line) else ""
    marks = ""
    for one in sources:
        before = _width(f"{head}{left}{line[first : one.start]}")
        marks = marks.ljust(before)
        marks += "^" * max(1, before + _width(one.text) - len(marks))
    return [f"{head}{left}{line[first:last]}{right}".replace("\t", " ") + time, marks]


def _width(text: str) -> int:
    """Columns `text` takes on a terminal: two for wide signs (Unicode UAX #11), none for combining."""
    return sum(
        0 if unicodedata.combining(sign) else 2 if unicodedata.east_asian_width(sign) in "WF" else 1
        for sign in text
    )


def _value(reading: Reading[Any]) -> str:
    return "nothing yet" if reading.value is None else _plain(reading.value)


def _plain(value: Any) -> str:
    return value.tape_text() if isinstance(value, Length) else str(value)


def _no_words(reading: Reading[Any]) -> str:
    if reading.status == "assumed":
        return "it was assumed"
    return "it was worked out" if reading.status == "inferred" else "it was put on the sheet by hand"
