"""One job of a day's work, done in a process of its own: its note read, its lists written, its row told."""

from __future__ import annotations

import contextlib
import gc
import io
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

from gutterance.cli.boundary import told
from gutterance.cli.statuses import ExitStatus
from gutterance.lists.day import DayJob

if TYPE_CHECKING:
    from pathlib import Path

    from gutterance.drainage.asked import RainAsked
    from gutterance.reading.own_words import OwnWords
    from gutterance.shop.prices import PriceList


@dataclass(frozen=True, slots=True)
class HowDone:
    """What all jobs of a day share: the options of the call."""

    shop: str | None = None
    words: str | None = None
    rain: RainAsked | None = None
    paper: str | None = None
    only: str | None = None
    prices: str | None = None


@dataclass(frozen=True, slots=True)
class JobTask:
    """One job: its note, its folder in the day's, and the note's path from there."""

    note: str
    day: Path
    folder: str
    note_from_day: str
    how: HowDone

    def not_done(self, wrong: str) -> DayJob:
        """The row of a job that failed. What an earlier call left in its folder is told to be old."""
        folder = self.day / self.folder
        left = folder.is_dir() and any(folder.iterdir())
        old = f"; what is in {folder} is from before" if left else ""
        return DayJob(
            folder=self.folder, note=self.note_from_day, status="not done", wrong=f"{wrong.rstrip('.')}{old}"
        )


def do_job(task: JobTask) -> DayJob:
    """Do one job. Never raises: whatever is wrong with its note, or with us, is its row's `wrong`."""
    gc.set_threshold(1_000_000, 50, 50)
    heard = io.StringIO()
    try:
        with contextlib.redirect_stderr(heard):
            row = _done(task)
    except Exception as error:
        ends, says = told(error)
        more = "; do it again by itself with --traceback and report what it prints"
        row = task.not_done(says + more if ends == ExitStatus.DEFECT else says)
    row.said += [line.removeprefix("note: ") for line in heard.getvalue().splitlines() if line.strip()]
    return row


def _done(task: JobTask) -> DayJob:
    from gutterance.cli import work
    from gutterance.cli.inputs import open_note_to_read
    from gutterance.lists.day import day_job
    from gutterance.render.files import write_lists
    from gutterance.render.sheet_code import sheet_code

    how = task.how
    note = open_note_to_read(task.note)
    stands = work.standing_of(work.sheet_of(note, _own_words(how.words, how.shop)), [task.note])
    sheet = stands.sheet
    lists, shop = work.lists_of(sheet, stands.findings, how.shop, how.rain)
    size = work.paper_size(how.paper, sheet)
    wanted = work.papers_wanted(how.only)
    folder = task.day / task.folder
    prices = _prices(how.prices, how.shop)
    write_lists(lists, sheet, list(stands.findings), folder, shop, size, wanted, prices)
    every = [*stands.findings, *lists.findings]
    return day_job(task.folder, task.note_from_day, sheet, lists, every, sheet_code(sheet, lists))


@cache
def _own_words(words: str | None, shop: str | None) -> OwnWords | None:
    from gutterance.cli.trade_words import own_words_for

    with contextlib.redirect_stderr(io.StringIO()):
        return own_words_for(words, shop)


@cache
def _prices(prices: str | None, shop: str | None) -> PriceList | None:
    from gutterance.cli.price_lists import prices_for

    with contextlib.redirect_stderr(io.StringIO()):
        return prices_for(prices, shop)
