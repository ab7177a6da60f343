"""What a finding is: something on the sheet that somebody must answer, confirm or know."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from gutterance.sheet.models import Model, Source

FindingKind = Literal["gap", "conflict", "doubt", "assumption", "hazard"]
HOLDING: frozenset[FindingKind] = frozenset({"gap", "conflict", "doubt"})
"""The kinds that keep what they touch out of the machine order until somebody has answered."""


class Change(Model):
    """One value as a suggestion would have it: its path, and the value as `gutterance amend` takes it."""

    path: str
    value: str


class Suggestion(Model):
    """A value that would settle a finding, and why it may be the right one. Never applied by itself.

    `changes` is what somebody who agrees would amend; empty where runs would have to be told anew.
    """

    value: str
    why: str
    changes: list[Change] = Field(default_factory=list)


class Finding(Model):
    """One finding. `about` is a sheet path; `holds` are paths of runs and downpipes (`runs.back`)."""

    code: str
    kind: FindingKind
    about: str
    says: str
    question: str | None = None
    suggests: list[Suggestion] = Field(default_factory=list)
    holds: list[str] = Field(default_factory=list)
    source: list[Source] = Field(default_factory=list)
