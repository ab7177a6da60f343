"""The read-back: what was understood, run by run, to be checked while still on site."""

from __future__ import annotations

from collections import defaultdict
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from gutterance.measure.length import Length
from gutterance.render.plain import BLANK, harmless, heading, page, wrapped
from gutterance.sheet.models import clock

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gutterance.sheet.models import Downpipe, Outlet, Reading, Run, Sheet, Source

SIGNS = {"doubtful": "?", "missing": "!", "assumed": "~", "inferred": "=", "corrected": "*"}
"""The sign each value that was not simply read bears, here and on every list."""

_KEY = "?  doubtful   !  missing   *  corrected   ~  assumed   =  worked out"
_WORDS = {
    "doubtful": "DOUBTFUL",
    "missing": "MISSING",
    "assumed": "assumed",
    "inferred": "worked out",
    "corrected": "corrected",
}
_IN_INCHES = ("wall_to_fascia", "gutter_size", "hanger_spacing", "offsets", "distance")
_DEFAULTS = {
    "gutter_size": "gutter",
    "gutter_profile": "profile",
    "material": "material",
    "thickness": "thickness",
    "colour": "colour",
    "downpipe_size": "downpipes",
    "hanger_spacing": "hangers every",
    "roof_pitch": "roof pitch",
    "rainfall": "rainfall",
}
_RUN_EXTRAS = {
    "gutter_size": "gutter",
    "colour": "colour",
    "hanger_spacing": "hangers every",
    "high_point": "high point",
    "fascia": "fascia",
    "roof_run": "roof run",
    "roof_pitch": "roof pitch",
}
_TOTALS = {"gutter length": "gutter"}


def read_back(sheet: Sheet) -> str:
    """What was understood: every value, a sign on each that was not simply read, and last what was not.

    A blank (`____`) stands where the note says a value is missing or does not give one that a list needs.
    """
    return page(*_parts(sheet))


def _parts(sheet: Sheet) -> Iterator[list[str]]:
    yield heading("READ BACK", sheet.title)
    yield ["Left and right as you face the wall from outside.", _KEY]
    yield from _job(sheet)
    outlets: dict[str, list[Outlet]] = defaultdict(list)
    for outlet in sheet.outlets:
        outlets[outlet.run].append(outlet)
    pipes: dict[str | None, list[Downpipe]] = defaultdict(list)
    for pipe in sheet.downpipes:
        pipes[pipe.outlet].append(pipe)
    shown_outlets: set[int] = set()
    shown_runs: set[str] = set()
    for run in sheet.runs:
        own = [] if run.id in shown_runs else outlets.get(run.id, [])
        shown_runs.add(run.id)
        yield _run(run, own, pipes, shown_outlets)
    yield _strays(sheet, shown_outlets)
    yield _counted(sheet)
    yield _remarks(sheet)
    yield _unread(sheet)
    yield _damage(sheet)


def _job(sheet: Sheet) -> Iterator[list[str]]:
    words: list[str] = []
    notes: list[str] = []
    for name, label in _DEFAULTS.items():
        reading = getattr(sheet.defaults, name)
        if reading is not None:
            words.append(f"{label} {_marked(reading, name)}")
            notes += _note(label, reading, name)
    if sheet.defaults.units != "imperial":
        words.append(f"{sheet.defaults.units} units")
    if words:
        yield ["", *wrapped("Whole job: " + ", ".join(words), "", "  "), *notes]


def _run(
    run: Run, outlets: list[Outlet], pipes: dict[str | None, list[Downpipe]], shown_outlets: set[int]
) -> list[str]:
    length = _marked(run.length, "length")
    name = harmless(run.name).upper()
    storey = (
        f" ({harmless(run.storey)})"
        if run.storey and run.storey.casefold() not in run.name.casefold()
        else ""
    )
    ends = ", ".join(
        f"{side} {_end(end, angle)}"
        for side, end, angle in (
            ("left", run.left_end, run.left_angle),
            ("right", run.right_end, run.right_angle),
        )
    )
    lines = ["", *wrapped(f"{name}{storey}  {length}   {ends}", "", "  ")]
    if run.length is None:
        lines.append("  ! length NOT SAID")
    for label, reading, field in (
        ("length", run.length, "length"),
        ("left end", run.left_end, ""),
        ("left angle", run.left_angle, ""),
        ("right end", run.right_end, ""),
        ("right angle", run.right_angle, ""),
    ):
        lines += _note(label, reading, field)
    for label, missing in (("left end", run.left_end is None), ("right end", run.right_end is None)):
        if missing:
            lines.append(f"  ! {label} NOT SAID")
    extras, notes = [], []
    for field, label in _RUN_EXTRAS.items():
        reading = getattr(run, field)
        if reading is not None:
            extras.append(f"{label} {_marked(reading, field)}")
            notes += _note(label, reading, field)
    if run.next_run:
        extras.append(f"next is {harmless(run.next_run)}")
    if extras:
        lines += [*wrapped(", ".join(extras), "  ", "    "), *notes]
    for outlet in outlets:
        shown_outlets.add(id(outlet))
        lines += _outlet(outlet, pipes.get(outlet.id, []))
    return lines


def _end(end: Reading[Any] | None, angle: Reading[Any] | None) -> str:
    words = _marked(end, "")
    return words if angle is None else f"{words} {_marked(angle, '')}°"


def _outlet(outlet: Outlet, pipes: list[Downpipe]) -> list[str]:
    lines = wrapped(f"outlet {_place(outlet)}", "  ", "    ")
    lines += _note("outlet", outlet.place, "") + _note("outlet's distance", outlet.distance, "distance")
    lines += _note("outlet's size", outlet.size, "")
    if outlet.place is None:
        lines.append("  ! outlet's place NOT SAID")
    for pipe in pipes:
        lines += _pipe(pipe)
    if outlet.into is not None:
        lines += wrapped(f"empties into {_marked(outlet.into, '')}", "    ", "      ")
        lines += _note("empties into", outlet.into, "")
    elif not pipes:
        lines.append("    no downpipe said for it")
    return lines


def _place(outlet: Outlet) -> str:
    where = _marked(outlet.place, "")
    size = f", {_marked(outlet.size, '')}" if outlet.size is not None else ""
    if outlet.distance is None:
        at = f"in the {where}" if outlet.from_ == "centre" else f"at the {where} end"
        return (at if outlet.place is not None and outlet.from_ is not None else where) + size
    end = "" if outlet.from_ == "centre" else " end"
    return f"{_marked(outlet.distance, 'distance')} from the {where}{end}{size}"


def _pipe(pipe: Downpipe) -> list[str]:
    words = [
        f"wall to fascia {_marked(pipe.wall_to_fascia, 'wall_to_fascia')}",
        f"height {_marked(pipe.height, 'height')}",
    ]
    if pipe.ends_at is not None:
        words.append(f"to {_marked(pipe.ends_at, '')}")
    if pipe.size is not None:
        words.append(_marked(pipe.size, ""))
    words += [f"offset {_marked(offset, 'offsets')}" for offset in pipe.offsets]
    words += [f"offset {_marked(height, '')} above its foot" for height in pipe.offset_heights]
    words += [f"offset goes {_marked(way, '')}" for way in pipe.offset_ways]
    words += [f"takes outlet {harmless(outlet)} too" for outlet in pipe.also_takes]
    if pipe.from_mark is not None:
        words.append(f"from {_marked(pipe.from_mark, '')}")
    lines = wrapped("downpipe " + ", ".join(words), "    ", "      ")
    if pipe.ends_at is None:
        lines.append("    where it ends: not said")
    for label, reading, field in (
        ("wall to fascia", pipe.wall_to_fascia, "wall_to_fascia"),
        ("height", pipe.height, "height"),
        ("ends at", pipe.ends_at, ""),
        ("size", pipe.size, ""),
        *(("offset", offset, "offsets") for offset in pipe.offsets),
        *(("offset above its foot", height, "") for height in pipe.offset_heights),
        *(("offset goes", way, "") for way in pipe.offset_ways),
        ("from", pipe.from_mark, ""),
    ):
        lines += _note(label, reading, field)
    for label, missing in (("wall to fascia", pipe.wall_to_fascia is None), ("height", pipe.height is None)):
        if missing:
            lines.append(f"  ! {label} NOT SAID")
    return lines


def _strays(sheet: Sheet, shown_outlets: set[int]) -> list[str]:
    """Outlets on no run of the sheet, and downpipes with no outlet: nothing may go unseen."""
    lines: list[str] = []
    pipes: dict[str | None, list[Downpipe]] = defaultdict(list)
    for pipe in sheet.downpipes:
        pipes[pipe.outlet].append(pipe)
    known = {outlet.id for outlet in sheet.outlets}
    for outlet in sheet.outlets:
        if id(outlet) not in shown_outlets:
            shown_outlets.add(id(outlet))
            lines += [
                "",
                f"! OUTLET ON NO RUN ({harmless(outlet.run)})",
                *_outlet(outlet, pipes.get(outlet.id, [])),
            ]
    for pipe in sheet.downpipes:
        if pipe.outlet is None or pipe.outlet not in known:
            lines += ["", f"! DOWNPIPE WITH NO OUTLET ({harmless(pipe.id)})", *_pipe(pipe)]
    return lines


def _counted(sheet: Sheet) -> list[str]:
    known = [
        run.length.value for run in sheet.runs if run.length is not None and run.length.value is not None
    ]
    if not sheet.runs and not sheet.totals:
        return []
    counts = [_many(len(sheet.runs), "run")]
    if known:
        whole = Length(sum((one.inches for one in known), Fraction(0)), known[0].system)
        short = "" if len(known) == len(sheet.runs) else f" on {len(known)} of them"
        counts.append(f"{whole.tape_text()} of gutter{short}")
    counts += [_many(len(sheet.outlets), "outlet"), _many(len(sheet.downpipes), "downpipe")]
    lines = ["", *wrapped("Counted here: " + ", ".join(counts), "", "  ")]
    said = []
    notes = []
    for total in sheet.totals:
        value = _marked(total.value, "")
        said.append(f"{_TOTALS[total.what]} {value}" if total.what in _TOTALS else f"{value} {total.what}")
        notes += _note(total.what, total.value, "")
    if said:
        lines += [*wrapped("You said:     " + ", ".join(said), "", "  "), *notes]
    return lines


def _remarks(sheet: Sheet) -> list[str]:
    if not sheet.remarks:
        return []
    lines = [""]
    names = {run.id: run.name for run in sheet.runs}
    for remark in sorted(sheet.remarks, key=lambda one: one.kind != "hazard"):
        kind = "HAZARD" if remark.kind == "hazard" else remark.kind.capitalize()
        about = f" ({harmless(names.get(remark.about, remark.about))})" if remark.about else ""
        lines += wrapped(f"{kind}{about}: {harmless(remark.text)}", "", "  ")
    return lines


def _unread(sheet: Sheet) -> list[str]:
    if not sheet.unread:
        return ["", "Every number in the note found its place."] if sheet.note else []
    lines = ["", "NOT UNDERSTOOD, so used nowhere. Say again or strike out:"]
    for one in sheet.unread:
        why = f": {harmless(one.why)}" if one.why else ""
        lines += wrapped(f'! {_spot(one.source)}: "{harmless(one.text)}"{why}', "  ", "      ")
    return lines


def _damage(sheet: Sheet) -> list[str]:
    if not sheet.damage:
        return []
    lines = ["", "BROKEN IN THE FILE, so words may be lost:"]
    for one in sheet.damage:
        says = f"! {one.file}, line {one.line}: {one.what}: {one.mend}"
        lines += wrapped(harmless(says), "  ", "      ")
    return lines


def _many(count: int, what: str) -> str:
    return f"{count} {what}{'' if count == 1 else 's'}"


def shown_value(value: Any, field: str) -> str:
    """A value as the read-back shows it: short distances in inches alone."""
    if isinstance(value, Length):
        return value.inch_text() if field in _IN_INCHES and abs(value.inches) < 48 else value.tape_text()
    if isinstance(value, float):
        return f"{value:g}"
    return harmless(str(value))


def _marked(reading: Reading[Any] | None, field: str) -> str:
    """The value with its sign, or a blank."""
    if reading is None:
        return BLANK
    text = BLANK if reading.value is None else shown_value(reading.value, field)
    sign = SIGNS.get("missing" if reading.value is None else reading.status, "")
    return f"{text} {sign}".rstrip()


def _note(label: str, reading: Reading[Any] | None, field: str) -> list[str]:
    """The line beneath that says why a value bears a sign."""
    if reading is None or (reading.status == "read" and reading.value is not None):
        return []
    status = "missing" if reading.value is None else reading.status
    words = f"{SIGNS[status]} {label} {_WORDS[status]}"
    says = []
    if reading.was:
        before = [shown_value(one.value, field) for one in reading.was if one.value is not None]
        if before:
            says.append(f"was {', then '.join(before)}")
    if reading.could_be:
        says.append("or " + " or ".join(shown_value(one.value, field) for one in reading.could_be))
    if reading.why:
        says.append(harmless(reading.why))
    if reading.source:
        says.append(_quoted(reading.source, reading.why or ""))
    return wrapped(f"{words}: {'; '.join(says)}" if says else words, "  ", "      ")


def _quoted(sources: list[Source], why: str) -> str:
    """Where the words stand, and the words, unless the reason has told them already."""
    source = sources[0]
    words = harmless(source.text)
    return _spot(source) if words in harmless(why) else f'{_spot(source)} "{words}"'


def _spot(source: Source) -> str:
    """Where words stand, and when they were said: `line 3 at 1:02.4`."""
    if source.seconds is None:
        return harmless(source.where())
    return f"{harmless(source.where())} at {clock(source.seconds[0])}"
