"""The address of a job told in sentences: it stands within one, and no greeting is a name."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from gutterance.reading.titles import ADDRESS, HOUSES, STREETS

if TYPE_CHECKING:
    from gutterance.reading.discourse import Walk
    from gutterance.reading.items import Line

GREETING = re.compile(
    r"\A\s*(?:dear|hi|hiya|hello|hey|good (?:morning|afternoon|evening|day)|morning|afternoon"
    r"|evening|greetings)\b",
    re.IGNORECASE,
)
"""How a letter opens."""
BEFORE_ADDRESS = r"(?:for|at|of|to|about|is|on|regarding|concerning|called|job|house|cottage|re)"
"""Words before an address within a sentence."""
WITHIN = re.compile(
    rf"\b{BEFORE_ADDRESS}[,:]? (?:(?:number|no\.?) )?(?=\d{{1,5}}[A-Da-d]? [A-Z])", re.IGNORECASE
)
"""Where an address with its number begins within a sentence."""
STREET = re.compile(
    rf"\b{BEFORE_ADDRESS} (?P<title>(?:The )?(?:[A-Z][\w'’]+ ){{1,3}}(?:{STREETS.title()}|{HOUSES})\b"
    r"(?:, (?:[A-Z][\w'’]+ ?){1,3}(?=[,.;]))?)"
)
"""A street or a house by its name alone."""


def without_greetings(lines: list[Line]) -> list[Line]:
    """The lines of a letter but those that greet."""
    return [
        line
        for line in lines
        if not (GREETING.match(line.text) and len(line.text.split()) <= MOST_IN_GREETING)
    ]


NUMBERED = re.compile(
    r"\d{1,5}[A-Da-d]? (?:[A-Z][\w'’]+ )?[A-Z][\w'’]+ [A-Z][\w'’]+|\d{1,5}[A-Da-d]? [A-Z][\w'’]+ [A-Z][\w'’]+"
)
"""A number and two or three names, with no word for a street."""
MOST_IN_GREETING = 6
"""A line that opens as a greeting does and has more words says more."""


def title_in_sentences(lines: list[Line], walk: Walk) -> None:
    """Set the title from an address within a sentence, if there is one."""
    for line in lines:
        for opening in WITHIN.finditer(line.text):
            match = ADDRESS.match(line.text, opening.end())
            if match is not None and match.group().split()[-1][:1].isupper():
                _take(line, match.start(), match.end(), walk)
                return
    for line in lines:
        for opening in WITHIN.finditer(line.text):
            named = NUMBERED.match(line.text, opening.end())
            if named is not None:
                _take(line, named.start(), named.end(), walk)
                return
    for line in lines:
        match = STREET.search(line.text)
        if match is not None:
            _take(line, match.start("title"), match.end("title"), walk)
            return


def _take(line: Line, start: int, end: int, walk: Walk) -> None:
    source = line.source(start, end)
    walk.title, walk.title_source = source.text, source
    walk.use_source(source)
    line.items = [item for item in line.items if item.end <= source.start or item.start >= source.end]
