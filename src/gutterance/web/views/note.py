"""The note as evidence: each line as given, cut where its marked words begin and end."""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass
from typing import TYPE_CHECKING

from gutterance.render.explained import seen_lines, wordless
from gutterance.render.explainpage import kind_of, strongest

if TYPE_CHECKING:
    from gutterance.render.explained import Mark, SeenLine, Stretch
    from gutterance.sheet.models import Sheet


@dataclass(frozen=True, slots=True)
class Words:
    """A stretch of a line. `paths` are the places on the sheet it went to; without one it went nowhere.

    `kind` is how it is drawn (`open`, `unread`, `was`, `name`, `title`, `remark`, or empty for plainly read),
    `sign` what stands behind it, `says` what it became, for a reader who cannot see the link.
    """

    text: str
    paths: tuple[str, ...] = ()
    kind: str = ""
    sign: str = ""
    says: str = ""


@dataclass(frozen=True, slots=True)
class NoteRow:
    """A line of the note: its number, where and when it was said, and its words in order."""

    number: int
    where: str
    heard: str | None
    words: tuple[Words, ...]

    @property
    def took_nothing(self) -> bool:
        """Whether no word of the line went anywhere."""
        return bool(self.words) and not any(one.paths for one in self.words)

    @property
    def paths(self) -> tuple[str, ...]:
        """Every place on the sheet that words of this line went to, once each."""
        return tuple(dict.fromkeys(path for one in self.words for path in one.paths))


@dataclass(frozen=True, slots=True)
class Wordless:
    """A value with no words of the note behind it: what it is, its value, and why it stands."""

    what: str
    value: str
    how: str
    sign: str
    why: str
    path: str


def note_rows(sheet: Sheet) -> list[NoteRow]:
    """Every line of the note that has something on it, numbered as in the note."""
    return [
        NoteRow(number, line.where, line.heard, _words_of(line))
        for number, line in enumerate(seen_lines(sheet), start=1)
        if line.text.strip()
    ]


def without_words(sheet: Sheet) -> list[Wordless]:
    """The values that rest on no words of the note."""
    return [
        Wordless(one.what[0], one.value, one.how, one.sign, one.why, one.paths[0]) for one in wordless(sheet)
    ]


def _words_of(line: SeenLine) -> tuple[Words, ...]:
    return tuple(_one(stretch) for stretch in line.stretches() if stretch.text)


def _one(stretch: Stretch) -> Words:
    if not stretch.marks:
        return Words(_seen(stretch.text))
    paths = tuple(dict.fromkeys(path for mark in stretch.marks for path in mark.paths))
    signs = dict.fromkeys(mark.sign for mark in stretch.closing if mark.sign)
    says = "; ".join(dict.fromkeys(_told(mark) for mark in stretch.marks))
    return Words(_seen(stretch.text), paths, strongest(stretch.marks) or "read", " ".join(signs), says)


def _told(mark: Mark) -> str:
    """A mark in words: `the length of the front, 42' 6"`, with its state where it is not plainly read."""
    what = " and ".join(mark.what)
    value = f", {mark.value}" if mark.value else ""
    how = "" if mark.how == "read" or kind_of(mark) in ("name", "title", "remark", "was") else f", {mark.how}"
    return f"{what}{value}{how}"


def _seen(text: str) -> str:
    """The words as a page shows them: control and direction signs, which could hide others, left out."""
    return "".join(
        " " if one == "\t" else one
        for one in text
        if one in "\t\n" or unicodedata.category(one) not in _HIDDEN
    )


_HIDDEN = frozenset({"Cc", "Cf", "Cs"})
