"""What an answer does."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from gutterance.checking.findings import Change


@dataclass(frozen=True, slots=True)
class Settled:
    """What an answer does: words for the note (`say`), `changes` to the sheet, or why it is not enough."""

    changes: tuple[Change, ...] = ()
    say: str | None = None
    not_enough: str | None = None
