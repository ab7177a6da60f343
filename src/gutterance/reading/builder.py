"""The sheet while it is being read: runs, outlets and pipes that grow, and what a value said twice does."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from gutterance.sheet.models import Alternative, Reading, Source

if TYPE_CHECKING:
    from gutterance.reading.items import Item
    from gutterance.reading.places import PlaceName

TWO_VALUES = "two different values were said, with no word of correction"
"""Why a field with two values is in doubt."""
DOWN_TO = frozenset({"grade", "ground"})
"""Words for where a height is measured to, beside an ending of its own."""
MOST_SOURCES = 40
"""A value repeated more often than this keeps its first words only: enough to find it by."""


@dataclass(slots=True)
class PipeDraft:
    """A downpipe being read."""

    fields: dict[str, Reading[Any]] = field(default_factory=dict)
    offsets: list[Reading[Any]] = field(default_factory=list)
    offset_heights: list[Reading[Any]] = field(default_factory=list)
    offset_ways: list[Reading[Any]] = field(default_factory=list)


@dataclass(slots=True)
class OutletDraft:
    """An outlet being read, with its pipe. `at_end` is an end value it was placed by (`at the cap`)."""

    place: Reading[Any] | None = None
    distance: Reading[Any] | None = None
    size: Reading[Any] | None = None
    at_end: tuple[str, Item] | None = None
    pipe: PipeDraft = field(default_factory=PipeDraft)
    source: list[Source] = field(default_factory=list)
    ditto: bool = False

    @property
    def side(self) -> str | None:
        """left, right, centre, or None where it has not been said."""
        return None if self.place is None else self.place.value


@dataclass(slots=True)
class UnsidedEnd:
    """An end said without its side: where it stood tells which it is, once the run is whole."""

    item: Item
    before_length: bool
    joined_by: str
    angle: Reading[Any] | None = None


@dataclass(slots=True)
class RunDraft:
    """A run being read."""

    place: PlaceName
    fields: dict[str, Reading[Any]] = field(default_factory=dict)
    outlets: list[OutletDraft] = field(default_factory=list)
    unsided: list[UnsidedEnd] = field(default_factory=list)
    pending: dict[str, Reading[Any]] = field(default_factory=dict)
    pending_offsets: list[Reading[Any]] = field(default_factory=list)
    no_outlet: Source | None = None
    source: list[Source] = field(default_factory=list)
    near: str = "left"
    way_told: bool = False
    tabled: bool = False
    in_rows: bool = False
    like: RunDraft | None = None
    unnamed: bool = False

    @property
    def has_data(self) -> bool:
        """Whether anything was said of it that belongs on the sheet."""
        return bool(self.fields or self.outlets or self.unsided or self.pending or self.no_outlet)


def copied_apart(reading: Reading[Any]) -> Reading[Any]:
    """A reading of its own for another field: lists of its own, the same words in them."""
    return reading.model_copy(
        update={"source": [*reading.source], "was": [*reading.was], "could_be": [*reading.could_be]}
    )


def put(
    fields: dict[str, Reading[Any]], name: str, new: Reading[Any], *, fixed: bool = False
) -> Reading[Any]:
    """Put a reading into a field, minding what stands there.

    A correcting word makes the new value stand and keeps the old in `was`. The same value again adds
    its words. A different value with no correcting word is a contradiction: the later is shown,
    doubtful, and the earlier beside it.
    """
    old = fields.get(name)
    if old is None or old.value is None or by_ditto(old):
        if old is not None and old.value is None and fixed:
            new.was = [*old.was, *new.was]
        fields[name] = new
        return new
    if any(before.value == old.value for before in new.was):
        fixed = True  # `the height is 10-8, not 10-6`, where 10-6 was said before
    if fixed:
        new.was = [*old.was, old.model_copy(update={"was": []}), *new.was]
        if new.status == "read":
            new.status = "corrected"
            new.why = _join(new.why, "corrected by the measurer")
        fields[name] = new
        return new
    if old.value == new.value:
        _add_sources(old, new)
        if old.status == "doubtful" and new.status == "read" and not old.could_be:
            old.status, old.why = "read", _join(old.why, "said again")
        return old
    if name == "ends_at" and _only_how_far_down(old, new):
        _add_sources(old, new)
        return old
    if name == "ends_at" and _only_how_far_down(new, old):
        _add_sources(new, old)
        fields[name] = new
        return new
    if new.value is None:
        new.could_be = [Alternative[Any](value=old.value, why="said before"), *new.could_be]
        fields[name] = new
        return new
    new.could_be = [
        Alternative[Any](value=old.value, why="said before, with no word of correction"),
        *new.could_be,
    ]
    new.was = [*old.was]
    _add_sources(new, old)
    new.status = "doubtful"
    new.why = _join(new.why, TWO_VALUES)
    fields[name] = new
    return new


def _only_how_far_down(kept: Reading[Any], other: Reading[Any]) -> bool:
    """`nine four to grade, splash block`: to grade is how far the pipe goes, the block is how it ends."""
    return (
        other.value == "ground"
        and kept.value == "splash block"
        and all(
            source.text.lower().removeprefix("to ").removeprefix("the ") in DOWN_TO for source in other.source
        )
    )


def _add_sources(to: Reading[Any], other: Reading[Any]) -> None:
    known = {(source.line, source.start) for source in to.source}
    to.source.extend(source for source in other.source if (source.line, source.start) not in known)
    del to.source[MOST_SOURCES:]


def by_ditto(reading: Reading[Any]) -> bool:
    """Whether a value came by `same as` or `all`, so that one said of the thing itself replaces it."""
    return bool(
        reading.why
        and reading.why.startswith(("same as", "mirror of", "said of all", "said for the whole job"))
    )


def _join(first: str | None, second: str) -> str:
    return f"{first}; {second}" if first else second
