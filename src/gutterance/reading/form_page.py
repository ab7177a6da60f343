"""The page of a form put in order before it is read: what its layout says, so that its words need not.

A printed form says by its layout what goes together: two halves of a page side by side, an answer that goes
on in the lines below, lines and brackets to write in, choices with the one taken written behind them, the
numbers of its questions and answers that point to them, what a heading says of the labels below it, and a
foot that is the office's. The page is put together as lines of labels with their answers; what is put on the
sheet is put back to the lines as given.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from gutterance.reading.form_fields import Field, fields_of
from gutterance.reading.labels import known_label, plain
from gutterance.reading.rewritten_lines import Piece, RewrittenLines
from gutterance.reading.tick_boxes import has_boxes

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

QUESTION_NUMBER = "the number of a question or a part of the form"
NOT_TAKEN = "a choice on the form that was not taken"
OFFICE_FOOT = "on the form's line for the office"

MEASURED = frozenset({"length", "left", "right", "ends", "outlet", "wall_to_fascia", "height", "ends_at"})
"""What the labels of a form of runs ask for."""
FEWEST_LINES = 5
"""A form has so many lines at least that begin with one of those labels ..."""
FEWEST_KINDS = 4
"""... of so many kinds ..."""
SHARE = 0.3
"""... and so many of its lines are labelled."""
MOST_LINES = 2000
"""A longer note is no form."""
LONGEST_LINE = 600
"""A longer line than this [characters] is no line of a form."""
MOST_BARS = 3
"""A line with so many bars is the row of a table."""
REMARKS = frozenset({"note", "remark"})
"""What may be answered by several things, a line each."""
WRAP_SLACK = 12
"""A line within so many characters of the widest was full."""
MARKUP = re.compile(r"\*\*|__(?=[A-Z][^_]*:__)|(?<=:)__(?=\s)|\A\s*[-*•]\s+(?=\S)|`")
"""Marks of type around words, and before the lines of a list."""
SIDE_WITH_COLON = re.compile(r"\b(?P<side>left|right|lh|rh|l|r)\s?:(?=\s*\d)", re.IGNORECASE)
QUESTION_AND_REPLY = re.compile(r"\W*Q\b.*\?\s+A\b")
FEWEST_TWICE = 3
"""So many lines with the same label twice make two halves."""
ASKEW = 3
"""How far [characters] a column on paper may stray."""
ENUMERATOR = re.compile(
    r"\s*(?P<key>\(?(?:[A-Z]?\d{1,2}|[A-Z]|[a-z])(?P<mark>[.)]|:(?=\s))?)(?P<gap>\s+)(?=\S)"
)
"""`1.`, `(2)`, `A1  `, `b) `: what numbers the questions and parts of a form."""
TITLED_PART = re.compile(
    r"\s*(?P<key>(?:part|section)\s+[A-Z0-9]{1,2})\b[\s.:)–-]*(?=[A-Za-z])", re.IGNORECASE
)
"""`PART B   REAR ELEVATION`: a part of the form with its heading."""
OFFICE = re.compile(r"\W*(?:for\s+)?office\b(?:\s+use)?", re.IGNORECASE)
"""What begins the line for the office."""
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


Part = str | tuple[int, int, int] | tuple[int, int, int, int, str]
"""Of a line as read: words put between, a stretch of a given line, or words written for a stretch."""


@dataclass(slots=True)
class Host:
    """The line above: its strip, labels and parts, how many parts each answer ends behind, and its place."""

    strip: Strip
    fields: list[Field]
    parts: list[Part]
    ends: list[int]
    at: int


@dataclass(slots=True)
class Strip:
    """A stretch of a given line that belongs together: a line, or its part in one half of the page."""

    number: int
    start: int
    end: int


def form_page(given: Sequence[str]) -> FormPage | None:
    """The page put in order, where a note is a form of runs; None for any other note."""
    if len(given) > MOST_LINES:
        return None
    filled = [_without_marks(text) for text in given if text.strip()]
    if sum(QUESTION_AND_REPLY.match(text) is not None for text in filled) >= FEWEST_TWICE:
        return None  # each line has a question and its reply: said, and not filled in
    kinds: list[str] = []
    more: set[str] = set()
    labelled = 0
    for text in filled:
        if len(text) > LONGEST_LINE or _is_row(text):
            continue
        begin = _begin(text)
        fields = [field for field in fields_of(text, begin) if field.label is not None]
        labelled += bool(fields)
        kinds += [min(field.asks() & MEASURED) for field in fields if field.asks() & MEASURED][:1]
        more |= {min(field.asks() & MEASURED) for field in fields if field.asks() & MEASURED}
    if len(kinds) < FEWEST_LINES or len(more) < FEWEST_KINDS or labelled < SHARE * len(filled):
        return None
    return FormPage(given)


def _without_marks(text: str) -> str:
    """A line without the marks of its type (`**Length:**`), and `L: 9' 4", R: 9' 1"` without its colons."""
    text = MARKUP.sub(lambda mark: " " * len(mark.group()), text)
    sides = list(SIDE_WITH_COLON.finditer(text))
    if len({side["side"].lower()[0] for side in sides}) > 1:
        for side in sides:
            text = f"{text[: side.end() - 1]} {text[side.end() :]}"
    return text


def _numbered(text: str) -> bool:
    """Whether a line opens with the number of a question, with its mark."""
    match = ENUMERATOR.match(text)
    return match is not None and match["mark"] is not None


def _answers_below(lines: Sequence[str]) -> bool:
    """Whether the questions of a form have their answers on the line below: `7. Length (mm)` / `9350`."""
    told = 0
    for line, below in pairwise(lines):
        match = ENUMERATOR.match(line)
        if match is None or not below.strip() or _numbered(below):
            continue
        label = known_label(line[match.end() :].strip(" ?:"))
        told += label is not None and known_label(below.strip(" ?:")) is None
    return told >= FEWEST_LINES


def _is_row(text: str) -> bool:
    """Whether bars or semicolons make a line the row of a table."""
    return max(text.count("|"), text.count(";")) >= MOST_BARS and text.count(":") < MOST_BARS


def _begin(text: str) -> int:
    match = ENUMERATOR.match(text)
    return match.end() if match else 0


class FormPage(RewrittenLines):
    """A form's page as lines of labels with their answers, and the way back to the lines given."""

    def __init__(self, given: Sequence[str]) -> None:
        super().__init__(given)
        self.told: dict[str, tuple[int, int, int, str]] = {}
        self.heading: str | None = None
        self.section: tuple[str, int] | None = None
        self.host: Host | None = None
        self.text = [_without_marks(text) for text in given]
        self.answers_below = _answers_below(self.text)
        self.asked = False
        self.labelled: set[int] = set()
        """The numbers of the lines as read that are labels with one answer each, and no row of a table."""
        for strip in self._strips():
            self._put(strip)

    def _strips(self) -> list[Strip]:
        """The lines of the page in the order in which they are to be read, halves one after the other."""
        strips: list[Strip] = []
        paragraph: list[int] = []
        for number, text in enumerate([*self.given, ""], start=1):
            if text.strip() and number <= len(self.given):
                paragraph.append(number)
                continue
            column = self._second_half(paragraph)
            if column is None:
                strips += [Strip(one, 0, len(self.text[one - 1])) for one in paragraph]
            else:
                strips += self._halves(paragraph, column)
            paragraph = []
            if number <= len(self.given):
                strips.append(Strip(number, 0, len(text)))
        return strips

    def _second_half(self, paragraph: list[int]) -> int | None:
        """The column at which the second half begins, where lines have one label twice."""
        columns: list[int] = []
        for number in paragraph:
            text = self.text[number - 1]
            fields = fields_of(text) if len(text) <= LONGEST_LINE else []
            words = [plain(text[field.start : field.end]) for field in fields if field.label is not None]
            if len(words) == len(fields) == 2 and words[0] == words[1]:
                columns.append(fields[1].start)
        if len(columns) < FEWEST_TWICE or max(columns) - min(columns) > ASKEW:
            return None
        return min(columns)

    def _halves(self, paragraph: list[int], column: int) -> list[Strip]:
        """The strips of a page's left half, then those of its right half."""
        left: list[Strip] = []
        right: list[Strip] = []
        for number in paragraph:
            text = self.text[number - 1]
            cut = next(
                (gap.end() for gap in re.finditer(r"\s{2,}|\|\s*", text) if abs(gap.end() - column) <= ASKEW),
                None,
            )
            if cut is None:
                (left if not right or len(text.rstrip()) <= column else right).append(
                    Strip(number, 0, len(text))
                )
                continue
            left.append(Strip(number, 0, cut))
            right.append(Strip(number, cut, len(text)))
        return left + right

    # one strip put on the page

    def _put(self, strip: Strip) -> None:
        text = self.text[strip.number - 1]
        if not text[strip.start : strip.end].strip() or len(text) > LONGEST_LINE:
            self.host, self.asked = None, False
            if not self.answers_below:  # there a blank line stands between any two questions
                self._write([(strip.number, strip.start, strip.end)])
            return
        if OFFICE.match(text[strip.start : strip.end]) and not self._goes_on(strip):
            self.aside.append((self.source(strip.number, strip.start, strip.end), OFFICE_FOOT))
            self.host = None
            self._write([(strip.number, strip.start, strip.start)])
            return
        if self._goes_on(strip):
            self._join(strip)
            return
        if self.asked and not _numbered(text):
            self._reply(strip)
            return
        self.asked = False
        begin = self._enumerator(strip)
        fields = fields_of(text, begin, strip.start + len(text[strip.start : strip.end].rstrip()))
        if self.answers_below and begin > strip.start and not (fields and fields[0].marked):
            end = len(text.rstrip(" ?:"))
            self._write([(strip.number, begin, end), ":"])
            self.host, self.asked = None, True
            return
        self._headed(strip, begin, fields)
        parts: list[Part] = []
        if begin > strip.start and not text[strip.start : begin].isspace():
            parts.append(" ")
        here = begin
        ends: list[int] = []
        for field in fields:
            parts.append((strip.number, here, field.start))
            parts += self._field(strip, field)
            here = field.answer_end
            ends.append(len(parts))
            parts.append("   ")
        parts.append((strip.number, here, strip.end))
        written = " ".join(self._written(parts)[0].split())
        as_given = written == " ".join(text[strip.start : strip.end].split())
        self._write([(strip.number, strip.start, strip.end)] if as_given else parts)
        self.host = Host(strip, fields, parts, ends, len(self.lines) - 1)
        if fields and not text[begin : fields[0].start].strip() and all(map(self._is_filled(text), fields)):
            self.labelled.add(len(self.lines))

    @staticmethod
    def _is_filled(text: str) -> Callable[[Field], bool]:
        """Whether a label of a line has one answer behind it, which is no label and no row of numbers."""

        def filled(field: Field) -> bool:
            said = text[field.answer : field.answer_end]
            if not field.parted or field.label is None or not said.strip() or known_label(said) is not None:
                return False
            sides = field.label.asks("left") or field.label.asks("right")
            return len(re.split(r"\s{2,}|\t", said.strip())) == 1 and not (sides and said[:1].isdigit())

        return filled

    def _reply(self, strip: Strip) -> None:
        """Put a strip behind the question on the line above."""
        words = self.text[strip.number - 1]
        start = len(words) - len(words.lstrip())
        self.pieces[-1].append(Piece(len(self.lines[-1]) + 1, strip.number, start, len(words.strip())))
        self.lines[-1] += f" {words.strip()}"

    def _enumerator(self, strip: Strip) -> int:
        """Where the words of a strip begin behind the number of its question, which is set aside."""
        text = self.text[strip.number - 1]
        part = TITLED_PART.match(text, strip.start, strip.end)
        match = part or ENUMERATOR.match(text, strip.start, strip.end)
        if match is None:
            return strip.start
        rest = text[match.end() : strip.end].strip()
        if part is None and not self._numbers_a_question(match, rest):
            return strip.start
        key = match["key"].strip("().:").split()[-1].lower()
        if any(char.isdigit() for char in match["key"]):
            self.aside.append(
                (self.source(strip.number, match.start("key"), match.end("key")), QUESTION_NUMBER)
            )
        fields = fields_of(text, match.end(), strip.end)
        if fields and fields[0].start == match.end() and "run" not in fields[0].asks():
            first = fields[0]
            self.told[key] = (strip.number, first.answer, first.answer_end, "")
        else:
            words = re.split(r"\s{2,}|\t", rest)
            name = (
                words[0]
                if not fields or "run" not in fields[0].asks()
                else text[fields[0].answer : fields[0].answer_end]
            )
            self.told[key] = (strip.number, match.end(), match.end(), name)
        return match.end()

    def _numbers_a_question(self, match: re.Match[str], rest: str) -> bool:
        """Whether a number or letter at the start of a line is a question's, and no row's or run's own."""
        first = re.split(r"\s{2,}|\t|\.{3,}|:\s", rest)[0]
        label = known_label(first)
        letter = match["key"].strip("().:").isalpha()
        if letter and match["key"][0] == "Q":
            return False
        if letter:
            return match["mark"] is not None and (
                label.asks("run")
                if label is not None
                else re.fullmatch(r"[A-Za-z][^\d?]{2,}", first) is not None
            )
        if match["mark"] is None and len(match["gap"]) < 2:
            return False
        if match["key"][0].isalpha() and not re.match(r"[\d\W]", rest):
            return True  # `A4  Position of pipe`
        if label is not None:
            # `1   A, left   1 ft 3`: a row of a table
            return match["mark"] is not None or re.match(r"[A-Za-z]\W", first) is None
        return not re.search(r"\d", rest) or match["mark"] is not None

    def _headed(self, strip: Strip, begin: int, fields: list[Field]) -> None:
        """Remember what a heading says that the labels below it, or behind it on its line, are of."""
        text = self.text[strip.number - 1]
        lead = text[begin : fields[0].start if fields else strip.end]
        indent = begin - strip.start if not text[strip.start : begin].strip() else 0
        if fields and not lead.strip() and not text[fields[0].answer : fields[0].answer_end].strip():
            lead = text[fields[0].start : fields[0].end]
        for kind, heading in (("gutter", GUTTER_HEADING), ("downpipe", PIPE_HEADING)):
            if lead.strip() and heading.match(lead):
                self.section = (
                    kind,
                    strip.number if len(fields) > 1 or (fields and fields[0].start > begin) else 0,
                )
                return
        of_line = self.section is not None and self.section[1] not in (0, strip.number)
        words = len(text) - len(text.lstrip())
        if of_line or (not fields and lead.strip()) or (self.section is not None and words + indent == 0):
            self.section = None

    def _field(self, strip: Strip, field: Field) -> list[Part]:
        """A label and its answer as they are to be read."""
        number, text = strip.number, self.text[strip.number - 1]
        parts: list[Part] = []
        label = text[field.start : field.end]
        if self.section is not None and self.section[0] == "downpipe" and plain(label) in LEANS_ON_HEADING:
            parts.append("downpipe ")
        parts.append((number, field.start, field.end))
        between = text[field.end : field.answer]
        answer, end = field.answer, field.answer_end
        taken = TAKEN.search(text, field.end, end)
        if (
            taken is not None
            and text[taken.end() : end].strip()
            and self._choices(text[field.answer : taken.start()])
        ):
            if re.search(r"\d", text[field.end : taken.start()]):
                self.aside.append((self.source(number, answer, taken.start()), NOT_TAKEN))
            parts += [": ", (number, taken.end(), end)]
            return parts
        points = REFERENCE.match(text, answer, end)
        if points is not None and points["key"].lower() in self.told:
            where = self.told[points["key"].lower()]
            if any(char.isdigit() for char in points["key"]):
                self.aside.append(
                    (self.source(number, points.start("key"), points.end("key")), QUESTION_NUMBER)
                )
            parts.append((number, field.end, answer))
            if where[3]:
                parts.append((number, points.start(), points.end(), 0, f"same as {where[3]}"))
            else:
                parts.append((where[0], where[1], where[2]))
            parts.append((number, points.end(), end))
            return parts
        if "[" in between:
            parts.append(": ")
            end = answer + len(text[answer:end].rstrip().removesuffix("]").rstrip())
        else:
            parts.append((number, field.end, answer))
        parts += self._written_in(number, answer, end)
        return parts

    @staticmethod
    def _choices(text: str) -> bool:
        return len([one for one in re.split(r"\s{2,}|[/|\]\[]", text) if one.strip()]) > 1

    def _written_in(self, number: int, start: int, end: int) -> list[Part]:
        """An answer without the brackets or the lines it was written in or on."""
        text = self.text[number - 1]
        parts: list[Part] = []
        here = start
        if has_boxes(text[start:end]):
            return [(number, start, end)]
        for match in BRACKETED.finditer(text, start, end):
            parts.append((number, here, match.start()))
            parts.append(" ")
            parts.append((number, match.start("answer"), match.end("answer")))
            parts.append("   ")
            here = match.end()
        parts.append((number, here, end))
        return parts

    # answers that go on below

    def _goes_on(self, strip: Strip) -> bool:
        """Whether a strip goes on with the answer above it: it stands below that, and has no label."""
        return self._answer_above(strip) is not None

    def _answer_above(self, strip: Strip) -> int | None:
        """Which answer of the line above a strip goes on with, or None."""
        host = self.host
        if host is None or not host.fields or host.strip.number == strip.number:
            return None
        text = self.text[strip.number - 1]
        words = text[strip.start : strip.end]
        indent = len(words) - len(words.lstrip())
        if not indent or has_boxes(words) or self._opens(strip, indent):
            return None
        columns = [field.answer - host.strip.start for field in host.fields]
        below = [at for at, column in enumerate(columns) if abs(indent - column) < ASKEW]
        if below:
            at = below[0]
            behind = host.fields[at + 1 :]
            # `left 10' 2"   right is over the steps`: one answer that only looks like two
            return len(host.fields) - 1 if behind and not any(one.parted for one in behind) else at
        last = host.fields[-1]
        return len(columns) - 1 if last.start - host.strip.start + ASKEW < indent < columns[-1] else None

    def _opens(self, strip: Strip, indent: int) -> bool:
        """Whether a strip opens with a label of its own."""
        text = self.text[strip.number - 1]
        begin = strip.start + indent
        match = ENUMERATOR.match(text, begin, strip.end)
        if match is not None and match["mark"] is not None:
            begin = match.end()
        own = fields_of(text, begin, len(text[: strip.end].rstrip()))
        if not own or own[0].start != begin:
            return False
        return (
            own[0].parted
            or own[0].marked
            or len(own) > 1
            or text[own[0].answer : own[0].answer + 1] in "-_0123456789"
        )

    def _join(self, strip: Strip) -> None:
        """Put a strip behind the answer that it goes on with."""
        host = self.host
        at = self._answer_above(strip)
        assert host is not None
        assert at is not None
        words = self.text[strip.number - 1][strip.start : strip.end]
        start = strip.start + len(words) - len(words.lstrip())
        between = " " if self._wrapped(strip, host.fields[at]) else "; "
        more: list[Part] = [between, (strip.number, start, start + len(words.strip()))]
        host.parts[host.ends[at] : host.ends[at]] = more
        host.ends = [end + len(more) if number >= at else end for number, end in enumerate(host.ends)]
        self.lines[host.at], self.pieces[host.at] = self._written(host.parts)

    def _wrapped(self, strip: Strip, field: Field) -> bool:
        """Whether the line above was full, so that its words go on here; remarks may stand line by line."""
        if field.label is None or not any(meaning.field in REMARKS for meaning in field.label.meanings):
            return True
        above = strip.number - 2
        widths = [len(self.text[above].rstrip())]
        for text in self.text[strip.number - 1 :]:
            if not text[:1].isspace() or not text.strip():
                break
            widths.append(len(text.rstrip()))
        return widths[0] + WRAP_SLACK >= max(widths)

    def _write(self, parts: list[Part]) -> None:
        """A line more on the page."""
        line, pieces = self._written(parts)
        self.lines.append(line)
        self.pieces.append(pieces)

    def _written(self, parts: list[Part]) -> tuple[str, list[Piece]]:
        """A line of the page, of stretches of given lines and words put between."""
        line = ""
        pieces: list[Piece] = []
        for part in parts:
            if isinstance(part, str):
                line += part
            elif len(part) == 5:
                pieces.append(Piece(len(line), part[0], part[1], len(part[4]), part[2]))
                line += part[4]
            else:
                words = self.text[part[0] - 1][part[1] : part[2]]
                pieces.append(Piece(len(line), part[0], part[1], len(words)))
                line += LINE_TO_WRITE_ON.sub(_line_to_write_on, words)
        return line.rstrip(), pieces


def _line_to_write_on(line: re.Match[str]) -> str:
    """Blanks, as many, for a line that has words on it; a line with none stays."""
    text = line.string
    before, after = text[: line.start()].rstrip()[-1:], text[line.end() : line.end() + 1]
    if after.strip():
        return " " * len(line.group()) if before == ":" else f": {' ' * (len(line.group()) - 2)}"
    return " " * len(line.group()) if text[: line.start()][-1:].strip() else line.group()
