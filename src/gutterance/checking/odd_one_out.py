"""Downpipes of one eave, or of one house, that agree but for one: the slip of a number that nothing adds up.

Along one eave the overhang is one and the gutter is level, so that pipes differ by no more than the ground
falls. Round a house both may differ; there a value is asked about only where all the others of its storey
agree and a common slip would have made it of theirs.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from typing import TYPE_CHECKING, NamedTuple

from gutterance.checking.codes import finding
from gutterance.checking.findings import Change, Suggestion
from gutterance.checking.gaps import offered
from gutterance.checking.house import House, pipe_path, sources
from gutterance.checking.places import building
from gutterance.checking.slips import odd_slip
from gutterance.checking.wording import either, of_pipe, of_run, short_pipe, shown, start
from gutterance.measure.length import Length

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from fractions import Fraction

    from gutterance.checking.findings import Finding
    from gutterance.checking.plausibility import Limit, Plausible
    from gutterance.sheet.models import Downpipe, LengthReading, Run

FEWEST_AGREEING = 2
"""So many others must agree before one of a house is asked about."""
_NOT_TO_GROUND = frozenset({"lower roof", "lower gutter"})


class _Told(NamedTuple):
    pipe: Downpipe
    run: Run
    reading: LengthReading
    length: Length


def find_odd_ones_out(house: House, limits: Plausible) -> Iterator[Finding]:
    """Overhangs or heights that differ along one eave by more than eaves and ground do, and odd ones out."""
    for field, code, limit in (
        ("wall_to_fascia", "overhangs-differ", limits.limit("overhang_apart")),
        ("height", "heights-differ", limits.limit("heights_apart")),
    ):
        told = list(_told(house, field))
        asked: set[str] = set()
        for several in _by_run(told).values():
            found = _along_one_eave(several, field, code, limit, house)
            if found is not None:
                asked.update(pipe.id for pipe, *_ in several)
                yield found
        for group in _by_storey(told).values():
            yield from _odd_ones(group, field, code, limit, house, asked)


def _told(house: House, field: str) -> Iterator[_Told]:
    for pipe in house.sheet.downpipes:
        run, reading = house.run_of_pipe(pipe), getattr(pipe, field)
        if run is None or reading is None or not reading.settled or reading.value is None:
            continue
        if field == "height" and pipe.ends_at is not None and pipe.ends_at.value in _NOT_TO_GROUND:
            continue
        if reading.status != "inferred" and reading.value.inches > 0:
            yield _Told(pipe, run, reading, reading.value)


def _by_run(told: Sequence[_Told]) -> dict[str, list[_Told]]:
    runs: defaultdict[str, list[_Told]] = defaultdict(list)
    for one in told:
        runs[one.run.id].append(one)
    return runs


def _by_storey(told: Sequence[_Told]) -> dict[tuple[str, str], list[_Told]]:
    storeys: defaultdict[tuple[str, str], list[_Told]] = defaultdict(list)
    for one in told:
        storeys[(one.run.storey or "").strip().lower(), building(one.run)].append(one)
    return storeys


def _along_one_eave(
    several: Sequence[_Told], field: str, code: str, limit: Limit, house: House
) -> Finding | None:
    lengths = [one.length for one in several]
    low, high = min(lengths, key=_inches), max(lengths, key=_inches)
    if high.inches - low.inches <= limit.inches or all(one.reading.by is not None for one in several):
        return None
    words = field.replace("_", " ")
    values = list(dict.fromkeys(shown(length, field) for length in lengths))
    slips = list(_slips_along(several, field, house))
    return finding(
        code,
        f"{pipe_path(several[0].pipe)}.{field}",
        f"Along {of_run(several[0].run)} the {words} is told as {' and as '.join(values)}: {limit.why}.",
        f"Is one {words} along {of_run(several[0].run)} wrong: {either(values)}?",
        # walls do step unsaid: only a difference that a slip explains stops the pipes
        holds=[pipe_path(one.pipe) for one in several] if slips else [],
        source=sources(*(one.reading for one in several)),
        suggests=[*slips, _as_told(several, field)],
    )


def _slips_along(several: Sequence[_Told], field: str, house: House) -> Iterator[Suggestion]:
    """The pipes of one eave that a common slip makes differ from another one of it."""
    for one in several:
        for other in several:
            slip = None if one.length.inches == other.length.inches else odd_slip(one.length, other.length)
            if slip is not None:
                path = f"{pipe_path(one.pipe)}.{field}"
                yield Suggestion(
                    value=f"{short_pipe(one.pipe, house)} {shown(other.length, field)}",
                    why=f"{slip}; then it is as at {short_pipe(other.pipe, house)}",
                    changes=[Change(path=path, value=other.length.file_text())],
                )
                break


def _as_told(several: Sequence[_Told], field: str) -> Suggestion:
    return Suggestion(
        value="as told",
        why="they do differ so",
        changes=[
            Change(path=f"{pipe_path(one.pipe)}.{field}", value=one.length.file_text()) for one in several
        ],
    )


def _odd_ones(
    group: Sequence[_Told], field: str, code: str, limit: Limit, house: House, asked: set[str]
) -> Iterator[Finding]:
    """The one that differs from all others of a storey, which agree, where a slip would have made it so."""
    counts = Counter(one.length.inches for one in group)
    usual, agreeing = counts.most_common(1)[0]
    if agreeing < FEWEST_AGREEING or agreeing < len(group) - 1:
        return
    for one in group:
        off = abs(one.length.inches - usual)
        if off <= limit.inches or one.pipe.id in asked or one.reading.by is not None:
            continue
        meant = Length(usual, one.length.system)
        slip = odd_slip(one.length, meant)
        if slip is None:
            continue
        name = of_pipe(one.pipe, house)
        path = f"{pipe_path(one.pipe)}.{field}"
        words, told, others = field.replace("_", " "), shown(one.length, field), shown(meant, field)
        yield finding(
            code,
            path,
            f"{start(f'the {words} of {name}')} is {told}, where it is {others} at the other {agreeing}.",
            f"Is the {words} of {name} {told} or {others}?",
            holds=[pipe_path(one.pipe)],
            source=sources(one.reading),
            suggests=[
                offered(path, meant, field, f"{slip}; as the others are"),
                offered(path, one.length, field, "as told"),
            ],
        )


def _inches(length: Length) -> Fraction:
    return length.inches
