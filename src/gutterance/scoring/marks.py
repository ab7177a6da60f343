"""How one value of a gold sheet was met, and the sums over many."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from collections.abc import Iterable

Outcome = Literal["right", "asked", "missed", "wrong"]
OUTCOMES: tuple[Outcome, ...] = ("right", "asked", "missed", "wrong")
"""right: gold's value, shown as gold would show it. asked: a question stands where the value should.
missed: nothing. wrong: another value, or one that gold does not have, shown as certain."""


@dataclass(frozen=True, slots=True)
class Mark:
    """One value met or not. `silent`: gold would ask about it, and the sheet shows it as certain."""

    path: str
    field: str
    outcome: Outcome
    gold: str | None
    got: str | None
    needless: bool = False
    silent: bool = False


@dataclass(frozen=True, slots=True)
class Score:
    """All marks of one note. `idle` holds questions about words that gold knows to be no value."""

    note: str
    voice: str
    marks: tuple[Mark, ...]
    idle: tuple[str, ...] = ()

    @property
    def needless(self) -> int:
        """Questions that a careful person would not ask."""
        return sum(mark.needless for mark in self.marks) + len(self.idle)


@dataclass(slots=True)
class Sums:
    """Marks counted."""

    right: int = 0
    asked: int = 0
    missed: int = 0
    wrong: int = 0
    needless: int = 0
    silent: int = 0
    notes: int = 0

    @property
    def values(self) -> int:
        """All values marked."""
        return self.right + self.asked + self.missed + self.wrong

    def add(self, mark: Mark) -> None:
        """Count one mark."""
        setattr(self, mark.outcome, getattr(self, mark.outcome) + 1)
        self.needless += mark.needless
        self.silent += mark.silent

    def as_dict(self) -> dict[str, int]:
        """The counts by name."""
        return {
            "notes": self.notes,
            "values": self.values,
            "right": self.right,
            "asked": self.asked,
            "missed": self.missed,
            "wrong": self.wrong,
            "needless": self.needless,
            "silent": self.silent,
        }


@dataclass(slots=True)
class CorpusScore:
    """Sums over a corpus: in all, per voice and per field."""

    total: Sums = field(default_factory=Sums)
    voices: dict[str, Sums] = field(default_factory=dict)
    fields: dict[str, Sums] = field(default_factory=dict)

    def as_dict(self) -> dict[str, object]:
        """The counts by name, voice and field."""
        return {
            "total": self.total.as_dict(),
            "voices": {name: sums.as_dict() for name, sums in sorted(self.voices.items())},
            "fields": {name: sums.as_dict() for name, sums in sorted(self.fields.items())},
        }


def add_up(scores: Iterable[Score]) -> CorpusScore:
    """The sums over many notes."""
    corpus = CorpusScore()
    for score in scores:
        voice = corpus.voices.setdefault(score.voice, Sums())
        for sums in (corpus.total, voice):
            sums.notes += 1
            sums.needless += len(score.idle)
        fields_met = set()
        for mark in score.marks:
            of_field = corpus.fields.setdefault(mark.field, Sums())
            if mark.field not in fields_met:
                fields_met.add(mark.field)
                of_field.notes += 1
            for sums in (corpus.total, voice, of_field):
                sums.add(mark)
    return corpus
