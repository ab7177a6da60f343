"""The page of a form put in order before it is read: what its layout says, so that its words need not.

A printed form says by its layout what goes together: two halves of a page side by side, an answer that goes
on in the lines below, lines and brackets to write in, choices with the one taken written behind them, the
numbers of its questions and answers that point to them, what a heading says of the labels below it, and a
foot that is the office's. The page is put together as lines of labels with their answers; what is put on the
sheet is put back to the lines as given.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from gutterance.reading.form_fields import Field, fields_of
from gutterance.reading.form_going_on import Host, Part, answer_above, is_wrapped
from gutterance.reading.form_marks import (
    BRACKETED,
    ENUMERATOR,
    FEWEST_LINES,
    GUTTER_HEADING,
    LEANS_ON_HEADING,
    LINE_TO_WRITE_ON,
    LONGEST_LINE,
    OFFICE,
    PIPE_HEADING,
    QUESTION_AND_REPLY,
    REFERENCE,
    TAKEN,
    TITLED_PART,
    answers_below,
    has_choices,
    is_row,
    line_to_write_on,
    numbered,
    numbers_a_question,
    without_marks,
)
from gutterance.reading.form_strips import Strip, strips_of
from gutterance.reading.labels import known_label, plain
from gutterance.reading.rewritten_lines import Piece, RewrittenLines
from gutterance.reading.table_finding import holds_a_table
from gutterance.reading.tick_boxes import has_boxes

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

QUESTION_NUMBER = "the number of a question or a part of the form"
NOT_TAKEN = "a choice on the form that was not taken"
OFFICE_FOOT = "on the form's line for the office"

MEASURED = frozenset({"length", "left", "right", "ends", "outlet", "wall_to_fascia", "height", "ends_at"})
"""What the labels of a form of runs ask for."""
FEWEST_KINDS = 4
"""... of so many kinds ..."""
MOST_REPLIES = 3
"""From so many lines on that have a question and its reply each, nothing was filled in."""
SHARE = 0.3
"""... and so many of its lines are labelled."""
SHARE_DRAWN = 0.2
"""So many of the lines with labels have a mark or a gap behind one, at least."""
MOST_LINES = 2000
"""A longer note is no form."""


def form_page(given: Sequence[str]) -> FormPage | None:
    """The page put in order, where a note is a form of runs; None for any other note."""
    if len(given) > MOST_LINES or holds_a_table(given):
        return None
    filled = [without_marks(text) for text in given if text.strip()]
    if sum(QUESTION_AND_REPLY.match(text) is not None for text in filled) >= MOST_REPLIES:
        return None  # each line has a question and its reply: said, and not filled in
    kinds: list[str] = []
    more: set[str] = set()
    labelled = drawn = 0
    for text in filled:
        if len(text) > LONGEST_LINE or is_row(text):
            continue
        begin = _begin(text)
        fields = [field for field in fields_of(text, begin) if field.label is not None]
        labelled += bool(fields)
        drawn += any(field.parted or field.marked for field in fields)
        kinds += [min(field.asks() & MEASURED) for field in fields if field.asks() & MEASURED][:1]
        more |= {min(field.asks() & MEASURED) for field in fields if field.asks() & MEASURED}
    if len(kinds) < FEWEST_LINES or len(more) < FEWEST_KINDS or labelled < SHARE * len(filled):
        return None
    if drawn < SHARE_DRAWN * labelled and not answers_below([without_marks(text) for text in given]):
        return None  # words that could be labels, and hardly any mark or gap behind them: said, not filled in
    return FormPage(given)


def _begin(text: str) -> int:
    match = ENUMERATOR.match(text)
    return match.end() if match else 0


def is_filled(text: str) -> Callable[[Field], bool]:
    """Whether a label of a line has one answer behind it, which is no label and no row of numbers."""

    def filled(field: Field) -> bool:
        said = text[field.answer : field.answer_end]
        if not field.parted or field.label is None or not said.strip() or known_label(said) is not None:
            return False
        sides = field.label.asks("left") or field.label.asks("right")
        return len(re.split(r"\s{2,}|\t", said.strip())) == 1 and not (sides and said[:1].isdigit())

    return filled


class FormPage(RewrittenLines):
    """A form's page as lines of labels with their answers, and the way back to the lines given."""

    def __init__(self, given: Sequence[str]) -> None:
        super().__init__(given)
        self.told: dict[str, tuple[int, int, int, str]] = {}
        self.section: tuple[str, int] | None = None
        self.host: Host | None = None
        self.text = [without_marks(text) for text in given]
        self.answers_below = answers_below(self.text)
        self.asked = False
        self.labelled: set[int] = set()
        """The numbers of the lines as read that are labels with one answer each, and no row of a table."""
        for strip in strips_of(self.text):
            self._put(strip)

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
        if self.asked and not numbered(text):
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
        if fields and not text[begin : fields[0].start].strip() and all(map(is_filled(text), fields)):
            self.labelled.add(len(self.lines))

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
        if part is None and not numbers_a_question(match, rest):
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
            and has_choices(text[field.answer : taken.start()])
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

    def _goes_on(self, strip: Strip) -> bool:
        """Whether a strip goes on with the answer above it: it stands below that, and has no label."""
        return answer_above(self.host, strip, self.text) is not None

    def _join(self, strip: Strip) -> None:
        """Put a strip behind the answer that it goes on with."""
        host = self.host
        at = answer_above(host, strip, self.text)
        assert host is not None
        assert at is not None
        words = self.text[strip.number - 1][strip.start : strip.end]
        start = strip.start + len(words) - len(words.lstrip())
        between = " " if is_wrapped(strip, host.fields[at], self.text) else "; "
        more: list[Part] = [between, (strip.number, start, start + len(words.strip()))]
        host.parts[host.ends[at] : host.ends[at]] = more
        host.ends = [end + len(more) if number >= at else end for number, end in enumerate(host.ends)]
        self.lines[host.at], self.pieces[host.at] = self._written(host.parts)

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
                line += LINE_TO_WRITE_ON.sub(line_to_write_on, words)
        return line.rstrip(), pieces
