"""`gutterance walk`: the measurer's companion at the terminal, one utterance a line."""

from __future__ import annotations

import re
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from gutterance.checking import as_it_stands, open_questions
from gutterance.checking.answering import LETTERS, could_answer, reads_cleanly, settle_answer
from gutterance.cli.amending import now
from gutterance.cli.asking import question_lines, questions_text
from gutterance.cli.refusals import Refusal
from gutterance.cli.showing import put, show
from gutterance.cli.walk_files import WalkFiles
from gutterance.cli.work import findings_status
from gutterance.jobs.given_values import note_says
from gutterance.reading import read_note
from gutterance.render.plain import harmless, wrapped
from gutterance.render.readback import read_back
from gutterance.render.saidback import said_back
from gutterance.sheet.amendments import Amendment
from gutterance.sheet.paths import find_place

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from gutterance.checking import Question
    from gutterance.checking.answering import Choice, Settled
    from gutterance.cli.statuses import ExitStatus
    from gutterance.reading.own_words import OwnWords

HELP = """\
Say what you measure, a line at a time: Front 42-6 OSC both ends, drop left, w/f 24, height 9-4
An answer needs no more than its value: 9 2. A letter takes a suggestion, yes confirms what is asked.
A value that answers one open question is taken for it; one that could answer several is asked back.
  2: 24          answers open question 2        note: ...      for the note, whatever it looks like
  open           all open questions             show           the whole read-back
  undo           takes back the last line       quit           leaves; walk again to go on
"""
_ANSWERS = re.compile(r"\s*(\d+)\s*:\s*(.+)\Z", re.DOTALL)
_NOTE = re.compile(r"\s*note\s*:\s*(.+)\Z", re.IGNORECASE | re.DOTALL)
_LEAVE = frozenset({"quit", "exit", "leave", "q"})


def run_walk(note: str, by: str, own: OwnWords | None = None) -> ExitStatus:
    """Walk with the note at `note` until the lines end or the measurer leaves; whether anything is open.

    `own` are the shop's own words.
    """
    if note == "-":
        raise Refusal("a walk is kept in a file: give the note a name, as in job.txt")
    walk = _Walk(WalkFiles(Path(note)), by, own)
    walk.greet()
    for line in _lines():
        if line.lower() in _LEAVE:
            break
        walk.take(line)
    return walk.leave()


def _lines() -> Iterator[str]:
    while True:
        if sys.stdin.isatty():
            put("> ")
        raw = sys.stdin.readline()
        if not raw:
            return
        # a pasted page may bring its own line ends and blanks
        for line in raw.splitlines():
            if line.strip():
                yield line.strip()


class _Walk:
    """One walk: its files, the sheet as it stands, and the questions open on it."""

    def __init__(self, files: WalkFiles, by: str, own: OwnWords | None) -> None:
        self._files = files
        self._own = own
        self._by = by
        self._refresh()

    def _refresh(self) -> None:
        self._read = read_note(self._files.lines(), own=self._own)
        self._read.note = self._files.lines()
        self._stands = as_it_stands(self._read, self._files.amendments())
        self._questions = open_questions(self._stands.sheet, self._stands.findings)

    def greet(self) -> None:
        """What is there already, and what is asked first."""
        runs = len(self._stands.sheet.runs)
        if self._files.lines():
            title = self._stands.sheet.title or self._files.note.name
            put(f"{title}: {runs} run{'' if runs == 1 else 's'} so far. help tells what you can say.\n")
        else:
            put(f"A new walk, kept in {self._files.note}. help tells what you can say.\n")
        if self._files.lines():
            self._ask()
        if self._files.waiting is not None:
            self._take_waiting()

    def take(self, line: str) -> None:
        """One line: a command, an answer, or words for the note."""
        word = line.lower()
        if self._files.waiting is not None and self._chosen(line):
            return
        if word == "help":
            put(HELP)
        elif word in ("open", "?"):
            show(questions_text(self._questions, self._stands.sheet.title))
        elif word == "show":
            show(read_back(self._stands.sheet))
        elif word == "undo":
            self._undo()
        elif (numbered := _ANSWERS.match(line)) and 0 < int(numbered[1]) <= len(self._questions):
            question = self._questions[int(numbered[1]) - 1]
            settled = settle_answer(question, numbered[2], self._stands.sheet)
            if settled is None:
                put(f"? {numbered[2]!r} does not answer: {question.text}\n  nothing was kept\n")
            else:
                self._answer(question, numbered[2], settled)
        elif noted := _NOTE.match(line):
            self._say(noted[1].strip())
        else:
            self._answer_or_say(line)

    def _answer_or_say(self, line: str) -> None:
        if not self._questions or not self._files.lines():
            self._say(line)
            return
        question = self._questions[0]
        settled = settle_answer(question, line, self._stands.sheet)
        if settled is not None:
            self._answer(question, line, settled)
            return
        choices = could_answer(self._questions, line, self._stands.sheet)
        longer = [*self._files.lines(), line]
        if not choices or reads_cleanly(self._read, read_note(longer, own=self._own)):
            self._say(line)
        elif len(choices) == 1:
            put("\n".join(wrapped(f"taken as the answer to: {harmless(choices[0].words)}", "", "  ")) + "\n")
            self._answer(choices[0].question, line, choices[0].settled)
        else:
            self._files.hear(line, now())
            self._ask_back(line, choices)

    def _ask_back(self, line: str, choices: Sequence[Choice]) -> None:
        put(f"? {line!r} could answer several. Which? A letter, or anything else to leave it in the note.\n")
        for letter, choice in zip(LETTERS, choices, strict=False):
            put("\n".join(wrapped(harmless(choice.words), f"     ({letter}) ", "         ")) + "\n")

    def _take_waiting(self) -> None:
        """A line that was waiting when the walk was cut off is asked back again, or goes in the note."""
        line = self._files.waiting or ""
        choices = could_answer(self._questions, line, self._stands.sheet)
        if choices:
            self._ask_back(line, choices)
        else:
            self._say(line)

    def _chosen(self, line: str) -> bool:
        """Whether `line` says what the waiting line answers, or takes it back. If not, that one goes in the
        note."""
        waiting = self._files.waiting or ""
        choices = could_answer(self._questions, waiting, self._stands.sheet)
        chosen = dict(zip(LETTERS, choices, strict=False)).get(line.lower().strip("() "))
        if chosen is not None:
            self._answer(chosen.question, waiting, chosen.settled)
        elif line.lower() == "undo":
            self._files.undo(len(self._files.events) - 1, now(), self._by)
            put(f"taken back: {waiting}\n")
            self._ask()
        else:
            self._say(waiting)
            return False
        return True

    def _say(self, text: str) -> None:
        self._files.say(text, now())
        self._tell()

    def _answer(self, question: Question, text: str, settled: Settled) -> None:
        if settled.not_enough is not None:
            put(
                "\n".join(wrapped(f"? {settled.not_enough}", "", "  "))
                + "\n  nothing was kept: say it again\n"
            )
            return
        if settled.say is not None:
            put(f"for the note: {settled.say}\n")
            self._files.say(settled.say, now())
        if self._keep(question, text, settled):
            self._tell()

    def _keep(self, question: Question, text: str, settled: Settled) -> bool:
        """Keep what an answer changes, beside the note; whether all of it has a place on the sheet."""
        when = now()
        amendments = []
        for change in settled.changes:
            place = find_place(self._stands.sheet, change.path)
            if place is None:
                put(f"? there is no {change.path} on the sheet any more\n  nothing was kept\n")
                return False
            amendments.append(
                Amendment(
                    path=change.path,
                    value=change.value,
                    by=self._by,
                    when=when,
                    why=f"answer to: {question.text}",
                    was=note_says(place),
                    said=text,
                )
            )
        if amendments:
            self._files.answer(text, amendments, when)
        return True

    def _undo(self) -> None:
        last = self._files.last()
        if last is None:
            put("there is nothing to take back\n")
            return
        number, event = last
        try:
            self._files.undo(number, now(), self._by)
        except Refusal as refusal:
            put(f"? {refusal}\n")
            return
        put(f"taken back: {event.text}\n")
        self._tell()

    def _tell(self) -> None:
        """What the line that was just kept has changed, and what is asked next."""
        before = self._stands.sheet
        self._refresh()
        lines = said_back(before, self._stands.sheet)
        for line in lines or ["kept; nothing measured in it"]:
            put("\n".join(wrapped(f"= {line}", "", "    ")) + "\n")
        self._ask()

    def _ask(self) -> None:
        if not self._questions:
            put(
                "  nothing open\n" if self._stands.sheet.runs else "  which side first, and how long is it?\n"
            )
            return
        lines = question_lines(1, self._questions[0])
        count = len(self._questions)
        put(f"  {count} open. Next:\n" + "\n".join(f"  {line}" for line in lines) + "\n")

    def leave(self) -> ExitStatus:
        """What is still open, and how to go on."""
        if self._files.waiting is not None:
            self._say(self._files.waiting)
        count = len(self._questions)
        kept = f"kept in {self._files.note}"
        if count:
            put(f"{count} open; {kept}. `gutterance walk {self._files.note}` goes on.\n")
        else:
            put(f"Nothing open; {kept}.\n")
        return findings_status(self._stands.findings)
