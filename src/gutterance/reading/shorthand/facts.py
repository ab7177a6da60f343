"""What a shorthand note's rows say, before any of it is on the sheet."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from gutterance.reading.places import PlaceName
    from gutterance.reading.shorthand.tokens import Token


@dataclass(slots=True)
class Said:
    """A value, the tokens that say it, and why it is not certain where it is not."""

    value: str
    tokens: list[Token]
    doubt: str | None = None
    angle: int | None = None


@dataclass(slots=True)
class Number:
    """A number that answers a field, and why it is not certain that it does."""

    token: Token
    doubt: str | None = None
    copied: str | None = None


@dataclass(slots=True)
class PipeFacts:
    """An outlet and its downpipe. `ident` is the number or letter it is called by."""

    side: Said | None = None
    distance: Number | None = None
    ident: str | None = None
    numbers: dict[str, Number] = field(default_factory=dict)
    ending: Said | None = None
    size: Token | None = None
    tokens: list[Token] = field(default_factory=list)
    doubt: str | None = None


@dataclass(slots=True)
class RunFacts:
    """A run: its name, its length, its ends by side, its outlets, and what of its row found no place."""

    name: PlaceName
    tokens: list[Token]
    line: int
    length: Number | None = None
    ends: dict[str, Said] = field(default_factory=dict)
    pipes: list[PipeFacts] = field(default_factory=list)
    dry: Said | None = None
    loose: list[Token] = field(default_factory=list)
    size: Token | None = None
    unsided: list[Said] = field(default_factory=list)
    name_doubt: str | None = None
    like: RunFacts | None = None
    sign: Token | None = None
