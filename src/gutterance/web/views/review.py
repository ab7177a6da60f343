"""The review page as values: the note, the sheet, what is to settle and to know, the last thing done."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from gutterance.jobs.making import things_to_make
from gutterance.jobs.states import is_measured, state_of
from gutterance.web.views.history import Done, done_steps
from gutterance.web.views.note import NoteRow, Wordless, note_rows, without_words
from gutterance.web.views.settling import ToKnow, ToSettle, to_know, to_settle
from gutterance.web.views.sheet import Loose, SheetPart, loose_words, sheet_parts

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from gutterance.jobs.listing import JobLists


@dataclass(frozen=True, slots=True)
class SaidLine:
    """A line of the note with who said it and when (ISO 8601). `id` is the line's own.

    `told` is False where the line before came from the same hands within the same quarter of an hour.
    """

    row: NoteRow
    id: str
    by: str
    at: str
    told: bool
    photos: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Review:
    """All that the review page shows of a job at one revision."""

    id: str
    title: str
    revision: int
    state: str
    measured: bool
    archived: bool
    lines: list[SaidLine]
    parts: list[SheetPart]
    loose: list[Loose]
    wordless: list[Wordless]
    settle: list[ToSettle]
    know: list[ToKnow]
    last: Done | None
    held: int
    code: str

    @property
    def asked(self) -> int:
        """How many questions the crew was asked."""
        return sum(one.asked is not None for one in self.settle)


def review_of(lists: JobLists, photos: Mapping[str, Sequence[str]] | None = None) -> Review:
    """The review page of a job. `photos` are the ids of the photos of each line, by the line's id."""
    stands = lists.stands
    job = stands.job
    steps = done_steps(stands.events, stands.sheet)
    return Review(
        job.id,
        stands.sheet.title or job.title,
        job.revision,
        state_of(lists),
        is_measured(lists),
        job.archived_at is not None,
        said_lines(lists, photos or {}),
        sheet_parts(stands.sheet, lists.findings),
        loose_words(stands.sheet),
        without_words(stands.sheet),
        to_settle(stands.sheet, lists.findings, lists.decisions),
        to_know(lists.findings, lists.decisions),
        next((one for one in steps if not one.undone and not one.undoes), None),
        sum(bool(thing.hold) for _, thing in things_to_make(lists.lists)),
        lists.code,
    )


def said_lines(lists: JobLists, photos: Mapping[str, Sequence[str]]) -> list[SaidLine]:
    """The lines of the note that stand, each with who said it, when, and its photos."""
    said: list[SaidLine] = []
    for row in note_rows(lists.stands.sheet):
        # the sheet's line n is the n-th line that stands, whatever number it has in the note
        line = lists.stands.lines[row.number - 1]
        by, at = str(line["by"]), str(line["captured_at"] or line["received_at"])
        told = not said or (by, _quarter(at)) != (said[-1].by, _quarter(said[-1].at))
        said.append(SaidLine(row, str(line["id"]), by, at, told, tuple(photos.get(str(line["id"]), ()))))
    return said


def _quarter(at: str) -> tuple[str, int]:
    """The quarter of an hour a moment is in; a phone's clock may have given anything."""
    minutes = at[14:16]
    return at[:13], int(minutes) // 15 if minutes.isdecimal() else 0
