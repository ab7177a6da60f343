"""A day's work on paper and for a spreadsheet: job by job what is done, what waits, what went wrong."""

from __future__ import annotations

import csv
import io
from collections import defaultdict
from typing import TYPE_CHECKING

from gutterance.render.plain import columns, harmless, page, sentence, tape, wrapped
from gutterance.render.spreadsheet.csv_text import cell

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gutterance.lists.day import DayJob

_NAME = 28
"""Characters of a folder's name in the table; the CSV has all of it."""
_HEAD = ("job", "runs", "gutter", "on hold", "questions", "code", "title")


def day_text(jobs: Sequence[DayJob]) -> str:
    """The table, then the notes that could not be used, then what is to be known, then the count."""
    head = f"JOBS   {_many(len(jobs), 'note')}"
    made = [one for one in jobs if one.status != "not done"]
    lines = [head, "=" * len(head)]
    if made:
        lines += columns([_HEAD, *(_row(one) for one in made)])
    if failed := [one for one in jobs if one.status == "not done"]:
        lines += ["", "NOT DONE"]
        for one in failed:
            lines += wrapped(f"{_name(one)}: {sentence(one.wrong or '')}", "  ", "      ")
    if told := [*same_title(made), *(f"{_name(one)}: {said}" for one in jobs for said in one.said)]:
        lines += ["", "TO KNOW"]
        for says in told:
            lines += wrapped(harmless(says), "  ", "      ")
    return page([*lines, "", _count(jobs)])


def same_title(jobs: Sequence[DayJob]) -> list[str]:
    """Jobs that bear one title: notes of one walk-round may have been taken for several jobs."""
    by_title: dict[str, list[DayJob]] = defaultdict(list)
    for one in jobs:
        if title := harmless(one.title or ""):
            by_title[title.casefold()].append(one)
    return [
        f"{_and([_name(one) for one in same])} bear one title, {harmless(same[0].title or '')}: if they are "
        "one walk-round, do them together with --one-walk."
        for same in by_title.values()
        if len(same) > 1
    ]


def day_csv(jobs: Sequence[DayJob]) -> str:
    """The same for a spreadsheet, lengths exact as on a tape and to two decimals; nothing can run."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    head = [
        "job", "title", "status", "runs", "runs measured", "gutter", "gutter [ft]", "gutter [m]",
        "pieces on hold", "pipes on hold", "questions", "code", "what was wrong", "note",
    ]  # fmt: skip
    writer.writerow(head)
    for one in jobs:
        long = one.gutter
        lengths = ("", "", "")
        if long is not None:
            lengths = (tape(long), f"{float(long.inches / 12):.2f}", f"{float(long.mm / 1000):.2f}")
        row = [one.folder, one.title or "", one.status, one.runs, one.measured, *lengths, one.pieces_on_hold,
               one.pipes_on_hold, one.questions, one.code or "", one.wrong or "", one.note]  # fmt: skip
        writer.writerow([cell(one) if isinstance(one, str) else one for one in row])
    return out.getvalue()


def progress_line(job: DayJob, number: int, of: int) -> str:
    """One line for a job that has just ended."""
    ends = sentence(job.wrong or "") if job.status == "not done" else f"{job.status}."
    if job.questions:
        ends = f"{_many(job.questions, 'question')} open."
    return f"{number} of {of}  {_name(job)}: {ends}"


def _row(job: DayJob) -> list[str]:
    held = [_many(job.pieces_on_hold, "piece"), _many(job.pipes_on_hold, "pipe")]
    long = tape(job.gutter)
    if job.measured < job.runs:
        long += f" on {job.measured} of them"
    return [
        _name(job),
        str(job.runs),
        long,
        ", ".join(one for one in held if not one.startswith("0")) or "-",
        str(job.questions or "-"),
        job.code or "",
        harmless(job.title or ""),
    ]


def _count(jobs: Sequence[DayJob]) -> str:
    done = sum(one.status != "not done" for one in jobs)
    held = sum(one.status == "on hold" for one in jobs)
    waits = f", {held} of them with something on hold or asked" if held else ""
    failed = f"; {len(jobs) - done} not done" if done < len(jobs) else ""
    return f"{done} of {len(jobs)} done{waits}{failed}."


def _name(job: DayJob) -> str:
    name = harmless(job.folder)
    return name if len(name) <= _NAME else f"{name[: _NAME - 1]}…"


def _and(names: Sequence[str]) -> str:
    return f"{', '.join(names[:-1])} and {names[-1]}"


def _many(count: int, what: str) -> str:
    return f"{count} {what}" if count == 1 else f"{count} {what}s"
