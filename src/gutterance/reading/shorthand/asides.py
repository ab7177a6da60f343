"""Lines of a shorthand note that measure nothing: `!dog W  gate lk'd`, `SR glass!! no ladr`."""

from __future__ import annotations

import re
from itertools import pairwise
from typing import TYPE_CHECKING

from gutterance.reading.shorthand.names import read_name

if TYPE_CHECKING:
    from gutterance.reading.discourse import Walk
    from gutterance.reading.items import Line
    from gutterance.reading.places import PlaceName
    from gutterance.reading.shorthand.finding import Found
    from gutterance.reading.shorthand.tokens import Token
    from gutterance.sheet.values import RemarkKind

PART = re.compile(r"(?:(?!\s{2,}).)+")
"""What wide blanks part."""
TELLS = re.compile(r"\A\W*[!*⚠]|!!|[!⚠]\s*\Z")
SCRAPS = re.compile(
    r"\b(?:glass|elec\w*|wires?|pwr|power|bees?|snakes?|wasps?|no ladr|rott?e?n?|soft|split|crack\w*|punky"
    r"|spongy|gate|lk'?d|locked|home (?:aft|b4|after|before)|park\w*|scaff\w*|lane|ring|ph|tel|call|te?xt"
    r"|own(?:er|\.)?|cust|bring|spare)\b",
    re.IGNORECASE,
)
"""Words that make a scrap of a line a remark, beside those of the lexicon."""
OF_THE_JOB = frozenset({"colour", "material", "profile"})
"""Words that may say something of the job itself."""


BEFORE_A_NUMBER = frozenset({"run", "#", "no", "along", "on", "at", "@", "by", "nr", "over", "of"})
"""Words before a number that names a run."""


def hear_aside(line: Line, tokens: list[Token], walk: Walk, found: Found) -> bool:
    """Take a line that tells of no measure as remarks; False where it may measure something."""
    if any(item.kind in OF_THE_JOB and "short for" not in item.marks for item in line.items):
        return False
    marked = TELLS.search(line.text) is not None
    told = SCRAPS.search(line.text) is not None or (
        any(item.kind == "remark" for item in line.items) and _about(tokens, found) is not None
    )
    if not marked and not told and not _says_nothing_measured(tokens, found):
        return False
    if _measures(tokens, found):
        return False
    for match in PART.finditer(line.text):
        inside = [token for token in tokens if match.start() <= token.start < match.end()]
        kind: RemarkKind = "hazard" if marked else "other"
        walk.remark(line, match.start(), match.end(), kind, _about(inside, found))
    return True


def _says_nothing_measured(tokens: list[Token], found: Found) -> bool:
    """`S/r: deck not blt yet`: no number, and more unknown words than known ones."""
    words = [token for token in tokens if token.kind == "word" and token.text[0].isalpha()]
    unknown = [token for token in words if not found.context.meanings.of(token.text)]
    return not any(token.kind in ("number", "size") for token in tokens) and len(unknown) * 2 >= max(
        len(words), 2
    )


def _measures(tokens: list[Token], found: Found) -> bool:
    """Whether a sign for a measure stands against a number."""
    for one, two in pairwise(tokens):
        slots = found.context.meanings.of(one.text)
        if two.is_number and "cue" in slots and slots["cue"].why is None and len(one.text) > 1:
            return True
    return False


def _about(tokens: list[Token], found: Found) -> PlaceName | None:
    """The run that a scrap names: the first that the note tells of, a single letter only at its ends."""
    names = {run.name: run for run in found.rows.runs}
    context = found.context
    words = [token for token in tokens if token.kind != "sign"]
    for at, token in enumerate(tokens):
        if at and tokens[at - 1].glued and tokens[at].glued and tokens[at - 1].kind == "word":
            continue
        named = read_name(tokens, at, context.meanings, numbered=context.numbered, lettered=context.lettered)
        if named is None:
            continue
        if token.digits is not None and not (at and tokens[at - 1].text.lower() in BEFORE_A_NUMBER):
            continue  # `home aft 6`
        edge = token in (words[0], words[-1]) if words else True
        if len(token.text) == 1 and not edge:
            continue
        if named[0] in names:
            return named[0]
    return None
