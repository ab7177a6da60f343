"""How a note writes its numbers: `ft.in` (36.10 is 36' 10"), `ALL INCHES`; and blanks as cell borders."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from gutterance.reading.sides_cut_short import sides_cut_short, without_sides

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gutterance.measure.tape import Found

FEET_DOT_INCHES = re.compile(
    r"(?<![\d.])(?<!\d )\b(?:feet|foot|ft)\s?(?:[.]|dot|point)\s?(?:inches|inch|ins|in)\b", re.IGNORECASE
)
"""Words that say that the point stands between feet and inches."""
_SUBJECT = r"(?:dims?|dimensions?|measurements?|measures|numbers|nos?|figures|sizes|lengths|everything|all)"
_SMALL = (
    r"(?:dims?|dimensions?|measurements?|numbers|nos?|figures|sizes|lengths|are|is|in|given|taken|the|[.:=,])"
)
ALL_INCHES = re.compile(rf"\b{_SUBJECT}\b[\s.:=,]*(?:{_SMALL}\s*)*\b(?:inches|ins)\b(?! and)", re.IGNORECASE)
"""Words that say that every number is in inches."""
POINTED = re.compile(r"(?<![\d.])(\d{1,3})\.(\d{1,2})(?![\d.])")
"""A number with a point and one or two figures behind it."""
GAP = re.compile(r"(?<=[^\s.,;:!?])(?:[^\S\n]*\t[^\S\n]*|[ \u00a0]{2,})(?=\S)")
"""Blanks that may be the border of a cell."""
SPACED_DASH = re.compile(r"(?<=[\d\"'”’½¼¾])\s+[-–—]\s+(?=\d)")
"""A dash with blanks on both sides, between numbers."""
ROW_OF_NUMBERS = re.compile(r"\A\W*[A-Za-z/'’.-]+\s*:?\s+\d[\d'’′\"”-]*(?:\s+[-–—]\s+\d[\d'’′\"”-]*)+\s*\Z")
"""A word and nothing but numbers with spaced dashes between them: `o/h  14 - 20`."""
SPACED_SLASH = re.compile(r"(?:(?<=['′’-]\d)|(?<=['′’-]\d\d))\s+/\s+(?=\d)")
"""A slash with blanks on both sides, behind feet and inches."""
BLANKS = re.compile(r"(?<=\S)[^\S\n]+(?=\S)")
"""Any blanks between words. Where a line has wide ones throughout, they part nothing."""
WIDE_GAP = 4
"""So many blanks [characters] part two cells though the line has no others."""
FEWEST_GAPS = 2
"""From so many gaps on, a line sets its words out in cells."""
_INCHES = 12


@dataclass(frozen=True, slots=True)
class NumberStyle:
    """How the note's bare numbers are written: with a point between feet and inches, or all in inches.

    `sides` are the short words that name sides of the house in this note, and are no units.
    """

    feet_dot_inches: bool = False
    inches: bool = False
    contradicted: bool = False
    sides: frozenset[str] = frozenset()

    def rewrite(self, text: str) -> str:
        """A line as the number reader is to see it; places are kept.

        >>> NumberStyle(feet_dot_inches=True).rewrite("UP F  36.10  .032 alu")
        'UP F  36-10  .032 alu'
        """
        if self.sides:
            text = without_sides(text, self.sides)
        return POINTED.sub(r"\1-\2", text) if self.feet_dot_inches else text

    def apply(self, founds: list[Found]) -> list[Found]:
        """Bare numbers too large to count anything, as inches where the note says that all are."""
        if self.contradicted:
            founds = [_doubted(found) for found in founds]
        if self.feet_dot_inches:
            founds = [_feet_and_inches(found) for found in founds]
        return [_in_inches(found) for found in founds] if self.inches else founds


def _doubted(found: Found) -> Found:
    if found.kind != "bare" or len(found.amounts) != 1 or found.amounts[0].shape != "decimal":
        return found
    return replace(found, doubts=(*found.doubts, "a point between feet and inches, as the note says?"))


def _feet_and_inches(found: Found) -> Found:
    if found.kind != "bare" or len(found.amounts) != len(("feet", "inches")):
        return found
    first, *rest = found.amounts
    if rest[0].joint != "-" or rest[0].value >= _INCHES:
        return found
    return replace(found, kind="length", amounts=(replace(first, unit="foot"), replace(rest[0], unit="inch")))


def _in_inches(found: Found) -> Found:
    if found.kind != "bare" or len(found.amounts) != 1 or found.amounts[0].value <= _INCHES:
        return found
    return replace(found, kind="length", amounts=(replace(found.amounts[0], unit="inch"),))


def number_style(texts: Sequence[str]) -> NumberStyle:
    """What the note's own words say of its numbers.

    >>> number_style(["Spruce & 3rd   job 1187    ft.in", "UP F 36.10 e/e"]).feet_dot_inches
    True
    """
    whole = "\n".join(texts)
    says_dot = FEET_DOT_INCHES.search(whole) is not None
    fits = all(int(match[2]) < _INCHES for match in POINTED.finditer(whole))
    inches = any(ALL_INCHES.search(text) for text in texts)
    contradicted = says_dot and not fits
    return NumberStyle(says_dot and fits, inches, contradicted, sides_cut_short(texts))


def cell_borders(text: str) -> list[tuple[int, int]]:
    """Where a line has blanks between its cells: two or more in a row, in a line that uses them so.

    >>> cell_borders("BK   46 0    w/f 14   8 11 S")
    [(2, 5), (9, 13), (19, 22)]
    >>> cell_borders("front 42  6 osc")
    []
    """
    between = _between_numbers(text)
    if "  " not in text and "\t" not in text and "\u00a0" not in text:
        return between
    usual = _usual_blank([len(match.group()) for match in BLANKS.finditer(text)])
    gaps = [
        (start, end)
        for start, end in (match.span() for match in GAP.finditer(text))
        if end - start > usual or "\t" in text[start:end]
    ]
    if len(gaps) < FEWEST_GAPS:
        gaps = [(start, end) for start, end in gaps if end - start >= WIDE_GAP or "\t" in text[start:end]]
    return sorted(gaps + between)


def _usual_blank(widths: list[int]) -> int:
    """How wide the blanks between the words of a line are that part no cells.

    Where all are of one width, or doubled, the narrowest is the usual one; in a line of wide and uneven
    blanks each is a border.
    """
    narrowest = min(widths, default=1)
    doubled = narrowest == len("  ") and all(width % narrowest == 0 for width in widths)
    return narrowest if doubled or len(set(widths)) == 1 else 1


def _between_numbers(text: str) -> list[tuple[int, int]]:
    """`18 - 18 - 22`, `9'0 / 9'6`: marks that part numbers, where a line uses them so.

    >>> _between_numbers("dn 9-2 - 9-6 - 10-1")
    [(6, 9), (12, 15)]
    """
    dashes = [match.span() for match in SPACED_DASH.finditer(text)]
    slashes = [match.span() for match in SPACED_SLASH.finditer(text)]
    if len(dashes) < FEWEST_GAPS and not (dashes and _is_row(text, dashes[0][1])):
        dashes = []
    return dashes + slashes


def _is_row(text: str, behind: int) -> bool:
    """Whether a line is a word with two values: the second is no inches of the first, or has its own feet."""
    second = re.match(r"(\d+)([-'’′]?)", text[behind:])
    large = second is not None and (int(second[1]) >= _INCHES or second[2] != "")
    return large and ROW_OF_NUMBERS.match(text) is not None


def parted_cells(text: str, borders: list[tuple[int, int]]) -> str:
    """The text with a stop in each border between cells, so that no number joins another across it."""
    for start, end in borders:
        text = text[:start] + ";" + " " * (end - start - 1) + text[end:]
    return text
