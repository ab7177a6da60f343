"""The files of a walk: its note, the answers beside it, and a journal of every line that was typed.

A line goes into the journal first and is on the disk there before anything else happens; then it goes into
the note, or its answers into the amendments. Only then is it acknowledged. Where the program or the machine
stops between the two, the next walk finds the line in the journal and does what was left to do.
"""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Literal, get_args

from gutterance.cli.amendment_files import (
    add_amendments,
    add_lines,
    amendments_beside,
    read_amendments,
    sync_folder,
)
from gutterance.cli.refusals import Refusal
from gutterance.sheet.amendments import Amendment
from gutterance.whole_files import append_whole, write_files

if TYPE_CHECKING:
    from pathlib import Path

ENDING = ".walk.jsonl"
Kind = Literal["said", "answered", "undone", "heard"]


@dataclass(frozen=True, slots=True)
class Event:
    """One thing done on the walk. `line` is where a said line stands in the note, from 1; an undone event
    names by `of` the number of the event it takes back, from 0. A line only heard waits to be told what it
    answers: what comes after it settles that."""

    kind: Kind
    when: str
    text: str = ""
    line: int = 0
    of: int = -1
    amendments: tuple[Amendment, ...] = ()

    def as_line(self) -> str:
        """The event as the journal holds it."""
        data: dict[str, Any] = {"kind": self.kind, "when": self.when}
        if self.kind == "undone":
            data["of"] = self.of
        else:
            data["text"] = self.text
        if self.line:
            data["line"] = self.line
        if self.amendments:
            data["amendments"] = [one.model_dump(mode="json") for one in self.amendments]
        return json.dumps(data, ensure_ascii=False)


@dataclass(slots=True)
class WalkFiles:
    """The files of one walk. Raises Refusal where they cannot be read or written, or are not a walk's."""

    note: Path
    journal: Path = field(init=False)
    answers: Path = field(init=False)
    events: list[Event] = field(init=False)

    def __post_init__(self) -> None:
        if self.note.is_dir():
            raise Refusal(f"{self.note} is a folder: give the note a name in it, as in job.txt")
        self.journal = self.note.with_name(self.note.stem + ENDING)
        self.answers = amendments_beside(self.note)
        if self.note.suffix in (".json", ".jsonl", ".srt", ".vtt"):
            raise Refusal(f"{self.note} is no plain note: give the walk a text file, as in job.txt")
        self.lines()
        self.events = self._read_journal()
        if self.events:
            self._do(len(self.events) - 1)

    def lines(self) -> list[str]:
        """The note as it stands, line by line. A half line, left by a power cut, is a line."""
        try:
            data = self.note.read_bytes()
        except FileNotFoundError:
            return []
        try:
            text = data.decode("utf-8-sig")
        except UnicodeDecodeError as error:
            raise Refusal(f"{self.note} is not UTF-8 text: save it so, or walk with a new note") from error
        return text.replace("\r\n", "\n").split("\n")[:-1] if text.endswith("\n") else _split(text)

    def amendments(self) -> list[Amendment]:
        """The answers kept so far, and what the office amended."""
        return read_amendments(self.answers)

    def say(self, text: str, when: str) -> int:
        """Add a line to the note; its number."""
        line = len(self.lines()) + 1
        self._record(Event("said", when, text, line))
        return line

    def answer(self, text: str, amendments: list[Amendment], when: str) -> None:
        """Keep what an answer settled."""
        self._record(Event("answered", when, text, amendments=tuple(amendments)))

    def hear(self, text: str, when: str) -> None:
        """Keep a line that is neither the note's nor an answer yet."""
        self._record(Event("heard", when, text))

    @property
    def waiting(self) -> str | None:
        """The line that was heard last and is not settled, or None."""
        return self.events[-1].text if self.events and self.events[-1].kind == "heard" else None

    def last(self) -> tuple[int, Event] | None:
        """The last thing said or answered that still stands."""
        undone = {event.of for event in self.events if event.kind == "undone"}
        standing = [
            (number, event)
            for number, event in enumerate(self.events)
            if event.kind in ("said", "answered") and number not in undone
        ]
        return standing[-1] if standing else None

    def undo(self, number: int, when: str, by: str) -> None:
        """Take back event `number`, the last that stands. Raises Refusal where the note was changed since."""
        event = self.events[number]
        if event.kind == "said" and (self.lines()[event.line - 1 :] != [event.text]):
            raise Refusal(
                f"{self.note} was changed since that line was said: take it out there with an editor"
            )
        withdrawn = tuple(
            Amendment(path=one.path, value=None, by=by, when=when, why="taken back on the walk")
            for one in event.amendments
        )
        self._record(Event("undone", when, of=number, amendments=withdrawn))

    def _record(self, event: Event) -> None:
        add_lines(self.journal, [event.as_line()])
        self.events.append(event)
        self._do(len(self.events) - 1)

    def _do(self, number: int) -> None:
        """Do what event `number`, the last, calls for, unless it is done already."""
        event = self.events[number]
        if event.kind == "said":
            if self.lines()[event.line - 1 : event.line] != [event.text]:
                self._add_to_note(event)
        elif event.kind == "undone" and self.events[event.of].kind == "said":
            told = self.events[event.of]
            if self.lines()[told.line - 1 :] == [told.text]:
                self._write_note(self.lines()[: told.line - 1])
        if event.amendments:
            kept = {(one.path, one.when, one.value) for one in self.amendments()}
            add_amendments(
                self.answers, [one for one in event.amendments if (one.path, one.when, one.value) not in kept]
            )

    def _add_to_note(self, event: Event) -> None:
        lines = self.lines()
        if len(lines) >= event.line:
            # the line was cut off while it was being written
            if event.text.startswith(lines[event.line - 1]) and len(lines) == event.line:
                self._write_note([*lines[:-1], event.text])
            return
        whole = not self.note.exists() or self.note.read_bytes()[-1:] in (b"", b"\n")
        try:
            is_new = not self.note.exists()
            append_whole(self.note, f"{'' if whole else chr(10)}{event.text}\n".encode())
            if is_new:
                sync_folder(self.note)
        except OSError as error:
            raise _cannot_write(self.note, error) from error

    def _write_note(self, lines: list[str]) -> None:
        try:
            write_files({self.note: "".join(f"{line}\n" for line in lines).encode()})
            sync_folder(self.note)
        except OSError as error:
            raise _cannot_write(self.note, error) from error

    def _read_journal(self) -> list[Event]:
        try:
            text = self.journal.read_bytes().decode("utf-8")
        except FileNotFoundError:
            return []
        except UnicodeDecodeError as error:
            raise Refusal(f"{self.journal} is no walk's journal: move it away and walk on") from error
        events: list[Event] = []
        for number, line in enumerate(text.split("\n")[:-1], start=1):
            try:
                data = json.loads(line)
                data["amendments"] = tuple(map(Amendment.model_validate, data.get("amendments", ())))
                event = Event(**data)
                if event.kind not in get_args(Kind) or event.of >= len(events):
                    raise ValueError("no event of a walk")
            except (ValueError, TypeError, AttributeError) as error:
                raise Refusal(
                    f"{self.journal}, line {number} is no event of a walk: mend that line, or move the "
                    "journal away and walk on"
                ) from error
            events.append(event)
        return events


def _split(text: str) -> list[str]:
    return text.replace("\r\n", "\n").split("\n") if text else []


def _cannot_write(path: Path, error: OSError) -> Refusal:
    return Refusal(f"{path} cannot be written ({error.strerror}): make room, or walk in another folder")
