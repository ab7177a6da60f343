"""A value's way back to the words of the note, through each correction and each step of arithmetic."""

from __future__ import annotations

import difflib
import unicodedata
from typing import TYPE_CHECKING, Any

from gutterance.cli.refusals import Refusal
from gutterance.measure.length import Length

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from gutterance.lists.models import Lists, Reason
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
    """The lines that trace a number of the lists (`pieces.front-1.back`); None where nothing is there."""
    group, _, rest = path.partition(".")
    for name, part in _parts(lists, group):
        if rest != name and not rest.startswith(f"{name}."):
            continue
        field = rest[len(name) + 1 :]
        return _explain_part(f"{group}.{name}", part, field, sheet)
    return None


def paths_of(sheet: Sheet, lists: Lists | None) -> Iterator[tuple[str, str]]:
    """Every path that can be explained, with its value as shown."""
    for path, reading in sheet.readings():
        yield path, _value(reading)
    if lists is None:
        return
    for group in ("pieces", "downpipes", "hangers", "hardware"):
        for name, part in _parts(lists, group):
            for field in dict.fromkeys(reason.number for reason in _reasons(part)):
                value = _part_value(part, field)
                if value is not None:
                    yield f"{group}.{name}.{field}", value


def no_such_path(path: str, paths: Sequence[str], name: str) -> Refusal:
    """The refusal of a path that leads nowhere, with those most like it."""
    near = difflib.get_close_matches(path, paths, n=3)
    mend = f"did you mean {' or '.join(near)}?" if near else "give no path to see all there are"
    return Refusal(f"{name} has nothing at {path}: {mend}")


def _traced(path: str, reading: Reading[Any], note: Sequence[str], indent: str) -> Iterator[str]:
    yield f"{indent}{path}: {_value(reading)} ({reading.status})"
    if reading.why:
        yield f"{indent}  why: {reading.why}"
    for source in reading.source:
        yield from (f"{indent}  {line}" for line in marked_line(source, note))
    if not reading.source:
        yield f"{indent}  no words of the note: {_no_words(reading)}"
    for other in reading.could_be:
        yield f"{indent}  could be: {_plain(other.value)} ({other.why})"
    for before in reading.was:
        yield from _traced("was", before, note, indent + "  ")


def marked_line(source: Source, note: Sequence[str]) -> list[str]:
    """The line of the note, shortened round the words, with the words marked beneath."""
    head = f"line {source.line}: "
    time = f" (heard {source.seconds[0]:g} to {source.seconds[1]:g} s)" if source.seconds else ""
    line = note[source.line - 1] if source.line <= len(note) else None
    if line is None or line[source.start : source.end] != source.text:
        said = f'{head}"{source.text}"{time}'
        return [said, "(the note kept with this sheet has no such words there)"] if note else [said]
    first = max(0, min(source.start - _WIDEST // 3, len(line) - _WIDEST))
    last = max(source.end, min(len(line), first + _WIDEST))
    left, right = "…" if first else "", "…" if last < len(line) else ""
    shown = f"{head}{left}{line[first:last]}{right}".replace("\t", " ")
    before = _width(f"{head}{left}{line[first : source.start]}")
    return [shown + time, " " * before + "^" * max(1, _width(source.text))]


def _width(text: str) -> int:
    """Columns `text` takes on a terminal: two for wide signs (Unicode UAX #11), none for combining."""
    return sum(
        0 if unicodedata.combining(sign) else 2 if unicodedata.east_asian_width(sign) in "WF" else 1
        for sign in text
    )


def _explain_part(path: str, part: Any, field: str, sheet: Sheet) -> list[str] | None:
    reasons = [reason for reason in _reasons(part) if field in ("", reason.number)]
    value = _part_value(part, field) if field else None
    if field and value is None and not reasons:
        return None
    lines = [f"{path}.{field}: {value or 'not known yet'}" if field else path]
    done: set[str] = set()
    for reason in reasons:
        label = "" if field else f"{reason.number}: "
        amount = f" ({reason.amount.tape_text()})" if reason.amount is not None else ""
        lines.append(f"  {label}{reason.says}{amount}")
        reading = sheet.reading_at(reason.sheet) if reason.sheet else None
        if reason.sheet and reading is not None and reason.sheet not in done:
            done.add(reason.sheet)
            lines += [f"    {line}" for line in trace(reason.sheet, reading, sheet.note)]
    lines += [f"  on hold: {hold.says}" for hold in getattr(part, "hold", [])]
    return lines


def _parts(lists: Lists, group: str) -> Iterator[tuple[str, Any]]:
    if group in ("pieces", "downpipes"):
        yield from ((part.id, part) for part in getattr(lists, group))
    elif group == "hangers":
        yield from ((part.run, part) for part in lists.hangers)
    elif group == "hardware":
        yield from ((part.item, part) for part in lists.hardware)


def _reasons(part: Any) -> list[Reason]:
    from gutterance.lists.models import Reason

    why = part.why
    return [Reason(number="count", says=why)] if isinstance(why, str) else list(why)


def _part_value(part: Any, field: str) -> str | None:
    at: Any = part
    for step in field.split("."):
        if isinstance(at, list):
            at = next((item for item in at if getattr(item, "id", None) == step), None)
        else:
            at = getattr(at, step, None)
        if at is None:
            return None
    if hasattr(at, "from_left") and at.from_left is not None:
        return f"{at.from_left.tape_text()} from the left"
    if isinstance(at, list):
        return ", ".join(_plain(item) for item in at) if at and isinstance(at[0], Length) else None
    return _plain(at)


def _value(reading: Reading[Any]) -> str:
    return "nothing yet" if reading.value is None else _plain(reading.value)


def _plain(value: Any) -> str:
    return value.tape_text() if isinstance(value, Length) else str(value)


def _no_words(reading: Reading[Any]) -> str:
    if reading.status == "assumed":
        return "it was assumed"
    return "it was worked out" if reading.status == "inferred" else "it was put on the sheet by hand"
