"""A line of a form taken apart: labels, each with the stretches of the line that answer it."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from functools import lru_cache
from typing import TYPE_CHECKING

from gutterance.reading.answer_kinds import fits
from gutterance.reading.labels import Label, Labels, Meaning, known_label, labels_in_use
from gutterance.reading.places import fold_places
from gutterance.reading.tick_boxes import chosen, has_boxes
from gutterance.reading.written_answers import Answer, read_answer

if TYPE_CHECKING:
    from gutterance.reading.items import Item, Line
    from gutterance.reading.places import PlaceName

MARK = re.compile(
    r"(?P<sep>\s*(?:\.{3,}|…+|(?:\.\s){2,}\.?|(?<!\d)\s*:(?!\d|//)|:(?=\s)|(?<![=<>])=(?![=>]))\s*)"
    r"|(?P<ask>\?\s+(?=\S))|(?P<gap> {2,}|\s*\t\s*|\s*\|\s*|\s*;\s+)"
)
"""What parts a line: a mark between a label and its answer, a question mark, or a gap."""
ENUMERATOR = re.compile(
    r"\A\s*(?:[-*•>+]+\s+)?(?:Q\s*\d*\s*[.:)]\s*|A\s*[.:)]\s+|\(?\d{1,2}[.):]\s+|\[\s*\d{1,2}\s*\]\s*|[a-z]\)\s+)?"
)
"""What numbers the questions of a form."""
CORNER_OF_TWO = re.compile(
    r"\A\s*(?:corner|cnr|mit(?:re|er)|angle)\s+(?P<first>[\w ]{1,14}?)"
    r"\s*(?:/|-|–|to|and|&|\+)\s*(?P<second>[\w ]{1,14})\s*\Z",
    re.IGNORECASE,
)
"""`corner A/B`: the corner where two runs meet."""
LONGEST_LABEL = 7
"""A label has no more words than this."""
TOLD_IN_LABELS = frozenset({"left", "right", "ends", "outlet", "at", "ends_at"})
"""What may be answered in words that are labels too: `wall`, `left`, `both ends`."""
LONGEST_PREFIX = 4
"""A label written before its answer with nothing between has no more words than this."""


@dataclass(slots=True)
class Pair:
    """A label and where its answer stands. `place` is the run that it names: `Front eave, how long?`"""

    words: str
    label: Label | None
    start: int
    pieces: list[tuple[int, int]] = field(default_factory=list)
    place: PlaceName | None = None
    strict: bool = True
    line: Line | None = None
    answer_line: Line | None = None
    corner: tuple[str, str] | None = None
    marked: bool = False

    def of_run(self) -> bool:
        """Whether its label may be one of a run."""
        return self.label is not None and self.label.of_run()

    def answer(self, legend: dict[str, Item]) -> Answer:
        """What was written behind the label, of boxes only what was ticked."""
        line = self.answer_line or self.line
        assert line is not None
        if not self.pieces:
            return read_answer([(line, len(line.text), len(line.text))], self.label, legend)
        kept = chosen(line.text, self.pieces[0][0], self.pieces[-1][1])
        if kept == [(self.pieces[0][0], self.pieces[-1][1])]:
            kept = self.pieces
        if not kept:
            end = self.pieces[0][0]
            return read_answer([(line, end, end)], self.label, legend)
        answer = read_answer([(line, start, end) for start, end in kept], self.label, legend)
        if kept != self.pieces and not has_boxes(line.text[self.pieces[0][0] : self.pieces[-1][1]]):
            answer.doubt = "the one in brackets was taken for the one chosen"
        return answer


@dataclass(slots=True)
class FormLine:
    """A line of a form: words before its first label, and its labels with their answers."""

    line: Line
    lead: list[tuple[int, int]] = field(default_factory=list)
    pairs: list[Pair] = field(default_factory=list)

    @property
    def known(self) -> list[Pair]:
        """The pairs whose labels are known."""
        return [pair for pair in self.pairs if pair.label is not None or pair.corner is not None]


def take_apart(line: Line, legend: dict[str, Item], *, comma: bool = False) -> FormLine:
    """Take a line apart into labels and answers. `comma` says that a comma may part the two."""
    form = FormLine(line)
    text = line.text
    begin = ENUMERATOR.match(text)
    here = begin.end() if begin else 0
    if comma and "," in text:
        cut = text.index(",")
        words = text[here:cut]
        if known_label(words) is not None:
            end = len(text.rstrip(" ,"))
            form.pairs.append(_pair(line, words, here, [(cut + 1, max(end, cut + 1))]))
            return form
    chunks = _chunks(text, here)
    current: Pair | None = None
    for number, (start, end, before, after) in enumerate(chunks):
        words = text[start:end]
        if after == "sep":
            current = _label_at(form, current, line, start, end, before)
            continue
        if (
            current is not None
            and before == "sep"
            and not (number + 1 < len(chunks) and _side_of_ends(current, _as_label(words), before))
        ):
            current.pieces.append((start, end))
            continue
        if not words.strip():
            continue
        more = number + 1 < len(chunks) and any(text[a:b].strip() for a, b, _, _ in chunks[number + 1 :])
        whole = _as_label(words) if not has_boxes(words) else None
        if whole is not None and whole.side is not None:
            whole = None  # `outlet L` is its own answer
        if more and CORNER_OF_TWO.match(words):
            current = _pair(line, words, start, [])
            form.pairs.append(current)
            continue
        if whole is not None and more and _side_of_ends(current, whole, before):
            form.pairs.remove(current)  # type: ignore[arg-type]
            current = _pair(line, words, start, [])
            form.pairs.append(current)
            continue
        if whole is not None and _answers_in_turn(current, line, chunks, number):
            assert current is not None
            current.pieces.append((start, end))
            continue
        if whole is not None and (more or words.rstrip().endswith("?")) and not _answers(current):
            current = _pair(line, words, start, [])
            form.pairs.append(current)
            continue
        prefix = None if has_boxes(words) else _with_prefix(line, start, end, legend)
        if prefix is not None and not _answers_what_waits(current, line, start, end, before):
            current = prefix
            form.pairs.append(current)
        elif current is not None:
            current.pieces.append((start, end))
        else:
            form.lead.append((start, end))
    first = form.pairs[0] if len(form.pairs) > 1 else None
    if (
        first is not None
        and first.place is not None
        and not first.pieces
        and not first.marked
        and not form.lead
    ):
        form.pairs.pop(0)  # `back, left   eave 550`: the end of a run, and no label
        form.lead.append((first.start, first.start + len(first.words)))
    elif first is not None and not form.lead and _names_a_side(first, form.pairs[1]):
        form.pairs.pop(0)
        form.lead.append((first.start, first.start + len(first.words)))
    if sum(not pair.strict for pair in form.pairs) > 1:
        for pair in form.pairs:
            pair.strict = True  # several labels with their answers side by side are no chance
    return form


def _names_a_side(first: Pair, behind: Pair) -> bool:
    """`RIGHT   length 31-9   OC both`: a side of the house with its length, and no end to be told."""
    return (
        not first.pieces
        and not first.marked
        and first.label is not None
        and (first.label.asks("left") or first.label.asks("right"))
        and behind.label is not None
        and behind.label.asks("length")
    )


def _side_of_ends(current: Pair | None, label: Label | None, before: str) -> bool:
    """`ends ..... left  cap   right  wall`: a side that is the label within the answer to one for both."""
    return (
        current is not None
        and before in ("sep", "gap")
        and not current.pieces
        and current.label is not None
        and current.label.asks("ends")
        and label is not None
        and (label.asks("left") or label.asks("right"))
    )


def _answers_what_waits(current: Pair | None, line: Line, start: int, end: int, before: str) -> bool:
    """`drop     left end, 6 in from it`: words that begin like a label, and answer the one before the gap."""
    if current is None or current.pieces or current.label is None or before != "gap" or not current.strict:
        return False
    answer = read_answer([(line, start, end)], current.label)
    return any(
        meaning.field in TOLD_IN_LABELS and fits(meaning.field, answer) for meaning in current.label.meanings
    )


def _answers_in_turn(
    current: Pair | None, line: Line, chunks: list[tuple[int, int, str, str]], number: int
) -> bool:
    """`DS AT   both ends   OVERHANG   2-0`: label and answer by turns, though the answer could be a label."""
    if current is None or current.pieces or current.label is None or number + 1 >= len(chunks):
        return False
    start, end, before, _ = chunks[number]
    behind = line.text[slice(*chunks[number + 1][:2])]
    if before != "gap" or not behind.strip() or _as_label(behind) is None:
        return False
    answer = read_answer([(line, start, end)], current.label)
    return any(
        meaning.field in TOLD_IN_LABELS and fits(meaning.field, answer) for meaning in current.label.meanings
    )


def _answers(current: Pair | None) -> bool:
    """Whether a label waits for its answer, so that the next words are no label but that."""
    return (
        current is not None and not current.pieces and current.label is not None and current.label.asks("at")
    )


def _chunks(text: str, here: int) -> list[tuple[int, int, str, str]]:
    """The stretches of a line, with what stands before and behind each: a separator, a gap, or nothing."""
    chunks: list[tuple[int, int, str, str]] = []
    before = ""
    start = here
    for mark in MARK.finditer(text, here):
        kind = mark.lastgroup or ""
        if kind == "ask":
            if (
                not here
                or _as_label(text[start : mark.start()]) is None
                or text[mark.end() :].startswith("(")
            ):
                continue
            kind = "sep"
        if kind == "sep" and not text[start : mark.start()].strip() and before != "gap":
            start = mark.end()
            continue
        chunks.append((start, mark.start(), before, kind))
        start, before = mark.end(), kind
    chunks.append((start, len(text.rstrip()), before, ""))
    return [chunk for chunk in chunks if chunk[0] <= chunk[1]]


def _label_at(form: FormLine, current: Pair | None, line: Line, start: int, end: int, before: str) -> Pair:
    """The label whose words end there; words before it on the line answer the label before."""
    text = line.text
    words = text[start:end]
    if before == "sep" and current is not None and not current.pieces:
        if _as_label(words) is None and known_label(words) is None:
            split = _suffix_label(words)
            if split is not None:
                current.pieces.append((start, start + split))
                start += len(words[:split]) + len(words[split:]) - len(words[split:].lstrip())
            elif current.label is None or current.place is not None:
                joined = _pair(line, text[current.start : end], current.start, [])
                form.pairs[-1] = joined
                return joined
        elif current.label is not None and current.place is not None and current.label.asks("run"):
            joined = _pair(line, text[current.start : end], current.start, [])
            if joined.label is not None:
                form.pairs[-1] = joined
                return joined
    pair = _pair(line, text[start:end], start, [])
    pair.marked = True
    form.pairs.append(pair)
    return pair


def _suffix_label(words: str) -> int | None:
    """Where in `FRONT len` the label begins that the answer before it is not part of."""
    starts = [match.start() for match in re.finditer(r"(?<=\s)\S", words)]
    return next((start for start in starts if known_label(words[start:]) is not None), None)


def _as_label(words: str) -> Label | None:
    """The label that these words are as a whole, if they are one."""
    if len(words.split()) > LONGEST_LABEL + 2:
        return None
    label = known_label(words)
    return label if label is not None else _placed_label(words, labels_in_use())[1]


def _with_prefix(line: Line, start: int, end: int, legend: dict[str, Item]) -> Pair | None:
    """`Overhang 310`: a label that its answer follows with nothing between the two."""
    words = line.text[start:end]
    ends = [match.end() for match in re.finditer(r"\S+", words)][:LONGEST_PREFIX]
    for cut in reversed(ends[:-1] if ends and ends[-1] == len(words.rstrip()) else ends):
        label = known_label(words[:cut])
        if label is None or label.side is not None or len(words[:cut].strip()) < 2:
            continue
        pair = _pair(line, words[:cut], start, [(start + cut, end)])
        pair.strict = False
        answer = pair.answer(legend)
        if label.asks("gutter") and not answer.measures:
            continue
        if any(
            meaning.field
            not in ("run", "note", "nothing", "title", "remark", "storey", "part", "pipe", "gutter")
            and meaning.of == "run"
            and _fits_prefix(meaning, answer)
            for meaning in label.meanings
        ) or (label.asks("hanger_spacing") and answer.measures):
            return pair
    return None


def _fits_prefix(meaning: Meaning, answer: Answer) -> bool:
    if meaning.field == "mark":
        return re.fullmatch(r"\d{1,2}|[a-z]", answer.plain) is not None
    return fits(meaning.field, answer)


def _pair(line: Line, words: str, start: int, pieces: list[tuple[int, int]]) -> Pair:
    """A pair of a label in these words."""
    lead = ENUMERATOR.match(words)
    inner = words[lead.end() :] if lead and lead.end() < len(words) else words
    corner = CORNER_OF_TWO.match(inner)
    if corner is not None:
        return Pair(
            inner, None, start, pieces, line=line, corner=(corner["first"].lower(), corner["second"].lower())
        )
    if len(inner.split()) > LONGEST_LABEL + 2:
        return Pair(inner, None, start, pieces, line=line)
    label, place = known_label(inner), None
    if label is None:
        place, label = _placed_label(inner, labels_in_use())
    return Pair(inner, label, start, pieces, place, line=line)


@lru_cache(maxsize=4096)
def _placed_label(words: str, _labels: Labels) -> tuple[PlaceName | None, Label | None]:
    """`Front eave, how long`: a label that begins with the name of a run. `_labels` are those in use."""
    from gutterance.reading.pipeline import pipeline

    if not any(char.isalpha() for char in words):
        return None, None
    line = pipeline().line(0, words)
    items = [item for item in line.items if item.kind != "mark"]
    while items and items[0].text.lower() in ("the", "main house", "house"):
        items = items[1:]
    folded = fold_places(items, words)
    if not folded or folded[0].kind != "place":
        return None, None
    name = folded[0].value
    end = folded[0].end
    if (
        len(folded) > 1
        and folded[1].kind == "lr"
        and name.direction in ("front", "back")
        and name.part is None
        and len(folded) == 2
    ):
        return None, None
    rest = re.sub(r"\A[\s,:;.–—-]+|\A's\b", "", words[end:])
    if known_label(rest) is not None:
        return name, known_label(rest)
    rest = re.sub(r"\A(?:eaves?|run|side|gutter|wall)?[\s,:;.–—-]*", "", rest, flags=re.IGNORECASE)
    if not rest.strip(" ?.:"):
        return name, Label(words, (Meaning("run", "run"),))
    label = known_label(rest)
    return (name, label) if label is not None else (None, None)
