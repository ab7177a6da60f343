"""The name that a shorthand row opens with: `FR`, `GA-L`, `UP F`, `hse B`, `RE1`, `3`."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.reading.places import LR_SIDE, PlaceName

if TYPE_CHECKING:
    from gutterance.reading.shorthand.meanings import Meanings
    from gutterance.reading.shorthand.tokens import Token

JOINTS = frozenset({"-", "/", ".", ":", "–"})
MOST_PIECES = 9
MOST_NUMBERED = 24
"""A note numbers no more runs than this."""


def read_name(
    tokens: list[Token],
    at: int,
    meanings: Meanings,
    *,
    numbered: bool = False,
    lettered: bool = False,
    storeys: bool = False,
) -> tuple[PlaceName, int] | None:
    """The run named from a token on, and the token behind the name; None where none is.

    `numbered` and `lettered` say that the note's runs go by numbers or by letters, `storeys` that it tells
    the upper ones from the lower.
    """
    first = tokens[at] if at < len(tokens) else None
    if first is None:
        return None
    if numbered and first.digits is not None and 1 <= first.digits <= MOST_NUMBERED:
        return PlaceName(number=first.text), at + 1
    if lettered and len(first.text) == 1 and first.text.isalpha():
        return PlaceName(number=first.text.lower()), at + 1
    said: dict[str, str] = {}
    house = False
    place = at
    while place < len(tokens):
        joint = place > at and tokens[place].text in JOINTS and tokens[place].glued
        token = tokens[place + 1] if joint and place + 1 < len(tokens) else tokens[place]
        if place > at and ((joint and not token.glued) or (not joint and token.gap > 1)):
            break
        after = place + (2 if joint else 1)
        if place > at and not joint and len(token.text) == 1 and _against_number(tokens, after):
            break  # `Kit w3.2`: the sign of an end
        kind, value = _piece(
            token,
            meanings,
            said,
            first=place == at,
            storeys=storeys,
            next_named=_named(tokens, after, meanings),
        )
        if not kind or kind in said:
            break
        if kind == "house":
            house = True
        else:
            said[kind] = value
        place += 2 if joint else 1
    if not said and not (house and place == at + 1):
        return None
    if not said:
        return None
    if (
        place < len(tokens)
        and tokens[place].glued
        and (digits := tokens[place].digits) is not None
        and 1 <= digits <= MOST_PIECES
        and "direction" in said
        and not (place + 1 < len(tokens) and tokens[place + 1].glued and tokens[place + 1].text not in JOINTS)
    ):
        said["direction"] += f" {digits}"
        place += 1
    return PlaceName(said.get("storey"), said.get("part"), said.get("direction")), place


def _against_number(tokens: list[Token], at: int) -> bool:
    return at < len(tokens) and tokens[at].glued and tokens[at].kind == "number"


def _named(tokens: list[Token], at: int, meanings: Meanings) -> bool:
    """Whether a name goes on there: `L-F`."""
    if at < len(tokens) and tokens[at].text in JOINTS and tokens[at].glued:
        at += 1
    near = at < len(tokens) and tokens[at].gap <= 1
    return near and "name" in meanings.of(tokens[at].text)


def _piece(
    token: Token, meanings: Meanings, said: dict[str, str], *, first: bool, storeys: bool, next_named: bool
) -> tuple[str, str]:
    """What kind of piece of a name a token is, and its value; empty where it is none."""
    slots = meanings.of(token.text)
    if first and storeys and next_named and token.text.lower() in ("l", "g"):
        return "storey", "lower"  # `L-F` beside `U-F`
    if "quarter" in slots and first:
        return "direction", slots["quarter"].value
    if "name" not in slots:
        return "", ""
    kind, value = slots["name"].value.split(": ", 1)
    if kind == "direction" and value in LR_SIDE.values() and said.get("direction"):
        return "", ""
    return kind, value
