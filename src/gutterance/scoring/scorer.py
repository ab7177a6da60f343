"""One note's sheet held against its gold, value by value."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

from gutterance.checking.findings import HOLDING, Finding
from gutterance.measure.length import Length
from gutterance.scoring.gold import Gold, GoldDownpipe, GoldOutlet, gold_length
from gutterance.scoring.marks import Mark, Outcome, Score
from gutterance.scoring.pairing import Pairs, pair, run_key
from gutterance.sheet.models import Downpipe, Outlet, Reading, Run, Sheet, Source
from gutterance.sheet.values import CERTAIN

if TYPE_CHECKING:
    from collections.abc import Sequence

LENGTHS = frozenset(
    {
        "length",
        "roof_run",
        "gutter_size",
        "hanger_spacing",
        "distance",
        "wall_to_fascia",
        "height",
        "gutter length",
    }
)
_RUN_FIELDS = (
    "length", "left_end", "right_end", "left_angle", "right_angle", "storey", "roof_run", "roof_pitch",
    "gutter_size", "colour", "next_run", "fascia", "hanger_spacing", "high_point",
)  # fmt: skip
_ONLY_IF_GOLD = frozenset({"next_run", "units"})
"""Plain fields that the reader may fill by itself: no guess is counted against it where gold is silent."""


def score_note(gold: Gold, sheet: Sheet, findings: Sequence[Finding], *, note: str = "") -> Score:
    """Mark every value of `gold`, and every certain value of `sheet` that gold does not have.

    `findings` are the checker's on that sheet: a gap, conflict or doubt about a path counts as asking.
    """
    marker = _Marker(gold, sheet, findings)
    marker.mark_all()
    return Score(note, gold.voice, tuple(marker.marks), tuple(marker.idle))


class _Marker:
    def __init__(self, gold: Gold, sheet: Sheet, findings: Sequence[Finding]) -> None:
        self.gold, self.sheet = gold, sheet
        self.pairs: Pairs = pair(gold, sheet)
        self.holding = [finding for finding in findings if finding.kind in HOLDING]
        self.about = {finding.about for finding in self.holding}
        self.ask = {_plain_path(path) for path in gold.ask}
        self.marks: list[Mark] = []
        self.idle: list[str] = []
        self.unread_used: set[int] = set()

    def mark_all(self) -> None:
        self._title_and_defaults()
        self._runs()
        self._outlets()
        self._downpipes()
        self._totals()
        self._remarks()
        self._not_measurements()
        self._asked_only()
        for number, unread in enumerate(self.sheet.unread):
            if number not in self.unread_used and f"unread.{number + 1}" in self.about:
                self.idle.append(f"unread: {unread.text}")

    # -- the parts of a sheet

    def _title_and_defaults(self) -> None:
        got = self.sheet.title
        if self.gold.title is not None or (got is not None and re.search(r"\d", got)):
            self._value("title", "title", self.gold.title, _as_reading(got), "title")
        for name in type(self.gold.defaults).model_fields:
            wanted = getattr(self.gold.defaults, name)
            reading = _as_reading(getattr(self.sheet.defaults, name))
            if wanted is not None or name not in _ONLY_IF_GOLD:
                self._value(f"defaults.{name}", f"defaults.{name}", wanted, reading, f"defaults.{name}")

    def _runs(self) -> None:
        for run_id, wanted in self.gold.runs.items():
            sheet_id = self.pairs.runs[run_id]
            run = self.sheet.run(sheet_id) if sheet_id else None
            path = f"runs.{run_id}"
            self._add(path, "runs", "right" if run else "missed", run_id, run.id if run else None)
            for name in _RUN_FIELDS:
                gold_value = getattr(wanted, name)
                reading = _as_reading(getattr(run, name)) if run else None
                if gold_value is None and name in _ONLY_IF_GOLD:
                    continue
                if (
                    name.endswith("_angle")
                    and gold_value is None
                    and reading is not None
                    and reading.value == 90
                ):
                    continue
                field = "runs." + name.removeprefix("left_").removeprefix("right_")
                part = f"runs.{run.id}" if run else None
                self._value(f"{path}.{name}", field, gold_value, reading, f"{part}.{name}", part)
        taken = {run_id for run_id in self.pairs.runs.values() if run_id}
        for extra in self.sheet.runs:
            if extra.id not in taken:
                self._extra_part(f"runs.{extra.id}", "runs", extra)

    def _outlets(self) -> None:
        for wanted, outlet in zip(self.gold.outlets, self.pairs.outlets, strict=True):
            path = _gold_part("outlets", wanted)
            if outlet is None:
                outcome: Outcome = "asked" if self._asks_for_outlet(wanted.run) else "missed"
                self._add(path, "outlets.place", outcome, wanted.from_ or "somewhere", None)
                for name in ("distance", "size"):
                    if getattr(wanted, name) is not None:
                        self._value(f"{path}.{name}", f"outlets.{name}", getattr(wanted, name), None, None)
                continue
            part = f"outlets.{outlet.id}"
            place = outlet.place if outlet.place is not None and outlet.place.value is not None else None
            if wanted.from_ is None and place is None:
                self._add(path, "outlets.place", "right", "somewhere", "somewhere")
            else:
                self._value(path, "outlets.place", wanted.from_, place or outlet.place, f"{part}.place", part)
            for name in ("distance", "size"):
                self._value(
                    f"{path}.{name}", f"outlets.{name}", getattr(wanted, name), getattr(outlet, name),
                    f"{part}.{name}",
                )  # fmt: skip
        taken = {id(outlet) for outlet in self.pairs.outlets}
        for extra in self.sheet.outlets:
            if id(extra) not in taken:
                self._extra_part(f"outlets.{extra.id}", "outlets.place", extra)

    def _downpipes(self) -> None:
        for wanted, pipe in zip(self.gold.downpipes, self.pairs.downpipes, strict=True):
            path = _gold_part("downpipes", wanted)
            outcome: Outcome = "right" if pipe else "asked" if self._asks_for_pipe(wanted) else "missed"
            self._add(path, "downpipes", outcome, "a downpipe", pipe.id if pipe else None)
            part = f"downpipes.{pipe.id}" if pipe else None
            for name in ("wall_to_fascia", "height", "ends_at", "size", "from_mark"):
                reading = getattr(pipe, name) if pipe else None
                self._value(
                    f"{path}.{name}",
                    f"downpipes.{name}",
                    getattr(wanted, name),
                    reading,
                    f"{part}.{name}",
                    part,
                )
            self._offsets(path, wanted, pipe)
        taken = {id(pipe) for pipe in self.pairs.downpipes}
        for extra in self.sheet.downpipes:
            if id(extra) not in taken:
                self._extra_part(f"downpipes.{extra.id}", "downpipes", extra)

    def _offsets(self, path: str, wanted: GoldDownpipe, pipe: Downpipe | None) -> None:
        readings = pipe.offsets if pipe else []
        for number in range(max(len(wanted.offsets or []), len(readings))):
            gold_value = wanted.offsets[number] if wanted.offsets and number < len(wanted.offsets) else None
            reading = readings[number] if number < len(readings) else None
            sheet_path = f"downpipes.{pipe.id}.offsets.{number + 1}" if pipe else None
            self._value(f"{path}.offsets.{number + 1}", "downpipes.offsets", gold_value, reading, sheet_path)

    def _totals(self) -> None:
        given = {total.what: total.value for total in self.sheet.totals}
        for what in dict.fromkeys([*self.gold.totals, *given]):
            self._value(
                f"totals.{what}", "totals", self.gold.totals.get(what), given.get(what), f"totals.{what}"
            )

    def _remarks(self) -> None:
        for wanted in self.gold.remarks:
            words = _folded(wanted.words)
            said = [remark for remark in self.sheet.remarks if words in _folded(remark.text)]
            path = f"remarks.{wanted.kind}"
            if not said:
                unread = any(words in _folded(unread.text) for unread in self.sheet.unread)
                self._add(path, "remarks.words", "asked" if unread else "missed", wanted.words, None)
                continue
            self._add(path, "remarks.words", "right", wanted.words, said[0].text)
            same_kind = [remark for remark in said if remark.kind == wanted.kind]
            outcome: Outcome = "right" if same_kind else "missed"
            self._add(path, "remarks.kind", outcome, f"{wanted.kind}: {wanted.words}", said[0].kind)
            if wanted.about is not None:
                abouts = [remark.about for remark in said if remark.about]
                right = any(run_key(about) == run_key(wanted.about) for about in abouts)
                got = ", ".join(abouts) or None
                self._add(path, "remarks.about", "right" if right else "missed", wanted.about, got)

    def _not_measurements(self) -> None:
        for words in self.gold.not_measurements:
            places = [
                (number, found.start(), found.end())
                for number, line in enumerate(self.sheet.note, start=1)
                for found in re.finditer(rf"(?<!\w){re.escape(words)}(?!\w)", line, re.IGNORECASE)
            ]
            taken = None
            for path, reading in self.sheet.readings():
                if not reading.settled or not isinstance(reading.value, Length):
                    continue
                hits = [
                    place for place in places if any(_same_words(place, source) for source in reading.source)
                ]
                if hits and len(hits) == len(places):
                    taken = f"{path} = {reading.value.tape_text()}"
            self._add("not a measurement", "not a measurement", "wrong" if taken else "right", words, taken)

    def _asked_only(self) -> None:
        """Paths that gold would ask about and gives no value for: the sheet must ask too."""
        marked = {mark.path for mark in self.marks}
        for path in sorted(self.ask):
            if path in marked or any(at.startswith(f"{path}.") for at in marked):
                continue
            # a missing outlet is asked about under the run that has none
            asked = any(self._same_place(path.removesuffix(".outlet"), about) for about in self.about)
            asked = asked or any(
                reading.status in ("doubtful", "missing") and self._same_place(path, at)
                for at, reading in self.sheet.readings()
            )
            self._add(
                path,
                "asked only",
                "right" if asked else "missed",
                "a question",
                "a question" if asked else None,
            )

    # -- one value

    def _value(
        self, path: str, field: str, wanted: Any, reading: Reading[Any] | None, sheet_path: str | None,
        part: str | None = None,
    ) -> None:  # fmt: skip
        name = path.rsplit(".", 1)[-1]
        if name.isdigit():
            name = "distance"
        gold_asks = self._gold_asks(path)
        if reading is not None and reading.value is None and reading.status != "missing":
            reading = None
        asked = sheet_path in self.about or (reading is not None and reading.status not in CERTAIN)
        got = _shown(reading)
        if wanted is None:
            if asked and gold_asks:
                self._add(path, field, "right", "a question", got or "a question")
            elif reading is not None and not asked and reading.status in ("read", "corrected"):
                self._add(path, field, "wrong", "a question" if gold_asks else None, got)
            elif reading is not None and asked:
                self.idle.append(f"{path}: {got}")
            elif gold_asks and reading is None and part is not None and part in self.about:
                self._add(path, field, "right", "a question", "a question")
            return
        gold_text = str(wanted)
        equal = reading is not None and reading.value is not None and _equal(name, wanted, reading.value)
        if asked:
            if equal and gold_asks:
                self._add(path, field, "right", gold_text, got)
            else:
                self._add(
                    path, field, "asked", gold_text, got or "a question", needless=equal and not gold_asks
                )
        elif reading is not None:
            self._add(path, field, "right" if equal else "wrong", gold_text, got, silent=equal and gold_asks)
        elif (part is not None and part in self.about) or self._in_unread(name, wanted):
            self._add(path, field, "asked", gold_text, None)
        else:
            self._add(path, field, "missed", gold_text, None)

    def _add(
        self, path: str, field: str, outcome: Outcome, gold: str | None, got: str | None, *,
        needless: bool = False, silent: bool = False,
    ) -> None:  # fmt: skip
        self.marks.append(Mark(path, field, outcome, gold, got, needless, silent))

    def _extra_part(self, path: str, field: str, part: Run | Outlet | Downpipe) -> None:
        readings = _readings(part)
        if any(reading.settled for reading in readings):
            got = ", ".join(filter(None, (_shown(reading) for reading in readings)))
            self._add(path, field, "wrong", None, got)
        else:
            self.idle.append(path)

    # -- what is asked

    def _gold_asks(self, path: str) -> bool:
        return any(path == at or path.startswith(f"{at}.") for at in self.ask)

    def _asks_for_outlet(self, gold_run: str) -> bool:
        run_id = self.pairs.runs.get(gold_run)
        if run_id is None:
            return False
        path = f"runs.{run_id}"
        return any(
            "outlet" in finding.code and (finding.about == path or path in finding.holds)
            for finding in self.holding
        )

    def _asks_for_pipe(self, wanted: GoldDownpipe) -> bool:
        outlets = {
            f"outlets.{outlet.id}"
            for gold, outlet in zip(self.gold.outlets, self.pairs.outlets, strict=True)
            if outlet is not None and gold.run == wanted.run and gold.from_ == wanted.from_
        }
        return (
            self._asks_for_outlet(wanted.run)
            or "downpipes" in self.about
            or any("downpipe" in finding.code and finding.about in outlets for finding in self.holding)
        )

    def _same_place(self, gold_path: str, sheet_path: str) -> bool:
        """Whether gold's `downpipes.front.left.height` and the sheet's `downpipes.front-1.height` are one."""
        gold_parts, sheet_parts = gold_path.split("."), sheet_path.split(".")
        if gold_parts[0] != sheet_parts[0]:
            return False
        if gold_parts[0] == "runs":
            same = len(sheet_parts) > 1 and run_key(gold_parts[1]) == run_key(sheet_parts[1])
            return same and (
                len(sheet_parts) == 2 or len(gold_parts) == 2 or gold_parts[2:] == sheet_parts[2:]
            )
        if gold_parts[0] in ("outlets", "downpipes"):
            group: list[Any] = self.gold.outlets if gold_parts[0] == "outlets" else self.gold.downpipes
            given: Sequence[Any] = self.pairs.outlets if gold_parts[0] == "outlets" else self.pairs.downpipes
            ids = {
                item.id
                for wanted, item in zip(group, given, strict=True)
                if item is not None and gold_path.startswith(_gold_part(gold_parts[0], wanted))
            }
            if len(sheet_parts) > 1 and sheet_parts[1] in ids:
                return len(sheet_parts) == 2 or gold_parts[-1] in (sheet_parts[2], "left", "right", "centre")
            return False
        return gold_path == sheet_path

    def _in_unread(self, name: str, wanted: Any) -> bool:
        found = False
        for number, unread in enumerate(self.sheet.unread):
            if _said_in(unread.text, name, wanted):
                self.unread_used.add(number)
                found = True
        return found


def _said_in(text: str, name: str, wanted: Any) -> bool:
    if name not in LENGTHS or not isinstance(wanted, str):
        words = _folded(str(wanted))
        return re.search(rf"(?<!\w){re.escape(words)}(?!\w)", _folded(text)) is not None
    from gutterance.measure.tape import FieldKind, read_lengths

    inches = gold_length(wanted).inches
    fields: tuple[FieldKind, ...] = ("run", "height", "wall to fascia", "offset", "none")
    return any(
        inches in (reading.length.inches, *(length.inches for length, _why in reading.could_be))
        for metric in (False, True)
        for field in fields
        for reading in read_lengths(text, field, metric=metric)
    )


def _equal(name: str, wanted: Any, value: Any) -> bool:
    if isinstance(value, Length):
        return gold_length(str(wanted)).inches == value.inches
    if isinstance(value, (int, float)):
        return _number(wanted) == float(value)
    if name == "title":
        return _title(str(wanted)) == _title(str(value))
    return _folded(str(wanted)) == _folded(str(value))


def _number(wanted: Any) -> float | None:
    try:
        return float(wanted)
    except ValueError:
        return None


def _as_reading(value: Any) -> Reading[Any] | None:
    if value is None or isinstance(value, Reading):
        return value
    return Reading[Any](value=value)


def _readings(part: Run | Outlet | Downpipe) -> list[Reading[Any]]:
    values = [getattr(part, name) for name in type(part).model_fields]
    flat = [item for value in values for item in (value if isinstance(value, list) else [value])]
    return [item for item in flat if isinstance(item, Reading)]


def _shown(reading: Reading[Any] | None) -> str | None:
    if reading is None:
        return None
    value = reading.value.tape_text() if isinstance(reading.value, Length) else str(reading.value)
    if reading.status == "missing":
        value = "missing"
    words = " | ".join(source.text for source in reading.source)
    return f"{value} ({reading.status})" + (f' from "{words}"' if words else "")


def _gold_part(group: str, wanted: GoldOutlet | GoldDownpipe) -> str:
    return f"{group}.{wanted.run}.{wanted.from_}" if wanted.from_ else f"{group}.{wanted.run}"


def _plain_path(path: str) -> str:
    if path.startswith("outlets."):
        return path.removesuffix(".from").removesuffix(".place")
    return path


def _folded(text: str) -> str:
    plain = " ".join(text.casefold().replace("’", "'").split())
    return re.sub(r"(?<!\d)\.(?=\d)", "0.", plain)


def _title(text: str) -> str:
    return " ".join(re.findall(r"\w+", text.casefold()))


def _same_words(place: tuple[int, int, int], source: Source) -> bool:
    line, start, end = place
    if source.line != line:
        return False
    return (start <= source.start and source.end <= end) or (source.start <= start and end <= source.end)
