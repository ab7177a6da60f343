"""What a printed form has on its lines beside labels and answers: numbers, boxes to write in, references."""

from __future__ import annotations

import re
from itertools import pairwise
from typing import TYPE_CHECKING

from gutterance.reading.labels import known_label

if TYPE_CHECKING:
    from collections.abc import Sequence

LONGEST_LINE = 600
"""A longer line than this [characters] is no line of a form."""
FEWEST_LINES = 5
"""A form has so many lines at least that begin with one of those labels ..."""
MOST_BARS = 3
"""A line with so many bars is the row of a table."""
MARKUP = re.compile(r"\*\*|__(?=[A-Z][^_]*:__)|(?<=:)__(?=\s)|\A\s*[-*•]\s+(?=\S)|`")
"""Marks of type around words, and before the lines of a list."""
SIDE_WITH_COLON = re.compile(r"\b(?P<side>left|right|lh|rh|l|r)\s?:(?=\s*\d)", re.IGNORECASE)
QUESTION_AND_REPLY = re.compile(r"\W*Q\b.*\?\s+A\b")
ENUMERATOR = re.compile(
    r"\s*(?P<key>\(?(?:[A-Z]?\d{1,2}|[A-Z]|[a-z])(?P<mark>[.)]|:(?=\s))?)(?P<gap>\s+)(?=\S)"
)
"""`1.`, `(2)`, `A1  `, `b) `: what numbers the questions and parts of a form."""
TITLED_PART = re.compile(
    r"\s*(?P<key>(?:part|section)\s+[A-Z0-9]{1,2})\b[\s.:)–-]*(?=[A-Za-z])", re.IGNORECASE
)
"""`PART B   REAR ELEVATION`: a part of the form with its heading."""
OFFICE = re.compile(
    r"\W*(?:for\s+)?office\b(?:\W+use\b|\W+only\b|.*\b(?:deposit|crew|price|quoted?|invoice|bid|paid|ref|van|p\.?o\.?"
    r"|entered|approved|rec'?d|booked|signed)\b)",
    re.IGNORECASE,
)
"""What begins the line for the office, and is no office that has a gutter."""
REFERENCE = re.compile(
    r"(?:(?:see|as|per|same as|ditto|like)\s+)(?:(?:no|q|item|question|line|box)\b\.?\s*)?"
    r"(?P<key>[A-Z]\d{0,2}|\d{1,2})\b(?!\s*['’\"”/-])",
)
"""`as A1`, `see B`, `same as 7`: an answer that points to another."""
TAKEN = re.compile(
    r"\s*(?:-+>|→|⇒|=+>|\b(?:circled?|ringed|chosen|ticked|ans(?:wer)?)\s*[:=])\s*", re.IGNORECASE
)
"""What stands between the choices and the one taken."""
LINE_TO_WRITE_ON = re.compile(r"_{2,}")
BRACKETED = re.compile(r"\[\s*(?P<answer>(?![xX✓✔*vV_ ]?\s*\])[^\[\]]+?)\s*\]")
"""An answer in brackets, `[ 2x3 ]`: no box to tick."""
GUTTER_HEADING = re.compile(r"\W*(?:gutter(?:ing|s)?|eaves ?trough|trough|spouting)\W*\Z", re.IGNORECASE)
PIPE_HEADING = re.compile(
    r"\W*(?:down ?(?:pipe|spout)s?|leaders?|spouts?|rwps?|(?:rainwater |fall )?pipes?|conductors?)\W*\Z",
    re.IGNORECASE,
)
"""Headings that say what the sizes below them are of."""
LEANS_ON_HEADING = frozenset(
    {"size", "sz", "dia", "diameter", "how many", "qty", "quantity", "number", "no", "no off", "count"}
)
"""Labels that mean something only with what they are of."""


def without_marks(text: str) -> str:
    """A line without the marks of its type (`**Length:**`), and `L: 9' 4", R: 9' 1"` without its colons."""
    text = MARKUP.sub(lambda mark: " " * len(mark.group()), text)
    sides = list(SIDE_WITH_COLON.finditer(text))
    if len({side["side"].lower()[0] for side in sides}) > 1:
        for side in sides:
            text = f"{text[: side.end() - 1]} {text[side.end() :]}"
    return text


def numbered(text: str) -> bool:
    """Whether a line opens with the number of a question, with its mark."""
    match = ENUMERATOR.match(text)
    return match is not None and match["mark"] is not None


def answers_below(lines: Sequence[str]) -> bool:
    """Whether the questions of a form have their answers on the line below: `7. Length (mm)` / `9350`."""
    told = 0
    for line, below in pairwise(lines):
        match = ENUMERATOR.match(line)
        if match is None or not below.strip() or numbered(below):
            continue
        label = known_label(line[match.end() :].strip(" ?:"))
        told += label is not None and known_label(below.strip(" ?:")) is None
    return told >= FEWEST_LINES


def is_row(text: str) -> bool:
    """Whether bars or semicolons make a line the row of a table."""
    return max(text.count("|"), text.count(";")) >= MOST_BARS and text.count(":") < MOST_BARS


def numbers_a_question(match: re.Match[str], rest: str) -> bool:
    """Whether a number or letter at the start of a line is a question's, and no row's or run's own."""
    first = re.split(r"\s{2,}|\t|\.{3,}|:\s", rest)[0]
    label = known_label(first)
    letter = match["key"].strip("().:").isalpha()
    if letter and match["key"][0] == "Q":
        return False
    if letter:
        return match["mark"] is not None and (
            label.asks("run") if label is not None else re.fullmatch(r"[A-Za-z][^\d?]{2,}", first) is not None
        )
    if match["mark"] is None and len(match["gap"]) < 2:
        return False
    if match["key"][0].isalpha() and not re.match(r"[\d\W]", rest):
        return True  # `A4  Position of pipe`
    if label is not None:
        # `1   A, left   1 ft 3`: a row of a table
        return match["mark"] is not None or re.match(r"[A-Za-z]\W", first) is None
    return not re.search(r"\d", rest) or match["mark"] is not None


def has_choices(text: str) -> bool:
    """Whether there are several choices in a text."""
    return len([one for one in re.split(r"\s{2,}|[/|\]\[]", text) if one.strip()]) > 1


def line_to_write_on(line: re.Match[str]) -> str:
    """Blanks, as many, for a line that has words on it; a line with none stays."""
    text = line.string
    before, after = text[: line.start()].rstrip()[-1:], text[line.end() : line.end() + 1]
    if after.strip():
        return " " * len(line.group()) if before == ":" else f": {' ' * (len(line.group()) - 2)}"
    return " " * len(line.group()) if text[: line.start()][-1:].strip() else line.group()
