"""A shorthand line cut where letters, signs and numbers touch: `x14250x ↓l` is x, 14250, x, ↓, l."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from gutterance.measure.tape import find_lengths, settle
from gutterance.reading.items import Item

if TYPE_CHECKING:
    from fractions import Fraction

    from gutterance.measure.found import Found
    from gutterance.measure.length import Length
    from gutterance.measure.tape import FieldKind
    from gutterance.reading.number_style import NumberStyle
    from gutterance.reading.shorthand.meanings import Meanings

PART = r"(?:[½¼¾⅛⅜⅝⅞]|\s?\d{1,2}/(?:2|4|8|16|32)(?!\d))"
NUMBER = re.compile(
    rf"""(?P<about>~\s?)?(?:
      \d{{1,3}}\s?['’′]\s?-?\s?\d{{1,2}}(?!\d){PART}?\s?(?:["”″]|'')?
    | \d{{1,3}}-\d{{1,2}}(?![\d-]){PART}?["”″]?
    | \d{{1,3}}-\d{{1,2}}-\d/\d["”″]?
    | \d*\.\d+ (?:{PART})?
    | \d+(?:[½¼¾⅛⅜⅝⅞]|\s\d/(?:2|4|8|16)(?!\d))?
    | [½¼¾⅛⅜⅝⅞]
    )(?P<unit>\s?(?:mm|cm|ft|in)(?![A-Za-z])|m(?![A-Za-z])|['’′]|["”″]|\s?°)?(?P<asked>\s?\?+)?""",
    re.VERBOSE,
)
"""A number as tapes and crews write it, with its unit, and with the sign that it is not certain."""
SIZE = re.compile(
    r"(?<![A-Za-z\d])(?:[2-6]\s?[xX×]\s?[2-6]|(?:50|60|65|75|80|90|100|110|125|150)\s?[xX×]\s?"
    r"(?:50|60|65|75|80|90|100|110|125|150))(?![\d'’′\"”-])(?:\s?mm(?![a-z]))?"
)
"""`2x3`, `100x50`: the sizes that pipes are sold in. Common practice, no source."""
LETTERS = re.compile(r"[^\W\d_]+(?:['’][^\W\d_]+)?")
MIXED = re.compile(r"(?<![^\W\d_])[a-z]+[A-Z]+(?![^\W\d_])")
"""`dR`: a small letter against a capital, which is no `DR`."""
ARROW = re.compile(r"->|=>|''|\?+|!+|\.{2,}")
LONGEST_PHRASE = 16
"""No word of shorthand is longer [characters]."""


@dataclass(slots=True)
class Token:
    """A number, a word or a sign. `glued` where nothing stands between it and the token before."""

    kind: str
    text: str
    line: int
    start: int
    end: int
    glued: bool
    gap: int = 0
    founds: list[Found] = field(default_factory=list)

    @property
    def is_number(self) -> bool:
        """Whether it is a number that may measure something."""
        return self.kind == "number" and len(self.founds) == 1 and self.founds[0].kind != "other"

    @property
    def digits(self) -> int | None:
        """The whole number that it is, if it is no more than that."""
        return int(self.text) if self.text.isdecimal() else None

    @property
    def value(self) -> Fraction | None:
        """The number, where it has no unit."""
        return self.founds[0].value if self.is_number else None

    def length(self, kind: FieldKind, *, metric: bool) -> Length | None:
        """What it is as the answer to a field."""
        read = settle(self.founds[0], kind, metric=metric) if self.is_number else None
        return None if read is None else read.length

    def item(self) -> Item:
        """As an item of its line, to be put on the sheet."""
        kind = "measure" if self.kind == "number" else "word"
        found = self.founds[0] if len(self.founds) == 1 else None
        return Item(self.line, self.start, self.end, self.text, kind, self.text.lower(), found)


def tokens_of(
    text: str, line: int, meanings: Meanings, style: NumberStyle, *, joined: bool = False, start: int = 0
) -> list[Token]:
    """The tokens of a line. `joined` says that feet and inches stand side by side: `46 0`."""
    out: list[Token] = []
    at, behind = start, start
    while at < len(text):
        if text[at].isspace():
            at += 1
            continue
        kind, end = _next(text, at, meanings, joined=joined)
        token = Token(kind, text[at:end], line, at, end, bool(out) and at == behind, at - behind)
        if kind == "number":
            token.founds = style.apply(find_lengths(style.rewrite(token.text)))
        out.append(token)
        at = behind = end
    return out


FEET_AND_INCHES = re.compile(
    r"\d{1,3} (?:\d|1[01])(?![\d.'’′/x×-])(?:[½¼¾⅛⅜⅝⅞]|\s\d/(?:2|4|8|16)(?!\d))?(?P<asked>\?+)?"
)
"""Feet and inches side by side."""


def _next(text: str, at: int, meanings: Meanings, *, joined: bool) -> tuple[str, int]:
    """What kind of token begins at a place, and where it ends."""
    if text[at].isdecimal() or text[at] in "~.½¼¾⅛⅜⅝⅞":
        size = SIZE.match(text, at)
        if size is not None:
            return "size", size.end()
        pair = FEET_AND_INCHES.match(text, at) if joined else None
        if pair is not None:
            return "number", pair.end()
        number = NUMBER.match(text, at)
        if number is not None and any(char.isnumeric() for char in number.group()):
            return "number", number.end()
    mixed = MIXED.match(text, at)
    parts = _parts(text, at, meanings) if mixed is not None and mixed.start() == at else None
    phrase = parts or _phrase(text, at, meanings) or _parts(text, at, meanings)
    if phrase is not None:
        return "word", phrase
    for kind, pattern in (("word", LETTERS), ("sign", ARROW)):
        match = pattern.match(text, at)
        if match is not None:
            return kind, match.end()
    return "sign", at + 1


def _parts(text: str, at: int, meanings: Meanings) -> int | None:
    """Where the first part of letters run together ends: `dFL` is d and FL, `dR` is d and R."""
    match = LETTERS.match(text, at)
    if match is None or not 1 < len(match.group()) <= LONGEST_COMPOUND:
        return None
    letters = match.group()
    if at and text[at - 1].isalpha():
        return at + len(letters) if meanings.knows(letters) else None
    for cut in range(len(letters) - 1, 0, -1):
        first, rest = letters[:cut], letters[cut:]
        # the letter for a pipe is written otherwise than the place behind it: `dFL`, `DPl`, and no `DRAW`
        if first.isupper() == rest.isupper() and not rest[0].isupper():
            continue
        if "pipe" in meanings.of(first) and {"side", "name", "quarter"} & set(meanings.of(rest)):
            return at + cut
    return None


LONGEST_COMPOUND = 4


def _phrase(text: str, at: int, meanings: Meanings) -> int | None:
    """Where the longest known word that begins there ends: `w/f`, `sp blk`, `RE1` no further than RE."""
    if at and text[at].isalpha() and text[at - 1].isalpha():
        return None
    for end in range(min(len(text), at + LONGEST_PHRASE), at, -1):
        inside = end < len(text) and text[end].isalpha() and text[end - 1].isalpha()
        if inside or text[end - 1].isspace():
            continue
        if meanings.knows(text[at:end]):
            return end
    return None
