"""Where a scan stands in a text, and the small questions its rules ask."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from gutterance.measure.amounts import Amount, glued, read_amount

if TYPE_CHECKING:
    from gutterance.measure.tokens import Token
    from gutterance.measure.vocabulary import Vocabulary

_QUOTE_REACH = 16


@dataclass(slots=True)
class Scan:
    """A text's tokens, and how far to the left a rule may reach (`floor`: the first token not yet taken)."""

    text: str
    tokens: list[Token]
    words: Vocabulary
    floor: int = 0
    _amounts: dict[int, tuple[Amount, int] | None] = field(default_factory=dict)

    def word(self, at: int) -> str:
        """The word or sign at a token, "" outside the text."""
        return self.tokens[at].word if 0 <= at < len(self.tokens) else ""

    def back(self, at: int) -> str:
        """As `word`, but only as far back as is not yet taken."""
        return self.tokens[at].word if self.floor <= at < len(self.tokens) else ""

    def is_in(self, at: int, group: str) -> bool:
        """Whether the word at a token is in a list of the table [other]."""
        return self.word(at) in self.words.other[group]

    def start_of_line(self, at: int) -> int:
        """Where the line begins that character `at` is on, looking no further back than a word or two."""
        return self.text.rfind("\n", max(0, at - 40), at) + 1

    def glued(self, at: int) -> bool:
        """Whether token `at` touches the one before it."""
        return at < len(self.tokens) and glued(self.tokens, at)

    def amount(self, at: int) -> tuple[Amount, int] | None:
        """The numeral at a token, if one starts there."""
        if not 0 <= at < len(self.tokens):
            return None
        if at not in self._amounts:
            self._amounts[at] = read_amount(self.tokens, at)
        return self._amounts[at]

    def skip_dash(self, at: int) -> int:
        """The token after a dash, or the same token."""
        return at + 1 if at < len(self.tokens) and self.tokens[at].kind == "dash" else at

    def unit(self, at: int, amount: Amount | None = None) -> tuple[str, int] | None:
        """The unit at token `at` and the token after it: a mark, a word, `-inch`, `of an inch`."""
        tokens = self.tokens
        if at >= len(tokens):
            return None
        token = tokens[at]
        if token.kind == "mark":
            if amount is not None and self._closes_a_quote(at, amount):
                return None
            if (
                token.unit == "foot"
                and at + 1 < len(tokens)
                and self.glued(at + 1)
                and tokens[at + 1].word == "s"
            ):
                return None
            return (token.unit, at + 1) if self._near(at) else None
        if (
            token.kind == "dash"
            and at + 1 < len(tokens)
            and tokens[at + 1].unit
            and tokens[at + 1].word != "in"
        ):
            return tokens[at + 1].unit, at + 2
        if token.unit:
            if token.word == "in" and not self._in_is_inch(at):
                return None
            after = at + 1
            if (
                self.word(after) == "."
                and self.glued(after)
                and len(token.word) <= 3
                and self._dot_is_short(after)
            ):
                after += 1
            return token.unit, after
        if amount is not None and amount.shape in ("fraction", "mixed") and amount.value < 100:
            here = at
            if token.cat == "of":
                here += 1
            if here < len(tokens) and tokens[here].cat == "article":
                here += 1
            if here > at and here < len(tokens) and tokens[here].unit and len(tokens[here].word) > 2:
                return tokens[here].unit, here + 1
        return None

    def _dot_is_short(self, dot: int) -> bool:
        """Whether a dot after a short unit belongs to it, since a number follows and no new sentence."""
        after = dot + 1
        if after >= len(self.tokens):
            return False
        token = self.tokens[after]
        return token.kind in ("number", "fraction sign", "dash") or token.is_numeral or token.word == ","

    def _near(self, at: int) -> bool:
        return self.tokens[at].start - self.tokens[at - 1].end <= 1

    def _closes_a_quote(self, at: int, amount: Amount) -> bool:
        mark = self.tokens[at].word
        here = amount.start - 1
        # back over the numbers before it, as in "42-6", but not far
        while here > max(0, amount.start - _QUOTE_REACH) and self.text[here] in "0123456789 -/.½¼¾":
            here -= 1
        if here < 0 or (here and self.text[here - 1].isalnum()):
            return False
        return self.text[here] == mark or self.text[here] in "“„‘"

    def _in_is_inch(self, at: int) -> bool:
        after = self.word(at + 1)
        if (
            at + 1 < len(self.tokens)
            and self.tokens[at + 1].kind == "number"
            and _is_year(self.tokens[at + 1])
        ):
            return False  # 50,000 in 2020
        if after in self.words.other["not_inches"]:
            return False
        return not (after == "front" and self.word(at + 2) == "of")


def _is_year(token: Token) -> bool:
    return token.cat == "whole" and len(token.word) == 4 and token.word[:2] in ("19", "20")
