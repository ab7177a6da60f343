"""Whether a note names its runs by the two corners they go between, and where those names stand.

Decided by the whole note: a lone `A-B` may be a corner of two lettered runs, but where `A-B`, `B-C` and `C-D`
each have a length, they go round the house.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from itertools import pairwise
from typing import TYPE_CHECKING

from gutterance.reading.lettered.naming import Naming, RunName
from gutterance.reading.lettered.patterns import CLOCKWISE, IN_ORDER, PIPES
from gutterance.reading.lettered.spans import names_run_a

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

POINT = r"(?:[A-Z]|\d{1,2})"
JOINT = r"\s?(?:[-–—/→>]|->|\bto\b|\bthru\b)\s?"
OPENING = re.compile(
    rf"(?:\A\s*(?:[-*•]\s*)?|[,;.]\s+|\s{{2,}})(?:(?:run|wall|side|length|from)\s+)?"
    rf"(?P<of>{POINT})(?P<joint>{JOINT}|)(?P<to>{POINT})"
    r"(?P<mark>\s*[:=]\s*|\s+[-–]\s+|\s+)(?=(?:is\s+|about\s+|abt\s+|approx\s+|~\s*)?\d|same\b|ditto\b|\?)"
)
"""A run by its two corners, with a length behind it."""
FEWEST_JOINED = 2
"""So many times at least a run begins where the one before it ended."""
MOST_POINTS = 26
NEAR = 30
"""How far [characters] the words before a name are looked at."""
NO_SKETCH = (frozenset("FBRL"), frozenset("NESW"))
"""Letters that are the sides of the house, and those of the compass."""
RUN = re.compile(
    rf"(?<![\w.'’-])(?<![^A-Z]/)(?P<of>[A-Z])(?:{JOINT}|)(?P<to>[A-Z])(?![\w'’/])"
    rf"|(?<![\w.'’/-])(?P<of2>\d{{1,2}})(?:{JOINT}|\s+(?:back|round|along|over) to\s+)(?P<to2>\d{{1,2}})"
    r"(?![\w'’\"”″′/]|\.\d|-\d|\s+\d/\d|\s*(?:ft|foot|feet|in|inch|mm|m)\b)"
)
BETWEEN = re.compile(
    rf"\b(?:from|between)\s+(?P<of>{POINT})\s+(?:(?:back|round|along|over)\s+to|to|and)\s+"
    rf"(?P<to>{POINT})\b(?!['\"])"
)
"""`from F back to A`: the run between them."""
MAY_NAME_A_RUN = re.compile(
    r"(?:\A|[,;:.(]|\b(?:on|at|the|under|below|above|beside|by|near|from|of|as|and|&|along|for|over|run|wall|"
    r"side|is|inside|outside|both|like|behind|to)|\s{2})\s*\Z",
    re.IGNORECASE,
)
"""What stands before two numbers that are a run, not feet and inches."""
NUMBERED_POINT = re.compile(
    r"(?:\b(?:at|to|from|corners?|cnrs?|mit(?:er|re)s?|points?|pts?|off|between|past|round|around|of|into|by)"
    r"\s+(?:the\s+)?#?|#)(?P<name>\d{1,2})(?![\w'’\"”″′/]|\.\d|-\d"
    r"|\s*(?:ft|foot|feet|in|inch(?:es)?|mm|m|metres?|meters?|o'?clock|am|pm)\b"
    r"|\s*(?:in|x)\s*\d|\s\d|\s+\d+/\d)",
    re.IGNORECASE,
)
"""`at 5`, `corner 3`: a corner by its number."""
OPENS = re.compile(
    r"(?:\A\s*(?:[-*•]\s*)?|[,;.:]\s+|\s{2,})"
    r"(?P<list>\d{1,2}(?:(?:\s*[,&+]\s*(?:and\s+)?|\s+and\s+|\s)\d{1,2})*)"
    r"(?=\s*[:=]?\s*(?:(?:is|are|all|both|an?|the|only|plain)\s+)*"
    r"(?:internal|external|inside|outside|int|ext|osc?|isc?|oc|ic|in|out|cap|stop|wall|on"
    r"|\w+ (?:end|corner))\b"
    r"(?!\s+(?:corners|mit(?:er|re)s|of)\b))",
    re.IGNORECASE,
)
"""`5 internal`, `1, 2 and 6 outside`: corners that open something said of them."""
LISTED = re.compile(
    r"\s*(?:,|&|\+|\band\b)\s*(?P<name>\d{1,2})(?![\w'’\"”″′/]|\.\d|-\d|\s*(?:ft|foot|in|mm|m)\b)"
)
ALONE = re.compile(r"\s+[A-Z](?!\w)|\s*[,:;=.]|\s{2,}|\s+on\s")
"""What stands behind A where it is no article: another corner, or a gap."""
LETTER = re.compile(r"(?<![\w'’/&-])(?P<name>[A-Z])(?![\w'’&]|/(?![A-Z]{2})|-\w|\.\w)")


DRAWING = re.compile(r"(?=.*(?:--|\||__|\.\.|[/\\]|\s{3,}))[\sA-Z\d|_.'`’\"/\\+*=:~<>^()-]+")
"""A line of a sketch drawn with signs: nothing in it but those and the names of corners."""
DRAWN_POINT = re.compile(r"[A-Z]+|\d+")


@dataclass(slots=True)
class Points(Naming):
    """The corners of a sketch: the run before and behind each, and where their names stand by line.

    `before[p]` is the run that ends at p as the note goes round, `behind[p]` the one that begins there.
    """

    points: dict[int, list[RunName]] = field(default_factory=dict)
    before: dict[str, str] = field(default_factory=dict)
    behind: dict[str, str] = field(default_factory=dict)
    way_known: bool = False

    def side_at(self, run: str, point: str) -> str | None:
        """The end of a run that is at a point, as seen from outside; None where it is at neither."""
        if self.behind.get(point) == run:
            return "right" if self.clockwise else "left"
        if self.before.get(point) == run:
            return "left" if self.clockwise else "right"
        return None

    def met_at(self, point: str) -> tuple[str, ...]:
        """The runs that meet at a point, as the note goes round: two, or one at a free end."""
        return tuple(run for run in (self.before.get(point), self.behind.get(point)) if run is not None)


def find_points(texts: Sequence[str]) -> Points | None:
    """How the note names its corners and runs by the corners of a sketch, or None where it does not."""
    told = [
        (match["of"], match["to"]) for text in texts for match in OPENING.finditer(text) if _joined(match)
    ]
    told = list(dict.fromkeys(told))
    for letters in (True, False):
        runs = [pair for pair in told if all(point.isalpha() == letters for point in pair)]
        points = _go_round(runs, letters=letters)
        if points is None:
            continue
        known_as = {} if letters else _letters_before(texts, points)
        note = "\n".join(texts)
        points.clockwise = CLOCKWISE.search(note) is not None
        points.way_known = points.clockwise or IN_ORDER.search(note) is not None
        for number, text in enumerate(texts, start=1):
            names, corners = _spans(text, points)
            if known_as:
                names = _with_letter(text, names, frozenset(known_as.values()))
            if names:
                points.names[number] = names
            if corners:
                points.points[number] = corners
            labels = [
                RunName(match.start(), match.end(), match["name"], match.start())
                for match in PIPE_LABEL.finditer(text)
                if not any(
                    name.start < match.end() and match.start() < name.end for name in (*names, *corners)
                )
            ]
            if labels:
                points.labels[number] = labels
        return points
    return None


BEFORE_CORNERS = re.compile(
    rf"\A\s*(?:[-*•]\s*)?(?:run\s+)?(?P<letter>[A-Z])\s*[:.)=–-]?\s+"
    rf"(?=(?P<of>\d{{1,2}}){JOINT}(?P<to>\d{{1,2}})(?!\d))"
)
"""`A   1 - 2    6320`: the run's own letter before its two corners."""
LETTER_OPENS = re.compile(
    r"\A\s*(?:[-*•]\s*)?(?:run\s+)?(?P<letter>[A-Z])(?=\s*[:.)=–-]|\s{2,}|\s+(?:at|on|is)\b)"
)
"""`A  150 off pt 2`, `C: at 4`: a run by that letter at the start of a line."""


def _letters_before(texts: Sequence[str], points: Points) -> dict[str, str]:
    """The letter of each run that stands before its corners, where each has one; the runs are named by it."""
    known_as: dict[str, str] = {}
    for text in texts:
        match = BEFORE_CORNERS.match(text)
        run = points.behind.get(match["of"]) if match is not None else None
        if match is not None and run is not None and run == points.before.get(match["to"]):
            known_as[run] = match["letter"]
    if set(known_as) != set(points.order) or len(set(known_as.values())) < len(known_as):
        return {}
    points.order[:] = [known_as[run] for run in points.order]
    for at in (points.before, points.behind):
        at.update({point: known_as[run] for point, run in at.items()})
    return known_as


def _with_letter(text: str, names: list[RunName], letters: frozenset[str]) -> list[RunName]:
    """The names in a line with the letter that opens it: taken together with the corners right behind it."""
    match = LETTER_OPENS.match(text) or BEFORE_CORNERS.match(text)
    if match is None or match["letter"] not in letters:
        return names
    start, end = match.span("letter")
    if names and names[0].run == match["letter"] and not text[end : names[0].start].strip(" :.)=–-\t"):
        return [RunName(start, names[0].end, names[0].run, start), *names[1:]]
    return [RunName(start, end, match["letter"], start), *names]


PIPE_LABEL = re.compile(
    rf"(?<![\w/#-])(?:{PIPES})\s?#?(?P<name>\d{{1,2}})(?=\s*[:.)@]|\s+(?:at|on|is)\b)", re.IGNORECASE
)
"""`DP1 at C`: the label of a pipe."""


def _joined(match: re.Match[str]) -> bool:
    """Whether two letters or two numbers are written as the ends of a run: numbers never run together."""
    of, to = match["of"], match["to"]
    if of == to or of.isdigit() != to.isdigit():
        return False
    return of.isalpha() or (bool(match["joint"].strip()) and 0 < int(of) <= MOST_POINTS >= int(to) > 0)


def _go_round(runs: list[tuple[str, str]], *, letters: bool) -> Points | None:
    """The corners of runs that each begin where another ended; None where they do not go round anything."""
    joined = sum(first[1] == then[0] for first, then in pairwise(runs))
    named = {point for pair in runs for point in pair}
    if joined < FEWEST_JOINED or ("A" if letters else "1") not in named:
        return None
    if letters and any(named <= sides for sides in NO_SKETCH):
        return None
    if not letters and sum(_next(pair) for pair in runs) < joined:
        return None  # feet and inches that happen to join
    points = Points(["-".join(pair) if not letters else "".join(pair) for pair in runs], letters=True)
    points.no_order = True
    for name, (of, to) in zip(points.order, runs, strict=True):
        if of in points.behind or to in points.before:
            return None  # not a round: a corner that three runs meet at
        points.behind[of], points.before[to] = name, name
    return points


def _next(pair: tuple[str, str]) -> bool:
    """Whether a run goes from a number to the one after it, or back to the first."""
    return int(pair[1]) == int(pair[0]) + 1 or int(pair[1]) == 1


def _spans(text: str, points: Points) -> tuple[list[RunName], list[RunName]]:
    """Where the names of runs and of corners stand in a line."""
    names: list[RunName] = []
    taken = bytearray(len(text) + 1)
    for start, end, of, to in _runs_in(text):
        run = points.behind.get(of)
        if run is None or run != points.before.get(to):
            run = points.behind.get(to)
            if run is None or run != points.before.get(of):
                continue
        if any(taken[start:end]):
            continue
        taken[start:end] = b"\x01" * (end - start)
        names.append(RunName(start, end, run, start))
    corners = [
        RunName(start, end, name, start)
        for start, end, name in _points_in(text, points)
        if not any(taken[start:end]) and _take(taken, start, end)
    ]
    return sorted(names, key=lambda name: name.start), sorted(corners, key=lambda name: name.start)


def _take(taken: bytearray, start: int, end: int) -> bool:
    taken[start:end] = b"\x01" * (end - start)
    return True


def _runs_in(text: str) -> Iterator[tuple[int, int, str, str]]:
    """Each place where a run may be named by its two corners: start, end, and the corners."""
    opened = {match.start("of"): match for match in OPENING.finditer(text) if _joined(match)}
    for match in opened.values():
        yield match.start("of"), match.end("to"), match["of"], match["to"]
    lengths = [match.end() for match in opened.values()]
    for match in BETWEEN.finditer(text):
        yield match.start("of"), match.end("to"), match["of"], match["to"]
    for match in RUN.finditer(text):
        if match["of"]:
            yield match.start(), match.end(), match["of"], match["to"]
        elif match.start() not in lengths and MAY_NAME_A_RUN.search(
            text[max(0, match.start() - NEAR) : match.start()]
        ):
            yield match.start(), match.end(), match["of2"], match["to2"]


def _points_in(text: str, points: Points) -> Iterator[tuple[int, int, str]]:
    """Each place where a corner stands by its own name."""
    known = points.before.keys() | points.behind.keys()
    drawn = [(*match.span(), match.group()) for match in DRAWN_POINT.finditer(text)]
    if DRAWING.fullmatch(text) and drawn and all(name in known for _, _, name in drawn):
        yield from drawn
        return
    if any(point.isalpha() for point in known):
        for match in LETTER.finditer(text):
            named = match["name"] != "A" or ALONE.match(text, match.end()) or names_run_a(text, *match.span())
            if match["name"] in known and named:
                yield *match.span("name"), match["name"]
        return
    for match in OPENS.finditer(text):
        listed = list(re.finditer(r"\d+", match["list"]))
        if all(one.group() in known for one in listed):
            for one in listed:
                yield match.start("list") + one.start(), match.start("list") + one.end(), one.group()
    for match in NUMBERED_POINT.finditer(text):
        if match["name"] not in known:
            continue
        yield *match.span("name"), match["name"]
        at = match.end("name")
        while (more := LISTED.match(text, at)) and more["name"] in known:
            yield *more.span("name"), more["name"]
            at = more.end("name")
