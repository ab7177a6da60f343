"""Dots and lines to write on that touch what was written on them: `Length: ..24' 7"..`, `height __8-11__`.

They are blanked out sign for sign, so that every place in a line stays true and no dot is taken for a decimal
point. Dots between a label and its answer, with blanks around them, are left to the reader of forms.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

FEWEST = 2
"""From so many answers written on dots or lines on, a note has such dots and lines."""
BEFORE = re.compile(r"(?<![\w.'\"”’)])(?P<leader>\.{2,}|_{2,})(?=[\w$£€'\"“(\[.]*\w)")
"""Dots or a line right before an answer."""
BEHIND = re.compile(r"(?<=[\w'\"”’)\].%°?])(?P<leader>\.{2,}|_{2,})(?=\s|\Z)")
"""Dots or a line right behind one."""


def without_leaders(lines: Sequence[str]) -> Sequence[str]:
    """The lines with dots and lines that touch an answer as blanks; as given where there are too few.

    >>> without_leaders(['Side: ..front..   Length: ..24\\' 7"..'])
    ['Side:   front     Length:   24\\' 7"  ']
    >>> without_leaders(["front is... 24 foot", "drop left..."])
    ['front is... 24 foot', 'drop left...']
    """
    if sum(len(BEFORE.findall(text)) for text in lines if ".." in text or "__" in text) < FEWEST:
        return lines
    return [BEHIND.sub(_blank, BEFORE.sub(_blank, text)) for text in lines]


def _blank(match: re.Match[str]) -> str:
    return " " * len(match.group())
