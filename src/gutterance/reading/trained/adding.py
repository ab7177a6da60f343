"""What only the trained reader found goes on the sheet as a doubt, so that it is asked and not lost."""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING, Any

from gutterance.measure.length import Length
from gutterance.reading.trained.telling import SIDES, UNSAID, run_key
from gutterance.sheet.models import Downpipe, Outlet, Reading, Run, Source

if TYPE_CHECKING:
    from gutterance.reading.trained.second_look import SecondLook
    from gutterance.reading.trained.symbols import Symbol
    from gutterance.reading.trained.telling import Claim
    from gutterance.sheet.models import Sheet

ADDS, ADDS_PART = 0.5, 0.6
"""So sure must a claim be to go on the sheet as a doubt: a value of a part that is there, or a new part."""
SECOND = "found only by a second way of reading"
OF_RUN = ("length", "left_end", "right_end", "roof_run")
OF_PIPE = ("height", "wall_to_fascia", "ends_at")


def add_missing(sheet: Sheet, look: SecondLook) -> None:
    """Add the values, outlets, pipes and runs that the sheet has not, each in doubt."""
    taken = _Taken(sheet)
    by_run: dict[tuple[str, ...], dict[tuple[str, str | None], Claim]] = defaultdict(dict)
    for (field, key, side), told in look.claims.items():
        if told[-1].sure >= ADDS:
            by_run[key][field, side] = told[-1]
    runs = {run_key(run.id): run for run in sheet.runs}
    for key, claims in by_run.items():
        run = runs.get(key) or _new_run(sheet, claims, taken)
        if run is not None:
            _fill_run(run, claims, taken)
            _fill_pipes(sheet, run, claims, taken)
    sheet.unread = [unread for unread in sheet.unread if not taken.added_at(unread.source)]


class _Taken:
    """Which words stand for a value on the sheet, and which were added."""

    def __init__(self, sheet: Sheet) -> None:
        self._note = sheet.note
        self._spans: dict[int, list[tuple[int, int]]] = defaultdict(list)
        self._added: dict[int, list[tuple[int, int]]] = defaultdict(list)
        for _, reading in sheet.readings():
            if isinstance(reading.value, Length):
                for old in (reading, *reading.was):
                    for source in old.source:
                        self._spans[source.line].append((source.start, source.end))

    def _words(self, symbol: Symbol) -> str:
        """The words of a symbol as the note has them."""
        return self._note[symbol.line - 1][symbol.start : symbol.end]

    def has(self, symbol: Symbol) -> bool:
        """Whether a number's words have a place already."""
        spans = self._spans[symbol.line]
        return symbol.found is not None and any(
            start < symbol.end and symbol.start < end for start, end in spans
        )

    def reading(self, claim: Claim) -> Reading[Any]:
        """A claim as a reading in doubt."""
        for symbol in claim.symbols:
            self._added[symbol.line].append((symbol.start, symbol.end))
        sources = [
            Source(line=symbol.line, start=symbol.start, end=symbol.end, text=self._words(symbol))
            for symbol in claim.symbols
        ]
        return Reading[Any](value=claim.value, status="doubtful", source=sources, why=SECOND)

    def added_at(self, source: Source) -> bool:
        """Whether these words were given a place."""
        return any(start <= source.start and source.end <= end for start, end in self._added[source.line])


def _new_run(sheet: Sheet, claims: dict[tuple[str, str | None], Claim], taken: _Taken) -> Run | None:
    """A run that only the trained reader found: its length must be sure enough, and found no other place."""
    length = claims.get(("length", None))
    if length is None or length.sure < ADDS_PART or taken.has(length.symbols[0]):
        return None
    place = length.symbols[-1]
    run = Run(
        id=length.run,
        name=length.run.replace("-", " "),
        source=[Source(line=place.line, start=place.start, end=place.end, text=place.text)],
    )
    sheet.runs.append(run)
    return run


def _fill_run(run: Run, claims: dict[tuple[str, str | None], Claim], taken: _Taken) -> None:
    for field in OF_RUN:
        claim = claims.get((field, None))
        if claim is not None and getattr(run, field) is None and not taken.has(claim.symbols[0]):
            setattr(run, field, taken.reading(claim))


def _fill_pipes(sheet: Sheet, run: Run, claims: dict[tuple[str, str | None], Claim], taken: _Taken) -> None:
    for side in (*SIDES, UNSAID):
        found = {field: claim for (field, of), claim in claims.items() if of == side}
        if not found:
            continue
        outlet = _outlet(sheet, run, side) or _new_outlet(sheet, run, found.get("outlet"), taken)
        if outlet is None:
            continue
        if "distance" in found and outlet.distance is None and not taken.has(found["distance"].symbols[0]):
            outlet.distance = taken.reading(found["distance"])
        values = [field for field in OF_PIPE if field in found and not taken.has(found[field].symbols[0])]
        pipe = next(iter(sheet.downpipes_of(outlet.id)), None)
        if pipe is None and values and outlet.into is None:
            pipe = Downpipe(id=outlet.id, outlet=outlet.id)
            sheet.downpipes.append(pipe)
        for field in values if pipe is not None else ():
            if getattr(pipe, field) is None:
                setattr(pipe, field, taken.reading(found[field]))


def _outlet(sheet: Sheet, run: Run, side: str) -> Outlet | None:
    """The outlet on that side, or the only one where its side or the claim's is not told."""
    outlets = sheet.outlets_of(run.id)
    there = [outlet for outlet in outlets if outlet.from_ == side]
    if there:
        return there[0] if len(there) == 1 else None
    alone = outlets[0] if len(outlets) == 1 else None
    return alone if alone is not None and (side == UNSAID or alone.from_ is None) else None


def _new_outlet(sheet: Sheet, run: Run, claim: Claim | None, taken: _Taken) -> Outlet | None:
    if claim is None or claim.sure < ADDS_PART:
        return None
    used = {outlet.id for outlet in sheet.outlets} | {pipe.id for pipe in sheet.downpipes}
    number = next(number for number in range(1, len(used) + 2) if f"{run.id}-{number}" not in used)
    outlet = Outlet(id=f"{run.id}-{number}", run=run.id, place=taken.reading(claim))
    sheet.outlets.append(outlet)
    return outlet
