"""`run` on a day's notes: each a job in a folder of its own, several at once, and a table of all."""

from __future__ import annotations

import os
import sys
from contextlib import closing, contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from gutterance.cli.day_folders import day_folders, path_from
from gutterance.cli.day_jobs import HowDone, JobTask, do_job
from gutterance.cli.processes import LostError, each_done
from gutterance.cli.refusals import Refusal
from gutterance.cli.showing import show, show_json, talk
from gutterance.cli.statuses import ExitStatus
from gutterance.cli.work import DAY_JSON
from gutterance.lists.day import Day, DayJob
from gutterance.whole_files import what_to_do, write_files

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

DAY_TEXT, DAY_CSV = "jobs.txt", "jobs.csv"
DAY_FILES = (DAY_JSON, DAY_TEXT, DAY_CSV)
"""The day's own files, beside its jobs' folders."""
_LOST = (
    "its process was ended from outside, or ran out of memory: do it again by itself, and report it if it is "
    "lost again"
)
_DEFECT = "a defect of ours"


def run_day(
    notes: Sequence[str], out: str | None, how: HowDone, processes: int | None, *, as_json: bool
) -> ExitStatus:
    """Do each note as a job of its own. Raises Refusal only for what would stop all of them."""
    if out is None:
        raise Refusal(
            f"{len(notes)} notes are {len(notes)} jobs: give --out a folder for theirs; if they are one "
            "walk-round, say --one-walk"
            if len(notes) > 1
            else "--each puts the job in a folder of its own: give --out the folder for that"
        )
    if "-" in notes:
        raise Refusal("standard input is one note: run it by itself, or with --one-walk")
    _check_options(how)
    day = _day_folder(Path(out))
    before = _jobs_before(day / DAY_JSON)
    tasks = _tasks(_each_once(notes), day, before, how)
    count = min(processes or _cores(), len(tasks))
    if len(tasks) > 1:
        talk(f"{len(tasks)} notes, each a job of its own; {_many(count, 'process')} at work")
    rows: dict[str, DayJob] = {}
    try:
        with closing(each_done(do_job, tasks, count)) as ended, _progress(len(tasks)) as tell:
            for task, result in ended:
                row = task.not_done(_LOST) if isinstance(result, LostError) else result
                rows[task.folder] = row
                tell(row)
    except KeyboardInterrupt:
        whole = "; their folders are whole" if rows else ""
        talk(f"stopped: {len(rows)} of {len(tasks)} were done{whole}")
        if rows:
            _tell(day, before, [rows[one.folder] for one in tasks if one.folder in rows], as_json=as_json)
        raise
    done = [rows[task.folder] for task in tasks]
    _tell(day, before, done, as_json=as_json)
    return day_status(done)


def day_status(jobs: Sequence[DayJob]) -> ExitStatus:
    """The gravest of them: a defect, a note that cannot be used, something on hold, all done."""
    wrong = [one.wrong or "" for one in jobs if one.status == "not done"]
    if any(one.startswith((_DEFECT, _LOST)) for one in wrong):
        return ExitStatus.DEFECT
    if wrong:
        return ExitStatus.UNUSABLE
    return ExitStatus.ON_HOLD if any(one.status == "on hold" for one in jobs) else ExitStatus.DONE


def _check_options(how: HowDone) -> None:
    """What is wrong with the call itself is said once, before any note is touched."""
    from gutterance.cli import work
    from gutterance.cli.price_lists import prices_for
    from gutterance.cli.trade_words import own_words_for
    from gutterance.sheet.models import Sheet

    work.papers_wanted(how.only)
    work.paper_size(how.paper, Sheet())
    work.shop_of(how.shop)
    own_words_for(how.words, how.shop)
    prices_for(how.prices, how.shop)


def _day_folder(folder: Path) -> Path:
    if folder.exists() and not folder.is_dir():
        raise Refusal(f"{folder} is a file: give --out a folder for the jobs")
    folder.mkdir(parents=True, exist_ok=True)
    trial = folder / ".gutterance-trial"
    try:
        # what the rights, the disk or the network say is only known by writing
        write_files({trial: b""})
        trial.unlink()
    except OSError as error:
        raise Refusal(f"{folder} cannot be written: {what_to_do(error)}") from error
    return folder


def _jobs_before(file: Path) -> list[DayJob]:
    """The jobs that an earlier call left in this folder and that are still there, or whose note is."""
    from pydantic import ValidationError

    try:
        jobs = Day.model_validate_json(file.read_bytes()).jobs
    except FileNotFoundError:
        return []
    except ValidationError as error:
        raise Refusal(
            f"{file} is no list of a day's jobs: move it away, or give --out another folder"
        ) from error
    return [one for one in jobs if (file.parent / one.folder).is_dir() or (file.parent / one.note).exists()]


def _each_once(notes: Sequence[str]) -> list[str]:
    once: dict[str, str] = {}
    for note in notes:
        if (file := os.path.realpath(note)) in once:
            talk(f"note: {note} is given twice: it is done once")
        once.setdefault(file, note)
    return list(once.values())


def _tasks(notes: Sequence[str], day: Path, before: Sequence[DayJob], how: HowDone) -> list[JobTask]:
    folders = day_folders(notes, day, {one.folder: one.note for one in before}, DAY_FILES)
    return [JobTask(note, day, folder, path_from(day, note), how) for note, folder in folders.items()]


def _cores() -> int:
    """How many processes can work at once here."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


@contextmanager
def _progress(of: int) -> Iterator[Callable[[DayJob], None]]:
    """Tells of each job as it ends: by a bar on a terminal, with what went wrong above it; else by a line."""
    from gutterance.render.daylist import progress_line

    number = 0
    if not sys.stderr.isatty() or os.environ.get("TERM") == "dumb":

        def line(job: DayJob) -> None:
            nonlocal number
            number += 1
            talk(progress_line(job, number, of))

        yield line
        return
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn
    from rich.text import Text

    console = Console(stderr=True, highlight=False)
    parts = (BarColumn(), MofNCompleteColumn(), TimeRemainingColumn(), TextColumn("left", markup=False))
    with Progress(*parts, console=console, transient=True) as bar:
        task = bar.add_task("", total=of)

        def step(job: DayJob) -> None:
            nonlocal number
            number += 1
            if job.status == "not done":
                bar.console.print(Text(progress_line(job, number, of)), soft_wrap=True)
            bar.advance(task)

        yield step


def _tell(day: Path, before: Sequence[DayJob], done: Sequence[DayJob], *, as_json: bool) -> None:
    """Print the table of this call's jobs, and write that of all jobs in the folder."""
    from gutterance.render.daylist import day_csv, day_text
    from gutterance.render.files import put_in_place

    now = {one.folder: one for one in done}
    every = [now.pop(one.folder, one) for one in before] + list(now.values())
    if as_json:
        show_json(Day(jobs=list(done)).model_dump(mode="json", exclude_none=True))
    else:
        show(day_text(done))
    files = {
        DAY_JSON: Day(jobs=every).model_dump_json(exclude_none=True, indent=1) + "\n",
        DAY_TEXT: day_text(every),
        DAY_CSV: day_csv(every),
    }
    put_in_place(files, day)
    others = f", with the {len(every) - len(done)} done there before" if len(every) > len(done) else ""
    talk(f"the table is in {day / DAY_TEXT}, {DAY_CSV} and {DAY_JSON}{others}")


def _many(count: int, what: str) -> str:
    return f"{count} {what}" if count == 1 else f"{count} {what}es"
