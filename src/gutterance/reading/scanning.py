"""A line made ready for the number reader, and names that hold a number: `run one`, `Downpipe 2:`."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from gutterance.reading.items import Item

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from gutterance.reading.lexicon import Term

_ONE_TO_TWELVE = "one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve"
_BEHIND_A_LETTER = (
    rf"is|across|along|on|over|at|the|\d|twenty|thirty|forty|fifty|sixty|{_ONE_TO_TWELVE}|\w+teen"
)
STRIKES = re.compile(r"~~|(?<!\S)~(?=\S[^~]{0,40}~(?!\S))|(?<=\S)~(?!\S)")
"""Tildes that strike out what stands between them."""
IN_FROM = re.compile(r"(?:(?<=\d{3})|(?<=\b0\.\d)|(?<=\b0\.\d\d))\s+in(?=\s+(?:from|off)\b)", re.IGNORECASE)
"""The `in` of `300 in from the left` and `0.3 in from the left`, which is no inch."""
IN_SIDE = re.compile(r"(?<=[\w½¼¾])\s+in(?=\s+(?:side|cap|caps|corner|miter|mitre|meter)s?\b)", re.IGNORECASE)
"""The `in` of `2310 in side to out side`, which is half of `inside`, and no inch."""
DASHED_OFF = re.compile(r"(?<=\d\s)[-–—](?=\s+[a-z])", re.IGNORECASE)
"""The dash of `22'2 - caps`, which counts no caps."""
HALF_OF_A_SIDE = re.compile(
    r"(?:(?<=\bleft )|(?<=\bright )|(?<=\blt )|(?<=\brt )|(?<=\blh )|(?<=\brh )|(?<=\bother ))half\b"
    r"(?!\s*(?:round|rnd|inch))",
    re.IGNORECASE,
)
"""The half of `bk (rt half)`, which is no number."""
COMMA_PARTED = re.compile(r"(?<=\d),(?=\d{1,2}(?:-\d|['’′]))")
"""The comma of `16,9-0`, which is no point: what stands behind it has feet of its own."""
TIMES = re.compile(r"(?<=\d) (?=x[2-9]\b(?![\"'’”/]))", re.IGNORECASE)
"""The blank of `wf 18 x3`: how many times, and no size."""
COMMENTED = re.compile(r"\A#(?=\s+(?:\d{1,2}[A-Za-z]|\d{1,5}\s+[A-Z][a-z]+\s+[A-Z]))")
"""The sign before a line of comment: `# 5K white`, `# 4 Ashgrove Ct`."""
TRIPLE = re.compile(r"(?<![\d/-])(\d{1,2}(?:-\d{1,2}|['’′]\d{0,2}[\"”″]?))/(\d{1,2}[\"”″]?)/(?=[A-Za-z])")
"""`9-0/18/sb`: three answers about a pipe, and no fraction."""
BEFORE_A_PAIR = re.compile(r"(?<![\w./'’″\"-])(\d{1,2}) (?=\d{1,2}-\d{1,2}(?![\d-]|\s?[/¼½¾⅛⅜⅝⅞]| \d/))")
"""The blank of `wf 12 8-4`: no length has a number before its feet."""
YARD_OF_ANOTHER = re.compile(r"\byard(?=\s+(?:drain|basin|box|inlet|hydrant|light|side)\b)", re.IGNORECASE)
"""The yard of `12 yard drain`, which is no measure."""
SIDES_ONE = re.compile(
    r"\b((?:left|other|right|third)\s+)one(?=\s+(?:\d|(?:two|three|four|five|six|seven|eight|nine|ten|eleven|twelve"
    r"|thirteen|fourteen|fifteen|sixteen|seventeen|eighteen|nineteen|twenty|thirty)\b))",
    re.IGNORECASE,
)
"""The `one` of `left one ten even`: the pipe there, and no part of the number."""
M_OVER_M = re.compile(r"(?<![\w/])m/m(?![\w/])", re.IGNORECASE)
"""The `m/m` of `40-2 m/m`, which says two ends alike, and no metres."""
HALF_ROUND = re.compile(r"\b(?:half|hlf)[ -](?:rnd|rd)\b", re.IGNORECASE)
"""A half that is a gutter's shape."""
NUMBERED_NOUNS = (
    "run", "elevation", "leg", "section", "stretch", "eave",
    "downpipe", "downspout", "outlet", "dp", "drop", "pipe",
)  # fmt: skip
"""Things that are told apart by a number or a letter."""
NUMBERED = re.compile(
    rf"\b(?P<noun>{'|'.join(NUMBERED_NOUNS)})\s*"
    r"(?:no\.?\s*|number\s+|#\s*)?"
    rf"(?P<number>\d{{1,2}}|{_ONE_TO_TWELVE}|(?-i:[A-H](?!-[LR]\b))(?='s|\s*[:,\-–]|\s+(?:{_BEHIND_A_LETTER})))\b"
    r"(?=\s*(?:[:;)]|,(?!\d))|\.(?!\d)|(?<=[A-H])|\s+[-–—]\s|'s\b"
    r"|\s+(?:is|was|that|thats|has|goes|and|the|to|into|are|gets|runs|will|but)\b|\s*$|\s*\()"
    r"(?!\s*(?:and a (?:half|quarter)|'(?!s\b)|\"|foot|feet|inch))",
    re.IGNORECASE,
)
"""A thing named by a number or a letter: `run one`, `Downpipe 2:`, `section B`."""
RUN_REFERRED = re.compile(
    r"\b(?:as|on|of|off|like|under|from|with|at)\s+"
    rf"(?P<all>(?P<noun>run)\s+(?P<number>\d{{1,2}}|{_ONE_TO_TWELVE}|(?-i:[A-H])))\b"
    r"(?!\s*(?:foot|feet|ft|'|\"))",
    re.IGNORECASE,
)
"""A run by its number, behind a word that refers to it: `same as run 2`."""
NUMBERED_LINE = re.compile(r"\A\W*run\s*#?\s*(?P<number>\d{1,2})\b", re.IGNORECASE)
"""A line that opens with a run's number."""
RUN_NUMBER = re.compile(r"\brun\s*#?\s*(?P<number>\d{1,2})\b", re.IGNORECASE)
"""A run's number anywhere, in a note that is known to number its runs."""
NUMBER_WORDS = dict(zip(_ONE_TO_TWELVE.split("|"), range(1, 13), strict=True))
"""Number words that name runs."""
DIRECTIONS = "front|back|rear|north|south|east|west|left|right|left side|right side"
PIECES_OF_A_SIDE = re.compile(
    rf"\b(?P<side>{DIRECTIONS})\s+(?P<piece>one|two|three|[123](?!\s*[\d.'\"½¼¾’”/-])|(?-i:[ABC]))\b"
    r"(?!\s*(?:foot|feet|ft|inch|in\b|hundred|thousand|point|mm|m\b|metre|['\"½¼¾’”\-–/]|and a"
    r"|one\b|two\b|is\b\s+the|of\b|drops?|outlets?|d[ps]s?\b|downs|pipes?|are\b))",
    re.IGNORECASE,
)
"""A side of the house in numbered pieces: `back one`, `West B`."""
PIPE_NOUNS = frozenset({"downpipe", "downspout", "outlet", "dp", "drop", "pipe"})
"""Things named by a number that are pipes, not runs."""


def run_numbers(texts: Sequence[str]) -> frozenset[str]:
    """The numbers that name runs in a note whose lines begin `run 1 ...`, `run 2 ...`, one by one."""
    said = [match["number"] for text in texts if (match := NUMBERED_LINE.match(text))]
    counted = {int(number) for number in said}
    return frozenset(said) if any(number + 1 in counted for number in counted) else frozenset()


def pieces_of_sides(texts: Sequence[str]) -> frozenset[str]:
    """The names of pieces that sides of the house are told in: `back one` and `back two`, never one alone."""
    said: dict[str, set[str]] = {}
    names: set[str] = set()
    for text in texts:
        for match in PIECES_OF_A_SIDE.finditer(text):
            said.setdefault(match["side"].lower(), set()).add(_piece(match))
    for side, pieces in said.items():
        if len(pieces) > 1:
            names |= {f"{side} {piece}" for piece in pieces}
    return frozenset(names)


def _piece(match: re.Match[str]) -> str:
    """The number or letter of a piece: `1` of `one`."""
    piece = match["piece"].lower()
    return str(NUMBER_WORDS.get(piece, piece))


def fold_pieces(line: int, text: str, items: list[Item], pieces: frozenset[str]) -> list[Item]:
    """`back two` as one direction of that name, where the note tells the back in pieces."""
    for match in PIECES_OF_A_SIDE.finditer(text) if pieces else ():
        side, piece = match["side"].lower(), _piece(match)
        inside = [item for item in items if item.start >= match.start() and item.end <= match.end()]
        if f"{side} {piece}" not in pieces or not inside:
            continue
        place = items.index(inside[0])
        items = [item for item in items if not any(item is one for one in inside)]
        value = f"{'back' if side == 'rear' else side} {piece}"
        items.insert(place, Item(line, match.start(), match.end(), match.group(), "direction", value))
    return items


def _names_in(
    text: str, names: frozenset[str]
) -> Iterator[tuple[str, str, tuple[int, int], tuple[int, int]]]:
    """Each name with a number: its noun, its number, where all of it stands and where the number does."""
    if text.isascii():
        words = text.lower()
        if not any(noun in words for noun in NUMBERED_NOUNS):
            return  # cheaper than the patterns, and most lines have none
    taken: list[tuple[int, int]] = []
    for match in NUMBERED.finditer(text):
        taken.append(match.span())
        yield match["noun"].lower(), match["number"].lower(), match.span(), match.span("number")
    for match in RUN_REFERRED.finditer(text):
        if not any(start < match.end("all") and match.start("all") < end for start, end in taken):
            taken.append(match.span("all"))
            yield "run", match["number"].lower(), match.span("all"), match.span("number")
    if names:
        for match in RUN_NUMBER.finditer(text):
            if match["number"] in names and not any(
                start < match.end() and match.start() < end for start, end in taken
            ):
                yield "run", match["number"], match.span(), match.span("number")


GLUED_CONCEPTS = frozenset({"cue", "profile", "end", "downpipe"})
"""What an abbreviation written against a number may say: `WF24`, `9-2H`, `K5`."""
LONGEST_GLUED = 4
"""A longer word than this is not written against its number."""


def glued_words(terms: Iterable[Term]) -> re.Pattern[str]:
    """The trade's abbreviations where they are written against a number: `WF24`, `24oh`, `K5`."""
    short = [
        term
        for term in terms
        if term.concept in GLUED_CONCEPTS
        and term.value != "thickness"
        and term.phrase.isalpha()
        and len(term.phrase) <= LONGEST_GLUED
    ]
    before = _any_of(term.phrase for term in short)
    # `4K` is as likely a price
    behind = _any_of(term.phrase for term in short if term.concept != "profile")
    return re.compile(rf"(?<![^\W_])(?:{before})(?=\d)|(?<=\d)(?:{behind})(?![^\W_])", re.IGNORECASE)


def counted_words(terms: Iterable[Term]) -> re.Pattern[str]:
    """The blank of `33 2OC`, `46 2dn`: a digit against what it counts is no inches of the number before."""
    short = [
        term.phrase
        for term in terms
        if term.concept in ("end", "downpipe", "outlet")
        and term.phrase.isalpha()
        and 2 <= len(term.phrase) <= LONGEST_GLUED
    ]
    return re.compile(
        rf"(?<=[\d'\"’”″¼½¾])[ ](?=[1-4](?:{_any_of([*short, 'dn'])})(?![^\W_]))", re.IGNORECASE
    )


def _any_of(phrases: Iterable[str]) -> str:
    """A pattern for any of the phrases, the longest first."""
    return "|".join(sorted({phrase.lower() for phrase in phrases}, key=lambda word: (-len(word), word)))


def _parted(match: re.Match[str]) -> str:
    """A glued word as blanks, with a stop towards its number: the number must not join another across it."""
    blanks = " " * (len(match.group()) - 1)
    before = match.end() < len(match.string) and match.string[match.end()].isdigit()
    return f"{blanks};" if before else f";{blanks}"


def for_scanning(
    text: str,
    names: frozenset[str] = frozenset(),
    glued: re.Pattern[str] | None = None,
    pieces: frozenset[str] = frozenset(),
    counted: re.Pattern[str] | None = None,
) -> str:
    """The text as the number reader should see it: what would mislead it is blanked, places kept.

    `~~27~~` is a struck number, not `about 27`; the `in` of `300 in from the left` is no inch; the `one` of
    `run one` is a name; the `WF` of `WF24` makes no code of the number.
    """
    if counted is not None:
        text = counted.sub(";", text)
    if glued is not None:
        text = glued.sub(_parted, text)
    if "~" in text:
        # a stop, or the number that is struck would join the one behind it
        text = STRIKES.sub(lambda match: ";".ljust(len(match.group())), text)
    words = text.lower()
    if " in " in words:
        text = IN_SIDE.sub(lambda match: " " * len(match.group()), text)
    if "from" in words or "off" in words:
        text = IN_FROM.sub(lambda match: " " * len(match.group()), text)
    for match in PIECES_OF_A_SIDE.finditer(text) if pieces else ():
        if f"{match['side'].lower()} {_piece(match)}" in pieces:
            start, end = match.span("piece")
            text = text[:start] + "_" * (end - start) + text[end:]
    if "m/m" in words:
        text = M_OVER_M.sub(";  ", text)
    if "lf" in words:
        text = HALF_ROUND.sub(lambda match: "HR".ljust(len(match.group())), text)
    if "half" in words:
        text = HALF_OF_A_SIDE.sub(lambda match: "_" * len(match.group()), text)
    text = COMMA_PARTED.sub(";", text)
    text = TIMES.sub(";", text)
    text = COMMENTED.sub(" ", text)
    text = DASHED_OFF.sub(";", text)
    if "/" in text:
        text = TRIPLE.sub(r"\1;\2;", text)
    text = BEFORE_A_PAIR.sub(r"\1;", text)
    if " one " in words:
        text = SIDES_ONE.sub(r"\1___", text)
    if "yard" in words:
        text = YARD_OF_ANOTHER.sub("____", text)
    for _, _, _, (start, end) in list(_names_in(text, names)):
        text = text[:start] + "_" * (end - start) + text[end:]
    return text


def fold_arrows(items: list[Item]) -> list[Item]:
    """`->`, `=>` and `→` as one item."""
    out: list[Item] = []
    for item in items:
        last = out[-1] if out else None
        if item.text == ">" and last is not None and last.text in ("-", "=", "–") and last.end == item.start:
            out[-1] = Item(item.line, last.start, item.end, "->", "arrow", "->")
        elif item.text in ("→", "->", "=>"):
            out.append(Item(item.line, item.start, item.end, item.text, "arrow", "->"))
        else:
            out.append(item)
    return out


def fold_numbered_names(
    line: int, text: str, items: list[Item], names: frozenset[str] = frozenset()
) -> list[Item]:
    """`run one` and `Downpipe 2:` as one item: a run's name, or the name of a row in a list of pipes."""
    for noun, said, (start, end), _ in _names_in(text, names):
        name = str(NUMBER_WORDS.get(said, said))
        kind = "downpipe name" if noun in PIPE_NOUNS else "numbered"
        inside = [item for item in items if item.start >= start and item.end <= end]
        if not inside:
            continue
        place = items.index(inside[0])
        items = [item for item in items if item.start < start or item.end > end]
        items.insert(place, Item(line, start, end, text[start:end], kind, name))
    return items
