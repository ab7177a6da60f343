"""Lines of a shorthand note that measure nothing: `!dog W  gate lk'd`, `SR glass!! no ladr`, `elec fence along 2`."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from gutterance.reading.shorthand.names import read_name

if TYPE_CHECKING:
    from collections.abc import Mapping

    from gutterance.reading.discourse import Walk
    from gutterance.reading.items import Line
    from gutterance.reading.lexicon import Term
    from gutterance.reading.places import PlaceName
    from gutterance.reading.shorthand.finding import Found
    from gutterance.reading.shorthand.tokens import Token

PART = re.compile(r"(?:(?!\s{2,}).)+")
"""What wide blanks part."""
TELLS = re.compile(r"\A\W*[!*⚠]|!!|[!⚠]\s*\Z")
HAZARDS = re.compile(r"\b(?:glass|fence elec|elec\w*|wires?|pwr|power|bees?|snakes?|wasps?|no ladr|no ladder)\b", re.IGNORECASE)
"""Words by which a scrap of a line warns, beside those of the lexicon."""
ACCESS = re.compile(r"\b(?:gate|lk'?d|locked|key|home (?:aft|b4|after|before)|park\w*|scaff\w*|lane)\b", re.IGNORECASE)
CUSTOMER = re.compile(r"\b(?:ring|ph|tel|call|txt|text|own(?:er|\.)?|cust)\b", re.IGNORECASE)
REPAIR = re.compile(r"\b(?:rott?e?n?|soft|split|crack\w*|punky|bad|spongy|gone)\b", re.IGNORECASE)
MATERIALS = re.compile(r"\b(?:bring|spare|extra|load)\b", re.IGNORECASE)
KINDS = (
    ("hazard", HAZARDS), ("repair", REPAIR), ("materials", MATERIALS), ("access", ACCESS), ("customer", CUSTOMER),
)  # fmt: skip
OF_THE_JOB = frozenset({"colour", "material", "profile"})
"""Words that may say something of the job itself."""


def hear_aside(line: Line, tokens: list[Token], walk: Walk, found: Found, terms: Mapping[str, Term]) -> bool:
    """Take a line that tells of no measure as remarks; False where it may measure something."""
    if any(item.kind in OF_THE_JOB for item in line.items):
        return False
    kinds = [kind_of(match.group(), terms) for match in PART.finditer(line.text)]
    marked = TELLS.search(line.text) is not None
    own = any(pattern.search(line.text) for _, pattern in KINDS)
    if not own and not marked and _about(tokens, found) is None:
        kinds = [None for _ in kinds]
    if not marked and not any(kinds) and not _says_nothing_measured(tokens, found):
        return False
    if _measures(tokens, found):
        return False
    last: str | None = None
    for match, kind in zip(list(PART.finditer(line.text)), kinds, strict=True):
        kind = kind or ("hazard" if marked else last or "other")
        last = kind
        inside = [token for token in tokens if match.start() <= token.start < match.end()]
        walk.remark(line, match.start(), match.end(), kind, _about(inside, found))
    return True


def _says_nothing_measured(tokens: list[Token], found: Found) -> bool:
    """`S/r: deck not blt yet`: no number, and more unknown words than known ones."""
    words = [token for token in tokens if token.kind == "word"]
    unknown = [token for token in words if not found.context.meanings.of(token.text)]
    return not any(token.kind in ("number", "size") for token in tokens) and len(unknown) * 2 >= max(len(words), 2)


def _measures(tokens: list[Token], found: Found) -> bool:
    """Whether a sign for a measure stands against a number."""
    for one, two in zip(tokens, tokens[1:], strict=False):
        slots = found.context.meanings.of(one.text)
        if two.is_number and "cue" in slots and slots["cue"].why is None and len(one.text) > 1:
            return True
    return False


def kind_of(text: str, terms: Mapping[str, Term]) -> str | None:
    """What kind of remark the words of a scrap make, or None."""
    for kind, pattern in KINDS:
        if pattern.search(text):
            return kind
    for word in re.findall(r"[a-z][a-z'’]+", text.lower()):
        term = terms.get(word)
        if term is not None and term.concept == "remark":
            return term.value
    return None


def _about(tokens: list[Token], found: Found) -> PlaceName | None:
    """The run that a scrap names: the first that the note tells of, a single letter only at its ends."""
    names = {run.name: run for run in found.rows.runs}
    context = found.context
    words = [token for token in tokens if token.kind != "sign"]
    for at, token in enumerate(tokens):
        if at and tokens[at - 1].glued and tokens[at].glued and tokens[at - 1].kind == "word":
            continue
        named = read_name(
            tokens, at, context.meanings, numbered=context.numbered, lettered=context.lettered
        )
        if named is None:
            continue
        edge = token in (words[0], words[-1]) if words else True
        if len(token.text) == 1 and not edge:
            continue
        if named[0] in names:
            return named[0]
    return None
