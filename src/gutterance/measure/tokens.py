"""A text cut into the pieces that number language is made of: numerals, words, marks, dashes, signs."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Literal

from gutterance.measure.vocabulary import Vocabulary, vocabulary

if TYPE_CHECKING:
    from collections.abc import Callable

TokenKind = Literal["number", "fraction sign", "symbol", "word", "mark", "dash", "sign"]

VULGAR = "\u00bc-\u00be\u2150-\u215e\u2189"
"""Characters that are a whole fraction: ¼ ½ ¾ ⅓ ⅞ and their kind."""
SYMBOLS = (
    "\u00b2\u00b3\u00b9\u2070\u2074-\u2079\u2080-\u2089\u2160-\u2188\u2460-\u249b\u24ea-\u24ff\u2776-\u2793"
)
"""Raised, lowered, circled and Roman numerals: numbers, but never lengths."""
FEET_MARKS = "'\u2032\u2019\u2018\u00b4\u02b9\u02bc\uff07`"
INCH_MARKS = '"\u2033\u201d\u201c\u02ba\uff02\u201e'
DASHES = "-\u2010\u2011\u2012\u2013\u2014\u2212"
ELISION = r"['\u2019](?:[sSdDtTmM]|ll|LL|re|RE|ve|VE|clock|Clock|CLOCK)(?![^\W_])"
"""What may follow an apostrophe within a word: it's, don't, o'clock. Any other apostrophe is a mark."""
MOST_DIGITS = 40
"""A longer row of digits is a code, not a number."""

_TOKEN = re.compile(
    rf"(?P<number>(?<!\w)\.\d+|\d+(?:[.,]\d+)*)"
    rf"|(?P<word>[^\W\d_{VULGAR}{SYMBOLS}]+(?:{ELISION})?)"
    rf"|(?P<vulgar>[{VULGAR}])"
    rf"|(?P<symbol>[{SYMBOLS}])"
    rf"|(?P<inch>''|\u2019\u2019|\u2032\u2032|\u00b4\u00b4|[{INCH_MARKS}])"
    rf"|(?P<foot>[{FEET_MARKS}])"
    rf"|(?P<dash>[{DASHES}])"
    r"|(?P<sign>[\n\t]|\S)"
)
_THOUSANDS = re.compile(r"\d{1,3}(?:,\d{3})+(?:\.\d+)?\Z")
_EUROPEAN = re.compile(r"(?:\d{1,3}(?:\.\d{3}){2,}|\d{1,3}\.\d{3}(?=,))(?:,\d+)?\Z")
_DECIMAL = re.compile(r"\d*\.\d+\Z")
_COMMA = re.compile(r"\d+,\d{1,2}\Z")
_PIECES = re.compile(r"\d+|[.,]")


_AFTER_FEET = frozenset(DASHES + FEET_MARKS)


@dataclass(slots=True)
class Token:
    """One piece of a text. `word` is in lower case, apostrophes plain; `cat` says what sort of word it is."""

    kind: TokenKind
    start: int
    end: int
    word: str
    cat: str = ""
    value: Fraction | None = None
    number: int = 0
    unit: str = ""

    @property
    def is_numeral(self) -> bool:
        """Whether this piece alone already is a number somebody must account for."""
        return self.kind in ("number", "fraction sign", "symbol") or self.cat in NUMERAL_CATS


NUMERAL_CATS = frozenset({"digit", "teen", "ten", "scale", "part"})
"""Words that count as numerals wherever they stand: cardinals, scales, and half, quarter, eighths."""

ALWAYS_PARTS = frozenset(
    ["half", "halves", "halfs", "quarter", "quarters", "eighths", "sixteenths", "eigths"]
)  # third, fourth, eighth alone are mostly ordinals


def _cat_table(words: Vocabulary) -> dict[str, tuple[str, int]]:
    table: dict[str, tuple[str, int]] = {}
    for word, number in words.ordinals.items():
        table[word] = ("ordinal", number)
    for word, number in words.fractions.items():
        table[word] = ("part" if word in ALWAYS_PARTS else "ordinal", number)
    for word, number in words.cardinals.items():
        table[word] = ("digit" if number < 10 else "teen" if number < 20 else "ten", number)
    for word, number in words.scales.items():
        table[word] = ("scale", number)
    for cat in ("and", "point", "oh", "article", "of", "filler"):
        for word in words.small[cat]:
            table[word] = (cat, 0)
    return table


class Lexer:
    """Cuts texts into tokens. `allow` are homophones (`to`, `for`) that are to be read as numbers."""

    def __init__(self, words: Vocabulary, allow: frozenset[str] = frozenset()) -> None:
        self.words = words
        self._cats = _cat_table(words)
        for word in allow:
            if word in words.homophones:
                number = words.homophones[word]
                self._cats[word] = ("digit" if number < 10 else "teen", number)

    def __call__(self, text: str) -> list[Token]:
        """The tokens of a text, in order. Linear in its length."""
        tokens: list[Token] = []
        add = tokens.append
        cats, units, phrases = self._cats, self.words.units, self.words.not_numbers
        check: list[int] = []
        for match in _TOKEN.finditer(text):
            group = match.lastgroup
            start, end = match.span()
            if group == "word":
                word = match.group().lower().replace("\u2019", "'")
                cat, number = cats.get(word, ("", 0))
                if (cat in NUMERAL_CATS and (word == "one" or word in phrases)) or word in phrases:
                    check.append(len(tokens))
                add(Token("word", start, end, word, cat, None, number, units.get(word, "")))
            elif group == "number":
                listed = start > 0 and text[start - 1] in _AFTER_FEET and _is_listed(text, end)
                _add_number(match.group(), start, end, add, listed)
            elif group == "vulgar":
                value = Fraction(unicodedata.numeric(match.group())).limit_denominator(1000)
                add(Token("fraction sign", start, end, match.group(), "", value))
            elif group == "symbol":
                add(Token("symbol", start, end, match.group()))
            elif group in ("inch", "foot"):
                add(Token("mark", start, end, match.group(), "", None, 0, group))
            elif group == "dash":
                add(Token("dash", start, end, "-"))
            else:
                add(Token("sign", start, end, match.group()))
        for at in check:
            self._drop_what_is_no_number(tokens, at)
        return tokens

    def _drop_what_is_no_number(self, tokens: list[Token], at: int) -> None:
        if tokens[at].word == "half" and _ends_a_mixed_number(tokens, at):
            return
        words = [token.word for token in tokens[at : at + 5] if token.kind != "dash"]
        for phrase in self.words.not_numbers.get(tokens[at].word, ()):
            if tuple(words[: len(phrase)]) == phrase:
                for token in tokens[at : at + len(phrase) + 1]:
                    if token.cat in NUMERAL_CATS:
                        token.cat = "no number"
                        break
                return
        if tokens[at].word == "one":
            before = [token.word if token.kind == "word" else "" for token in tokens[max(0, at - 2) : at]]
            after = [_role(token) for token in tokens[at + 1 : at + 3]]
            if is_pronoun(self.words, before, after) or (
                before and before[-1] in self.words.pronoun["place"] and _whole_metric_number(tokens, at + 1)
            ):
                tokens[at].cat = "pronoun"


def _ends_a_mixed_number(tokens: list[Token], at: int) -> bool:
    """`4 and a half the same as the back`: the half of a number, but for `4 and a half round`."""
    before = tokens[max(0, at - 3) : at]
    return (
        len(before) == 3
        and before[0].is_numeral
        and (before[1].word, before[2].word) == ("and", "a")
        and not (at + 1 < len(tokens) and tokens[at + 1].word in ("round", "rounds"))
    )


def _whole_metric_number(tokens: list[Token], at: int) -> bool:
    """Whether `two four hundred`, `two four fifty` stand there: millimetres with no figure missing."""
    cats = [token.cat for token in tokens[at : at + 3]]
    if cats not in (["digit", "digit", "scale"], ["digit", "digit", "ten"]):
        return False
    return cats[2] == "ten" or tokens[at + 2].number == 100


def _role(token: Token) -> str:
    """What a token after `one` is to it: `number`, `unit`, or the word itself."""
    if token.kind in ("number", "fraction sign", "symbol"):
        return "<figures>"
    if token.cat in ("digit", "teen", "ten", "part"):
        return "<number>"
    if token.cat in ("scale", "point", "ordinal") or (token.unit and token.word != "in"):
        return "<unit>"
    return token.word if token.kind == "word" or token.word in ("/", "⁄") else ""


def is_pronoun(words: Vocabulary, before: list[str], after: list[str]) -> bool:
    """Whether `one` between these words stands for a thing (`the left one`), not for a number.

    `before` holds up to two words to the left, `after` up to two to the right, where `<number>` (in words),
    `<figures>` and `<unit>` stand for those.
    """
    following = after[0] if after else ""
    if following == "<figures>" and (len(after) < 2 or after[1] != "/"):
        return True  # one in the centre and one 10" from the end
    if following == "<unit>":
        return False
    if following == "and" and len(after) > 1 and after[1] in ("a", "an", "<number>", "<figures>"):
        return bool(before) and before[-1] in words.pronoun["before"] and after[1] not in ("a", "an")
    if following in words.pronoun["after"]:
        return True
    if not before:
        return False
    if before[-1] in words.pronoun["before"]:
        return True
    if before[-1] in words.pronoun["place"]:
        # "the left one", "left one 24"; but "left one twenty six" may be 126
        determined = len(before) > 1 and before[0] in words.pronoun["determiner"]
        return determined or following == "<figures>" or following in words.pronoun["verb"]
    if following in ("<number>", "and"):
        return False
    if len(before) > 1 and before[0] in words.pronoun["determiner"]:
        return True  # the good one
    return before[-1] in words.pronoun["determiner"]


def _is_listed(text: str, end: int) -> bool:
    """Whether the number that ends here goes on with a dash or mark: the 6,28 of 42-6,28-3 is two numbers."""
    return end < len(text) and text[end] in _AFTER_FEET


def _add_number(raw: str, start: int, end: int, push: Callable[[Token], None], listed: bool) -> None:
    if len(raw) > MOST_DIGITS:
        for match in _PIECES.finditer(raw):
            piece = match.group()
            where = start + match.start()
            if piece in ".,":
                push(Token("sign", where, where + 1, piece))
            elif len(piece) > MOST_DIGITS:
                push(Token("number", where, where + len(piece), piece, "long"))
            else:
                push(Token("number", where, where + len(piece), piece, "whole", Fraction(int(piece))))
        return
    if raw.isdecimal():
        push(Token("number", start, end, raw, "whole", Fraction(int(raw))))
    elif _THOUSANDS.match(raw):
        plain = raw.replace(",", "")
        push(Token("number", start, end, raw, "whole" if "." not in plain else "decimal", _fraction(plain)))
    elif _DECIMAL.match(raw):
        push(Token("number", start, end, raw, "decimal", _fraction(raw)))
    elif _COMMA.match(raw) and not listed:
        push(Token("number", start, end, raw, "comma", _fraction(raw.replace(",", "."))))
    elif _EUROPEAN.match(raw):
        push(Token("number", start, end, raw, "decimal", _fraction(raw.replace(".", "").replace(",", "."))))
    else:
        for match in _PIECES.finditer(raw):
            where = start + match.start()
            piece = match.group()
            if piece in ".,":
                push(Token("sign", where, where + 1, piece))
            else:
                push(Token("number", where, where + len(piece), piece, "whole", Fraction(int(piece))))


def _fraction(plain: str) -> Fraction:
    whole, _, places = plain.partition(".")
    return Fraction(int(whole or "0")) + (Fraction(int(places), 10 ** len(places)) if places else 0)


_LEXERS: dict[frozenset[str], Lexer] = {}


def tokens_of(text: str, allow: frozenset[str] = frozenset()) -> list[Token]:
    """The tokens of a text with the package's own vocabulary."""
    lexer = _LEXERS.get(allow)
    if lexer is None:
        lexer = _LEXERS[allow] = Lexer(vocabulary(), allow)
    return lexer(text)
