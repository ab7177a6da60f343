"""Forms heard: labels with their answers, in blocks of a run each, below what holds for the job."""

from __future__ import annotations

import re
from functools import partial
from typing import TYPE_CHECKING, Any

from gutterance.reading.answer_kinds import fits
from gutterance.reading.form_finding import LONGEST_HEADING, MEASURED, Form, is_unknown_number, opens_block
from gutterance.reading.form_parts import ends_of_parts, length_of_parts
from gutterance.reading.form_places import answer_by_place, names_places
from gutterance.reading.form_remarks import hear_remarks
from gutterance.reading.form_runs import FormRuns, name_run
from gutterance.reading.job_answers import put_job_answer
from gutterance.reading.labels import read_label
from gutterance.reading.paper import OF_PIPES, ORDER, Paper
from gutterance.reading.tick_boxes import open_options
from gutterance.reading.written_answers import Answer, read_answer

if TYPE_CHECKING:
    from gutterance.reading.form_lines import Pair
    from gutterance.reading.items import Line
    from gutterance.reading.labels import Label, Meaning
    from gutterance.sheet.models import Reading


LEADS_TO = re.compile(r"\b(?:to|into|onto|in|on)\s+(?:the\s+|a\s+|an\s+)?\Z", re.IGNORECASE)
"""Words before what a pipe ends in, where more is said."""


def hear_form(form: Form, line: Line, paper: Paper, before: int) -> bool:
    """Hear a line of a form. False where the line is none of it. `before` is the last line heard of it."""
    walk = paper.walk
    if line.number in form.headings:
        start, end = form.headings[line.number]
        name_run(read_answer([(line, start, end)]), paper, measured=True)
        return True
    parted = form.lines.get(line.number)
    apart = bool(line.text.strip()) and line.number - before > 1
    if (
        apart
        and form.of_runs
        and (parted is None or not any(opens_block(pair, paper) for pair in parted.pairs))
    ):
        # behind a blank line, what is no label of a run is not about the run above
        paper.last = paper.run or paper.last
        walk.run, walk.outlets, paper.run = None, [], None
    if parted is None:
        return False
    first = parted.pairs[0].label if parted.pairs and not parted.lead else None
    if paper.after_speech and first is not None and not first.of_run():
        walk.run, walk.outlets, paper.run = None, [], None
    return FormReader(parted, paper).hear()


class FormReader(FormRuns):
    """One line of a form being heard."""

    def hear(self) -> bool:
        """Hear the line; False where it is better heard as speech."""
        if not self.parted.pairs:
            if self.parted.lead:
                self._lead()
            return True
        if all(is_unknown_number(pair, self.paper) for pair in self.parted.pairs):
            return True  # left unread, and so asked about
        if all(self._is_nothing(pair) for pair in self.parted.pairs):
            return self._of_no_concern()
        if self.parted.lead:
            self._lead()
        for pair in self.parted.pairs:
            before = self.walk.last
            self._pair(pair)
            if self.walk.last is not before and self.walk.last is not None:
                self._keep_with(pair, self.walk.last)
        if self.mark is not None:
            name_run(self.mark, self.paper, measured=True)
        self._number_of_question()
        return True

    def _number_of_question(self) -> None:
        """`Q6.`: the number of the question stays with the run that it asks of."""
        line, first = self.parted.line, self.parted.pairs[0].start
        if self.parted.lead or not any(char.isdigit() for char in line.text[:first]):
            return
        source = line.source(0, first)
        if self.paper.run is not None:
            self.paper.run.source.append(source)
            self.walk.use_source(source)

    def _keep_with(self, pair: Pair, last: tuple[dict[str, Reading[Any]], str, object]) -> None:
        """The number of a question, and the choices left open, stay with the answer that was put."""
        fields, name, _ = last
        line = pair.line
        if name not in fields or line is None:
            return
        spans: list[tuple[int, int]] = []
        if pair is self.parted.pairs[0] and not self.parted.lead and self.paper.run is None:
            spans.append((0, pair.start))
        if pair.pieces and pair.answer_line is None:
            spans += open_options(line.text, pair.pieces[0][0], pair.pieces[-1][1])
        for start, end in spans:
            if any(char.isdigit() for char in line.text[start:end]):
                source = line.source(start, end)
                fields[name].source.append(source)
                self.walk.use_source(source)

    def _is_nothing(self, pair: Pair) -> bool:
        """Whether the sheet has no place for what a label asks."""
        if pair.corner is not None:
            return False
        return pair.label is None or all(meaning.field == "nothing" for meaning in pair.label.meanings)

    def _of_no_concern(self) -> bool:
        """A line that asks for nothing the sheet has: its remarks are kept, its numbers left unread."""
        unknown = [pair.label is None for pair in self.parted.pairs]
        if not self.paper.form_of_runs or (any(unknown) and not (self.paper.page and all(unknown))):
            return False
        line = self.parted.line
        whole = read_answer([(line, 0, len(line.text))])
        if whole.of("remark"):
            whole.items = [item for item in whole.items if item.kind != "measure"]
            kind = whole.of("remark")[0].value
            self.walk.remark(line, self.parted.pairs[0].start, len(line.text), kind, None)
        return True

    def _pair(self, pair: Pair) -> None:
        """Put the answer of one label where it belongs."""
        answer = pair.answer(self.paper.legend)
        if pair.corner is not None:
            self._corner(pair, answer)
            return
        if pair.label is None:
            if not self._guessed(answer, pair):
                self._unknown(answer, pair)
            return
        if pair.place is not None:
            if not self._wall_at_a_side(pair, answer):
                self._placed(pair, answer)
            return
        meanings = self._meanings(pair.label)
        for meaning in meanings:
            if self._try(meaning, answer, pair):
                return
        self._left_over(answer, pair)

    def _guessed(self, answer: Answer, pair: Pair) -> bool:
        """A label of a form that holds a word by which it may be guessed: what answers it is asked about."""
        guess = (
            read_label(pair.words) if self.paper.page and pair.marked and self.paper.run is not None else None
        )
        if guess is None or answer.is_empty:
            return False
        answer.label, answer.guessed = guess, True
        kept, pair.label = pair.label, guess
        told = any(
            meaning.of == "run" and meaning.field in MEASURED and self._try(meaning, answer, pair)
            for meaning in guess.meanings
        )
        pair.label = kept
        return told

    def _meanings(self, label: Label) -> list[Meaning]:
        """What a label may ask for, those of the block it stands in first."""
        first = "run" if self.paper.run is not None and not self._tells_of_the_job() else "job"
        return sorted(label.meanings, key=lambda meaning: meaning.of != first)

    def _tells_of_the_job(self) -> bool:
        """`Color: eggshell   Gauge: .032   DS size: 3x4`: a line with labels that are only the job's."""
        labels = [pair.label for pair in self.parted.pairs if pair.label is not None]
        return any(all(meaning.of == "job" for meaning in label.meanings) for label in labels)

    def _try(self, meaning: Meaning, answer: Answer, pair: Pair) -> bool:
        """Put an answer to what its label may ask for; False where it does not answer that."""
        paper, walk, what = self.paper, self.walk, meaning.field
        assert pair.label is not None
        if meaning.of == "job":
            return self._job(what, answer)
        if what == "run":
            return not pair.label.asks("gutter") and self._run(answer, pair)
        if what == "mark":
            if paper.run is None or re.fullmatch(r"\d{1,2}|[a-z]", answer.plain):
                self.mark = answer if not answer.is_empty else None
                return not answer.is_empty and len(answer.plain) <= LONGEST_HEADING
            return False
        if what in ("pipe", "storey", "part"):
            return False
        if what not in ORDER:
            return False
        if what == "note":
            hear_remarks(answer, paper, paper.run)
            return True
        if what == "finish" and not paper.started:
            return False
        if what == "ends" and paper.started and pair.label.asks("finish"):
            return False
        paper.started = paper.started or what == "start"
        if what == "length" and length_of_parts(answer, paper):
            return True
        if what == "ends" and ends_of_parts(answer, paper):
            return True
        if answer.is_empty or answer.is_ditto:
            if paper.run is not None:
                paper.put(what, answer, above=paper.last)
            return paper.run is not None
        if not fits(what, answer) and not (meaning.sure and len(pair.label.meanings) == 1):
            return False
        if what in ("outlet", "at") and self._is_height(pair, answer):
            return False
        if what in ("outlet", "at") and self._on_one_run(answer, pair):
            return True
        if (
            not answer.of("same", "mirror")
            and names_places(answer, paper)
            and what in OF_PIPES
            and what not in ("at",)
        ):
            paper.deferred.append(partial(answer_by_place, what, answer, paper))
            return True
        if paper.run is None:
            return self._for_all(what, answer)
        if what == "outlet" and pair.label.number is not None:
            walk.outlets = []
            if pair.line is not None:
                paper.run.source.append(pair.line.source(pair.start, pair.start + len(pair.words)))
        if pair.label.side is not None and what == "outlet":
            return False
        paper.put(what, answer)
        self._ending_behind(what, answer)
        return True

    def _is_height(self, pair: Pair, answer: Answer) -> bool:
        """`Drop: 2640 both`, `Drop: left 2710, right 2890`: how far down, the outlets being told."""
        run = self.paper.run
        if run is None or pair.label is None or not pair.label.asks("height") or not answer.measures:
            return False
        told = [item for item in answer.of("lr", "side") if item.value != "both"]
        return bool(run.outlets) or not told

    def _ending_behind(self, what: str, answer: Answer) -> None:
        """`8 ft 2 to splash block`: where the pipe ends, told behind its height."""
        named = answer.of("ends at")
        if what in ("height", "wall_to_fascia", "outlet", "at") and named:
            item = named[0]
            said_on = len(answer.text.split()) > LONGEST_HEADING
            at_end = answer.text.rstrip(" .)").endswith(item.text)
            if said_on and not at_end and not LEADS_TO.search(answer.line.text[answer.start : item.start]):
                return  # `not sure, the ground slopes away`
            self.paper.put("ends_at", read_answer([(answer.line, item.start, item.end)]))

    def _for_all(self, what: str, answer: Answer) -> bool:
        """An answer about pipes that is asked once for the whole job."""
        if what in ("wall_to_fascia", "height", "ends_at"):
            self.paper.deferred.append(partial(answer_by_place, what, answer, self.paper))
            return True
        return False

    def _job(self, what: str, answer: Answer) -> bool:
        """An answer about the whole job."""
        if what == "remark":
            self.paper.run = None
            hear_remarks(answer, self.paper, None)
            self.walk.run, self.walk.outlets = None, []
            return True
        if what == "downpipe_size" and names_places(answer, self.paper) and answer.numbers:
            self.paper.deferred.append(partial(answer_by_place, "pipe_size", answer, self.paper))
            return True
        if what == "title" and (self.paper.run is not None or self.walk.title is not None):
            # `Where: front, left of door`, behind the number of a run, names it
            return self.mark is None and self.paper.run is None and not self._names_run(answer)
        return put_job_answer(what, answer, self.walk)

    def _names_run(self, answer: Answer) -> bool:
        """Whether an answer is the name of a run rather than of the job."""
        return bool(answer.of("direction", "part", "lr", "quarter")) and not answer.numbers

    def _unknown(self, answer: Answer, pair: Pair) -> None:
        """The answer to a label nobody knows: a remark where its words are one, else left unread."""
        if answer.of("remark"):
            hear_remarks(answer, self.paper, self.paper.run)
        elif self.paper.page and pair.label is None and pair.line is not None and not answer.is_empty:
            label = read_answer([(pair.line, pair.start, pair.start + len(pair.words))])
            if label.of("remark"):  # `Gate code: 4471`
                self.walk.remark(pair.line, pair.start, answer.end, label.of("remark")[0].value, None)

    def _left_over(self, answer: Answer, pair: Pair) -> None:
        """An answer that fits nothing its label asks for: its numbers stay unread, unless they are asked."""
        if self.paper.run is not None and pair.label is not None and not answer.is_empty:
            for meaning in pair.label.meanings:
                if meaning.field in MEASURED and meaning.sure:
                    self.paper.put(meaning.field, answer)
                    return
        self._unknown(answer, pair)
