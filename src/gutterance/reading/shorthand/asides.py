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
MEASURED = frozenset({"cue", "ending"})


def hear_aside(line: Line, tokens: list[Token], walk: Walk, found: Found, terms: Mapping[str, Term]) -> bool:
    """Take a line that tells of no measure as remarks; False where it may measure something."""
    kinds = [_kind(match.group(), terms) for match in PART.finditer(line.text)]
    marked = TELLS.search(line.text) is not None
    if not marked and not any(kinds):
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


def _measures(tokens: list[Token], found: Found) -> bool:
    """Whether a sign for a measure stands against a number."""
    for one, two in zip(tokens, tokens[1:], strict=False):
        slots = found.context.meanings.of(one.text)
        if two.is_number and "cue" in slots and slots["cue"].why is None and len(one.text) > 1:
            return True
    return False


def _kind(text: str, terms: Mapping[str, Term]) -> str | None:
    for kind, pattern in (
        ("hazard", HAZARDS), ("repair", REPAIR), ("materials", MATERIALS), ("access", ACCESS), ("customer", CUSTOMER),
    ):  # fmt: skip
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
