"""Plain text for paper: words from a note made harmless, lines kept inside the width, columns lined up."""

from __future__ import annotations

import re
import textwrap
import unicodedata
from fractions import Fraction
from typing import TYPE_CHECKING

from gutterance.measure.length import Length

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from gutterance.lists.models import Lists

WIDTH = 92
"""Characters in a line: letter and A4 paper both take them at a size read at arm's length."""
BLANK = "____"
_BENCH = 48
_WITHIN_LENGTH = re.compile(
    r"(?<=\d) (?=\d+/\d)|(?<=\d') (?=\d)|(?<=\d) (?=mm\b|in\b|ft\b|ft²|m²|gpm\b|l/s\b|%)"
)
_TENTH_MM = Fraction(1, 254)
_BARE_FRACTION = re.compile(r"' (?=\d+/)")


def harmless(text: str) -> str:
    """Words of a note for paper: one line, no control or direction signs, nothing else changed.

    >>> harmless("Front\\x1b[31m\\n42-6")
    'Front[31m 42-6'
    """
    kept = "".join(" " if one in "\t\n\r\v\f\u2028\u2029\x85" else one for one in text)
    return " ".join(
        "".join(one for one in kept if unicodedata.category(one) not in ("Cc", "Cf", "Cs")).split()
    )


def unbroken(text: str) -> str:
    """The same words, with spaces inside a length that no line may end at."""
    return _WITHIN_LENGTH.sub("\u00a0", text)


def wrapped(text: str, indent: str = "", hanging: str | None = None) -> list[str]:
    """The text in lines no wider than the paper, later ones indented by `hanging`. No length is ever broken.

    >>> wrapped("x" * 88 + " 9 7/16 left")[1]
    '9 7/16 left'
    """
    if not text.strip():
        return []
    later = indent if hanging is None else hanging
    lines = textwrap.wrap(
        unbroken(text), WIDTH, initial_indent=indent, subsequent_indent=later, break_on_hyphens=False
    )
    return [line.replace("\u00a0", " ") for line in lines]


def heading(title: str, name: str | None) -> list[str]:
    """A list's head: what it is, and of which job."""
    shown = harmless(name or "")
    line = f"{title}   {shown}" if shown else title
    return [*wrapped(line), "=" * min(WIDTH, max(len(title), min(len(line), WIDTH)))]


def tape(length: Length | None) -> str:
    """A length as a tape shows it, or a blank to fill in by hand.

    A fraction of an inch after feet gets its nought, so that nobody reads 27' 5/8" as 27' 5
    and something.

    >>> print(tape(Length(Fraction(2597, 8))))
    27' 0 5/8"
    """
    return BLANK if length is None else _BARE_FRACTION.sub("' 0 ", length.tape_text())


def cut(length: Length | None) -> str:
    """A cut: inches alone up to 4 ft, as it is measured on the bench; longer ones as a tape shows them."""
    return short(length) if length is not None and length.inches <= _BENCH else tape(length)


def rule(length: Length, lists: Lists) -> str:
    """A shop rule's short length in the list's own units; to a tenth of a millimetre on a metric list."""
    if lists.units == "metric":
        return Length(length.inches, "metric").rounded(_TENTH_MM).tape_text()
    return cut(length)


def sentence(text: str) -> str:
    """Words of a finding or a hold as a sentence with one full stop."""
    return harmless(text).rstrip(" .") + "."


def short(length: Length | None) -> str:
    """A short distance, in inches alone, or a blank."""
    return BLANK if length is None else length.inch_text()


def columns(rows: Iterable[Sequence[str]], indent: str = "", gap: int = 2) -> list[str]:
    """Rows with their columns lined up at the left. The last column is wrapped, never cut."""
    return [line for lines in column_rows(rows, indent, gap) for line in lines]


def column_rows(rows: Iterable[Sequence[str]], indent: str = "", gap: int = 2) -> list[list[str]]:
    """The same, the lines of each row by themselves: a row whose last column is wrapped has several."""
    table = [list(row) for row in rows]
    if not table:
        return []
    count = max(len(row) for row in table)
    widths = [max((len(row[i]) for row in table if i < len(row)), default=0) for i in range(count - 1)]
    out: list[list[str]] = []
    for row in table:
        head = indent
        for i, cell in enumerate(row[:-1]):
            head += cell.ljust(widths[i] + gap)
        lines = wrapped(row[-1], head, " " * len(head)) if len(head) < WIDTH - 12 else [head + row[-1]]
        out.append([line.rstrip() for line in lines] or [head.rstrip()])
    return out


def grid(cells: Sequence[str], indent: str = "", gap: int = 2) -> list[str]:
    """Cells in as many columns as the paper takes, read along the rows.

    >>> grid(["one", "two", "three"], "  ")
    ['  one    two    three']
    """
    if not cells:
        return []
    width = max(map(len, cells)) + gap
    across = max(1, (WIDTH - len(indent) + gap) // width)
    rows = [cells[at : at + across] for at in range(0, len(cells), across)]
    return [(indent + "".join(cell.ljust(width) for cell in row)).rstrip() for row in rows]


def page(*parts: Iterable[str]) -> str:
    """Lines to one text, no blanks at line ends, one newline at the end."""
    return "\n".join(line.rstrip() for part in parts for line in part).rstrip("\n") + "\n"
